"""An open bookcase: 900 wide, 300 deep, 1750 high, an elm carcase with five shelves."""

import bpy
from mathutils import Vector

import shapes
import surfaces
import workshop
from shapes import board, moulding, pivot
from shot import CLOSE, TALL, Shot

WIDTH, DEPTH, HEIGHT = 0.900, 0.300, 1.750
SIDE = 0.022
INNER = WIDTH - 2 * SIDE
FACE = -DEPTH / 2
SHELVES = (0.100, 0.425, 0.740, 1.050, 1.360)     # height of the upper face of each
THICK = 0.018
LIPPING = 0.022
SAGGING, MISSING = 2, 3

LANDMARKS = {
    "upper left corner": (-WIDTH / 2, FACE, HEIGHT),
    "upper right corner": (WIDTH / 2, FACE, HEIGHT),
    "lower left corner": (-WIDTH / 2, FACE, 0.0),
    "lower right corner": (WIDTH / 2, FACE, 0.0),
    "lowest shelf, left end": (-INNER / 2, FACE + 0.006, SHELVES[0]),
    "lowest shelf, right end": (INNER / 2, FACE + 0.006, SHELVES[0]),
    "upper shelf, left end": (-INNER / 2, FACE + 0.006, SHELVES[4]),
    "upper shelf, right end": (INNER / 2, FACE + 0.006, SHELVES[4]),
}


def scratched():
    """The dull old finish with long pale scratches."""
    def describe(n):
        colour, height = surfaces.grain(n, strips=0.16, **surfaces.WOODS["elm-dull"])
        seed = n.vector("MULTIPLY", n.stored("seed", "Vector"), (5.0, 5.0, 5.0))
        place = n.vector("ADD", n.place(), seed)
        lines = None
        for slant, offset in ((0.30, 0.0), (-0.22, 3.1), (0.75, 7.7)):
            x, y, z = n.split(n.vector("ADD", place, (offset, offset, 0.0)))
            across = n.math("ADD", y, n.math("MULTIPLY", x, slant))
            bend = n.noise(n.join(x, y, z), 2.0, 1.0)
            lane = n.math("MULTIPLY", n.math("ADD", across, n.math("MULTIPLY", bend, 0.05)), 13.0)
            thin = n.step(n.math("ABSOLUTE", n.math("SUBTRACT", n.math("FRACT", lane), 0.5)), 0.018, 0.004)
            here = n.step(n.noise(n.vector("ADD", n.join(x, y, z), (offset, 0.0, 5.0)), 4.5, 1.0), 0.56, 0.60)
            line = n.math("MULTIPLY", thin, here)
            lines = line if lines is None else n.math("MAXIMUM", lines, line)
        # Only the broad faces are scratched; on an edge the lines would show as bands.
        _, _, depth = n.split(n.vector("SUBTRACT", n.stored("half", "Vector"), n.vector("ABSOLUTE", n.place())))
        lines = n.math("MULTIPLY", lines, n.step(depth, 0.001, 0.0002))
        grime = n.step(n.noise(place, 4.0, 5.0, 0.65), 0.42, 0.70)
        colour = n.mix(n.math("MULTIPLY", grime, 0.45), colour, (0.075, 0.055, 0.036))
        colour = n.mix(n.math("MULTIPLY", lines, 0.8), colour, (0.48, 0.36, 0.24))
        near = n.step(n.edge_distance(), 0.006, 0.0)
        colour = n.mix(n.math("MULTIPLY", near, 0.35), colour, (0.36, 0.25, 0.155))
        return colour, n.blend(grime, 0.5, 0.75), n.math("ADD", height, n.math("MULTIPLY", lines, -0.0002))
    return surfaces.material("scratched elm", describe, surfaces.mean_of("elm-dull"))


def back_surface(stage):
    """The back boards. Before: darkened, but pale where books always stood."""
    if stage == "after":
        return surfaces.wood("elm-dull", 0.6)
    def describe(n):
        colour, height = surfaces.grain(n, **surfaces.WOODS["elm-dull"])
        x, y, _ = n.split(n.place())
        # The boards stand upright: their own x is height. Panel coordinates come from the stored offset.
        across = n.math("ADD", n.math("MULTIPLY", y, -1.0), n.stored("offset"))
        pale = None
        for left, right, low, high in GHOSTS:
            wide = n.math("MINIMUM", n.math("SUBTRACT", across, left), n.math("SUBTRACT", right, across))
            tall = n.math("MINIMUM", n.math("SUBTRACT", x, low - HEIGHT / 2), n.math("SUBTRACT", high - HEIGHT / 2, x))
            edge = n.math("ADD", n.math("MINIMUM", wide, tall),
                          n.math("MULTIPLY_ADD", n.noise(n.place(), 25.0, 3.0), 0.010, -0.005))
            patch = n.step(edge, -0.010, 0.010)
            pale = patch if pale is None else n.math("MAXIMUM", pale, patch)
        dark = n.shade(colour, 0.62)
        grime = n.step(n.noise(n.vector("ADD", n.place(), n.stored("seed", "Vector")), 5.0, 5.0, 0.6), 0.4, 0.75)
        dark = n.mix(n.math("MULTIPLY", grime, 0.35), dark, (0.05, 0.04, 0.03))
        return n.mix(pale, dark, n.mix(0.12, n.shade(colour, 0.92), (0.50, 0.37, 0.24))), 0.75, height
    return surfaces.material("ghosted back", describe, surfaces.mean_of("elm-dull"))


