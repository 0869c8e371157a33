"""Tall open elm shelves: 860 wide, 280 deep, 1760 high.

Two sides; a top, a middle and a bottom board housed in them; three loose shelves on cleats; a plinth rail;
five back boards in rebates, held by thirty nails. It came leaning, with one loose shelf sagged.
"""

import bpy
from mathutils import Matrix, Vector

import fittings
import shapes
import surfaces
import workshop
from fittings import nail_head, screw_head, steady
from shapes import board, outline, part, pivot
from shot import CLOSE, TALL, Shot

PIECE = "open-shelves"
WIDTH, DEPTH, HEIGHT = 0.860, 0.280, 1.760
SIDE, FIXED, LOOSE = 0.022, 0.020, 0.018
INNER = WIDTH - 2 * SIDE
FACE = -DEPTH / 2
TOP, MIDDLE, BOTTOM = 1.745, 0.800, 0.105          # upper faces of the housed boards
SHELVES = (0.440, 1.110, 1.420)                    # upper faces of the loose shelves, the first is the sagged one
SHELF = (INNER - 0.004, 0.250)                     # length and width of a loose shelf
LEAN = 0.024                                       # how far the top stood out of true
SAG, CROWN = 0.009, 0.004
BATTEN = (0.770, 0.040, 0.020)
BACK = (0.158, 0.175, 0.166, 0.171, 0.162)         # widths of the back boards, as seen from the front, left to right
BRIGHT = {(0, 1, 0), (1, 0, 1), (1, 2, 0), (2, 2, 1), (3, 0, 0), (4, 1, 1)}   # nails that are new: board, row, side

LANDMARKS = {
    "left side, top": (-WIDTH / 2, FACE, HEIGHT),
    "right side, top": (WIDTH / 2, FACE, HEIGHT),
    "left side, foot": (-WIDTH / 2, FACE, 0.04),
    "right side, foot": (WIDTH / 2, FACE, 0.0),
    "bottom board, left end": (-INNER / 2, FACE + 0.004, BOTTOM),
    "bottom board, right end": (INNER / 2, FACE + 0.004, BOTTOM),
    "middle board, left end": (-INNER / 2, FACE + 0.004, MIDDLE),
    "middle board, right end": (INNER / 2, FACE + 0.004, MIDDLE),
    "upper shelf, left end": (-INNER / 2, FACE + 0.012, SHELVES[2]),
    "upper shelf, right end": (INNER / 2, FACE + 0.012, SHELVES[2]),
}


def elm(stage, ring=None, below=False):
    """Old elm: stains that stay, and before the work a film of dust and grease as well.

    `ring` is where a paint tin stood on the face; `below` leaves the own underside bare and pale, never finished.
    """
    clean = stage == "after"
    def describe(n):
        colour, height = surfaces.grain(n, figure=1.5, **surfaces.WOODS["elm-waxed" if clean else "elm-dull"])
        place = n.vector("ADD", n.place(), n.vector("MULTIPLY", n.stored("seed", "Vector"), (7.0, 7.0, 7.0)))
        cloud = n.noise(n.vector("MULTIPLY", place, (3.0, 9.0, 9.0)), 1.0, 4.0, 0.6)
        stain = n.math("MULTIPLY", n.step(cloud, 0.60, 0.72), 0.45)
        colour = n.mix(stain, colour, (0.060, 0.036, 0.020))
        worn = n.math("MULTIPLY", n.step(n.edge_distance(), 0.007, 0.0), 0.35)
        colour = n.mix(worn, colour, (0.34, 0.22, 0.125))
        rough = 0.40
        if not clean:
            film = n.noise(n.vector("MULTIPLY", place, (5.0, 7.0, 7.0)), 1.0, 5.0, 0.65)
            film = n.math("MULTIPLY_ADD", n.step(film, 0.36, 0.66), 0.42, 0.12)
            colour = n.mix(film, colour, (0.115, 0.098, 0.078))
            rough = 0.78
        if ring:
            mark = surfaces.ring(n, ring, 0.054, 0.0035)
            colour = n.mix(mark, colour, (0.36, 0.46, 0.42))
        if below:
            _, _, z = n.split(n.place())
            raw, _ = surfaces.grain(n, figure=1.5, **dict(surfaces.WOODS["elm-waxed"], light=(0.47, 0.315, 0.175),
                                                          dark=(0.34, 0.205, 0.105)))
            under = n.step(z, 0.0, -0.004)
            # Where its cleats were, before it was turned.
            x, y, _ = n.split(n.vector("ABSOLUTE", n.place()))
            rested = n.math("MULTIPLY", n.step(x, SHELF[0] / 2 - 0.0135, SHELF[0] / 2 - 0.0125), n.step(y, 0.1105, 0.1095))
            raw = n.mix(n.math("MULTIPLY", rested, 0.45), raw, (0.10, 0.062, 0.034))
            colour, rough = n.mix(under, colour, raw), n.blend(under, rough, 0.5 if clean else 0.85)
        return colour, rough, None
    return surfaces.material(f"elm {clean} {ring} {below}", describe,
                             surfaces.mean_of("elm-waxed" if clean else "elm-dull"))


