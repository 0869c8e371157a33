"""An oak gateleg table, open: 910 wide, 1200 deep, 735 high, one drawer in the end."""

import bpy
from mathutils import Vector

import shapes
import surfaces
import workshop
from shapes import board, outline, pivot, turning
from shot import CLOSE, WIDE, Shot
from surfaces import WOODS, grain, material, ring, spot

TOP, THICK = 0.735, 0.018
LEAF = 0.409                       # width of a leaf; the joint takes a millimetre
LEAF_Y = -(0.190 + 0.001 + LEAF / 2)
LEG_X, LEG_Y = 0.365, 0.125

# Marks in the coordinates of the front leaf and of the fixed top; both run along x.
BURN = (0.10, 0.090)
SPLIT_Y, SPLIT_LONG = -0.045, 0.310
RINGS = ((-0.06, -0.085, 0.042), (-0.05, -0.030, 0.044), (-0.035, -0.060, 0.040))

LANDMARKS = {
    "left end of the front rule joint": (-0.455, -0.1905, TOP),
    "right end of the front rule joint": (0.455, -0.1905, TOP),
    "left end of the rear rule joint": (-0.455, 0.1905, TOP),
    "right end of the rear rule joint": (0.455, 0.1905, TOP),
    "front edge, left end of the straight": (-0.365, -0.600, TOP),
    "front edge, right end of the straight": (0.365, -0.600, TOP),
    "rear edge, left end of the straight": (-0.365, 0.600, TOP),
    "rear edge, right end of the straight": (0.365, 0.600, TOP),
}


def top_surface(stage, leaf):
    """The upper boards. Before: grey dirt, rings and, on the leaf, the burn."""
    def describe(n):
        strips = 0.137
        if stage == "bare":
            colour, height = grain(n, strips=strips, **WOODS["oak-bare"])
            return stain_patches(n, colour), 0.7, height
        if stage == "after":
            colour, height = grain(n, strips=strips, **WOODS["oak-mid"])
            rough = 0.33
            if leaf:
                ghost = spot(n, BURN, (0.040, 0.026), 0.5, 30.0, (1.0, 0.3))
                colour = n.mix(n.math("MULTIPLY", ghost, 0.40), colour, (0.06, 0.028, 0.012))
            return colour, rough, height
        colour, height = grain(n, strips=strips, **WOODS["oak-dirty"])
        grime = n.noise(n.place(), 5.0, 6.0, 0.65)
        colour = n.mix(n.math("MULTIPLY", n.step(grime, 0.40, 0.68), 0.55), colour, (0.040, 0.034, 0.028))
        worn = n.step(n.noise(n.vector("ADD", n.place(), (3.0, 1.0, 0.0)), 3.4, 5.0, 0.62), 0.50, 0.64)
        colour = n.mix(n.math("MULTIPLY", worn, 0.45), colour, (0.20, 0.155, 0.112))
        rough = n.blend(grime, 0.50, 0.78)
        for x, y, r in RINGS[:1] + RINGS[2:] if not leaf else RINGS[1:2]:
            white = ring(n, (x, y), r, 0.0045)
            colour = n.mix(n.math("MULTIPLY", white, 0.42), colour, (0.33, 0.29, 0.235))
        if leaf:
            scorch = spot(n, BURN, (0.100, 0.074), 0.32, 20.0, (1.05, 0.30))
            char = spot(n, BURN, (0.050, 0.038), 0.50, 30.0, (1.0, 0.55))
            colour = n.mix(n.math("MULTIPLY", scorch, 0.85), colour, (0.032, 0.017, 0.009))
            colour = n.mix(char, colour, (0.006, 0.005, 0.005))
            rough = n.blend(char, rough, 0.95)
            height = n.math("ADD", height, n.math("MULTIPLY", char, -0.0012))
        return colour, rough, height
    species = {"before": "oak-dirty", "bare": "oak-bare", "after": "oak-mid"}[stage]
    return material(f"table top {stage} {leaf}", describe, surfaces.mean_of(species), shine=0.22)


# Two stained patches on the sanded fixed top: middle x, middle y, length, width, the stain's tint.
PATCHES = {
    "target": (-0.115, 0.005, 0.150, 0.110, (0.60, 0.43, 0.285)),
    "result": (0.095, 0.000, 0.150, 0.110, (0.655, 0.455, 0.275)),
}
CARD = (-0.015, -0.115, 0.100, 0.070)


