"""A painted pine blanket chest: 1000 wide, 480 deep, 520 high, strap hinges, a lock plate."""

import bpy
from mathutils import Vector

import shapes
import surfaces
import workshop
from shapes import board, moulding, outline, pivot, turning
from shot import CLOSE, WIDE, Shot

WIDTH, DEPTH, HEIGHT = 0.955, 0.440, 0.520
LID = 0.022
BODY = HEIGHT - LID
BOARD = 0.020
PLINTH = 0.092                     # height of the plain part; the moulding sits on it
FACE = -DEPTH / 2                  # the front of the body

PLINTH_CAP = [(0.012, 0.0), (0.020, 0.0), (0.020, 0.005), (0.0175, 0.008), (0.0165, 0.012), (0.0135, 0.018),
              (0.0085, 0.022), (0.0045, 0.025), (0.0035, 0.029), (0.0, 0.030)]
LID_EDGE = [(0.0, -0.022), (0.004, -0.022), (0.0075, -0.019), (0.010, -0.015), (0.0150, -0.011), (0.0150, -0.007),
            (0.018, -0.004), (0.0185, 0.0)]

# The broken corner: how much of the front and of the side moulding is gone.
LOST_FRONT, LOST_SIDE = 0.215, 0.110

LANDMARKS = {
    "lid, front left corner": (-WIDTH / 2 - 0.018, FACE - 0.018, HEIGHT),
    "lid, front right corner": (WIDTH / 2 + 0.018, FACE - 0.018, HEIGHT),
    "body, upper left": (-WIDTH / 2, FACE, BODY - 0.024),
    "body, upper right": (WIDTH / 2, FACE, BODY - 0.024),
    "plinth, upper left": (-WIDTH / 2, FACE - 0.012, PLINTH),
    "plinth, lower left": (-WIDTH / 2 - 0.012, FACE - 0.012, 0.0),
    "plinth, lower right": (WIDTH / 2 + 0.012, FACE - 0.012, 0.0),
    "lock plate, upper left": (-0.034, FACE - 0.003, 0.452),
    "lock plate, lower point": (0.0, FACE - 0.003, 0.356),
}


def old_paint():
    return surfaces.painted("old paint", "pine-weathered", (0.060, 0.060, 0.034), wear=0.60, edge=0.011, roughness=0.7,
                            tint=(0.088, 0.058, 0.032))


def new_paint():
    return surfaces.painted("milk paint", "pine-old", (0.082, 0.118, 0.135), wear=0.16, edge=0.0075, roughness=0.55,
                            flakes=False, thick=0.0001)


def build(stage, at=(0, 0, 0), turn=0.0, opened=0.0):
    """The chest; `stage` is before, bare (new moulding unpainted) or after; `opened` in degrees."""
    shapes.chance.seed(61)
    root = pivot(at, turn)
    paint = new_paint() if stage == "after" else old_paint()
    inside = surfaces.wood("pine-new", 0.6) if stage == "after" else surfaces.wood("pine-old", 0.7, dirt=0.4)
    iron = surfaces.iron()
    w, d = WIDTH, DEPTH

    # The front is glued up from two boards; one hairline shows between them.
    for low, high in ((0.0, 0.268), (0.2685, BODY)):
        board("front", (w, high - low, BOARD), (0, FACE + BOARD / 2, (low + high) / 2), paint, "x", "-y",
              parent=root)
        for x in (-1, 1):
            board("side", (d - 2 * BOARD, high - low, BOARD), (x * (w / 2 - BOARD / 2), 0, (low + high) / 2), paint,
                  "y", "x" if x > 0 else "-x", parent=root)
    lining(root, inside)
    back_boards(root, stage)
    board("bottom", (w - 0.04, d - 0.04, 0.016), (0, 0, 0.10), inside, parent=root)
    plinth(root, stage, paint)
    lid(root, stage, paint, inside, iron, opened)

    plate = [(-0.034, 0.048), (-0.034, -0.020), (-0.020, -0.034), (0.0, -0.048), (0.020, -0.034), (0.034, -0.020),
             (0.034, 0.048)]
    outline("lock plate", plate, 0.003, (0, FACE - 0.0015, 0.404), iron, "x", "-y", 0.0006, parent=root)
    dark = surfaces.plain("keyhole", (0.004, 0.004, 0.004), 0.9)
    turning("keyhole", [(0, 0.0055), (1, 0.0055)], (0, FACE - 0.001, 0.412), (0, FACE - 0.0036, 0.412), dark, 24, root)
    outline("keyhole slot", [(-0.0022, 0.0), (-0.0032, -0.019), (0.0032, -0.019), (0.0022, 0.0)], 0.001,
            (0, FACE - 0.0033, 0.411), dark, "x", "-y", 0, parent=root)
    for x in (-0.027, 0.027):
        for z in (0.444, 0.391):
            nail(root, iron, (x, FACE - 0.003, z), (0, -1, 0), 0.0035)

    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["missing moulding"] = (w / 2 - LOST_FRONT / 2, FACE - 0.006, PLINTH + 0.012)
    points["flaking paint"] = (0.20, -0.06, HEIGHT)
    points["lock plate"] = (0.0, FACE - 0.003, 0.404)
    points["strap hinge"] = (-0.30, 0.10, HEIGHT + 0.003)
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