# Pale rectangles on the back: left, right, low, high.
GHOSTS = ((-0.40, -0.06, 0.11, 0.345), (0.02, 0.30, 0.11, 0.31), (-0.40, 0.11, 0.435, 0.665), (0.19, 0.39, 0.435, 0.62),
          (-0.34, -0.10, 0.75, 0.965), (-0.02, 0.40, 0.75, 0.99), (-0.40, 0.02, 1.06, 1.265), (0.13, 0.34, 1.06, 1.29),
          (-0.37, 0.24, 1.37, 1.60))


def build(stage, at=(0, 0, 0), turn=0.0):
    """The bookcase; `stage` is before, empty (old shelves taken out) or after."""
    shapes.chance.seed(97)
    root = pivot(at, turn)
    elm = surfaces.wood("elm-waxed", 0.38, strips=0.16) if stage == "after" else scratched()
    back = back_surface(stage)
    for x in (-1, 1):
        board("side", (HEIGHT, DEPTH, SIDE), (x * (WIDTH / 2 - SIDE / 2), 0, HEIGHT / 2), elm, "z",
              "x" if x > 0 else "-x", 0.002, parent=root)
    board("top", (INNER, DEPTH - 0.004, 0.022), (0, 0.002, HEIGHT - 0.030), elm, parent=root)
    board("top rail", (INNER, 0.045, 0.018), (0, FACE + 0.012, HEIGHT - 0.064), elm, "x", "-y", parent=root)
    board("plinth rail", (INNER, SHELVES[0] - THICK, 0.018), (0, FACE + 0.018, (SHELVES[0] - THICK) / 2), elm, "x",
          "-y", parent=root)
    backs(root, back)
    for k in range(len(SHELVES)):
        housings(root, k, stage)
        if stage == "after":
            new_shelf(root, k)
        elif stage == "before":
            old_shelf(root, k, elm)
    if stage == "empty":
        old_shelf(root, 0, elm)
    if stage == "after":
        box(root, (-0.20, 0.01, SHELVES[1]), (0.34, 0.23, 0.19))
        box(root, (0.22, 0.02, SHELVES[3]), (0.26, 0.22, 0.15))

    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["sagging shelf"] = (0.0, FACE + 0.008, SHELVES[SAGGING] - 0.045)
    points["missing shelf"] = (0.0, FACE + 0.006, SHELVES[MISSING] - 0.009)
    points["scratched side"] = (-WIDTH / 2, -0.05, 1.05)
    points["lipping"] = (0.12, FACE + 0.006, SHELVES[SAGGING] - THICK / 2)
    points["back panel"] = (-0.20, DEPTH / 2 - 0.014, 1.16)
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


def backs(root, surface):
    widths = (0.160, 0.182, 0.171, 0.166, 0.177)
    left = -INNER / 2
    for width in widths:
        middle = left + width / 2
        plank = board("back board", (HEIGHT - 0.03, width - 0.0015, 0.010), (middle, DEPTH / 2 - 0.008, HEIGHT / 2),
                      surface, "z", "-y", 0.002, parent=root)
        mesh = plank.data
        mesh.attributes.new("offset", "FLOAT", "POINT").data.foreach_set("value", [middle] * len(mesh.vertices))
        left += width
    # Whatever stands behind is dark: no daylight through the joints.
    board("behind the back", (HEIGHT - 0.03, INNER, 0.001), (0, DEPTH / 2 - 0.002, HEIGHT / 2),
          surfaces.plain("shadow", (0.02, 0.016, 0.012), 0.9), "z", "-y", 0, parent=root)


def housings(root, k, stage):
    """The groove in each side; it shows where a shelf is out."""
    if stage == "after" or (stage == "before" and k != MISSING) or k == 0:
        return
    pale = surfaces.wood("elm-dull", 0.85)
    dark = surfaces.plain("groove", (0.05, 0.035, 0.022), 0.9)
    for x in (-1, 1):
        board("groove", (DEPTH - 0.03, THICK, 0.001), (x * (INNER / 2), -0.005, SHELVES[k] - THICK / 2), pale, "y",
              "x", 0, parent=root)
        for z in (0.0006, -THICK - 0.0006):
            board("groove edge", (DEPTH - 0.03, 0.0022, 0.0014), (x * (INNER / 2), -0.005, SHELVES[k] + z), dark, "y",
                  "x", 0, parent=root)


def old_shelf(root, k, elm):
    if k == MISSING:
        return
    middle = (0, 0.0, SHELVES[k] - THICK / 2)
    if k == SAGGING:
        board("sagging shelf", (INNER - 0.002, DEPTH - 0.026, THICK), middle, surfaces.chipboard(), bevel=0.0008,
              sag=0.043, parent=root)
        return
    board("old shelf", (INNER - 0.001, DEPTH - 0.026, THICK), middle, elm, sag=0.004 if k else 0.0, parent=root)


