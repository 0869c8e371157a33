#!/usr/bin/env python3
"""Measures what packs and a writing of many pieces cost, in seconds and in the most memory that was resident.

    python3 benches/packs.py [--pieces 200] [--program target/release/witnessmark] [--piece open-shelves] [--keep FOLDER]

Makes a workshop with so many copies of one of the example's pieces, each with a number and photographs of its own (see
many.py), writes it up twice and then hands over each piece; the
same of ten pieces first, for comparison. Without
--program the workshop is only made, in the folder of --keep. The papers are made for 25 November 2026.
"""

import argparse
import os
import re
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

from many import EXAMPLE, remarked

TODAY = "1795564800"


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--pieces", type=int, default=200)
    options.add_argument("--program", type=Path)
    options.add_argument("--piece", default="open-shelves")
    options.add_argument("--keep", type=Path)
    options = options.parse_args()
    if not options.program and not options.keep:
        sys.exit("give --program to measure, or --keep to make the workshop only")
    with tempfile.TemporaryDirectory() as scratch:
        root = options.keep or Path(scratch)
        few = min(10, options.pieces)
        small, large = (workshop(root / str(number), options.piece, number) for number in (few, options.pieces))
        if options.program:
            measure(options.program.resolve(), small, few)
            measure(options.program.resolve(), large, options.pieces)


def workshop(folder, name, pieces):
    """A workshop of so many copies of a piece."""
    folder.mkdir(parents=True)
    for own in ["workshop.toml", "stock.toml", "buyers-secret.txt"]:
        shutil.copy(EXAMPLE / own, folder)
    pattern = EXAMPLE / "pieces" / name
    record = (pattern / "record.toml").read_text()
    for number in range(1, pieces + 1):
        piece = folder / "pieces" / f"{name}-{number:05}"
        (piece / "photos").mkdir(parents=True)
        own = re.sub(r'(?m)^number = ".*"$', f'number = "MP-{number:05}"', record, count=1)
        (piece / "record.toml").write_text(own)
        shutil.copy(pattern / "story.md", piece)
        for place, original in enumerate(sorted((pattern / "photos").iterdir())):
            (piece / "photos" / original.name).write_bytes(remarked(original.read_bytes(), f"{number}-{place}"))
    return folder


def measure(program, folder, pieces):
    """Writes a workshop up and hands its pieces over; prints what each took."""
    photographs = sum(1 for _ in folder.glob("pieces/*/photos/*"))
    print(f"{pieces} pieces with {photographs} photographs", flush=True)
    print("  writeup, first: {:.1f} s, {:.0f} MB".format(*run(program, "writeup", str(folder))), flush=True)
    print("  writeup, again: {:.1f} s, {:.0f} MB".format(*run(program, "writeup", str(folder))), flush=True)
    taken = []
    for piece in sorted((folder / "pieces").iterdir()):
        taken.append(run(program, "handover", piece.name, "--workshop", str(folder), "--with-open-questions"))
    packs = sum(1 for _ in folder.glob("pieces/*/sealed/*.zip"))
    if packs != pieces:
        sys.exit(f"{packs} of {pieces} pieces were handed over")
    seconds, memory = zip(*taken)
    print(f"  handover, each: median {statistics.median(seconds):.2f} s, first {seconds[0]:.2f} s, "
          f"last {seconds[-1]:.2f} s, most {max(seconds):.2f} s, {max(memory):.0f} MB", flush=True)


def run(program, *arguments):
    """Seconds and most resident megabytes of one call."""
    begun = time.monotonic()
    child = os.fork()
    if child == 0:
        os.environ["SOURCE_DATE_EPOCH"] = TODAY
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 1)
        os.dup2(nothing, 2)
        os.execv(program, [str(program), *arguments])
    _, status, used = os.wait4(child, 0)
    # 1: written with doubts that the inspection gave.
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        sys.exit(f"{program.name} {' '.join(arguments)} failed with {os.waitstatus_to_exitcode(status)}")
    kilobytes = used.ru_maxrss / (1024 if sys.platform == "darwin" else 1)
    return time.monotonic() - begun, kilobytes / 1024


if __name__ == "__main__":
    main()
