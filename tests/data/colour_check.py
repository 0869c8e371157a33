#!/usr/bin/env python3
"""Writes colour_check.toml: colours as another library computes them.

    pip install colour-science==0.4.7 numpy==2.4.6
    python3 colour_check.py > colour_check.toml
"""
import random
import warnings

warnings.filterwarnings("ignore")
import colour  # noqa: E402
import numpy  # noqa: E402

chance = random.Random(2000)
SRGB = colour.RGB_COLOURSPACES["sRGB"]
# From the primaries and the white point themselves, so that white has no colour; the standard's own matrix has four
# decimals, and with it white has a* of 0.008.
SRGB.use_derived_matrix_RGB_to_XYZ = True
WHITE = SRGB.whitepoint


def lab(xyz):
    return colour.XYZ_to_Lab(xyz, WHITE)


def row(numbers):
    return "[" + ", ".join(f"{float(number):.9f}" for number in numbers) + "]"


print(f"# Source: colour-science {colour.__version__}, numpy {numpy.__version__}, by colour_check.py beside this file.")
print("# [[lab]]: sRGB of 8 bits to CIELAB under D65 and the 2 degree observer. [[difference]]: CIEDE2000 of two colours.")
print("# [[chart]]: patches of a common colour chart in 8 bits, and their CIELAB without the rounding to 8 bits.")
print("# [[neutral]]: linear sRGB seen beside a grey of linear sRGB and a stated reflectance, adapted by Bradford.")

samples = [[0, 0, 0], [255, 255, 255], [255, 0, 0], [0, 255, 0], [0, 0, 255], [10, 10, 10], [11, 11, 11], [119, 119, 119]]
samples += [[chance.randrange(256) for _ in range(3)] for _ in range(120)]
for rgb in samples:
    xyz = colour.RGB_to_XYZ(numpy.array(rgb) / 255, "sRGB", apply_cctf_decoding=True)
    print(f"\n[[lab]]\nrgb = {rgb}\nlab = {row(lab(xyz))}")

CHART = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
for name, xyy in CHART.data.items():
    light = colour.XYZ_to_RGB(colour.xyY_to_XYZ(xyy), "sRGB", CHART.illuminant, "Bradford")
    if light.min() < 0 or light.max() > 1:
        continue
    rgb = [round(255 * float(value)) for value in SRGB.cctf_encoding(light)]
    print(f"\n[[chart]]\nname = \"{name}\"\nrgb = {rgb}\nlab = {row(lab(colour.RGB_to_XYZ(light, 'sRGB')))}")

for number in range(400):
    one = [chance.uniform(0, 100), chance.uniform(-90, 90), chance.uniform(-90, 90)]
    near = 3 if number % 2 else 120
    other = [part + chance.uniform(-near, near) for part in one]
    other[0] = min(max(other[0], 0), 100)
    print(f"\n[[difference]]\none = {row(one)}\nother = {row(other)}\nis = ", end="")
    # The figures as printed, so that rounding them is no deviation.
    one, other = ([round(part, 9) for part in colours] for colours in (one, other))
    print(f"{colour.delta_E(one, other, method='CIE 2000'):.9f}")

for _ in range(60):
    grey = [round(chance.uniform(0.08, 0.45), 9) for _ in range(3)]
    light = [round(chance.uniform(0.01, 0.8), 9) for _ in range(3)]
    reflectance = round(chance.uniform(10, 60), 3)
    matrix = SRGB.matrix_RGB_to_XYZ
    seen = matrix @ numpy.array(grey)
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        seen / seen[1], colour.xy_to_XYZ(WHITE), transform="Bradford")
    xyz = adapt @ (matrix @ numpy.array(light)) * (reflectance / 100 / seen[1])
    print(f"\n[[neutral]]\ngrey = {row(grey)}\nreflectance = {reflectance}\nlight = {row(light)}\nlab = {row(lab(xyz))}")
