"""A painted pine chest with a drawer: body 1000 wide, 460 deep, 738 high, under a lid of 1040 by 485 by 22.

The ends run down to the floor and are cut to feet. The right front foot was eaten
by beetle and is new, plain pine from a sloping scarf down.
"""

import math

import bpy
from mathutils import Vector

import fittings
import shapes
import surfaces
import tools
import workshop
from fittings import butt_knuckle, butt_leaf, nail_head, steady
from shapes import board, outline, part, pivot, turning
from shot import CLOSE, WIDE, Shot

PIECE = "dower-chest"
WIDTH, DEPTH, BODY = 1.000, 0.460, 0.738
LID, LID_WIDTH, LID_DEPTH = 0.022, 1.040, 0.485
HEIGHT = BODY + LID
END = 0.022                        # thickness of the ends
FRONT = 0.020                      # thickness of the front boards
FACE = -DEPTH / 2                  # the front edges of the ends
INNER = WIDTH - 2 * END
WELL = 0.325                       # upper face of the chest's floor, lower edge of the front boards
DRAWER = (0.132, 0.318)            # the drawer front, low and high
RAIL = (0.090, 0.128)
ARCH = 0.120                       # half the width of the cut-out between two feet
SCARF = 0.190                      # where the scarf leaves the front edge

# The front foot of an end, as (depth, height): front edge, floor, springing of the arch, end of the scarf.
FOOT = [(FACE, 0.0), (-ARCH, 0.0), (-ARCH, 0.045), (FACE, SCARF)]

LANDMARKS = {
    "lid, front left corner": (-LID_WIDTH / 2, FACE - 0.040, HEIGHT),
    "lid, front right corner": (LID_WIDTH / 2, FACE - 0.040, HEIGHT),
    "front, lower left": (-WIDTH / 2, FACE - FRONT, WELL),
    "front, lower right": (WIDTH / 2, FACE - FRONT, WELL),
    "joint of the front boards, left": (-WIDTH / 2, FACE - FRONT, 0.5395),
    "joint of the front boards, right": (WIDTH / 2, FACE - FRONT, 0.5395),
    "drawer, lower left": (-INNER / 2, FACE - 0.001, DRAWER[0]),
    "drawer, lower right": (INNER / 2, FACE - 0.001, DRAWER[0]),
    "left foot, floor": (-WIDTH / 2, FACE, 0.0),
    "left knob": (-0.27, FACE - 0.030, 0.225),
    "right knob": (0.27, FACE - 0.030, 0.225),
}

RED = (0.105, 0.030, 0.018)
CREAM = (0.40, 0.32, 0.20)
GREEN = (0.105, 0.150, 0.112)