def stain_patches(n, colour):
    x, y, _ = n.split(n.place())
    for cx, cy, length, width, tint in PATCHES.values():
        inside = n.math("MAXIMUM",
                        n.math("SUBTRACT", n.math("ABSOLUTE", n.math("SUBTRACT", x, cx)), length / 2),
                        n.math("SUBTRACT", n.math("ABSOLUTE", n.math("SUBTRACT", y, cy)), width / 2))
        creep = n.noise(n.vector("MULTIPLY", n.place(), (60.0, 260.0, 260.0)), 1.0, 2.0)
        edge = n.math("ADD", inside, n.math("MULTIPLY", n.math("SUBTRACT", creep, 0.5), 0.004))
        stained = n.mix(1.0, colour, tint, "MULTIPLY")
        colour = n.mix(n.step(edge, 0.001, -0.001), colour, stained)
    return colour


def leg_profile(height):
    """Square blocks at the joints are separate; between them the leg is turned."""
    turned = [(0.0, 0.012), (0.02, 0.021), (0.05, 0.021), (0.07, 0.013), (0.10, 0.019), (0.13, 0.013),
              (0.22, 0.017), (0.36, 0.0225), (0.46, 0.0225), (0.58, 0.0165), (0.76, 0.0135), (0.85, 0.0125),
              (0.87, 0.019), (0.90, 0.019), (0.92, 0.013), (0.95, 0.021), (0.98, 0.021), (1.0, 0.012)]
    return turned


def leg(x, y, wood, parent, upper=0.585):
    block = lambda low, high: board("leg block", (high - low, 0.046, 0.046), (x, y, (low + high) / 2), wood,
                                    "z", "-y", 0.002, parent=parent)
    block(upper, TOP - THICK)
    block(0.060, 0.150)
    turning("leg", leg_profile(0), (x, y, 0.150), (x, y, upper), wood, parent=parent)
    turning("foot", [(0, 0.016), (0.25, 0.024), (0.6, 0.024), (1, 0.015)], (x, y, 0.0), (x, y, 0.061), wood,
            parent=parent)


def build(stage, at=(0, 0, 0), turn=0.0):
    """The whole table; `stage` is before, bare or after. Returns its named points."""
    shapes.chance.seed(41)
    root = pivot(at, turn)
    wood = {"before": surfaces.wood("oak-dirty", 0.62, dirt=0.5),
            "bare": surfaces.wood("oak-bare", 0.7),
            "after": surfaces.wood("oak-mid", 0.36)}[stage]
    fixed = top_surface(stage, False)
    board("fixed top", (0.910, 0.380, THICK), (0, 0, TOP - THICK / 2), fixed, parent=root)
    leaf_surface = top_surface(stage, True)
    leaf, sharp = shapes.rounded(0.910, LEAF, 0.09, ("sw", "se")), ()
    if stage == "before":
        leaf, sharp = with_split(leaf)
    outline("front leaf", leaf, THICK, (0, LEAF_Y, TOP - THICK / 2), leaf_surface, bevel=0.0025, sharp=sharp,
            parent=root)
    outline("rear leaf", shapes.rounded(0.910, LEAF, 0.09, ("ne", "nw")), THICK,
            (0, -LEAF_Y, TOP - THICK / 2), leaf_surface if stage != "before" else fixed, bevel=0.0025, parent=root)

    for x in (-LEG_X, LEG_X):
        for y in (-LEG_Y, LEG_Y):
            leg(x, y, wood, root)
    for y in (-LEG_Y, LEG_Y):
        board("long rail", (0.690, 0.105, 0.020), (0, y, 0.660), wood, "x", "-y", parent=root)
        board("long stretcher", (0.690, 0.040, 0.026), (0, y, 0.105), wood, "x", "-y", 0.002, parent=root)
    for x in (-LEG_X, LEG_X):
        board("end stretcher", (0.210, 0.040, 0.026), (x, 0, 0.105), wood, "y", "x", 0.002, parent=root)
    board("end rail", (0.210, 0.105, 0.020), (-LEG_X, 0, 0.660), wood, "y", "x", parent=root)
    board("drawer rail", (0.210, 0.018, 0.030), (LEG_X, 0, 0.611), wood, "y", "x", parent=root)
    board("drawer front", (0.200, 0.088, 0.020), (LEG_X + 0.012, 0, 0.665), wood, "y", "x", 0.002, parent=root)
    turning("knob", [(0, 0.007), (0.3, 0.007), (0.55, 0.016), (0.85, 0.015), (1, 0.006)],
            (LEG_X + 0.022, 0, 0.665), (LEG_X + 0.052, 0, 0.665), wood, parent=root)
    gate(root, wood, (0.265, -LEG_Y - 0.035), 118.0)
    gate(root, wood, (-0.265, LEG_Y + 0.035), 118.0, rear=True)

    bpy.context.view_layer.update()
    points = dict(LANDMARKS)
    points["burn"] = (BURN[0], LEAF_Y + BURN[1], TOP)
    points["split"] = (0.455 - SPLIT_LONG * 0.35, LEAF_Y + SPLIT_Y, TOP)
    points["split, inner end"] = (0.455 - SPLIT_LONG, LEAF_Y + SPLIT_Y, TOP)
    points["split, outer end"] = (0.455, LEAF_Y + SPLIT_Y, TOP)
    points["water ring"] = (RINGS[0][0], RINGS[0][1] - RINGS[0][2], TOP)
    points["drawer"] = (LEG_X + 0.022, -0.05, 0.665)
    return {name: root.matrix_world @ Vector(p) for name, p in points.items()}


