"""A spindle-back chair with a rush seat: 461 wide, 481 deep, 910 high; six spindles in one row."""

import math

import bpy
from mathutils import Matrix, Vector

import shapes
import surfaces
import tools
import workshop
from shapes import add, board, cords, frame, part, pivot, turning
from shot import CLOSE, TALL, WIDE, Shot

FRONT_X, FRONT_Y, FRONT_HIGH = 0.212, -0.190, 0.458
BACK_X = 0.172
HIGH = 0.905
SEAT = 0.430                       # height of the seat rails
POST = 0.0175                      # radius of a post
CREST, LOWER = (0.800, 0.900), 0.545
SPINDLES = 6
SIDE_RUNGS, FRONT_RUNGS, BACK_RUNG = (0.140, 0.265), (0.165, 0.300), 0.215
APART = 0.013                      # how far the right front leg has come away

LANDMARKS = {
    "crest rail, left end": (-BACK_X - 0.026, 0.0, CREST[1] - 0.030),
    "crest rail, right end": (BACK_X + 0.026, 0.0, CREST[1] - 0.030),
    "left back post, at the seat": (-BACK_X, 0.0, SEAT + 0.030),
    "right back post, at the seat": (BACK_X, 0.0, SEAT + 0.030),
    "lower back rail, left end": (-BACK_X, 0.0, LOWER),
    "lower back rail, right end": (BACK_X, 0.0, LOWER),
    "left front leg, top": (-FRONT_X, FRONT_Y, FRONT_HIGH),
    "left front leg, foot": (-FRONT_X, FRONT_Y, 0.004),
}


def back_y(z):
    """The back leans from the seat upwards: its y at height `z`."""
    return 0.172 + 0.010 * z / SEAT if z < SEAT else 0.182 + 0.155 * (z - SEAT)


def placed(point):
    """A point of the back gets its own y; others keep theirs."""
    x, y, z = point
    return Vector((x, back_y(z) - POST if y == 0.0 else y, z))


# --- turnings ----------------------------------------------------------------------------------------

def front_leg_profile():
    return [(0, 0.012), (0.02, 0.0165), (0.06, 0.0125), (0.09, 0.0175), (0.13, 0.0150), (0.32, 0.0175), (0.52, 0.0185),
            (0.54, 0.0160), (0.56, 0.0205), (0.58, 0.0160), (0.60, 0.0185), (0.88, 0.0185), (0.955, 0.0180),
            (0.975, 0.0205), (0.992, 0.0170), (1, 0.011)]


def back_post_profile():
    return [(0, 0.012), (0.02, 0.0165), (0.45, 0.0185), (0.60, 0.0175), (1, 0.0150)]


def fancy_rung_profile():
    """The front stretchers: a turned bulb on each side of a ring."""
    return [(0, 0.0085), (0.06, 0.0095), (0.20, 0.0140), (0.32, 0.0175), (0.42, 0.0130), (0.455, 0.0120), (0.48, 0.0185),
            (0.52, 0.0185), (0.545, 0.0120), (0.58, 0.0130), (0.68, 0.0175), (0.80, 0.0140), (0.94, 0.0095), (1, 0.0085)]


def plain_rung_profile():
    return [(0, 0.0080), (0.06, 0.0090), (0.5, 0.0130), (0.94, 0.0090), (1, 0.0080)]


def spindle_profile():
    return [(0, 0.0050), (0.06, 0.0060), (0.26, 0.0088), (0.38, 0.0062), (0.42, 0.0090), (0.46, 0.0064), (0.56, 0.0100),
            (0.68, 0.0070), (0.92, 0.0056), (1, 0.0050)]


# --- surfaces ----------------------------------------------------------------------------------------

