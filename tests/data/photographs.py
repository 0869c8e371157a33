"""Draws the small photographs of `photographs/` and writes what littlecms makes of their colours, photographs.toml.

Everything is made here, the profiles too: Display P3 and Adobe RGB (1998) by their primaries, and a press of four inks
by a plain model of inks, whose only purpose is that two engines can be held against each other. Run it in an
environment of its own:

    python -m venv env && env/bin/pip install numpy==2.4.6 pillow==12.3.0 && env/bin/python photographs.py

The versions that made the file stand at its head.
"""

import io
import pathlib
import struct
from itertools import product

import numpy
from PIL import Image, ImageCms

HERE = pathlib.Path(__file__).parent
FOLDER = HERE / "photographs"
SIDE = 16

# Primaries and white of each space as CIE xy: SMPTE EG 432-1 with white D65, and Adobe RGB (1998), section 4.3.1.
# From memory.
D65 = (0.3127, 0.3290)
P3 = [(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)]
ADOBE = [(0.64, 0.33), (0.21, 0.71), (0.15, 0.06)]
D50 = numpy.array([0.9642, 1.0, 0.8249])
BRADFORD = numpy.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])

# Timber, brass, cloth, card, and some at the rim of the spaces.
COLOURS = [(255, 255, 255), (0, 0, 0), (118, 118, 118), (150, 96, 54), (201, 168, 110), (70, 110, 80),
           (60, 80, 140), (200, 60, 70), (30, 24, 20), (240, 220, 190), (90, 60, 40), (128, 128, 160)]
# Cyan, magenta, yellow, black in percent.
INKS = [(0, 0, 0, 0), (0, 0, 0, 100), (100, 0, 0, 0), (0, 100, 0, 0), (0, 0, 100, 0), (50, 40, 40, 10),
        (20, 50, 70, 20), (70, 30, 60, 30), (0, 0, 0, 50), (60, 60, 60, 60), (10, 20, 35, 0), (35, 55, 75, 45)]


def xyz(point):
    x, y = point
    return numpy.array([x / y, 1.0, (1 - x - y) / y])


def adapted(primaries):
    """The columns of a matrix profile: the primaries at full light, seen under D50."""
    columns = numpy.array([xyz(point) for point in primaries]).T
    columns = columns * numpy.linalg.solve(columns, xyz(D65))
    gains = (BRADFORD @ D50) / (BRADFORD @ xyz(D65))
    return numpy.linalg.inv(BRADFORD) @ numpy.diag(gains) @ BRADFORD @ columns


def fixed(value):
    return struct.pack(">i", round(value * 65536))


def text(words):
    return b"desc\0\0\0\0" + struct.pack(">I", len(words) + 1) + words.encode() + b"\0" + bytes(78)


def profile(kind, space, connection, tags):
    """An ICC profile of version 2 (ICC.1:2001-04, section 6)."""
    tags = {**tags, b"cprt": b"text\0\0\0\0none\0", b"wtpt": b"XYZ \0\0\0\0" + b"".join(map(fixed, D50))}
    directory, body, at = b"", b"", 128 + 4 + 12 * len(tags)
    for name, content in tags.items():
        content += bytes(-len(content) % 4)
        directory += name + struct.pack(">II", at + len(body), len(content))
        body += content
    size = at + len(body)
    head = struct.pack(">I4xI", size, 0x02400000) + kind + space + connection
    head += struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(28) + b"".join(map(fixed, D50))
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + directory + body


def matrix_profile(name, primaries, curve):
    tags = {b"desc": text(name)}
    for channel, column in zip(b"rgb", adapted(primaries).T):
        tags[bytes([channel]) + b"XYZ"] = b"XYZ \0\0\0\0" + b"".join(map(fixed, column))
        tags[bytes([channel]) + b"TRC"] = curve
    return profile(b"mntr", b"RGB ", b"XYZ ", tags)


def srgb_curve():
    level = numpy.arange(1024) / 1023
    light = numpy.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)
    return b"curv\0\0\0\0" + struct.pack(">I", 1024) + (light * 65535).round().astype(">u2").tobytes()


