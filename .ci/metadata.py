"""No written picture carries anything but the picture, read by exiftool, which is no part of the program.

The photographs that went in must carry a place, or the check would prove nothing.
"""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

PICTURES = {".jpg", ".jpeg", ".png", ".webp", ".avif", ".gif", ".svg", ".ico", ".tif", ".tiff", ".heic"}

# Group and tag as exiftool names them. Whatever is not listed is a fault, so a kind of metadata
# that nobody thought of fails too.
ALLOWED = {
    "ExifTool": {"ExifToolVersion"},
    "System": {
        "FileName", "Directory", "FileSize", "FileModifyDate", "FileAccessDate", "FileInodeChangeDate",
        "FilePermissions",
    },
    "File": {
        "FileType", "FileTypeExtension", "MIMEType", "ImageWidth", "ImageHeight", "EncodingProcess",
        "BitsPerSample", "ColorComponents", "YCbCrSubSampling",
    },
    "Composite": {"ImageSize", "Megapixels"},
    "JFIF": {"JFIFVersion", "ResolutionUnit", "XResolution", "YResolution"},
    "PNG": {
        "ImageWidth", "ImageHeight", "BitDepth", "ColorType", "Compression", "Filter", "Interlace",
        "Gamma", "SRGBRendering", "Palette", "Transparency",
    },
    "PNG-pHYs": {"PixelsPerUnitX", "PixelsPerUnitY", "PixelUnits"},
    "RIFF": {
        "VP8Version", "HorizontalScale", "VerticalScale", "ImageWidth", "ImageHeight", "AlphaIsUsed",
        "WebP_Flags",
    },
    # A label's code is read to who does not see it by its title, which tells no more than the label.
    "SVG": {
        "Xmlns", "SVGVersion", "ImageWidth", "ImageHeight", "ViewBox", "Role", "Aria-labelledby", "TitleId", "Title",
    },
}

# How a JPEG inside any other file, such as a PDF or an archive, announces EXIF or XMP.
HIDDEN = {b"Exif\0\0": "EXIF", b"http://ns.adobe.com/xap/1.0/\0": "XMP", b"Photoshop 3.0\0": "Photoshop data"}

# What a drawing needs none of: exiftool does not read these, or they may hold a photograph.
SVG_SURPLUS = [b"<metadata", b"<!--", b"<image"]


def exiftool(paths, *options):
    """One record for each file, keys as `Group:Tag`, repeated and unknown tags included."""
    if not paths:
        return []
    command = ["exiftool", "-json", "-G1", "-a", "-u", "-q", "-q", *options, "-@", "-"]
    names = "\n".join(map(str, paths))
    answer = subprocess.run(command, input=names, capture_output=True, text=True, check=False)
    return json.loads(answer.stdout or "[]")


def pictures(folder, without=None):
    return sorted(
        path
        for path in folder.rglob("*")
        if path.is_file()
        and path.suffix.lower() in PICTURES
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
        and (without is None or without not in path.parents)
    )


def unexpected(record):
    """The tags of one picture that are not on the list."""
    for key, value in record.items():
        group, _, tag = key.partition(":")
        if key != "SourceFile" and tag not in ALLOWED.get(group, set()):
            yield f"{key} = {str(value)[:60]}"


def jpeg_surplus(data):
    """What a JPEG holds beside its one picture: application segments, comments, bytes after the end."""
    at = 2
    while at + 4 <= len(data):
        marker = data[at + 1]
        if data[at] != 0xFF:
            return f"no marker at byte {at}"
        if marker == 0xD9:
            break
        if 0xE1 <= marker <= 0xEF or marker == 0xFE:
            return f"segment {marker:02X} at byte {at}"
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == 0xDA:
            # Coded data runs to the next marker that is neither a stuffed byte nor a restart.
            following = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]").search(data, at)
            if not following:
                return "no end of picture"
            at = following.start()
    return f"{len(data) - at - 2} bytes after the end" if at + 2 != len(data) else None


def check_picture(path, record):
    faults = list(unexpected(record))
    if record.get("File:FileType") == "SVG":
        faults += [f"holds {mark.decode()}" for mark in SVG_SURPLUS if mark in path.read_bytes()]
    if record.get("File:FileType") == "JPEG":
        surplus = jpeg_surplus(path.read_bytes())
        faults += [surplus] if surplus else []
    return faults


def main():
    written, project = (Path(argument).resolve() for argument in sys.argv[1:3])
    faults = {}

    shown = pictures(written)
    records = {Path(record["SourceFile"]): record for record in exiftool(shown)}
    for path in shown:
        faults[path] = check_picture(path, records[path]) if path in records else ["exiftool could not read it"]
    if not shown:
        faults[written] = ["no picture was written"]

    for path in sorted(path for path in written.rglob("*") if path.is_file() and path not in faults):
        data = path.read_bytes()
        hidden = [name for mark, name in HIDDEN.items() if mark in data]
        if hidden:
            faults[path] = [f"holds a picture with {name}" for name in hidden]

    sources = pictures(project, without=written)
    located = [record for record in exiftool(sources, "-gps:all") if len(record) > 1]
    print(f"{len(located)} of {len(sources)} photographs of the project carry a place")
    faults[project] = [] if located else ["no photograph carries a place, so its removal is not shown"]

    failed = 0
    for path, found in faults.items():
        failed += bool(found)
        for fault in found:
            print(f"{path.relative_to(project.parent) if project.parent in path.parents else path.name}: {fault}")
    print(f"{len(shown)} pictures, {failed} faults")
    with open(os.environ["TALLY"], "a") as tally:
        tally.write(f"{len(faults) - failed} {failed}\n")
    sys.exit(1 if failed else 0)


main()
