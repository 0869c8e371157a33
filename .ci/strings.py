"""Writes a workshop whose fields hold naughty strings, and holds every page to HTML as PyPI's html5lib parses it.

strings.py WITNESSMARK FOLDER: lays a workshop into FOLDER, a string in every field of text that its schemas name, has
WITNESSMARK write it up, and looks: no page may hold a parse error, a script or a handler that the same workshop with
plain strings does not have, nor a character that nobody sees; each string stands as it was typed in the page of its
piece in the archive.
"""

import json
import os
import re
import subprocess
import sys
import unicodedata
from pathlib import Path

import html5lib

# Our own list: what has a meaning in some language that a text goes through, and what is hard to set.
STRINGS = [
    "<script>alert(1)</script>",
    "</title></style></textarea></script><script src=x>",
    "\"><img src=x onerror=alert(1)>",
    "' onmouseover='alert(1)' x='",
    "<!-- never closed",
    "--> closed, ]]> too, and --!> and <![CDATA[ x ]]>",
    "&amp; &lt; &#x3c; &notin; &copy &; &#0; &#xD800; AT&T",
    "{{ 7 * 7 }} {% raw %} {% endraw %} {# remark #} {{ __tera_context }} }} %}",
    "#let x = 1; #panic() $sum_(i=0)^n$ *bold* _slanted_ `raw` @label <label> ~ -- --- ... // /* */",
    "\\ \\\\ \\n \\u{1F600} \\\" C:\\temp\\new",
    "../../../etc/passwd ..\\..\\boot.ini file:///etc/passwd %2e%2e%2f",
    "Robert'); DROP TABLE pieces;-- ' OR '1'='1",
    "%s %n %x %d %99999999s {0} {} $(id) `id` ${HOME} ; rm -rf / | cat && true",
    "javascript:alert(1) data:text/html,<b>x</b> http://example.org/?a=1&b=<2>",
    "[x](javascript:alert(1)) ![x](http://example.org/x.png) <http://example.org> **not bold**",
    "Z̵̡͍̔͛a̶͇̾̕l̸̰̈́g̷̦̋o̸͙͐",
    "\u0301 \u0308\u0301\u0327 lone marks",
    "שלום oak عليكم 123 خشب",
    "🪑👩‍🔧🏳️‍🌈1️⃣❤️ 🇫🇷",
    "漢字かな交じり文 한국어 ไทย हिन्दी မြန်မာ",
    "𝔒𝔞𝔨 𝒻𝒾𝓃𝒾𝓈𝒽 ﬁ ﷽ ǆ İ ı ß ẞ",
    "a\u00a0b\u2003c\u3000d\u202fe\u2009f",
    "oak" * 400,
    "one\ntwo\n\nthree\tfour",
    "$1 \\1 $& $` $' %% ^ ~ | null undefined NaN Infinity true -0 1e309 0x10",
    "'single' \"double\" “curly” ‘curly’ «guillemets» `ticks` ´acute´",
    ".",
    "-",
    "= + @ formula, =1+1",
    "\ufffd \ue000 \U0001f9ff",
]
# What nobody sees: a maker is told, and the papers leave it out.
UNSEEN = ["a\x1b[31mb", "bell \x07 back \x08", "c1 \x9b2J", "turned \u202eyaw", "isolated \u2066x\u2069",
          "zero\u200bwidth", "\ufeffmark", "tag \U000e0041", "line\u2028separator", "cr\rlf"]
PLAIN = "plain words"
# A value of every field that takes a day, which TOML spells without quotes.
DAY = object()

# Fields that must mean something in other places of the record, or are no free text.
FIXED = {
    "number": "NS-{place:03}", "kind": "table/gateleg", "made": "1925", "since": "1925", "id": "a-{count}",
    "currency": "GBP", "theme": None, "signing-key": None, "address": None, "papers-address": None, "language": None,
    "timber": "oak", "from-stock": None, "parts": None, "part": None, "finding": None, "work": None, "mends": None,
    "redoes": None, "leaves": None, "only": None, "apply": None, "remove": None, "found": None, "tin": None,
    "is": "oil-polyurethane", "file": None, "cover": None, "lead": None, "from-daybook": None,
    # What is planned, for which way of a decision, and what it must pass: a plan tells it, and no page.
    "planned": None, "option": None, "opening": None,
    # What is of a set stands in the record of that set.
    "set": None, "set-of": None, "piece": None,
    # Of a link as of a buyer: only an address of a page is a link.
    "to": "https://example.org/{place}",
}
TABLES = {"photo", "pair", "swatch", "cost", "surface", "patch", "handover", "use"}


