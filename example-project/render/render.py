"""Renders the example project's photographs. Every one is a rendering, none a real photograph.

    python render.py                          all pictures, full size
    python render.py --draft --out drafts     small and quick, to judge a composition
    python render.py gateleg-table            one piece
    python render.py gateleg-table/after-top  one picture

Points and rectangles that the records need are projected through each camera and
kept in landmarks.json, as fractions of the upright picture from its top left corner.
"""

import argparse
import datetime
import json
import re
import tempfile
import time
from pathlib import Path

import bpy
from bpy_extras.object_utils import world_to_camera_view
from PIL import ExifTags, Image
from PIL.TiffImagePlugin import IFDRational

import bookcase
import chair
import chest
import table
import workshop

HERE = Path(__file__).resolve().parent
PIECES = (table, chest, chair, bookcase)
SHOTS = [shot for piece in PIECES for shot in piece.SHOTS]

# How upright pixels are turned before storing, so that the orientation tag turns them back.
STORED_TURN = {3: Image.Transpose.ROTATE_180, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}


def main():
    options = arguments()
    notes = {}
    for shot in SHOTS:
        if options.only and not any(shot.path.startswith(name) for name in options.only):
            continue
        began = time.time()
        workshop.empty_scene()
        points = shot.scene()
        workshop.daylight(**shot.light)
        workshop.camera(shot.at, shot.look, shot.focal, shot.fstop, shot.focus, shot.roll)
        settings(shot, options)
        bpy.context.view_layer.update()
        notes[shot.path] = project(shot, points)
        if not options.points:
            store(shot, picture(), options.out / shot.piece / "photos" / f"{shot.name}.jpg", options.quality)
        print(f"{shot.path}: {time.time() - began:.0f} s", flush=True)
    if not options.only:
        write_landmarks(notes)


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
    options.scale = options.scale or (28 if options.draft else 100)
    options.samples = options.samples or (8 if options.draft else 10)
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
        return Image.open(scene.render.filepath).convert("RGB")


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


def project(shot, points):
    """All named points of a scene as fractions of the picture, with whether each can be seen."""
    placed = {}
    for name, point in points.items():
        if isinstance(point, list):
            placed[name] = rectangle([fraction(p) for p in point])
        else:
            placed[name] = fraction(point)
    for name, point in points.items():
        wanted = name in shot.marks or (shot.name.endswith("-front") and name in landmarks_of(shot))
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


def landmarks_of(shot):
    return next(piece for piece in PIECES if piece.PIECE == shot.piece).LANDMARKS


def write_landmarks(notes):
    """Everything the records take from the cameras, one block per piece."""
    pieces = {}
    for piece in PIECES:
        before, after = notes[f"{piece.PIECE}/before-front"], notes[f"{piece.PIECE}/after-front"]
        pieces[piece.PIECE] = {
            "pair": {
                "before": "before-front.jpg",
                "after": "after-front.jpg",
                "landmarks": [{"point": name, "before": before[name], "after": after[name]}
                              for name in piece.LANDMARKS],
            },
            "marks": {f"{s.name}.jpg": {m: notes[s.path][m] for m in s.marks} for s in piece.SHOTS if s.marks},
            "areas": {f"{s.name}.jpg": {a: notes[s.path][a] for a in s.areas} for s in piece.SHOTS if s.areas},
        }
    text = json.dumps({"unit": "fraction of the upright picture, from its top left corner", "pieces": pieces}, indent=2)
    text = re.sub(r"\[\s+([-\d.,\s]+?)\s+\]", lambda numbers: "[" + re.sub(r"\s+", " ", numbers[1]) + "]", text)
    (HERE / "landmarks.json").write_text(text + "\n")


if __name__ == "__main__":
    main()
