"""The build record: of the example's pieces it has five pages at most, of any record its letters have their least size,
none lies outside its page's margins or on another, and every sentence that the program tells of it stands on it.

    python build_record.py PROGRAM FOLDER EXAMPLE WRITTEN

EXAMPLE is the workshop of which WRITTEN was written. pdfplumber reads the pages; it knows nothing of the program that set
them. A record that says nothing and one in which every list is long are set too, on both papers.
"""

import json
import os
import re
import subprocess
import sys
import unicodedata
from pathlib import Path

import pdfplumber

from one_page import LEAST, SMALLEST, at_once, most

# Pages of an example's piece, the annex of one whose care has more than its card holds included, and of the part before the
# annex of any record.
PAGES, FRONT = 5, 6

# Letters that a reader reads, and the least that they are before the annex.
BODY = 9.95

# Margins of a page in points, less what a letter may stand out of its line.
SIDES, HEAD, FOOT = 42.5, 20, 20

ANNEX = "Annex: for whoever works on it next"


def bare(text):
    """Letters and digits alone, so that line ends, joined letters and columns make no difference."""
    return "".join(letter for letter in unicodedata.normalize("NFKC", text) if letter.isalnum()).casefold()


def front_of(pdf):
    """How many pages come before the annex."""
    for at, page in enumerate(pdf.pages):
        if ANNEX in (page.crop((0, 0, page.width, 60)).extract_text() or ""):
            return at
    return len(pdf.pages)


def overlapping(letters):
    """Letters that lie on other letters: two lines that were set over each other."""
    rows = {}
    for one in letters:
        rows.setdefault(round(one["top"] / 4), []).append(one)
    hits = 0
    for key, row in rows.items():
        lying = sorted([(one, True) for one in row] + [(one, False) for one in rows.get(key + 1, [])], key=lambda it: it[0]["x0"])
        for at, (one, here) in enumerate(lying):
            for other, too in lying[at + 1:]:
                if other["x0"] >= one["x1"]:
                    break
                wide = min(one["x1"], other["x1"]) - other["x0"]
                high = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
                least = min(one["width"], other["width"])
                hits += ((here or too) and wide > 0.6 * least and one["text"] != other["text"]
                         and high > 0.55 * min(one["height"], other["height"]))
    return hits


def faults(path, pages=None):
    with pdfplumber.open(path) as pdf:
        front = front_of(pdf)
        if pages is not None and len(pdf.pages) > pages:
            yield f"it has {len(pdf.pages)} pages"
        if front > FRONT:
            yield f"{front} pages come before its annex"
        if front == len(pdf.pages):
            yield "it has no annex"
        for number, page in enumerate(pdf.pages, 1):
            letters = [one for one in page.chars if one["text"].strip()]
            small = [one for one in letters if one["size"] < SMALLEST - 0.05]
            if small:
                yield f"page {number}: {len(small)} letters are small, the least {min(one['size'] for one in small):.1f} pt"
            serif = [one for one in letters if "Serif" in one["fontname"]]
            large = sum(one["size"] >= BODY for one in serif)
            # The last pages before the annex may end with some of its lists.
            if number < min(front, 3) and serif and large < 0.4 * len(serif):
                yield f"page {number}: only {large} of {len(serif)} letters to read have {BODY} pt"
            out = [one for one in letters if one["x0"] < SIDES - 1.5 or one["x1"] > page.width - SIDES + 1.5
                   or one["top"] < HEAD or one["bottom"] > page.height - FOOT]
            if out:
                yield f"page {number}: {len(out)} letters lie in the margin: {''.join(one['text'] for one in out[:20])}"
            hits = overlapping([one for one in letters if one["upright"]])
            if hits > 3:
                yield f"page {number}: {hits} letters lie on others"
            if not re.search(rf"Page {number} of {len(pdf.pages)}\b", page.extract_text() or ""):
                yield f"page {number} does not say so"


def unsaid(program, workshop, piece, path):
    """Sentences that the program tells of the record and that do not stand on it."""
    done = subprocess.run([program, "why", piece, "--sheet", "build-record", "--as", "json", "--workshop", str(workshop)],
                          capture_output=True, text=True, check=True)
    text = bare(subprocess.run(["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True).stdout)

    # A column or a page may end within a sentence, and rows that begin alike have their beginning once: then its halves are
    # looked for.
    def stands(wanted):
        return wanted in text or any(wanted[:cut] in text and wanted[cut:] in text for cut in range(1, len(wanted)))

    for line in json.loads(done.stdout):
        if not stands(bare(line["sentence"])):
            yield f"it does not say: {line['sentence'][:110]}"


def written(program, folder, paper):
    """A workshop of two records that are the least and the most of all, written up on this paper."""
    for name, record in (("least", LEAST), ("most", most())):
        piece = folder / "pieces" / name
        piece.mkdir(parents=True, exist_ok=True)
        (piece / "record.toml").write_text(record, encoding="utf-8")
    (folder / "workshop.toml").write_text(f'name = "Bench"\ncurrency = "GBP"\npaper = "{paper}"\n', encoding="utf-8")
    done = subprocess.run([program, "writeup", str(folder)], capture_output=True, text=True, check=False)
    sheets = sorted((folder / "written" / "buyers").glob("*/build-record.pdf"))
    if len(sheets) != 2:
        sys.exit(f"{paper}: {len(sheets)} build records were written\n{done.stderr[-3000:]}")
    return sheets


def of_sheet(job):
    """What is wrong with one build record, and of the example what it does not say."""
    program, sheet, piece = job
    found = list(faults(sheet, PAGES if piece else None))
    return found + (list(unsaid(program, piece.parent.parent, piece.name, sheet)) if piece else [])


def main():
    program, folder, example, tree = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]), Path(sys.argv[4])
    jobs, lacking = [], []
    for piece in sorted((example / "pieces").iterdir()):
        number = re.search(r'^number = "([^"]+)"', (piece / "record.toml").read_text(encoding="utf-8"), re.M).group(1)
        sheets = sorted(tree.glob(f"buyers/{number.lower()}-*/build-record.pdf"))
        lacking += [] if sheets else [number]
        jobs += [(program, sheet, piece) for sheet in sheets]
    # The longest first, so that no processor waits for it alone at the end.
    made = [sheet for paper in ("A4", "letter") for sheet in written(program, folder / paper, paper)]
    jobs = [(program, sheet, None) for sheet in sorted(made, key=lambda sheet: -sheet.stat().st_size)] + jobs
    failed = len(lacking)
    for number in lacking:
        print(f"{number}: it has no build record")
    with at_once() as pool:
        for (_, sheet, _), found in zip(jobs, pool.map(of_sheet, jobs)):
            failed += bool(found)
            for fault in found:
                print(f"{sheet}: {fault}")
    checked = len(jobs) + len(lacking)
    with open(os.environ["TALLY"], "a", encoding="utf-8") as tally:
        tally.write(f"{checked - failed} {failed}\n")
    print(f"{checked} build records, {failed} with faults")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
