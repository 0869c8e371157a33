"""The room: plaster, floorboards, a window, a bench with its tools, and a camera.

The room's x runs along the back wall, y away from the camera, z up; a piece stands at the origin.
"""

import math

import bpy
from mathutils import Matrix, Vector

import shapes
import surfaces
import tools
from shapes import board, pivot

EVERYTHING = ("window", "bench", "shelf", "rack", "clamps", "boards")


def empty_scene():
    bpy.ops.wm.read_factory_settings(use_empty=True)
    shapes.chance.seed(7)


def room(wall=1.75, corner=2.50, things=EVERYTHING, window=(-1.55, 0.95), bench=0.95):
    """Back wall at y = `wall`, right wall at x = `corner`, furnished with `things`.

    `window` gives the middle of the window (x) and its sill's height; `bench` the middle of the bench (x),
    below the shelf and the rack.
    """
    shapes.chance.seed(11)
    white = surfaces.plaster()
    slab = lambda name, size, at, face: board(name, size, at, white, "x" if face != "x" else "y", face, bevel=0)
    if "window" in things:
        opening(wall, corner, window, slab)
    else:
        slab("back wall", (8.0, 3.2, 0.1), (corner - 4.0, wall + 0.05, 1.6), "-y")
    slab("right wall", (6.0, 3.2, 0.1), (corner + 0.05, wall - 3.0, 1.6), "x")
    skirting = surfaces.plain("skirting", (0.30, 0.30, 0.26), 0.55)
    board("skirting back", (8.0, 0.15, 0.018), (corner - 4.0, wall - 0.009, 0.075), skirting, "x", "-y", 0.004)
    board("skirting right", (6.0, 0.15, 0.018), (corner - 0.009, wall - 3.0, 0.075), skirting, "y", "-x", 0.004)
    floorboards(wall, corner)
    if "bench" in things:
        workbench(bench, wall)
    if "shelf" in things:
        wall_shelf(bench, wall)
    if "rack" in things:
        tool_rack(bench, wall)
    if "clamps" in things:
        hanging_clamps(bench - 1.35, wall)
    if "boards" in things:
        leaning_boards(wall, corner)


def opening(wall, corner, window, slab, width=0.98, height=1.20, deep=0.20):
    """The back wall with a window in it: reveal, frame, glazing bars, sill and the day outside."""
    middle, sill = window
    left, right, head = middle - width / 2, middle + width / 2, sill + height
    y = wall + deep / 2
    thick = lambda name, x0, x1, z0, z1: board(name, (x1 - x0, z1 - z0, deep), ((x0 + x1) / 2, y, (z0 + z1) / 2),
                                               surfaces.plaster(), "x", "-y", bevel=0)
    thick("wall left of the window", corner - 8.0, left, 0, 3.2)
    thick("wall right of the window", right, corner, 0, 3.2)
    thick("wall below the window", left, right, 0, sill)
    thick("wall above the window", left, right, head, 3.2)
    paint = surfaces.plain("window paint", (0.52, 0.52, 0.48), 0.4)
    board("sill", (width + 0.10, 0.26, 0.030), (middle, wall + 0.05, sill + 0.015), paint, "x", "z", 0.006)
    at = wall + 0.13
    for x in (left + 0.022, right - 0.022):
        board("stile", (height, 0.044, 0.044), (x, at, sill + height / 2), paint, "z", "-y", 0.004)
    for z in (sill + 0.055, head - 0.022, sill + height * 0.52):
        board("rail", (width, 0.044, 0.040), (middle, at, z), paint, "x", "-y", 0.004)
    for x in (middle - width / 6, middle + width / 6):
        board("glazing bar", (height, 0.020, 0.028), (x, at, sill + height / 2), paint, "z", "-y", 0.004)
    board("outside", (width * 1.6, height * 1.5, 0.01), (middle, wall + 0.62, sill + height * 0.5), surfaces.outside(),
          "x", "-y", bevel=0)
    tools.jar((left + 0.20, wall + 0.03, sill + 0.030), 0.052, 0.13, surfaces.bottle("brown bottle"))
    tools.jar((left + 0.31, wall + 0.05, sill + 0.030), 0.040, 0.10, surfaces.bottle("green bottle", (0.05, 0.085, 0.05)))
    tools.tin((right - 0.16, wall + 0.03, sill + 0.030), 0.045, 0.085, (0.16, 0.20, 0.22))


