#!/usr/bin/env python3
"""Makes the archive of a very large workshop out of the example's, and measures what a question to it costs.

    python3 benches/asked.py FOLDER --program target/release/witnessmark --pieces 10000 [WORDS ...]

A few pieces of the example are written up; the rows that their database has of them are then laid again under other
folders until there are as many pieces as are wanted, which takes minutes instead of hours. Each question is asked by
the command, so that its time is that from the key to the last letter: the start of the program and a look at the date of
each record are in it. What the questions alone take, as the viewing asks them, tells

    ARCHIVE=FOLDER/written/archive/archive.db cargo test --release --lib -- --ignored --nocapture questions_to_an_archive

It needs Python 3.9 and its SQLite with FTS5.
"""

import argparse
import hashlib
import os
import shutil
import sqlite3
import statistics
import subprocess
import time
from pathlib import Path

from many import EXAMPLE, piece

WORDS = ["runner", "white glue", "glue", "the", "the runner", "dra", "spplit"]
LINES = 1 << 20


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("folder", type=Path)
    options.add_argument("words", nargs="*", default=WORDS)
    options.add_argument("--program", type=Path, default=Path("target/release/witnessmark"))
    options.add_argument("--pieces", type=int, default=10_000)
    options.add_argument("--times", type=int, default=7)
    options = options.parse_args()
    database = options.folder / "written/archive/archive.db"
    if not options.folder.exists():
        made(options.folder, options.program)
        multiplied(options.folder, database, options.pieces)
    print(f"{database.stat().st_size / 1e6:.0f} MB")
    asked(options, ["consult", "--help"], "(the program's start)")
    for words in options.words:
        asked(options, ["consult", "words", "--workshop", options.folder, "--", words], words)


def made(folder, program):
    """Four pieces of the example, written up without photographs."""
    folder.mkdir(parents=True)
    for own in ["workshop.toml", "stock.toml", "buyers-secret.txt"]:
        shutil.copy(EXAMPLE / own, folder)
    for number, pattern in enumerate(sorted((EXAMPLE / "pieces").iterdir()), 1):
        piece(folder / "pieces" / f"{pattern.name}-{number:05}", pattern, number, 0, None)
    # The marks on photographs that are not there are mistakes, and the archive is written all the same.
    subprocess.run([program, "writeup", folder], capture_output=True)


def multiplied(folder, database, wanted):
    """Lays the rows of each piece again under other folders, numbered as the program numbers them."""
    archive = sqlite3.connect(database, isolation_level=None)
    for setting in ["PRAGMA journal_mode = OFF", "PRAGMA synchronous = OFF", "BEGIN"]:
        archive.execute(setting)
    tables = [name for name, in archive.execute("SELECT name FROM sqlite_schema WHERE type = 'table' AND sql NOT LIKE '%VIRTUAL%'")]
    columns = {table: [row[1] for row in archive.execute(f'PRAGMA table_info("{table}")')] for table in tables}
    of_pieces = [table for table in tables if "piece" in columns[table]]
    patterns = archive.execute("SELECT id, folder FROM piece ORDER BY folder").fetchall()
    for number in range(len(patterns) + 1, wanted + 1):
        old, pattern = patterns[number % len(patterns)]
        own = f"{pattern.rsplit('-', 1)[0]}-{number:05}"
        new = int(hashlib.sha256(own.encode()).hexdigest()[:10], 16)
        laid(archive, "piece", columns["piece"], {"id": new, "folder": own, "number": f"MP-{number:05}"}, f"id = {old}")
        for table in of_pieces:
            # Lines are numbered behind their piece.
            line = {"id": f"id + {(new - old) * LINES}"} if table == "line" else {}
            of = f"id BETWEEN {old * LINES} AND {(old + 1) * LINES - 1}" if line else f"piece = {old}"
            laid(archive, table, columns[table], {"piece": new}, of, line)
        record = folder / "pieces" / own / "record.toml"
        record.parent.mkdir()
        shutil.copy2(folder / "pieces" / pattern / "record.toml", record)
    archive.execute("INSERT INTO words (words) VALUES ('rebuild')")
    archive.execute("COMMIT")
    archive.close()
    # What the program compares with the records' dates.
    os.utime(database, (time.time() + 5, time.time() + 5))


def laid(archive, table, columns, values, of, reckoned=None):
    """Lays the rows of one piece again, with some values of their own."""
    reckoned = reckoned or {}
    terms = [reckoned.get(name) or (f":{name}" if name in values else f'"{name}"') for name in columns]
    archive.execute(f'INSERT INTO "{table}" SELECT {", ".join(terms)} FROM "{table}" WHERE {of}', values)


def asked(options, arguments, said):
    """How long an answer takes: in the middle of several, and at the longest."""
    took = []
    for _ in range(options.times):
        begun = time.perf_counter()
        answer = subprocess.run([options.program, *arguments], capture_output=True, text=True)
        took.append(time.perf_counter() - begun)
    told = answer.stdout.strip().splitlines()[1:2] if said.isascii() else []
    print(f"{statistics.median(took):6.3f} s, {max(took):6.3f} s at the longest: {said:24} {' '.join(told)[:70]}")


if __name__ == "__main__":
    main()
