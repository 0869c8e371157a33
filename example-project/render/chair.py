"""A ladder-back chair: four slats, turned posts, a woven cord seat; 480 wide, 420 deep, 1050 high."""

import math

import bpy
from mathutils import Vector

import shapes
import surfaces
import workshop
from shapes import add, cords, frame, pivot, turning
from shot import CLOSE, TALL, Shot

FRONT_X, FRONT_Y, FRONT_HIGH = 0.218, -0.185, 0.462
BACK_X = 0.178
HIGH = 1.050
SEAT = 0.432                       # height of the seat rails
POST = 0.0175                      # radius of a post

LANDMARKS = {
    "left post, top": (-FRONT_X, FRONT_Y, FRONT_HIGH),
    "right post, top": (FRONT_X, FRONT_Y, FRONT_HIGH),
    "left post, foot": (-FRONT_X, FRONT_Y - 0.010, 0.0),
    "right post, foot": (FRONT_X, FRONT_Y - 0.010, 0.0),
    "left post, upper ring": (-FRONT_X, FRONT_Y - POST, 0.365),
    "right post, upper ring": (FRONT_X, FRONT_Y - POST, 0.365),
    "left post, lower ring": (-FRONT_X, FRONT_Y - POST, 0.110),
    "right post, lower ring": (FRONT_X, FRONT_Y - POST, 0.110),
}


def back_y(z):
    """The back posts lean: their y at height `z`."""
    return 0.160 + 0.078 * z / HIGH


def front_post_profile():
    h = FRONT_HIGH
    return [(0, 0.010), (0.03, 0.016), (0.06, 0.0165), (0.225, 0.0165), (0.230, 0.0185), (0.246, 0.0185),
            (0.251, 0.0165), (0.50, 0.0175), (0.775, 0.0175), (0.780, 0.0192), (0.796, 0.0192), (0.801, 0.0175),
            (0.955, 0.0175), (0.975, 0.0195), (0.992, 0.0165), (1, 0.010)]


def back_post_profile():
    return [(0, 0.011), (0.02, 0.0165), (0.10, 0.0170), (0.45, 0.0180), (0.80, 0.0165), (0.925, 0.0150),
            (0.930, 0.0175), (0.938, 0.0175), (0.943, 0.0105), (0.955, 0.0115), (0.972, 0.0165), (0.988, 0.0140),
            (1, 0.004)]


def rung_profile():
    return [(0, 0.0080), (0.05, 0.0090), (0.35, 0.0125), (0.485, 0.0135), (0.5, 0.0150), (0.515, 0.0135),
            (0.65, 0.0125), (0.95, 0.0090), (1, 0.0080)]


def build(stage, at=(0, 0, 0), turn=0.0):
    """The chair; `stage` is before, during (rung back in place, no new seat yet) or after."""
    shapes.chance.seed(83)
    root = pivot(at, turn)
    wood = surfaces.wood("ash-clean", 0.40) if stage != "before" else scuffed()
    for x in (-1, 1):
        turning("front post", front_post_profile(), (x * FRONT_X, FRONT_Y, 0), (x * FRONT_X, FRONT_Y, FRONT_HIGH),
                wood, parent=root)
        turning("back post", back_post_profile(), (x * BACK_X, back_y(0), 0), (x * BACK_X, back_y(HIGH), HIGH), wood,
                parent=root)
        for z in (0.150, 0.290):
            turning("side rung", rung_profile(), (x * FRONT_X, FRONT_Y, z), (x * BACK_X, back_y(z), z), wood,
                    parent=root)
    turning("back rung", rung_profile(), (-BACK_X, back_y(0.20), 0.20), (BACK_X, back_y(0.20), 0.20), wood, parent=root)
    turning("front rung", rung_profile(), (-FRONT_X, FRONT_Y, 0.325), (FRONT_X, FRONT_Y, 0.325), wood, parent=root)
    loose_rung(root, stage, wood)
    for z, tall in ((0.555, 0.062), (0.675, 0.068), (0.795, 0.074), (0.915, 0.084)):
        slat(root, wood, z, tall)
    rails(root, wood)
    if stage != "during":
        seat(root, stage)

    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["loose rung"] = (FRONT_X - 0.020, FRONT_Y - 0.012, 0.185)
    points["torn seat"] = (-0.035, -0.075, SEAT + 0.015)
    points["sagging seat"] = (0.06, 0.02, SEAT - 0.02)
    points["scuffed post"] = (-FRONT_X, FRONT_Y - POST, 0.25)
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