def finished(stage, species="ash", shake=False):
    """The old brown finish: before, dull and grimed; after, the same, clean and waxed."""
    def describe(n):
        woods = {"ash": surfaces.WOODS["ash-clean"], "elm": surfaces.WOODS["elm-waxed"]}
        kind = dict(woods[species])
        depth = 0.66 if species == "ash" else 0.34
        kind["light"] = tuple(v * depth for v in kind["light"])
        kind["dark"] = tuple(v * depth * 0.84 for v in kind["dark"])
        colour, _ = surfaces.grain(n, **kind)
        # Where hands and heels have rubbed, the finish is thin; cleaning does not change that.
        place = n.vector("ADD", n.place(), n.vector("MULTIPLY", n.stored("seed", "Vector"), (5.0, 5.0, 5.0)))
        rub = n.noise(n.vector("MULTIPLY", place, (6.0, 20.0, 20.0)), 1.0, 4.0, 0.66)
        bare = n.step(rub, 0.58, 0.68)
        colour = n.mix(n.math("MULTIPLY", bare, 0.65 if species == "ash" else 0.25), colour, (0.27, 0.165, 0.080))
        # The crest rail leans so that it would mirror the window; duller, it shows its own colour.
        rough = 0.34 if species == "ash" else 0.62
        if stage == "before":
            grime = n.noise(n.vector("MULTIPLY", place, (4.0, 14.0, 14.0)), 1.0, 4.0, 0.62)
            film = n.math("MULTIPLY_ADD", n.step(grime, 0.32, 0.70), 0.35, 0.30)
            colour = n.mix(film, colour, (0.052, 0.043, 0.034))
            rough = 0.62
        if shake:
            colour = shaken(n, colour)
        return colour, rough, None
    name = f"finished {stage == 'before'} {species} {shake}"
    return surfaces.material(name, describe, (0.14, 0.08, 0.035), coat=0.15 if (stage, species) == ("after", "ash") else 0.0,
                             shine=0.5 if species == "ash" else 0.2)


# In the stretcher's own coordinates: from where to where the shake runs along it, metres.
SHAKE = (0.050, 0.180)


def shaken(n, colour):
    """A drying crack along the grain, a hair wide at its ends."""
    x, y, z = n.split(n.place())
    along = n.math("MULTIPLY", n.step(x, SHAKE[0], SHAKE[0] + 0.06), n.step(x, SHAKE[1], SHAKE[1] - 0.05))
    wander = n.math("MULTIPLY", n.math("SUBTRACT", n.noise(n.join(n.math("MULTIPLY", x, 22.0), 0.0, 0.0), 1.0, 2.0), 0.5), 0.006)
    away = n.math("ABSOLUTE", n.math("SUBTRACT", y, n.math("ADD", wander, -0.0025)))
    wide = n.math("MULTIPLY", along, 0.0011)
    crack = n.math("MULTIPLY", n.step(n.math("DIVIDE", away, n.math("MAXIMUM", wide, 1e-5)), 1.0, 0.4), n.math("LESS_THAN", z, 0.0))
    crack = n.math("MULTIPLY", crack, n.math("GREATER_THAN", along, 0.02))
    return n.mix(crack, colour, (0.006, 0.004, 0.003))


def tenon_wood():
    """Bare ash with a crust of old glue."""
    def describe(n):
        colour, _ = surfaces.grain(n, **surfaces.WOODS["oak-bare"])
        crust = n.step(n.noise(n.vector("MULTIPLY", n.place(), (60.0, 120.0, 120.0)), 1.0, 4.0, 0.65), 0.44, 0.56)
        colour = n.mix(n.math("MULTIPLY", crust, 0.75), colour, (0.085, 0.043, 0.016))
        return colour, n.blend(crust, 0.8, 0.35), None
    return surfaces.material("tenon", describe, (0.25, 0.16, 0.08))


# --- the frame ---------------------------------------------------------------------------------------

def build(stage, at=(0, 0, 0), turn=0.0, seat_stage=None, parent=None):
    """The chair. `stage` is before (joints apart at the right front leg) or after; `seat_stage` old, new or None."""
    shapes.chance.seed(83)
    root = pivot(at, turn, parent=parent)
    ash, elm = finished(stage), finished(stage, "elm")
    gap = APART if stage == "before" else 0.0
    with part("front-legs"):
        for x in (-1, 1):
            away = gap if x > 0 else 0.0
            turning("front leg", front_leg_profile(), (x * FRONT_X + away * 1.25, FRONT_Y - away * 0.4, 0),
                    (x * FRONT_X + away * 0.75, FRONT_Y - away * 0.4, FRONT_HIGH), ash, parent=root)
    with part("back-posts"):
        for x in (-1, 1):
            bent_post(root, x * BACK_X, ash)
    back(root, ash, elm)
    stretchers(root, stage, gap)
    with part("seat-rails"):
        for k, (a, b) in enumerate(corners()):
            turning("seat rail", [(0, 0.009), (1, 0.009)], a, b, finished("after") if seat_stage else bare_rail(),
                    24, parent=root)
    if seat_stage:
        with part("seat"):
            seat(root, seat_stage)
    bpy.context.view_layer.update()
    return named_points(root)


