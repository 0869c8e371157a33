"""Checks every printed paper of a written tree with programs and a library that had no part in making it.

Usage: papers.py WRITTEN [PLAIN_SHEET]

Each paper counts once. qpdf and pdffonts read it; pikepdf looks at tags, headings, tables, alternative texts, language,
title, bookmarks, output intent and the conformance that it claims; pdftotext must find every sentence of the page that
shows the same views. The label's code is read back by zbarimg. PLAIN_SHEET is a sheet in the form of PDF/A-1b, which
Debian's PDFBox preflight validates. Adds one line to $TALLY.
"""

import html.parser
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unicodedata

import pikepdf

PAGES = {"disclosure.pdf": "disclosure.html", "care.pdf": "care.html", "build-record.pdf": "build-record.html"}
JAVA = ["preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "javax.activation", "jaxb-api"]


def run(*command):
    done = subprocess.run(command, capture_output=True, check=False)
    return done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace")


class Sentences(html.parser.HTMLParser):
    """The texts of a page's main part, block by block, without what only a screen needs."""

    BLOCKS = {"p", "li", "td", "th", "dt", "dd", "h1", "h2", "h3", "h4", "h5", "h6", "figcaption", "span", "summary",
              "caption", "div", "br", "strong", "sup", "a"}
    LEFT_OUT = {"svg", "caption", "summary", "sup"}
    WITHOUT_END = {"br", "hr", "img", "input", "link", "meta", "source", "wbr"}

    def __init__(self):
        super().__init__()
        self.texts, self.main, self.out, self.only, self.now = [], False, 0, 0, ""

    def settle(self):
        if self.now.strip():
            self.texts.append(self.now)
        self.now = ""

    def handle_starttag(self, tag, attributes):
        if tag == "main":
            self.main = True
        if tag in self.LEFT_OUT:
            self.out += 1
        if tag in self.BLOCKS:
            self.settle()
        # What only a page has room for, up to its own end.
        if tag not in self.WITHOUT_END and (self.only or "data-page-only" in dict(attributes)):
            self.only += 1

    def handle_endtag(self, tag):
        if tag in self.BLOCKS:
            self.settle()
        if tag in self.LEFT_OUT:
            self.out -= 1
        if tag not in self.WITHOUT_END and self.only:
            self.only -= 1
        if tag == "main":
            self.settle()
            self.main = False

    def handle_data(self, data):
        if self.main and not self.out and not self.only:
            self.now += data


def bare(text):
    """Letters and digits alone, so that line ends, joined letters and bullets make no difference."""
    text = unicodedata.normalize("NFKC", text)
    return "".join(letter for letter in text if letter.isalnum())


# What a page says of itself and a paper says otherwise, or leaves to its table's heading.
ONLY_ON_PAGES = re.compile(
    r"Plate \d+|Days of hardening, surface by surface|Rests on|Never"
    # The card shows by its layout what these say: warnings, days, the table, and a box for each year.
    r"|Beware|When it may be used|Its surfaces|Whom to ask|Day|What for|In which years|\d{4}(, \d{4})*( and \d{4})?"
)


def unsaid(page, text):
    """Sentences of a page that a paper does not say."""
    parser = Sentences()
    parser.feed(page.read_text(encoding="utf-8"))
    said = bare(text)
    for sentence in parser.texts:
        wanted = bare(sentence)
        if wanted and not ONLY_ON_PAGES.fullmatch(sentence.strip()):
            # A sentence may be broken by the end of a page, and then by its foot and head: its halves are looked for.
            if wanted not in said and not halves(wanted, said):
                yield sentence.strip()


def halves(wanted, said):
    return any(wanted[:cut] in said and wanted[cut:] in said for cut in range(4, len(wanted) - 3))


def walk(element, ancestors=()):
    """Every element of a structure tree with its ancestors' kinds."""
    if not isinstance(element, pikepdf.Dictionary) or "/S" not in element:
        return
    kind = str(element.S)
    yield element, kind, ancestors
    children = element.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary):
            yield from walk(child, ancestors + (kind,))


