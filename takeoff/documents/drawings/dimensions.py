"""Dimension strings in the architect's manner: thin line, oblique ticks, figures in metres above the line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import DIMENSION_TYPE, Paper, metres
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    DETAIL,
    EDGE,
    Point,
    Segment,
    along,
    group,
    lettering,
    path,
)

Edge = Literal["top", "bottom", "left", "right"]

# From one string to the next, and from the drawing to the first [mm].
STRING_PITCH = 7.0
STRING_GAP = 3.4
_TICK = 0.85
_OVERRUN = 1.0
# A figure keeps this far from the ticks on either side [mm].
_CLEARANCE = 0.9
_SHORTEST = 1e-3
# Rows beside the line for figures of short lengths; two are common, the rest is for crowded strings.
_OUTER_ROWS = 6


@dataclass(frozen=True, slots=True)
class _Row:
    """A row that figures can stand in: height of the baseline above the dimension line [mm]."""

    baseline: float
    narrow_only: bool


def _rows(outward_is_up: bool) -> tuple[_Row, ...]:
    """Return the rows in the order they are tried: on the line, then outwards, clear of the ticks."""
    high = DIMENSION_TYPE * 1.05
    cap = CAP_HEIGHT * DIMENSION_TYPE
    on_line = _Row(0.75, True)
    outer = (0.75 + high, high) if outward_is_up else (-1.2 - cap, -high)
    return (on_line, *(_Row(outer[0] + i * outer[1], False) for i in range(_OUTER_ROWS)))


def stations_of(spans: Iterable[tuple[float, float]], length: float) -> list[float]:
    """Return the places a string measures between: both ends of a side and every jamb, each once [m]."""
    places = sorted({0.0, length, *(place for span in spans for place in span)})
    kept = [places[0]]
    for place in places[1:]:
        if place - kept[-1] > _SHORTEST:
            kept.append(place)
    return kept


def _placed_figures(
    ends: Sequence[float], figures: Sequence[str], outward_is_up: bool
) -> list[tuple[float, float]]:
    """Return (place along the line, baseline above it) of each figure so that no two overlap [mm]."""
    taken: dict[int, list[tuple[float, float]]] = {}
    rows = _rows(outward_is_up)
    placed = []
    for start, end, figure in zip(ends[:-1], ends[1:], figures, strict=True):
        middle, wide = (start + end) / 2, text_width(figure, DIMENSION_TYPE)
        left, right = middle - wide / 2 - 0.3, middle + wide / 2 + 0.3
        chosen = len(rows) - 1
        for index, row in enumerate(rows):
            if row.narrow_only and wide + 2 * _CLEARANCE > end - start:
                continue
            if all(right <= a or left >= b for a, b in taken.get(index, [])):
                chosen = index
                break
        taken.setdefault(chosen, []).append((left, right))
        placed.append((middle, rows[chosen].baseline))
    return placed


def figures_reach(stations: Sequence[float], *, edge: Edge, scale: int) -> float:
    """Return how far the figures of a string reach outwards from its line [mm]."""
    ordered = sorted(stations)
    ends = [s * 1000 / scale for s in ordered]
    up = edge in ("top", "left")
    baselines = [above for _, above in _placed_figures(ends, _figures(ordered), up)]
    if up:
        return max((above + CAP_HEIGHT * DIMENSION_TYPE for above in baselines), default=0.0)
    return max(_OVERRUN, *(-above for above in baselines))


def _figures(ordered: Sequence[float], write: Callable[[float], str] = metres) -> list[str]:
    """Return the figures of a string, one for each step between stations."""
    return [write(b - a) for a, b in pairwise(ordered)]


def dimension_string(
    stations: Sequence[float],
    *,
    edge: Edge,
    line_at: float,
    paper: Paper,
    drawn_from: float | None = None,
    write: Callable[[float], str] = metres,
    id: str | None = None,
) -> str:
    """Return one string of dimensions between stations of the model.

    `stations` are x for strings above or below a drawing and y for those beside it [m]; `line_at` is
    where the dimension line runs on paper [mm]; extension lines start at `drawn_from` [mm on
    paper]; `write` turns a length [m] into its figure.
    """
    level = edge in ("top", "bottom")
    outward_is_up = edge in ("top", "left")

    def place(u: float, above: float) -> Point:
        # u runs in reading direction; a string beside the drawing is read from the right.
        return (u, line_at - above) if level else (line_at - above, -u)

    ends = sorted(paper.at(s, 0)[0] if level else -paper.at(0, s)[1] for s in stations)
    ordered = sorted(stations)
    figures = _figures(ordered, write)
    outward = 1 if outward_is_up else -1
    start, end = ends[0] - _OVERRUN, ends[-1] + _OVERRUN

    def drawn(u1: float, v1: float, u2: float, v2: float) -> Segment:
        return (*place(u1, v1), *place(u2, v2))

    thin = [drawn(start, 0, end, 0)]
    if drawn_from is not None:
        thin += [drawn(u, line_at - drawn_from, u, outward * _OVERRUN) for u in ends]
    ticks = [drawn(u - _TICK, -_TICK, u + _TICK, _TICK) for u in ends]
    words = [
        lettering(figure, place(u, above), size=DIMENSION_TYPE, anchor="middle", upright=not level)
        for figure, (u, above) in zip(figures, _placed_figures(ends, figures, outward_is_up), strict=True)
    ]
    return group([path(along(thin), width=DETAIL), path(along(ticks), width=EDGE + 0.05), *words], id=id)
