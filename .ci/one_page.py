"""The papers of one page: disclosure and care of the example, of a record that says nothing, of one that says everything and
of many made at random, on both papers. Each has one page, no letter on it is smaller than it may be, none lies outside its
margins or over another; and what the program says that the care card tells is found on it, or whole in the build record
where the card only counts it.

    python one_page.py PROGRAM FOLDER WRITTEN

pdfplumber reads the pages; it knows nothing of the program that set them.
"""

import html
import json
import logging
import os
import random
import re
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pdfplumber

# The smallest letters, in points, and the share of letters that are larger than a note's.
SMALLEST = 8.5
BODY = {"disclosure": 9.5, "care": 10.0}
LEAST_BODY = 0.6

# Millimetres between the edge of a card, or its fold, and its letters.
CARD_MARGIN = 8.5
POINTS = 72 / 25.4

# How many records are made at random.
RANDOM = int(os.environ.get("RECORDS", "100"))

STANDINGS = ("original", "old-repair", "later", "salvaged", "new", "removed", "missing", "unknown")
BUILDS = ("solid", "veneered", "metal", "glass", "leather", "textile", "stone")
FINISHES = ("shellac", "old-paint", "old-finish", "paste-wax", "oil-polyurethane", "hardwax-oil", "bare-wood", "unknown",
            "milk-paint", "laminate", "marble", "tung-oil", "soap-finish", "water-gilding", "teak oil")
LONG = "a long account of what was found here and there, and of why it matters to whoever takes the piece home, "
STRANGE = ("W" * 60, "@%" * 40, "كرسي قديم من خشب الجوز " * 8, "古い椅子の脚を直した。" * 9, "🪑🛠" * 30, "x" * 300, "Knob", "a b. " * 60)

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
             f'instead-of = "{name}"\ntimber = "unknown"\nbuild = "{BUILDS[n % 7]}"\n' for n in range(200)]
    rows += [f'[[finding]]\nid = "f{n}"\npart = "p{n}"\nseen = "split"\nextent = "{name}"\nseverity = "major"\n'
             for n in range(60)]
    rows += [f'[[work]]\non = 2026-03-01\npart = "p{n}"\ndid = "{text}"\nturned-out = "failed"\n' for n in range(40)]
    rows += [f'[[fixing]]\nkind = "{name} {n}"\nstanding = "unknown"\n' for n in range(40)]
    rows += [f'[[test]]\nof = "thing {n}, {name}"\nresult = "{("not-tested", text)[n % 2]}"\n' for n in range(40)]
    rows += [f'[[patch]]\npart = "p{8 * n}"\nwhat = "{name}"\nstanding = "new"\n' for n in range(20)]
    rows += [f'[[undone]]\nwhat = "{name} {n}"\nwhy = "not-worth"\neffect = "{text}"\n' for n in range(30)]
    rows += [f'[[surface]]\nname = "Surface {n}, {name}"\nparts = ["p{8 * (n % 25)}"]\nfound = "{FINISHES[n % 15]}"\nsteps = [\n'
             f'  {{ on = 2026-03-0{n % 9 + 1}, apply = "{(name, *FINISHES)[n % 16]}" }},\n]\n' for n in range(60)]
    rows += [f'[[open]]\nwhat = "{name} {n}"\n' for n in range(20)]
    texts = ", ".join(f'"{text}"' for _ in range(8))
    shelves = ", ".join(f'{{ part = "p{8 * n}", ends = "supported", load = {n + 5} }}' for n in range(12))
    rows += [f'[use]\nfor = "{text}"\ncautions = [{texts}]\nassembly = [{texts}]\nmoving = [{texts}]\nshelves = [{shelves}]\n']
    rows += [f'[handover]\nto = "{text}"\ngiven = [' + ", ".join(f'"{name} {n}"' for n in range(30)) + "]\n"]
    return "\n".join(rows)


