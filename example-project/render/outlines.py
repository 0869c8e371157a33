"""Outlines of the parts that a picture shows, found by looking through the camera at a grid of points."""

import bpy
import numpy

COLUMNS = 320                      # how many points across the longer side
POINTS = 24                        # the most corners an outline may have
SMALLEST = 0.0004                  # share of the picture below which a scrap of a part gets no outline
MOST = 8                           # the most outlines for one part: a set of legs, a row of spindles


def of_parts(size):
    """For each part that shows, its outlines, largest first, as fractions of the picture from its top left."""
    parts = seen_parts(size)
    found = {}
    for name in sorted({p for row in parts for p in row if p}):
        mask = numpy.array([[p == name for p in row] for row in parts])
        pieces = sorted(islands(mask), key=lambda cells: -len(cells))[:MOST]
        kept = [simple(border(cells), mask.shape) for cells in pieces if len(cells) >= SMALLEST * mask.size]
        if kept:
            found[name] = kept
    return found


def seen_parts(size):
    """The part that is first met behind each point of the grid, row by row from the top."""
    scene = bpy.context.scene
    eye = scene.camera
    graph = bpy.context.evaluated_depsgraph_get()
    corners = [eye.matrix_world @ c for c in eye.data.view_frame(scene=scene)]
    right_top, right_low, left_low, left_top = corners
    across = round(COLUMNS * size[0] / max(size))
    down = round(COLUMNS * size[1] / max(size))
    start = eye.matrix_world.translation
    rows = []
    for j in range(down):
        row = []
        for i in range(across):
            u, v = (i + 0.5) / across, (j + 0.5) / down
            point = (left_top * (1 - u) + right_top * u) * (1 - v) + (left_low * (1 - u) + right_low * u) * v
            hit, _, _, _, thing, _ = scene.ray_cast(graph, start, (point - start).normalized())
            row.append(thing.get("part") if hit else None)
        rows.append(row)
    return rows


def islands(mask):
    """The connected regions of a mask, each as a set of (row, column)."""
    left = {(int(r), int(c)) for r, c in zip(*numpy.nonzero(mask))}
    while left:
        todo, cells = [left.pop()], set()
        while todo:
            r, c = todo.pop()
            cells.add((r, c))
            for near in ((r + 1, c), (r - 1, c), (r, c + 1), (r, c - 1)):
                if near in left:
                    left.remove(near)
                    todo.append(near)
        yield cells


def border(cells):
    """The outer border of a region, walked along the edges of its cells, as (column, row) corners."""
    nexts = {}
    for r, c in cells:
        for missing, a, b in (((r - 1, c), (c, r), (c + 1, r)), ((r, c + 1), (c + 1, r), (c + 1, r + 1)),
                              ((r + 1, c), (c + 1, r + 1), (c, r + 1)), ((r, c - 1), (c, r + 1), (c, r))):
            if missing not in cells:
                nexts.setdefault(a, []).append(b)
    first = min(nexts, key=lambda p: (p[1], p[0]))
    path, here, way = [first], first, (1, 0)
    while True:
        # Where two cells touch only by a corner, keep to the cell that is walked round.
        turns = [(-way[1], way[0]), way, (way[1], -way[0])]
        ahead = next((here[0] + t[0], here[1] + t[1]) for t in turns if (here[0] + t[0], here[1] + t[1]) in nexts.get(here, ()))
        way, here = (ahead[0] - here[0], ahead[1] - here[1]), ahead
        if here == first:
            return path
        path.append(here)


def simple(path, shape):
    """The border with few corners, as fractions of the picture."""
    half = len(path) // 2
    tolerance = 1.2
    while True:
        corners = thinned(path[:half + 1], tolerance)[:-1] + thinned(path[half:] + path[:1], tolerance)[:-1]
        if len(corners) <= POINTS:
            return [[round(x / shape[1], 4), round(y / shape[0], 4)] for x, y in corners]
        tolerance *= 1.25


def thinned(points, tolerance):
    """Leaves out points that lie within `tolerance` of the line between those kept."""
    if len(points) < 3:
        return points
    (ax, ay), (bx, by) = points[0], points[-1]
    length = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-9)
    away = [abs((bx - ax) * (ay - y) - (ax - x) * (by - ay)) / length if length > 1e-6
            else ((x - ax) ** 2 + (y - ay) ** 2) ** 0.5 for x, y in points]
    far = max(range(len(points)), key=away.__getitem__)
    if away[far] <= tolerance:
        return [points[0], points[-1]]
    return thinned(points[:far + 1], tolerance)[:-1] + thinned(points[far:], tolerance)
