"""Reckons lipped shelves by another way than the program, and prints the figures of shelf_plate.toml beside this file.

A board that rests at its two ends bends as an orthotropic plate and stretches in its own plane; a lip along its front
or back edge bends, stretches, goes sideways and twists with the edge it is glued to. The energy of all that is made
least (Ritz's method): along the span by sines, of which each stands by itself, and across the depth by Legendre
polynomials up to DEGREE for the sag and for both movements in the plane, with integrals by Gauss's quadrature. The
program takes cubics, one sideways movement of the whole board and six sines. Run it in an environment of its own:

    python -m venv env && env/bin/pip install numpy==2.4.6 && env/bin/python shelf_plate.py > shelf_plate.toml

Units are millimetres, newtons and N/mm2. `load` is the whole load; `spread` lies evenly on board and lips, else it
lies on a line across the board in the middle of the span.
"""

import numpy
from numpy.polynomial import legendre

DEGREE = 10
SINES = range(1, 60, 2)

# name, span, depth of the board without lips, thickness, (along, across, shear, poisson), load, spread,
# front lip and back lip as (width front to back, height, elasticity, shear) or None; tops flush.
CHIPBOARD = (1600.0, 1600.0, 640.0, 0.25)
FIBREBOARD = (2200.0, 2200.0, 880.0, 0.25)
PINE = (8000.0, 320.0, 480.0, 0.0)
PLY = (8500.0, 4000.0, 425.0, 0.0)
SHELVES = [
    ("bare-fibreboard", 800.0, 250.0, 18.0, FIBREBOARD, 240.0, True, None, None),
    ("lipped-chipboard", 800.0, 250.0, 18.0, CHIPBOARD, 267.2, True, (20.0, 40.0, 12300.0, 738.0), None),
    ("lipped-chipboard-middle", 800.0, 250.0, 18.0, CHIPBOARD, 100.0, False, (20.0, 40.0, 12300.0, 738.0), None),
    ("flush-lip", 800.0, 250.0, 18.0, CHIPBOARD, 267.2, True, (20.0, 18.0, 12300.0, 738.0), None),
    ("deep-board", 900.0, 400.0, 18.0, CHIPBOARD, 300.0, True, (20.0, 45.0, 8000.0, 480.0), None),
    ("short-deep-board", 600.0, 400.0, 18.0, FIBREBOARD, 300.0, True, (18.0, 40.0, 8000.0, 480.0), None),
    ("both-edges", 900.0, 300.0, 18.0, FIBREBOARD, 300.0, True, (20.0, 40.0, 8000.0, 480.0), (20.0, 40.0, 8000.0, 480.0)),
    ("lipped-timber", 1000.0, 250.0, 18.0, PINE, 300.0, True, (20.0, 45.0, 7900.0, 474.0), None),
    ("wide-timber", 800.0, 350.0, 16.0, PINE, 250.0, True, (20.0, 40.0, 7900.0, 474.0), None),
    ("lipped-plywood", 1100.0, 280.0, 15.0, PLY, 200.0, True, (18.0, 36.0, 7500.0, 450.0), None),
    ("back-lip-alone", 800.0, 250.0, 18.0, CHIPBOARD, 267.2, True, None, (20.0, 40.0, 12300.0, 738.0)),
]


def basis(depth):
    """Values, first and second derivatives of the polynomials, as functions of the place across the depth."""
    series = [legendre.Legendre.basis(n, domain=[0.0, depth]) for n in range(DEGREE + 1)]
    return [lambda y, k=k: numpy.array([(p.deriv(k) if k else p)(y) for p in series]) for k in (0, 1, 2)]