def structure(path):
    """What is wrong with the tags and the claims of one paper."""
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        if not bool(root.get("/MarkInfo", {}).get("/Marked", False)):
            yield "it is not tagged"
        if not str(root.get("/Lang", "")).startswith("en"):
            yield "it names no language"
        if not bool(root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False)):
            yield "its title is not shown"
        with pdf.open_metadata() as meta:
            if not meta.get("dc:title"):
                yield "it has no title"
            claims = (meta.get("pdfaid:part"), meta.get("pdfaid:conformance"), meta.get("pdfuaid:part"))
            if claims != ("2", "A", "1"):
                yield f"it claims {claims}"
        intents = root.get("/OutputIntents", [])
        if not any(str(intent.S) == "/GTS_PDFA1" and "/DestOutputProfile" in intent for intent in intents):
            yield "it has no output intent"
        tree = root.get("/StructTreeRoot")
        tops = tree.K if isinstance(tree.K, pikepdf.Array) else [tree.K]
        elements = [found for top in tops for found in walk(top)]
        kinds = [kind for _, kind, _ in elements]
        ranks = [int(kind[2]) for kind in kinds if re.fullmatch(r"/H[1-6]", kind)]
        if not ranks or ranks[0] != 1:
            yield f"its headings begin with {ranks[:1]}"
        for one, other in zip(ranks, ranks[1:]):
            if other > one + 1:
                yield f"a heading of rank {other} follows one of rank {one}"
        for element, kind, _ in elements:
            if kind == "/Figure" and not str(element.get("/Alt", "")).strip():
                yield "a figure has no alternative text"
            if kind == "/Table":
                within = [inner for _, inner, _ in walk(element)]
                if "/TH" not in within or "/THead" not in within:
                    yield "a table has no header row"
        name = path.name
        if name != "label.pdf":
            if "/Outlines" not in root:
                yield "it has no bookmarks"
            if "/Figure" not in kinds:
                yield "it has no picture"
        if "/JavaScript" in str(root.get("/Names", "")) or "/OpenAction" in root:
            yield "it does something when it is opened"


def reads(path):
    """What independent readers have against one paper; its text as they read it."""
    status, _, errors = run("qpdf", "--check", str(path))
    if status:
        yield f"qpdf: {errors.strip()[:300]}"
    _, fonts, _ = run("pdffonts", str(path))
    listed = fonts.splitlines()[2:]
    if not listed:
        yield "it has no fonts"
    for font in listed:
        if font.split()[-5] != "yes":
            yield f"a font is not embedded: {font}"


def text_of(path):
    return run("pdftotext", "-raw", str(path), "-")[1]


def sheet(path):
    yield from reads(path)
    yield from structure(path)
    text = text_of(path)
    with pikepdf.open(path) as pdf:
        pages = len(pdf.pages)
        title = str(pdf.docinfo.get("/Title", ""))
    number = re.search(r"\(([^()]+)\)$", title)
    if number is None:
        yield f"its title names no number: {title}"
    if path.name == "label.pdf":
        yield from label(path, text)
        return
    for page in range(1, pages + 1):
        _, one, _ = run("pdftotext", "-f", str(page), "-l", str(page), str(path), "-")
        # A sheet of one page by itself needs no number.
        if pages > 1 and f"Page {page} of {pages}" not in one:
            yield f"page {page} does not say so"
        if number and number.group(1) not in one:
            yield f"page {page} lacks the piece's number"
        if not re.search(r"Draft: not sealed|Seal [0-9a-f]{4}", one):
            yield f"page {page} says nothing of the seal"
    if "[U+" in text:
        yield "a letter could not be drawn"
    for page in PAGES.values() if path.name == "papers.pdf" else [PAGES[path.name]]:
        for sentence in unsaid(path.with_name(page), text):
            yield f"it does not say what {page} says: {sentence[:90]}"


def label(path, text):
    with tempfile.TemporaryDirectory() as folder:
        picture = f"{folder}/label"
        run("pdftoppm", "-r", "300", "-png", "-singlefile", str(path), picture)
        _, code, errors = run("zbarimg", "-q", "--raw", f"{picture}.png")
    # It has a code only where its papers stand on the web, as the drawing beside it has.
    drawn = "<path" in path.with_name("label.svg").read_text(encoding="utf-8")
    if drawn != code.startswith("http"):
        yield f"its code leads nowhere, or cannot be read: {code[:90]}{errors[:200]}"
    with pikepdf.open(path) as pdf:
        if len(pdf.pages) != 1:
            yield "it has more than one page"
        box = [round(float(edge) / 72 * 25.4) for edge in pdf.pages[0].MediaBox]
        if box != [0, 0, 90, 55]:
            yield f"it measures {box}"


def plain(path):
    """What the validator has against a sheet in the form of PDF/A-1b."""
    jars = ":".join(f"/usr/share/java/{name}.jar" for name in JAVA)
    status, said, errors = run("java", "-cp", jars, "org.apache.pdfbox.preflight.Validator_A1b", str(path))
    if status or "is a valid PDF/A-1b file" not in said:
        yield (said + errors).strip()[:600]


def main():
    written, *plains = map(pathlib.Path, sys.argv[1:])
    papers = sorted(written.glob("buyers/*/*.pdf"))
    passed = failed = 0
    for check, paths in ((sheet, papers), (plain, plains)):
        for path in paths:
            faults = list(check(path))
            for fault in faults:
                print(f"{path}: {fault}")
            passed, failed = (passed, failed + 1) if faults else (passed + 1, failed)
    print(f"{passed + failed} papers, {failed} with faults")
    if not papers:
        print("no paper was written")
        failed += 1
    with open(os.environ["TALLY"], "a", encoding="utf-8") as tally:
        tally.write(f"{passed} {failed}\n")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
