"""The rooms of the conditions by other constructions than signed formulas.

- The view's faces: the frustum's eight vertices, each where three sight rays and
  a depth meet, and the distances to the facets of their convex hull (Qhull).
- The gaze limit: the surface on which tracker and corner are seen under the
  limit, found point by point by bisection on the angle at the eye, and the
  nearest of its points, looked for ever closer.
- The region: the half-spaces of frustum and reach for both eyes with a gaze
  limit too wide to matter; its vertices (Qhull), and the largest ball in it by
  a linear program (HiGHS).
"""

import itertools

import numpy
import scipy
from scipy.optimize import linprog
from scipy.spatial import ConvexHull, HalfspaceIntersection
from scipy.spatial.transform import Rotation

from parts import invent, sitting, values


def tracker_place(device):
    return numpy.array([0, -device["below"], device["in_front"]])


def hull_of_view(device):
    """The frustum as a hull, in screen axes."""
    aim = Rotation.from_euler("x", -device["aimed_up"], degrees=True)
    vertices = []
    for depth, i, j in itertools.product((device["near"], device["far"]), (-1, 1), (-1, 1)):
        x = i * depth * numpy.tan(numpy.radians(device["across"] / 2))
        y = j * depth * numpy.tan(numpy.radians(device["up_down"] / 2))
        vertices.append(tracker_place(device) + aim.apply([x, y, depth]))
    return ConvexHull(numpy.array(vertices))


def planes(hull):
    """The six planes of a hull whose square facets come as two triangles."""
    found = []
    for equation in hull.equations:
        if not any(numpy.allclose(equation, other, atol=1e-6) for other in found):
            found.append(equation)
    assert len(found) == 6, len(found)
    return numpy.array(found)


def angle_at(points, a, b):
    """The angle under which a and b are seen from points (n, 3)."""
    p, q = a - points, b - points
    cross = numpy.linalg.norm(numpy.cross(p, q), axis=1)
    return numpy.arctan2(cross, (p * q).sum(axis=1))


def limit_distance(device, corner, eye):
    """The signed distance of eye from the surface of the gaze limit."""
    tracker, limit = tracker_place(device), numpy.radians(device["gaze_limit"])
    chord = corner - tracker
    length = numpy.linalg.norm(chord)
    axis = chord / length
    side = numpy.linalg.svd(axis[None, :])[2][1:]  # two directions square to the chord
    middle = (corner + tracker) / 2
    reach = length / numpy.sin(limit)  # no point of the surface is further from the chord

    def surface(u, phi):
        """Points at u along the chord's line and phi about it; NaN where none is.

        The angle falls along each ray away from where it is greatest, so the
        outermost place with the limit is bracketed from outside.
        """
        out = numpy.cos(phi)[:, None] * side[0] + numpy.sin(phi)[:, None] * side[1]
        foot = middle + u[:, None] * axis
        steps = numpy.linspace(reach, 0, 40)
        seen = numpy.array([angle_at(foot + s * out, corner, tracker) > limit for s in steps])
        first = seen.argmax(axis=0)
        high, low = steps[numpy.maximum(first - 1, 0)], steps[first]
        for _ in range(45):
            mid = (low + high) / 2
            inside = angle_at(foot + mid[:, None] * out, corner, tracker) > limit
            low, high = numpy.where(inside, mid, low), numpy.where(inside, high, mid)
        points = foot + low[:, None] * out
        points[~seen.any(axis=0)] = numpy.nan
        return points

    center, span = numpy.array([0.0, 0.0]), numpy.array([reach, numpy.pi])
    while span[0] > 1e-3:
        u, phi = numpy.meshgrid(center[0] + span[0] * numpy.linspace(-1, 1, 15), center[1] + span[1] * numpy.linspace(-1, 1, 15))
        distance = numpy.linalg.norm(surface(u.ravel(), phi.ravel()) - eye, axis=1)
        k = int(numpy.nanargmin(distance))
        center, least = numpy.array([u.ravel()[k], phi.ravel()[k]]), distance[k]
        span = span * 0.3
    outside = angle_at(eye[None, :], corner, tracker)[0] < limit
    return float(least if outside else -least)


