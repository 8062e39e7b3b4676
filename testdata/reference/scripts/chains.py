"""Poses at the end of chains of joints, by Orocos KDL.

Every chain starts with an origin, x, y, z in mm and then roll, pitch and yaw in
degrees about fixed axes, and a motion, for each joint; and ends with the tip.
"""

import math

import numpy
import PyKDL

from parts import invent, robot, values


def direction(rng):
    """Returns a vector of any length but zero; every fourth is an axis, either way."""
    if rng.random() < 0.25:
        v = numpy.zeros(3)
        v[rng.integers(3)] = rng.choice([-1, 1])
        return v.tolist()
    v = rng.normal(size=3)
    return [round(float(c), 4) for c in v / numpy.linalg.norm(v)]


def origin(rng):
    """Returns a pose up to a metre away. Every fourth is turned by right angles,
    where roll and yaw may be told apart no more."""
    at = invent.draw(rng, 0, 999) * numpy.array(direction(rng))
    if rng.random() < 0.25:
        turned = [90 * int(k) for k in rng.integers([-2, -1, -2], [3, 2, 3])]
    else:
        turned = [invent.draw(rng, -180, 180, 2), invent.draw(rng, -90, 90, 2), invent.draw(rng, -180, 180, 2)]
    return [round(float(c), 2) for c in at] + turned


def joint(rng, name, motion):
    j = {"name": name, "motion": motion, "origin": origin(rng)}
    if motion == "fixed":
        return j
    j["axis"] = direction(rng)
    if motion == "slide":
        j["low"] = invent.draw(rng, -500, 500)
        j["high"] = invent.draw(rng, j["low"], 1000)
    else:
        j["low"], j["high"] = invent.draw(rng, -360, 0), invent.draw(rng, 0, 360)
    return j


def chain(rng):
    motions = []
    while "turn" not in motions and "slide" not in motions:
        motions = rng.choice(["fixed", "slide", "turn", "turn"], size=rng.integers(4, 13)).tolist()
    return {"joints": [joint(rng, f"joint{k + 1}", m) for k, m in enumerate(motions)], "tip": origin(rng)}


def settings(rng, c):
    """Returns settings within the limits, and settings that are each at a limit."""
    moving = [j for j in c["joints"] if j["motion"] != "fixed"]
    within = [invent.draw(rng, j["low"], j["high"], 3) for j in moving]
    limits = [j[("low", "high")[rng.integers(2)]] for j in moving]
    return within, limits


def kdl_frame(o):
    return PyKDL.Frame(PyKDL.Rotation.RPY(*map(math.radians, o[3:])), PyKDL.Vector(*o[:3]))


def end(c, at):
    """Returns the pose at the tip, by row, with turns set in degrees."""
    segments = [robot.segment(j["name"], j["motion"], kdl_frame(j["origin"]), j.get("axis")) for j in c["joints"]]
    segments.append(robot.segment("tip", "fixed", kdl_frame(c["tip"])))
    moving = [j for j in c["joints"] if j["motion"] != "fixed"]
    return robot.rows(robot.pose(segments, [math.radians(v) if j["motion"] == "turn" else v for j, v in zip(moving, at)]))


def main():
    rng = numpy.random.default_rng(15)
    cases = []
    for _ in range(200):
        c = chain(rng)
        c["posed"] = [{"settings": at, "pose": end(c, at)} for at in settings(rng, c)]
        cases.append(c)
    values.write(
        "Chains of joints and the poses at their tips at some settings: origins are x, y, z (mm), roll, pitch, yaw "
        "(degrees, fixed axes); axes have any length; settings are in mm and degrees; poses by row (mm).",
        [numpy, PyKDL], {"*": 1e-9}, cases)


if __name__ == "__main__":
    main()
