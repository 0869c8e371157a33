"""Writes a small workshop of pieces that are hard to show, for the checks of pages: hard_cases.py PROGRAM FOLDER EXAMPLE.

Titles as long as they may be, without a gap, from right to left, of letters that the fonts lack; photographs that are all
upright, very wide, tiny or none at all, cut from those of EXAMPLE; a record of very many parts and no outlines, and one that
says next to nothing; what is reserved; enough that was sold for pages by years.
All of it is in FOLDER/workshop/written, and its showroom alone in FOLDER/shown once more.
"""

import shutil
import subprocess
import sys
from pathlib import Path

from PIL import Image

WORKSHOP = """name = "The Very Long Established Workshop for Chairs, Tables, Chests and Whatever Else Has Legs"
currency = "GBP"
place = "By the canal"
contact = "bench@example.org"
about = "Plain furniture, mended and written down."
address = "https://furniture.example.org/a shop/"
lead = "HC-01"
[how-to-buy]
viewing = "By arrangement."
"""
STANDINGS = ("original", "new", "later", "old-repair", "salvaged", "missing", "removed", "unknown")
MANY_PARTS = "".join(
    f'[[part]]\nid = "p{n}"\nname = "Part {n}"\nstanding = "{STANDINGS[n % 8]}"\ntimber = "oak"\n' for n in range(200)
) + "".join(f'[[finding]]\nid = "f{n}"\npart = "p{n}"\nseen = "split"\n' for n in range(60)) + "".join(
    f'[[work]]\non = 2026-03-{n + 1:02}\npart = "p{n}"\ndid = "glued it"\nmends = "f{n}"\n' for n in range(28)
)
ASKING, RESERVED = "asking = 1250.00\n", "asking = 80.00\nreserved = {}\n"
SOLD = "[handover]\non = {year}-05-12\n"

# Title, what else the record says; width to height and the longer side of the photograph, or none.
PIECES = [
    ("Drop-leaf-and-gate-leg table, half-finished", ASKING, (0.42, 700)),
    ("x" * 200, ASKING, (2.4, 700)),
    ("The never ending title of a rather plain thing that stood in a barn " * 3, ASKING, None),
    ("كرسي من خشب الزان (1930) 🪑", RESERVED, (1.0, 700)),
    ("ตู้ไม้สักโบราณพร้อมลิ้นชักสามชั้นจากโรงเรียนเก่าในต่างจังหวัดภาคเหนือของประเทศ", ASKING, (1.4, 40)),
    ("榉木小圆凳三足十九世纪江南民间家具原有漆面保存完好", ASKING + MANY_PARTS, (0.75, 700)),
    ("Stool", "", None),
    ("Łódź & <Söhne> «dębowy» \\\"stół\\\"", "", (1.5, 700)),
] + [(f"Plain chair {n}", SOLD.format(year=2024 + n % 2), None) for n in range(14)]

# Papers to print are tried elsewhere; here they are sheets with a heading.
SHEET = """#import "paper.typ": data
#set document(title: data.title, date: datetime(year: data.date.at(0), month: data.date.at(1), day: data.date.at(2)))
= Sheet
"""


def cut(photographs, number, ratio, longest, path):
    """A photograph of these proportions that no other piece has."""
    picture = Image.open(photographs[number % len(photographs)]).convert("RGB")
    width, height = min(picture.width, picture.height * ratio), min(picture.height, picture.width / ratio)
    left, top = (picture.width - width) / 2, (picture.height - height) / 2
    picture = picture.crop((round(left), round(top), round(left + width), round(top + height)))
    scale = longest / max(picture.size)
    picture.resize((max(1, round(picture.width * scale)), max(1, round(picture.height * scale)))).save(path, quality=85)


def main():
    program, folder, example = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
    workshop = folder / "workshop"
    papers = workshop / "theme" / "papers"
    papers.mkdir(parents=True)
    for name in ("sheet.typ", "papers.typ", "label.typ"):
        (papers / name).write_text(SHEET)
    (workshop / "workshop.toml").write_text(WORKSHOP)
    photographs = sorted(example.glob("pieces/*/photos/after-front.jpg"))
    for number, (title, more, photograph) in enumerate(PIECES, 1):
        piece = workshop / "pieces" / f"p{number:02}"
        (piece / "photos").mkdir(parents=True)
        (piece / "record.toml").write_text(
            f'title = "{title[:200].strip()}"\nnumber = "HC-{number:02}"\nkind = "chair/kitchen"\n{more}'
        )
        if photograph:
            cut(photographs, number, *photograph, piece / "photos" / "after-front.jpg")
            # One in two shows it as it was found, from elsewhere, so that before and after stand side by side.
            if number % 2:
                cut(photographs, number + 1, *photograph, piece / "photos" / "before-front.jpg")
    done = subprocess.run([program, "writeup", str(workshop)], capture_output=True, text=True)
    # Doubts there are many; mistakes there must be none.
    if done.returncode not in (0, 1) or "Mistake:" in done.stdout + done.stderr:
        sys.exit(f"{done.returncode}\n{done.stdout}\n{done.stderr}")
    showroom = folder / "shown" / "showroom"
    shutil.copytree(workshop / "written" / "showroom", showroom)
    pages = len(list(showroom.glob("pieces/*/index.html")))
    years = [path.name for path in showroom.glob("sold-*.html") if f"<h2>Sold, {path.stem[5:]}</h2>" in path.read_text("utf-8")]
    print(f"{pages} pieces, of {len(PIECES)}; years {years}")
    if pages != len(PIECES) or len(years) != 2:
        sys.exit("there are pieces without a page, or years without their name")


main()
