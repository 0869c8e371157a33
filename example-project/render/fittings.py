"""Small things that several pieces have: hinges, slotted screws, nails, a rule, chalk, a brush and its pot.

`steady` makes a shape's grain depend on its own name alone: whatever else is in the
scene, the same board looks the same in every picture.
"""

import math

from mathutils import Matrix, Vector

import shapes
import surfaces
from shapes import board, turning


def steady(piece, name):
    """Start the stream of numbers anew for one named part of one piece."""
    shapes.chance.seed(f"{piece} {name}")


def screw_head(at, way, size, material, turn=0.0, parent=None):
    """A countersunk slotted screw: its flat head, and a dark slot across it."""
    at, way = Vector(at), Vector(way).normalized()
    turning("screw head", [(0, size), (0.75, size), (1, size * 0.9)], at - way * 0.0006, at + way * 0.0005, material, 28,
            parent)
    side = way.orthogonal().normalized()
    side = Matrix.Rotation(math.radians(turn), 3, way) @ side
    board("slot", (size * 1.8, size * 0.28, 0.0003), at + way * 0.00055, slot(), side, way, 0, parent=parent)


def slot():
    return surfaces.plain("slot", (0.008, 0.007, 0.006), 0.9)


def nail_head(at, way, size, material, parent=None):
    """A nail driven flush: a low, slightly domed head."""
    at, way = Vector(at), Vector(way).normalized()
    turning("nail", [(0, size), (0.5, size * 0.92), (1, size * 0.5)], at - way * 0.0006, at + way * size * 0.35,
            material, 14, parent)


def butt_leaf(length, width, material, screws, parent, name="hinge leaf"):
    """One leaf of a butt hinge in its parent's x-y plane, knuckle along y = 0, leaf towards +y, three screws."""
    board(name, (length, width, 0.0022), (0, width / 2 + 0.003, 0), material, "x", "z", 0.0005, parent=parent)
    for k, x in enumerate((-0.36, 0.0, 0.36)):
        y = width * (0.62 if k % 2 == 0 else 0.42) + 0.003
        screw_head((x * length, y, 0.0011), (0, 0, 1), 0.0040, screws, 35 + 50 * k, parent)


def butt_knuckle(length, material, parent):
    """The five knuckles of a butt hinge along its parent's x axis."""
    each = length / 5
    for k in range(5):
        x = -length / 2 + each * k
        turning("knuckle", [(0, 0.0042), (1, 0.0042)], (x + 0.0003, 0, 0), (x + each - 0.0003, 0, 0), material, 24, parent)


def steel_rule(parent, length=0.150, width=0.019):
    """A steel rule lying in its parent's x-y plane from x = 0, ticks every ten millimetres and longer every fifty."""
    blade = surfaces.plain("rule steel", (0.50, 0.50, 0.49), 0.38, metal=0.9)
    ink = surfaces.plain("rule ink", (0.012, 0.012, 0.012), 0.7)
    board("rule", (length, width, 0.0009), (length / 2, 0, 0.00045), blade, "x", "z", 0.0002, parent=parent)
    for mm in range(0, int(length * 1000) + 1, 5):
        tall = 0.012 if mm % 50 == 0 else 0.008 if mm % 10 == 0 else 0.0045
        x = min(max(mm / 1000, 0.0006), length - 0.0006)
        board("tick", (0.0008 if mm % 50 else 0.0013, tall, 0.0002), (x, width / 2 - tall / 2, 0.00095), ink, "x", "z",
              0, parent=parent)


def straight_edge(length, start, along, face, parent=None):
    """A plain planed batten of pale wood that is known to be straight."""
    start, way = Vector(start), Vector(along).normalized()
    board("straight-edge", (length, 0.045, 0.009), start + way * length / 2, surfaces.wood("pine-new", 0.5), way, face,
          0.001, parent=parent)


def stroke(start, end, width, face, material, parent=None):
    """A stroke of chalk on a flat face, a hair above it."""
    start, end = Vector(start), Vector(end)
    board("chalk", ((end - start).length, width, 0.0003), (start + end) / 2, material, end - start, face, 0,
          parent=parent)


def chalk():
    def describe(n):
        crumb = n.noise(n.place(), 900.0, 3.0, 0.7)
        return n.mix(n.step(crumb, 0.35, 0.6), (0.34, 0.31, 0.27), (0.74, 0.73, 0.70)), 0.95, None
    return surfaces.material("chalk", describe, (0.6, 0.6, 0.58))


def brush(parent, bristle_colour=(0.22, 0.16, 0.09)):
    """A flat paint brush lying along its parent's x, bristles towards +x."""
    handle = surfaces.plain("brush handle", (0.30, 0.155, 0.055), 0.4)
    turning("handle", [(0, 0.004), (0.15, 0.010), (0.5, 0.008), (0.85, 0.013), (1, 0.016)], (-0.16, 0, 0.013),
            (0, 0, 0.013), handle, 24, parent)
    board("ferrule", (0.032, 0.046, 0.017), (0.014, 0, 0.011), surfaces.steel(), "x", "z", 0.003, parent=parent)
    board("bristles", (0.055, 0.044, 0.013), (0.055, 0, 0.010),
          surfaces.plain("bristles", bristle_colour, 0.95), "x", "z", 0.004, parent=parent)


def bowl(at, radius, height, outside, inside, level, parent=None):
    """A straight-sided pot with something in it, `level` below its rim."""
    at = Vector(at)
    turning("pot", [(0, radius * 0.94), (0.03, radius), (1, radius)], at, at + Vector((0, 0, height)), outside, 48, parent)
    turning("rim", [(0, radius * 1.03), (1, radius * 1.03)], at + Vector((0, 0, height - 0.004)),
            at + Vector((0, 0, height + 0.001)), outside, 48, parent)
    turning("content", [(0, radius * 0.93), (1, radius * 0.93)], at + Vector((0, 0, height - level)),
            at + Vector((0, 0, height + 0.0016)), inside, 48, parent)