def floorboards(wall, corner):
    worn = surfaces.wood("pine-floor", roughness=0.55, dirt=0.55)
    board("under floor", (9, 9, 0.02), (0, 0, -0.05), surfaces.plain("dark", (0.01, 0.009, 0.008), 0.9), bevel=0)
    y, row = wall, 0
    while y > wall - 6.0:
        x = corner - (0.0, 1.3, 0.6, 1.9)[row % 4]
        joints = [corner, x] if x < corner else [corner]
        while joints[-1] > corner - 6.0:
            joints.append(joints[-1] - 2.4)
        for right, left in zip(joints, joints[1:]):
            board("floorboard", (right - left - 0.002, 0.143, 0.025),
                  ((right + left) / 2, y - 0.0725, -0.0125), worn, "x", "z", 0.002)
            for end in (left + 0.02, right - 0.02):
                for side in (0.035, 0.110):
                    tools.nail_head((end, y - side, 0.0))
        y, row = y - 0.145, row + 1


def workbench(middle, wall, top=0.85, width=1.75, depth=0.58):
    """The bench against the back wall, its vice, and what lies on it and below it."""
    shapes.chance.seed(37)
    beech, pine = surfaces.wood("beech-worn", 0.6, dirt=0.35), surfaces.wood("pine-old", 0.7, dirt=0.3)
    left, right, back = middle - width / 2, middle + width / 2, wall - 0.02
    front = back - depth
    for k in range(3):
        board("bench top", (width, depth / 3 - 0.002, 0.065), (middle, front + depth / 3 * (k + 0.5), top - 0.0325),
              beech, "x", "z", 0.004)
    for x in (left + 0.12, right - 0.12):
        for y in (front + 0.07, back - 0.07):
            board("bench leg", (top - 0.065, 0.085, 0.085), (x, y, (top - 0.065) / 2), beech, "z", "-y", 0.004)
        board("bench foot", (depth - 0.06, 0.07, 0.05), (x, (front + back) / 2, 0.14), beech, "y", "x", 0.004)
    board("bench rail", (width - 0.24, 0.11, 0.035), (middle, front + 0.07, top - 0.13), beech, "x", "-y", 0.003)
    board("lower shelf", (width - 0.20, depth - 0.12, 0.022), (middle, (front + back) / 2, 0.176), pine, "x", "z", 0.003)
    board("vice chop", (0.34, 0.20, 0.055), (left + 0.36, front - 0.045, top - 0.115), beech, "x", "-y", 0.008)
    steel = surfaces.steel()
    shapes.turning("vice screw", [(0, 0.014), (1, 0.014)], (left + 0.36, front - 0.11, top - 0.14),
                   (left + 0.36, front, top - 0.14), steel)
    shapes.turning("vice bar", [(0, 0.012), (0.04, 0.007), (0.96, 0.007), (1, 0.012)],
                   (left + 0.25, front - 0.10, top - 0.19), (left + 0.47, front - 0.10, top - 0.09), steel)
    tools.crate(pivot((middle + 0.30, back - 0.27, 0.187), 4), (0.46, 0.32, 0.22))
    tools.stack((middle - 0.30, back - 0.28, 0.187))
    tools.plane(pivot((middle - 0.42, front + 0.17, top), 24))
    tools.brush_pot((middle + 0.02, back - 0.16, top))
    tools.glue_pot((middle + 0.26, back - 0.20, top))
    tools.tin((middle + 0.46, back - 0.13, top), 0.055, 0.115, (0.30, 0.13, 0.07))
    tools.tin((middle + 0.57, back - 0.17, top), 0.043, 0.080, (0.36, 0.33, 0.24))
    tools.mallet(pivot((middle + 0.42, front + 0.15, top), -28))
    tools.jar((middle - 0.12, back - 0.13, top), 0.045, 0.12, surfaces.bottle("brown bottle"))


