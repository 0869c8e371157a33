"""A walnut drop-leaf writing table: 962 wide with both leaves up, 720 deep, 720 high.

Its own y runs from the drawer (towards the sitter) to the back; grain and rule joints run the same way.
"""

import bpy
from mathutils import Matrix, Vector

import shapes
import surfaces
import tools
import workshop
from shapes import board, outline, part, pivot, turning
from shot import CLOSE, WIDE, Shot
from surfaces import WOODS, grain, material, ring, spot

TOP, THICK = 0.720, 0.016
DEEP, FIXED, LEAF = 0.720, 0.460, 0.250
JOINT = FIXED / 2 + 0.0005         # x of a rule joint
LEAF_X = JOINT + 0.0005 + LEAF / 2
LEG_X, LEG_Y = 0.185, 0.295
RAIL = 0.115
HINGE_Y = 0.240
FLAP, FLAP_WIDE = 0.017, 0.064     # of a hinge: across the joint, along it

# In the coordinates of a board: x runs towards the back, y to the left.
RINGS = ((-0.165, 0.085, 0.041), (-0.085, 0.030, 0.044), (0.105, -0.095, 0.040))
DENTS = ((-0.300, -0.110), (-0.312, -0.085), (-0.288, -0.070))
INK = (-0.120, 0.030)
PATCH_LONG, PATCH_WIDE = 0.062, 0.038

LANDMARKS = {
    "front end of the left joint": (-JOINT, -DEEP / 2, TOP),
    "front end of the right joint": (JOINT, -DEEP / 2, TOP),
    "rear end of the left joint": (-JOINT, DEEP / 2, TOP),
    "rear end of the right joint": (JOINT, DEEP / 2, TOP),
    "right leaf, front end of its edge": (JOINT + LEAF, -DEEP / 2 + 0.030, TOP),
    "right leaf, rear end of its edge": (JOINT + LEAF, DEEP / 2 - 0.030, TOP),
    "left leaf, rear end of its edge": (-JOINT - LEAF, DEEP / 2 - 0.030, TOP),
}


# --- the polished boards ---------------------------------------------------------------------------

def polished(stage, which):
    """A board of the top: polished above, bare below.

    `stage` is before, half (the rear half of the left leaf cleaned), tried (the ink just attacked) or after;
    `which` is fixed, left or right.
    """
    def describe(n):
        x, y, z = n.split(n.place())
        strips = FIXED / 2 if which == "fixed" else 0.0
        colour, height = grain(n, strips=strips, seam=0.0, figure=1.3, **WOODS["walnut"])
        if which == "left":
            colour = let_in(n, colour, x, y)
        rough = 0.20
        if stage in ("before", "half"):
            colour, rough = dulled(n, colour, n.step(x, 0.006, -0.006) if stage == "half" else 1.0)
        if which == "fixed":
            colour = dented(n, colour)
            if stage == "before":
                colour, rough = ringed(n, colour, rough)
        if which == "right":
            colour, rough = inked(n, colour, rough, stage)
        below, _ = grain(n, figure=1.3, **WOODS["walnut-bare"])
        dust = n.noise(n.place(), 7.0, 4.0, 0.6)
        below = n.mix(n.math("MULTIPLY", n.step(dust, 0.42, 0.70), 0.35), below, (0.10, 0.075, 0.055))
        under = n.step(z, -0.0060, -0.0070)
        return n.mix(under, colour, below), n.blend(under, rough, 0.8), height
    gloss = 0.15 if stage == "before" else 0.35
    return material(f"polished {stage} {which}", describe, surfaces.mean_of("walnut"), coat=gloss, shine=0.4)


