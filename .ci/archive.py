#!/usr/bin/env python3
"""Asks the archive's database with other programs, and holds the answers of `consult` to theirs.

    archive.py PROGRAM WRITTEN WORKSHOP SCRATCH

PROGRAM is witnessmark, WRITTEN the folder that WORKSHOP was written to, SCRATCH an empty folder. Debian's sqlite3 opens the
database and runs the ten questions of the README; colour-science reckons the nearest colours and NumPy the quartiles
again; a year that was worked out by hand is asked for; and a database that was changed piece by piece is compared with one
made from nothing.
"""

import json
import os
import re
import shutil
import sqlite3
import subprocess
import sys
import warnings
from pathlib import Path

import numpy

warnings.simplefilter("ignore")  # of parts of colour-science that are not used here
from colour.difference import delta_E_CIE2000

PROGRAM, WRITTEN, WORKSHOP, SCRATCH = sys.argv[1], *map(Path, sys.argv[2:5])
README = Path(__file__).resolve().parent.parent / "README.md"
passed = failed = 0


def check(name, holds, told=""):
    global passed, failed
    passed, failed = passed + bool(holds), failed + (not holds)
    if not holds:
        print(f"FAILED: {name}: {told}")


def consult(workshop, *question, written=None):
    more = ["--written", str(written)] if written else []
    command = [PROGRAM, "consult", *question, "--workshop", str(workshop), "--as", "json", *more]
    run = subprocess.run(command, capture_output=True, text=True)
    assert run.returncode in (0, 1), run.stderr
    return json.loads(run.stdout)


def shell(database, commands):
    run = subprocess.run(["sqlite3", str(database)], input=commands + "\n", capture_output=True, text=True)
    return run.returncode, run.stdout, run.stderr


def sound(database):
    """Debian's sqlite3 opens a copy and finds nothing wrong, in the index of words either."""
    copy = SCRATCH / "copy.db"
    shutil.copy(database, copy)
    code, out, err = shell(copy, "PRAGMA integrity_check;")
    check("integrity_check", code == 0 and out.strip() == "ok", out + err)
    code, out, err = shell(copy, "INSERT INTO words (words, rank) VALUES ('integrity-check', 1);")
    check("the index fits its lines", code == 0, out + err)
    copy.unlink()


def questions(database):
    block = re.search(r"```sql\n(.*?)```", README.read_text(), re.S).group(1)
    asked = [question.strip() for question in block.split(";\n") if question.strip()]
    check("the README has ten questions", len(asked) == 10, len(asked))
    for question in asked:
        code, out, err = shell(database, question + ";")
        check(question.splitlines()[0], code == 0 and out.strip(), out + err)


def colours(workshop, database):
    rows = sqlite3.connect(database).execute(
        "SELECT folder, colour.no, result_l, result_a, result_b FROM colour JOIN piece ON piece.id = colour.piece "
        "WHERE result_l IS NOT NULL").fetchall()
    check("some colour was measured", rows)
    for wanted in [(42, 12, 25), (30, 7, 13), (85, -3, 60), (0, 0, 0), (99, 1, -1)]:
        found = consult(workshop, "colour", "--lab", ",".join(map(str, wanted)), "--all")["measured"]
        again = sorted((float(delta_E_CIE2000(wanted, row[2:])), row[0], row[1]) for row in rows)
        told = [(row["difference"], row["piece"]["folder"], row["swatch"]) for row in found]
        same = len(told) == len(again) and all(
            one[1:] == other[1:] and abs(one[0] - other[0]) < 1e-4 for one, other in zip(told, again))
        check(f"nearest to {wanted}", same, (told, again))


def quartiles(workshop, database):
    connection = sqlite3.connect(database)
    tasks = connection.execute(
        "SELECT task, piece, sum(hours) FROM work WHERE task IS NOT NULL AND hours IS NOT NULL GROUP BY task, piece").fetchall()
    for task in {row[0] for row in tasks}:
        hours = [row[2] for row in tasks if row[0] == task]
        wanted = [len(hours), *numpy.quantile(hours, [0, 0.25, 0.5, 0.75, 1])]
        row = consult(workshop, "time", task)["hours"][0]
        told = [row[key] for key in ["pieces", "least", "lower-quartile", "median", "upper-quartile", "most"]]
        # Hours are told to a hundredth.
        check(f"hours of {task}", all(abs(one - other) <= 0.005001 for one, other in zip(told, wanted)), (told, wanted))