def paint(coat="old"):
    """Ox-blood paint on a cream ground, flaking.

    `coat` is old, eaten (old, with a foot full of beetle), milk (green over all) or failed (green that let go).
    """
    def describe(n):
        wood, _ = surfaces.grain(n, **surfaces.WOODS["pine-weathered"])
        seed = n.vector("MULTIPLY", n.stored("seed", "Vector"), (9.0, 9.0, 9.0))
        place = n.vector("ADD", n.place(), seed)
        plates = n.vector("MULTIPLY", place, (48.0, 150.0, 150.0))
        big = n.noise(n.vector("MULTIPLY", place, (3.2, 7.5, 7.5)), 1.0, 6.0, 0.60)
        small = n.noise(n.vector("MULTIPLY", place, (50.0, 120.0, 120.0)), 1.0, 3.0, 0.6)
        luck, _, _ = n.split(n.cells(plates, 1.0, output="Color"))
        near = n.step(n.edge_distance(), 0.010, 0.0)
        worn = n.math("ADD", big, n.math("MULTIPLY_ADD", small, 0.18, -0.09))
        worn = n.math("ADD", worn, n.math("MULTIPLY_ADD", luck, 0.15, -0.075))
        worn = n.math("ADD", worn, n.math("MULTIPLY", near, 0.15))
        ground = n.step(worn, 0.575, 0.582)
        bare = n.step(worn, 0.640, 0.648)
        tone = n.math("MULTIPLY_ADD", big, 0.7, 0.65)
        red = n.shade(n.mix(0.0, RED, RED), tone)
        crack = n.step(n.cells(plates, 1.0, "DISTANCE_TO_EDGE"), 0.05, 0.0)
        red = n.mix(n.math("MULTIPLY", crack, 0.55), red, (0.030, 0.012, 0.009))
        colour = n.mix(ground, red, n.shade(n.mix(0.0, CREAM, CREAM), n.math("MULTIPLY_ADD", small, 0.5, 0.72)))
        colour = n.mix(bare, colour, wood)
        relief = n.math("MULTIPLY", n.math("ADD", ground, bare), -0.00022)
        if coat == "old":
            return colour, n.blend(bare, 0.58, 0.8), relief
        if coat == "eaten":
            return eaten(n, colour, n.blend(bare, 0.58, 0.8), relief)
        strokes = n.noise(n.vector("MULTIPLY", place, (7.0, 420.0, 420.0)), 1.0, 2.0, 0.55)
        cloud = n.noise(n.vector("MULTIPLY", place, (5.0, 9.0, 9.0)), 1.0, 3.0, 0.55)
        green_tone = n.math("ADD", n.math("MULTIPLY_ADD", cloud, 0.26, 0.80), n.math("MULTIPLY", strokes, 0.14))
        green = n.shade(n.mix(0.0, GREEN, GREEN), green_tone)
        # What the old paint had lost still shows as a shallow step under the new.
        relief = n.math("MULTIPLY_ADD", strokes, 0.00003, n.math("MULTIPLY", relief, 0.75))
        if coat == "milk":
            return green, 0.66, relief
        scale = n.vector("MULTIPLY", place, (30.0, 62.0, 62.0))
        fate, _, _ = n.split(n.cells(scale, 1.0, output="Color"))
        lost = n.math("ADD", n.noise(n.vector("MULTIPLY", place, (5.0, 7.0, 7.0)), 1.0, 3.0, 0.55),
                      n.math("MULTIPLY_ADD", fate, 0.36, -0.18))
        lost = n.step(lost, 0.510, 0.516)
        gap = n.step(n.cells(scale, 1.0, "DISTANCE_TO_EDGE"), 0.055, 0.015)
        chalky = n.shade(green, 1.25)
        top = n.mix(n.math("MULTIPLY", gap, 0.85), chalky, n.shade(colour, 0.55))
        shell = n.math("MULTIPLY_ADD", gap, -0.0004, 0.0006)
        return (n.mix(lost, top, colour), n.blend(lost, 0.8, 0.6),
                n.blend(lost, shell, n.math("MULTIPLY", relief, 1.0)))
    return surfaces.material(f"chest paint {coat}", describe, RED if coat in ("old", "eaten") else GREEN)


