"""Reads exported mounts and compares the poses that go with them, by Orocos KDL.

    python3 -m parts.urdf FOLDER

FOLDER holds pairs NAME.urdf and NAME.json. The second is what "sightpost solve
--json" prints, or an object with the list "posed": settings and the pose
carrier_from_screen at each. A line is printed for each pair, and the exit status
is 1 if a pose differs, a pair is not complete or there is none.
"""

import json
import math
import pathlib
import re
import sys
import xml.etree.ElementTree

import PyKDL

from parts import robot

TOLERANCE_MM = 1e-6
TOLERANCE_RAD = 1e-9
MM_PER_METRE = 1000

# What a limit or a setting may lose when it is told in other units: metres, radians.
ROUNDING = 1e-9


class Mount:
    """A chain read from URDF: metres and radians."""

    def __init__(self, path):
        robot_element = xml.etree.ElementTree.parse(path).getroot()
        links = [link.get("name") for link in robot_element.findall("link")]
        joints = robot_element.findall("joint")
        after = {j.find("parent").get("link"): j for j in joints}
        carried = {j.find("child").get("link") for j in joints}
        if len(after) != len(joints) or len(carried) != len(joints) or set(links) - carried != {"carrier"}:
            raise ValueError("the links are no single chain from the carrier")
        self.segments, self.moving, link = [], [], "carrier"
        while link in after:
            joint = after.pop(link)
            link = joint.find("child").get("link")
            self._add(joint)
        if after or link != "screen" or len(links) != len(joints) + 1:
            raise ValueError("the chain does not end at the screen")

    def _add(self, joint):
        name = joint.get("name")
        motion = {"fixed": "fixed", "prismatic": "slide", "revolute": "turn"}[joint.get("type")]
        origin = joint.find("origin")
        at = PyKDL.Frame(PyKDL.Rotation.RPY(*numbers(origin, "rpy")), PyKDL.Vector(*numbers(origin, "xyz")))
        axis = None
        if motion != "fixed":
            axis = numbers(joint.find("axis"), "xyz")
            limit = joint.find("limit")
            self.moving.append((name, motion, float(limit.get("lower")), float(limit.get("upper"))))
        self.segments.append(robot.segment(name, motion, at, axis))

    def pose(self, settings):
        """Returns the screen in the carrier's axes, in mm, with every setting where it is printed to be."""
        given = {re.sub("[^A-Za-z0-9_.-]", "_", s["name"]): s for s in settings}
        if len(given) != len(settings) or set(given) != {name for name, *_ in self.moving}:
            raise ValueError(f"settings of {sorted(given)}, joints {[name for name, *_ in self.moving]}")
        at = []
        for name, motion, lower, upper in self.moving:
            v = in_robot_units(given[name]["value"], given[name]["unit"], motion)
            if not lower - ROUNDING <= v <= upper + ROUNDING:
                raise ValueError(f"{name} is outside its limits")
            at.append(v)
        end = robot.pose(self.segments, at)
        return PyKDL.Frame(end.M, MM_PER_METRE * end.p)


def numbers(element, attribute):
    x, y, z = map(float, element.get(attribute).split())
    return x, y, z


def in_robot_units(value, unit, motion):
    if unit != {"slide": "mm", "turn": "deg"}[motion]:
        raise ValueError(f"a {motion} in {unit}")
    return math.radians(value) if motion == "turn" else value / MM_PER_METRE


def joints_pose(chain):
    """Returns the screen in the carrier's axes from the joints of a printed result."""
    segments, at = [], []
    for j in chain["joints"]:
        segments.append(robot.segment(j["name"], j["motion"], robot.from_columns(j["origin"]), j.get("axis")))
        if j["motion"] != "fixed":
            at.append(math.radians(j["value"]) if j["motion"] == "turn" else j["value"])
    segments.append(robot.segment("screen", "fixed", robot.from_columns(chain["tip"])))
    return robot.pose(segments, at)


def screen_pose(screen):
    """Returns where a screen is printed to be, in chair axes."""
    def direction(key):
        return [screen[key][c] for c in ("forward", "left", "up")]
    middle = [screen["middle"][c] for c in ("forward_mm", "left_mm", "up_mm")]
    return robot.from_columns({"x": direction("right"), "y": direction("up"), "z": direction("normal"), "at_mm": middle})


def poses(mount, printed):
    """Yields pairs of a pose by KDL and the same as it is printed.

    A result tells the screen in chair axes, for every posture; the mount holds it
    in the axes of its carrier, which the seat or the posture carries along. The
    exported mount is not loaded; the printed sag leads from there to the screen.
    """
    for posed in printed.get("posed", []):
        yield mount.pose(posed["settings"]), robot.from_columns(posed["carrier_from_screen"])
    for posture in printed.get("postures", []):
        chair_from_carrier, want = robot.from_columns(posture["chair_from_carrier"]), screen_pose(posture["screen"])
        loaded = robot.from_columns(posture["sag"]["motion"]) * chair_from_carrier
        yield loaded * mount.pose(printed["mount"]["settings"]), want
        yield loaded * joints_pose(printed["mount"]["chain"]), want


def compared(folder, name):
    """Returns whether the pair called name agrees, and what to say of it."""
    try:
        mount = Mount(folder / f"{name}.urdf")
        printed = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))
        off = [robot.apart(got, want) for got, want in poses(mount, printed)]
    except (OSError, ValueError, KeyError, TypeError, AttributeError, xml.etree.ElementTree.ParseError) as problem:
        return False, f"cannot be compared: {problem!r}"
    if not off:
        return False, "no pose is printed"
    mm, rad = max(mm for mm, _ in off), max(rad for _, rad in off)
    agrees = all(mm <= TOLERANCE_MM and rad <= TOLERANCE_RAD for mm, rad in off)
    return agrees, f"{'agrees' if agrees else 'DIFFERS'}, {mm:.1e} mm and {rad:.1e} rad at most in {len(off)} poses"


def main():
    folder = pathlib.Path(sys.argv[1])
    names = sorted({p.stem for suffix in ("urdf", "json") for p in folder.glob(f"*.{suffix}")})
    failed = 0
    for name in names:
        agrees, line = compared(folder, name)
        failed += not agrees
        print(f"{name}: {line}")
    print(f"exported mounts: {len(names)} compared with KDL {PyKDL.__version__}, {failed} failed")
    sys.exit(1 if failed or not names else 0)


if __name__ == "__main__":
    main()
