"""Head angles, rotation vectors and products of rotations by SciPy.

A head turns by rotation about up, then flexion about the turned left axis, then
lateral flexion about the turned forward axis: intrinsic turns Z, Y, X. Lateral
flexion toward the left shoulder is a negative turn about forward.
"""

import numpy
import scipy
from scipy.spatial.transform import Rotation

from parts import values


def main():
    rng = numpy.random.default_rng(11)
    cases = []
    for k in range(200):
        rotation, flexion, lateral = (round(float(v), 3) for v in rng.uniform([-180, -90, -90], [180, 90, 90]))
        head = Rotation.from_euler("ZYX", [rotation, flexion, -lateral], degrees=True)
        # Rotation vectors of every size, from a millionth of a degree to a turn
        # short of half by as little.
        angle = float(10 ** rng.uniform(-8, 0)) * numpy.pi
        if k % 2:
            angle = numpy.pi - angle / 3
        axis = rng.normal(size=3)
        vector = angle * axis / numpy.linalg.norm(axis)
        product = head * Rotation.from_rotvec(vector)
        cases.append({
            "head_deg": [rotation, flexion, lateral],
            "head_matrix": head.as_matrix().tolist(),
            "head_vector": head.as_rotvec().tolist(),
            "vector": vector.tolist(),
            "vector_matrix": Rotation.from_rotvec(vector).as_matrix().tolist(),
            "product_matrix": product.as_matrix().tolist(),
        })
    values.write(
        "Rotations of the head (degrees: rotation, flexion, lateral flexion), rotation vectors (radians), and the "
        "head's rotation times the vector's; matrices by row.",
        [numpy, scipy], {"*": 1e-12}, cases)


if __name__ == "__main__":
    main()