def build(stage, at=(0, 0, 0), turn=0.0, back=True, shelves=True, lean=0.0):
    """The case; `stage` is before or after, `lean` how far its top stands to the right, in metres."""
    root = pivot(at, turn)
    wood = elm(stage)
    for side in (-1, 1):
        upright(root, side, wood)
    for name, level, wide, skin in (("top", TOP, 0.262, wood), ("middle", MIDDLE, 0.262, wood),
                                    ("bottom", BOTTOM, 0.262, elm(stage, (0.20, -0.035)))):
        steady(PIECE, name)
        with part(name):
            board(name, (INNER, wide, FIXED), (0, FACE + 0.004 + wide / 2, level - FIXED / 2), skin, parent=root)
    steady(PIECE, "plinth")
    with part("plinth"):
        board("plinth", (INNER, BOTTOM - FIXED, 0.018), (0, FACE + 0.024, (BOTTOM - FIXED) / 2), wood, "x", "-y",
              parent=root)
    cleats(root, wood)
    if shelves:
        for k in range(len(SHELVES)):
            loose(root, k, stage)
    if back:
        back_boards(root, stage)
    shear(root, lean)
    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["sagged shelf"] = (0.0, FACE + 0.012, SHELVES[0] - (SAG if stage == "before" else -CROWN) - LOOSE / 2)
    points["turned shelf"] = (0.0, FACE + 0.06, SHELVES[0] + CROWN)
    points["leaning side"] = (-WIDTH / 2, -0.04, 1.30)
    points["paint ring"] = (0.20 - 0.030, FACE + 0.004 + 0.131 - 0.080, BOTTOM)
    points["chipped corner"] = (-WIDTH / 2 + SIDE / 2, FACE + 0.006, 0.022)
    points["slipped board"] = (back_middle(1), DEPTH / 2 - 0.016, 1.27)
    points["batten"] = (-0.10, DEPTH / 2 - 0.045, SHELVES[0] - LOOSE - 0.020 + CROWN)
    points["new nail"] = (back_middle(0) - 0.045, DEPTH / 2, MIDDLE - FIXED / 2)
    return {name: root.matrix_world @ sheared(lean) @ Vector(p) for name, p in points.items()}


def sheared(lean):
    """Pushes points to the right the higher they are; the floor stays."""
    push = Matrix.Identity(4)
    push[0][2] = lean / HEIGHT
    return push


def shear(root, lean):
    """The same for everything that hangs on `root`, even where turning and stretching could not do it."""
    if lean:
        for thing in root.children:
            thing.matrix_parent_inverse = sheared(lean)


def upright(root, side, wood):
    """A side; the left one has lost a chip from its lower front corner."""
    low, high, front, rear = -HEIGHT / 2, HEIGHT / 2, FACE, DEPTH / 2
    points = [(low, front), (low, rear), (high, rear), (high, front)]
    if side < 0:
        points = [(low, front + 0.017), (low, rear), (high, rear), (high, front), (low + 0.036, front),
                  (low + 0.027, front + 0.009), (low + 0.011, front + 0.012)]
    flat = points if side < 0 else [(z, -y) for z, y in points]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(flat, flat[1:] + flat[:1]))
    name = "side-left" if side < 0 else "side-right"
    steady(PIECE, name)
    with part(name):
        outline(name, flat if area > 0 else flat[::-1], SIDE, (side * (WIDTH / 2 - SIDE / 2), 0, HEIGHT / 2), wood, "z",
                "x" if side > 0 else "-x", 0.002, parent=root)


