"""Mounts of tubes as solids, and what load does to them by CalculiX.

A tube is swept as quadratic bricks with reduced integration (C3D20R). The first is
held at its root as beams are: no place of the root's face moves along the tube or
round it, while it may get wider or narrower. What joins two tubes, and what holds
the load, is rigid. Lengths are in mm, forces in N, masses in tonnes.
"""

import pathlib
import subprocess
import tempfile
import types

import numpy
from scipy.spatial.transform import Rotation

ROUND = 12  # bricks round a tube; its quadratic sides leave the circle by a part in 10,000
ROUND_FOR_STRESS = 24  # stress at corners is drawn on from inside the bricks
LONG_MM, ARC = 12.0, numpy.radians(9)  # the most that a brick is long, straight and in a bend


def pose(o):
    """Returns the rotation and the place of x, y, z in mm and roll, pitch, yaw in degrees."""
    return Rotation.from_euler("xyz", o[3:], degrees=True).as_matrix(), numpy.array(o[:3], float)


def stations(tube):
    """Returns place and axes (columns; z along) of the sections that bound the
    bricks, and of those halfway, in the axes of the tube's start."""
    at, axes, turn, found = numpy.zeros(3), numpy.eye(3), 0.0, [(numpy.zeros(3), numpy.eye(3))]

    def straight(length):
        nonlocal at
        n = 2 * int(numpy.ceil(length / LONG_MM - 1e-9))
        found.extend((at + axes[:, 2] * length * (i + 1) / n, axes) for i in range(n))
        at = at + axes[:, 2] * length

    for bend in tube["bends"]:
        straight(bend["straight"])
        turn += numpy.radians(bend["turn"])
        angle, radius = numpy.radians(bend["angle"]), tube["radius"]
        toward = axes @ [numpy.cos(turn), numpy.sin(turn), 0]
        about = axes @ [-numpy.sin(turn), numpy.cos(turn), 0]
        n = 2 * int(numpy.ceil(angle / ARC - 1e-9))
        arc = []
        for i in range(n):
            f = angle * (i + 1) / n
            arc.append((
                at + radius * ((1 - numpy.cos(f)) * toward + numpy.sin(f) * axes[:, 2]),
                Rotation.from_rotvec(f * about).as_matrix() @ axes,
            ))
        found.extend(arc)
        at, axes = arc[-1]
    straight(tube["end"])
    return found


class Deck:
    """An input of CalculiX in the making."""

    def __init__(self, bricks_round=ROUND):
        self.round = bricks_round
        self.nodes, self.bricks, self.lines = [], [], []

    def node(self, at):
        self.nodes.append(at)
        return len(self.nodes)

    def sweep(self, tube, start):
        """Adds the bricks of a tube that starts at a pose; returns the nodes of
        its first and last face and its end's pose."""
        rotation, origin = start
        found = [(origin + rotation @ at, rotation @ axes) for at, axes in stations(tube)]
        outside, wall = tube["outside"] / 2, tube["wall"]
        grid = {}
        for i, (at, axes) in enumerate(found):
            for j in range(2 * self.round):
                for k in range(3):
                    if (i % 2) + (j % 2) + (k % 2) > 1:
                        continue  # a brick has nodes at corners and middles of edges
                    a = numpy.pi * j / self.round
                    r = outside - wall + wall * k / 2
                    grid[i, j, k] = self.node(at + r * (numpy.cos(a) * axes[:, 0] + numpy.sin(a) * axes[:, 1]))
        for i in range(0, len(found) - 1, 2):
            for j in range(0, 2 * self.round, 2):
                self.bricks.append([grid[i + p, (j + q) % (2 * self.round), r] for p, q, r in BRICK])
        face = lambda i: [n for key, n in grid.items() if key[0] == i]
        return face(0), face(len(found) - 1), (found[-1][1], found[-1][0])

    def set(self, name, nodes):
        self.lines.append(f"*NSET, NSET={name}")
        self.lines.extend(f"{n}," for n in nodes)

    def rigid(self, name, nodes, at):
        """Makes the nodes one body; returns the nodes for its shift and its turn."""
        ref, rot = self.node(at), self.node(at)
        self.set(name, nodes)
        self.lines.append(f"*RIGID BODY, NSET={name}, REF NODE={ref}, ROT NODE={rot}")
        return ref, rot


# Nodes of a brick in CalculiX's order: steps along, round, and out.
CORNERS = [(0, 0), (0, 2), (2, 2), (2, 0)]  # round, out
SIDES = [(0, 1), (1, 2), (2, 1), (1, 0)]
BRICK = [(p, *c) for p in (0, 2) for c in CORNERS] + [(p, *s) for p in (0, 2) for s in SIDES] + [(1, *c) for c in CORNERS]


