"""The shapes everything is made of: boards, outlines, turnings, mouldings, cords.

Lengths are metres. Every shape has its grain along its own x axis, so one wood
material serves all of them: it reads the shape's own coordinates and a random
`seed` stored in the mesh. `half` holds half the size of a board, from which a
material knows how far a point lies from the nearest edge.
"""

import contextlib
import math
import random

import bmesh
import bpy
from mathutils import Matrix, Vector

AXES = {
    "x": Vector((1, 0, 0)), "-x": Vector((-1, 0, 0)),
    "y": Vector((0, 1, 0)), "-y": Vector((0, -1, 0)),
    "z": Vector((0, 0, 1)), "-z": Vector((0, 0, -1)),
}

# One stream of numbers, started anew for every picture, keeps the same board
# looking the same in the before and the after picture.
chance = random.Random(1)


# The part of the record that shapes being made belong to; see `part`.
belongs = [None]


@contextlib.contextmanager
def part(name):
    """Shapes made inside belong to the part of that id, so that its outline can be found on a picture."""
    belongs.append(name)
    try:
        yield
    finally:
        belongs.pop()


def frame(along, face, at):
    """The placing of a shape whose x runs `along` and whose z looks to `face`."""
    x = AXES[along] if isinstance(along, str) else Vector(along).normalized()
    z = AXES[face] if isinstance(face, str) else Vector(face)
    z = (z - x * z.dot(x)).normalized()
    y = z.cross(x)
    turn = Matrix((x, y, z)).transposed().to_4x4()
    return Matrix.Translation(Vector(at)) @ turn


