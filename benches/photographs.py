"""Develops photographs with this program and with vipsthumbnail, and compares CPU time, bytes and quality.

    cargo build --release --no-default-features --example develop
    python3 benches/photographs.py FOLDER [--runs 7] [--program target/release/examples/develop]

FOLDER holds camera photographs (JPEG). Both sides make the same three files of each: 1600, 960 and 480 pixels wide, JPEG
of quality 80, upright and without metadata; the program in one go, vipsthumbnail in one call a width, as its users do.
Where a photograph has a profile other than sRGB, vipsthumbnail is asked to convert it, as the program does.

CPU time is user and system time of the processes; runs alternate, and the figure of a photograph is the median of
the ratios of its pairs. The quality is SSIMULACRA 2 (PyPI `ssimulacra2`) against a reference that neither side
made: the whole photograph decoded by Pillow, brought to sRGB by littlecms, turned upright, and scaled in linear light by
Pillow's Lanczos filter in 32-bit floating point. Memory is the largest resident set of one process.

Needs: vipsthumbnail (Debian `libvips-tools`), PyPI `pillow`, `numpy`, `ssimulacra2`.
"""

import argparse
import io
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy
import ssimulacra2
from PIL import Image, ImageCms, ImageOps, features

WIDTHS = (1600, 960, 480)
QUALITY = 80


def run(command):
    """CPU seconds and the largest resident set, in MB of a million bytes, of one process."""
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = status
    if status:
        sys.exit(f"failed: {' '.join(map(str, command))}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss * 1024 / 1e6


def ours(program, photograph, folder):
    return run([program, photograph, folder])


def theirs(photograph, folder, converted):
    convert = ["--export-profile", "srgb"] if converted else []
    runs = [
        run(["vipsthumbnail", photograph, "--size", f"{width}x", *convert,
             "-o", f"{folder}/{width}.jpg[Q={QUALITY},strip]"])
        for width in WIDTHS
    ]
    return sum(cpu for cpu, _ in runs), max(memory for _, memory in runs)


def profile(photograph):
    """The profile, unless it is none or sRGB."""
    held = photograph.info.get("icc_profile")
    if not held:
        return None
    read = ImageCms.ImageCmsProfile(io.BytesIO(held))
    return None if "srgb" in ImageCms.getProfileDescription(read).lower() else read


def linear(photograph):
    """The three planes of the upright photograph in sRGB's linear light, 0 to 1."""
    convert = profile(photograph)
    photograph = ImageOps.exif_transpose(photograph.convert("RGB") if convert is None else photograph)
    if convert is not None:
        photograph = ImageCms.profileToProfile(photograph, convert, ImageCms.createProfile("sRGB"), outputMode="RGB")
    level = numpy.arange(256) / 255
    light = numpy.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4).astype(numpy.float32)
    return [Image.fromarray(light[numpy.asarray(plane)], "F") for plane in photograph.split()]


def reference(planes, size):
    scaled = [numpy.asarray(plane.resize(size, Image.Resampling.LANCZOS)).clip(0, 1) for plane in planes]
    light = numpy.stack(scaled, axis=-1)
    level = numpy.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return Image.fromarray((level * 255 + 0.5).astype(numpy.uint8))


def score(picture, planes, folder):
    """SSIMULACRA 2 of a picture: 100 is the reference itself, 90 cannot be told from it, 70 is high quality."""
    picture = Image.open(picture).convert("RGB")
    paths = [f"{folder}/reference.png", f"{folder}/picture.png"]
    reference(planes, picture.size).save(paths[0], compress_level=1)
    picture.save(paths[1], compress_level=1)
    return ssimulacra2.compute_ssimulacra2(*paths)


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--runs", type=int, default=7)
    arguments.add_argument("--program", default="target/release/examples/develop")
    given = arguments.parse_args()
    vips = subprocess.run(["vipsthumbnail", "--version"], capture_output=True, text=True).stdout.split()[0]
    print(f"{vips}; score: ssimulacra2 of Python, reference by Pillow {Image.__version__}"
          f" with libjpeg-turbo {features.version('libjpeg_turbo')}\n")
    paths = sorted(path for path in given.folder.iterdir() if path.suffix.lower() in (".jpg", ".jpeg"))
    with tempfile.TemporaryDirectory() as scratch:
        # All is run before anything is scored: a process counts as its own what its parent holds when it starts it.
        timed = [timing(given, path, Path(scratch, path.stem)) for path in paths]
        print("| photograph | MP | CPU, s | CPU ratio | bytes ratio | score at 1600 / 960 / 480 | score of vips | peak, MB |")
        print("|---|---|---|---|---|---|---|---|")
        ratios, weights, gains = [], [], []
        for path, (ratio, cpu, memory, weight) in zip(paths, timed):
            photograph = Image.open(path)
            planes = linear(photograph)
            scores = [[score(f"{scratch}/{path.stem}/{side}/{width}.jpg", planes, scratch) for width in WIDTHS]
                      for side in ("ours", "vips")]
            ratios.append(ratio), weights.append(weight)
            gains.append([mine - his for mine, his in zip(*scores)])
            mine, his = [" / ".join(f"{value:.1f}" for value in side) for side in scores]
            pixels = photograph.size[0] * photograph.size[1] / 1e6
            print(f"| {path.stem} | {pixels:.1f} | {cpu:.3f} | {ratio:.2f} | {weight:.3f} | {mine} | {his} | {memory:.0f} |",
                  flush=True)
    gain = " / ".join(f"{statistics.median(width):+.1f}" for width in zip(*gains))
    print(f"| median | | | {statistics.median(ratios):.2f} | {statistics.median(weights):.3f} | {gain} above vips | | |")


def timing(given, path, scratch):
    """The median of the ratios of paired runs, our CPU seconds, our largest resident set, and the ratio of bytes."""
    one, other = scratch / "ours", scratch / "vips"
    one.mkdir(parents=True)
    other.mkdir()
    converted = profile(Image.open(path)) is not None
    pairs = [(ours(given.program, path, one), theirs(path, other, converted)) for _ in range(given.runs)]
    ratio = statistics.median(mine[0] / his[0] for mine, his in pairs)
    cpu = statistics.median(mine[0] for mine, _ in pairs)
    memory = max(mine[1] for mine, _ in pairs)
    sizes = [sum(os.path.getsize(folder / f"{width}.jpg") for width in WIDTHS) for folder in (one, other)]
    return ratio, cpu, memory, sizes[0] / sizes[1]


if __name__ == "__main__":
    main()