def nail(root, iron, at, way, size=0.005):
    at, way = Vector(at), Vector(way)
    turning("nail", [(0, size), (0.5, size * 0.9), (1, size * 0.35)], at - way * 0.0005, at + way * size * 0.5, iron,
            16, parent=root)


def lining(root, inside):
    """A thin skin of the clean or dirty inner face; outside and inside of a board differ."""
    w, d = WIDTH / 2 - BOARD, DEPTH / 2 - BOARD
    for y, face in ((-d, "y"), (d, "-y")):
        for low, high in ((0.10, 0.300), (0.3005, BODY - 0.001)):
            board("inner face", (2 * w, high - low, 0.002), (0, y, (low + high) / 2), inside, "x", face, 0.0008,
                  parent=root)
    for x, face in ((-w, "x"), (w, "-x")):
        for low, high in ((0.10, 0.300), (0.3005, BODY - 0.001)):
            board("inner face", (2 * d, high - low, 0.002), (x, 0, (low + high) / 2), inside, "y", face, 0.0008,
                  parent=root)
    # A till at the left end, where small things lay to hand.
    board("till front", (2 * d, 0.11, 0.010), (-w + 0.15, 0, BODY - 0.085), inside, "y", "x", 0.001, parent=root)
    board("till bottom", (2 * d, 0.15, 0.008), (-w + 0.075, 0, BODY - 0.138), inside, "y", "z", 0.001, parent=root)


def back_boards(root, stage):
    """The back: three bare boards nailed on, never painted."""
    bare = surfaces.wood("pine-weathered", 0.8, dirt=0.6)
    iron = surfaces.iron()
    low = 0.0
    for width in (0.178, 0.150, 0.168):
        board("back board", (WIDTH, width, 0.018), (0, DEPTH / 2 - 0.009, low + width / 2), bare, "x", "y", 0.0015,
              parent=root)
        for x in (-0.455, -0.440, 0.447, 0.458):
            for k in (0.25, 0.72):
                nail(root, iron, (x + shapes.chance.uniform(-0.004, 0.004), DEPTH / 2,
                                  low + width * k + shapes.chance.uniform(-0.01, 0.01)), (0, 1, 0), 0.0036)
        low += width + 0.001


def plinth(root, stage, paint):
    w, d = WIDTH / 2, DEPTH / 2
    skirt = [(0.0, 0.0), (0.012, 0.0), (0.012, PLINTH), (0.0, PLINTH)]
    moulding("plinth front", skirt, (-w, -d, 0), (w, -d, 0), paint, parent=root)
    moulding("plinth right", skirt, (w, -d, 0), (w, d, 0), paint, (True, False), parent=root)
    moulding("plinth left", skirt, (-w, d, 0), (-w, -d, 0), paint, (False, True), parent=root)
    moulding("cap left", PLINTH_CAP, (-w, d, PLINTH), (-w, -d, PLINTH), paint, (False, True), parent=root)
    fresh = surfaces.wood("pine-new", 0.55)
    if stage == "after":
        moulding("cap front", PLINTH_CAP, (-w, -d, PLINTH), (w, -d, PLINTH), paint, parent=root)
        moulding("cap right", PLINTH_CAP, (w, -d, PLINTH), (w, d, PLINTH), paint, (True, False), parent=root)
        return
    moulding("cap front", PLINTH_CAP, (-w, -d, PLINTH), (w - LOST_FRONT, -d, PLINTH), paint, (True, False),
             parent=root)
    moulding("cap right", PLINTH_CAP, (w, -d + LOST_SIDE, PLINTH), (w, d, PLINTH), paint, (False, False), parent=root)
    if stage == "bare":
        moulding("new cap front", PLINTH_CAP, (w - LOST_FRONT + 0.0006, -d, PLINTH), (w, -d, PLINTH), fresh,
                 (False, True), parent=root)
        moulding("new cap right", PLINTH_CAP, (w, -d, PLINTH), (w, -d + LOST_SIDE - 0.0006, PLINTH), fresh,
                 (True, False), parent=root)
        return
    # Where the moulding was, the wood never saw paint; two nails still stand.
    bare = surfaces.wood("pine-weathered", 0.8, dirt=0.35)
    pale = [(0.0, 0.0), (0.0006, 0.0), (0.0006, 0.029), (0.0, 0.029)]
    moulding("ghost front", pale, (w - LOST_FRONT, -d, PLINTH), (w, -d, PLINTH), bare, bevel=0, parent=root)
    moulding("ghost right", pale, (w, -d, PLINTH), (w, -d + LOST_SIDE, PLINTH), bare, bevel=0, parent=root)
    ledge = [(0.0, 0.0), (0.012, 0.0), (0.012, 0.0006), (0.0, 0.0006)]
    moulding("ledge front", ledge, (w - LOST_FRONT, -d, PLINTH), (w, -d, PLINTH), bare, bevel=0, parent=root)
    moulding("ledge right", ledge, (w, -d, PLINTH), (w, -d + LOST_SIDE, PLINTH), bare, bevel=0, parent=root)
    for x in (w - 0.15, w - 0.04):
        turning("bent nail", [(0, 0.0013), (1, 0.0011)], (x, -d, PLINTH + 0.016),
                (x + 0.004, -d - 0.013, PLINTH + 0.019), surfaces.iron(), 10, root)


