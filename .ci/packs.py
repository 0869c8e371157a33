"""Holds packs and calendars against programs that nobody here wrote.

packs.py SEALED KEY WITNESSMARK: every bag below the folder SEALED, and the zip of it, is validated by PyPI's bagit,
sha256sum, minisign and unzip; then copies are damaged, and WITNESSMARK has to see it where bagit does. It has to take
zips that Python and zip make of a bag, and bags of SHA-512 that bagit makes, and to see what is put into a zip beside
its files.
packs.py --calendars WRITTEN: every calendar below WRITTEN is read by PyPI's icalendar.
"""

import contextlib
import io
import logging
import os
import shutil
import subprocess
import sys
import tempfile
import zipfile
from datetime import timedelta
from pathlib import Path

LIST = "tagmanifest-sha256.txt"


def run(*command, cwd=None):
    done = subprocess.run(command, cwd=cwd, capture_output=True, text=True)
    return done.returncode, (done.stdout + done.stderr).strip()


def bagit_says(bag):
    """What PyPI's bagit has against a bag; nothing where it is valid."""
    import bagit

    logging.getLogger("bagit").setLevel(logging.CRITICAL)
    try:
        bagit.Bag(str(bag)).validate()
    except Exception as fault:  # its errors for broken bags are of several kinds
        return str(fault) or type(fault).__name__
    return ""


def check_bag(bag, key):
    """Faults of one bag as it was written."""
    faults = []
    if said := bagit_says(bag):
        faults.append(f"bagit: {said}")
    code, said = run("sha256sum", "--strict", "-c", LIST, "manifest-sha256.txt", cwd=bag)
    if code:
        faults.append(f"sha256sum: {said}")
    if (bag / f"{LIST}.minisig").exists():
        code, said = run("minisign", "-V", "-m", LIST, "-p", str(key), cwd=bag)
        if code:
            faults.append(f"minisign: {said}")
        with tempfile.TemporaryDirectory() as scratch:
            changed = Path(scratch) / LIST
            changed.write_bytes((bag / LIST).read_bytes() + b"\n")
            shutil.copy(bag / f"{LIST}.minisig", scratch)
            if run("minisign", "-V", "-m", str(changed), "-p", str(key))[0] == 0:
                faults.append("minisign takes a changed list for signed")
    else:
        faults.append("is not signed")
    return faults


def check_zip(path, bag, witnessmark, key):
    """Faults of a zip: unsound, or with other files than the bag."""
    faults = []
    code, said = run("unzip", "-tq", str(path))
    if code:
        faults.append(f"unzip: {said}")
    with tempfile.TemporaryDirectory() as scratch:
        with zipfile.ZipFile(path) as packed:
            packed.extractall(scratch)
        tops = list(Path(scratch).iterdir())
        if len(tops) != 1:
            faults.append(f"has {len(tops)} folders at its top")
        elif run("diff", "-r", str(tops[0]), str(bag))[0]:
            faults.append("differs from the folder")
    code, said = run(witnessmark, "verify", str(path), "--key", str(key))
    if code:
        faults.append(f"witnessmark verify: {said}")
    return faults


def damages(bag):
    """Ways to damage a bag: a name, and what does it."""
    record = bag / "data" / "record.toml"
    yield "nothing", lambda: None

    def flip():
        held = bytearray(record.read_bytes())
        held[len(held) // 2] ^= 1
        record.write_bytes(held)

    yield "one byte flipped", flip
    yield "one file missing", record.unlink
    yield "one file added", lambda: (bag / "data" / "added.txt").write_text("x")
    yield "one file renamed", lambda: record.rename(bag / "data" / "renamed.toml")
    yield "a list cut short", lambda: os.truncate(bag / "manifest-sha256.txt", 200)
    yield "no declaration", (bag / "bagit.txt").unlink


def check_damages(bag, witnessmark):
    """Faults of `verify`: where it and bagit judge a damaged bag differently."""
    faults = []
    for number in range(len(list(damages(bag)))):
        with tempfile.TemporaryDirectory() as scratch:
            copy = Path(scratch) / bag.name
            shutil.copytree(bag, copy)
            name, damage = list(damages(copy))[number]
            damage()
            whole = run(witnessmark, "verify", str(copy))[0] == 0
            with contextlib.redirect_stderr(io.StringIO()):
                valid = not bagit_says(copy)
            if whole != valid or valid != (name == "nothing"):
                faults.append(f"{name}: bagit takes it for {'valid' if valid else 'broken'}, verify for "
                              f"{'whole' if whole else 'not whole'}")
    return faults


def check_rezipped(bag, witnessmark):
    """Faults of `verify`: a bag that other programs zipped is not whole, or is whole with something beside its files."""
    faults = []
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)

        def judged(name, path, whole):
            code, said = run(witnessmark, "verify", str(path))
            if code != (0 if whole else 1):
                faults.append(f"{name}: {said}")

        for name, method in (("stored", zipfile.ZIP_STORED), ("deflated", zipfile.ZIP_DEFLATED)):
            path = scratch / f"python-{name}.zip"
            with zipfile.ZipFile(path, "w", method) as packed:
                for file in sorted(bag.rglob("*")):
                    # Sizes above 4 GB have room, whatever the file's size is.
                    if file.is_file():
                        member = zipfile.ZipInfo.from_file(file, file.relative_to(bag.parent))
                        member.compress_type = method
                        with packed.open(member, "w", force_zip64=True) as into:
                            into.write(file.read_bytes())
            judged(path.name, path, True)
        for name, options in (("plain", ["-r"]), ("stored", ["-r0"]), ("without folders", ["-rD"])):
            path = scratch / f"zip-{name}.zip"
            run("zip", "-q", *options, str(path), bag.name, cwd=bag.parent)
            judged(path.name, path, True)
        # Written to a pipe, where sizes can only stand behind the bytes.
        path = scratch / "zip-streamed.zip"
        with path.open("wb") as into:
            subprocess.run(["zip", "-q", "-r", "-", bag.name], cwd=bag.parent, stdout=into, check=True)
        judged(path.name, path, True)
        held = path.read_bytes()
        for name, changed in (("bytes after its end", held + b"x"), ("a program before it", b"#!/bin/sh\n" + held)):
            path.write_bytes(changed)
            judged(f"a zip with {name}", path, False)
        path.write_bytes(held)
        with zipfile.ZipFile(path, "a") as packed:
            packed.comment = b"hidden"
        judged("a zip with a comment", path, False)
        locked = scratch / "zip-locked.zip"
        run("zip", "-q", "-r", "-P", "pear wood", str(locked), bag.name, cwd=bag.parent)
        judged("a locked zip", locked, False)
        path.write_bytes(held)
        with zipfile.ZipFile(path, "a") as packed:
            packed.writestr(f"{bag.name}/data/added.txt", "x")
        judged("a zip with a file added", path, False)
    return faults


