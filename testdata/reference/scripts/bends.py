"""How bent tubes give to a couple and how it stresses them, by CalculiX, as solids.

A bend between straights 120 mm long, built in at one end, is bent by a couple in
its plane. "soft" is by how much more each mm of bend turns than a mm of straight tube
does by M/(E I); "sharp" is the greatest equivalent stress after von Mises in the
bend over M/W; "across" is the same for a couple that bends it out of its plane in
the middle of the bend. Lengths in mm, angles in degrees.
"""

import numpy

from parts import solid, values

STRAIGHT, COUPLE = 120, 1e4
YOUNG, POISSON = 70000, 0.3
BENDS = [(25, 2, 100, 30), (25, 2, 100, 60), (25, 2, 60, 90), (25, 1.5, 100, 90), (25, 1.5, 60, 90),
         (25, 2.5, 150, 60), (28, 2, 200, 60), (22, 1.5, 80, 20), (20, 3, 80, 60)]


def bent(bend, moment, bricks_round):
    outside, wall, radius, angle = bend
    tube = {"joint": [0] * 6, "outside": outside, "wall": wall, "radius": radius, "end": STRAIGHT,
            "bends": [{"straight": STRAIGHT, "turn": 0, "angle": angle}]}
    return solid.run({"tubes": [tube], "gravity": [0, 0, 0], "load": {"at": [0, 0, 0], "kg": 0, "moment": moment},
                      "material": {"young": YOUNG, "poisson": POISSON, "density": 1}}, bricks_round)


def peak(bend, moment):
    """Returns the greatest stress in the bend, and some mm to either side, over M/W."""
    outside, wall, radius, angle = bend
    _, _, at, mises = bent(bend, moment, solid.ROUND_FOR_STRESS)
    along = numpy.degrees(numpy.arctan2(at[:, 2] - STRAIGHT, radius - at[:, 0]))
    near = (along > -5) & (along < angle + 5) & (at[:, 2] > STRAIGHT - 10)
    w = numpy.pi / 32 * (outside**4 - (outside - 2 * wall)**4) / outside
    return float(mises[near].max()) * w / COUPLE


def main():
    cases = []
    for bend in BENDS:
        outside, wall, radius, angle = bend
        half, arc = numpy.radians(angle / 2), radius * numpy.radians(angle)
        inertia = numpy.pi / 64 * (outside**4 - (outside - 2 * wall)**4)
        turn = bent(bend, [0, COUPLE, 0], solid.ROUND)[1][1]
        soft = 1 + (turn * YOUNG * inertia / COUPLE - 2 * STRAIGHT - arc) / arc
        cases.append({
            "outside": outside, "wall": wall, "radius": radius, "angle": angle, "young": YOUNG, "poisson": POISSON,
            "soft": round(soft, 5), "sharp": round(peak(bend, [0, COUPLE, 0]), 4),
            "across": round(peak(bend, [COUPLE * numpy.cos(half), 0, -COUPLE * numpy.sin(half)]), 4),
        })
    values.write("How bent tubes give to a couple and how it stresses them, by CalculiX, as solids; see scripts/bends.py.",
                 [numpy, solid.calculix()], {"*": 0, "soft": 1e-4, "sharp": 1e-3, "across": 1e-3}, cases)


if __name__ == "__main__":
    main()