def dulled(n, colour, amount):
    """The same polish under a century of hands, dust and old wax: greyer, lighter, matt."""
    smear = n.noise(n.vector("MULTIPLY", n.place(), (5.0, 8.0, 8.0)), 1.0, 4.0, 0.6)
    film = n.math("MULTIPLY_ADD", n.step(smear, 0.30, 0.72), 0.32, 0.26)
    film = n.math("MULTIPLY", film, amount)
    scratch = n.noise(n.vector("MULTIPLY", n.place(), (9.0, 420.0, 9.0)), 1.0, 2.0, 0.5)
    film = n.math("ADD", film, n.math("MULTIPLY", n.math("MULTIPLY", n.step(scratch, 0.64, 0.70), 0.10), amount))
    return n.mix(film, colour, (0.122, 0.094, 0.069)), n.blend(n.math("MULTIPLY", amount, 1.0), 0.20, 0.56)


def let_in(n, colour, x, y):
    """An old piece of walnut let into the outer front corner: another board, set a little askew."""
    turned = n.join(n.math("ADD", n.math("MULTIPLY", x, 0.97), n.math("MULTIPLY", y, 0.24)),
                    n.math("ADD", n.math("MULTIPLY", x, -0.24), n.math("MULTIPLY", y, 0.97)),
                    n.split(n.place())[2])
    other, _ = grain(n, place=turned, shift=0.43, **WOODS["walnut"])
    other = n.mix(0.42, other, (0.235, 0.130, 0.062))
    long = n.math("SUBTRACT", n.math("SUBTRACT", -DEEP / 2 + PATCH_LONG, x),
                  n.math("MULTIPLY", n.math("SUBTRACT", LEAF / 2, y), 0.35))
    wide = n.math("SUBTRACT", y, LEAF / 2 - PATCH_WIDE)
    inside = n.math("MINIMUM", long, wide)
    line = n.step(n.math("ABSOLUTE", inside), 0.0007, 0.0003)
    colour = n.mix(n.step(inside, -0.0002, 0.0002), colour, other)
    return n.mix(n.math("MULTIPLY", line, 0.85), colour, (0.012, 0.008, 0.005))


def dented(n, colour):
    """Three old dents near the front edge, dark with wax."""
    for centre in DENTS:
        mark = spot(n, centre, (0.0050, 0.0032), 0.4, 160.0, (1.0, 0.6))
        colour = n.mix(n.math("MULTIPLY", mark, 0.8), colour, (0.018, 0.010, 0.006))
    return colour


def ringed(n, colour, rough):
    """Three white rings: damp in the polish, not in the wood."""
    for x, y, radius in RINGS:
        white = ring(n, (x, y), radius, 0.0050)
        colour = n.mix(n.math("MULTIPLY", white, 0.62), colour, (0.46, 0.43, 0.38))
        rough = n.blend(white, rough, 0.7)
    return colour, rough


def inked(n, colour, rough, stage):
    """The ink: a blot and three drops. After the trial the wood on its left is paler, the ink is not."""
    if stage in ("tried", "after"):
        bleached = spot(n, (INK[0] + 0.004, INK[1] + 0.016), (0.034, 0.026), 0.25, 45.0, (1.0, 0.78))
        colour = n.mix(n.math("MULTIPLY", bleached, 0.80 if stage == "tried" else 0.52), colour, (0.30, 0.20, 0.125))
        if stage == "tried":
            rough = n.blend(bleached, rough, 0.75)
    core = spot(n, INK, (0.031, 0.023), 0.42, 42.0, (1.0, 0.82))
    rim = n.math("MULTIPLY", core, n.math("SUBTRACT", 1.0, spot(n, INK, (0.026, 0.019), 0.42, 42.0, (1.0, 0.6))))
    amount = n.math("MULTIPLY_ADD", rim, 0.14, n.math("MULTIPLY", core, 0.82))
    for dx, dy, r in ((0.047, -0.012, 0.0050), (0.060, -0.020, 0.0034), (0.041, -0.033, 0.0026)):
        drop = spot(n, (INK[0] + dx, INK[1] + dy), (r, r * 0.9), 0.3, 150.0, (1.0, 0.7))
        amount = n.math("MAXIMUM", amount, n.math("MULTIPLY", drop, 0.9))
    return n.mix(amount, colour, (0.0065, 0.0065, 0.0095)), rough