def corners(device):
    left, right, bottom, top = device["used"]
    return {"top-left": [left, top, 0], "top-right": [right, top, 0], "bottom-left": [left, bottom, 0], "bottom-right": [right, bottom, 0]}


def screen_pose(rng, device, head):
    """A screen somewhere in front of the head, turned this way and that."""
    aim = numpy.radians(rng.uniform([-15, -10], [15, 35]))
    sight = head[:3, :3] @ [numpy.cos(aim[1]) * numpy.cos(aim[0]), numpy.cos(aim[1]) * numpy.sin(aim[0]), -numpy.sin(aim[1])]
    right = numpy.cross(head[:3, 2], -sight)
    right /= numpy.linalg.norm(right)
    face = numpy.column_stack([right, numpy.cross(-sight, right), -sight])
    turn = Rotation.from_matrix(face) * Rotation.from_euler("YXZ", rng.uniform(-12, 12, 3), degrees=True)
    distance = rng.uniform(device["near"] - 40, device["far"] + 40)
    return sitting.matrix(turn, head[:3, 3] + distance * sight)


def region(case, st, screen, hull):
    """Half-spaces of head movements that keep frustum and reach: n.x + d <= 0."""
    turn, middle = screen[:3, :3], screen[:3, 3]
    head, reach = st["head"][:3, :3], case["person"]["gaze_range"]
    rows = []
    for eye in st["eyes"]:
        for equation in planes(hull):
            normal = turn @ equation[:3]
            rows.append([*normal, equation[3] + normal @ (eye - middle)])
        for name, axis, sign in (("left", 1, 1), ("right", 1, -1), ("up", 2, 1), ("down", 2, -1)):
            limit = numpy.radians(reach[name])
            inward = numpy.sin(limit) * head[:, 0] - numpy.cos(limit) * sign * head[:, axis]
            for corner in corners(case["device"]).values():
                to = turn @ corner + middle - eye
                rows.append([*inward, -inward @ to])
    return numpy.array(rows)


def largest_ball(half):
    """Centre and radius of the largest ball; the radius is negative if none fits."""
    a = numpy.column_stack([half[:, :3], numpy.linalg.norm(half[:, :3], axis=1)])
    found = linprog([0, 0, 0, -1], A_ub=a, b_ub=-half[:, 3], bounds=[(None, None)] * 4, method="highs")
    return found.x[:3], float(found.x[3])


def main():
    rng = numpy.random.default_rng(14)
    cases = []
    while len(cases) < 30:
        case = invent.scene(rng)
        case["person"]["movement"], case["person"]["eyes"] = [0, 0, 0], "both"
        case["device"] = invent.device(rng)
        posture = invent.posture(rng, case["measured"])
        st = sitting.stance(case, posture)
        screen = screen_pose(rng, case["device"], st["head"])
        hull = hull_of_view(case["device"])
        local = [screen[:3, :3].T @ (eye - screen[:3, 3]) for eye in st["eyes"]]
        view = [sorted((-planes(hull) @ [*p, 1]).tolist()) for p in local]
        limit = [{name: limit_distance(case["device"], numpy.array(c), p) for name, c in corners(case["device"]).items()} for p in local]
        half = region(case, st, screen, hull)
        center, radius = largest_ball(half)
        if radius < 5:
            continue
        vertices = HalfspaceIntersection(half, center).intersections
        cases.append({
            "scene": case, "posture": posture, "screen": screen.tolist(), "view": view, "limit": limit,
            "ball": {"center": center.tolist(), "radius": radius},
            "extent": [vertices.min(axis=0).tolist(), vertices.max(axis=0).tolist()],
        })
    values.write(
        "Distances (mm) of the left and the right eye from the faces of the tracker's view, sorted, and from the gaze "
        "limit at each corner; the largest ball (a movement of the head, and a radius) in the region that view and "
        "reach of both eyes allow, and the region's extent in carrier axes.",
        [numpy, scipy], {"*": 1e-6, "limit": 1e-5}, cases)


if __name__ == "__main__":
    main()
