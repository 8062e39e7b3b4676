"""How mounts of tubes sag under a load and their own weight, by CalculiX, as solids.

Every tube is given by its outside diameter and wall, its bends as a tube bender is
set (straight before, turn of the plane from the bend before, angle; one radius),
and the straight at its end. "joint" is where it starts, against the end of the tube
before: x, y, z in mm and roll, pitch and yaw in degrees about fixed axes; z runs
along a tube and the first bend, at turn 0, is toward x. "load" is a mass and its
place against the end of the last tube. Young's modulus is in N/mm², density in
kg/m³ and gravity in m/s². "shift" (mm) and "turn" (radians) are those of the load.
"""

import numpy

from parts import invent, solid, values

ALUMINIUM = {"young": 70000, "poisson": 0.3, "density": 2700}
STEEL = {"young": 210000, "poisson": 0.3, "density": 7850}
DOWN = [0, 0, -9.80665]


def tube(joint, outside, wall, end, bends=(), radius=0):
    keys = ("straight", "turn", "angle")
    return {"joint": joint, "outside": outside, "wall": wall, "end": end, "radius": radius,
            "bends": [dict(zip(keys, b)) for b in bends]}


def mount(name, tubes, load, gravity=DOWN, material=ALUMINIUM):
    at, kg = load
    return {"name": name, "tubes": tubes, "load": {"at": at, "kg": kg}, "gravity": gravity, "material": material}


HERE, AHEAD = [0, 0, 0, 0, 0, 0], [0, 0, 0, 0, 90, 0]  # on as before; x of the tube up, and z ahead


def known():
    """The shapes that are named."""
    at_end, on_plate = ([0, 0, 0], 3), ([40, -15, 60], 2.2)
    yield mount("straight, level", [tube(AHEAD, 25, 2, 500)], at_end)
    yield mount("straight, level, steel, by its weight alone", [tube(AHEAD, 28, 2, 700)], ([0, 0, 0], 0), material=STEEL)
    yield mount("straight, slanted, load off its end", [tube([0, 0, 0, 20, 50, 10], 22, 1.5, 400)], on_plate)
    yield mount("L: post and arm", [tube(HERE, 25, 2.5, 500), tube([0, 0, 30, 0, 90, 0], 25, 2.5, 400)], on_plate)
    yield mount("L: post and arm to the side, tilted seat",
                [tube(HERE, 28, 2, 450), tube([0, 0, 30, 90, 0, 40], 25, 2, 350)], on_plate, [4.0, 1.0, -8.9], STEEL)
    yield mount("one bend of 90 deg", [tube(HERE, 25, 2, 300, [(400, 0, 90)], 100)], on_plate)
    yield mount("one bend of 30 deg", [tube(HERE, 25, 2, 250, [(300, 0, 30)], 80)], at_end)
    yield mount("one bend of 60 deg, across gravity", [tube(HERE, 25, 1.5, 300, [(250, 0, 60)], 90)], at_end, [0, 9.80665, 0])
    yield mount("offset by two bends", [tube(HERE, 25, 2, 90, [(381, 0, 60), (231, 180, 60)], 100)], on_plate)
    yield mount("offset by two bends, arm, tilted seat",
                [tube(HERE, 25, 2, 90, [(250, 0, 60), (231, 180, 60)], 100), tube([0, 0, 30, 0, 90, 70], 25, 2, 240)],
                on_plate, [3.35, 0, -9.22])
    yield mount("bends in two planes", [tube(HERE, 30, 2.5, 200, [(200, 30, 45), (120, 90, 70)], 110)], on_plate, [0, 3, -9.3])


def drawn(rng, name):
    """A shape drawn anyhow."""
    tubes = []
    for t in range(1 + rng.integers(2)):
        outside = invent.draw(rng, 18, 32)
        bends = [(invent.draw(rng, 80, 250), invent.draw(rng, -180, 180), invent.draw(rng, 20, 100)) for _ in range(rng.integers(1, 3))]
        joint = [0] * 3 + [invent.draw(rng, -90, 90) for _ in range(3)]
        if t > 0:
            joint[:3] = [invent.draw(rng, -40, 40) for _ in range(3)]
        radius = round(outside * invent.draw(rng, 2.5, 6, 2), 1)
        tubes.append(tube(joint, outside, invent.draw(rng, 1.2, 3), invent.draw(rng, 80, 300), bends, radius))
    gravity = rng.normal(size=3)
    gravity = [round(9.80665 * float(g), 6) for g in gravity / numpy.linalg.norm(gravity)]
    load = ([invent.draw(rng, -60, 60) for _ in range(3)], invent.draw(rng, 0.5, 4, 2))
    return mount(name, tubes, load, gravity, [ALUMINIUM, STEEL][rng.integers(2)])


def main():
    rng = numpy.random.default_rng(16)
    cases = list(known()) + [drawn(rng, f"drawn {k + 1}") for k in range(7)]
    for c in cases:
        shift, turn, _, _ = solid.run(c)
        c["shift"] = [round(v, 7) for v in shift]
        c["turn"] = [round(v, 11) for v in turn]
    about = ("How mounts of tubes sag, by CalculiX, as solids. Lengths in mm, turns in degrees, but for the turns "
             "that come out, in radians; see scripts/sag.py.")
    values.write(about, [numpy, solid.calculix()], {"*": 0, "shift": 2e-5, "turn": 5e-8}, cases)


if __name__ == "__main__":
    main()
