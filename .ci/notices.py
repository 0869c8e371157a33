"""The notices that a copy of the program has to carry: what it is built from, under which licence, and by whose leave.

    python notices.py            writes NOTICES.txt
    python notices.py --check    says whether NOTICES.txt is what would be written

Every crate that is compiled into the program or helps to build it is listed by `cargo metadata`, for every platform and
with every feature. Of the licences that a crate offers the first of ALLOWED is taken; a crate that offers none of them is
an error, since a binary that is not published with its source could then not be given away. The Apache licence stands
whole in LICENSE-APACHE; of the others each text is printed once, below the names of those that ask for it.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NOTICES = ROOT / "NOTICES.txt"

# Licences that let a binary be given away without its source, by their SPDX names; those that ask for the least first.
ALLOWED = ["0BSD", "MIT-0", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "CC0-1.0", "Unlicense", "BSL-1.0", "MIT", "Zlib",
           "ISC", "BSD-2-Clause", "BSD-3-Clause", "Unicode-3.0", "IJG"]
WITHOUT_NOTICE = {"0BSD", "MIT-0", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "CC0-1.0", "Unlicense"}

# How the file of a licence is called, where a crate has several.
NAMED = {"MIT": "mit", "Zlib": "zlib", "ISC": "isc", "BSD-2-Clause": "bsd", "BSD-3-Clause": "bsd", "Unicode-3.0": "unicode",
         "BSL-1.0": "boost", "IJG": ""}

FONTS = [ROOT / "themes" / "flitch" / "assets" / "fonts", ROOT / "themes" / "flitch" / "papers" / "fonts"]


def crates():
    """Every package that the program is made from, with its kind of dependence left out: (name, version, package)."""
    done = subprocess.run(["cargo", "metadata", "--format-version", "1", "--locked", "--all-features"],
                          cwd=ROOT, capture_output=True, text=True, check=True)
    data = json.loads(done.stdout)
    packages = {package["id"]: package for package in data["packages"]}
    nodes = {node["id"]: node for node in data["resolve"]["nodes"]}
    root, reached = data["resolve"]["root"], set()
    waiting = [root]
    while waiting:
        at = waiting.pop()
        if at not in reached:
            reached.add(at)
            waiting += [one["pkg"] for one in nodes[at]["deps"]
                        if any(kind["kind"] in (None, "build") for kind in one["dep_kinds"])]
    return sorted((packages[one] for one in reached - {root}), key=lambda package: (package["name"], package["version"]))


def taken(expression):
    """The licences under which a crate is taken, all of which hold; `None` where one part offers none that is allowed."""
    chosen = []
    for part in re.split(r"\s+AND\s+", expression):
        offered = {one.strip(" ()") for one in re.split(r"\s+OR\s+|\s*/\s*", part)}
        best = next((one for one in ALLOWED if one in offered), None)
        if best is None:
            return None
        chosen.append(best)
    return chosen


def text_of(package, licence):
    """The text of a licence as the crate has it; where it has none, the authors that it names."""
    folder = Path(package["manifest_path"]).parent
    files = sorted(file for file in folder.iterdir()
                   if file.is_file() and re.match(r"(licen[cs]e|copying|copyright|notice)", file.name, re.I))
    name = NAMED[licence]
    fitting = [file for file in files if name and name in file.name.lower()] or \
        [file for file in files if "apache" not in file.name.lower()]
    texts = [re.sub(r"[ \t]+$", "", file.read_text(encoding="utf-8", errors="replace").replace("\r", ""), flags=re.M).strip()
             for file in fitting]
    if texts:
        return "\n\n".join(texts)
    return f"{licence}. Copyright {', '.join(package['authors']) or 'the authors of ' + package['name']}"


def notice_of(package):
    """What a crate under the Apache licence wants said (its section 4 d); mostly empty."""
    files = sorted(Path(package["manifest_path"]).parent.glob("NOTICE*"))
    return "\n\n".join(file.read_text(encoding="utf-8").strip() for file in files)


def notices():
    refused, listed, asked = [], [], {}
    for package in crates():
        name = f"{package['name']} {package['version']}"
        chosen = taken(package["license"] or "")
        if chosen is None:
            refused.append(f"{name}: {package['license'] or 'no licence'}")
            continue
        listed.append(f"{name}: {' and '.join(chosen)}")
        for licence in chosen:
            text = notice_of(package) if licence in WITHOUT_NOTICE else text_of(package, licence)
            if text:
                asked.setdefault(text, []).append(name)
    if refused:
        sys.exit("under no licence that lets a binary be given away:\n" + "\n".join(refused))
    parts = ["Witnessmark is built from what others made, and carries their notices.",
             "Under the licences named here; the Apache licence stands in LICENSE-APACHE.\n\n" + "\n".join(listed)]
    for text, names in sorted(asked.items(), key=lambda pair: pair[1]):
        parts.append(f"{'-' * 72}\n{', '.join(names)}\n\n{text}")
    for folder in FONTS:
        for file in sorted(folder.glob("*OFL*")) + sorted(folder.glob("*LICEN*")):
            parts.append(f"{'-' * 72}\nFonts: {file.relative_to(ROOT)}\n\n{file.read_text(encoding='utf-8').strip()}")
    return "\n\n".join(parts) + "\n"


def main():
    made = notices()
    if "--check" not in sys.argv[1:]:
        NOTICES.write_text(made, encoding="utf-8")
        return
    if not NOTICES.exists() or NOTICES.read_text(encoding="utf-8") != made:
        sys.exit("NOTICES.txt is out of date: python3 .ci/notices.py writes it")


if __name__ == "__main__":
    main()
