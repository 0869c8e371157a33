"""What lies about in a workshop: vessels, tools, boxes. Every one stands or lies on the point it is given."""

import math

from mathutils import Matrix, Vector, noise

import shapes
import surfaces
from shapes import board, outline, pivot, turning


def jar(at, radius, height, glass):
    """A stoppered bottle."""
    x, y, z = at
    neck = radius * 0.42
    turning("bottle", [(0, radius * 0.92), (0.03, radius), (0.62, radius), (0.74, radius * 0.86), (0.84, neck),
                       (0.97, neck), (1, neck * 1.15)], at, (x, y, z + height), glass)
    turning("stopper", [(0, neck * 0.9), (1, neck)], (x, y, z + height - 0.002), (x, y, z + height + 0.014),
            surfaces.plain("cork", (0.30, 0.19, 0.10), 0.8), 20)


def tin(at, radius, height, colour):
    """A tin with a pressed lid and a plain coloured wrapper."""
    x, y, z = at
    metal = surfaces.plain("tin plate", (0.50, 0.50, 0.50), 0.42, metal=0.9)
    turning("tin", [(0, radius), (1, radius)], at, (x, y, z + height), metal)
    turning("wrapper", [(0, radius + 0.0006), (1, radius + 0.0006)], (x, y, z + height * 0.12),
            (x, y, z + height * 0.84), surfaces.plain(f"wrapper {colour}", colour, 0.6))
    turning("lid", [(0, radius * 0.86), (1, radius * 0.86)], (x, y, z + height), (x, y, z + height + 0.004), metal)


def brush_pot(at, radius=0.042, height=0.11):
    """A stoneware pot with brushes in it, bristles up."""
    x, y, z = at
    clay = surfaces.plain("stoneware", (0.34, 0.27, 0.19), 0.35)
    turning("pot", [(0, radius * 0.94), (0.1, radius), (0.9, radius), (1, radius * 1.06)], at, (x, y, z + height), clay)
    wood, hair = surfaces.plain("brush handle", (0.28, 0.12, 0.045), 0.35), surfaces.plain("bristle", (0.09, 0.07, 0.05), 0.9)
    band = surfaces.steel()
    for k, (lean, way, long) in enumerate(((10, 20, 0.20), (14, 150, 0.18), (12, 265, 0.22))):
        a = math.radians(way)
        tip = Vector((math.cos(a), math.sin(a), 0)) * math.sin(math.radians(lean)) + Vector((0, 0, math.cos(math.radians(lean))))
        foot = Vector((x, y, z + height - 0.03)) + Vector((math.cos(a), math.sin(a), 0)) * radius * 0.35
        mouth = foot + tip * (long - 0.07)
        turning("brush handle", [(0, 0.005), (0.6, 0.008), (1, 0.006)], foot, mouth, wood, 20)
        turning("ferrule", [(0, 0.009), (1, 0.011)], mouth, mouth + tip * 0.02, band, 20)
        turning("bristles", [(0, 0.010), (0.7, 0.012), (1, 0.004)], mouth + tip * 0.02, mouth + tip * 0.065, hair, 20)


def glue_pot(at):
    """A double iron pot with a brush standing in it."""
    x, y, z = at
    iron = surfaces.black_iron()
    turning("glue pot", [(0, 0.058), (0.5, 0.066), (0.85, 0.064), (1, 0.070)], at, (x, y, z + 0.105), iron)
    turning("inner pot", [(0, 0.050), (0.8, 0.050), (1, 0.054)], (x, y, z + 0.10), (x, y, z + 0.128), iron)
    turning("glue", [(0, 0.046), (1, 0.046)], (x, y, z + 0.126), (x, y, z + 0.1285),
            surfaces.plain("hide glue", (0.13, 0.060, 0.018), 0.15))
    turning("glue brush", [(0, 0.010), (0.2, 0.011), (0.24, 0.006), (1, 0.006)], (x + 0.02, y, z + 0.120),
            (x + 0.075, y - 0.03, z + 0.30), surfaces.plain("brush handle", (0.28, 0.12, 0.045), 0.35), 20)