def scuffed():
    """A dark varnish, knocked and rubbed down to the wood in places."""
    def describe(n):
        colour, height = surfaces.grain(n, **surfaces.WOODS["ash-dark"])
        place = n.vector("ADD", n.place(), n.vector("MULTIPLY", n.stored("seed", "Vector"), (5.0, 5.0, 5.0)))
        rub = n.noise(n.vector("MULTIPLY", place, (7.0, 22.0, 22.0)), 1.0, 6.0, 0.68)
        bare = n.step(rub, 0.60, 0.66)
        colour = n.mix(n.math("MULTIPLY", bare, 0.8), colour, (0.22, 0.135, 0.072))
        return colour, n.blend(bare, 0.38, 0.7), height
    return surfaces.material("scuffed varnish", describe, surfaces.mean_of("ash-dark"))


def loose_rung(root, stage, wood):
    """The lower front rung; before, its right end has come out and hangs below its socket."""
    left, right = Vector((-FRONT_X, FRONT_Y, 0.185)), Vector((FRONT_X, FRONT_Y, 0.185))
    if stage != "before":
        turning("lower front rung", rung_profile(), left, right, wood, parent=root)
        return
    end = Vector((FRONT_X - 0.018, FRONT_Y - 0.040, 0.098))
    turning("fallen rung", rung_profile(), left, left + (end - left) * 0.945, wood, parent=root)
    turning("tenon", [(0, 0.0085), (0.9, 0.0080), (1, 0.0065)], left + (end - left) * 0.940, end,
            surfaces.wood("oak-bare", 0.8, dirt=0.3), parent=root)
    turning("empty socket", [(0, 0.0088), (1, 0.0088)], right - Vector((POST + 0.0004, 0, 0)),
            right - Vector((POST - 0.004, 0, 0)), surfaces.plain("socket", (0.008, 0.006, 0.005), 0.95), parent=root)


def slat(root, wood, z, tall):
    """A slat bent backwards, its upper edge arched."""
    steps, wide, thick = 28, BACK_X, 0.0045
    verts, faces = [], []
    for i in range(steps + 1):
        u = -1 + 2 * i / steps
        bow = 0.030 * (1 - u * u)
        crown = tall / 2 + 0.014 * math.cos(u * math.pi / 2) - 0.010
        low = -tall / 2 + 0.006 * math.cos(u * math.pi / 2)
        lean = lambda h: back_y(z + h) - back_y(z)
        for h in (low, crown):
            for t in (-thick, thick):
                # Local x along the grain, y up the slat, z towards the sitter.
                verts.append((u * wide, h, -bow - lean(h) + t))
    for i in range(steps):
        a, b = 4 * i, 4 * i + 4
        faces += [(a, a + 1, b + 1, b), (a + 2, b + 2, b + 3, a + 3),
                  (a, b, b + 2, a + 2), (a + 1, a + 3, b + 3, b + 1)]
    end = 4 * steps
    faces += [(0, 2, 3, 1), (end, end + 1, end + 3, end + 2)]
    add("slat", verts, faces, wood, frame("x", "-y", (0, back_y(z), z)), bevel=0.002, parent=root)


def rails(root, wood):
    for a, b in corners():
        turning("seat rail", [(0, 0.009), (1, 0.009)], a, b, wood, 24, parent=root)


def corners():
    """The four seat rails as pairs of points, walking round the seat: front, right, back, left."""
    fl, fr = Vector((-FRONT_X, FRONT_Y, SEAT)), Vector((FRONT_X, FRONT_Y, SEAT))
    br, bl = Vector((BACK_X, back_y(SEAT), SEAT)), Vector((-BACK_X, back_y(SEAT), SEAT))
    return [(fl, fr), (fr, br), (br, bl), (bl, fl)]


def seat(root, stage):
    """Cords run over each rail towards the middle and meet on the diagonals."""
    torn = stage == "before"
    middle = Vector((0, (FRONT_Y + back_y(SEAT)) / 2 + 0.01, SEAT))
    radius = 0.0036
    old = surfaces.cord("old cord", (0.23, 0.160, 0.085), (0.060, 0.040, 0.022))
    new = surfaces.cord("new cord", (0.66, 0.50, 0.30), (0.33, 0.215, 0.105))
    whole, broken = [], []
    for k, (a, b) in enumerate(corners()):
        count = int((b - a).length / (radius * 2.04))
        for i in range(count):
            t = (i + 0.5) / count
            if not 0.035 < t < 0.965:
                continue
            start = a + (b - a) * t
            share = min(t, 1 - t) * 2            # how far the cord runs towards the middle
            end = (a if t < 0.5 else b) + (middle - (a if t < 0.5 else b)) * share
            path = over_the_rail(start, end, radius)
            gone = torn and breaks(k, t)
            if torn:
                path = [p - Vector((0, 0, slump(p))) for p in path]
            if gone:
                path = snapped(path, shapes.chance)
            (broken if gone else whole).append(path)
    cords("seat", whole, radius, old if torn else new, parent=root)
    if broken:
        cords("broken cords", broken, radius * 0.92, old, parent=root)
    # The lower layer of the weave closes the view to the floor.
    if not torn:
        shade = surfaces.cord("lower cord", (0.30, 0.22, 0.13), (0.16, 0.10, 0.05))
        shapes.outline("lower layer", [(-0.19, -0.165), (0.19, -0.165), (0.155, 0.175), (-0.155, 0.175)], 0.004,
                       (0, 0, SEAT - 0.006), shade, bevel=0, parent=root)
    else:
        under = []
        for i in range(34):
            x = -0.185 + 0.0112 * i
            if -0.085 < x < 0.035:
                continue
            line = [Vector((x, -0.175 + 0.35 * s / 12, SEAT - 0.010)) for s in range(13)]
            under.append([p - Vector((0, 0, slump(p) * 1.05)) for p in line])
        cords("lower layer", under, radius, old, parent=root)