class Filler:
    """Fills a schema with one string after another."""

    def __init__(self, schema, strings, place):
        self.definitions = schema.get("$defs", {})
        self.strings, self.place, self.count = strings, place, place
        self.used = []

    def string(self):
        self.count += 1
        self.used.append(self.strings[self.count % len(self.strings)])
        return self.used[-1]

    def value(self, key, schema):
        # Receipts are counted over all pieces.
        if (key, schema.get("type")) == ("number", "integer"):
            return self.place // 4 + 1
        if key in FIXED:
            fixed = FIXED[key]
            return fixed and fixed.format(place=self.place, count=self.count)
        if name := schema.get("$ref"):
            return self.value(key, self.definitions[name.removeprefix("#/$defs/")])
        if "oneOf" in schema:
            return schema["oneOf"][0]["const"]
        # That of a table says which keys belong together.
        if "anyOf" in schema and "properties" not in schema:
            return self.value(key, schema["anyOf"][0])
        kind = schema.get("type")
        if kind == "object":
            if key in TABLES:
                return None
            fields = ((name, self.value(name, field)) for name, field in schema["properties"].items())
            return {name: value for name, value in fields if value is not None} or None
        if kind == "array":
            if key in TABLES or "minItems" in schema:
                return None
            value = self.value(key, schema["items"])
            return None if value is None else [value]
        if kind == "string":
            return DAY if "format" in schema else self.string()
        if kind == "boolean":
            return True
        lowest, highest = schema.get("minimum", 0), schema.get("maximum", 100)
        return min(max(2, lowest), highest)


def toml(table):
    """A table as TOML with everything inline; JSON spells texts as TOML does, but for one sign."""

    def spelt(value):
        if isinstance(value, dict):
            return "{" + ", ".join(f"{json.dumps(key)} = {spelt(each)}" for key, each in value.items()) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(map(spelt, value)) + "]"
        if value is DAY:
            return "2026-03-14"
        text = json.dumps(value, ensure_ascii=False)
        return re.sub("[\x7f-\x9f]", lambda sign: f"\\u{ord(sign[0]):04x}", text)

    return "".join(f"{json.dumps(key)} = {spelt(value)}\n" for key, value in table.items())


def lay(folder, witnessmark, strings):
    """Lays a workshop with the strings in all fields of text: what was given to each piece that has no story."""
    schemas = {name: json.loads(run(witnessmark, "schema", name)) for name in ("record", "workshop")}
    pieces = folder / "pieces"
    pieces.mkdir(parents=True)
    (folder / "workshop.toml").write_text(toml(Filler(schemas["workshop"], strings, 0).value("", schemas["workshop"])))
    given = {}
    # Pieces begin at different strings, so that each stands in many fields.
    for place in range(0, len(strings), 4):
        filler = Filler(schemas["record"], strings, place)
        record = filler.value("", schemas["record"])
        (pieces / f"p{place}").mkdir()
        (pieces / f"p{place}" / "record.toml").write_text(toml(record))
        if place % 8:
            # Markdown has its own way with them, so where there is a story the fields are not looked for.
            story = "\n\n".join(strings[place:] + strings[:place])
            (pieces / f"p{place}" / "story.md").write_text(story, newline="")
        else:
            given[place] = filler.used
    return given


def run(*command):
    done = subprocess.run(command, capture_output=True)
    out, err = done.stdout.decode(), done.stderr.decode()
    if done.returncode not in (0, 1):
        sys.exit(f"{command}: {done.returncode}\n{out}\n{err}")
    for text in (out, err):
        if unseen := next(filter(is_unseen, text), None):
            sys.exit(f"{command} prints {unseen!r}")
    return out


