"""Solves the bending of shelves without the formulas under test, and writes shelf_check.toml beside itself.

The beam's equation E I v'' = -M(x) is solved as a boundary value problem with SciPy; a fixed beam, whose end moment is
not known beforehand, as the full equation E I v'''' = w(x) over half its span. The stiffness of a board is
integrated over its height with SciPy's quadrature. Shelves with a lip are in ../reckoning/shelf_plate.py. Run it in
an environment of its own:

    python -m venv env && env/bin/pip install numpy==2.4.6 scipy==1.17.1 && env/bin/python shelf_check.py

The versions that made the file stand at its head. Units are millimetres, newtons and N/mm2.
"""

import pathlib
import platform

import numpy
import scipy
from scipy.integrate import quad, solve_bvp

SHELVES = [
    # load, span, width, height, elasticity
    (240.0, 800.0, 250.0, 18.0, 2200.0),
    (100.0, 900.0, 200.0, 19.0, 8500.0),
    (350.0, 1150.0, 280.0, 22.0, 9570.6),
]


def stiffness(width, height, elasticity):
    """E I about the middle of the height, by quadrature."""
    return quad(lambda y: width * elasticity * (y - height / 2.0) ** 2, 0.0, height)[0]


def sag(load, span, stiff, fixed, middle):
    """The sag at mid-span, from the equation of the beam over its left half; z runs from 0 at the end to 1 at mid-span.

    With v in units of load span^3 / stiff: v'''' is the spread load and v''' at mid-span half of a load in the middle.
    """
    half = 0.5
    spread = 0.0 if middle else 1.0

    def equation(z, state):
        _, slope, moment, shear = state
        return half * numpy.vstack([slope, moment, shear, numpy.full_like(z, spread)])

    def ends(left, right):
        at_end = left[1] if fixed else left[2]
        return numpy.array([left[0], at_end, right[1], right[3] + (0.5 if middle else 0.0)])

    z = numpy.linspace(0.0, 1.0, 41)
    solved = solve_bvp(equation, ends, z, numpy.zeros((4, z.size)), tol=1e-10, max_nodes=100_000)
    assert solved.success, solved.message
    return abs(solved.sol(1.0)[0]) * load * span**3 / stiff


def main():
    lines = [
        "# Sag of shelves as solved by shelf_check.py, which stands beside this file; nothing here was typed.",
        f"# Python {platform.python_version()}, NumPy {numpy.__version__}, SciPy {scipy.__version__}.",
    ]
    for load, span, width, height, elasticity in SHELVES:
        stiff = stiffness(width, height, elasticity)
        for fixed in (False, True):
            for middle in (False, True):
                lines += [
                    "",
                    "[[beam]]",
                    f"load = {load}",
                    f"span = {span}",
                    f"fixed = {str(fixed).lower()}",
                    f"middle = {str(middle).lower()}",
                    f"width = {width}",
                    f"height = {height}",
                    f"elasticity = {elasticity}",
                    f"sag = {sag(load, span, stiff, fixed, middle):.9f}",
                ]
    pathlib.Path(__file__).with_suffix(".toml").write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