def cleats(root, wood):
    """Two cleats under each loose shelf, two slotted screws in each."""
    dull = surfaces.iron()
    for k, level in enumerate(SHELVES):
        for side in (-1, 1):
            steady(PIECE, f"cleat {k} {side}")
            x = side * (INNER / 2 - 0.0075)
            with part("cleats"):
                board("cleat", (0.220, 0.024, 0.015), (x, 0.0, level - LOOSE - 0.012), wood, "y", "x" if side < 0 else "-x",
                      0.0015, parent=root)
                for y in (-0.075, 0.075):
                    screw_head((x - side * 0.0077, y, level - LOOSE - 0.012), (-side, 0, 0), 0.0040, dull, 40 + 70 * k, root)


def loose(root, k, stage):
    """A loose shelf on its cleats. The first is bent, and after the work lies the other side up on a batten."""
    steady(PIECE, f"shelf {k}")
    middle = (0, FACE + 0.008 + SHELF[1] / 2, SHELVES[k] - LOOSE / 2)
    size = (*SHELF, LOOSE)
    if k:
        with part("shelves"):
            board("shelf", size, middle, elm(stage), parent=root)
        return
    with part("shelf-turned"):
        if stage == "before":
            board("sagged shelf", size, middle, elm(stage, below=True), sag=SAG, parent=root)
            return
        board("turned shelf", size, middle, elm(stage, below=True), face="-z", sag=CROWN, parent=root)
    steady(PIECE, "batten")
    with part("batten"):
        bent_batten((0, middle[1] + SHELF[1] / 2 - BATTEN[2] / 2, SHELVES[0] - LOOSE - BATTEN[1] / 2), -CROWN, root)


def bent_batten(at, sag, root):
    """The oak batten, which gave way to the shelf by as much as the shelf to it."""
    length, high, thick = BATTEN
    board("batten", (length, thick, high), at, surfaces.wood("oak-bare", 0.5), bevel=0.0015,
          sag=sag * (length / SHELF[0]) ** 2, parent=root)


def back_middle(k):
    """Where the middle of a back board is, across the case."""
    return -sum(BACK) / 2 + sum(BACK[:k]) + BACK[k] / 2


def back_skin(stage):
    def describe(n):
        colour, _ = surfaces.grain(n, **surfaces.WOODS["elm-dull"])
        place = n.vector("ADD", n.place(), n.vector("MULTIPLY", n.stored("seed", "Vector"), (5.0, 5.0, 5.0)))
        film = n.step(n.noise(place, 5.0, 5.0, 0.62), 0.40, 0.74)
        colour = n.mix(n.math("MULTIPLY", film, 0.40 if stage == "before" else 0.22), colour, (0.070, 0.052, 0.036))
        return n.shade(colour, 0.80), 0.72, None
    return surfaces.material(f"back {stage}", describe, surfaces.mean_of("elm-dull"))


def back_boards(root, stage):
    """Five boards in the rebates; before the work two had slipped. Nails only where something is behind."""
    skin, old, new = back_skin(stage), surfaces.iron(), surfaces.plain("bright nail", (0.46, 0.45, 0.43), 0.35, metal=0.9)
    low, high = BOTTOM - FIXED, HEIGHT - 0.012
    for k, wide in enumerate(BACK):
        slipped = stage == "before" and k in (1, 3)
        here = pivot((back_middle(k), DEPTH / 2 - 0.006, (low + high) / 2 - (0.030 if k == 1 else 0.012) * slipped),
                     (0.55 if k == 1 else -0.35) * slipped, "y", parent=root)
        steady(PIECE, f"back {k}")
        with part("back"):
            board("back board", (high - low, wide - 0.0014, 0.010), (0, 0, 0), skin, "z", "-y", 0.001, parent=here)
            if stage == "after" and k < len(BACK) - 1:
                # Where they are home, each laps the next.
                board("lap", (high - low, 0.012, 0.004), (wide / 2, 0, 0), skin, "z", "-y", 0, parent=here)
        if stage == "before":
            continue
        for row, level in enumerate((BOTTOM - FIXED / 2, MIDDLE - FIXED / 2, TOP - FIXED / 2)):
            for side, x in enumerate((-0.045, 0.045)):
                fresh = (k, row, side) in BRIGHT
                steady(PIECE, f"nail {k} {row} {side}")
                nail_head((back_middle(k) + x + shapes.chance.uniform(-0.006, 0.006), DEPTH / 2 - 0.001,
                           level + shapes.chance.uniform(-0.004, 0.004)), (0, 1, 0), 0.0040 if fresh else 0.0044,
                          new if fresh else old, root)
        numeral(k, here)


