"""The conditions at the eyes and the score, for many screen poses at once.

Coded from the definitions, with the distances in polar form where the program
under test has planes. Arrays of vectors have the shape (3, poses).
"""

import numpy

CORNERS = [(0, 3), (1, 3), (0, 2), (1, 2)]  # of used: left, right, bottom, top


def unit(v):
    return v / numpy.sqrt((v * v).sum(axis=0))


def dot(a, b):
    return (a * b).sum(axis=0)


def column(v):
    return numpy.asarray(v, dtype=float).reshape(3, 1)


def along(rotations, v):
    """The components of v, (3, poses), in axes that are columns (3, 3, poses)."""
    return numpy.einsum("ijn,in->jn", rotations, v)


def screens(aims, stance, upright):
    """Rotations (3, 3, poses; columns right, up, normal) and middles of screens.

    aims: left, down (degrees, head axes), distance, facing up, facing right, roll.
    """
    left, down, facing_up, facing_right, roll = (numpy.radians(aims[k]) for k in (0, 1, 3, 4, 5))
    turn, eyes = stance["head"][:3, :3], stance["head"][:3, 3]
    sight = turn @ numpy.array([numpy.cos(down) * numpy.cos(left), numpy.cos(down) * numpy.sin(left), -numpy.sin(down)])
    back = -sight
    up = turn[:, 2] if upright == "head" else stance["vertical"]
    right = unit(numpy.cross(column(up), back, axis=0))
    over = numpy.cross(back, right, axis=0)
    # The face: pitched up and yawed to the right off the line back to the eyes.
    level = numpy.cos(facing_up)
    normal = level * numpy.sin(facing_right) * right + numpy.sin(facing_up) * over + level * numpy.cos(facing_right) * back
    side = numpy.cos(facing_right) * right - numpy.sin(facing_right) * back
    top = numpy.cross(normal, side, axis=0)
    x = numpy.cos(roll) * side + numpy.sin(roll) * top
    y = numpy.cos(roll) * top - numpy.sin(roll) * side
    return numpy.stack([x, y, normal], axis=1), column(eyes) + aims[2] * sight


def support(stance, movement, direction):
    """How far the movement ellipsoid reaches along directions in carrier axes."""
    inner = stance["seat"].T @ direction
    return numpy.sqrt(((column(movement) * inner) ** 2).sum(axis=0))


def frustum(device, turn, eye, reach_of):
    """Six distances from the faces of the tracker's view; eye in screen axes."""
    tilt = numpy.radians(device["aimed_up"])
    axis = column([0, numpy.sin(tilt), numpy.cos(tilt)])
    top = column([0, numpy.cos(tilt), -numpy.sin(tilt)])
    side = column([1, 0, 0])
    at = column([0, -device["below"], device["in_front"]])
    depth, up, right = dot(axis, eye - at), dot(top, eye - at), dot(side, eye - at)

    def away(v):
        return reach_of(numpy.einsum("ijn,jn->in", turn, numpy.broadcast_to(v, eye.shape)))

    yield depth - device["near"] - away(axis)
    yield device["far"] - depth - away(axis)
    for full, offset, direction in (("across", right, side), ("up_down", up, top)):
        half = numpy.radians(device[full]) / 2
        for sign in (1, -1):
            angle = numpy.arctan2(sign * offset, depth)
            outward = numpy.cos(half) * sign * direction - numpy.sin(half) * axis
            yield numpy.hypot(offset, depth) * numpy.sin(half - angle) - away(outward)


def gaze_limit(device, turn, eye, corner, reach_of):
    """The distance from where tracker and corner are seen at the gaze limit."""
    at = column([0, -device["below"], device["in_front"]])
    limit = numpy.radians(device["gaze_limit"])
    chord = corner - at
    length = numpy.sqrt(dot(chord, chord))
    chord = chord / length
    from_middle = eye - (corner + at) / 2
    u = dot(chord, from_middle)
    out = from_middle - u * chord
    rho = numpy.sqrt(dot(out, out))
    v = rho - length / (2 * numpy.tan(limit))
    q = numpy.hypot(u, v)
    gradient = (u / q) * chord + (v / q) * out / rho
    return q - length / (2 * numpy.sin(limit)) - reach_of(numpy.einsum("ijn,jn->in", turn, gradient))


def gaze_range(limits, head, ray, reach_of):
    """Four distances, each in its own plane of the head; ray: eye to corner."""
    forward, left, up = (head[:, k] @ ray for k in range(3))
    for name, across, axis in (("left", left, 1), ("right", -left, 1), ("up", up, 2), ("down", -up, 2)):
        limit = numpy.radians(limits[name])
        angle = numpy.arctan2(across, forward)
        sign = 1 if name in ("left", "up") else -1
        normal = numpy.sin(limit) * head[:, 0] - numpy.cos(limit) * sign * head[:, axis]
        yield numpy.hypot(across, forward) * numpy.sin(limit - angle) - reach_of(column(normal))


def at_eye(case, stance, turn, middle, eye):
    """Every room at one eye: (conditions, poses)."""
    device, person = case["device"], case["person"]

    def reach_of(direction):
        return support(stance, person["movement"], direction)

    arm = column(stance["eyes"][eye]) - middle
    local = along(turn, arm)
    rooms = [numpy.broadcast_to(r, local.shape[1:]) for r in frustum(device, turn, local, reach_of)]
    # The four corners at once, one after the other along the last axis.
    poses = local.shape[1]
    corner = numpy.array([[device["used"][i], device["used"][j], 0] for i, j in CORNERS]).T.repeat(poses, axis=1)
    turns, eyes, arms = numpy.tile(turn, 4), numpy.tile(local, 4), numpy.tile(arm, 4)
    rooms.extend(gaze_limit(device, turns, eyes, corner, reach_of).reshape(4, poses))
    ray = numpy.einsum("ijn,jn->in", turns, corner) - arms
    for room in gaze_range(person["gaze_range"], stance["head"][:3, :3], ray, reach_of):
        rooms.extend(room.reshape(4, poses))
    return numpy.stack(rooms)


def choices(person, stances):
    """The sets of (stance, eye) pairs, one of which must be all right."""
    eyes = {"both": [(0, 1)], "left": [(0,)], "right": [(1,)], "either": [(0,), (1,)]}[person["eyes"]]
    sets = [[]]
    for s in range(stances):
        sets = [chosen + [(s, e) for e in eye] for chosen in sets for eye in eyes]
    return sets


def face_room(case, stances, turn, middle):
    """How far the housing is from the nearest eye, less what must be kept."""
    housing = numpy.asarray(case["device"]["housing"])
    centre = column([0, -case["device"]["housing_below"], -housing[2] / 2])
    least = None
    for st in stances:
        for eye in st["eyes"]:
            local = along(turn, column(eye) - middle) - centre
            out = numpy.maximum(numpy.abs(local) - column(housing / 2), 0)
            distance = numpy.sqrt(dot(out, out))
            least = distance if least is None else numpy.minimum(least, distance)
    return least - case["face_distance"]
