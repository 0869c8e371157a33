"""The disclosure sheet of the example, of a record that says nothing and of one that says everything, on both papers: it
has one page, no letter on it is smaller than it may be, and none lies outside the page.

    python one_page.py PROGRAM FOLDER WRITTEN

pdfplumber reads the pages; it knows nothing of the program that set them.
"""

import logging
import os
import subprocess
import sys
from pathlib import Path

import pdfplumber

# The smallest letters, in points, and the share of letters that are larger than a note's.
SMALLEST = 8.5
BODY, LEAST_BODY = 9.5, 0.6

STANDINGS = ("original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown")
LONG = "a long account of what was found here and there, and of why it matters to whoever takes the piece home, "

LEAST = 'title = "Stool"\nnumber = "S-1"\nkind = "seat/stool"\n'


def most():
    """A record in which every list is long and every text longer."""
    text, name = LONG * 6, LONG[:90]
    rows = [
        f'title = "{(LONG * 3)[:190]}"\nnumber = "MOST-000001"\nkind = "case/chest-of-drawers"\nmade = "18XX"\n'
        f'summary = "{text}"\nstance = "{text}"\nlevel = "refurbish"\nmaker = "unknown"\n'
        "size = { width = 900, depth = 450, height = 1200 }\n"
    ]
    rows += [f'[[part]]\nid = "p{n}"\nname = "Part {n}, {name}"\nstanding = "{STANDINGS[n % 8]}"\n'
             f'instead-of = "{name}"\ntimber = "unknown"\n' for n in range(200)]
    rows += [f'[[finding]]\nid = "f{n}"\npart = "p{n}"\nseen = "split"\nextent = "{name}"\nseverity = "major"\n'
             for n in range(60)]
    rows += [f'[[work]]\non = 2026-03-01\npart = "p{n}"\ndid = "{text}"\nturned-out = "failed"\n' for n in range(40)]
    rows += [f'[[fixing]]\nkind = "{name} {n}"\nstanding = "unknown"\n' for n in range(40)]
    rows += [f'[[test]]\nof = "thing {n}, {name}"\nresult = "{("not-tested", text)[n % 2]}"\n' for n in range(40)]
    rows += [f'[[patch]]\npart = "p{8 * n}"\nwhat = "{name}"\nstanding = "new"\n' for n in range(20)]
    rows += [f'[[undone]]\nwhat = "{name} {n}"\nwhy = "not-worth"\neffect = "{text}"\n' for n in range(30)]
    rows += [f'[[surface]]\nname = "Surface {n}, {name}"\nparts = ["p{8 * n}"]\nfound = "{name}"\nsteps = [\n'
             f'  {{ remove = "all" }},\n  {{ apply = "{name}" }},\n]\n' for n in range(20)]
    rows += [f'[[open]]\nwhat = "{name} {n}"\n' for n in range(20)]
    rows += ["[use]\ncautions = [" + ", ".join(f'"{text}"' for _ in range(8)) + "]\n"]
    rows += [f'[handover]\nto = "{text}"\ngiven = [' + ", ".join(f'"{name} {n}"' for n in range(30)) + "]\n"]
    return "\n".join(rows)


def written(program, folder, paper):
    """A workshop of both records, written up on this paper."""
    for name, record in (("least", LEAST), ("most", most())):
        piece = folder / "pieces" / name
        piece.mkdir(parents=True, exist_ok=True)
        (piece / "record.toml").write_text(record, encoding="utf-8")
    (folder / "workshop.toml").write_text(f'name = "Bench"\ncurrency = "GBP"\npaper = "{paper}"\n', encoding="utf-8")
    done = subprocess.run([program, "writeup", str(folder)], capture_output=True, text=True, check=False)
    sheets = sorted((folder / "written" / "buyers").glob("*/disclosure.pdf"))
    if len(sheets) != 2:
        sys.exit(f"{paper}: {len(sheets)} sheets were written\n{done.stderr[-3000:]}")
    return sheets


def faults(path):
    with pdfplumber.open(path) as pdf:
        if len(pdf.pages) != 1:
            yield f"it has {len(pdf.pages)} pages"
        letters = [letter for page in pdf.pages for letter in page.chars if letter["text"].strip()]
        small = [letter for letter in letters if letter["size"] < SMALLEST - 0.05]
        if small:
            yield f"{len(small)} letters are small, the least {min(letter['size'] for letter in small):.1f} pt"
        body = sum(letter["size"] >= BODY - 0.05 for letter in letters)
        # A page with little on it is mostly labels.
        if len(letters) > 800 and body < LEAST_BODY * len(letters):
            yield f"only {body} of {len(letters)} letters have {BODY} pt"
        page = pdf.pages[0]
        out = [letter for letter in letters if letter["x0"] < 0 or letter["x1"] > page.width
               or letter["top"] < 0 or letter["bottom"] > page.height]
        if out:
            yield f"{len(out)} letters lie outside the page"


def main():
    logging.disable(logging.WARNING)
    program, folder, example = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
    sheets = sorted(example.glob("buyers/*/disclosure.pdf"))
    for paper in ("A4", "letter"):
        sheets += written(program, folder / paper, paper)
    failed = 0
    for sheet in sheets:
        found = list(faults(sheet))
        failed += bool(found)
        for fault in found:
            print(f"{sheet}: {fault}")
    with open(os.environ["TALLY"], "a", encoding="utf-8") as tally:
        tally.write(f"{len(sheets) - failed} {failed}\n")
    print(f"{len(sheets)} disclosure sheets, {failed} with faults")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
