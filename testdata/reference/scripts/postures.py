"""Head and eyes in a posture, by 4 x 4 matrices and SciPy's rotations."""

import numpy
import scipy

from parts import invent, sitting, values


def main():
    rng = numpy.random.default_rng(12)
    cases = []
    for _ in range(100):
        case = invent.scene(rng)
        posture = invent.posture(rng, case["measured"])
        if rng.random() < 0.3:  # far from the measured one: lying back or nearly so
            posture["back_angle"] = invent.draw(rng, 90, 180)
            posture["seat_tilt"] = invent.draw(rng, -5, 55)
        st = sitting.stance(case, posture)
        cases.append({"scene": case, "posture": posture, "head": st["head"].tolist(), "left_eye": st["eyes"][0].tolist(),
                      "right_eye": st["eyes"][1].tolist(), "seat": st["seat"].tolist()})
    values.write(
        "Where head and eyes are in a posture, in the axes of what carries the screen: mm, degrees, matrices by row.",
        [numpy, scipy], {"*": 1e-9}, cases)


if __name__ == "__main__":
    main()