def new_shelf(root, k):
    """Plywood with an oak lipping along its front edge."""
    level = SHELVES[k] - THICK / 2
    deep = DEPTH - 0.022 - LIPPING
    board("shelf", (INNER - 0.001, deep, THICK), (0, FACE + 0.006 + LIPPING + deep / 2, level), surfaces.plywood(),
          bevel=0.0005, parent=root)
    board("lipping", (INNER - 0.001, LIPPING, THICK + 0.0006), (0, FACE + 0.006 + LIPPING / 2, level),
          surfaces.wood("oak-mid-pale", 0.42), bevel=0.002, parent=root)


def box(root, at, size):
    """A plain lidded box of grey board."""
    w, d, h = size
    card = surfaces.plain(f"box {w}", (0.20, 0.19, 0.165) if w > 0.3 else (0.115, 0.150, 0.140), 0.85)
    here = pivot(at, shapes.chance.uniform(-4, 4), parent=root)
    board("box", (w, d, h - 0.004), (0, 0, h / 2 - 0.002), card, bevel=0.003, parent=here)
    board("box lid", (w + 0.006, d + 0.006, h * 0.28), (0, 0, h * 0.86), card, bevel=0.003, parent=here)


def standing(stage, tidy, turn=18.0, wall=0.62):
    def scene():
        workshop.room(wall=wall, corner=1.48, tidy=tidy)
        return build(stage, turn=turn, at=(0, 0.25, 0))
    return scene


def lipping_on():
    """Two new shelves on the bench; clamps press the lipping to the nearer one's edge."""
    workshop.room(wall=0.95, tidy=True)
    workshop.bench(top=0.86, depth=0.85)
    shapes.chance.seed(101)
    root = pivot((0.05, 0.02, 0.86), -20.0)
    oak, ply = surfaces.wood("oak-mid-pale", 0.6), surfaces.plywood()
    board("spare shelf", (0.855, 0.25, THICK), (0.06, 0.12, THICK / 2), ply, bevel=0.0005, parent=root)
    lifted = 3 * THICK / 2 + 0.001
    board("shelf", (0.855, 0.25, THICK), (0.0, 0.0, lifted), ply, bevel=0.0005, parent=root)
    board("lipping", (0.880, LIPPING, THICK + 0.002), (0.008, -0.125 - LIPPING / 2 - 0.0004, lifted), oak, bevel=0.0012,
          parent=root)
    for x in (-0.23, 0.09, 0.38):
        pad = surfaces.wood("pine-new", 0.7)
        board("pressing block", (0.09, 0.016, 0.022), (x, -0.125 - LIPPING - 0.0085, lifted), pad, parent=root)
        hold = pivot((x, 0.126, lifted + 0.052), -90.0, "z", parent=root)
        workshop.clamp(hold, 0.25 + LIPPING + 0.018, throat=0.060, bar=0.42)
    bpy.context.view_layer.update()
    return {"lipping": root.matrix_world @ Vector((-0.07, -0.125 - LIPPING / 2, lifted + THICK / 2))}


PIECE = "open-bookcase"
FRONT = ("sagging shelf", "missing shelf", "scratched side", "lipping")
SHOTS = [
    Shot(PIECE, "before-front", "2026-05-12 09:20:14", standing("before", False), (-0.26, -2.95, 1.25),
         (0.02, 0.2, 0.872), 47, 5.6, (0, 0.1, 0.9), TALL, 0.5, exposure=0.3, marks=FRONT[:3]),
    Shot(PIECE, "before-shelf", "2026-05-12 09:24:40", standing("before", False), (0.16, -0.92, 1.06),
         (0.00, 0.12, 0.715), 38, 6.3, (0, 0.1, 0.7), CLOSE, exposure=0.55, marks=("sagging shelf",)),
    Shot(PIECE, "hidden-back", "2026-05-19 13:40:27", standing("empty", True), (0.02, -2.05, 1.20),
         (0.01, 0.35, 0.905), 44, 6.3, None, (1050, 1400), exposure=0.6, marks=("back panel",)),
    Shot(PIECE, "during-lipping", "2026-05-26 16:45:03", lipping_on, (-0.28, -0.78, 1.30), (0.02, -0.06, 0.89), 46, 5.6,
         (0.0, -0.13, 0.9), CLOSE, marks=("lipping",)),
    Shot(PIECE, "after-front", "2026-06-11 10:15:58", standing("after", True), (-0.34, -3.02, 1.29),
         (0.01, 0.2, 0.876), 48, 5.6, (0, 0.1, 0.9), TALL, -0.4, exposure=0.25, orientation=8, marks=FRONT),
    Shot(PIECE, "after-shelf", "2026-06-11 10:19:33", standing("after", True), (-0.10, -0.60, 0.95),
         (0.09, 0.12, 0.735), 48, 5.6, (0.06, 0.09, 0.735), CLOSE, marks=("lipping",)),
]