def worst(span, depth, thick, board, load, spread, front, back):
    along, across, shear, poisson = board
    value, slope, curve = basis(depth)
    nodes, weights = legendre.leggauss(DEGREE + 2)
    nodes, weights = (nodes + 1) / 2 * depth, weights / 2 * depth
    count = DEGREE + 1
    # poisson is that of a strain across by a stress along, times across over along for the other way.
    stretch = 1.0 - poisson * poisson * across / along
    a, c, mixed = along / stretch, across / stretch, poisson * across / stretch
    bend = thick**3 / 12.0
    places = numpy.linspace(0.0, depth, 41)
    deep = numpy.zeros(places.size)
    for m in SINES:
        k = m * numpy.pi / span
        stiff = numpy.zeros((3 * count, 3 * count))
        force = numpy.zeros(3 * count)
        w, u, v = slice(0, count), slice(count, 2 * count), slice(2 * count, 3 * count)

        def add(modulus, row):
            stiff.__iadd__(modulus * numpy.outer(row, row))

        def rows(**parts):
            row = numpy.zeros(3 * count)
            for name, part in parts.items():
                row[{"w": w, "u": u, "v": v}[name]] = part
            return row

        for y, weight in zip(nodes, weights):
            kx, ky = rows(w=-k * k * value(y)), rows(w=curve(y))
            add(a * bend * weight, kx)
            add(c * bend * weight, ky)
            stiff += mixed * bend * weight * (numpy.outer(kx, ky) + numpy.outer(ky, kx))
            add(4.0 * shear * bend * weight, rows(w=k * slope(y)))
            ex, ey = rows(u=-k * value(y)), rows(v=slope(y))
            add(a * thick * weight, ex)
            add(c * thick * weight, ey)
            stiff += mixed * thick * weight * (numpy.outer(ex, ey) + numpy.outer(ey, ex))
            add(shear * thick * weight, rows(u=slope(y), v=k * value(y)))
        along_span = 4.0 / (m * numpy.pi) if spread else 2.0 / span * numpy.sin(m * numpy.pi / 2.0)
        whole = depth + sum(lip[0] for lip in (front, back) if lip)
        pressure = load / (span * whole) if spread else load / whole
        for y, weight in zip(nodes, weights):
            force += along_span * pressure * weight * rows(w=value(y))
        for lip, y, side in ((front, depth, 1.0), (back, 0.0, -1.0)):
            if not lip:
                continue
            width, height, elastic, rigid = lip
            below = height / 2.0 - thick / 2.0
            sags = rows(w=value(y) + side * width / 2.0 * slope(y))
            sideways = rows(v=value(y), w=-below * slope(y))
            stretches = rows(u=value(y)) - side * width / 2.0 * k * sideways - below * k * sags
            add(elastic * width * height * k**2, stretches)
            add(elastic * width * height**3 / 12.0 * k**4, sags)
            add(elastic * height * width**3 / 12.0 * k**4, sideways)
            narrow, wide = sorted((width, height))
            torsion = wide * narrow**3 * (1.0 / 3.0 - 0.21 * narrow / wide * (1.0 - (narrow / wide) ** 4 / 12.0))
            add(rigid * torsion * k**2, rows(w=slope(y)))
            force += along_span * pressure * width * sags
        solved = numpy.linalg.solve(stiff, force)
        deep += numpy.array([value(y) @ solved[w] for y in places]) * numpy.sin(m * numpy.pi / 2.0)
    return deep[-1], deep[0], deep.max()


print("# Printed by shelf_plate.py beside this file with numpy " + numpy.__version__ + "; see there for what the keys are.")
for name, span, depth, thick, board, load, spread, front, back in SHELVES:
    at_front, at_back, most = worst(span, depth, thick, board, load, spread, front, back)
    print(f"\n[[plate]]\nid = \"{name}\"\nspan = {span}\ndepth = {depth}\nthick = {thick}\nboard = {list(board)}")
    print(f"load = {load}\nspread = {'true' if spread else 'false'}")
    for edge, lip in (("front", front), ("back", back)):
        if lip:
            print(f"{edge} = {list(lip)}")
    print(f"sag-front = {at_front:.6f}\nsag-back = {at_back:.6f}\nsag-most = {most:.6f}")