def gate(root, wood, hinge, angle, rear=False):
    """A swinging leg: a post that turns, two rails, the leg that carries the leaf."""
    arm = pivot((hinge[0], hinge[1], 0.0), angle if not rear else angle + 180, "z", parent=root)
    reach = 0.355
    turning("gate post", [(0, 0.013), (1, 0.013)], (0, 0, 0.130), (0, 0, 0.612), wood, parent=arm)
    board("gate rail", (reach, 0.045, 0.022), (-reach / 2, 0, 0.640), wood, "x", "-y", parent=arm)
    board("gate stretcher", (reach, 0.040, 0.022), (-reach / 2, 0, 0.105), wood, "x", "-y", parent=arm)
    leg(-reach, 0, wood, arm)


def with_split(points):
    """Adds to a leaf's outline a ragged wedge that runs in along the grain from the right-hand end."""
    upper, lower, steps = [], [], 30
    for i in range(steps + 1):
        t = i / steps
        x = 0.455 - SPLIT_LONG * t
        ragged = shapes.chance.uniform(-0.0007, 0.0007) if 0 < i < steps else 0.0
        centre = SPLIT_Y + 0.010 * t * t - 0.006 * max(t - 0.5, 0) + ragged
        gap = 0.0036 * (1 - t) ** 0.9 + 0.00035
        upper.append((x, centre + gap))
        lower.append((x, centre - gap))
    wedge = lower + upper[::-1]
    # The outline runs anticlockwise; the right-hand end lies between its "se" and "ne" corners.
    here = next(i for i, (x, y) in enumerate(points) if x > 0.454 and y > SPLIT_Y)
    sharp = set(range(here, here + len(wedge)))
    return points[:here] + wedge + points[here:], sharp


def standing(stage, tidy, wall=1.15):
    def scene():
        workshop.room(wall=wall, tidy=tidy)
        return build(stage, turn=-32.0)
    return scene


def colour_test():
    """The sanded top with a grey card of 18 % reflectance and two stained patches."""
    workshop.room(wall=1.4, tidy=True)
    points = build("bare")
    x, y, length, width = CARD
    card = surfaces.plain("grey card", (0.18, 0.18, 0.18), 1.0, shine=0.0)
    board("grey card", (length, width, 0.0012), (x, y, TOP + 0.0008), card, bevel=0)
    inset = 0.80
    for name, (cx, cy, l, w) in {"grey": CARD, **{k: v[:4] for k, v in PATCHES.items()}}.items():
        points[name] = [Vector((cx + sx * l / 2 * inset, cy + sy * w / 2 * inset, TOP))
                        for sx in (-1, 1) for sy in (-1, 1)]
    return points