def by_chance(chance, number):
    """A record of lists and texts of any length, some of them in letters that are rarely seen."""

    def text(longest=400):
        if chance.random() < 0.12:
            return chance.choice(STRANGE)
        words = chance.choices(LONG.replace(",", "").split(), k=chance.randint(1, max(1, chance.randint(1, longest) // 6)))
        return " ".join(words) + chance.choice(("", ".", ". And more.", ", too"))

    def some(most_of):
        return range(chance.choice((0, 1, 2, 3, chance.randint(0, most_of))))

    def maybe(row, share=0.6):
        return row if chance.random() < share else ""

    rows = [f'title = "{text(120)[:180]}"\nnumber = "R-{number}"\nkind = "{chance.choice(("case/bookcase", "chair/side-chair", "table/gateleg", "chest/blanket-chest"))}"\n',
            maybe(f'summary = "{text()}"\n'), maybe('level = "repair"\n'),
            maybe(f"size = {{ width = {chance.randint(200, 2000)}, depth = {chance.randint(200, 900)}, height = {chance.randint(300, 2200)} }}\n")]
    parts = range(chance.choice((0, 1, 3, 8, 20)))
    rows += [f'[[part]]\nid = "p{n}"\nname = "{text(60)}"\nstanding = "{chance.choice(STANDINGS)}"\n'
             + maybe(f'build = "{chance.choice(BUILDS)}"\n') + maybe('timber = "scots-pine"\n')
             + maybe(f"size = {{ length = {chance.randint(100, 1500)}, width = {chance.randint(20, 500)}, thick = {chance.randint(5, 40)} }}\ngrain = \"length\"\n")
             + maybe('held = "fixed-across"\n', 0.3) for n in parts]
    part = (lambda: f'"p{chance.choice(parts)}"') if parts else None
    rows += [f'[[finding]]\nid = "f{n}"\nseen = "split"\nseverity = "{chance.choice(("trace", "minor", "moderate", "major"))}"\n'
             for n in some(9)]
    rows += [f'[[undone]]\nwhat = "{text(90)}"\nwhy = "not-worth"\n' + maybe(f'effect = "{text()}"\n') for _ in some(9)]
    rows += [f'[[test]]\nof = "lead"\nresult = "{chance.choice(("positive", "negative", "not-tested"))}"\n' for _ in some(3)]
    for _ in some(9):
        steps = [f'{{ on = 2026-0{chance.randint(1, 9)}-1{chance.randint(0, 9)}, apply = "{chance.choice(FINISHES)}" }}' for _ in some(4)]
        rows += ["[[surface]]\n" + maybe(f'name = "{text(60)}"\n') + (f"parts = [{part()}]\n" if part else "")
                 + f'found = ["{chance.choice(FINISHES)}"]\n' + f"steps = [{', '.join(steps)}]\n"]
    texts = lambda: ", ".join(f'"{text()}"' for _ in some(6))
    shelves = ", ".join(f'{{ part = {part()}, ends = "supported" }}' for _ in some(6)) if part else ""
    rows += [f"[use]\ncautions = [{texts()}]\nassembly = [{texts()}]\nmoving = [{texts()}]\nshelves = [{shelves}]\n" + maybe(f'for = "{text()}"\n')]
    rows += [maybe("[handover]\non = 2026-08-01\n", 0.4)]
    return "\n".join(rows)


def records():
    chance = random.Random(20260401)
    made = {f"r{n}": by_chance(chance, n) for n in range(RANDOM)}
    return {"least": LEAST, "most": most(), **made}


def written(program, folder, paper, made):
    """A workshop of these records, written up on this paper."""
    for name, record in made.items():
        piece = folder / "pieces" / name
        piece.mkdir(parents=True, exist_ok=True)
        (piece / "record.toml").write_text(record, encoding="utf-8")
    workshop = f'name = "Bench"\ncurrency = "GBP"\npaper = "{paper}"\ncontact = "bench@example.org"\n'
    (folder / "workshop.toml").write_text(workshop, encoding="utf-8")
    done = subprocess.run([program, "writeup", str(folder)], capture_output=True, text=True, check=False)
    sheets = sorted((folder / "written" / "buyers").glob("*/care.pdf"))
    if len(sheets) != len(made):
        sys.exit(f"{paper}: {len(sheets)} of {len(made)} cards were written\n{done.stderr[-3000:]}")
    return folder


def bare(text):
    """A text without its spaces, which no page keeps, and without places where a word may be broken."""
    return re.sub(r"[\s\u00a0\u200b]+", "", text)


def plain(text):
    """Letters and digits alone, since what a line begins with is set apart from what it says."""
    return "".join(letter for letter in text if letter.isalnum()).casefold()


def over_each_other(letters):
    """Letters that lie over another by more than a third of their breadth and height."""
    lying = sorted(letters, key=lambda letter: letter["x0"])
    found = []
    for at, letter in enumerate(lying):
        for other in lying[at + 1:]:
            if other["x0"] >= letter["x1"]:
                break
            wide = min(letter["x1"], other["x1"]) - other["x0"]
            high = min(letter["bottom"], other["bottom"]) - max(letter["top"], other["top"])
            least = min(letter["size"], other["size"])
            if wide > least * 0.3 and high > least * 0.5:
                found.append(letter["text"] + other["text"])
    return found


def faults(path):
    sheet = path.stem
    with pdfplumber.open(path) as pdf:
        if len(pdf.pages) != 1:
            yield f"it has {len(pdf.pages)} pages"
        letters = [letter for page in pdf.pages for letter in page.chars if letter["text"].strip()]
        small = [letter for letter in letters if letter["size"] < SMALLEST - 0.05]
        if small:
            yield f"{len(small)} letters are small, the least {min(letter['size'] for letter in small):.1f} pt"
        body = sum(letter["size"] >= BODY[sheet] - 0.05 for letter in letters)
        # A page with little on it is mostly labels.
        if len(letters) > 800 and body < LEAST_BODY * len(letters):
            yield f"only {body} of {len(letters)} letters have {BODY[sheet]} pt"
        page = pdf.pages[0]
        margin = CARD_MARGIN * POINTS if sheet == "care" else 0
        fold = page.width / 2 if sheet == "care" else -1
        out = [letter for letter in letters
               if letter["x0"] < margin or letter["x1"] > page.width - margin
               or letter["top"] < margin or letter["bottom"] > page.height - margin
               or letter["x0"] < fold + margin and letter["x1"] > fold - margin]
        if out:
            yield f"{len(out)} letters lie outside its margins: {''.join(letter['text'] for letter in out)[:40]}"
        over = over_each_other([letter for letter in letters if letter["text"].isascii()])
        if over:
            yield f"{len(over)} letters lie over others: {' '.join(over[:5])}"


def untold(program, workshop, name, card, record):
    """What the program says that a card tells, and is neither on it nor counted there and whole in the build record."""
    told = subprocess.run([program, "why", name, "--sheet", "care", "--as", "json", "--workshop", str(workshop)],
                          capture_output=True, text=True, check=True).stdout
    with pdfplumber.open(card) as pdf:
        on_card = bare("".join(letter["text"] for letter in pdf.pages[0].chars))
    elsewhere = [plain(html.unescape(re.sub(r"<[^>]*>", "", page.read_text(encoding="utf-8"))))
                 for page in (record, record.with_name("disclosure.html"))]
    for row in json.loads(told):
        sentence = bare(row["sentence"])
        if not sentence.isascii() and any(ord(letter) > 0x500 for letter in sentence if letter not in "–—‘’“”…×Δ"):
            continue  # What is drawn from right to left, or from other fonts, is read back in another order.
        # What a line begins with may stand there as the heading over many.
        ends = [plain(part)[-60:] for part in (row["sentence"], row["sentence"].split(". ", 1)[-1])]
        if row["counted"]:
            if row["heading"] != "Care days" and not any(end in elsewhere[0] for end in ends):
                yield f"neither on the card nor in the build record: {row['sentence'][:90]}"
        elif sentence[:30] not in on_card:
            # Where even few words have no room, a warning is what it begins with, and stands whole in the disclosure.
            begun = row["heading"] == "Beware" and bare(row["sentence"].split(". ")[0]) in on_card
            if not begun or not any(end in page for end in ends for page in elsewhere):
                yield f"not on the card: {row['sentence'][:90]}"


def of_piece(job):
    """What is wrong with the papers of one piece; they are looked at several pieces at once."""
    program, shop, name, papers = job
    found = [f"{sheet}: {fault}" for sheet in BODY for fault in faults(papers / f"{sheet}.pdf")]
    return [*found, *untold(program, shop, name, papers / "care.pdf", papers / "build-record.html")]


def at_once():
    """So many processes as there are processors; each keeps the PDF library's warnings to itself."""
    return ProcessPoolExecutor(os.cpu_count(), initializer=logging.disable, initargs=(logging.WARNING,))


def main():
    program, folder, example = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
    made = records()
    some = {name: record for at, (name, record) in enumerate(made.items()) if at < 22}
    shops = [example.parent, written(program, folder / "A4", "A4", made), written(program, folder / "letter", "letter", some)]
    jobs = []
    for shop in shops:
        numbers = {re.sub(r'.*?number = "([^"]+)".*', r"\1", path.read_text(encoding="utf-8"), count=1, flags=re.S).lower(): path.parent.name
                   for path in shop.glob("pieces/*/record.toml")}
        jobs += [(program, shop, numbers[papers.name.rsplit("-", 1)[0]], papers)
                 for papers in sorted((shop / "written" / "buyers").glob("*/"))]
    passed = failed = 0
    with at_once() as pool:
        for (_, shop, name, _), found in zip(jobs, pool.map(of_piece, jobs)):
            passed, failed = passed + (not found), failed + bool(found)
            for fault in found:
                print(f"{shop.name}/{name}: {fault}")
    with open(os.environ["TALLY"], "a", encoding="utf-8") as tally:
        tally.write(f"{passed} {failed}\n")
    print(f"{passed + failed} pieces, {failed} with faults")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
