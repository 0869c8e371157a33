"""Every reference inside the written folders leads somewhere within the same folder.

The showroom, each buyer's folder and the archive are uploaded alone, so each must be whole by itself.
"""

import os
import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

LINKS = {"href", "xlink:href", "src", "poster", "data", "action", "formaction"}
# A person follows these; the browser fetches nothing by itself.
FOLLOWED = {"a", "area"}
# An address, its width or density, a comma; the address itself neither begins nor ends with a comma.
SRCSET_CANDIDATE = re.compile(r"([^\s,](?:\S*[^\s,])?)(?:\s+[^,]*)?(?:,|$)")
CSS_REFERENCE = re.compile(r"""url\(\s*['"]?([^'")]+)|@import\s+['"]([^'"]+)""")


class Page(HTMLParser):
    """The references and the ids of one page."""

    def __init__(self, text):
        super().__init__()
        self.references = []  # (element, attribute, value, rel)
        self.ids = []
        self.in_style = False
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attributes):
        values = {name: value or "" for name, value in attributes}
        self.in_style = tag == "style"
        if "id" in values:
            self.ids.append(values["id"])
        rel = values.get("rel", "")
        for name, value in values.items():
            if name in LINKS:
                self.references.append((tag, name, value, rel))
            elif name in ("srcset", "imagesrcset"):
                candidates = SRCSET_CANDIDATE.findall(value) or [""]
                self.references += [(tag, name, candidate, rel) for candidate in candidates]
            elif name == "style":
                self.css(value)
        if tag == "meta" and values.get("http-equiv", "").lower() == "refresh" and "=" in values.get("content", ""):
            self.references.append((tag, "content", values["content"].split("=", 1)[1], rel))

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        self.in_style = False

    def handle_endtag(self, tag):
        self.in_style = False

    def handle_data(self, data):
        if self.in_style:
            self.css(data)

    def css(self, text):
        self.references += [("css", "url", value, "") for value in css_references(text)]


def css_references(text):
    text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    return [first or second for first, second in CSS_REFERENCE.findall(text)]


def trees(written):
    """The folders that are uploaded alone, and what is missing among them."""
    buyers = written / "buyers"
    each = sorted(buyers.iterdir()) if buyers.is_dir() else []
    found = [folder for folder in [written / "showroom", *each, written / "archive"] if folder.is_dir()]
    missing = [name for name in ("showroom", "archive") if not (written / name).is_dir()]
    return found, missing + ([] if each else ["buyers/…"])


def home(root, pages):
    """The path at which a folder stands on its host, as its front page says; a slash where it says nothing."""
    front = pages.get(root / "index.html")
    own = [value for _, _, value, rel in front.references if rel.lower() == "canonical"] if front else []
    return urlsplit(own[0]).path if own else "/"


def fault_of(root, source, reference, pages):
    """Why `reference`, met in the file `source` of the tree `root`, leads nowhere; None when it is sound."""
    element, attribute, value, rel = reference
    value = value.strip()
    parts = urlsplit(value)
    if parts.scheme in ("mailto", "tel") and element in FOLLOWED:
        return None
    if parts.scheme == "data":
        drawn = value.startswith("data:image/svg+xml") and element not in FOLLOWED
        return None if drawn else "a picture inside the page escapes the check of its metadata"
    if parts.scheme or parts.netloc:
        # A canonical address is said, not fetched, and is absolute by nature.
        said = element in FOLLOWED or (element == "link" and rel.lower() == "canonical")
        return None if said and parts.scheme == "https" else "absolute address"
    if not value:
        return "empty"
    if element == "base":
        return "moves every other reference"
    if value.startswith("/") and source == root / "404.html":
        # It is shown at any depth, so its paths begin at the root of the host and go by where the folder stands.
        stands = home(root, pages)
        if not parts.path.startswith(stands):
            return f"does not lie below {stands}"
        target = root / unquote(parts.path[len(stands):] or "index.html")
        return None if target.is_file() else "no such file"
    if value.startswith("/"):
        return "starts at the root of a host; the folder may be uploaded below it"
    target = source
    if parts.path:
        target = Path(os.path.normpath(source.parent / unquote(parts.path)))
        if target != root and root not in target.parents:
            return "leaves its own folder"
        if target.is_dir():
            target = target / "index.html"
        if not target.is_file():
            return "no such file"
    if "#" in value:
        if element == "css":
            return None
        if target.suffix == ".html" and unquote(parts.fragment) not in pages[target].ids:
            return "no such id"
    return None


def check_tree(root):
    """The faults of one folder, by file; every page and style sheet is listed, with none when it is sound."""
    pages = {path: Page(path.read_text("utf-8")) for path in sorted(root.rglob("*.html"))}
    faults = {}
    for path, page in pages.items():
        found = faults.setdefault(path, [])
        for repeated in sorted({name for name in page.ids if page.ids.count(name) > 1}):
            found.append(f"id {repeated!r} is used {page.ids.count(repeated)} times")
        for reference in page.references:
            fault = fault_of(root, path, reference, pages)
            if fault:
                found.append(f"<{reference[0]} {reference[1]}={reference[2]!r}>: {fault}")
    for path in sorted(root.rglob("*.css")):
        found = faults.setdefault(path, [])
        for value in css_references(path.read_text("utf-8")):
            fault = fault_of(root, path, ("css", "url", value, ""), pages)
            if fault:
                found.append(f"url({value}): {fault}")
    if not pages:
        faults[root] = ["holds no page"]
    return faults


def check_names(root, others):
    """No file of this folder may name the folder of a buyer: the name is all that keeps it to that buyer."""
    faults = {}
    for path in sorted(path for path in root.rglob("*") if path.is_file()):
        text = path.read_bytes()
        for other in others:
            if other.name.encode() in text:
                faults.setdefault(path, []).append(f"names {other.parent.name}/{other.name}")
    return faults


def main():
    written = Path(sys.argv[1]).resolve()
    roots, missing = trees(written)
    faults = {written / name: ["was not written"] for name in missing}
    buyers = [root for root in roots if root.parent.name == "buyers"]
    for root in roots:
        faults.update(check_tree(root))
        if root.name != "archive":
            for path, found in check_names(root, [other for other in buyers if other != root]).items():
                faults.setdefault(path, []).extend(found)
    for path in sorted(written.rglob("*.html")):
        if not any(root in path.parents for root in roots):
            faults[path] = ["lies outside the folders that are uploaded"]

    failed = 0
    for path, found in faults.items():
        failed += bool(found)
        for fault in found:
            print(f"{path.relative_to(written)}: {fault}")
    print(f"{len(faults)} pages and style sheets, {failed} with faults")
    with open(os.environ["TALLY"], "a") as tally:
        tally.write(f"{len(faults) - failed} {failed}\n")
    sys.exit(1 if failed else 0)


main()
