"""The best score of a screen's pose among those that track, by global search.

SciPy's differential evolution looks for the aim with the best score, what the margin
falls short of zero counting a thousandfold, from two seeds. SciPy's SLSQP then polishes
its answers, and the best of some thousand random aims that are well apart from each
other, first for the greatest margin and then for the best score, in the form

    maximise t - costs  subject to  every room >= t, cost_k >= +-rate_k * deviation_k

and, where the margin can be zero, t >= 0. Where it cannot, the greatest margin counts.
"""

import multiprocessing
import warnings

import numpy
import scipy
from scipy.optimize import differential_evolution, minimize

from parts import conditions, invent, sitting, values

CASES = 50
LOW = numpy.array([-60, -60, 150, -40, -40, -30.0])
HIGH = numpy.array([60, 75, 1500, 40, 40, 30.0])
UNIT = numpy.array([6, 6, 60, 6, 6, 6.0])
BROKEN = 1e6  # what a millimetre of a broken limit costs
SHORT = 1e3  # what a millimetre of margin below zero costs


class Search:
    """One case made ready: aims (6, poses) to rooms, limit and costs."""

    def __init__(self, case):
        self.case = case
        self.stances = [sitting.stance(case, p) for p in case["postures"]]
        rest = case["person"]["rest"]
        self.prefer = numpy.array([rest["left"], rest["down"], case["device"]["best"], 0, 0, 0])
        r = case["rates"]
        self.rates = numpy.array([r["gaze"], r["gaze"], r["distance"], r["facing"], r["facing"], r["roll"]])
        self.choices = conditions.choices(case["person"], len(self.stances))

    def rooms(self, aims):
        """Rooms by (stance, eye), and the room of the face distance."""
        turn, middle = conditions.screens(aims, self.stances[0], self.case["upright"])
        pairs = {pair for chosen in self.choices for pair in chosen}
        rooms = {(s, e): conditions.at_eye(self.case, self.stances[s], turn, middle, e) for s, e in sorted(pairs)}
        if self.case["face_distance"] > 0:
            return rooms, conditions.face_room(self.case, self.stances, turn, middle)
        return rooms, None

    def judge(self, aims):
        """Scores, margins and what ranks the aims."""
        rooms, face = self.rooms(aims)
        least = {pair: r.min(axis=0) for pair, r in rooms.items()}
        margin = numpy.max([numpy.min([least[pair] for pair in chosen], axis=0) for chosen in self.choices], axis=0)
        score = margin - (self.rates[:, None] * numpy.abs(aims - self.prefer[:, None])).sum(axis=0)
        rank = score - SHORT * numpy.maximum(-margin, 0)
        if face is not None:
            rank = rank - BROKEN * numpy.maximum(-face, 0)
        return score, margin, rank

    def rank(self, aims):
        return self.judge(aims)[2]

    def polish(self, start, chosen, rates, least=None):
        """SLSQP over six scaled variables, the least room and six costs."""
        best = start.copy()

        def functions(y):
            rooms, face = self.rooms((y[:6] * UNIT[:, None]) if y.ndim == 2 else (y[:6] * UNIT)[:, None])
            stack = [rooms[pair] for pair in chosen]
            if face is not None:
                stack.append(face[None, :])
            return numpy.concatenate(stack)

        terms = 26 * len(chosen)

        def constraints(y):
            f = functions(y)[:, 0]
            f[:terms] -= y[6]
            off = rates * (y[:6] * UNIT - self.prefer)
            return numpy.concatenate([f, y[7:] - off, y[7:] + off])

        def jacobian(y):
            h = 1e-5
            steps = numpy.concatenate([numpy.eye(6) * h, -numpy.eye(6) * h], axis=1)
            f = functions(y[:6, None] + steps)
            n = len(f)
            jac = numpy.zeros((n + 12, 13))
            jac[:n, :6] = (f[:, :6] - f[:, 6:]) / (2 * h)
            jac[:terms, 6] = -1
            for k in range(6):
                jac[n + k, k], jac[n + k, 7 + k] = -rates[k] * UNIT[k], 1
                jac[n + 6 + k, k], jac[n + 6 + k, 7 + k] = rates[k] * UNIT[k], 1
            return jac

        y = numpy.zeros(13)
        y[:6] = start / UNIT
        y[6] = functions(y)[:terms, 0].min()
        y[7:] = numpy.abs(rates * (start - self.prefer))
        bounds = [(a, b) for a, b in zip(LOW / UNIT, HIGH / UNIT)] + [(least, None)] + [(0, None)] * 6
        down = numpy.zeros(13)
        down[6], down[7:] = -1, 1
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found = minimize(lambda v: v[7:].sum() - v[6], y, jac=lambda v: down, bounds=bounds, method="SLSQP",
                             constraints={"type": "ineq", "fun": constraints, "jac": jacobian},
                             options={"maxiter": 200, "ftol": 1e-9})
        if numpy.isfinite(found.x).all():
            best = numpy.clip(found.x[:6] * UNIT, LOW, HIGH)
        return best