def add(name, verts, faces, material, placing, half=(9, 9, 9), bevel=0.0, smooth=True, parent=None):
    """Put a mesh into the scene."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata([tuple(v) for v in verts], [], faces)
    solid = bmesh.new()
    solid.from_mesh(mesh)
    bmesh.ops.recalc_face_normals(solid, faces=solid.faces)
    solid.to_mesh(mesh)
    solid.free()
    seed = chance.random()
    mesh.attributes.new("seed", "FLOAT", "POINT").data.foreach_set("value", [seed] * len(mesh.vertices))
    mesh.attributes.new("half", "FLOAT_VECTOR", "POINT").data.foreach_set(
        "vector", list(half) * len(mesh.vertices))
    mesh.materials.append(material)
    mesh.polygons.foreach_set("use_smooth", [smooth] * len(mesh.polygons))
    thing = bpy.data.objects.new(name, mesh)
    if belongs[-1]:
        thing["part"] = belongs[-1]
    thing.parent = parent
    thing.matrix_local = placing
    bpy.context.collection.objects.link(thing)
    if bevel:
        edge = thing.modifiers.new("edge", "BEVEL")
        edge.width = bevel
        edge.segments = 3
        edge.limit_method = "ANGLE"
        edge.angle_limit = math.radians(40)
        edge.harden_normals = True
    return thing


def pivot(at, turn=0.0, about="z", parent=None):
    """An empty that carries other shapes: a hinge, or a whole piece. `turn` in degrees."""
    empty = bpy.data.objects.new("pivot", None)
    empty.parent = parent
    empty.matrix_local = Matrix.Translation(Vector(at)) @ Matrix.Rotation(math.radians(turn), 4, AXES[about])
    bpy.context.collection.objects.link(empty)
    return empty


def board(name, size, at, material, along="x", face="z", bevel=0.0015, sag=0.0, parent=None):
    """A board: `size` is (length along the grain, width, thickness), `at` its middle.

    `sag` lowers the middle in a parabola, as an overloaded shelf would.
    """
    length, width, thick = (s / 2 for s in size)
    steps = 24 if sag else 1
    verts, faces = [], []
    for i in range(steps + 1):
        x = -length + 2 * length * i / steps
        drop = -sag * (1 - (x / length) ** 2)
        verts += [(x, -width, -thick + drop), (x, width, -thick + drop),
                  (x, width, thick + drop), (x, -width, thick + drop)]
    for i in range(steps):
        a, b = 4 * i, 4 * i + 4
        faces += [(a + k, a + (k + 1) % 4, b + (k + 1) % 4, b + k) for k in range(4)]
    end = 4 * steps
    faces += [(3, 2, 1, 0), (end, end + 1, end + 2, end + 3)]
    return add(name, verts, faces, material, frame(along, face, at), half=(length, width, thick), bevel=bevel,
               smooth=bevel > 0, parent=parent)


def outline(name, points, thick, at, material, along="x", face="z", bevel=0.0015, sharp=(), parent=None):
    """A flat shape sawn to an outline given in its own x and y, anticlockwise.

    Points whose numbers are in `sharp` keep a raw edge: a crack is not rounded over.
    """
    n = len(points)
    verts = [(x, y, -thick / 2) for x, y in points] + [(x, y, thick / 2) for x, y in points]
    faces = [tuple(reversed(range(n))), tuple(range(n, 2 * n))]
    faces += [(i, (i + 1) % n, n + (i + 1) % n, n + i) for i in range(n)]
    half = (max(abs(x) for x, _ in points), max(abs(y) for _, y in points), thick / 2)
    thing = add(name, verts, faces, material, frame(along, face, at), half=half, bevel=bevel, smooth=bevel > 0,
                parent=parent)
    if sharp:
        # A cracked outline is too ragged for smooth shading; flat faces need none.
        edge, mesh = thing.modifiers["edge"], thing.data
        edge.limit_method, edge.harden_normals = "WEIGHT", False
        mesh.polygons.foreach_set("use_smooth", [False] * len(mesh.polygons))
        weight = mesh.attributes.new("bevel_weight_edge", "FLOAT", "EDGE")
        for edge in mesh.edges:
            a, b = edge.vertices
            upright = a % n == b % n
            weight.data[edge.index].value = 0.0 if upright or a % n in sharp or b % n in sharp else 1.0
    return thing


def turning(name, profile, start, end, material, facets=40, parent=None):
    """Something turned on a lathe between two points.

    `profile` lists (fraction of the length, radius); the ends are closed.
    """
    start, end = Vector(start), Vector(end)
    length = (end - start).length
    rings = smooth_profile(profile)
    verts, faces = [], []
    for x, r in rings:
        for k in range(facets):
            a = 2 * math.pi * k / facets
            verts.append((x * length, r * math.cos(a), r * math.sin(a)))
    for i in range(len(rings) - 1):
        for k in range(facets):
            m = (k + 1) % facets
            faces.append((i * facets + k, (i + 1) * facets + k, (i + 1) * facets + m, i * facets + m))
    last = (len(rings) - 1) * facets
    faces.append(tuple(range(facets)))
    faces.append(tuple(reversed(range(last, last + facets))))
    along = (end - start).normalized()
    face = "y" if abs(along.y) < 0.9 else "z"
    thing = add(name, verts, faces, material, frame(along, face, start), parent=parent)
    # Sharp shoulders stay sharp, long curves stay smooth.
    crease = thing.modifiers.new("edge", "BEVEL")
    crease.width, crease.segments, crease.limit_method = 0.0007, 2, "ANGLE"
    crease.angle_limit, crease.harden_normals = math.radians(35), True
    return thing


def smooth_profile(profile, steps=5):
    """Rounds a turning's profile with a curve through its points; equal fractions stay a step."""
    if len(profile) < 3:
        return profile
    out = []
    for i in range(len(profile) - 1):
        p0, p1 = profile[max(i - 1, 0)], profile[i]
        p2, p3 = profile[i + 1], profile[min(i + 2, len(profile) - 1)]
        if abs(p2[0] - p1[0]) < 1e-6:
            out.append(p1)
            continue
        before = (p2[1] - p0[1]) / max(p2[0] - p0[0], 1e-6) if p1[0] - p0[0] > 1e-6 else 0
        after = (p3[1] - p1[1]) / max(p3[0] - p1[0], 1e-6) if p3[0] - p2[0] > 1e-6 else 0
        w = p2[0] - p1[0]
        for k in range(steps):
            t = k / steps
            r = ((2 * t**3 - 3 * t**2 + 1) * p1[1] + (t**3 - 2 * t**2 + t) * w * before
                 + (3 * t**2 - 2 * t**3) * p2[1] + (t**3 - t**2) * w * after)
            out.append((p1[0] + t * w, max(r, 0.0005)))
    out.append(profile[-1])
    return out


