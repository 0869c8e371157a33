"""Writes heic/patches.heic and heic/turned.heic: the patches of photographs.py, upright and on their side.

    env/bin/pip install numpy==2.4.6 pillow==12.3.0 pillow-heif==1.8.1 && env/bin/python heic.py
"""

import pathlib

import pillow_heif
from photographs import COLOURS, sheet

FOLDER = pathlib.Path(__file__).parent / "heic"
FOLDER.mkdir(exist_ok=True)
image = sheet("RGB", COLOURS)
pillow_heif.from_pillow(image).save(FOLDER / "patches.heic", quality=95, chroma=444)
# libheif turns the orientation of the notes into one of the container: 6, top row on the right-hand side.
exif = image.getexif()
exif[274] = 6
heif = pillow_heif.from_pillow(image.transpose(2))
heif[0].info["exif"] = exif.tobytes()
heif.save(FOLDER / "turned.heic", quality=95, chroma=444, exif=exif.tobytes())
