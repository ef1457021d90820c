"""Continuous beams with every pattern of imposed load, against a solution by beam elements.

Elements with cubic shapes, exact at their nodes under a uniform load, so reactions and shear forces agree to rounding;
moments and sags are read at 21 places of each element: within 1 in 10,000.
"""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from takeoff.assess.members.beams import beam_effects

PER_SPAN = 12
STIFFNESS = 2.0


def bending_stiffness(length: float) -> np.ndarray:
    h = length
    rows = [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h]]
    rows += [[-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]
    return np.array(rows) / h**3 * STIFFNESS


def by_elements(spans: list[float], loads: list[float]) -> dict[str, float]:
    """The greatest effects of one loading, deflection downwards above 0."""
    pieces = [(span / PER_SPAN, w) for span, w in zip(spans, loads, strict=True) for _ in range(PER_SPAN)]
    nodes = len(pieces) + 1
    whole, forces = np.zeros((2 * nodes, 2 * nodes)), np.zeros(2 * nodes)
    for i, (h, w) in enumerate(pieces):
        place = slice(2 * i, 2 * i + 4)
        whole[place, place] += bending_stiffness(h)
        forces[place] += w * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    held = [2 * PER_SPAN * i for i in range(len(spans) + 1)]
    free = [i for i in range(2 * nodes) if i not in held]
    moved = np.zeros(2 * nodes)
    moved[free] = np.linalg.solve(whole[np.ix_(free, free)], forces[free])
    reactions = (forces - whole @ moved)[held]
    moments, shears, sags = [], [], []
    for i, (h, w) in enumerate(pieces):
        ends = moved[2 * i : 2 * i + 4]
        at_ends = bending_stiffness(h) @ ends - w * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
        shear, moment = -at_ends[0], at_ends[1]
        x = np.linspace(0, h, 21)
        moments.append(np.max(np.abs(moment + shear * x - w * x**2 / 2)))
        shears += [abs(shear), abs(shear - w * h)]
        n = x / h
        shapes = np.array([1 - 3 * n**2 + 2 * n**3, x * (1 - n) ** 2, 3 * n**2 - 2 * n**3, x * (n**2 - n)])
        sags.append(np.max(np.abs(ends @ shapes + w * x**2 * (h - x) ** 2 / (24 * STIFFNESS))))
    by_span = [max(sags[PER_SPAN * i : PER_SPAN * (i + 1)]) for i in range(len(spans))]
    return {
        "moment": max(moments),
        "shear": max(shears),
        "end_reaction": max(reactions[0], reactions[-1]),
        "inner_reaction": max(reactions[1:-1], default=0.0),
        "sag": max(by_span),
        "sag_ratio": max(sag / span for sag, span in zip(by_span, spans, strict=True)),
    }


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_random_unequal_spans_agree_with_elements_in_every_effect(count):
    drawn = random.Random(count)
    spans = [drawn.uniform(0.5, 5) for _ in range(count)]
    dead, imposed = drawn.uniform(0.2, 2), drawn.uniform(0.2, 3)
    ours = beam_effects(spans, dead=dead, imposed=imposed, stiffness=STIFFNESS)
    patterns = itertools.product((0.0, imposed), repeat=count)
    solved = [by_elements(spans, [dead + load for load in pattern]) for pattern in patterns]
    for name in ("shear", "end_reaction", "inner_reaction"):
        assert getattr(ours, name) == pytest.approx(max(each[name] for each in solved), rel=1e-8), name
    for name in ("moment", "sag", "sag_ratio"):
        greatest = max(each[name] for each in solved)
        assert greatest * (1 - 1e-9) <= getattr(ours, name) <= greatest * (1 + 1e-4), name
