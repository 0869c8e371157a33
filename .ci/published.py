"""What the showroom tells machines holds by the rules of those who read it.

The feed by feedparser, the site map by the rules of its protocol (sitemaps.org, 0.9), robots.txt by Python's own reader,
and pictures for sharing by their size, measured. Every address lies below the showroom's own and leads to a written file.
"""

import os
import re
import struct
import sys
import urllib.robotparser
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from urllib.parse import quote, urlsplit

import feedparser

MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
DAY = re.compile(r"\d{4}-\d{2}-\d{2}(T.*)?$")
SHARED = (1200, 630)
POSTED = {"square": (1080, 1080), "upright": (1080, 1350)}
# What a network may cut off or refuse: more is never shown anyway.
MOST_SHARED = 600_000


def size(path):
    """Width and height of a JPEG, from its frame header; the picture carries nothing else to go by."""
    data, at = path.read_bytes(), 2
    while at + 9 < len(data) and data[at] == 0xFF:
        marker, length = data[at + 1], struct.unpack(">H", data[at + 2 : at + 4])[0]
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            height, width = struct.unpack(">HH", data[at + 5 : at + 9])
            return width, height
        if 0xE1 <= marker <= 0xEF or marker == 0xFE:
            raise ValueError(f"a segment {marker:#x} that may hold metadata")
        at += 2 + length
    raise ValueError("no frame")


def main():
    written = Path(sys.argv[1])
    root = written / "showroom"
    front = (root / "index.html").read_text("utf-8")
    own = re.search(r'<link rel="canonical" href="([^"]+)"', front).group(1)
    faults = {}

    def told(address):
        """The written file that an address of the showroom leads to."""
        if not address.startswith(own):
            return None
        path = root / address[len(own):]
        return path / "index.html" if address.endswith("/") else path

    def note(name, wrong):
        faults.setdefault(name, []).extend([wrong] if wrong else [])

    def leads(name, address):
        target = told(address)
        note(name, None if target and target.is_file() else f"{address} leads nowhere")

    feed = feedparser.parse((root / "feed.xml").read_bytes())
    note("feed.xml", f"is no well-formed feed: {feed.get('bozo_exception')}" if feed.bozo else None)
    note("feed.xml", None if feed.version == "atom10" else f"is {feed.version}")
    ids = [entry.id for entry in feed.entries]
    note("feed.xml", None if feed.entries and len(set(ids)) == len(ids) else f"its entries are {ids}")
    for entry in feed.entries:
        leads("feed.xml", entry.link)
        note("feed.xml", None if entry.title and entry.summary and entry.updated_parsed else f"{entry.id} lacks something")
        for enclosure in entry.enclosures:
            leads("feed.xml", enclosure.href)

    tree = ElementTree.parse(root / "sitemap.xml").getroot()
    note("sitemap.xml", None if tree.tag == MAP + "urlset" else f"begins with {tree.tag}")
    places = []
    for url in tree:
        kinds = [child.tag.replace(MAP, "") for child in url]
        note("sitemap.xml", None if kinds in (["loc"], ["loc", "lastmod"]) else f"holds {kinds}")
        place = url.findtext(MAP + "loc")
        places.append(place)
        leads("sitemap.xml", place)
        changed = url.findtext(MAP + "lastmod")
        note("sitemap.xml", None if changed is None or DAY.match(changed) else f"{changed} is no day")
    note("sitemap.xml", None if len(places) <= 50_000 and len(set(places)) == len(places) else "too many, or twice")
    pages = {path for path in root.rglob("*.html") if path.name != "404.html"}
    missing = pages - {told(place) for place in places}
    note("sitemap.xml", f"leaves out {sorted(map(str, missing))}" if missing else None)

    robots = urllib.robotparser.RobotFileParser()
    robots.parse((root / "robots.txt").read_text("utf-8").splitlines())
    note("robots.txt", None if robots.can_fetch("anybody", own) else "shuts everybody out")
    for place in robots.site_maps() or [""]:
        # The reader takes away what an address is quoted with.
        leads("robots.txt", quote(place, safe=":/"))

    for page in sorted(pages):
        name, text = str(page.relative_to(root)), page.read_text("utf-8")
        properties = dict(re.findall(r'<meta property="(og:[^"]+)" content="([^"]*)">', text))
        # A page on which nothing is photographed has no picture to share.
        pictured = '<div class="picture"><img' in text or '<div class="picture little"><img' in text
        wanted = ("og:title", "og:type", "og:url") + (("og:image", "og:image:alt") if pictured else ())
        lacks = [key for key in wanted if not properties.get(key)]
        note(name, f"lacks {lacks}" if lacks else None)
        leads(name, properties.get("og:url", ""))
        picture = told(properties.get("og:image", ""))
        if pictured and (picture is None or not picture.is_file()):
            note(name, "its picture for sharing is not there")
        elif pictured:
            note(name, None if size(picture) == SHARED else f"its picture for sharing is {size(picture)}")
            note(name, None if picture.stat().st_size <= MOST_SHARED else f"its picture has {picture.stat().st_size} bytes")
        canonical = re.search(r'<link rel="canonical" href="([^"]+)"', text).group(1)
        note(name, None if urlsplit(canonical).scheme == "https" and told(canonical) == page else f"calls itself {canonical}")

    posts = sorted(written.glob("archive/pieces/*/post/*.jpg"))
    note("posts", None if posts or not (written / "archive").exists() else "there is no picture for a post")
    for post in posts:
        wanted = POSTED[post.stem.rsplit("-", 1)[1]]
        note(str(post.relative_to(written)), None if size(post) == wanted else f"is {size(post)}")
    for text in sorted(written.glob("archive/pieces/*/post.txt")):
        first = text.read_text("utf-8").split("\n\n")[1]
        note(str(text.relative_to(written)), None if 40 <= len(first) <= 280 else f"its short text has {len(first)} letters")

    failed = 0
    for name, found in faults.items():
        failed += bool(found)
        for wrong in found:
            print(f"{name}: {wrong}")
    print(f"{len(faults)} files and pages, {failed} with faults")
    with open(os.environ["TALLY"], "a") as tally:
        tally.write(f"{len(faults) - failed} {failed}\n")
    sys.exit(1 if failed else 0)


main()
