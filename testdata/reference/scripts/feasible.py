"""The greatest margin that screens and mounts can have, by global search.

In up to three postures one screen cannot always be right, and a short kit may not reach it.
SciPy's differential evolution looks for the greatest margin, with some 40,000
evaluations a case: over the aim for a screen alone, over the settings for a mount. SciPy's
SLSQP then polishes its answers and the best of random guesses, in the form

    maximise t  subject to  every room >= t, aim within its ranges
"""

import multiprocessing
import warnings

import numpy
import scipy
from scipy.optimize import differential_evolution, minimize

from parts import conditions, invent, sitting, values

SCREENS, MOUNTS = 60, 60
LOW = numpy.array([-60, -60, 150, -40, -40, -30.0])  # of the aim
HIGH = numpy.array([60, 75, 1500, 40, 40, 30.0])
BROKEN = 1e3  # what a degree or mm outside the aim's ranges costs
EVALUATIONS = 40_000


def turned(axis, degrees):
    """Rotations (3, 3, poses) about an axis of x, y, z."""
    a = numpy.radians(degrees)
    c, s, one, zero = numpy.cos(a), numpy.sin(a), numpy.ones_like(a), numpy.zeros_like(a)
    rows = {
        "x": [[one, zero, zero], [zero, c, -s], [zero, s, c]],
        "y": [[c, zero, s], [zero, one, zero], [-s, zero, c]],
        "z": [[c, -s, zero], [s, c, zero], [zero, zero, one]],
    }[axis]
    return numpy.array(rows)


def times(a, b):
    return numpy.einsum("ijn,jkn->ikn", a, b)


def posed(kit, settings):
    """Screens' rotations (columns right, up, normal) and middles at settings (9, poses).

    Clamp and post: position along x, height along z, swing about z. Elbow: pan about z,
    elevation lifts. Arm: extension along x. Plate joint, facing back along the arm: pan
    about z, tilt lifts, roll about the normal. The plate's offset: right, up, normal.
    """
    position, height, swing, pan, elevation, extension, turn, tilt, roll = settings
    zero = numpy.zeros_like(position)
    at = conditions.column(kit["clamp"]) + numpy.stack([position, zero, height])
    arm = times(turned("z", swing + pan), turned("y", -elevation))
    at = at + (kit["elbow_to_arm"] + extension) * arm[:, 0]
    plate = times(times(arm, turned("z", 180 + turn)), times(turned("y", -tilt), turned("x", roll)))
    screen = plate[:, [1, 2, 0]]
    return screen, at + numpy.einsum("ijn,j->in", screen, numpy.asarray(kit["plate"]))


def aims(turn, middle, stance, upright):
    """The aims (6, poses) of screens: the inverse of conditions.screens."""
    head, eyes = stance["head"][:3, :3], stance["head"][:3, 3]
    sight = middle - conditions.column(eyes)
    distance = numpy.sqrt(conditions.dot(sight, sight))
    sight = sight / distance
    forward, left, over = head.T @ sight
    back = -sight
    up = head[:, 2] if upright == "head" else stance["vertical"]
    right = conditions.unit(numpy.cross(conditions.column(up), back, axis=0))
    above = numpy.cross(back, right, axis=0)
    x, normal = turn[:, 0], turn[:, 2]
    facing_right = numpy.arctan2(conditions.dot(normal, right), conditions.dot(normal, back))
    side = numpy.cos(facing_right) * right - numpy.sin(facing_right) * back
    top = numpy.cross(normal, side, axis=0)
    angles = [
        numpy.arctan2(left, forward), numpy.arctan2(-over, numpy.hypot(left, forward)), distance,
        numpy.arcsin(numpy.clip(conditions.dot(normal, above), -1, 1)), facing_right,
        numpy.arctan2(conditions.dot(x, top), conditions.dot(x, side)),
    ]
    return numpy.stack([a if k == 2 else numpy.degrees(a) for k, a in enumerate(angles)])


