"""The room: a plastered corner, floorboards, a window to the left, and a camera."""

import math

import bpy
from mathutils import Matrix, Vector

import shapes
import surfaces
from shapes import board, pivot, turning


def empty_scene():
    bpy.ops.wm.read_factory_settings(use_empty=True)
    shapes.chance.seed(7)


def room(wall=0.9, corner=1.75, tidy=True):
    """Back wall at y = `wall`, right wall at x = `corner`. Untidy adds boards and a crate."""
    shapes.chance.seed(11)
    white = surfaces.plaster()
    slab = lambda name, size, at, face: board(name, size, at, white, "x" if face != "x" else "y", face, bevel=0)
    slab("back wall", (8.0, 3.2, 0.1), (corner - 4.0, wall + 0.05, 1.6), "-y")
    slab("right wall", (6.0, 3.2, 0.1), (corner + 0.05, wall - 3.0, 1.6), "x")
    skirting = surfaces.plain("skirting", (0.42, 0.40, 0.35), 0.55)
    board("skirting back", (8.0, 0.15, 0.018), (corner - 4.0, wall - 0.009, 0.075), skirting, "x", "-y", 0.004)
    board("skirting right", (6.0, 0.15, 0.018), (corner - 0.009, wall - 3.0, 0.075), skirting, "y", "-x", 0.004)
    floorboards(wall, corner)
    if not tidy:
        clutter(wall, corner)


def floorboards(wall, corner):
    worn = surfaces.wood("pine-floor", roughness=0.55, dirt=0.55)
    board("under floor", (9, 9, 0.02), (0, 0, -0.05), surfaces.plain("dark", (0.01, 0.009, 0.008), 0.9), bevel=0)
    y, row = wall, 0
    while y > wall - 5.2:
        x = corner - (0.0, 1.3, 0.6, 1.9)[row % 4]
        joints = [corner, x] if x < corner else [corner]
        while joints[-1] > corner - 5.5:
            joints.append(joints[-1] - 2.4)
        for right, left in zip(joints, joints[1:]):
            board("floorboard", (right - left - 0.002, 0.143, 0.025),
                  ((right + left) / 2, y - 0.0725, -0.0125), worn, "x", "z", 0.002)
        y, row = y - 0.145, row + 1


def clutter(wall, corner):
    """Boards leaning in the corner and a low crate: a workshop, not a studio."""
    shapes.chance.seed(23)
    pine = surfaces.wood("pine-old", 0.7)
    oak = surfaces.wood("oak-bare", 0.7)
    for i, (x, width, length, lean, kind) in enumerate((
            (corner - 0.18, 0.17, 1.95, 9, pine), (corner - 0.36, 0.13, 1.62, 11, oak),
            (corner - 0.28, 0.20, 1.40, 14, pine))):
        foot = pivot((x, wall - 0.05 - length * math.sin(math.radians(lean)), 0.0), -lean, "x")
        board("leaning board", (length, width, 0.022), (0, 0, length / 2), kind, "z", "-y", 0.001, parent=foot)
    crate(pivot((corner - 0.62, wall - 0.62, 0.0), 12), (0.42, 0.32, 0.24))


def crate(parent, size):
    rough = surfaces.wood("pine-old", 0.75, dirt=0.4)
    w, d, h = size
    for y in (-d / 2, d / 2):
        for k in range(2):
            board("slat", (w, h * 0.42, 0.012), (0, y, h * (0.25 + 0.5 * k)), rough, "x", "-y", 0.001, parent=parent)
    for x in (-w / 2, w / 2):
        for k in range(2):
            board("slat", (d, h * 0.42, 0.012), (x, 0, h * (0.25 + 0.5 * k)), rough, "y", "x", 0.001, parent=parent)
        for y in (-d / 2 + 0.02, d / 2 - 0.02):
            board("post", (h, 0.03, 0.02), (x * 0.96, y * 0.96, h / 2), rough, "z", "x", 0.001, parent=parent)
    board("bottom", (w, d, 0.01), (0, 0, 0.01), rough, "x", "z", 0.001, parent=parent)


def bench(top=0.0, width=2.2, depth=0.75):
    """A bench top whose upper face lies at height `top`, its front edge towards the camera."""
    shapes.chance.seed(31)
    beech = surfaces.wood("beech-worn", 0.6, dirt=0.3)
    each = depth / 4
    for k in range(4):
        board("bench board", (width, each - 0.0025, 0.06), (0, -depth / 2 + each * (k + 0.5), top - 0.03), beech,
              "x", "z", 0.003)


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
    turning("screw", [(0, 0.0055), (1, 0.0055)], (opening + 0.006, 0, level), (slide + 0.06, 0, level), bright,
            24, parent)
    turning("pad", [(0, 0.013), (0.7, 0.013), (1, 0.008)], (opening, 0, level), (opening + 0.010, 0, level), iron,
            24, parent)
    turning("handle", [(0, 0.009), (0.1, 0.014), (0.6, 0.016), (0.95, 0.013), (1, 0.006)],
            (slide + 0.06, 0, level), (slide + 0.16, 0, level), handle, 24, parent)


def daylight(power=230.0, side=-2.5, forward=-1.1, height=1.75, fill=0.45):
    """A tall window to the left of the camera, its glazing bars, and the sky's weak fill."""
    light = bpy.data.lights.new("window", "AREA")
    light.shape, light.size, light.size_y = "RECTANGLE", 1.5, 1.7
    light.energy, light.color = power, (1.0, 0.965, 0.91)
    lamp = bpy.data.objects.new("window", light)
    lamp.location = (side, forward, height)
    lamp.rotation_euler = (Vector((0.1, 0.0, 0.35)) - lamp.location).to_track_quat("-Z", "Y").to_euler()
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