def bent_post(root, x, wood):
    """A back post: upright to the seat, leaning above it."""
    rings = shapes.smooth_profile(back_post_profile(), 8)
    facets, verts, faces = 32, [], []
    for t, r in rings:
        z = t * HIGH
        for k in range(facets):
            a = 2 * math.pi * k / facets
            verts.append((z, r * math.cos(a), -(back_y(z) - 0.18) + r * math.sin(a)))
    for i in range(len(rings) - 1):
        for k in range(facets):
            m = (k + 1) % facets
            faces.append((i * facets + k, (i + 1) * facets + k, (i + 1) * facets + m, i * facets + m))
    last = (len(rings) - 1) * facets
    faces += [tuple(range(facets)), tuple(reversed(range(last, last + facets)))]
    # Own x up, own z towards the sitter.
    add("back post", verts, faces, wood, frame("z", "-y", (x, 0.18, 0)), parent=root)


def back(root, ash, elm):
    """The crest rail over the posts, the lower rail between them, six spindles from one to the other."""
    low, high = CREST
    middle = (low + high) / 2
    with part("crest-rail"):
        steps, reach, verts, faces = 30, BACK_X + 0.030, [], []
        for i in range(steps + 1):
            u = -1 + 2 * i / steps
            bow = -0.012 * (1 - u * u)
            top = (high - middle) + 0.010 * (1 - u * u) - 0.014 * u ** 6
            foot = (low - middle) + 0.004 * (1 - u * u) + 0.010 * u ** 6
            for h in (foot, top):
                lean = back_y(middle + h) - back_y(middle)
                for t in (-0.009, 0.009):
                    verts.append((u * reach, h, -bow - lean + t))
        for i in range(steps):
            a, b = 4 * i, 4 * i + 4
            faces += [(a, a + 1, b + 1, b), (a + 2, b + 2, b + 3, a + 3), (a, b, b + 2, a + 2), (a + 1, a + 3, b + 3, b + 1)]
        end = 4 * steps
        faces += [(0, 2, 3, 1), (end, end + 1, end + 3, end + 2)]
        add("crest rail", verts, faces, elm, frame("x", "-y", (0, back_y(middle) - 0.012, middle)), bevel=0.004, parent=root)
    with part("lower-rail"):
        turning("lower back rail", [(0, 0.009), (0.05, 0.0125), (0.5, 0.0145), (0.95, 0.0125), (1, 0.009)],
                (-BACK_X, back_y(LOWER), LOWER), (BACK_X, back_y(LOWER), LOWER), ash, parent=root)
    with part("spindles"):
        for k in range(SPINDLES):
            x = (k - (SPINDLES - 1) / 2) * 0.052
            bow = 0.010 * (1 - (x / BACK_X) ** 2)
            turning("spindle", spindle_profile(), (x, back_y(LOWER), LOWER + 0.008),
                    (x, back_y(low) - 0.004 + bow * 0.2, low + 0.012), ash, 28, parent=root)