class Search:
    """One case made ready: variables (n, poses) to rooms and the aim's ranges."""

    def __init__(self, case):
        self.case = case
        self.stances = [sitting.stance(case, p) for p in case["postures"]]
        self.choices = conditions.choices(case["person"], len(self.stances))
        limits = case["kit"]["limits"] if "kit" in case else list(zip(LOW, HIGH))
        self.low, self.high = numpy.array(limits, dtype=float).T
        self.unit = (self.high - self.low) / 20

    def rooms(self, x):
        """Rooms by (stance, eye), and how far every aim is within its ranges."""
        if "kit" in self.case:
            turn, middle = posed(self.case["kit"], x)
            aim = aims(turn, middle, self.stances[0], self.case["upright"])
            ranges = numpy.concatenate([aim - LOW[:, None], HIGH[:, None] - aim])
        else:
            turn, middle = conditions.screens(x, self.stances[0], self.case["upright"])
            ranges = numpy.zeros((1, x.shape[1]))
        pairs = {pair for chosen in self.choices for pair in chosen}
        return {(s, e): conditions.at_eye(self.case, self.stances[s], turn, middle, e) for s, e in sorted(pairs)}, ranges

    def judge(self, x):
        """Margins, and what ranks the variables."""
        rooms, ranges = self.rooms(x)
        least = {pair: r.min(axis=0) for pair, r in rooms.items()}
        margin = numpy.max([numpy.min([least[pair] for pair in chosen], axis=0) for chosen in self.choices], axis=0)
        return margin, margin - BROKEN * numpy.maximum(-ranges, 0).sum(axis=0)

    def polish(self, start, chosen):
        """SLSQP over the scaled variables and the least room."""
        n = len(start)

        def functions(y):
            rooms, ranges = self.rooms(y * self.unit[:, None])
            return numpy.concatenate([rooms[pair] for pair in chosen] + [ranges])

        terms = 26 * len(chosen)

        def constraints(y):
            f = functions(y[:n, None])[:, 0]
            f[:terms] -= y[n]
            return f

        def jacobian(y):
            h = 1e-6
            f = functions(y[:n, None] + numpy.concatenate([numpy.eye(n) * h, -numpy.eye(n) * h], axis=1))
            jac = numpy.zeros((len(f), n + 1))
            jac[:, :n] = (f[:, :n] - f[:, n:]) / (2 * h)
            jac[:terms, n] = -1
            return jac

        y = numpy.append(start / self.unit, 0)
        y[n] = constraints(y)[:terms].min()
        bounds = list(zip(self.low / self.unit, self.high / self.unit)) + [(None, None)]
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found = minimize(lambda v: -v[n], y, jac=lambda v: -numpy.eye(n + 1)[n], bounds=bounds, method="SLSQP",
                             constraints={"type": "ineq", "fun": constraints, "jac": jacobian},
                             options={"maxiter": 200, "ftol": 1e-9})
        if not numpy.isfinite(found.x).all():
            return start
        return numpy.clip(found.x[:n] * self.unit, self.low, self.high)

    def guess(self, count):
        """Random variables within their limits."""
        rng = numpy.random.default_rng(17)
        return self.low[:, None] + (self.high - self.low)[:, None] * rng.random((len(self.low), count))

    def greatest(self):
        """The greatest margin found, and the variables that have it."""
        bounds, n = list(zip(self.low, self.high)), len(self.low)
        tried = [differential_evolution(
            lambda x: -self.judge(x)[1], bounds, seed=seed, popsize=100, maxiter=EVALUATIONS // (2 * 100 * n), tol=0, atol=0,
            vectorized=True, updating="deferred", polish=False, init="sobol").x for seed in (1, 2)]
        guess = self.guess(4000)
        tried += list(guess[:, numpy.argsort(-self.judge(guess)[1])[:4]].T)
        for start in list(tried):
            tried += [self.polish(start, chosen) for chosen in self.choices]
        x = numpy.array(tried).T
        margin, rank = self.judge(x)
        inside = (self.rooms(x)[1] >= -1e-6).all(axis=0)
        k = int(numpy.argmax(numpy.where(inside, margin, rank)))
        return float(margin[k]), x[:, k].tolist()


def kit(rng):
    """A kit on the left whose reach is often too short."""
    def about(middle, half):
        return [round(middle - half, 1), round(middle + half, 1)]

    height, extension = invent.draw(rng, 250, 650), invent.draw(rng, 150, 450)
    return {
        "clamp": [invent.draw(rng, 200, 500), invent.draw(rng, 180, 320), invent.draw(rng, 350, 600)],
        "elbow_to_arm": invent.draw(rng, 20, 60), "plate": [0, invent.draw(rng, -60, 60), invent.draw(rng, 20, 70)],
        "limits": [
            about(0, invent.draw(rng, 5, 80)), about(height, invent.draw(rng, 20, 150)), about(invent.draw(rng, -60, 0), invent.draw(rng, 20, 60)),
            about(invent.draw(rng, -40, 20), invent.draw(rng, 20, 80)), about(0, invent.draw(rng, 5, 50)),
            about(extension, invent.draw(rng, 20, 120)), about(invent.draw(rng, 0, 60), invent.draw(rng, 10, 60)),
            about(invent.draw(rng, 0, 20), invent.draw(rng, 10, 40)), about(0, invent.draw(rng, 2, 30)),
        ],
    }


def invented(rng, mounted):
    case = invent.scene(rng)
    measured = case["measured"]
    case["device"] = invent.device(rng)
    case["postures"] = [invent.as_measured(measured)]
    case["postures"] += [invent.posture(rng, measured) for _ in range(rng.integers(0, 3))]
    case["upright"] = ["head", "room"][rng.integers(2)]
    if mounted:
        case["kit"] = kit(rng)
    return case


def answered(case):
    case["margin"], case["at"] = Search(case).greatest()
    return case


def main():
    rng = numpy.random.default_rng(19)
    cases = [invented(rng, k >= SCREENS) for k in range(SCREENS + MOUNTS)]
    with multiprocessing.Pool() as pool:
        cases = pool.map(answered, cases, chunksize=1)
    values.write(
        "Greatest margin (mm) of a screen's pose, or of a mount's settings within their limits, with the aim in its "
        "default ranges; and where: an aim (degrees and mm: left, down, distance, facing up, facing right, roll), or "
        "position, height, swing, pan, elevation, extension, plate pan, tilt and roll (mm, degrees).",
        [numpy, scipy], {"*": 1e-9, "margin": 0.05, "at": 1e6}, cases)


if __name__ == "__main__":
    main()
