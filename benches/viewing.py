#!/usr/bin/env python3
"""Measures how long the words of a saved record take to stand on its page while viewing.

    python3 benches/viewing.py PROGRAM FOLDER --pieces 4 200 1000 --pictures example-project/written

Makes a workshop of each size as `many.py` does, writes its pages, starts `viewing`, and saves one record after another with
another title. Seconds on the clock from the save until the archive's page of the piece is handed out with the new title, and
until the tree stands, which `viewing` says on a line of its own. The page is asked for every few milliseconds, as a browser
does that was told to load again. Of each size the median of the rounds is printed, with the least and the most. Nothing
else should be running.
"""

import argparse
import re
import statistics
import subprocess
import threading
import time
import urllib.request
from pathlib import Path

import many


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("program", type=Path)
    options.add_argument("folder", type=Path)
    options.add_argument("--pieces", type=int, nargs="+", default=[4, 200])
    options.add_argument("--photographs", type=int, default=3)
    options.add_argument("--pictures", type=Path, required=True)
    options.add_argument("--rounds", type=int, default=7)
    options = options.parse_args()
    print("| pieces | on the page after | in place after |")
    print("|---|---|---|")
    for pieces in options.pieces:
        workshop = options.folder / str(pieces)
        if not workshop.exists():
            many.make(workshop, pieces, options.photographs, options.pictures)
        subprocess.run([options.program, "writeup", workshop, "--pages-only"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        shown, stood = zip(*rounds(options.program, workshop, options.rounds))
        print(f"| {pieces} | {told(shown)} | {told(stood)} |")


def told(seconds):
    return f"{statistics.median(seconds):.2f} s ({min(seconds):.2f} to {max(seconds):.2f})"


def rounds(program, workshop, count):
    """Saves so many records, one at a time, and yields both times of each."""
    records = sorted(workshop.glob("pieces/*/record.toml"))
    command = [program, "viewing", workshop, "--port", "0"]
    viewing = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    try:
        lines = Lines(viewing.stdout)
        home = lines.wait(r"http://\S+").group().rstrip(",")
        # What is read and printed for the first time is not what is measured.
        for turn in range(count + 1):
            record = records[(turn * 7) % len(records)]
            times = saved(home, record, f"Saved at {time.time_ns()}", lines)
            if turn > 0:
                yield times
            time.sleep(0.3)
    finally:
        viewing.terminate()
        viewing.wait()


def saved(home, record, title, lines):
    text = record.read_text()
    number = re.search(r'(?m)^number = "(.*)"$', text).group(1)
    page = f"{home}archive/pieces/{number.lower()}/index.html"
    began = time.perf_counter()
    record.write_text(re.sub(r'(?m)^title = ".*"$', f'title = "{title}"', text, count=1))
    while True:
        with urllib.request.urlopen(page) as answer:
            if f"<h1>{title}" in answer.read().decode().replace("\n", ""):
                break
        time.sleep(0.005)
    shown = time.perf_counter() - began
    lines.wait(rf"{re.escape(record.parent.name)}.*written in")
    return shown, time.perf_counter() - began


class Lines:
    """The lines of a program as they come."""

    def __init__(self, stream):
        self.found, self.ready = [], threading.Condition()
        threading.Thread(target=self.read, args=[stream], daemon=True).start()

    def read(self, stream):
        for line in stream:
            with self.ready:
                self.found.append(line)
                self.ready.notify_all()

    def wait(self, pattern):
        """The first match in the lines that came since the last one that was waited for."""
        with self.ready:
            while True:
                while self.found:
                    match = re.search(pattern, self.found.pop(0))
                    if match:
                        return match
                if not self.ready.wait(120):
                    raise SystemExit(f"nothing said like {pattern}")


if __name__ == "__main__":
    main()