def drawer_turned_over():
    """The drawer upside down on the bench: old sides, a new plywood bottom."""
    workshop.room(wall=0.75, tidy=True)
    workshop.bench(top=0.86, depth=0.75)
    shapes.chance.seed(43)
    root = pivot((0, -0.02, 0.86), 24.0)
    side, front = surfaces.wood("oak-bare", 0.75, dirt=0.35), surfaces.wood("oak-mid", 0.4)
    dirty = surfaces.wood("pine-old", 0.75, dirt=0.4)
    length, width, height = 0.44, 0.200, 0.082
    board("drawer front", (width, 0.088, 0.020), (0, -length / 2, 0.044), front, "x", "-y", 0.002, parent=root)
    for x in (-1, 1):
        board("drawer side", (length - 0.02, height, 0.010), (x * (width / 2 - 0.006), 0.0, height / 2), side,
              "y", "x", 0.001, parent=root)
    board("drawer back", (width - 0.02, height - 0.012, 0.010), (0, length / 2 - 0.015, 0.036), side, "x", "-y",
          0.001, parent=root)
    ply = surfaces.plywood(5, 0.006)
    board("drawer bottom", (length - 0.012, width - 0.022, 0.006), (0, 0.004, height - 0.006), ply, "y", "z", 0.0005,
          parent=root)
    brass = surfaces.plain("brass", (0.55, 0.36, 0.12), 0.3, metal=1.0)
    for x in (-0.07, 0.0, 0.07):
        turning("screw", [(0, 0.0035), (0.6, 0.0035), (1, 0.002)], (x, length / 2 - 0.016, height - 0.004),
                (x, length / 2 - 0.016, height - 0.0015), brass, 20, parent=root)
    for x in (-1, 1):
        for k in range(3):
            board("glue block", (0.035, 0.012, 0.010), (x * (width / 2 - 0.018), -0.12 + 0.12 * k, height + 0.002),
                  dirty, "y", "z", 0.001, parent=root)
    turning("knob", [(0, 0.007), (0.3, 0.007), (0.55, 0.016), (0.85, 0.015), (1, 0.006)],
            (0, -length / 2 - 0.010, 0.044), (0, -length / 2 - 0.040, 0.044), front, parent=root)
    bpy.context.view_layer.update()
    return {"drawer bottom": root.matrix_world @ Vector((0, 0, height - 0.003))}


FRONT = ("burn", "split", "water ring", "drawer")
PIECE = "gateleg-table"
SHOTS = [
    Shot(PIECE, "before-front", "2026-03-04 09:42:10", standing("before", False), (0.10, -2.40, 1.24),
         (0.02, -0.02, 0.41), 45, 5.6, (0.1, -0.5, 0.7), WIDE, 0.5, marks=FRONT),
    Shot(PIECE, "before-top", "2026-03-04 09:47:31", standing("before", False), (-0.20, -0.98, 1.22),
         (-0.05, -0.30, TOP), 50, 5.6, None, CLOSE, marks=("burn", "water ring")),
    Shot(PIECE, "before-leaf", "2026-03-04 09:50:02", standing("before", False), (0.04, -1.02, 1.14),
         (0.080, -0.545, TOP - 0.01), 50, 6.3, None, CLOSE, marks=("split", "split, inner end", "split, outer end")),
    Shot(PIECE, "during-colour", "2026-03-14 11:20:44", colour_test, (-0.01, -0.13, 1.36), (-0.01, -0.030, TOP), 50,
         8.0, None, CLOSE, roll=1.5, exposure=-0.2, faithful=True, areas=("grey", "target", "result")),
    Shot(PIECE, "hidden-drawer", "2026-03-17 15:05:12", drawer_turned_over, (-0.32, -0.98, 1.52), (0.0, -0.01, 0.90),
         52, 6.3, None, CLOSE, marks=("drawer bottom",)),
    Shot(PIECE, "after-front", "2026-03-23 10:31:55", standing("after", True), (0.098, -2.403, 1.242),
         (0.00, -0.02, 0.405), 46, 5.6, (0.1, -0.5, 0.7), WIDE, -0.3, marks=FRONT),
    Shot(PIECE, "after-top", "2026-03-23 10:36:20", standing("after", True), (-0.24, -1.02, 1.18),
         (-0.06, -0.33, TOP), 52, 5.6, None, CLOSE, -0.6, marks=("burn",)),
]