def wall_shelf(middle, wall, height=1.52, width=1.15):
    """A shelf above the bench with tins, bottles and a row of small boxes."""
    shapes.chance.seed(41)
    pine = surfaces.wood("pine-old", 0.7, dirt=0.3)
    board("wall shelf", (width, 0.20, 0.022), (middle + 0.10, wall - 0.10, height), pine, "x", "z", 0.002)
    for x in (middle - 0.30, middle + 0.50):
        board("bracket", (0.19, 0.15, 0.022), (x, wall - 0.011, height - 0.106), pine, "z", "-y", 0.002)
        board("bracket arm", (0.17, 0.03, 0.022), (x, wall - 0.095, height - 0.026), pine, "y", "z", 0.002)
    over = height + 0.011
    colours = ((0.34, 0.30, 0.20), (0.16, 0.20, 0.22), (0.30, 0.13, 0.07), (0.36, 0.33, 0.24), (0.12, 0.16, 0.11))
    for k, colour in enumerate(colours):
        tools.tin((middle - 0.38 + 0.125 * k, wall - 0.10, over), 0.040 + 0.008 * (k % 3), 0.09 + 0.02 * (k % 2), colour)
    for k, (r, h) in enumerate(((0.035, 0.17), (0.042, 0.14), (0.033, 0.19))):
        glass = surfaces.bottle("brown bottle") if k != 1 else surfaces.bottle("green bottle", (0.05, 0.085, 0.05))
        tools.jar((middle + 0.30 + 0.10 * k, wall - 0.09, over), r, h, glass)
    board("small box", (0.12, 0.10, 0.09), (middle + 0.60, wall - 0.09, over + 0.045), pine, "x", "z", 0.002)


def tool_rack(middle, wall, height=1.22):
    """A strip of wood on the wall with chisels in it, and a saw and a square beside them."""
    shapes.chance.seed(43)
    pine = surfaces.wood("pine-old", 0.7, dirt=0.3)
    board("rack", (0.62, 0.05, 0.040), (middle - 0.05, wall - 0.02, height), pine, "x", "-y", 0.002)
    for k in range(6):
        tools.chisel(pivot((middle - 0.30 + 0.10 * k, wall - 0.052, height + 0.028)), 0.010 + 0.004 * (k % 4))
    tools.saw(pivot((middle + 0.62, wall - 0.012, height - 0.02), 8, "y"))
    tools.square(pivot((middle - 0.55, wall - 0.012, height - 0.03)))


def hanging_clamps(middle, wall, height=1.42):
    """Bar clamps hung from a rail, jaws to the room."""
    shapes.chance.seed(47)
    board("clamp rail", (0.66, 0.06, 0.03), (middle, wall - 0.015, height), surfaces.wood("pine-old", 0.7), "x", "-y",
          0.002)
    for k, (bar, opening) in enumerate(((0.62, 0.12), (0.62, 0.30), (0.48, 0.10), (0.80, 0.34))):
        hung = pivot((middle - 0.24 + 0.16 * k, wall - 0.040, height + 0.030), 90, "y")
        clamp(pivot((0, 0, 0), 90, "x", parent=hung), opening, bar=bar)


def leaning_boards(wall, corner):
    """Boards kept for later, leaning in the corner."""
    shapes.chance.seed(23)
    pine, oak = surfaces.wood("pine-old", 0.7), surfaces.wood("oak-bare", 0.7)
    for x, width, length, lean, kind in (
            (corner - 0.14, 0.17, 2.15, 8, pine), (corner - 0.30, 0.13, 1.72, 10, oak),
            (corner - 0.22, 0.20, 1.45, 14, pine), (corner - 0.42, 0.09, 1.95, 9, oak)):
        foot = pivot((x, wall - 0.05 - length * math.sin(math.radians(lean)), 0.0), -lean, "x")
        board("leaning board", (length, width, 0.022), (0, 0, length / 2), kind, "z", "-y", 0.001, parent=foot)


