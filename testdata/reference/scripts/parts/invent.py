"""Invented people, chairs, screens and postures. None is anybody's."""


def draw(rng, low, high, digits=1):
    return round(float(rng.uniform(low, high)), digits)


def person(rng):
    moves = rng.random() < 0.75
    return {
        "pupil_spacing": draw(rng, 45, 72),
        "neck_to_eyes": [draw(rng, 60, 110), draw(rng, -8, 8), draw(rng, 55, 95)],
        "eyes": ["both", "both", "left", "right", "either"][rng.integers(5)],
        "rest": {"down": draw(rng, -5, 25), "left": draw(rng, -10, 10)},
        "gaze_range": {"left": draw(rng, 18, 45), "right": draw(rng, 18, 45), "up": draw(rng, 10, 30), "down": draw(rng, 18, 45)},
        "movement": [draw(rng, 0, 40), draw(rng, 0, 50), draw(rng, 0, 25)] if moves else [0, 0, 0],
    }


def head(rng):
    return [draw(rng, -25, 25), draw(rng, -15, 25), draw(rng, -20, 20)]


def chair(rng):
    return {
        "tilt_pivot": [draw(rng, 0, 300), 0, draw(rng, 350, 520)],
        "back_hinge": [draw(rng, -40, 40), 0, draw(rng, 430, 560)],
    }


def measured(rng):
    return {
        "seat_tilt": draw(rng, 0, 15), "back_angle": draw(rng, 88, 115),
        "eyes": [draw(rng, -50, 250), draw(rng, -60, 60), draw(rng, 950, 1300)],
        "head": head(rng),
    }


def posture(rng, m):
    """A posture near the measured one: what one screen can be expected to serve."""
    return {
        "seat_tilt": round(m["seat_tilt"] + draw(rng, -5, 30), 1), "back_angle": round(m["back_angle"] + draw(rng, -5, 15), 1),
        "slump": draw(rng, 0, 40), "head": [round(a + draw(rng, -6, 6), 1) for a in m["head"]],
    }


def as_measured(m):
    return {"seat_tilt": m["seat_tilt"], "back_angle": m["back_angle"], "slump": 0, "head": m["head"]}


def device(rng):
    width, height = draw(rng, 180, 350), draw(rng, 120, 230)
    below = round(height / 2 + draw(rng, 5, 40), 1)
    near = draw(rng, 350, 520)
    best = round(near + draw(rng, 60, 180), 1)
    used = [-width / 2, width / 2, -height / 2, height / 2]
    if rng.random() < 0.3:  # only a part of the display area is looked at
        used = [round(u * draw(rng, 0.4, 1.0), 1) for u in used]
    return {
        "width": width, "height": height, "used": [round(u, 2) for u in used],
        "housing": [round(width + draw(rng, 10, 60), 1), round(height + draw(rng, 40, 90), 1), draw(rng, 20, 80)],
        "housing_below": draw(rng, 0, 25),
        "near": near, "best": best, "far": round(best + draw(rng, 80, 300), 1),
        "across": draw(rng, 28, 55), "up_down": draw(rng, 22, 42),
        "below": below, "in_front": draw(rng, -5, 25), "aimed_up": draw(rng, 0, 25), "gaze_limit": draw(rng, 25, 42),
    }


def scene(rng):
    m = measured(rng)
    return {"person": person(rng), "chair": chair(rng), "measured": m, "carrier": ["seat", "base"][rng.integers(2)]}
