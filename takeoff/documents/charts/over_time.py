"""Cumulative values of options year by year as stepped lines, named at their right ends."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from takeoff.documents.charts.axes import Axis, round_ticks, spread
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.marks import mark, touch_point
from takeoff.documents.charts.rows import (
    LEADING,
    SMALL,
    TYPE,
    fitted,
    require_numbers,
    set_lines,
    ticks_apart,
)
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.svg import (
    EDGE,
    GREY,
    INK,
    PALE,
    Picture,
    Point,
    along,
    group,
    lettering,
    line,
    path,
    picture,
    through,
)

# Each context line has a grey and a dash of its own; lines after the twelfth begin again.
_GREYS = ("#3f4347", "#6b6d70", "#8b8e91")
_DASHES = (None, "2 0.8", "0.7 0.6", "2.4 0.6 0.5 0.6")
STYLES = tuple((grey, dash) for dash in _DASHES for grey in _GREYS)
_THICK, _THIN = 0.75, 0.3
_SHAPE, _LOWEST, _HIGHEST = 0.25, 40.0, 85.0
# From the end of a line to its key, the key itself, and round figure and name [mm].
_LEADER, _KEY, _GAP = 4.0, 4.5, 1.2
_NAME_SHARE = 0.27
_LABEL_GAP = 0.7
# Around the place of a year on a line, where the pointer finds it [mm].
_TOUCH = 1.1
# Years between the places where a line says its value.
_TOLD_EVERY = 10


def _outline(name: str, values: Mapping[int, float], period: int) -> list[tuple[int, float]]:
    """Return the corners of a stepped line: level from year to year, zero before its first."""
    if not values:
        raise ValueError(f"{name} has no value in any year")
    require_numbers(name, *values.values())
    outside = sorted(year for year in values if not 0 <= year <= period)
    if outside:
        raise ValueError(f"{name} has values outside year 0 to {period}: year {outside[0]}")
    corners = [(0, values.get(0, 0.0))]
    for year in sorted(values):
        if year:
            corners += [(year, corners[-1][1]), (year, values[year])]
    return [*corners, (period, corners[-1][1])]


def _told(outline: Sequence[tuple[int, float]], period: int) -> list[tuple[int, float]]:
    """Return the value of a course in round years and at the end, after what that year brings."""
    years = [*range(0, period, _TOLD_EVERY), period]
    return [(year, [value for at, value in outline if at <= year][-1]) for year in years]


def _y_axis(values: Sequence[float], foot: float, top: float) -> Axis:
    """Return an axis from zero, or from below where values are negative, that ends at a round value."""
    low, high = min(0.0, *values), max(0.0, *values)
    if low == high:
        high = 1.0
    ticks = round_ticks(low, high, 5)
    step = ticks[1] - ticks[0] if len(ticks) > 1 else high - low
    high = high if ticks[-1] >= high else ticks[-1] + step
    return Axis(low if ticks[0] <= low else ticks[0] - step, high, foot, top)


def _frame(across: Axis, up: Axis, number_format: Callable[[float], str], id_prefix: str) -> list[str]:
    """Return the grid with its figures, the two axes and the line of zero."""
    left, right, top, foot = across.start, across.end, up.end, up.start
    years = ticks_apart(across, across.low, across.high, lambda year: f"{year:.0f}", about=6)
    ticks = round_ticks(up.low, up.high, 5)
    grid = [(across.at(t), top, across.at(t), foot) for t in years]
    grid += [(left, up.at(t), right, up.at(t)) for t in ticks]
    zero = up.at(0.0)
    return [
        path(along(grid), stroke=PALE, width=0.1),
        line((left, top), (left, foot), stroke=GREY, width=EDGE),
        line((left, zero), (right, zero), width=EDGE, id=f"{id_prefix}-zero"),
        *(
            lettering(f"{t:.0f}", (across.at(t), foot + 3.2), size=SMALL, anchor="middle", fill=GREY)
            for t in years
        ),
        *(
            lettering(
                number_format(t), (left - 1.2, up.at(t)), size=SMALL, anchor="end", fill=GREY, centred=True
            )
            for t in ticks
        ),
    ]


def over_time(
    *,
    title: str,
    desc: str,
    unit_label: str,
    courses: Sequence[tuple[str, Mapping[int, float]]],
    period: int,
    number_format: Callable[[float], str],
    chosen: str | None,
    paper_width_mm: float,
    id_prefix: str,
    year_label: str = "years",
) -> Picture:
    """Return a chart of cumulative values, level from each year given to the next, up to the study period.

    `courses` are options with the cumulative value from a year on; years that bring nothing new may be left
    out, and before the first year given the value is zero. The final value stands before each name.
    `unit_label` says what the values are. Raises ValueError where there are no courses, a course has no
    values, or a year lies outside 0 to `period`.
    """
    if not courses or period < 1:
        raise ValueError("a chart over time needs at least one course and one year")
    outlines = [_outline(name, values, period) for name, values in courses]
    finals = [outline[-1][1] for outline in outlines]
    figures = [number_format(final) for final in finals]
    figure_width = max(text_width(figure, TYPE, semibold=True) for figure in figures)
    names = [fitted(name, paper_width_mm * _NAME_SHARE, semibold=name == chosen) for name, _ in courses]
    name_width = max(
        text_width(words, name.size, semibold=True) for name in names for words in (*name.lines, "")
    )
    heights = [name.height + _LABEL_GAP for name in names]
    heading = wrapped(unit_label, TYPE, paper_width_mm)
    top = len(heading) * LEADING + 1.8
    shape = min(max(paper_width_mm * _SHAPE, _LOWEST), _HIGHEST)
    foot = top + max(shape, sum(heights))
    up = _y_axis([value for outline in outlines for _, value in outline], foot, top)
    left = max(text_width(number_format(t), SMALL) for t in round_ticks(up.low, up.high, 5)) + 1.6
    labels = paper_width_mm - name_width - _GAP - figure_width - 0.4
    across = Axis(0.0, period, left, labels - _GAP - _KEY - _LEADER)

    # Of equal ends the one given first stands higher.
    order = sorted(range(len(courses)), key=lambda i: (up.at(finals[i]), i))
    middles = spread(
        [up.at(finals[i]) for i in order], [heights[i] for i in order], low=top - 1.0, high=foot + 1.0
    )
    styles = iter(range(len(courses)))
    groups: list[tuple[bool, str]] = []
    place = dict(zip(order, middles, strict=True))
    for index, (name, _) in enumerate(courses):
        is_chosen = name == chosen
        grey, dash = (ACCENT, None) if is_chosen else STYLES[next(styles) % len(STYLES)]
        width = _THICK if is_chosen else _THIN
        colour = ACCENT if is_chosen else INK
        id = f"{id_prefix}-{index + 1}"
        points: list[Point] = [(across.at(year), up.at(value)) for year, value in outlines[index]]
        middle, end = place[index], points[-1]
        key = labels - _GAP - _KEY
        parts = [
            path(through(points), stroke=grey, width=width, dash=dash, join="round", id=f"{id}-line"),
            line(end, (key, middle), stroke=grey, width=0.13),
            line((key, middle), (key + _KEY, middle), stroke=grey, width=width, dash=dash, id=f"{id}-key"),
            lettering(
                figures[index],
                (labels + figure_width, middle),
                size=TYPE,
                anchor="end",
                weight=600,
                fill=colour,
                centred=True,
                id=f"{id}-final",
            ),
            *set_lines(
                names[index],
                labels + figure_width + _GAP,
                middle,
                weight=600 if is_chosen else None,
                fill=colour,
                id=f"{id}-name",
            ),
        ]
        course = mark(parts, says=f"{name}, after year {period}: {figures[index]}", of=unit_label)
        told = [
            mark(
                [touch_point((across.at(year), up.at(value)), _TOUCH)],
                says=f"{name}, year {year}: {number_format(value)}",
                of=unit_label,
            )
            for year, value in _told(outlines[index], period)
        ]
        groups.append((is_chosen, group([course, *told], id=id)))
    base = foot + 3.2 + LEADING + 0.6
    elements = [
        *(lettering(text, (0.0, (i + 0.75) * LEADING), size=TYPE) for i, text in enumerate(heading)),
        *_frame(across, up, number_format, id_prefix),
        # The chosen option lies on top.
        *(drawn for _, drawn in sorted(groups, key=lambda pair: pair[0])),
        lettering(year_label, (across.end, base), size=TYPE, anchor="end", id=f"{id_prefix}-years"),
    ]
    height = base + 1.2
    svg = picture(
        elements, width_mm=paper_width_mm, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Picture(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height)