def eaten(n, colour, rough, relief):
    """The front foot of an end: flight holes in its paint, and opened tunnels and dust where the face fell away.

    All of it lies below the slope on which the foot was later sawn off.
    """
    place = n.place()
    height, forward, _ = n.split(place)
    ragged = n.math("MULTIPLY_ADD", n.noise(n.vector("MULTIPLY", place, (30.0, 45.0, 45.0)), 1.0, 3.0, 0.6), 0.10, -0.05)
    level = n.math("ADD", height, ragged)
    _, _, (spring, springing), (edge, scarf) = FOOT
    rise = (scarf - springing) / (spring - edge)
    slope = n.math("MULTIPLY_ADD", n.math("SUBTRACT", forward, -edge), rise, scarf)
    here = n.step(n.math("SUBTRACT", slope, height), 0.006, 0.010)
    hole = n.step(n.cells(n.vector("MULTIPLY", place, (120.0, 120.0, 120.0)), 1.0), 0.17, 0.11)
    hole = n.math("MULTIPLY", hole, n.math("MULTIPLY", here, n.step(level, 0.185, 0.150)))
    fallen = n.step(n.math("SUBTRACT", n.math("MINIMUM", n.math("SUBTRACT", slope, 0.040), 0.098), level), 0.0, 0.004)
    tunnel = n.cells(n.vector("MULTIPLY", place, (45.0, 300.0, 300.0)), 1.0)
    groove = n.math("MULTIPLY", n.step(tunnel, 0.36, 0.18), fallen)
    crumb = n.noise(n.vector("MULTIPLY", place, (160.0, 400.0, 400.0)), 1.0, 4.0, 0.65)
    pith = n.mix(n.step(crumb, 0.35, 0.65), (0.20, 0.125, 0.062), (0.40, 0.285, 0.160))
    colour = n.mix(fallen, colour, pith)
    dark = n.math("MAXIMUM", hole, groove)
    colour = n.mix(dark, colour, (0.022, 0.013, 0.008))
    relief = n.math("ADD", relief, n.math("MULTIPLY", n.math("ADD", fallen, dark), -0.0011))
    return colour, n.blend(fallen, rough, 0.9), relief


def lining():
    """Thin grey-blue paint inside the chest, rubbed where things lay."""
    def describe(n):
        wood, _ = surfaces.grain(n, **surfaces.WOODS["pine-old"])
        place = n.vector("ADD", n.place(), n.vector("MULTIPLY", n.stored("seed", "Vector"), (9.0, 9.0, 9.0)))
        big = n.noise(n.vector("MULTIPLY", place, (4.0, 8.0, 8.0)), 1.0, 5.0, 0.6)
        fine = n.noise(n.vector("MULTIPLY", place, (20.0, 260.0, 260.0)), 1.0, 2.0, 0.6)
        worn = n.math("ADD", big, n.math("MULTIPLY_ADD", fine, 0.20, -0.10))
        through = n.math("MULTIPLY", n.step(worn, 0.56, 0.66), 0.8)
        blue = n.shade(n.mix(0.0, (0.270, 0.315, 0.325), (0.270, 0.315, 0.325)), n.math("MULTIPLY_ADD", big, 0.5, 0.75))
        return n.mix(through, blue, wood), 0.8, None
    return surfaces.material("chest lining", describe, (0.27, 0.30, 0.30))


def bare():
    return surfaces.wood("pine-old", 0.75, dirt=0.35)


def build(stage, at=(0, 0, 0), turn=0.0, opened=0.0, drawn=0.0):
    """The chest. `stage`: before, cut (eaten foot off), tried (new foot; green let go on the lid) or after.

    `opened` is the lid in degrees, `drawn` how far the drawer stands out; None takes it away.
    """
    root = pivot(at, turn)
    coat = paint("milk") if stage == "after" else paint("old")
    inside = lining()
    ends(root, stage, coat)
    front(root, coat)
    compartment(root, inside)
    runners(root, stage)
    if drawn is not None:
        drawer(root, coat, drawn)
    lid(root, stage, coat, opened)
    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["flaking paint"] = (0.22, -0.10, HEIGHT)
    points["eaten foot"] = (WIDTH / 2, -0.19, 0.085)
    points["new foot"] = (WIDTH / 2, -0.185, 0.075)
    points["saw cuts"] = (-0.205, FACE - 0.040, HEIGHT - 0.008)
    points["right hinge"] = (HINGE, DEPTH / 2 - 0.012, BODY)
    points["left hinge"] = (-HINGE, DEPTH / 2 - 0.012, BODY)
    points["left runner"] = (-INNER / 2 + 0.016, -0.10, DRAWER[0])
    points["right runner"] = (INNER / 2 - 0.016, -0.10, DRAWER[0])
    for k, (y, z) in enumerate(FOOT):
        points[f"foot corner {k + 1}"] = (WIDTH / 2, y, z)
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


