"""Renders the example project's photographs. Every one is a rendering, none a real photograph.

    python render.py                          all pictures, full size
    python render.py --draft --out drafts     small and quick, to judge a composition
    python render.py writing-table            one piece
    python render.py writing-table/after-top  one picture
    python render.py --points                 no pictures, only landmarks.json

Points, rectangles and outlines of parts that the records need are projected through each camera and
kept in landmarks.json, as fractions of the upright picture from its top left corner; `paste.py` puts
them into the records.
"""

import argparse
import datetime
import importlib
import json
import re
import tempfile
import time
from pathlib import Path

import bpy
import numpy
from bpy_extras.object_utils import world_to_camera_view
from PIL import ExifTags, Image
from PIL.TiffImagePlugin import IFDRational

import outlines
import workshop

HERE = Path(__file__).resolve().parent
LANDMARKS = HERE / "landmarks.json"
PIECES = {"writing-table": "table", "rush-chair": "chair", "dower-chest": "chest", "open-shelves": "shelves"}

# How upright pixels are turned before storing, so that the orientation tag turns them back.
STORED_TURN = {3: Image.Transpose.ROTATE_180, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}


def main():
    options = arguments()
    for name, module in PIECES.items():
        wanted = [only for only in options.only if only.split("/")[0] == name]
        if options.only and not wanted:
            continue
        piece = importlib.import_module(module)
        shots = [s for s in piece.SHOTS if not wanted or name in wanted or s.path in wanted]
        notes = {shot.path: take(shot, piece, options) for shot in shots}
        if len(shots) == len(piece.SHOTS):
            write_landmarks(name, piece, notes)


def take(shot, piece, options):
    """Build the scene of a shot, render it unless only points are asked for, and return its points."""
    began = time.time()
    workshop.empty_scene()
    points = shot.scene()
    workshop.daylight(**shot.light)
    workshop.camera(shot.at, shot.look, shot.focal, shot.fstop, shot.focus, shot.roll)
    settings(shot, options)
    bpy.context.view_layer.update()
    notes = project(shot, piece, points)
    if shot.outlines:
        notes["outlines"] = outlines.of_parts(shot.size)
    if not options.points:
        store(shot, picture(), options.out / shot.piece / "photos" / f"{shot.name}.jpg", options.quality)
    print(f"{shot.path}: {time.time() - began:.0f} s", flush=True)
    return notes


def arguments():
    parser = argparse.ArgumentParser(description="Render the example project's photographs.")
    parser.add_argument("only", nargs="*", help="a piece's folder, or folder/picture")
    parser.add_argument("--draft", action="store_true", help="a quarter of the size, few samples")
    parser.add_argument("--scale", type=int, help="per cent of the full size")
    parser.add_argument("--samples", type=int, help="light paths per pixel")
    parser.add_argument("--points", action="store_true", help="only write landmarks.json")
    parser.add_argument("--quality", type=int, default=85, help="JPEG quality")
    parser.add_argument("--out", type=Path, default=HERE.parent / "pieces", help="folder of the pieces")
    options = parser.parse_args()
    options.scale = options.scale or (36 if options.draft else 100)
    options.samples = options.samples or (6 if options.draft else 8)
    return options


def settings(shot, options):
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.render.resolution_x, scene.render.resolution_y = shot.size
    scene.render.resolution_percentage = options.scale
    cycles = scene.cycles
    cycles.samples = options.samples
    cycles.use_adaptive_sampling = True
    cycles.adaptive_threshold = 0.04
    cycles.max_bounces, cycles.diffuse_bounces, cycles.glossy_bounces = 4, 2, 2
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.use_denoising = True
    cycles.denoiser = "OPENIMAGEDENOISE"
    cycles.denoising_input_passes = "RGB_ALBEDO_NORMAL"
    cycles.denoising_prefilter = "FAST" if options.draft else "ACCURATE"
    cycles.denoising_quality = "BALANCED"
    cycles.seed = 3
    view = scene.view_settings
    view.view_transform = "Standard" if shot.faithful else "AgX"
    view.look = "None" if shot.faithful else "AgX - Medium High Contrast"
    view.exposure = shot.exposure


def picture():
    """Render the scene and return it as an upright image."""
    scene = bpy.context.scene
    with tempfile.TemporaryDirectory() as folder:
        scene.render.filepath = str(Path(folder) / "picture.png")
        scene.render.image_settings.file_format = "PNG"
        scene.render.image_settings.color_mode = "RGB"
        bpy.ops.render.render(write_still=True)
        return grained(Image.open(scene.render.filepath).convert("RGB"))