def numeral(k, parent):
    """The board's number in chalk strokes on its outer face, counted from the left as seen from behind."""
    white = fittings.chalk()
    count = 5 - k
    for stroke in range(count if count < 5 else 4):
        x = 0.018 * (stroke - (min(count, 4) - 1) / 2)
        fittings.stroke((-x, 0.0053, 0.300), (-x - 0.005, 0.0053, 0.375), 0.0045, "y", white, parent)
    if count == 5:
        fittings.stroke((-0.040, 0.0054, 0.318), (0.040, 0.0054, 0.360), 0.0045, "y", white, parent)


def standing(stage, turn=18.0, lean=0.0, at=(0, 0.20, 0), back=True, **room):
    def scene():
        workshop.room(**room)
        return build(stage, turn=turn, at=at, lean=lean, back=back)
    return scene


def sagged():
    """The case as it came, a straight-edge laid along the sagged shelf and a steel rule stood in the gap."""
    workshop.room()
    points = build("before", turn=18.0, at=(0, 0.20, 0), lean=LEAN)
    laid(SHELVES[0], -0.085, SAG)
    return points


def unsagged():
    """The turned shelf empty, the straight-edge balanced on its crown."""
    workshop.room()
    points = build("after", turn=18.0, at=(0, 0.20, 0))
    laid(SHELVES[0] + CROWN, -0.085, CROWN)
    return points


def laid(level, y, gap):
    """The straight-edge on edge along a shelf, and a steel rule standing before it in the middle."""
    root = pivot((LEAN * level / HEIGHT if gap == SAG else 0, 0.20, 0), 18.0)
    steady(PIECE, "straight-edge")
    fittings.straight_edge(0.800, (-0.400, y, level + 0.0225), (1, 0, 0), "-y", root)
    foot = level - SAG if gap == SAG else level
    # Its zero stands on the shelf.
    up = pivot((0.010, y - 0.006, foot), 90, "x", parent=root)
    fittings.steel_rule(pivot((0, 0, 0), 90, "z", parent=up))


def pulled_square():
    """The case from behind, its back boards off and leaning by, a long clamp across the longer diagonal."""
    workshop.room()
    turn = 158.0
    points = build("before", turn=turn, at=(0, 0.20, 0), back=False, shelves=False, lean=LEAN * 0.25)
    root = pivot((0, 0.20, 0), turn)
    # Seen from the front it leans to the right: its longer diagonal runs from lower left to upper right.
    low, high = Vector((-WIDTH / 2, 0, 0.0)), Vector((WIDTH / 2 + LEAN * 0.25, 0, HEIGHT))
    way = (high - low).normalized()
    frame = shapes.frame(way, "y", low + Vector((0, DEPTH / 2 + 0.028, 0)))
    empty = pivot((0, 0, 0), parent=root)
    empty.matrix_local = frame
    workshop.clamp(empty, (high - low).length + 0.004, throat=0.075, bar=(high - low).length + 0.24)
    skin = back_skin("after")
    for k, wide in enumerate(BACK):
        here = pivot((0.70 + 0.186 * (4 - k), 1.000, 0.0), -9, "x")
        face = pivot((0, 0, 0.83), 180, parent=here)
        steady(PIECE, f"back {k}")
        board("back board", (HEIGHT - 0.012 - BOTTOM + FIXED, wide - 0.0014, 0.010), (0, 0, 0), skin, "z", "-y", 0.001,
              parent=face)
        numeral(k, face)
    return points