SMALL = {
    "workshop.toml": 'name = "By hand"\ncurrency = "GBP"\nhourly-rate = 18\noverhead-per-hour = 2\n'
                     '[[tin]]\nid = "wax"\nis = "paste-wax"\nlitres = 1\nprice = 12.50\n',
    "stock.toml": '[[stock]]\nid = "plank"\nwhat = "an oak plank"\npaid = 10\ncount = 6\n',
    "pieces/chair/record.toml":
        'title = "Chair"\nnumber = "CH-1"\nkind = "chair/side"\nfound = { on = 2025-01-10, paid = 15 }\n'
        'part = [{ id = "seat", name = "Seat", standing = "new", from-stock = "plank", instead-of = "a broken one" }]\n'
        'cost = [{ what = "wax", tin = "wax", share = 0.2, on = 2025-02-03 }, { what = "screws", amount = 1.75, on = 2025-02-01 }]\n'
        'work = [{ on = 2025-02-01, part = "seat", did = "made a seat", task = "making parts", hours = 3.25 },\n'
        '        { on = 2025-02-03, part = "seat", did = "waxed it", task = "finishing", hours = 0.75 }]\n'
        'handover = { on = 2025-03-20, price = 96 }\n',
    "pieces/stool/record.toml":
        'title = "Stool"\nnumber = "ST-1"\nkind = "stool"\nfound = { on = 2024-12-30, paid = 5 }\nasking = 40\n'
        'part = [{ id = "leg", name = "Leg", standing = "new", count = 2, from-stock = "plank" }]\n'
        'work = [{ on = 2025-06-11, part = "leg", did = "turned two legs", task = "making parts", hours = 2 }]\n',
}


def lay(folder, files):
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text)


def by_hand():
    """Taken 96. Spent in 2025: the chair 15, wax 0.2 x 12.50 = 2.50, screws 1.75, and 10 for the plank, of which each piece
    bears 5 on the day of its last work; the stool was paid for in 2024. Hours 3.25 + 0.75 + 2 = 6. The chair cost 24.25 and
    4 hours of overhead at 2, so that 96 - 24.25 - 8 = 63.75 are left for 4 hours: 15.94 an hour."""
    workshop = SCRATCH / "by-hand"
    lay(workshop, SMALL)
    told = consult(workshop, "money", "--year", "2025")
    chair, stool = ({row["piece"]["number"]: row for row in told["pieces"]}[number] for number in ["CH-1", "ST-1"])
    check("taken", chair["taken"] == 96 and stool["taken"] == 0, told)
    check("spent", chair["spent"] == 24.25 and stool["spent"] == 5, told)
    check("hours", chair["hours"] == 4 and stool["hours"] == 2, told)
    check("left for the hours", chair["margin"] == 63.75, chair)
    check("earned an hour", chair["earned-per-hour"] == 15.94, chair)
    months = {row["of"]: (row["taken"], row["spent"], row["hours"]) for row in told["months"]}
    wanted = {"January": (0, 15, 0), "February": (0, 9.25, 4), "March": (96, 0, 0), "June": (0, 5, 2)}
    check("by month", months == wanted, months)
    unsold = [(row["piece"]["number"], row["spent"], row["asking"]) for row in told["unsold"]]
    check("unsold", unsold == [("ST-1", 10, 40)], unsold)
    plank = consult(workshop, "stock", "plank")["stock"][0]
    # A chair like it: 9.25 of materials without what was paid, and 4 hours at 10 and 2 of overhead make 57.25.
    chair = consult(workshop, "quote", "chair", "--earn", "10", "--sell", "100")["price"][1]
    told = [chair[key] for key in ["hours", "materials", "pay-at-most", "ask-at-least"]]
    check("the price to pay", told == [4, 9.25, 42.75, 57.25], told)
    check("stock", (plank["count"], plank["used"], plank["left"]) == (6, 3, 3), plank)
    return workshop


def content(database):
    """Everything but the inner tables of the index, whose pages tell in which order it was filled."""
    code, out, err = shell(database, ".dump")
    assert code == 0, err
    return [line for line in out.splitlines() if not re.match(r"(INSERT INTO|CREATE TABLE) ['\"]?words", line)]


def writeup(workshop, to):
    run = subprocess.run([PROGRAM, "writeup", str(workshop), "--to", str(to)], capture_output=True, text=True)
    assert run.returncode in (0, 1), run.stderr


def either_way(workshop):
    grown, anew = SCRATCH / "grown", SCRATCH / "anew"
    writeup(workshop, grown)
    changed = SMALL["pieces/stool/record.toml"].replace("turned two legs", "turned both legs")
    lay(workshop, {"pieces/stool/record.toml": changed, "pieces/box/record.toml": 'title = "Box"\nnumber = "B-1"\nkind = "box"\n'})
    writeup(workshop, grown)
    shutil.rmtree(workshop / "pieces" / "chair")
    writeup(workshop, grown)
    writeup(workshop, anew)
    one, other = (content(folder / "archive" / "archive.db") for folder in [grown, anew])
    check("the same content either way", one == other and len(one) > 100, len(one))
    sound(grown / "archive" / "archive.db")
    elsewhere = [path for path in grown.rglob("*.db") if path.parent.name != "archive"]
    check("no database elsewhere", not elsewhere, elsewhere)


database = WRITTEN / "archive" / "archive.db"
check("a database only in the archive", list(WRITTEN.rglob("*.db*")) == [database], list(WRITTEN.rglob("*.db*")))
sound(database)
questions(database)
colours(WORKSHOP, database)
quartiles(WORKSHOP, database)
either_way(by_hand())
print(f"{passed} answers held, {failed} did not")
with open(os.environ["TALLY"], "a") as tally:
    tally.write(f"{passed} {failed}\n")
sys.exit(failed > 0)