def check_of_kind(kind, witnessmark, whole):
    """Faults of `verify`: it and bagit judge a bag differently that bagit made with one kind of fingerprint."""
    import bagit

    with tempfile.TemporaryDirectory() as scratch:
        (Path(scratch) / "Tür.txt").write_text("oak")
        bagit.make_bag(scratch, checksums=[kind])
        faults = [f"bagit does not take its own: {said}"] if (said := bagit_says(scratch)) else []
        code, said = run(witnessmark, "verify", scratch)
        if code != (0 if whole else 1) or (not whole and "a bag, but none of ours" not in said):
            faults.append(f"verify: {said}")
        (Path(scratch) / "data" / "Tür.txt").write_text("elm")
        if run(witnessmark, "verify", scratch)[0] != 1:
            faults.append("verify takes a changed bag for whole")
    return faults


def check_calendar(path):
    """Faults of one calendar."""
    import icalendar
    from dateutil.rrule import rrulestr

    held = path.read_bytes()
    faults = []
    lines = held.split(b"\r\n")
    if lines[-1] or any(b"\n" in line or b"\r" in line for line in lines):
        faults.append("has a line that does not end in CR LF")
    if (longest := max(map(len, lines))) > 75:
        faults.append(f"has a line of {longest} bytes")
    try:
        calendars = icalendar.Calendar.from_ical(held, multiple=True)
    except ValueError as fault:
        return faults + [f"icalendar: {fault}"]
    if len(calendars) != 1:
        return faults + [f"holds {len(calendars)} calendars"]
    calendar = calendars[0]
    for key in ("VERSION", "PRODID"):
        if key not in calendar:
            faults.append(f"has no {key}")
    if calendar.errors:
        faults.append(f"icalendar: {calendar.errors}")
    events = list(calendar.walk("VEVENT"))
    ids = [str(event["UID"]) for event in events]
    if not events or len(set(ids)) != len(ids):
        faults.append(f"{len(ids)} events with {len(set(ids))} ids")
    for event in events:
        if event.errors:
            faults.append(f"icalendar: {event.errors}")
        start, end = event.decoded("DTSTART"), event.decoded("DTEND")
        if end - start != timedelta(days=1):
            faults.append(f"{event['SUMMARY']}: lasts {end - start}")
        for key in ("DTSTAMP", "SEQUENCE", "SUMMARY", "DESCRIPTION"):
            if key not in event:
                faults.append(f"{event['UID']}: has no {key}")
        if rule := event.get("RRULE"):
            days = rrulestr(rule.to_ical().decode(), dtstart=start_of(start))
            third = days[2]
            if days[0].date() != start or third.day != start.day:
                faults.append(f"{event['SUMMARY']}: comes again on {third}")
    return faults


def start_of(day):
    from datetime import datetime

    return datetime(day.year, day.month, day.day)


def main():
    faults = {}
    if sys.argv[1] == "--calendars":
        for path in sorted(Path(sys.argv[2]).rglob("*.ics")):
            faults[path] = check_calendar(path)
        if not faults:
            faults[Path(sys.argv[2])] = ["holds no calendar"]
    else:
        sealed, key, witnessmark = Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve(), sys.argv[3]
        bags = [path.parent for path in sorted(sealed.rglob("bagit.txt"))]
        for bag in bags:
            faults[bag] = check_bag(bag, key) + check_damages(bag, witnessmark) + check_rezipped(bag, witnessmark)
            packed = sorted(bag.parent.glob("*.zip"))
            if not packed:
                faults[bag].append("has no zip beside it")
            for path in packed:
                faults[path] = check_zip(path, bag, witnessmark, key)
        for kind, whole in (("sha512", True), ("sha256", True), ("md5", False), ("sha1", False)):
            faults[f"a bag of {kind}"] = check_of_kind(kind, witnessmark, whole)
        if not bags:
            faults[sealed] = ["holds no pack"]
    failed = sum(bool(found) for found in faults.values())
    for path, found in faults.items():
        for fault in found:
            print(f"{path}: {fault}")
    print(f"{len(faults)} held against other programs, {failed} with faults")
    if "TALLY" in os.environ:
        with open(os.environ["TALLY"], "a") as tally:
            tally.write(f"{len(faults) - failed} {failed}\n")
    sys.exit(1 if failed else 0)


main()