def deck(mount, bricks_round):
    d = Deck(bricks_round)
    here = (numpy.eye(3), numpy.zeros(3))
    last = None
    for t, tube in enumerate(mount["tubes"]):
        rotation, at = pose(tube["joint"])
        start = (here[0] @ rotation, here[1] + here[0] @ at)
        first, end, here_next = d.sweep(tube, start)
        if last is None:
            d.set("ROOT", first)
            along = start[1] + start[0][:, 2]
            d.lines += ["*TRANSFORM, NSET=ROOT, TYPE=C", ", ".join(f"{v:.9g}" for v in [*start[1], *along]),
                        "*BOUNDARY", "ROOT, 2, 3"]
        else:
            d.rigid(f"JOINT{t}", last + first, start[1])
        last, here = end, here_next
    place = here[1] + here[0] @ numpy.array(mount["load"]["at"], float)
    return d, d.rigid("TIP", last, place)


def text(mount, bricks_round):
    """Returns the input, its nodes, and the nodes for shift and turn of the load."""
    d, (ref, rot) = deck(mount, bricks_round)
    m, g = mount["material"], numpy.array(mount["gravity"], float)
    out = ["*NODE, NSET=ALL"]
    out += [f"{n}, " + ", ".join(f"{v:.12g}" for v in at) for n, at in enumerate(d.nodes, 1)]
    out.append("*ELEMENT, TYPE=C3D20R, ELSET=TUBES")
    for e, brick in enumerate(d.bricks, 1):
        out += [f"{e}, " + ", ".join(map(str, brick[:15])) + ",", ", ".join(map(str, brick[15:]))]
    out += d.lines
    out += ["*MATERIAL, NAME=METAL", "*ELASTIC", f"{m['young']}, {m['poisson']}", "*DENSITY", f"{m['density'] * 1e-12:.9g}",
            "*SOLID SECTION, ELSET=TUBES, MATERIAL=METAL", f"*NSET, NSET=MOVED\n{ref}, {rot}", "*STEP", "*STATIC"]
    acts = [(ref, k + 1, mount["load"]["kg"] * g[k]) for k in range(3)]
    acts += [(rot, k + 1, v) for k, v in enumerate(mount["load"].get("moment", []))]
    out.append("*CLOAD")
    out += [f"{n}, {k}, {v:.12g}" for n, k, v in acts if v]
    size = numpy.linalg.norm(g)
    if size > 0:
        out += ["*DLOAD", f"TUBES, GRAV, {size * 1e3:.12g}, " + ", ".join(f"{v:.15g}" for v in g / size)]
    out += ["*NODE PRINT, NSET=MOVED", "U", "*EL FILE", "S", "*END STEP"]
    return "\n".join(out) + "\n", numpy.array(d.nodes), ref, rot


def run(mount, bricks_round=ROUND):
    """Returns shift (mm) and turn (radians) of the load, and the places of all nodes
    with the equivalent stress after von Mises there."""
    source, nodes, ref, rot = text(mount, bricks_round)
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "mount")
        path.with_suffix(".inp").write_text(source)
        subprocess.run(["ccx", "mount"], cwd=folder, check=True, stdout=subprocess.DEVNULL)
        moved = {}
        for line in path.with_suffix(".dat").read_text().splitlines():
            words = line.split()
            if len(words) == 4 and words[0].isdigit():
                moved[int(words[0])] = [float(w) for w in words[1:]]
        numbers, mises = stress(path.with_suffix(".frd").read_text())
    return moved[ref], moved[rot], nodes[numbers - 1], mises


def stress(results):
    """Returns the numbers of the nodes and the stress after von Mises, from results
    in columns of fixed width."""
    numbers, parts, here = [], [], False
    for line in results.splitlines():
        if line.startswith(" -4"):
            here = "STRESS" in line
        elif here and line.startswith(" -1"):
            numbers.append(int(line[3:13]))
            parts.append([float(line[13 + 12 * k:25 + 12 * k]) for k in range(6)])
        elif line.startswith(" -3"):
            here = False
    x, y, z, xy, yz, zx = numpy.array(parts).T
    return numpy.array(numbers), numpy.sqrt(((x - y)**2 + (y - z)**2 + (z - x)**2) / 2 + 3 * (xy**2 + yz**2 + zx**2))


def calculix():
    """Returns name and version of CalculiX as values wants them of a library."""
    said = subprocess.run(["ccx", "-v"], capture_output=True, text=True, check=False).stdout
    return types.SimpleNamespace(__name__="calculix", __version__=said.split()[-1])