def plane(parent):
    """A wooden bench plane lying on its sole."""
    beech = surfaces.wood("beech-worn", 0.45, dirt=0.35)
    board("plane body", (0.24, 0.062, 0.060), (0, 0, 0.030), beech, "x", "z", 0.004, parent=parent)
    tilt = pivot((0.010, 0, 0.055), 42, "y", parent=parent)
    board("plane iron", (0.13, 0.045, 0.004), (-0.035, 0, 0.0), surfaces.steel(), "x", "z", 0.001, parent=tilt)
    board("plane wedge", (0.10, 0.040, 0.012), (-0.030, 0, 0.009), beech, "x", "z", 0.002, parent=tilt)
    outline("plane tote", [(-0.030, 0), (0.020, 0), (0.012, 0.035), (0.022, 0.075), (-0.004, 0.085), (-0.022, 0.045)],
            0.022, (-0.080, 0, 0.058), beech, "x", "-y", 0.004, parent=parent)
    turning("plane knob", [(0, 0.012), (0.4, 0.010), (0.8, 0.017), (1, 0.008)], (0.090, 0, 0.059), (0.090, 0, 0.100), beech,
            24, parent=parent)


def mallet(parent):
    """A square-headed mallet lying on its side."""
    beech = surfaces.wood("beech-worn", 0.5, dirt=0.2)
    board("mallet head", (0.13, 0.085, 0.060), (0, 0, 0.030), beech, "y", "z", 0.004, parent=parent)
    board("mallet handle", (0.26, 0.028, 0.020), (0.15, 0, 0.030), surfaces.wood("oak-bare", 0.5), "x", "z", 0.004,
          parent=parent)


def chisel(parent, width):
    """A chisel standing in the rack, handle up, blade down behind the strip."""
    box = surfaces.plain("boxwood", (0.42, 0.25, 0.085), 0.4)
    board("blade", (0.15, width, 0.003), (0, 0, -0.075), surfaces.steel(), "z", "-y", 0.0005, parent=parent)
    turning("chisel handle", [(0, 0.007), (0.10, 0.011), (0.55, 0.013), (0.85, 0.014), (1, 0.009)], (0, 0, 0.0),
            (0, 0, 0.12), box, 24, parent=parent)


def chisel_lying(parent, width=0.014):
    """A chisel on the bench, edge along its own x."""
    box = surfaces.plain("boxwood", (0.42, 0.25, 0.085), 0.4)
    board("blade", (0.15, width, 0.003), (0.085, 0, 0.0112), surfaces.steel(), "x", "z", 0.0005, parent=parent)
    turning("chisel handle", [(0, 0.009), (0.15, 0.014), (0.45, 0.013), (0.9, 0.011), (1, 0.007)], (-0.11, 0, 0.0135),
            (0.012, 0, 0.0115), box, 24, parent=parent)


def saw(parent):
    """A hand saw hung by its handle, blade down."""
    outline("saw blade", [(-0.055, 0.0), (0.055, 0.0), (0.022, -0.46), (-0.022, -0.46)][::-1], 0.0015, (0, 0, 0),
            surfaces.steel(), "x", "-y", 0, parent=parent)
    hole = [(0.060, 0.0), (0.055, 0.085), (0.010, 0.110), (-0.045, 0.100), (-0.062, 0.040), (-0.058, -0.010)]
    outline("saw handle", hole, 0.020, (0, -0.004, 0.0), surfaces.wood("beech-worn", 0.45), "x", "-y", 0.004,
            parent=parent)


def square(parent):
    """A try square hung by its corner."""
    board("square stock", (0.13, 0.032, 0.016), (0, 0, 0), surfaces.wood("oak-mid", 0.4), "x", "-y", 0.002, parent=parent)
    board("square blade", (0.20, 0.032, 0.002), (-0.048, 0, -0.11), surfaces.steel(), "z", "-y", 0.0005, parent=parent)