def solve(case):
    """The best score over all searches, and the aim it belongs to."""
    search = Search(case)
    evolved = [differential_evolution(
        lambda aims: -search.rank(aims), list(zip(LOW, HIGH)), seed=seed, popsize=12, maxiter=250, tol=1e-7,
        vectorized=True, updating="deferred", polish=False, init="sobol").x for seed in (1, 2)]
    tried = list(evolved)
    for start in evolved + good_starts(search, 6):
        for chosen in search.choices:
            widest = search.polish(start, chosen, search.rates * 1e-3)
            tried += [widest, search.polish(widest, chosen, search.rates, 0), search.polish(start, chosen, search.rates, 0)]
    aims = numpy.array(tried).T
    scores, margins, ranks = search.judge(aims)
    k = int(numpy.argmax(ranks))
    return float(scores[k]), float(margins[k]), aims[:, k].tolist(), float(ranks[:2].max())


def good_starts(search, count):
    """The best of many random aims, no two within some units of each other."""
    rng = numpy.random.default_rng(17)
    aims = search.prefer[:, None] + 3 * UNIT[:, None] * rng.normal(size=(6, 6000))
    aims = numpy.clip(aims, LOW[:, None], HIGH[:, None])
    chosen = []
    for k in numpy.argsort(-search.rank(aims)):
        apart = [numpy.linalg.norm((aims[:, k] - other) / UNIT) for other in chosen]
        if not apart or min(apart) > 2.5:
            chosen.append(aims[:, k])
        if len(chosen) == count:
            break
    return chosen


def invented(rng, k):
    case = invent.scene(rng)
    measured = case["measured"]
    case["device"] = invent.device(rng)
    case["postures"] = [invent.as_measured(measured)]
    if k % 3:
        case["postures"].append(invent.posture(rng, measured))
    case["upright"] = ["head", "room"][rng.integers(2)]
    case["face_distance"] = invent.draw(rng, 420, 640, 0) if rng.random() < 0.4 else 0
    case["rates"] = {"gaze": 1, "distance": 0.1, "facing": 1, "roll": 1}
    if k % 2:
        case["rates"] = {"gaze": invent.draw(rng, 0.1, 3, 2), "distance": invent.draw(rng, 0.02, 0.5, 2),
                         "facing": invent.draw(rng, 0.1, 3, 2), "roll": invent.draw(rng, 0.1, 3, 2)}
    return case


def main():
    rng = numpy.random.default_rng(13)
    cases = [invented(rng, k) for k in range(CASES)]
    with multiprocessing.Pool() as pool:
        answers = pool.map(solve, cases, chunksize=1)
    for case, (score, margin, aim, evolved) in zip(cases, answers):
        case["score"], case["margin"], case["aim"], case["evolved"] = score, margin, aim, evolved
    values.write(
        "Best score (mm) of a screen's pose within the default ranges of the aim among those that track, or of the one "
        "with the greatest margin; its margin, and an aim that has it (degrees and mm: left, down, distance, facing up, "
        "facing right, roll); evolved is what ranked it before polishing.",
        [numpy, scipy], {"*": 1e-9, "score": 0.02, "margin": 0.02, "aim": 5.0, "evolved": 50.0}, cases)


if __name__ == "__main__":
    main()