def is_unseen(sign):
    """Whether a sign is a control, a mark of direction or a noncharacter."""
    return sign not in "\n\t" and (unicodedata.category(sign) == "Cc" or sign in "\u061c\u200b\u200e\u200f\u2028\u2029\ufeff"
                                   or "\u202a" <= sign <= "\u202e" or "\u2066" <= sign <= "\u2069"
                                   or "\U000e0000" <= sign <= "\U000e007f")


def words(text):
    """Text as it compares: with single spaces, and letters put together with their accents, as the program keeps them."""
    return unicodedata.normalize("NFC", " ".join(text.split()))


def elements(page):
    """What may act in a page: the scripts, the handlers, and the addresses that are not plain."""
    acting = []
    for element in page.iter():
        if not isinstance(element.tag, str):
            continue
        name = element.tag.split("}")[-1]
        if name in ("script", "iframe", "object", "embed", "base", "form"):
            acting.append(name)
        for attribute, value in element.attrib.items():
            if attribute.startswith("on"):
                acting.append(f"{name} {attribute}")
            if attribute in ("href", "src") and re.match(r"\s*(javascript|data|vbscript|file):", value, re.I):
                acting.append(f"{name} {attribute}={value[:40]}")
    return sorted(acting)


def parsed(path, faults):
    """A page, strictly parsed."""
    text = path.read_bytes().decode()
    if unseen := next(filter(is_unseen, text), None):
        faults.append(f"{path}: holds {unseen!r}")
    parser = html5lib.HTMLParser(strict=True)
    try:
        return parser.parse(text)
    except html5lib.html5parser.ParseError as fault:
        faults.append(f"{path}: {fault} at {parser.errors[-1][0] if parser.errors else '?'}")
        return None


def main():
    witnessmark, folder = sys.argv[1], Path(sys.argv[2])
    naughty, plain = folder / "naughty", folder / "plain"
    strings = STRINGS + UNSEEN
    given = lay(naughty, witnessmark, strings)
    lay(plain, witnessmark, [PLAIN] * len(strings))
    for workshop in (naughty, plain):
        run(witnessmark, "writeup", str(workshop))
    faults, failed = [], 0
    # By the pieces' numbers, since addresses of buyers are not the same in two workshops.
    pages = sorted((naughty / "written").rglob("*.html"))
    usual = {}
    for path in sorted((plain / "written").rglob("*.html")):
        page = parsed(path, faults)
        kind = path.name if path.parent.name != "written" else "front"
        usual.setdefault((path.relative_to(plain / "written").parts[0], kind), set()).update(elements(page))
    for path in pages:
        before = len(faults)
        page = parsed(path, faults)
        if page is not None:
            kind = path.name if path.parent.name != "written" else "front"
            known = usual.get((path.relative_to(naughty / "written").parts[0], kind), set())
            if more := [each for each in elements(page) if each not in known]:
                faults.append(f"{path}: acts by {more}")
        failed += len(faults) > before
    looked_for = 0
    for place, used in given.items():
        archive = naughty / "written" / "archive"
        found = [path for path in pages if path.is_relative_to(archive) and f"ns-{place:03}" in str(path)]
        text = " ".join(words("".join(html5lib.parse(path.read_text()).itertext())) for path in found)
        for string in sorted(set(used) & set(STRINGS)):
            looked_for += 1
            # A page may give the first letter a capital.
            if words(string)[1:] not in text:
                faults.append(f"piece {place}: does not print {string!r} as it was typed")
                failed += 1
    if looked_for < len(STRINGS):
        faults.append(f"only {looked_for} strings were looked for")
    if len(pages) < 20:
        faults.append(f"only {len(pages)} pages were written")
    for fault in faults:
        print(fault)
    failed = max(failed, bool(faults))
    print(f"{len(pages)} pages, {looked_for} strings looked for in them, {failed} faults")
    if "TALLY" in os.environ:
        with open(os.environ["TALLY"], "a") as tally:
            tally.write(f"{len(pages) - min(failed, len(pages))} {failed}\n")
    sys.exit(1 if faults else 0)


main()