def rule(parent, length=0.30, width=0.026):
    """A boxwood rule lying flat, marked every ten millimetres; its zero at its own x = 0."""
    wood = surfaces.plain("rule wood", (0.50, 0.35, 0.15), 0.45)
    dark = surfaces.plain("rule mark", (0.02, 0.018, 0.015), 0.6)
    board("rule", (length, width, 0.003), (length / 2, 0, 0.0015), wood, "x", "z", 0.0005, parent=parent)
    for k in range(1, round(length / 0.010)):
        deep = width * (0.75 if k % 10 == 0 else 0.5 if k % 5 == 0 else 0.3)
        board("rule mark", (deep, 0.0009, 0.0003), (k * 0.010, width / 2 - deep / 2, 0.0031), dark, "y", "z", 0,
              parent=parent)


def cloth(parent, length, width, colour, folds=0.008, thick=0.003, name="cloth"):
    """A cloth lying with soft folds, its middle at the point it is given."""
    across, along = 48, 48
    verts, faces = [], []
    for j in range(along + 1):
        for i in range(across + 1):
            u, v = i / across - 0.5, j / along - 0.5
            wave = noise.noise(Vector((u * 4.0, v * 3.0, length * 9))) + 0.5 * noise.noise(Vector((u * 9, v * 8, 3.0)))
            ragged = 0.02 * noise.noise(Vector((v * 5.0, u * 5.0, 7.0)))
            verts.append(((u + ragged) * length, (v + ragged) * width, thick + folds * max(0.0, wave + 0.25)))
    for j in range(along):
        for i in range(across):
            a = j * (across + 1) + i
            faces.append((a, a + 1, a + across + 2, a + across + 1))
    thing = shapes.add(name, verts, faces, surfaces.weave(name, colour), Matrix.Identity(4), parent=parent)
    solid = thing.modifiers.new("thickness", "SOLIDIFY")
    solid.thickness, solid.offset = thick, -1.0
    return thing


def crate(parent, size):
    """A slatted crate."""
    rough = surfaces.wood("pine-old", 0.75, dirt=0.4)
    w, d, h = size
    for y in (-d / 2, d / 2):
        for k in range(2):
            board("slat", (w, h * 0.42, 0.012), (0, y, h * (0.25 + 0.5 * k)), rough, "x", "-y", 0.001, parent=parent)
    for x in (-w / 2, w / 2):
        for k in range(2):
            board("slat", (d, h * 0.42, 0.012), (x, 0, h * (0.25 + 0.5 * k)), rough, "y", "x", 0.001, parent=parent)
        for y in (-d / 2 + 0.02, d / 2 - 0.02):
            board("post", (h, 0.03, 0.02), (x * 0.96, y * 0.96, h / 2), rough, "z", "x", 0.001, parent=parent)
    board("bottom", (w, d, 0.01), (0, 0, 0.006), rough, "x", "z", 0.001, parent=parent)


def stack(at):
    """Short boards in a pile."""
    x, y, z = at
    kinds = ("oak-bare", "pine-old", "beech-worn", "oak-bare", "pine-new")
    for k, kind in enumerate(kinds):
        board("offcut", (0.42 - 0.03 * k, 0.15 - 0.01 * (k % 3), 0.028), (x + 0.012 * (k % 2), y, z + 0.0145 + 0.0285 * k),
              surfaces.wood(kind, 0.7), "x", "z", 0.002)


def nail_head(at):
    """The head of a floor nail, level with the board."""
    x, y, z = at
    turning("nail head", [(0, 0.0032), (1, 0.0032)], (x, y, z - 0.002), (x, y, z + 0.0003),
            surfaces.plain("nail iron", (0.03, 0.025, 0.02), 0.6, metal=0.5), 10)
