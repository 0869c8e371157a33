#!/usr/bin/env python3
"""Measures what a writing costs where nothing changed, or little, beside a mere look at the date of every file.

    python3 benches/scale.py PROGRAM FOLDER --pieces 100 1000 --pictures example-project/written

Makes a workshop of each size as `many.py` does, writes it up, and then takes turns: `find` looks at every file of the
workshop and of its papers, and the program writes up or inspects. Of each, the processor seconds of all cores together are
taken, and the median of the rounds is printed with the least and the most, as a table. Nothing else should be running.
"""

import argparse
import os
import re
import statistics
import subprocess
from pathlib import Path

import many


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("program", type=Path)
    options.add_argument("folder", type=Path)
    options.add_argument("--pieces", type=int, nargs="+", default=[100, 1000])
    options.add_argument("--photographs", type=int, default=3)
    options.add_argument("--pictures", type=Path, required=True)
    options.add_argument("--rounds", type=int, default=5)
    options = options.parse_args()
    print("| pieces | files | what | seconds | times `find` | most memory |")
    print("|---|---|---|---|---|---|")
    for pieces in options.pieces:
        workshop = options.folder / str(pieces)
        many.make(workshop, pieces, options.photographs, options.pictures)
        measured(Workshop(options.program.resolve(), workshop), pieces, options.rounds)


class Workshop:
    def __init__(self, program, folder):
        self.program, self.folder = program, folder
        self.records = sorted(folder.glob("pieces/*/record.toml"))

    def find(self):
        command = ["find", ".", "-name", ".darkroom", "-prune", "-o", "-type", "f", "-printf", "%s %T@ %C@ %i %p\n"]
        return self.spent(command)

    def nothing(self):
        return self.spent([self.program, "writeup"])

    def record(self, turn):
        """One record is changed: its title has another number each time."""
        record = self.records[turn % len(self.records)]
        text = record.read_text()
        record.write_text(re.sub(r'(?m)^title = "([^"]*?)( \d+)?"$', rf'title = "\1 {turn}"', text, count=1))
        return self.spent([self.program, "writeup"])

    def inspect(self):
        return self.spent([self.program, "inspect"])

    def spent(self, command):
        """Processor seconds and the most memory of a command, which may complain of records."""
        with open(os.devnull, "w") as nowhere:
            child = subprocess.Popen(command, cwd=self.folder, stdout=nowhere, stderr=nowhere)
            _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        assert child.returncode in (0, 1), (command, child.returncode)
        return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024

    def files(self):
        count = 0
        for folder, folders, files in os.walk(self.folder):
            folders[:] = [name for name in folders if name != ".darkroom"]
            count += len(files)
        return count


def measured(workshop, pieces, rounds):
    first = workshop.nothing()
    # The second one knows that what was made a moment ago is settled by now.
    workshop.nothing()
    turns = {"`find`": [], "nothing changed": [], "one record changed": [], "`inspect`": []}
    for turn in range(1, rounds + 1):
        turns["`find`"].append(workshop.find())
        turns["nothing changed"].append(workshop.nothing())
        turns["`inspect`"].append(workshop.inspect())
        turns["one record changed"].append(workshop.record(turn))
        # What was changed a moment ago is read once more.
        workshop.nothing()
    find = statistics.median(seconds for seconds, _ in turns["`find`"])
    files = workshop.files()
    row(pieces, files, "first writing", [first], find)
    for what, spent in turns.items():
        row(pieces, files, what, spent, find)


def row(pieces, files, what, spent, find):
    seconds = sorted(seconds for seconds, _ in spent)
    middle, memory = statistics.median(seconds), max(memory for _, memory in spent)
    spread = "" if len(seconds) == 1 else f" ({seconds[0]:.2f} to {seconds[-1]:.2f})"
    print(f"| {pieces:,} | {files:,} | {what} | {middle:.2f}{spread} | {middle / find:.1f} | {memory:.0f} MB |", flush=True)


if __name__ == "__main__":
    main()
