"""Gaps of ten thousand pairs of boxes and capsules, by FCL, with Qhull where they
overlap deeply.

The shapes are not listed but drawn by a rule, from numbers that anybody can make:
SplitMix64 (Steele, Lea and Flood, 2014) beginning at 1, each number z giving
(z >> 11) / 2^53. For each pair in turn:

- kind: 0, 1, 2 in turn for box and box, box and capsule, capsule and capsule;
- of either shape: a box has three half edges of 5 to 150 mm; a capsule half a
  straight of 20 to 200 mm along its x, then a radius of 5 to 50 mm; all are rounded down
  to eighths of a mm;
- a turn, the quaternion w, x, y, z of four numbers of -1 to 1 made a unit one; then a
  place, three numbers of -200 to 200 mm.

In every tenth pair, the first among them, the second shape gets the first one's turn
and is put against it so that they touch: along x by both half lengths and radii,
along y and z by an eighth of the first one's place along these.

"clearances" are the signed gaps in mm: the middle of FCL's own bounds, which are never so
far apart that it could be off by 1e-6 mm. Where the boxes, or a box and the segment
of a capsule, overlap, FCL's translation is often not the least one, because it
prefers faces to edges. The gap is then that of Qhull: the least distance to a face of
the hull of all differences of corners. FCL must not part any sooner.
"""

import itertools
import math
import pathlib
import subprocess
import tempfile
import types

import numpy
import scipy
from scipy.spatial import ConvexHull

from parts import values

PAIRS = 10_000
SURE = 1e-6  # mm, how far a gap may be off


def numbers():
    """SplitMix64 as numbers from 0 to 1."""
    state, mask = 1, 2**64 - 1
    while True:
        state = (state + 0x9E3779B97F4A7C15) & mask
        z = state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & mask
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
        yield ((z ^ (z >> 31)) >> 11) / 2**53


def draw(rng, capsule):
    def length(low, high):
        return math.floor(8 * (low + (high - low) * next(rng))) / 8

    if capsule:
        half, radius = [length(20, 200), 0, 0], length(5, 50)
    else:
        half, radius = [length(5, 150) for _ in range(3)], 0
    turn = numpy.array([2 * next(rng) - 1 for _ in range(4)])
    at = numpy.array([400 * next(rng) - 200 for _ in range(3)])
    return {"capsule": capsule, "half": half, "radius": radius, "turn": turn / numpy.linalg.norm(turn), "at": at}


def pairs():
    rng = numbers()
    for i in range(PAIRS):
        a, b = draw(rng, i % 3 == 2), draw(rng, i % 3 > 0)
        if i % 10 == 0:
            b["turn"] = a["turn"]
            along = [a["half"][0] + b["half"][0] + a["radius"] + b["radius"], a["at"][1] / 8, a["at"][2] / 8]
            b["at"] = a["at"] + rotation(a["turn"]) @ along
        yield a, b


def rotation(turn):
    w, x, y, z = turn
    return numpy.array([
        [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
        [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
        [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
    ])


def line(s):
    """A shape as the program reads it, whose capsules run along z."""
    w, x, y, z = s["turn"]
    half = s["half"]
    if s["capsule"]:
        # z of the capsule along x: a quarter turn about y first
        r = math.sqrt(0.5)
        w, x, y, z = r * (w - y), r * (x - z), r * (w + y), r * (x + z)
        half = [0, 0, half[0]]
    fields = [*half, s["radius"], w, x, y, z, *s["at"]]
    return ("c " if s["capsule"] else "b ") + " ".join(repr(float(v)) for v in fields)


def by_fcl(drawn):
    source = pathlib.Path(__file__).parent / "parts" / "clearances.cpp"
    with tempfile.TemporaryDirectory() as folder:
        program = pathlib.Path(folder) / "clearances"
        subprocess.run(["g++", "-std=c++17", "-I/usr/include/eigen3", "-o", program, source, "-lfcl", "-lccd"], check=True)
        asked = "\n".join(line(s) for pair in drawn for s in pair) + "\n"
        said = subprocess.run([program], input=asked, capture_output=True, text=True, check=True).stdout
    version, *answers = said.splitlines()
    return version, [answer.split() for answer in answers]


def corners(s):
    signs = numpy.array(list(itertools.product(*[(-1, 1) if h else (0,) for h in s["half"]])))
    return s["at"] + (signs * s["half"]) @ rotation(s["turn"]).T


def by_hull(a, b):
    """The gap of boxes without their rounding that overlap."""
    differences = (corners(a)[:, None, :] - corners(b)[None, :, :]).reshape(-1, 3)
    return ConvexHull(differences).equations[:, 3].max() - a["radius"] - b["radius"]


def main():
    drawn = list(pairs())
    version, said = by_fcl(drawn)
    assert len(said) == PAIRS
    gaps, worst, deep, farther = [], 0, 0, 0
    for i, (answer, (a, b)) in enumerate(zip(said, drawn)):
        if answer[0] == "apart":
            low, high = float(answer[1]), float(answer[2])
            assert high - low < 2 * SURE, (i, low, high)
            worst = max(worst, high - low)
            gap = (low + high) / 2
        else:
            gap, fcl = by_hull(a, b), float(answer[1])
            assert fcl < gap + SURE, (i, fcl, gap)
            deep += 1
            farther += fcl < gap - SURE
        gaps.append(round(gap, 9))
    print(f"gaps: bounds at most {worst:.1e} mm apart; of {deep} pairs that overlap deeply FCL parts {farther} farther than need be")
    fcl = types.SimpleNamespace(__name__="fcl", __version__=version)
    values.write(__doc__, [fcl, numpy, scipy], {"*": SURE}, [{"clearances": gaps}])


if __name__ == "__main__":
    main()
