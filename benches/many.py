#!/usr/bin/env python3
"""Makes a large workshop out of the example project, to measure what a writing costs.

    python3 benches/many.py FOLDER --pieces 1000 --photographs 12 [--pictures example-project/written]

Each piece is one of the example's under a number of its own. Its photographs are the example's, each made another file
by a remark with its number in it, so that none of them has the content of another. With --pictures, the smallest
pictures of an example that was written up are taken in their stead.
"""

import argparse
import re
import shutil
from itertools import cycle
from pathlib import Path

EXAMPLE = Path(__file__).resolve().parent.parent / "example-project"


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("folder", type=Path)
    options.add_argument("--pieces", type=int, default=1000)
    options.add_argument("--photographs", type=int, default=12)
    options.add_argument("--pictures", type=Path)
    options = options.parse_args()
    make(options.folder, options.pieces, options.photographs, options.pictures)


def make(folder, pieces, photographs, pictures):
    """Makes a workshop of so many pieces, each with so many photographs."""
    folder.mkdir(parents=True)
    for own in ["workshop.toml", "stock.toml", "buyers-secret.txt"]:
        shutil.copy(EXAMPLE / own, folder)
    patterns = sorted((EXAMPLE / "pieces").iterdir())
    small = sorted(pictures.glob("archive/pieces/*/pictures/*-480.jpg")) if pictures else None
    for number, pattern in zip(range(1, pieces + 1), cycle(patterns)):
        piece(folder / "pieces" / f"{pattern.name}-{number:05}", pattern, number, photographs, small)


def piece(folder, pattern, number, photographs, small):
    (folder / "photos").mkdir(parents=True)
    record = (pattern / "record.toml").read_text()
    (folder / "record.toml").write_text(re.sub(r'(?m)^number = ".*"$', f'number = "MP-{number:05}"', record, count=1))
    if (pattern / "story.md").exists():
        shutil.copy(pattern / "story.md", folder)
    originals = sorted((pattern / "photos").iterdir())
    for place, original in zip(range(photographs), cycle(originals)):
        name = original.name if place < len(originals) else f"during-{place:02}.jpg"
        source = small[(number + place) % len(small)] if small else original
        (folder / "photos" / name).write_bytes(remarked(source.read_bytes(), f"{number}-{place}"))


def remarked(jpeg, remark):
    """A JPEG with a remark after its first marker (ISO/IEC 10918-1, B.2.4.5)."""
    remark = remark.encode()
    return jpeg[:2] + b"\xff\xfe" + (len(remark) + 2).to_bytes(2, "big") + remark + jpeg[2:]


if __name__ == "__main__":
    main()