def grained(image, strength=1.6):
    """A sensor's slight grain, a little stronger in the dark; it leaves the mean colour of an area as it is."""
    pixels = numpy.asarray(image, dtype=numpy.float32)
    noise = numpy.random.default_rng(5).normal(0.0, strength, pixels.shape[:2])
    noise = (noise + numpy.roll(noise, 1, 0) * 0.35 + numpy.roll(noise, 1, 1) * 0.35)[..., None]
    noise = noise * (1.25 - pixels.mean(axis=2, keepdims=True) / 255 * 0.6)
    return Image.fromarray(numpy.clip(pixels + noise, 0, 255).round().astype(numpy.uint8))


def store(shot, image, path, quality):
    """Write the JPEG with the tags a camera would have written, an invented place included.

    The place lies in the open ocean; it is there so that its removal can be seen.
    """
    taken = datetime.datetime.fromisoformat(shot.taken).strftime("%Y:%m:%d %H:%M:%S")
    tags = Image.Exif()
    tags[ExifTags.Base.Make] = "Rendered"
    tags[ExifTags.Base.Model] = "Scene camera"
    tags[ExifTags.Base.Orientation] = shot.orientation
    tags[ExifTags.Base.DateTime] = taken
    camera = tags.get_ifd(ExifTags.IFD.Exif)
    camera[ExifTags.Base.DateTimeOriginal] = taken
    camera[ExifTags.Base.FocalLength] = IFDRational(round(shot.focal * 10), 10)
    camera[ExifTags.Base.FNumber] = IFDRational(round(shot.fstop * 10), 10)
    place = tags.get_ifd(ExifTags.IFD.GPSInfo)
    place[ExifTags.GPS.GPSLatitudeRef] = "N"
    place[ExifTags.GPS.GPSLatitude] = (IFDRational(10), IFDRational(0), IFDRational(0))
    place[ExifTags.GPS.GPSLongitudeRef] = "W"
    place[ExifTags.GPS.GPSLongitude] = (IFDRational(30), IFDRational(0), IFDRational(0))
    if shot.orientation in STORED_TURN:
        image = image.transpose(STORED_TURN[shot.orientation])
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path, quality=quality, exif=tags, optimize=True)


def project(shot, piece, points):
    """All named points of a scene as fractions of the picture, with whether each can be seen."""
    placed = {}
    for name, point in points.items():
        if isinstance(point, list):
            placed[name] = rectangle([fraction(p) for p in point])
        else:
            placed[name] = fraction(point)
    for name, point in points.items():
        wanted = name in shot.marks or (shot.name.endswith("-front") and name in piece.LANDMARKS)
        if wanted and not isinstance(point, list) and not seen(point):
            print(f"  {shot.path}: {name} is hidden")
    return placed


def fraction(point):
    x, y, _ = world_to_camera_view(bpy.context.scene, bpy.context.scene.camera, point)
    return [round(x, 4), round(1 - y, 4)]


def rectangle(corners):
    """The largest upright rectangle certain to lie inside four projected corners."""
    xs, ys = sorted(x for x, _ in corners), sorted(y for _, y in corners)
    return [round(v, 4) for v in (xs[1], ys[1], xs[2] - xs[1], ys[2] - ys[1])]


def seen(point):
    """Whether nothing stands between the camera and the point, and the point is in the picture."""
    x, y = fraction(point)
    eye = bpy.context.scene.camera.matrix_world.translation
    way = point - eye
    hit, where, *_ = bpy.context.scene.ray_cast(
        bpy.context.evaluated_depsgraph_get(), eye, way.normalized(), distance=way.length - 0.02)
    return 0 <= x <= 1 and 0 <= y <= 1 and not hit


def write_landmarks(name, piece, notes):
    """Everything a piece's record takes from the cameras, in that piece's block."""
    before, after = notes[f"{name}/before-front"], notes[f"{name}/after-front"]
    kept = json.loads(LANDMARKS.read_text())["pieces"] if LANDMARKS.exists() else {}
    kept[name] = {
        "pair": {
            "before": "before-front.jpg",
            "after": "after-front.jpg",
            "landmarks": [{"point": point, "before": before[point], "after": after[point]}
                          for point in piece.LANDMARKS],
        },
        "marks": {f"{s.name}.jpg": {m: notes[s.path][m] for m in s.marks} for s in piece.SHOTS if s.marks},
        "areas": {f"{s.name}.jpg": {a: notes[s.path][a] for a in s.areas} for s in piece.SHOTS if s.areas},
        "outlines": {f"{s.name}.jpg": notes[s.path]["outlines"] for s in piece.SHOTS if s.outlines},
    }
    kept = {piece: kept[piece] for piece in PIECES if piece in kept}
    text = json.dumps({"unit": "fraction of the upright picture, from its top left corner", "pieces": kept}, indent=2)
    text = re.sub(r"\[\s+([-\d.,\s]+?)\s+\]", lambda numbers: "[" + re.sub(r"\s+", " ", numbers[1]) + "]", text)
    LANDMARKS.write_text(text + "\n")


if __name__ == "__main__":
    main()