def moulding(name, profile, start, end, material, mitres=(True, True), bevel=0.0006, parent=None):
    """A straight run of moulding along one side of a box.

    Walk the box anticlockwise as seen from above: the moulding sticks out to the
    right. `profile` lists (how far out, how high above `start`), from the bottom up.
    """
    start, end = Vector(start), Vector(end)
    length = (end - start).length
    section = [(0.0, profile[0][1])] + list(profile) + [(0.0, profile[-1][1])]
    n = len(section)
    verts = [(-out if mitres[0] else 0.0, -out, z) for out, z in section]
    verts += [(length + (out if mitres[1] else 0.0), -out, z) for out, z in section]
    faces = [(i, n + i, n + (i + 1) % n, (i + 1) % n) for i in range(n)]
    faces += [tuple(range(n)), tuple(reversed(range(n, 2 * n)))]
    out = max(o for o, _ in profile)
    return add(name, verts, faces, material, frame(end - start, "z", start),
               half=(9, out, 9), bevel=bevel, smooth=bevel > 0, parent=parent)


def cords(name, paths, radius, material, parent=None, facets=8):
    """Many cords as one mesh; `along` and `around` let the material twist the strands."""
    verts, faces, along, around = [], [], [], []
    for path in paths:
        path = [Vector(p) for p in path]
        start, walked = len(verts), chance.random()
        side = None
        for i, point in enumerate(path):
            tangent = (path[min(i + 1, len(path) - 1)] - path[max(i - 1, 0)]).normalized()
            if side is None:
                side = tangent.orthogonal().normalized()
            side = (side - tangent * side.dot(tangent)).normalized()
            up = tangent.cross(side)
            if i:
                walked += (point - path[i - 1]).length
            for k in range(facets):
                a = 2 * math.pi * k / facets
                verts.append(point + (side * math.cos(a) + up * math.sin(a)) * radius)
                along.append(walked)
                around.append(a)
        for i in range(len(path) - 1):
            for k in range(facets):
                m = (k + 1) % facets
                a, b = start + i * facets, start + (i + 1) * facets
                faces.append((a + k, a + m, b + m, b + k))
        last = start + (len(path) - 1) * facets
        faces += [tuple(reversed(range(start, start + facets))), tuple(range(last, last + facets))]
    thing = add(name, verts, faces, material, Matrix.Identity(4), parent=parent)
    mesh = thing.data
    mesh.attributes.new("along", "FLOAT", "POINT").data.foreach_set("value", along)
    mesh.attributes.new("around", "FLOAT", "POINT").data.foreach_set("value", around)
    return thing


def rounded(width, depth, radius, corners, steps=28):
    """The outline of a rectangle with some corners rounded: a subset of 'sw', 'se', 'ne', 'nw'."""
    w, d = width / 2, depth / 2
    points = []
    for name, cx, cy, a0 in (("sw", -w, -d, 180), ("se", w, -d, 270), ("ne", w, d, 0), ("nw", -w, d, 90)):
        if name not in corners:
            points.append((cx, cy))
            continue
        ox, oy = cx - math.copysign(radius, cx), cy - math.copysign(radius, cy)
        for k in range(steps + 1):
            a = math.radians(a0 + 90 * k / steps)
            points.append((ox + radius * math.cos(a), oy + radius * math.sin(a)))
    return points