def lab(colour):
    scaled = colour / D50
    roots = numpy.where(scaled > 216 / 24389, numpy.cbrt(scaled), (24389 / 27 * scaled + 16) / 116)
    return 116 * roots[1] - 16, 500 * (roots[0] - roots[1]), 200 * (roots[1] - roots[2])


def press_profile():
    """Inks that each take their share of red, green and blue light; nine steps of each, as an eight-bit table."""
    passed = numpy.array([[0.05, 0.45, 0.75], [0.60, 0.04, 0.25], [0.95, 0.80, 0.06], [0.03, 0.03, 0.03]])
    # The light of the sheet relative to bare paper, by the primaries of sRGB.
    columns = adapted([(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)])
    table = bytearray()
    for steps in product(range(9), repeat=4):
        share = numpy.array(steps)[:, None] / 8
        light = numpy.prod(1 - share + share * passed, axis=0)
        bright, red, yellow = lab(columns @ light)
        table += bytes(round(min(max(value, 0), 255)) for value in (bright * 2.55, red + 128, yellow + 128))
    ramp = bytes(range(256))
    identity = b"".join(fixed(value) for value in (1, 0, 0, 0, 1, 0, 0, 0, 1))
    look_up = b"mft1\0\0\0\0" + bytes([4, 3, 9, 0]) + identity + ramp * 4 + bytes(table) + ramp * 3
    return profile(b"prtr", b"CMYK", b"Lab ", {b"desc": text("four plain inks"), b"A2B0": look_up})


def sheet(mode, patches):
    """The patches in two rows."""
    image = Image.new(mode, (SIDE * len(patches) // 2, SIDE * 2))
    for place, patch in enumerate(patches):
        column, row = place % (len(patches) // 2), place // (len(patches) // 2)
        image.paste(patch, (column * SIDE, row * SIDE, (column + 1) * SIDE, (row + 1) * SIDE))
    return image


def converted(image, icc, intent):
    """As littlecms has it, without compensation of the black point."""
    source = ImageCms.ImageCmsProfile(io.BytesIO(icc))
    to = ImageCms.createProfile("sRGB")
    transform = ImageCms.buildTransform(source, to, image.mode, "RGB", renderingIntent=intent)
    return ImageCms.applyTransform(image, transform)


def main():
    FOLDER.mkdir(exist_ok=True)
    gamma = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(563 / 256 * 256))
    inks = [tuple(round(share * 2.55) for share in patch) for patch in INKS]
    relative = ImageCms.Intent.RELATIVE_COLORIMETRIC
    cases = [
        ("display-p3.png", sheet("RGB", COLOURS), matrix_profile("Display P3", P3, srgb_curve()), {"optimize": True}),
        ("adobe-rgb.jpg", sheet("RGB", COLOURS), matrix_profile("Adobe RGB", ADOBE, gamma), {"quality": 97, "subsampling": 0}),
        ("four-inks.jpg", sheet("CMYK", inks), press_profile(), {"quality": 97, "subsampling": 0}),
        ("display-p3.tif", sheet("RGB", COLOURS), matrix_profile("Display P3", P3, srgb_curve()), {"compression": "tiff_lzw"}),
    ]
    lines = [
        f"# Made by photographs.py with Pillow {Image.__version__} and littlecms {ImageCms.core.littlecms_version}:"
        " relative colorimetric, no black point compensation.",
        "# Patches of 16 x 16 pixels, six in a row; the sRGB colour in the middle of each.",
    ]
    for name, image, icc, options in cases:
        image.save(FOLDER / name, icc_profile=icc, **options)
        # What a decoder sees, so that only the colour engines are compared.
        seen = Image.open(FOLDER / name)
        result = converted(seen, icc, relative)
        middles = [result.getpixel(((place % 6) * SIDE + 8, (place // 6) * SIDE + 8)) for place in range(12)]
        lines += ["", f'["{name}"]', f"srgb = {[list(colour) for colour in middles]}"]
    sheet("RGB", COLOURS).resize((48, 16)).save(FOLDER / "progressive.jpg", progressive=True, quality=85)
    sheet("RGB", COLOURS).resize((48, 16)).save(FOLDER / "lossy.webp", quality=80)
    (HERE / "photographs.toml").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