def batten_on():
    """The sagged shelf on the bench, its old upper face up, the oak batten glued along the back edge under six clamps."""
    workshop.room()
    workshop.bench(top=0.86, depth=0.85, things=True)
    root = pivot((0.02, -0.06, 0.86), -16.0)
    steady(PIECE, "shelf 0")
    # The far edge of the shelf is its back; it lies on two bearers so that clamps can reach under.
    lift = 0.030
    board("turned shelf", (*SHELF, LOOSE), (0, 0, lift + LOOSE / 2), elm("before", below=True), sag=CROWN, parent=root)
    steady(PIECE, "batten")
    back = SHELF[1] / 2 - BATTEN[2] / 2
    bent_batten((0, back, lift + LOOSE + BATTEN[1] / 2 - 0.0004), CROWN, root)
    for x in (-0.37, 0.37):
        steady(PIECE, f"bearer {x}")
        board("bearer", (0.30, 0.040, lift), (x, 0, lift / 2), surfaces.wood("pine-old", 0.7), "y", "z", 0.002, parent=root)
    for x in (-0.30, -0.18, -0.06, 0.06, 0.18, 0.30):
        hold = pivot((0, 0, 0), parent=root)
        down = CROWN * (1 - (2 * x / SHELF[0]) ** 2)
        hold.matrix_local = shapes.frame("z", "y", (x, back + 0.054, lift - down))
        workshop.clamp(hold, LOOSE + BATTEN[1], throat=0.062, bar=0.24)
    bpy.context.view_layer.update()
    return {"batten": root.matrix_world @ Vector((-0.12, back - 0.010, lift + LOOSE + 0.020))}


FRONT = ("paint ring", "chipped corner")
SHOTS = [
    Shot(PIECE, "before-front", "2026-08-17 09:20:14", standing("before", lean=LEAN), (-0.26, -3.05, 1.30),
         (0.02, 0.2, 0.872), 46, 4.0, (0, 0.1, 0.9), TALL, 0.5, exposure=0.2,
         marks=(*FRONT, "sagged shelf", "leaning side", "slipped board")),
    Shot(PIECE, "before-shelf", "2026-08-17 09:31:40", sagged, (0.02, -0.80, 0.490),
         (0.005, 0.10, 0.462), 37, 5.6, (0, 0.1, 0.45), CLOSE, exposure=0.35, marks=("sagged shelf",)),
    Shot(PIECE, "during-square", "2026-09-02 14:05:19", pulled_square, (-0.30, -3.00, 1.35), (0.12, 0.3, 0.872), 42, 5.6, None,
         TALL, 0.3, exposure=0.3),
    Shot(PIECE, "during-batten", "2026-09-08 16:45:03", batten_on, (-0.34, -0.92, 1.34), (0.02, 0.00, 0.90), 42, 5.6,
         (0.0, 0.02, 0.9), CLOSE, marks=("batten",)),
    Shot(PIECE, "hidden-back", "2026-10-06 10:08:27", standing("after", turn=170.0), (-0.12, -3.05, 1.28), (0.02, 0.2, 0.872),
         46, 5.6, None, TALL, exposure=0.3, marks=("new nail",)),
    Shot(PIECE, "after-front", "2026-10-06 10:15:58", standing("after"), (-0.34, -3.10, 1.33),
         (0.01, 0.2, 0.872), 47, 4.0, (0, 0.1, 0.9), TALL, -0.4, exposure=0.15, orientation=8,
         marks=(*FRONT, "turned shelf"), outlines=True),
    Shot(PIECE, "after-shelf", "2026-10-06 10:19:33", unsagged, (-0.03, -0.82, 0.495),
         (0.00, 0.10, 0.465), 37, 5.6, (0, 0.1, 0.45), CLOSE, exposure=0.3, marks=("turned shelf",)),
    Shot(PIECE, "after-batten", "2026-10-06 10:27:05", standing("after"), (-0.12, -0.62, 0.205),
         (0.02, 0.20, 0.375), 34, 5.6, (0.0, 0.2, 0.40), CLOSE, exposure=0.7, marks=("batten",)),
]
