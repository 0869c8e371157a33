"""Makes what tests/alignment.rs is checked against: maps and warped pictures by OpenCV and scikit-image.

    python3 -m venv env && env/bin/pip install opencv-python-headless==5.0.0.93 scikit-image==0.26.0 numpy pillow
    env/bin/python expected.py

Places are in pixels from the outer corner of the top left pixel, as in the crate. Both libraries count from the centre of
that pixel, so maps are moved by half a pixel before pictures are warped; for the fitting it makes no difference.
"""

import json
import math
import pathlib

import cv2
import numpy as np
import skimage
from PIL import Image
from skimage.transform import warp

HERE = pathlib.Path(__file__).parent
BEFORE, AFTER = (4032, 3024), (3840, 2880)

# Between two photographs from nearly the same place; the rows as they are published with each case.
MAPS = {
    "a step to the left": [[0.93, -0.02, 60.0], [0.03, 0.95, -35.0], [6e-6, -4e-6, 1.0]],
    "closer and tilted": [[1.08, 0.05, -210.0], [-0.04, 1.11, -90.0], [-1.5e-5, 2.2e-5, 1.0]],
    "turned": [[0.9, -0.16, 320.0], [0.17, 0.88, -160.0], [2e-6, 3e-6, 1.0]],
}
SPOTS = [[812, 604], [3120, 655], [3008, 2410], [760, 2388], [1990, 610], [2050, 2380], [1400, 1500], [2600, 1390]]
# Slips of a hand, in pixels.
SLIPS = [[1.2, -0.7], [-2.1, 0.4], [0.3, 1.9], [-0.8, -1.6], [2.4, 0.9], [0.1, -2.2], [-1.5, 1.1], [0.9, 0.2]]


def through(rows, spots):
    return cv2.perspectiveTransform(np.array(spots, float)[None], np.array(rows))[0]


def fitted(name, count, rows, slips):
    before = np.array(SPOTS[:count], float)
    after = through(rows, before) + (np.array(SLIPS[:count]) if slips else 0.0)
    # OpenCV reads points in single precision; in whole 64ths of a pixel they are the same numbers there.
    after = (after * 64).round() / 64
    landmarks = np.hstack([before / BEFORE, after / AFTER])
    found = cv2.findHomography(before, after, 0)[0]
    misses = np.linalg.norm(through(found, before) - after, axis=1)
    return {
        "name": name,
        "landmarks": landmarks.tolist(),
        "map": found.tolist(),
        "root_mean_square": math.sqrt(float(np.mean(misses**2))),
        "slips": slips,
    }


def picture():
    """A board with grain, a dark knot and a white label: soft slopes and hard edges."""
    y, x = np.mgrid[0:180, 0:240].astype(float)
    grain = 18 * np.sin(x / 3.1 + 4 * np.sin(y / 40)) + 10 * np.sin(x / 11 + y / 60)
    board = np.stack([170 + grain, 125 + 0.9 * grain, 80 + 0.7 * grain], axis=-1)
    knot = ((x - 170) ** 2 + (y - 60) ** 2 < 22**2)[..., None]
    label = ((np.abs(x - 70) < 35) & (np.abs(y - 120) < 22))[..., None]
    board = np.where(knot, [60, 40, 25], np.where(label, [245, 243, 235], board))
    return board.clip(0, 255).round().astype(np.uint8)


def main():
    cases = [
        fitted(f"{name}, {count} points{', slipped' if slips else ''}", count, rows, slips)
        for name, rows in MAPS.items()
        for count, slips in ((4, False), (8, False), (8, True))
    ]
    board = picture()
    Image.fromarray(board).save(HERE / "board.png")
    half = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1.0]])
    warped = {"larger": [[1.3, 0.11, -20.3], [-0.06, 1.22, -8.7], [4e-4, 2e-4, 1.0]],
              "aside": [[0.97, -0.08, 12.4], [0.07, 1.02, -9.6], [-2e-4, 1e-4, 1.0]]}
    for name, rows in warped.items():
        centred = half @ np.array(rows) @ np.linalg.inv(half)
        drawn = cv2.warpPerspective(board, centred, (220, 160), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
        Image.fromarray(drawn).save(HERE / f"{name}-opencv.png")
        # In floating point, so that values beyond white are cut only once, at the end.
        drawn = warp(board / 255.0, np.linalg.inv(centred), output_shape=(160, 220), order=3, mode="edge", clip=False)
        Image.fromarray((drawn.clip(0, 1) * 255).round().astype(np.uint8)).save(HERE / f"{name}-scikit.png")
    made_with = f"opencv {cv2.__version__}, scikit-image {skimage.__version__}, numpy {np.__version__}"
    text = json.dumps({"made_with": made_with, "before": BEFORE, "after": AFTER, "cases": cases, "warped": warped}, indent=1)
    (HERE / "expected.json").write_text(text + "\n")


main()
