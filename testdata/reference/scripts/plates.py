"""Tilt, rotation and roll of a plate on a ball joint by SciPy.

A clamp stands turned, a post swings on it, an arm is elevated, and a ball before the
plate is set by three turns: the direction of its tip about the stem, the tip, and the
spin about the tipped stem. On the right of the chair all beyond the clamp is the mirror
image. The plate's angles are intrinsic turns from a screen that faces straight back:
about its up to the viewer's right, about its normal, about its lower edge. The vertical
in the plate's own axes, right, up and normal, is what an inclinometer on it feels.
"""

import numpy
import scipy
from scipy.spatial.transform import Rotation

from parts import values


def turns(axes, *degrees):
    return Rotation.from_euler(axes, degrees if len(axes) > 1 else degrees[0], degrees=True)


# A screen's right, up and normal in chair axes (forward, left, up) when it faces back.
BACK = Rotation.from_matrix([[0, 0, -1], [-1, 0, 0], [0, 1, 0]])
# The same in the axes of a plate joint: normal, the viewer's right, up.
SCREEN = Rotation.from_matrix([[0, 0, 1], [1, 0, 0], [0, 1, 0]])
MIRROR = numpy.diag([1, -1, 1])


def main():
    rng = numpy.random.default_rng(23)
    cases = []
    for k in range(500):
        clamp = [round(float(v), 1) for v in rng.uniform([-90, -40, -30], [90, 40, 30])]
        swing, elevation, toward, tip, spin = (
            round(float(v), 1) for v in rng.uniform([-180, -60, -180, 0, -180], [180, 60, 180, 120, 180]))
        right = bool(k % 2)
        beyond = (turns("Z", swing) * turns("Y", -elevation) * turns("Z", 180)
                  * turns("XYX", toward, -tip, spin))
        if right:
            beyond = Rotation.from_matrix(MIRROR @ beyond.as_matrix() @ MIRROR)
        screen = turns("ZYX", clamp[0], -clamp[1], -clamp[2]) * beyond * SCREEN
        rotation, roll, tilt = (BACK.inv() * screen).as_euler("YZX", degrees=True) * [-1, 1, -1]
        cases.append({
            "clamp": clamp, "right": right, "settings": [swing, elevation, toward, tip, spin],
            "plate": [float(tilt), float(rotation), float(roll)],
            "vertical": screen.inv().apply([0, 0, 1]).tolist(),
        })
    values.write(
        "Plates on balls (degrees): the clamp's rotation, tilt and roll; the side; the settings swing, elevation, "
        "direction of the tip, tip, spin; the plate's tilt, rotation and roll; and the vertical in the plate's axes.",
        [numpy, scipy], {"*": 1e-9}, cases)


if __name__ == "__main__":
    main()