# What beetle had left of the right front foot, from the front edge to the arch.
STUMP = [(FACE, 0.0960), (-0.2268, 0.0947), (-0.2236, 0.0900), (-0.2211, 0.0873), (-0.2167, 0.0868),
         (-0.2133, 0.0860), (-0.2107, 0.0807), (-0.2076, 0.0769), (-0.2049, 0.0693), (-0.2014, 0.0654),
         (-0.1979, 0.0661), (-0.1950, 0.0624), (-0.1909, 0.0591), (-0.1888, 0.0593), (-0.1860, 0.0542),
         (-0.1816, 0.0536), (-0.1784, 0.0489), (-0.1751, 0.0443), (-0.1727, 0.0434), (-0.1689, 0.0387),
         (-0.1664, 0.0401), (-0.1636, 0.0367), (-0.1605, 0.0341), (-0.1565, 0.0335), (-0.1530, 0.0255),
         (-0.1508, 0.0212), (-0.1474, 0.0195), (-0.1442, 0.0199), (-0.1408, 0.0189), (-0.1381, 0.0182),
         (-0.1347, 0.0182), (-0.1314, 0.0205), (-0.1277, 0.0244), (-0.1249, 0.0258), (-0.1215, 0.0358)]


def end_outline(front):
    """An end seen from outside, as (depth, height); `front` is its front foot, sound, eaten or sawn off."""
    arch = [(ARCH * math.cos(a), 0.045 + 0.050 * math.sin(a)) for a in (math.pi * k / 20 for k in range(21))]
    back = [(ARCH, 0.0), (DEPTH / 2, 0.0), (DEPTH / 2, BODY), (FACE, BODY)]
    foot = {"sound": [(FACE, 0.0), (-ARCH, 0.0)], "eaten": STUMP, "off": [(FACE, SCARF)]}[front]
    return foot + list(reversed(arch)) + back


def ends(root, stage, coat):
    for side in (-1, 1):
        right = "eaten" if stage == "before" else "off"
        points = end_outline(right if side > 0 else "sound")
        name = "end-right" if side > 0 else "end-left"
        # Own x is height, own y is depth, counted towards the front on the right and to the back on the left.
        flat = [(z, -y) for y, z in points] if side > 0 else [(z, y) for y, z in points]
        if side < 0:
            flat.reverse()
        steady(PIECE, name)
        x = side * (WIDTH / 2 - END / 2)
        skin = paint("eaten") if stage == "before" and side > 0 else coat
        with part(name):
            outline(name, order(flat), END, (x, 0, 0), skin, "z", "x" if side > 0 else "-x", 0.0012, parent=root)
    if stage in ("tried", "after"):
        with part("end-right"):
            new_foot(root)