def stretchers(root, stage, gap):
    """Two turned ones in front, two plain ones on each side, one behind. Before, the right-hand ones show their tenons."""
    ash = finished(stage)
    with part("front-stretchers"):
        for k, z in enumerate(FRONT_RUNGS):
            wood = finished(stage, shake=True) if k == 0 else ash
            turning("front stretcher", fancy_rung_profile(), (-FRONT_X, FRONT_Y, z), (FRONT_X - POST * 0.8, FRONT_Y, z), wood,
                    parent=root)
            turning("tenon", [(0, 0.0080), (1, 0.0076)], (FRONT_X - POST * 0.8, FRONT_Y, z), (FRONT_X + 0.006, FRONT_Y, z),
                    tenon_wood(), 24, parent=root)
    with part("side-stretchers"):
        for x in (-1, 1):
            for z in SIDE_RUNGS:
                start = Vector((x * FRONT_X, FRONT_Y, z))
                end = Vector((x * BACK_X, back_y(z), z))
                way = (end - start).normalized()
                turning("side stretcher", plain_rung_profile(), start + way * POST * 0.8, end, ash, parent=root)
                turning("tenon", [(0, 0.0076), (1, 0.0078)], start - way * 0.004, start + way * POST * 0.8, tenon_wood(), 24,
                        parent=root)
    with part("back-stretcher"):
        turning("back stretcher", plain_rung_profile(), (-BACK_X, back_y(BACK_RUNG), BACK_RUNG),
                (BACK_X, back_y(BACK_RUNG), BACK_RUNG), ash, parent=root)


def bare_rail():
    return surfaces.wood("ash-clean", 0.75, dirt=0.35)


def corners():
    """The four seat rails as pairs of points, walking round the seat: front, right, back, left."""
    fl, fr = Vector((-FRONT_X, FRONT_Y, SEAT)), Vector((FRONT_X, FRONT_Y, SEAT))
    br, bl = Vector((BACK_X, back_y(SEAT), SEAT)), Vector((-BACK_X, back_y(SEAT), SEAT))
    return [(fl, fr), (fr, br), (br, bl), (bl, fl)]


# --- the seat ----------------------------------------------------------------------------------------

OLD_RUSH = (((0.150, 0.098, 0.048), (0.052, 0.034, 0.018)),)
NEW_RUSH = (((0.410, 0.315, 0.155), (0.190, 0.142, 0.062)), ((0.385, 0.312, 0.150), (0.172, 0.140, 0.060)),
            ((0.440, 0.332, 0.168), (0.205, 0.147, 0.066)))


def rush(name, light, dark, greenish):
    """A strand twisted from two rushes: long blades, slightly uneven, glossy where they are flat."""
    def describe(n):
        spiral = n.math("ADD", n.math("MULTIPLY", n.stored("along"), 190.0), n.math("MULTIPLY", n.stored("around"), 1.0))
        twist = n.math("MULTIPLY_ADD", n.math("SINE", spiral), 0.5, 0.5)
        blade = n.noise(n.join(n.math("MULTIPLY", n.stored("along"), 16.0), n.math("MULTIPLY", n.stored("around"), 1.4),
                               n.math("MULTIPLY", n.stored("seed"), 90.0)), 1.0, 3.0, 0.6)
        line = n.noise(n.join(n.math("MULTIPLY", n.stored("along"), 30.0), n.math("MULTIPLY", spiral, 1.8), 0.0), 1.0, 2.0, 0.6)
        amount = n.math("ADD", n.math("MULTIPLY", n.math("SUBTRACT", 1.0, twist), 0.40), n.math("MULTIPLY", line, 0.45))
        colour = n.shade(n.mix(amount, light, dark), n.math("MULTIPLY_ADD", blade, 0.9, 0.55))
        # A rush is greener towards its tip.
        green = n.noise(n.join(n.math("MULTIPLY", n.stored("along"), 5.0), n.math("MULTIPLY", n.stored("seed"), 70.0), 0.0),
                        1.0, 1.0)
        green = n.math("MULTIPLY", n.step(green, 0.42, 0.70), 0.32 if greenish else 0.0)
        colour = n.mix(green, colour, n.mix(1.0, colour, (0.80, 1.0, 0.72), "MULTIPLY"))
        return colour, 0.55, n.math("MULTIPLY", twist, 0.0006)
    return surfaces.material(name, describe, tuple((a + b) / 2 for a, b in zip(light, dark)), shine=0.35)