def bench(top=0.0, width=2.2, depth=0.75, things=False):
    """A bench top close to the camera: its upper face at height `top`, its front edge towards the camera.

    `things` lays a few tools along its far edge.
    """
    shapes.chance.seed(31)
    beech = surfaces.wood("beech-worn", 0.6, dirt=0.3)
    each = depth / 4
    for k in range(4):
        board("bench board", (width, each - 0.0025, 0.06), (0, -depth / 2 + each * (k + 0.5), top - 0.03), beech,
              "x", "z", 0.003)
    if things:
        far = depth / 2
        tools.brush_pot((0.62, far - 0.12, top))
        tools.tin((0.76, far - 0.14, top), 0.05, 0.11, (0.30, 0.13, 0.07))
        tools.plane(pivot((-0.58, far - 0.15, top), 18))
        tools.chisel_lying(pivot((0.34, far - 0.20, top), 65))
        tools.jar((-0.30, far - 0.10, top), 0.045, 0.12, surfaces.bottle("brown bottle"))


def clamp(parent, opening, throat=0.07, bar=0.30):
    """A bar clamp. Its own x runs along the bar, from the fixed jaw; jaws reach down z."""
    iron, bright = surfaces.black_iron(), surfaces.steel()
    handle = surfaces.plain("clamp handle", (0.20, 0.045, 0.02), 0.4)
    board("bar", (bar, 0.018, 0.006), (bar / 2 - 0.02, 0, 0), bright, "x", "y", 0.001, parent=parent)
    board("fixed jaw", (throat + 0.02, 0.024, 0.018), (-0.009, 0, -throat / 2), iron, "z", "x", 0.004, parent=parent)
    slide = opening + 0.055
    board("sliding jaw", (throat + 0.025, 0.022, 0.018), (slide, 0, -throat / 2 + 0.004), iron, "z", "x", 0.004,
          parent=parent)
    level = -throat + 0.008
    shapes.turning("screw", [(0, 0.0055), (1, 0.0055)], (opening + 0.006, 0, level), (slide + 0.06, 0, level), bright,
                   24, parent)
    shapes.turning("pad", [(0, 0.013), (0.7, 0.013), (1, 0.008)], (opening, 0, level), (opening + 0.010, 0, level), iron,
                   24, parent)
    shapes.turning("handle", [(0, 0.009), (0.1, 0.014), (0.6, 0.016), (0.95, 0.013), (1, 0.006)],
                   (slide + 0.06, 0, level), (slide + 0.16, 0, level), handle, 24, parent)


def daylight(power=230.0, side=-2.5, forward=-1.1, height=1.75, fill=0.45, size=(1.5, 1.7),
             colour=(1.0, 0.965, 0.91), aim=(0.1, 0.0, 0.35)):
    """A second tall window to the left of the camera, and the sky's weak fill.

    A small `size` set low gives raking light.
    """
    light = bpy.data.lights.new("window", "AREA")
    light.shape, light.size, light.size_y = "RECTANGLE", *size
    light.energy, light.color = power, colour
    lamp = bpy.data.objects.new("window", light)
    lamp.location = (side, forward, height)
    lamp.rotation_euler = (Vector(aim) - lamp.location).to_track_quat("-Z", "Y").to_euler()
    bpy.context.collection.objects.link(lamp)
    world = bpy.data.worlds.new("sky")
    world.use_nodes = True
    sky = world.node_tree.nodes["Background"]
    sky.inputs[0].default_value = (0.80, 0.89, 1.0, 1.0)
    sky.inputs[1].default_value = fill
    bpy.context.scene.world = world


def camera(at, look, focal=45.0, fstop=5.6, focus=None, roll=0.0):
    """A camera at `at` looking at `look`; `focus` is the sharp point, `focal` in millimetres."""
    lens = bpy.data.cameras.new("camera")
    lens.lens, lens.sensor_width = focal, 36.0
    lens.sensor_fit = "AUTO"
    lens.clip_start = 0.02
    eye = bpy.data.objects.new("camera", lens)
    at, look = Vector(at), Vector(look)
    eye.location = at
    turn = (look - at).to_track_quat("-Z", "Y").to_matrix().to_4x4()
    eye.matrix_world = Matrix.Translation(at) @ turn @ Matrix.Rotation(math.radians(roll), 4, "Z")
    lens.dof.use_dof = True
    lens.dof.aperture_fstop = fstop
    lens.dof.focus_distance = (Vector(focus or look) - at).length
    bpy.context.collection.objects.link(eye)
    bpy.context.scene.camera = eye
    return eye
