"""Puts what the cameras saw (landmarks.json) into the records.

A line of a record that ends in a comment naming a point, a rectangle or a part gets its numbers anew:

    { at = [0.5, 0.4], finding = "f-ring" },  # white ring
    { area = [[0.1, 0.2], …], part = "top" },  # outline 1 of top
    { line = [[0.1, 0.2], [0.3, 0.2]], finding = "f-split" },  # one end + other end
    target = [0.1, 0.2, 0.3, 0.1]  # target
    [0.1, 0.2, 0.1, 0.2],  # left end of the joint

The rest of the line, and every other line, stays as it is.
"""

import json
import re
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
NUMBERS = re.compile(r"\[(?:\[?\s*-?[\d.]+\s*,?\s*\]?\s*,?\s*)+\]")


def main():
    pieces = json.loads((HERE / "landmarks.json").read_text())["pieces"]
    for name in sys.argv[1:] or pieces:
        record = HERE.parent / "pieces" / name / "record.toml"
        record.write_text("\n".join(pasted(record.read_text().split("\n"), pieces[name])))


def pasted(lines, seen):
    """The lines with the numbers that `seen` knows for their comments."""
    pair = {p["point"]: p["before"] + p["after"] for p in seen["pair"]["landmarks"]}
    photo, known, out = None, pair, []
    for line in lines:
        if line.startswith("[[") and not line.startswith("[[photo."):
            photo, known = None, pair
        told = re.match(r'(?:file|photo) = "([^"]+)"', line)
        if told:
            photo = told[1]
            known = {**seen["marks"].get(photo, {}), **seen["areas"].get(photo, {})}
        out.append(renewed(line, photo, known, seen))
    return out


def renewed(line, photo, known, seen):
    """One line, with new numbers if its comment names something seen on this photograph."""
    body, mark, name = line.rpartition("  # ")
    if not mark:
        return line
    outline = re.fullmatch(r"outline (\d+) of ([\w-]+)", name)
    if outline:
        numbers = seen["outlines"][photo][outline[2]][int(outline[1]) - 1]
    elif " + " in name:
        # A line or an area between several named points.
        numbers = [known[n] for n in name.split(" + ")]
    elif name in known:
        numbers = known[name]
    else:
        raise SystemExit(f"nothing called {name!r} was seen on {photo}")
    return NUMBERS.sub(lambda _: json.dumps(numbers), body, count=1) + mark + name


if __name__ == "__main__":
    main()