def seat(root, stage):
    """Strands run over each rail towards the middle and meet on the diagonals."""
    torn = stage == "old"
    middle = Vector((0, (FRONT_Y + back_y(SEAT)) / 2 + 0.008, SEAT))
    radius = 0.0034 if torn else 0.0036
    kinds = [rush(f"{stage} rush {k}", *pair, greenish=not torn) for k, pair in enumerate(OLD_RUSH if torn else NEW_RUSH)]
    bundles, broken = [[] for _ in kinds], []
    for k, (a, b) in enumerate(corners()):
        count = int((b - a).length / (radius * 2.04))
        for i in range(count):
            t = (i + 0.5) / count
            if not 0.035 < t < 0.965:
                continue
            start = a + (b - a) * t
            share = min(t, 1 - t) * 2            # how far the strand runs towards the middle
            near = a if t < 0.5 else b
            path = over_the_rail(start, near + (middle - near) * share, radius)
            if torn:
                path = [p - Vector((0, 0, slump(p))) for p in path]
            if torn and breaks(k, t):
                broken.append(snapped(path, shapes.chance))
            else:
                bundles[shapes.chance.randrange(len(kinds))].append(path)
    for kind, paths in zip(kinds, bundles):
        cords("seat", paths, radius, kind, parent=root)
    if broken:
        cords("broken strands", broken, radius * 0.9, kinds[0], parent=root)
    lower_layer(root, torn, radius, kinds[0])


def lower_layer(root, torn, radius, kind):
    """The strands below close the view to the floor; in the old seat they too have gone under the hole."""
    if not torn:
        shade = surfaces.cord("lower rush", (0.20, 0.17, 0.085), (0.10, 0.085, 0.04))
        shapes.outline("lower layer", [(-0.185, -0.170), (0.185, -0.170), (0.150, 0.165), (-0.150, 0.165)], 0.004,
                       (0, 0, SEAT - 0.006), shade, bevel=0, parent=root)
        return
    under = []
    for i in range(34):
        x = -0.180 + 0.0109 * i
        if -0.085 < x < 0.030:
            continue
        line = [Vector((x, -0.175 + 0.34 * s / 12, SEAT - 0.010)) for s in range(13)]
        under.append([p - Vector((0, 0, slump(p) * 1.05)) for p in line])
    cords("lower layer", under, radius, kind, parent=root)


def over_the_rail(start, end, radius):
    """From under the rail, round its outside, over its top and down a little to the diagonal."""
    inward = end - start
    inward.z = 0
    reach = inward.length
    inward.normalize()
    rail = 0.009 + radius
    path = []
    for k in range(9):
        a = math.radians(-80 + 170 * k / 8)
        path.append(start - inward * rail * math.cos(a) + Vector((0, 0, rail * math.sin(a))))
    wobble = shapes.chance.uniform(-0.0006, 0.0006)
    for k in range(1, 13):
        s = k / 12
        path.append(start + inward * reach * s + Vector((0, 0, rail - 0.004 * s ** 3 + wobble)))
    path.append(path[-1] + inward * 0.003 - Vector((0, 0, 0.008)))
    return path


def slump(p):
    """How far the old seat has sunk at a point."""
    away = ((p.x - 0.005) / 0.17) ** 2 + ((p.y + 0.02) / 0.14) ** 2
    return 0.050 * max(0.0, 1 - away * 0.62) ** 1.4 if away < 1.61 else 0.0


def breaks(k, t):
    """Which strands have given way: most of the front, left of the middle, and a few of the left side."""
    return (k == 0 and 0.28 < t < 0.60) or (k == 3 and 0.42 < t < 0.60 and shapes.chance.random() < 0.7)


def snapped(path, chance):
    """A broken strand: it ends early and its loose end bends and hangs."""
    path = path[:chance.randint(10, 15)]
    way = (path[-1] - path[-2]).normalized()
    point, fall = path[-1], 0.0
    drift = Vector((chance.uniform(-0.5, 0.5), chance.uniform(-0.3, 0.3), 0))
    for _ in range(chance.randint(5, 9)):
        fall += chance.uniform(0.05, 0.16)
        way = (way + drift * 0.16 + Vector((0, 0, -fall * 0.8))).normalized()
        point = point + way * 0.008
        path.append(point)
    return path