def lid(root, stage, paint, inside, iron, opened):
    hinge = pivot((0, DEPTH / 2, BODY), -opened, "x", parent=root)
    w, d = WIDTH / 2, DEPTH
    for low, high in ((0.0, 0.212), (0.2125, d)):
        board("lid", (2 * w, high - low, LID - 0.001), (0, -(low + high) / 2, LID / 2), paint, parent=hinge)
        board("lid underside", (2 * w - 0.03, high - low - 0.004, 0.0015), (0, -(low + high) / 2, -0.0002), inside,
              "x", "-z", 0.0006, parent=hinge)
    moulding("lid edge", LID_EDGE, (-w, -d, LID), (w, -d, LID), paint, parent=hinge)
    moulding("lid edge", LID_EDGE, (w, -d, LID), (w, 0, LID), paint, (True, False), parent=hinge)
    moulding("lid edge", LID_EDGE, (-w, 0, LID), (-w, -d, LID), paint, (False, True), parent=hinge)
    if opened:
        for x in (-0.36, 0.36):
            board("cleat", (d - 0.10, 0.045, 0.016), (x, -d / 2, -0.009), inside, "y", "-z", 0.003, parent=hinge)
    strap = [(-0.017, -0.13), (-0.014, 0.05), (-0.010, 0.13), (-0.016, 0.150), (-0.010, 0.166), (0.0, 0.176),
             (0.010, 0.166), (0.016, 0.150), (0.010, 0.13), (0.014, 0.05), (0.017, -0.13)]
    for x in (-0.30, 0.30):
        outline("strap hinge", [(p, -q) for p, q in strap], 0.003, (x, -0.13, LID + 0.0015), iron, "x", "z", 0.0008,
                parent=hinge)
        for y in (-0.035, -0.10, -0.17, -0.225, -0.286):
            nail(hinge, iron, (x, y, LID + 0.003), (0, 0, 1), 0.0048)
        turning("knuckle", [(0, 0.006), (1, 0.006)], (x - 0.022, 0.004, LID), (x + 0.022, 0.004, LID), iron, 20, hinge)
        board("strap on the back", (0.16, 0.034, 0.003), (x, DEPTH / 2 + 0.0015, BODY - 0.075), iron, "z", "y", 0.0008,
              parent=root)
        for z in (0.03, 0.08, 0.13):
            nail(root, iron, (x, DEPTH / 2 + 0.003, BODY - z), (0, 1, 0), 0.0048)


def standing(stage, tidy, turn=-24.0, opened=0.0, wall=0.95):
    def scene():
        workshop.room(wall=wall, tidy=tidy)
        return build(stage, turn=turn, opened=opened)
    return scene


FRONT = ("missing moulding", "flaking paint", "lock plate", "strap hinge")
PIECE = "blanket-chest"
SHOTS = [
    Shot(PIECE, "before-front", "2026-04-09 14:20:31", standing("before", False), (0.10, -2.20, 1.12),
         (0.00, 0.0, 0.245), 53, 5.6, (0.05, -0.2, 0.35), WIDE, 0.6, {"power": 165.0, "fill": 0.32}, marks=FRONT),
    Shot(PIECE, "before-lid", "2026-04-09 14:26:08", standing("before", False), (0.02, -0.62, 1.12),
         (0.10, -0.06, HEIGHT), 48, 5.6, None, CLOSE, marks=("flaking paint",)),
    Shot(PIECE, "hidden-back", "2026-04-10 09:12:40", standing("before", False, turn=163.0), (-0.06, -1.85, 0.92),
         (-0.02, 0.0, 0.25), 47, 5.6, (0, -0.2, 0.3), CLOSE, orientation=3),
    Shot(PIECE, "during-plinth", "2026-04-21 16:02:17", standing("bare", True, turn=-38.0), (0.20, -1.00, 0.56),
         (0.222, -0.42, 0.125), 52, 5.6, None, CLOSE, marks=("missing moulding",)),
    Shot(PIECE, "after-front", "2026-05-06 10:05:49", standing("after", True), (0.02, -2.26, 1.16),
         (-0.01, 0.0, 0.24), 54, 5.6, (0.05, -0.2, 0.35), WIDE, marks=FRONT),
    Shot(PIECE, "after-inside", "2026-05-06 10:11:26", standing("after", True, turn=-16.0, opened=103.0, wall=1.05),
         (0.06, -1.62, 1.52), (0.02, 0.06, 0.47), 40, 6.3, (0, 0, 0.4), CLOSE),
]