def frame_wood(stage):
    """Legs, rails and drawer: the same polish, dull or revived."""
    def describe(n):
        colour, height = grain(n, figure=1.1, **WOODS["walnut"])
        if stage == "after":
            return colour, 0.24, height
        colour, rough = dulled(n, colour, 1.0)
        return colour, rough, height
    return material(f"frame {stage}", describe, surfaces.mean_of("walnut"), coat=0.4 if stage == "after" else 0.1,
                    shine=0.4)


# --- the table -------------------------------------------------------------------------------------

def build(stage, at=(0, 0, 0), turn=0.0, hinge="salvaged", parent=None):
    """The whole table, both leaves up. `hinge` tells of the left leaf's front hinge: broken, out or salvaged."""
    shapes.chance.seed(41)
    root = pivot(at, turn, parent=parent)
    wood = frame_wood("before" if stage == "before" else "after")
    with part("top"):
        board("fixed top", (DEEP, FIXED, THICK), (0, 0, TOP - THICK / 2), polished(stage, "fixed"), "y", "z", 0.002,
              parent=root)
    with part("leaf-right"):
        outline("right leaf", shapes.rounded(DEEP, LEAF, 0.030, ("sw", "se")), THICK, (LEAF_X, 0, TOP - THICK / 2),
                polished(stage, "right"), "y", "z", 0.002, parent=root)
    hung = left_leaf_hung(root, drooping=hinge == "broken")
    with part("leaf-left"):
        outline("left leaf", shapes.rounded(DEEP, LEAF, 0.030, ("ne", "nw")), THICK,
                (-LEAF_X + JOINT, -DEEP / 2, -THICK / 2), polished(stage, "left"), "y", "z", 0.002, parent=hung)
    underframe(root, wood, swung=parent is None)
    hinges(root, hinge)
    bpy.context.view_layer.update()
    return named_points(root, hung)


def left_leaf_hung(root, drooping):
    """Where the left leaf hangs: at the rear end of its joint. Drooping, it is down and away at the front."""
    hung = pivot((-JOINT, DEEP / 2, TOP), 0.0, parent=root)
    if drooping:
        hung.matrix_local = (Matrix.Translation((-JOINT, DEEP / 2, TOP)) @ Matrix.Rotation(0.0150, 4, "X")
                             @ Matrix.Rotation(-0.0062, 4, "Z"))
    return hung


def underframe(root, wood, swung):
    """Legs, rails, drawer, and the bracket under each leaf: swung out, or folded back against its rail."""
    with part("legs"):
        for x in (-LEG_X, LEG_X):
            for y in (-LEG_Y, LEG_Y):
                tapered_leg(x, y, wood, root)
    z = TOP - THICK - RAIL / 2
    with part("rails"):
        for x in (-LEG_X, LEG_X):
            board("side rail", (2 * LEG_Y - 0.040, RAIL, 0.018), (x, 0, z), wood, "y", "x", parent=root)
        board("back rail", (2 * LEG_X - 0.040, RAIL, 0.018), (0, LEG_Y, z), wood, "x", "-y", parent=root)
    with part("drawer-rails"):
        for low in (TOP - THICK - 0.008, TOP - THICK - RAIL + 0.008):
            board("drawer rail", (2 * LEG_X - 0.040, 0.040, 0.016), (0, -LEG_Y, low), wood, "x", "z", parent=root)
    with part("drawer"):
        tall, wide = RAIL - 0.034, 2 * LEG_X - 0.044
        board("drawer front", (wide, tall, 0.018), (0, -LEG_Y - 0.012, z), wood, "x", "-y", 0.002, parent=root)
        for side in (-1, 1):
            board("bead", (wide, 0.003, 0.004), (0, -LEG_Y - 0.0215, z + side * (tall / 2 - 0.0015)), wood, "x", "-y",
                  0.001, parent=root)
            board("bead", (tall, 0.003, 0.004), (side * (wide / 2 - 0.0015), -LEG_Y - 0.0215, z), wood, "z", "-y", 0.001,
                  parent=root)
    with part("knobs"):
        for x in (-0.085, 0.085):
            turning("knob", [(0, 0.006), (0.3, 0.006), (0.5, 0.013), (0.85, 0.013), (1, 0.005)],
                    (x, -LEG_Y - 0.020, z), (x, -LEG_Y - 0.046, z), wood, parent=root)
    with part("brackets"):
        for side in (-1, 1):
            arm = pivot((side * (LEG_X + 0.010), 0.05, TOP - THICK - 0.030), side * (82.0 if swung else 0.0), "z", parent=root)
            shape = [(0.0, -0.028), (0.06, -0.028), (0.12, -0.006), (0.185, 0.008), (0.185, 0.028), (0.0, 0.028)]
            outline("bracket", shape, 0.016, (0, 0, 0), surfaces.wood("beech-worn", 0.55), "-y", "x", 0.002, parent=arm)


