"""Options as points over two measures, low being good in both; those that no other beats are joined."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from takeoff.documents.charts.axes import Axis, padded_range, round_ticks
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.labels import Box, place_labels
from takeoff.documents.charts.marks import mark
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Picture,
    Point,
    Segment,
    along,
    circle,
    group,
    lettering,
    line,
    path,
    picture,
    rect,
    through,
)

_TYPE = 2.5
_SMALL = 2.2
_LEADING = 3.0
_RADIUS = 1.15
# Height of the plot as a share of the paper width, and its limits [mm].
_SHAPE = 0.5
_LOWEST, _HIGHEST = 55.0, 95.0
# A label farther from its point than this gets a leader [mm].
_LEADER_FROM = 2.9


def undominated(points: Sequence[tuple[str, float, float]]) -> list[int]:
    """Return the places of the points than which no other is lower in one measure and no higher in the other.

    They come in the order of the first measure.
    """
    kept = [
        index
        for index, (_, x, y) in enumerate(points)
        if not any(a <= x and b <= y and (a < x or b < y) for _, a, b in points)
    ]
    return sorted(kept, key=lambda index: (points[index][1], points[index][2]))


def _axis_words(label: str, low: float, number_format: Callable[[float], str]) -> str:
    """Return the label of an axis, which says so where the axis does not start at zero."""
    return f"{label} (axis starts at {number_format(low)}, not at zero)" if low > 0 else label


def _marker(at: Point, *, is_best: bool, is_chosen: bool, id: str) -> str:
    """Return a point: filled where no other beats it, hollow otherwise, with a ring if it is chosen."""
    colour = ACCENT if is_chosen else INK if is_best else GREY
    dot = circle(at, _RADIUS, fill=colour if is_best else WHITE, stroke=colour, width=0.3, id=id)
    ring = circle(at, _RADIUS + 0.8, stroke=ACCENT, width=0.3)
    return group([ring, dot]) if is_chosen else dot


def _legend(chosen_shown: bool) -> str:
    """Return the sentence that explains the markers."""
    words = (
        "Filled and joined: no other option is lower in one measure without being higher in the other. "
        "Hollow: another option is as low or lower in both."
    )
    return words + (" Ringed: the chosen option." if chosen_shown else "")


def _frame(
    across: Axis,
    up: Axis,
    x_format: Callable[[float], str],
    y_format: Callable[[float], str],
    id_prefix: str,
) -> list[str]:
    """Return the grid of round ticks with their figures, the two axes, and zero lines within the plot."""
    left, right, top, foot = across.start, across.end, up.end, up.start
    x_ticks, y_ticks = round_ticks(across.low, across.high, 6), round_ticks(up.low, up.high, 5)
    grid: list[Segment] = [(across.at(t), top, across.at(t), foot) for t in x_ticks]
    grid += [(left, up.at(t), right, up.at(t)) for t in y_ticks]
    elements = [path(along(grid), stroke=PALE, width=0.1)]
    elements.append(
        path(along([(left, top, left, foot), (left, foot, right, foot)]), width=EDGE, stroke=GREY)
    )
    if across.low < 0 < across.high:
        x = across.at(0)
        elements.append(line((x, top), (x, foot), width=EDGE, id=f"{id_prefix}-zero-x"))
    if up.low < 0 < up.high:
        y = up.at(0)
        elements.append(line((left, y), (right, y), width=EDGE, id=f"{id_prefix}-zero-y"))
    elements += [
        lettering(x_format(t), (across.at(t), foot + 3.2), size=_SMALL, anchor="middle", fill=GREY)
        for t in x_ticks
    ]
    elements += [
        lettering(y_format(t), (left - 1.2, up.at(t)), size=_SMALL, anchor="end", fill=GREY, centred=True)
        for t in y_ticks
    ]
    return elements


def _labels(
    names: Sequence[str], places: Sequence[Point], boxes: Sequence[Box], chosen: str | None, id_prefix: str
) -> list[list[str]]:
    """Return each name at its place, with a fine leader where it had to move away."""
    labels = []
    for index, (name, (x, y), box) in enumerate(zip(names, places, boxes, strict=True)):
        elements: list[str] = []
        nearest = (min(max(x, box.left), box.right), min(max(y, box.top), box.bottom))
        if abs(nearest[0] - x) + abs(nearest[1] - y) > _LEADER_FROM:
            elements.append(line((x, y), nearest, stroke=GREY, width=0.1))
        is_chosen = name == chosen
        elements.append(
            lettering(
                name,
                (box.left, box.bottom - (box.bottom - box.top - CAP_HEIGHT * _TYPE) / 2),
                size=_TYPE,
                weight=600 if is_chosen else None,
                fill=ACCENT if is_chosen else INK,
                id=f"{id_prefix}-label-{index + 1}",
            )
        )
        labels.append(elements)
    return labels


def scatter(
    *,
    title: str,
    desc: str,
    points: Sequence[tuple[str, float, float]],
    x_label: str,
    y_label: str,
    x_format: Callable[[float], str],
    y_format: Callable[[float], str],
    chosen: str | None,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of labelled points; x and y are measures that are better the lower they are.

    `x_format` and `y_format` write the figures of the axes. Raises ValueError where there are no points.
    """
    if not points:
        raise ValueError("a scatter chart needs at least one point")
    x_low, x_high = padded_range([x for _, x, _ in points])
    y_low, y_high = padded_range([y for _, _, y in points])
    y_words = wrapped(_axis_words(y_label, y_low, y_format), _TYPE, paper_width_mm)
    x_words = wrapped(_axis_words(x_label, x_low, x_format), _TYPE, paper_width_mm)
    left = max(text_width(y_format(t), _SMALL) for t in round_ticks(y_low, y_high, 5)) + 1.6
    right = paper_width_mm - max(2.0, text_width(x_format(x_high), _SMALL) / 2)
    top = len(y_words) * _LEADING + 1.6
    foot = top + min(max(paper_width_mm * _SHAPE, _LOWEST), _HIGHEST)
    across, up = Axis(x_low, x_high, left, right), Axis(y_low, y_high, foot, top)

    names = [name for name, _, _ in points]
    places = [(across.at(x), up.at(y)) for _, x, y in points]
    best = undominated(points)
    joined = [places[index] for index in best]
    frontier = [(*a, *b) for a, b in pairwise(joined)]
    sizes = [(text_width(name, _TYPE, semibold=name == chosen), _TYPE * 0.95) for name in names]
    first = sorted(
        range(len(points)), key=lambda i: (names[i] != chosen, i not in best, places[i][0], places[i][1])
    )
    boxes = place_labels(
        places,
        sizes,
        radius=_RADIUS + 0.8,
        frame=Box(left + 0.6, top, paper_width_mm, foot - 0.6),
        lines=frontier,
        order=first,
    )
    elements = [
        *(lettering(text, (0, (i + 0.75) * _LEADING), size=_TYPE) for i, text in enumerate(y_words)),
        *_frame(across, up, x_format, y_format, id_prefix),
    ]
    if len(joined) > 1:
        elements.append(path(through(joined), width=EDGE, stroke=INK, id=f"{id_prefix}-undominated"))
    elements += [
        rect(b.left - 0.2, b.top, b.right - b.left + 0.4, b.bottom - b.top, fill=WHITE) for b in boxes
    ]
    for index, label in enumerate(_labels(names, places, boxes, chosen, id_prefix)):
        name, x, y = points[index]
        marker = _marker(
            places[index],
            is_best=index in best,
            is_chosen=name == chosen,
            id=f"{id_prefix}-point-{index + 1}",
        )
        of = f"{x_format(x)}: {x_label}\n{y_format(y)}: {y_label}"
        elements.append(mark([marker, *label], says=name, of=of))
    base = foot + 3.2 + _LEADING + 0.8
    elements += [
        lettering(text, (right, base + i * _LEADING), size=_TYPE, anchor="end")
        for i, text in enumerate(x_words)
    ]
    base += len(x_words) * _LEADING + 0.8
    legend = wrapped(_legend(chosen in names), _SMALL, paper_width_mm)
    elements += [
        lettering(text, (0, base + i * 2.8), size=_SMALL, fill=GREY) for i, text in enumerate(legend)
    ]
    height = base + (len(legend) - 1) * 2.8 + 1.0
    svg = picture(
        elements, width_mm=paper_width_mm, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Picture(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height)
