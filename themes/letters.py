#!/usr/bin/env python3
"""Makes the small fonts of the showroom's pages from the whole ones of a theme.

A page of the showroom shows its first letters as early as its first photograph, so its fonts hold what plain English
and its neighbours need, in the weights that showroom.css uses. All other letters come from the whole files, which are
fetched only where a page has such letters. Needs fonttools and brotli: `pip install fonttools==4.68.0 brotli==1.2.1`.

    python3 themes/letters.py themes/flitch/assets/fonts

The whole fonts carry the Reserved Font Name 'Source', so that what is made from them is called otherwise.
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

# Basic Latin, Latin-1, the dashes, quotation marks and signs that papers print, and the ligatures by way of their letters.
LETTERS = [
    *range(0x20, 0x7F), *range(0xA0, 0x100), 0x131, 0x152, 0x153,
    *range(0x2010, 0x2016), *range(0x2018, 0x201F), 0x2022, 0x2026, 0x202F, 0x2032, 0x2033, 0x2039, 0x203A,
    0x20AC, 0x2122, 0x2191, 0x2193, 0x2212,
]

# What is made, from what, under which name, with which part of each axis.
MADE = [
    ("showroom-serif.woff2", "source-serif-4-latin.woff2", "Flitch Serif", {"wght": (400, 600), "opsz": 15}),
    ("showroom-serif-italic.woff2", "source-serif-4-latin-italic.woff2", "Flitch Serif", {"wght": 400}),
    ("showroom-display.woff2", "source-serif-4-latin.woff2", "Flitch Display", {"wght": 370, "opsz": 44}),
    ("showroom-sans.woff2", "commissioner-latin.woff2", "Flitch Sans", {"wght": (400, 600)}),
]

# Names of the family, by their numbers in the table of names: the copyright and the licence stay as they are.
FAMILY, FULL, POSTSCRIPT = (1, 16, 21), (4,), (6, 25)


def named(font, family):
    """Gives the font another name; what the licence asks to keep is kept."""
    style = font["name"].getDebugName(2) or "Regular"
    for record in list(font["name"].names):
        if record.nameID in FAMILY:
            font["name"].setName(family, record.nameID, record.platformID, record.platEncID, record.langID)
        elif record.nameID in FULL:
            font["name"].setName(f"{family} {style}", record.nameID, record.platformID, record.platEncID, record.langID)
        elif record.nameID in POSTSCRIPT:
            name = f"{family} {style}".replace(" ", "")
            font["name"].setName(name, record.nameID, record.platformID, record.platEncID, record.langID)
        elif record.nameID in (3,):
            font["name"].setName(f"{family} {style}, a subset", 3, record.platformID, record.platEncID, record.langID)


def make(source, target, family, axes):
    font = TTFont(source, recalcTimestamp=False)
    font = instancer.instantiateVariableFont(font, axes, inplace=True)
    options = subset.Options()
    options.flavor = "woff2"
    options.layout_features = ["ccmp", "locl", "kern", "mark", "liga", "lnum", "pnum", "tnum", "rvrn"]
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14, 16, 17, 25]
    options.notdef_outline = True
    options.hinting = False
    options.desubroutinize = True
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=LETTERS)
    cutter.subset(font)
    named(font, family)
    subset.save_font(font, target, options)


def main():
    folder = Path(sys.argv[1])
    for target, source, family, axes in MADE:
        make(folder / source, folder / target, family, axes)
        print(f"{target}: {(folder / target).stat().st_size} bytes, of {(folder / source).stat().st_size}")


if __name__ == "__main__":
    main()
