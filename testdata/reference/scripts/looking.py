"""What is seen on a screen and past it, by projection, hulls and quadrature.

- Sizes on the screen: Brent's method on the angle between two lines of sight.
- The shadow on the floor: the hull of the housing's corners, projected from the
  eye (Qhull); what is hidden from both eyes is where two hulls overlap (Qhull).
- The solid angle: cos/r² integrated over the faces that are seen; its share of
  the forward field: row by row in the plane x = 1, where the field is a rectangle
  and the housing a hull.
"""

import itertools

import numpy
import scipy
from scipy.integrate import dblquad, quad
from scipy.optimize import brentq, linprog
from scipy.spatial import ConvexHull, HalfspaceIntersection
from scipy.spatial.transform import Rotation

from parts import invent, sitting, values

FIELD = numpy.tan(numpy.radians([35, 20, 40]))  # aside, above, below; NUREG-0700 Rev. 2, 11.1.2-6


def beyond(eye, place, direction, angle):
    """How far from place the line of sight is turned by an angle (degrees)."""
    def off(s):
        p, q = place - eye, place + s * direction - eye
        return numpy.arctan2(numpy.linalg.norm(numpy.cross(p, q)), p @ q) - numpy.radians(angle)
    return brentq(off, 0, 1000, xtol=1e-12, rtol=1e-15)


def sizes(eye, place, accuracy, precision):
    found = {}
    for name, direction in (("across", numpy.array([1.0, 0, 0])), ("up", numpy.array([0, 1.0, 0]))):
        ways = (direction, -direction)
        offset, spread = (max(beyond(eye, place, way, a) for way in ways) for a in (accuracy, precision))
        found[name] = {
            "degree": sum(beyond(eye, place, way, 0.5) for way in ways),
            "offset": offset, "spread": spread, "smallest": 2 * (offset + 2 * spread),
        }
    return found


def corners(screen, housing, below):
    half = numpy.asarray(housing) / 2
    for signs in itertools.product((-1, 1), repeat=3):
        local = half * signs + [0, -below, -half[2]]
        yield screen[:3, :3] @ local + screen[:3, 3]


def floor(eye, points):
    """The hull on the floor of points seen from an eye above all of them."""
    return ConvexHull([(eye + (p - eye) * eye[2] / (eye[2] - p[2]))[:2] for p in points])


def overlap(a, b):
    half = numpy.vstack([a.equations, b.equations])
    norm = numpy.linalg.norm(half[:, :2], axis=1)
    inside = linprog([0, 0, -1], A_ub=numpy.column_stack([half[:, :2], norm]), b_ub=-half[:, 2], bounds=[(None, None)] * 3)
    return ConvexHull(HalfspaceIntersection(half, inside.x[:2]).intersections)


def solid(eye, screen, housing, below):
    """The solid angle of a housing: of the faces that are seen."""
    half = numpy.asarray(housing) / 2
    local = screen[:3, :3].T @ (eye - screen[:3, 3]) - [0, -below, -half[2]]
    total = 0.0
    for axis in range(3):
        away = abs(local[axis]) - half[axis]
        if away <= 0:
            continue
        u, v = (axis + 1) % 3, (axis + 2) % 3
        part, _ = dblquad(lambda y, x: away / (away**2 + (x - local[u])**2 + (y - local[v])**2)**1.5,
                          -half[u], half[u], -half[v], half[v], epsabs=1e-12, epsrel=1e-12)
        total += part
    return total


def in_field(hull):
    """The solid angle of a hull in the plane x = 1 (y, z), within the field."""
    aside, above, below = FIELD
    points = hull.points[hull.vertices]

    def row(z):
        lo, hi = -aside, aside
        for a, b, c in hull.equations:
            if a > 1e-15:
                hi = min(hi, -(b * z + c) / a)
            elif a < -1e-15:
                lo = max(lo, -(b * z + c) / a)
        inner = lambda y: y / ((1 + z * z) * numpy.sqrt(1 + y * y + z * z))
        return max(0.0, inner(hi) - inner(lo)) if hi > lo else 0.0

    low, high = max(-below, points[:, 1].min()), min(above, points[:, 1].max())
    kinks = [low, high, *(z for z in points[:, 1] if low < z < high)]
    for p, q in zip(points, numpy.roll(points, 1, axis=0)):  # edges that leave the field aside
        for y in (-aside, aside):
            if (p[0] - y) * (q[0] - y) < 0:
                kinks.append(p[1] + (q[1] - p[1]) * (y - p[0]) / (q[0] - p[0]))
    kinks = sorted(z for z in kinks if low <= z <= high)
    return sum(quad(row, a, b, epsabs=1e-13, epsrel=1e-12)[0] for a, b in zip(kinks, kinks[1:])) if low < high else 0.0


def whole_field():
    aside, above, below = FIELD
    return in_field(ConvexHull([[-aside, above], [aside, above], [aside, -below], [-aside, -below]]))


def screen_pose(rng, eye):
    """An upright screen before the eyes that leans and turns a little."""
    turn = Rotation.from_matrix(numpy.column_stack([[0, -1, 0], [0, 0, 1], [-1, 0, 0]]))
    turn = turn * Rotation.from_euler("YXZ", rng.uniform(-20, 20, 3), degrees=True)
    return sitting.matrix(turn, eye + [rng.uniform(450, 750), rng.uniform(-150, 150), rng.uniform(-450, -250)])


def hidden(hull, front):
    low, high = hull.points[hull.vertices].min(axis=0), hull.points[hull.vertices].max(axis=0)
    return {"near": low[0] - front, "far": high[0] - front, "left": high[1], "right": low[1], "area": hull.volume}


def main():
    rng = numpy.random.default_rng(15)
    cases = []
    while len(cases) < 20:
        device = invent.device(rng)
        eye = numpy.array([rng.uniform(0, 200), rng.uniform(-40, 40), rng.uniform(1050, 1300)])
        eyes = [eye + [0, 30, 0], eye - [0, 30, 0]]
        screen = screen_pose(rng, eye)
        points = list(corners(screen, device["housing"], device["housing_below"]))
        shadows = [floor(e, points) for e in eyes] if max(p[2] for p in points) < eye[2] - 150 else None
        if not shadows:
            continue
        accuracy, precision = invent.draw(rng, 0.3, 2), invent.draw(rng, 0.2, 1)
        place = numpy.array([rng.uniform(-150, 150), rng.uniform(-100, 100), 0])
        seen = ConvexHull([(p - eye)[1:] / (p - eye)[0] for p in points])
        cases.append({
            "device": device, "screen": screen.tolist(), "eyes": [e.tolist() for e in eyes],
            "accuracy": accuracy, "precision": precision, "place": place.tolist(),
            "sizes": sizes(screen[:3, :3].T @ (eye - screen[:3, 3]), place, accuracy, precision),
            "shadows": [hidden(s, eye[0]) for s in (*shadows, overlap(*shadows))],
            "solid": solid(eye, screen, device["housing"], device["housing_below"]),
            "share": in_field(seen) / whole_field(),
        })
    values.write(
        "Sizes (mm) at a place on a screen: a degree, the tracker's offset and spread, the smallest target; the floor that "
        "its housing hides from the left eye, the right and both (mm, mm²); the solid angle that it covers from midway "
        "between them (sr) and its share of the forward field.",
        [numpy, scipy], {"*": 1e-8, "shadows": 1e-5, "area": 0.1, "solid": 1e-10, "share": 1e-10}, cases)


if __name__ == "__main__":
    main()
