"""Serial chains of joints by Orocos KDL, from poses of 3 rows of 4 (mm)."""

import math

import numpy
import PyKDL


def frame(rows):
    """Returns the pose as KDL holds it."""
    rows = numpy.asarray(rows, dtype=float)
    return PyKDL.Frame(PyKDL.Rotation(*map(float, rows[:, :3].flat)), PyKDL.Vector(*map(float, rows[:, 3])))


def rows(f):
    """Returns a pose of KDL's by row."""
    return [[f.M[i, 0], f.M[i, 1], f.M[i, 2], f.p[i]] for i in range(3)]


def from_columns(columns):
    """Returns the pose of its axes x, y, z and its origin at_mm."""
    return frame(numpy.column_stack([columns[key] for key in ("x", "y", "z", "at_mm")]))


def segment(name, motion, origin, axis=None):
    """Returns a joint at the pose origin, and a motion along or about axis there.

    A segment of KDL moves first and goes to its own frame after, so the origin is
    told twice: the joint turns about a line given in the frame before it.
    """
    if motion == "fixed":
        joint = PyKDL.Joint(name, PyKDL.Joint.Fixed)
    else:
        kind = {"slide": PyKDL.Joint.TransAxis, "turn": PyKDL.Joint.RotAxis}[motion]
        joint = PyKDL.Joint(name, origin.p, origin.M * PyKDL.Vector(*axis), kind)
    return PyKDL.Segment(name, joint, origin)


def pose(segments, settings):
    """Returns the end of the chain at the settings (mm or radians) of what moves."""
    chain = PyKDL.Chain()
    for s in segments:
        chain.addSegment(s)
    if chain.getNrOfJoints() != len(settings):
        raise ValueError(f"{len(settings)} settings for {chain.getNrOfJoints()} joints that move")
    at = PyKDL.JntArray(len(settings))
    for i, v in enumerate(settings):
        at[i] = v
    end = PyKDL.Frame()
    if PyKDL.ChainFkSolverPos_recursive(chain).JntToCart(at, end) != 0:
        raise ValueError("KDL finds no pose")
    return end


def apart(p, q):
    """Returns how far apart two poses are, in the unit of their places and radians.

    KDL's own difference of two poses drops turns below a millionth of a radian.
    """
    turn = numpy.array(rows(p))[:, :3].T @ numpy.array(rows(q))[:, :3]
    sine = numpy.linalg.norm([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    return (p.p - q.p).Norm(), math.atan2(sine, numpy.trace(turn) - 1)