def order(points):
    """The same outline, anticlockwise."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))
    return points if area > 0 else list(reversed(points))


def new_foot(root):
    """New pine from the sloping scarf down."""
    steady(PIECE, "foot-new")
    flat = [(z, -y) for y, z in FOOT]
    outline("foot-new", order(flat), END, (WIDTH / 2 - END / 2, 0, 0), surfaces.wood("pine-new", 0.5), "z", "x", 0.0008,
            parent=root)


NAILS = (0.365, 0.430, 0.495, 0.580, 0.645, 0.705)   # heights of the nails in the front, at either end


def front(root, coat):
    for name, low, high in (("front upper", 0.5400, BODY), ("front lower", WELL, 0.5390)):
        steady(PIECE, name)
        with part("front"):
            board(name, (WIDTH, high - low, FRONT), (0, FACE - FRONT / 2, (low + high) / 2), coat, "x", "-y", parent=root)
    steady(PIECE, "rail")
    with part("rail"):
        board("rail", (INNER, RAIL[1] - RAIL[0], 0.020), (0, FACE + 0.011, sum(RAIL) / 2), coat, "x", "-y", parent=root)
    with part("front"):
        for side in (-1, 1):
            for z in NAILS:
                nail_head((side * (WIDTH / 2 - 0.011), FACE - FRONT, z), (0, -1, 0), 0.0032, coat, root)


def compartment(root, inside):
    """Floor, back and the painted inner faces."""
    steady(PIECE, "floor")
    for k in range(3):
        wide = (DEPTH - 0.004) / 3
        board("floor", (INNER, wide - 0.0012, 0.016), (0, FACE + wide * (k + 0.5), WELL + 0.008), inside, parent=root)
    low = 0.090
    for k, wide in enumerate((0.214, 0.218, 0.214)):
        steady(PIECE, f"back {k}")
        board("back", (WIDTH, wide - 0.001, 0.018), (0, DEPTH / 2 + 0.009, low + wide / 2), bare(), "x", "y", parent=root)
        low += wide
    steady(PIECE, "faces")
    top = BODY - 0.001
    for y, face in ((FACE, "y"), (DEPTH / 2, "-y")):
        for a, b in ((WELL + 0.017, 0.5390), (0.5400, top)):
            board("inner face", (INNER, b - a, 0.002), (0, y, (a + b) / 2), inside, "x", face, 0.0006, parent=root)
    for x, face in ((-INNER / 2, "x"), (INNER / 2, "-x")):
        board("inner face", (top - WELL - 0.017, DEPTH - 0.003, 0.002), (x, 0, (top + WELL + 0.017) / 2), inside, "z", face,
              0.0006, parent=root)
        # The ends are bare where the drawer runs.
        board("drawer side face", (WELL - 0.090, DEPTH - 0.003, 0.002), (x, 0, (WELL + 0.090) / 2), bare(), "z", face,
              0.0006, parent=root)
    board("under the floor", (INNER, DEPTH - 0.004, 0.002), (0, 0, WELL - 0.0015), bare(), "x", "-z", 0, parent=root)
    # The upper edge of the back carries the hinges.
    board("back edge", (WIDTH, 0.018, 0.002), (0, DEPTH / 2 + 0.009, BODY - 0.0008), bare(), "x", "z", 0, parent=root)


STRIP = (0.400, 0.018, 0.008)      # a maple strip on a runner


def runners(root, stage):
    """A pine runner on each end, worn to a hollow; later a maple strip lies in the track."""
    worn = surfaces.wood("pine-weathered", 0.5, dirt=0.5)
    maple = surfaces.wood("maple", 0.42)
    mended = stage == "after"
    top = DRAWER[0] - (STRIP[2] if mended else 0.006)
    for side in (-1, 1):
        steady(PIECE, f"runner {side}")
        x = side * (INNER / 2 - 0.022)
        board("runners", (0.430, 0.044, top - 0.098), (x, 0.008, (top + 0.098) / 2), worn, "y", "z", 0.001, parent=root)
        # Beside the track the runner keeps its old height.
        rest = side * (INNER / 2 - 0.035)
        board("runners", (0.430, 0.018, 0.006), (rest, 0.008, DRAWER[0] - 0.003), worn, "y", "z", 0.0015, parent=root)
        if mended:
            steady(PIECE, f"strip {side}")
            board("runner-strips", STRIP, (side * (INNER / 2 - 0.013), -0.006, DRAWER[0] - STRIP[2] / 2 + 0.0005),
                  maple, "y", "z", 0.0012, parent=root)


def drawer(root, coat, drawn):
    """The drawer front with its two turned knobs, and the box behind it."""
    box = pivot((0, -drawn, 0), parent=root)
    low, high = DRAWER
    steady(PIECE, "drawer-front")
    with part("drawer-front"):
        board("drawer-front", (INNER - 0.004, high - low - 0.003, 0.020), (0, FACE + 0.009, (low + high) / 2), coat, "x",
              "-y", 0.002, parent=box)
    for x in (-0.27, 0.27):
        steady(PIECE, f"knob {x}")
        with part("knobs"):
            turning("knobs", [(0, 0.013), (0.25, 0.010), (0.45, 0.013), (0.75, 0.021), (0.92, 0.019), (1, 0.011)],
                    (x, FACE - 0.001, 0.225), (x, FACE - 0.031, 0.225), coat, 40, box)
    wood = bare()
    for side in (-1, 1):
        steady(PIECE, f"drawer side {side}")
        board("drawer-box", (0.410, high - low - 0.014, 0.012), (side * (INNER / 2 - 0.010), 0.0, (low + high) / 2), wood,
              "y", "x", 0.001, parent=box)
    steady(PIECE, "drawer back")
    board("drawer-box", (INNER - 0.03, high - low - 0.03, 0.012), (0, 0.205, (low + high) / 2), wood, "x", "y", 0.001,
          parent=box)
    board("drawer-box", (INNER - 0.03, 0.40, 0.009), (0, 0.0, low + 0.012), wood, "x", "z", 0.001, parent=box)


HINGE = 0.330                      # the middle of each hinge, left and right
LEAF = (0.064, 0.017)


def lid(root, stage, coat, opened):
    """Two boards, two cleats below, two butt hinges; three saw cuts in the front edge."""
    with part("lid"):
        leaf = lid_boards(root, stage, coat, opened)
    if opened:
        with part("cleats"):
            for x in (-0.40, 0.40):
                steady(PIECE, f"cleat {x}")
                board("cleats", (LID_DEPTH - 0.095, 0.050, 0.020), (x, -LID_DEPTH / 2 - 0.004, -0.0105), bare(), "y", "-z",
                      0.003, parent=leaf)
    for x, name in ((-HINGE, "hinge-left"), (HINGE, "hinge-right")):
        metal = surfaces.brass() if name == "hinge-right" and stage == "after" else surfaces.iron()
        with part(name):
            lower = pivot((x, DEPTH / 2 + 0.018, BODY + 0.0004), 180, "z", parent=root)
            butt_leaf(LEAF[0], LEAF[1], metal, metal, lower)
            upper = pivot((x, 0, -0.0010), 180, "x", parent=leaf)
            butt_leaf(LEAF[0], LEAF[1], metal, metal, upper)
            butt_knuckle(LEAF[0], metal, pivot((x, DEPTH / 2 + 0.021, BODY + 0.001), parent=root))


def lid_boards(root, stage, coat, opened):
    hinge = pivot((0, DEPTH / 2 + 0.018, BODY + 0.001), -opened, "x", parent=root)
    green = paint("failed") if stage == "tried" else coat
    deep = LID_DEPTH
    for name, low, high in (("lid front", 0.2455, deep), ("lid back", 0.0, 0.2445)):
        steady(PIECE, name)
        board(name, (LID_WIDTH, high - low, LID - 0.002), (0, -(low + high) / 2 + 0.004, LID / 2), green, parent=hinge)
        steady(PIECE, f"{name} underside")
        board("lid underside", (LID_WIDTH - 0.012, high - low - 0.003, 0.002), (0, -(low + high) / 2 + 0.004, 0.0002),
              bare(), "x", "-z", 0.0006, parent=hinge)
    kerf = fittings.slot()
    for k in range(3):
        board("saw cut", (0.016, 0.0022, 0.0012), (-0.215 + 0.010 * k, -deep + 0.004 + 0.0003, LID - 0.008), kerf, "z", "-y",
              0, parent=hinge)
        board("saw cut", (0.010, 0.0022, 0.0012), (-0.215 + 0.010 * k, -deep + 0.009, LID - 0.0008), kerf, "y", "z", 0,
              parent=hinge)
    return hinge


def block(root, at, size):
    """An offcut of beam set under the short corner."""
    steady(PIECE, "block")
    board("block", size, at, surfaces.wood("pine-old", 0.8, dirt=0.3), "x", "z", 0.003, parent=root)


def standing(stage, turn=-34.0, opened=0.0, drawn=0.0, propped=False, **room):
    def scene():
        workshop.room(**room)
        points = build(stage, turn=turn, opened=opened, drawn=drawn)
        if propped:
            block(pivot((0, 0, 0), turn), (WIDTH / 2 - 0.075, FACE + 0.032, RAIL[0] / 2), (0.10, 0.07, RAIL[0]))
        return points
    return scene


def scarf_offered_up():
    """The chest on blocks, its eaten foot sawn off on a slope; the new foot stands below, not yet glued."""
    workshop.room()
    raised, turn = 0.048, -62.0
    points = build("cut", at=(0, 0, raised), turn=turn)
    root = pivot((0, 0, 0), turn)
    with part("end-right"):
        new_foot(pivot((0, 0, 0.0), parent=root))
    for x, y in ((WIDTH / 2 - 0.011, 0.175), (-WIDTH / 2 + 0.03, -0.17), (-WIDTH / 2 + 0.03, 0.17)):
        block(root, (x, y, raised / 2), (0.07, 0.08, raised))
    block(root, (WIDTH / 2 - 0.14, FACE + 0.020, (RAIL[0] + raised) / 2), (0.055, 0.06, RAIL[0] + raised))
    tools.chisel_lying(pivot(root.matrix_basis @ Vector((WIDTH / 2 + 0.20, -0.10, 0.0)), 60))
    return points


def first_coat():
    """The lid two days after the first green coat went straight onto the old paint; pot, brush and a scraper."""
    workshop.room()
    points = build("tried", turn=-20.0)
    top = pivot((0, 0, HEIGHT - 0.001), -20.0)
    fittings.bowl((-0.30, 0.02, 0.0), 0.055, 0.070, surfaces.plain("pot", (0.42, 0.40, 0.36), 0.45),
                  surfaces.plain("green paint", GREEN, 0.5), 0.018, top)
    fittings.brush(pivot((-0.17, -0.10, 0), 200, parent=top), GREEN)
    plastic = surfaces.plain("plastic scraper", (0.62, 0.60, 0.52), 0.4)
    board("scraper", (0.11, 0.075, 0.004), (0.30, -0.12, 0.003), plastic, (1, 0.5, 0), "z", 0.001, parent=top)
    for k in range(26):
        steady(PIECE, f"curl {k}")
        x, y = 0.04 + 0.30 * shapes.chance.random(), -0.185 + 0.12 * shapes.chance.random()
        size = 0.008 + 0.012 * shapes.chance.random()
        board("curl", (size, size * 0.6, 0.0005), (x, y, 0.0018 + 0.002 * shapes.chance.random()),
              surfaces.plain("curl", tuple(c * 1.3 for c in GREEN), 0.85), (1, shapes.chance.uniform(-1, 1), 0.15), "z", 0,
              parent=top)
    return points


def measured_foot():
    """The new foot straight on, with a steel rule of 150 mm taped to the end above it."""
    workshop.room()
    points = build("after", turn=-90.0)
    root = pivot((0, 0, 0), -90.0)
    # The rule's x runs along the depth, its face looks out of the end.
    flat = pivot((WIDTH / 2 + 0.0002, -0.205, 0.222), 90, "z", parent=root)
    fittings.steel_rule(pivot((0, 0, 0), 90, "x", parent=flat))
    tape = surfaces.plain("tape", (0.55, 0.47, 0.30), 0.8)
    for y in (-0.192, -0.068):
        board("tape", (0.050, 0.016, 0.0003), (WIDTH / 2 + 0.0014, y, 0.222), tape, "z", "x", 0, parent=root)
    bpy.context.view_layer.update()
    for name, y in (("rule, 0 mm", -0.205), ("rule, 150 mm", -0.055)):
        points[name] = root.matrix_world @ Vector((WIDTH / 2 + 0.001, y, 0.222))
    return points


# The yard door at the right stands open.
DOOR = {"power": 120.0, "fill": 0.4, "side": 1.5, "forward": -2.0, "height": 1.3, "aim": (0.2, -0.4, 0.15)}

SHOTS = [
    Shot(PIECE, "before-front", "2026-05-20 14:20:31", standing("before", propped=True), (0.10, -2.45, 1.26),
         (0.00, 0.0, 0.40), 46, 4.0, (0.05, -0.2, 0.45), WIDE, 0.6, {"power": 165.0, "fill": 0.32},
         marks=("flaking paint", "eaten foot", "saw cuts")),
    Shot(PIECE, "before-foot", "2026-05-20 14:26:08", standing("before", turn=-66.0, propped=True),
         (0.10, -1.00, 0.36), (0.155, -0.50, 0.105), 50, 5.6, None, CLOSE, -0.4, DOOR, marks=("eaten foot",)),
    Shot(PIECE, "before-lid", "2026-05-20 14:31:50", standing("before", turn=-12.0, propped=True),
         (0.34, -0.74, 1.10), (0.12, -0.10, HEIGHT), 46, 4.0, (0.16, -0.16, HEIGHT), CLOSE, -0.5,
         {"power": 150.0, "fill": 0.25, "height": 1.25, "side": -2.2, "forward": 0.7, "size": (0.9, 0.6),
          "aim": (0.1, 0.0, 0.8)}, 0.75, marks=("flaking paint",)),
    Shot(PIECE, "during-scarf", "2026-06-05 11:48:22", scarf_offered_up, (0.10, -1.08, 0.44), (0.165, -0.50, 0.135), 48, 5.6,
         None, CLOSE, 0.3, DOOR, orientation=3),
    Shot(PIECE, "during-coat", "2026-06-10 08:55:12", first_coat, (0.20, -0.86, 1.16), (0.03, -0.10, HEIGHT - 0.02), 44, 5.6,
         (0.08, -0.16, HEIGHT), CLOSE),
    Shot(PIECE, "hidden-runner", "2026-06-24 15:17:40", standing("after", turn=0.0, drawn=None), (-0.02, -0.60, 0.335),
         (-0.41, -0.10, 0.165), 48, 8.0, (-0.46, -0.14, 0.13), CLOSE, 0.4, {"side": -1.2, "forward": -2.2}, 0.5,
         marks=("left runner",)),
    Shot(PIECE, "after-front", "2026-07-06 10:05:49", standing("after"), (0.02, -2.50, 1.30),
         (-0.01, 0.0, 0.40), 47, 4.0, (0.05, -0.2, 0.45), WIDE, marks=("new foot", "saw cuts"), outlines=True),
    Shot(PIECE, "after-inside", "2026-07-06 10:11:26", standing("after", turn=-20.0, opened=102.0, drawn=0.14),
         (0.14, -2.05, 1.86), (0.02, 0.06, 0.64), 40, 5.6, (0, 0, 0.7), (1200, 1600), marks=("left hinge", "right hinge")),
    Shot(PIECE, "after-hinge", "2026-07-06 10:16:03", standing("after", turn=14.0, opened=102.0), (0.20, -0.10, 1.02),
         (0.275, 0.30, 0.755), 70, 5.6, (0.26, 0.31, BODY), CLOSE, marks=("right hinge",)),
    Shot(PIECE, "after-foot", "2026-07-06 10:24:37", measured_foot, (-0.13, -1.32, 0.16), (-0.135, -0.50, 0.130), 62, 8.0, None,
         CLOSE, marks=("rule, 0 mm", "rule, 150 mm", "foot corner 1", "foot corner 2", "foot corner 3", "foot corner 4")),
]