def tapered_leg(x, y, wood, root):
    """Square above, tapering on all sides from below the rails."""
    high, low, foot = 0.021, 0.021, 0.0125
    shoulder, upper = TOP - THICK - RAIL - 0.012, TOP - THICK
    rings = ((0.0, foot), (shoulder, low), (upper, high))
    verts = [(z, sx * r, sy * r) for z, r in rings for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    faces = [(4 * i + k, 4 * i + (k + 1) % 4, 4 * i + 4 + (k + 1) % 4, 4 * i + 4 + k) for i in (0, 1) for k in range(4)]
    faces += [(3, 2, 1, 0), (8, 9, 10, 11)]
    shapes.add("leg", verts, faces, wood, shapes.frame("z", "-y", (x, y, 0)), bevel=0.0015, parent=root)


def hinges(root, left_front):
    """Two table hinges to each leaf, flush with the underside, each flap held by three slotted screws."""
    for side in (-1, 1):
        for y in (-HINGE_Y, HINGE_Y):
            state = left_front if (side, y) == (-1, -HINGE_Y) else "original"
            hinge(root, side, y, state)


def hinge(root, side, y, state):
    old = surfaces.brass("old brass", (0.17, 0.105, 0.045), 0.50)
    bright = surfaces.brass("salvaged brass", (0.62, 0.43, 0.17), 0.30)
    metal = bright if state == "salvaged" else old
    under = TOP - THICK
    x = side * JOINT
    flaps = [(x - side * (FLAP / 2 + 0.004), "top"), (x + side * (FLAP / 2 + 0.004), "leaf")]
    name = "hinge-salvaged" if state == "salvaged" else "hinges"
    for at, where in flaps:
        bed = surfaces.plain("hinge bed", (0.062, 0.036, 0.021), 0.9)
        board("hinge bed", (FLAP + 0.002, FLAP_WIDE + 0.002, 0.0004), (at, y, under - 0.0001), bed, "x", "-z", 0, parent=root)
        gone = state == "out" or (state == "broken" and where == "leaf")
        if not gone:
            with part(name):
                board("flap", (FLAP, FLAP_WIDE, 0.0016), (at, y, under - 0.0006), metal, "x", "-z", 0.0004, parent=root)
        for dx, dy in screw_places():
            hole = (at + side * dx * (1 if where == "leaf" else -1), y + dy, under - 0.0013)
            if gone:
                turning("old hole", [(0, 0.0023), (1, 0.0023)], (*hole[:2], under - 0.0002), (*hole[:2], under - 0.0006),
                        surfaces.plain("hole", (0.004, 0.003, 0.002), 0.95), 16, parent=root)
            else:
                screw(root, hole, 35 + 2100 * dy + (50 if where == "leaf" else 0))
    if state != "out":
        knuckles = 5 if state == "salvaged" else 3
        step = FLAP_WIDE / knuckles
        for k in range(knuckles):
            start = y - FLAP_WIDE / 2 + k * step
            turning("knuckle", [(0, 0.0042), (1, 0.0042)], (x, start + 0.0003, under + 0.0012),
                    (x, start + step - 0.0003, under + 0.0012), metal, 24, parent=root)


def screw_places():
    """Where the three screws of a flap sit, from the middle of the flap: x away from the joint, y along it."""
    return ((0.002, -0.023), (-0.002, 0.0), (0.002, 0.023))


def screw(root, at, turn):
    """A slotted screw head, looking down out of the underside."""
    iron = surfaces.plain("screw iron", (0.16, 0.145, 0.125), 0.5, metal=0.8)
    x, y, z = at
    turning("screw", [(0, 0.0036), (1, 0.0036)], (x, y, z + 0.0006), (x, y, z - 0.0002), iron, 24, parent=root)
    board("slot", (0.0064, 0.0009, 0.0002), (0, 0, 0), surfaces.plain("slot", (0.01, 0.009, 0.008), 0.9), "x", "-z", 0,
          parent=pivot((x, y, z - 0.00025), turn, parent=root))


def named_points(root, hung):
    """Every point that a record may name, in world coordinates."""
    here = lambda p: root.matrix_world @ Vector(p)
    leaf = lambda bx, by: hung.matrix_world @ Vector((-LEAF_X + JOINT - by, -DEEP / 2 + bx, 0))
    points = {name: here(p) for name, p in LANDMARKS.items()}
    for k, (x, y, radius) in enumerate(RINGS, 1):
        points[f"ring {k}"] = here((-y, x - radius, TOP))
    points["ink"] = here((LEAF_X - INK[1], INK[0], TOP))
    points["paler wood"] = here((LEAF_X - INK[1] - 0.030, INK[0] + 0.008, TOP))
    points["dents"] = here((0.088, -0.300, TOP))
    points["drawer"] = here((0.0, -LEG_Y - 0.022, TOP - THICK - RAIL / 2))
    points["leaf left"], points["leaf right"] = leaf(0.05, 0.0), here((LEAF_X, 0.10, TOP))
    points["joint, front end"] = here((-JOINT, -DEEP / 2, TOP - 0.005))
    near, far, edge = -DEEP / 2, -DEEP / 2 + PATCH_LONG, LEAF / 2 - PATCH_WIDE
    # The corner is rounded: the outline of the patch follows the curve.
    corner = [(near, edge), (near, LEAF / 2 - 0.030), (near + 0.0040, LEAF / 2 - 0.015), (near + 0.0088, LEAF / 2 - 0.0088),
              (near + 0.015, LEAF / 2 - 0.0040), (near + 0.030, LEAF / 2), (far, LEAF / 2),
              (far - 0.35 * PATCH_WIDE, edge)]
    for k, p in enumerate(corner, 1):
        points[f"patch {k}"] = leaf(*p)
    under = TOP - THICK
    points["front hinge"] = here((-JOINT - FLAP / 2, -HINGE_Y, under))
    points["rear hinge"] = here((-JOINT - FLAP / 2, HINGE_Y, under))
    return points


# --- the photographs -------------------------------------------------------------------------------

def standing(stage, hinge="salvaged", turn=-25.0, things=workshop.EVERYTHING):
    def scene():
        workshop.room(things=things)
        return build(stage, turn=turn, hinge=hinge)
    return scene


CARD = (-0.020, 0.060, 0.100, 0.070)
SAMPLES = {"target": (-0.095, -0.020, 0.080, 0.070), "result": (0.095, -0.020, 0.080, 0.070)}


def half_cleaned():
    """The left leaf cleaned as far as its middle, with a grey card of 18 % reflectance on the line."""
    workshop.room(wall=2.2)
    points = build("half")
    x, y, length, width = CARD
    card = surfaces.plain("grey card", (0.18, 0.18, 0.18), 1.0, shine=0.0)
    board("grey card", (length, width, 0.0012), (-LEAF_X - y, x + 0.02, TOP + 0.0008), card, "y", "z", bevel=0)
    for name, (bx, by, l, w) in {"grey": (x + 0.02, y, length, width), **SAMPLES}.items():
        points[name] = [Vector((-LEAF_X - by + sy * w / 2 * 0.8, bx + sx * l / 2 * 0.8, TOP))
                        for sx in (-1, 1) for sy in (-1, 1)]
    return points


def ink_tried():
    """The stain after the third go: a dish of acid, a small brush, a folded cloth, the paler wood."""
    workshop.room()
    points = build("tried")
    x, y = LEAF_X - INK[1], INK[0]
    china = surfaces.plain("china", (0.62, 0.60, 0.55), 0.25)
    turning("dish", [(0, 0.022), (0.4, 0.034), (1, 0.041)], (x + 0.045, y + 0.125, TOP), (x + 0.045, y + 0.125, TOP + 0.022),
            china)
    turning("liquid", [(0, 0.036), (1, 0.036)], (x + 0.045, y + 0.125, TOP + 0.0215), (x + 0.045, y + 0.125, TOP + 0.0225),
            surfaces.plain("acid", (0.42, 0.42, 0.38), 0.05))
    handle = surfaces.plain("brush handle", (0.28, 0.12, 0.045), 0.35)
    a, b = Vector((x - 0.10, y + 0.075, TOP + 0.006)), Vector((x - 0.02, y + 0.115, TOP + 0.006))
    way = (b - a).normalized()
    turning("small brush", [(0, 0.003), (0.7, 0.0055), (1, 0.004)], a, b, handle, 20)
    turning("ferrule", [(0, 0.0046), (1, 0.0052)], b, b + way * 0.014, surfaces.steel(), 20)
    turning("bristles", [(0, 0.005), (0.7, 0.006), (1, 0.002)], b + way * 0.014, b + way * 0.036,
            surfaces.plain("pale bristle", (0.42, 0.36, 0.26), 0.9), 20)
    tools.cloth(pivot((x + 0.055, y - 0.115, TOP), 20), 0.115, 0.085, (0.62, 0.60, 0.55), folds=0.006)
    return points


def upside_down(hinge, beside):
    """The table on its head on a blanket, its underside to the light. `beside` lays the hinges next to the bed."""
    def scene():
        workshop.room(wall=1.6)
        flip = pivot((0, 0, TOP + 0.012), 180, "x")
        points = build("before", hinge=hinge, parent=flip)
        tools.cloth(pivot((0, 0, 0)), 1.7, 1.5, (0.115, 0.125, 0.135), folds=0.010, thick=0.004, name="blanket")
        if beside:
            points.update(loose_hinges(flip))
        return points
    return scene


def loose_hinges(flip):
    """On the leaf's underside: the broken flap, the salvaged hinge opened flat, six screws, a rule."""
    up = lambda x, y, z=0.0: (x, y, TOP - THICK - z)
    old = surfaces.brass("old brass", (0.17, 0.105, 0.045), 0.50)
    bright = surfaces.brass("salvaged brass", (0.62, 0.43, 0.17), 0.30)
    lay = lambda x, y, turn: pivot(up(x, y), turn, parent=flip)
    broken = lay(-0.400, -0.285, 24)
    board("broken flap", (FLAP, FLAP_WIDE, 0.0016), (0, 0, -0.0010), old, "x", "-z", 0.0004, parent=broken)
    turning("knuckle", [(0, 0.0042), (1, 0.0042)], (FLAP / 2 + 0.003, -0.010, -0.0042), (FLAP / 2 + 0.003, 0.010, -0.0042),
            old, 24, parent=broken)
    for dx, dy in screw_places():
        turning("flap hole", [(0, 0.0026), (1, 0.0026)], (-dx, dy, -0.0017), (-dx, dy, -0.0020),
                surfaces.plain("hole", (0.004, 0.003, 0.002), 0.95), 16, parent=broken)
    salvaged = lay(-0.390, -0.180, -12)
    for side in (-1, 1):
        board("flap", (FLAP, FLAP_WIDE, 0.0016), (side * (FLAP / 2 + 0.004), 0, -0.0010), bright, "x", "-z", 0.0004,
              parent=salvaged)
        for dx, dy in screw_places():
            at = (side * (FLAP / 2 + 0.004 + dx), dy)
            turning("flap hole", [(0, 0.0026), (1, 0.0026)], (*at, -0.0017), (*at, -0.0020),
                    surfaces.plain("hole", (0.004, 0.003, 0.002), 0.95), 16, parent=salvaged)
    step = FLAP_WIDE / 5
    for k in range(5):
        start = -FLAP_WIDE / 2 + k * step
        turning("knuckle", [(0, 0.0042), (1, 0.0042)], (0, start + 0.0003, -0.0042), (0, start + step - 0.0003, -0.0042),
                bright, 24, parent=salvaged)
    bpy.context.view_layer.update()
    return {"broken flap": broken.matrix_world.translation, "salvaged hinge": salvaged.matrix_world.translation}


def patch_measured():
    """The left leaf's outer front corner, with a rule laid along its edge."""
    workshop.room()
    points = build("after", turn=0.0)
    x, y = -JOINT - LEAF + 0.066, -DEEP / 2 + 0.004
    tools.rule(pivot((x, y, TOP), 90.0), 0.20)
    # The marks run along the rule's own upper edge, which lies towards the patch.
    points["rule, 0"], points["rule, 150 mm"] = Vector((x - 0.013, y, TOP)), Vector((x - 0.013, y + 0.150, TOP))
    return points


PIECE = "writing-table"
FRONT = ("ring 1", "ring 2", "ring 3", "ink", "joint, front end", "drawer")
SHOTS = [
    Shot(PIECE, "before-front", "2026-09-14 10:22:10", standing("before", "broken"), (0.10, -2.18, 1.42),
         (0.05, 0.0, 0.475), 49, 4.0, (0.0, -0.25, 0.7), WIDE, 0.5, marks=FRONT),
    Shot(PIECE, "before-rings", "2026-09-14 10:31:45", standing("before", "broken"), (0.02, -0.86, 1.16),
         (-0.03, -0.03, TOP), 50, 4.5, None, CLOSE, -0.4, marks=("ring 1", "ring 2", "ring 3", "dents"),
         light=dict(side=-2.2, height=1.15, forward=0.6, power=150.0, size=(1.0, 0.9))),
    Shot(PIECE, "before-joint", "2026-09-14 10:36:02", standing("before", "broken"), (-0.60, -1.00, 0.80),
         (-0.36, -0.27, 0.70), 75, 5.0, None, CLOSE, 0.6, marks=("joint, front end",)),
    Shot(PIECE, "during-hinge", "2026-09-17 15:12:40", upside_down("out", True), (-0.42, -0.25, 0.56),
         (-0.325, 0.222, 0.03), 58, 5.6, None, CLOSE, 1.0, orientation=3, marks=("front hinge", "broken flap", "salvaged hinge")),
    Shot(PIECE, "hidden-hinge", "2026-09-17 16:48:03", upside_down("salvaged", False), (-0.58, -0.30, 0.74),
         (-0.235, 0.03, 0.03), 45, 5.6, None, CLOSE, -0.5, marks=("front hinge", "rear hinge")),
    Shot(PIECE, "during-colour", "2026-09-22 11:20:44", half_cleaned, (-0.37, -0.14, 1.26), (-0.37, -0.005, TOP), 50,
         8.0, None, CLOSE, roll=1.5, exposure=0.3, faithful=True, areas=("grey", "target", "result")),
    Shot(PIECE, "during-ink", "2026-09-25 16:05:12", ink_tried, (0.20, -0.62, 1.16), (0.335, -0.090, TOP),
         55, 5.0, None, CLOSE, 0.8, marks=("ink", "paler wood")),
    Shot(PIECE, "after-front", "2026-10-09 11:02:55", standing("after"), (0.06, -2.20, 1.40),
         (0.04, 0.0, 0.48), 50, 4.0, (0.0, -0.25, 0.7), WIDE, -0.3, marks=FRONT, outlines=True),
    Shot(PIECE, "after-ink", "2026-10-09 11:10:20", standing("after"), (0.20, -0.84, 1.13), (0.16, -0.12, TOP),
         50, 4.5, None, CLOSE, -0.5, marks=("ink", "paler wood", "dents")),
    Shot(PIECE, "after-patch", "2026-10-09 11:18:31", patch_measured, (-0.420, -0.315, 1.22), (-0.420, -0.285, TOP), 60,
         6.3, None, CLOSE, 2.0, marks=(*(f"patch {k}" for k in range(1, 9)), "rule, 0", "rule, 150 mm")),
]