def over_the_rail(start, end, radius):
    """From under the rail, round its outside, over its top and down a little to the diagonal."""
    inward = (end - start)
    inward.z = 0
    reach = inward.length
    inward.normalize()
    rail = 0.009 + radius
    path = []
    for k in range(9):
        a = math.radians(-80 + 170 * k / 8)
        path.append(start - inward * rail * math.cos(a) + Vector((0, 0, rail * math.sin(a))))
    wobble = shapes.chance.uniform(-0.0005, 0.0005)
    for k in range(1, 13):
        s = k / 12
        path.append(start + inward * reach * s + Vector((0, 0, rail - 0.004 * s ** 3 + wobble)))
    path.append(path[-1] + inward * 0.003 - Vector((0, 0, 0.008)))
    return path


def slump(p):
    """How far the old seat has sunk at a point."""
    away = ((p.x - 0.01) / 0.17) ** 2 + ((p.y + 0.02) / 0.14) ** 2
    return 0.052 * max(0.0, 1 - away * 0.62) ** 1.4 if away < 1.61 else 0.0


def breaks(k, t):
    """Which cords have given way: most of the front, left of the middle, and a few of the left side."""
    return (k == 0 and 0.30 < t < 0.62) or (k == 3 and 0.42 < t < 0.60 and shapes.chance.random() < 0.7)


def snapped(path, chance):
    """A broken cord: it ends early and its loose end curls and hangs."""
    keep = chance.randint(10, 15)
    path = path[:keep]
    way = (path[-1] - path[-2]).normalized()
    point, fall = path[-1], 0.0
    drift = Vector((chance.uniform(-0.5, 0.5), chance.uniform(-0.3, 0.3), 0))
    for _ in range(chance.randint(6, 13)):
        fall += chance.uniform(0.10, 0.28)
        way = (way + drift * 0.25 + Vector((0, 0, -fall * 0.8))).normalized()
        point = point + way * 0.008
        path.append(point)
    return path


def standing(stage, tidy, turn=-20.0, wall=0.95):
    def scene():
        workshop.room(wall=wall, corner=1.35, tidy=tidy)
        return build(stage, turn=turn)
    return scene


def glued_rung():
    """The rung glued and held: a bar clamp across both front posts."""
    workshop.room(wall=0.95, corner=1.6, tidy=False)
    points = build("during", turn=-28.0)
    root = pivot((0, 0, 0), -28.0)
    across = pivot((-FRONT_X - POST - 0.002, FRONT_Y - 0.052, 0.186), 0.0, parent=root)
    workshop.clamp(pivot((0, 0, 0), 90.0, "x", parent=across), 2 * (FRONT_X + POST) + 0.004, throat=0.062, bar=0.68)
    bpy.context.view_layer.update()
    return points


PIECE = "ladder-back-chair"
FRONT = ("torn seat", "loose rung", "scuffed post")
SHOTS = [
    Shot(PIECE, "before-front", "2026-03-09 15:31:20", standing("before", False), (0.12, -2.25, 1.12),
         (0.01, 0.0, 0.510), 66, 5.6, (0, -0.15, 0.5), TALL, 0.8, orientation=6, marks=FRONT),
    Shot(PIECE, "before-seat", "2026-03-09 15:36:02", standing("before", False), (-0.02, -0.80, 0.98),
         (-0.01, -0.03, 0.415), 48, 6.3, None, CLOSE, marks=("torn seat", "sagging seat")),
    Shot(PIECE, "during-rung", "2026-03-27 17:14:55", glued_rung, (0.34, -1.02, 0.46),
         (0.075, -0.25, 0.205), 50, 5.6, (0.11, -0.28, 0.19), CLOSE, marks=("loose rung",)),
    Shot(PIECE, "after-front", "2026-04-17 11:02:34", standing("after", True), (0.06, -2.32, 1.16),
         (0.00, 0.0, 0.515), 69, 5.6, (0, -0.15, 0.5), TALL, -0.5, marks=FRONT),
    Shot(PIECE, "after-seat", "2026-04-17 11:06:10", standing("after", True), (-0.05, -0.84, 0.96),
         (0.00, -0.02, 0.425), 49, 6.3, None, CLOSE, marks=("torn seat",)),
]