def named_points(root):
    points = {name: placed(p) for name, p in LANDMARKS.items()}
    points["torn seat"] = Vector((-0.035, -0.085, SEAT + 0.015))
    points["open joint"] = Vector((FRONT_X + 0.004, FRONT_Y - 0.012, FRONT_RUNGS[1]))
    points["lower open joint"] = Vector((FRONT_X + 0.006, FRONT_Y - 0.012, FRONT_RUNGS[0]))
    z = FRONT_RUNGS[0] + 0.003
    points["shake, left end"] = Vector((-FRONT_X + SHAKE[0], FRONT_Y - 0.016, z))
    points["shake, right end"] = Vector((-FRONT_X + SHAKE[1], FRONT_Y - 0.016, z))
    points["shake"] = Vector((-FRONT_X + sum(SHAKE) / 2, FRONT_Y - 0.018, z))
    points["new seat"] = Vector((0.02, -0.08, SEAT + 0.012))
    points["front seat rail"] = Vector((0.0, FRONT_Y, SEAT + 0.009))
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


# --- the photographs ---------------------------------------------------------------------------------

def standing(stage, seat_stage, turn=-24.0, things=workshop.EVERYTHING):
    def scene():
        workshop.room(things=things, bench=1.20)
        return build(stage, turn=turn, seat_stage=seat_stage)
    return scene


def apart():
    """On the bench: the right front leg, four stretchers out of it with glue on their tenons, a scraper, crumbs."""
    workshop.room(wall=0.95, bench=0.2, things=("rack", "shelf"))
    workshop.bench(top=0.86, depth=0.85, things=True)
    shapes.chance.seed(83)
    ash = finished("before")
    top = 0.86
    leg = pivot((-0.02, -0.30, top + 0.0205), 7.0)
    turning("front leg", front_leg_profile(), (-0.235, 0, 0), (0.223, 0, 0), ash, parent=leg)
    socket = surfaces.plain("socket", (0.010, 0.007, 0.005), 0.95)
    for z in FRONT_RUNGS:
        turning("socket", [(0, 0.0082), (1, 0.0082)], (-0.235 + z, 0, 0.0178), (-0.235 + z, 0, 0.0188), socket, parent=leg)
    turning("socket", [(0, 0.0088), (1, 0.0088)], (-0.235 + SEAT, 0, 0.0176), (-0.235 + SEAT, 0, 0.0186), socket, parent=leg)
    for z in (*SIDE_RUNGS, SEAT):
        turning("socket", [(0, 0.0082), (1, 0.0082)], (-0.235 + z, -0.0178, 0.004), (-0.235 + z, -0.0188, 0.004), socket,
                parent=leg)
    for k, (profile, long, y, turn, high) in enumerate((
            (fancy_rung_profile(), 0.41, -0.205, 4.0, 0.0185), (fancy_rung_profile(), 0.41, -0.125, -3.0, 0.0185),
            (plain_rung_profile(), 0.365, -0.055, 3.0, 0.0130), (plain_rung_profile(), 0.365, 0.000, -2.0, 0.0130))):
        stick = pivot((-0.05 + 0.02 * k, y, top + high), turn)
        turning("stretcher", profile, (-long / 2, 0, 0), (long / 2, 0, 0),
                finished("before", shake=True) if k == 0 else ash, parent=stick)
        for side in (-1, 1):
            turning("tenon", [(0, 0.0079), (1, 0.0074)], (side * long / 2, 0, 0), (side * (long / 2 + 0.024), 0, 0),
                    tenon_wood(), 24, parent=stick)
    for _ in range(46):
        x, y = shapes.chance.uniform(0.14, 0.34), shapes.chance.uniform(-0.30, 0.0)
        board("crumb of glue", (shapes.chance.uniform(0.002, 0.006), 0.0025, 0.0016), (x, y, top + 0.0009),
              surfaces.plain("glue crumb", (0.11, 0.055, 0.018), 0.4), shapes.chance.choice("xy"), "z", 0.0003)
    tools.chisel_lying(pivot((0.36, -0.24, top), 118))
    bpy.context.view_layer.update()
    return {"tenon": Vector((0.1665, -0.190, top + 0.0185)), "leg": Vector((-0.02, -0.30, top + 0.04)),
            "socket": leg.matrix_world @ Vector((-0.235 + FRONT_RUNGS[1], 0, 0.019))}


