"""Where head and eyes are in a posture, by 4 x 4 matrices.

Coded from the definitions: tilt turns seat, back support and person together
about the pivot; recline turns trunk and head about the back support's hinge;
slump slides them down along the back support; the head turns about the neck.
"""

import numpy
from scipy.spatial.transform import Rotation


def matrix(rotation, at=(0.0, 0.0, 0.0)):
    m = numpy.eye(4)
    m[:3, :3] = rotation.as_matrix()
    m[:3, 3] = at
    return m


def shift(v):
    return matrix(Rotation.identity(), v)


def turn_back(degrees, point):
    """A turn about the left-right line through point that lifts the front."""
    turn = Rotation.from_euler("y", -degrees, degrees=True)
    return shift(point) @ matrix(turn) @ shift(-numpy.asarray(point))


def head_turn(degrees):
    rotation, flexion, lateral = degrees
    return Rotation.from_euler("ZYX", [rotation, flexion, -lateral], degrees=True)


def chair_from_head(case, posture):
    """The pose of the head in chair axes, its origin midway between the eyes."""
    person, chair, measured = case["person"], case["chair"], case["measured"]
    offset = numpy.asarray(person["neck_to_eyes"])
    neck = numpy.asarray(measured["eyes"]) - head_turn(measured["head"]).apply(offset)
    on_trunk = shift(neck) @ matrix(head_turn(posture["head"])) @ shift(offset)
    untilt = numpy.linalg.inv(turn_back(measured["seat_tilt"], chair["tilt_pivot"]))
    recline = turn_back(posture["back_angle"] - measured["back_angle"], chair["back_hinge"])
    back = numpy.radians(posture["back_angle"])
    slide = shift(-posture["slump"] * numpy.array([numpy.cos(back), 0, numpy.sin(back)]))
    tilt = turn_back(posture["seat_tilt"], chair["tilt_pivot"])
    return tilt @ slide @ recline @ untilt @ on_trunk


def stance(case, posture):
    """Head, eyes, seat axes and vertical as seen from what carries the screen."""
    seat = turn_back(posture["seat_tilt"], case["chair"]["tilt_pivot"])
    chair_from_carrier = seat if case["carrier"] == "seat" else numpy.eye(4)
    carrier_from_chair = numpy.linalg.inv(chair_from_carrier)
    head = carrier_from_chair @ chair_from_head(case, posture)
    half = case["person"]["pupil_spacing"] / 2
    return {
        "head": head,
        "eyes": [(head @ [0, half, 0, 1])[:3], (head @ [0, -half, 0, 1])[:3]],
        "seat": (carrier_from_chair @ seat)[:3, :3],
        "vertical": chair_from_carrier[:3, :3].T @ [0, 0, 1],
    }