def glued_again(things=workshop.EVERYTHING):
    """No seat, joints home: a bar clamp across the front, another along the right side; the glue pot beside it."""
    workshop.room(things=things, bench=1.20)
    points = build("after", turn=-24.0)
    root = pivot((0, 0, 0), -24.0)
    across = pivot((-FRONT_X - 0.0190, FRONT_Y - 0.030, 0.232), 0.0, parent=root)
    workshop.clamp(pivot((0, 0, 0), 90.0, "x", parent=across), 2 * (FRONT_X + 0.0190), throat=0.052, bar=0.62)
    way = Vector((BACK_X - FRONT_X, back_y(0.2) - FRONT_Y, 0))
    along = pivot((FRONT_X + 0.030, FRONT_Y - 0.0195, 0.205), math.degrees(math.atan2(way.y, way.x)), parent=root)
    workshop.clamp(pivot((0, 0, 0), -90.0, "x", parent=along), way.length + 0.038, throat=0.048, bar=0.60)
    tools.glue_pot((-0.46, -0.12, 0.0))
    bpy.context.view_layer.update()
    return points


def bare_frame():
    """The seat frame before it was woven: four rails, nothing on them."""
    workshop.room(bench=1.20)
    return build("after", turn=-24.0)


PIECE = "rush-chair"
# The chair came on a dull afternoon in January.
DULL = dict(power=125.0, fill=0.45, colour=(0.86, 0.93, 1.0))
FRONT = ("torn seat", "open joint", "shake")
SHOTS = [
    Shot(PIECE, "before-front", "2026-01-08 14:31:20", standing("before", "old"), (0.12, -2.20, 1.02),
         (0.03, 0.0, 0.450), 70, 4.0, (0, -0.15, 0.5), TALL, 0.8, DULL, 0.2, orientation=6, marks=FRONT),
    Shot(PIECE, "before-seat", "2026-01-08 14:36:02", standing("before", "old"), (-0.02, -0.80, 0.98),
         (-0.01, -0.03, 0.415), 48, 5.6, None, CLOSE, 0.0, DULL, 0.35, marks=("torn seat",)),
    Shot(PIECE, "before-joint", "2026-01-08 14:40:47", standing("before", "old"), (-0.12, -0.92, 0.37),
         (0.085, -0.265, 0.240), 70, 5.0, (0.115, -0.28, 0.23), CLOSE, -0.6, DULL, 0.35, marks=("open joint", "lower open joint")),
    Shot(PIECE, "during-apart", "2026-01-10 11:12:25", apart, (-0.10, -1.02, 1.44), (0.02, -0.165, 0.87), 52, 5.6, None,
         CLOSE, 0.7, marks=("tenon", "leg", "socket"), exposure=0.15),
    Shot(PIECE, "during-gluing", "2026-01-24 17:14:55", glued_again, (0.22, -1.62, 0.84), (0.03, -0.05, 0.310), 50, 4.5,
         (0.05, -0.25, 0.25), CLOSE, -0.8),
    Shot(PIECE, "hidden-rails", "2026-02-14 09:20:18", bare_frame, (0.06, -0.95, 1.06), (0.01, -0.02, 0.425), 50, 5.0,
         None, CLOSE, 0.5, orientation=8, marks=("front seat rail",)),
    Shot(PIECE, "after-front", "2026-03-02 11:02:34", standing("after", "new"), (0.07, -2.25, 1.05),
         (0.02, 0.0, 0.452), 72, 4.0, (0, -0.15, 0.5), TALL, -0.5, marks=FRONT, outlines=True),
    Shot(PIECE, "after-seat", "2026-03-02 11:06:10", standing("after", "new"), (-0.03, -0.42, 1.18),
         (0.00, -0.015, 0.430), 50, 5.6, None, CLOSE, 0.6, marks=("new seat",)),
    Shot(PIECE, "after-shake", "2026-03-02 11:12:51", standing("after", "new"), (-0.22, -0.72, 0.36),
         (-0.125, -0.12, 0.185), 70, 5.0, (-0.14, -0.13, 0.165), CLOSE, -0.4, marks=("shake", "shake, left end", "shake, right end")),
]
