"""A waterfall: changes one after the other from a base, each beginning where the one before ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.foot import with_foot
from takeoff.documents.charts.marks import mark
from takeoff.documents.charts.rows import (
    NAME_GAP,
    TYPE,
    fitted,
    hatch,
    name_column,
    require_numbers,
    row_name,
    set_lines,
    ticks_apart,
)
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    PALE,
    Picture,
    along,
    lettering,
    line,
    path,
    rect,
)

_BAR = 4.6
_PITCH = 8.2
_LESS = "#b4b8bc"
_LABEL_GAP = 1.2
_COLUMN_GAP = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterfallStep:
    """One change: its name, by how much it changes what is so far, and what there is after it."""

    name: str
    change: float
    after: float


def waterfall(
    *,
    title: str,
    desc: str,
    unit_label: str,
    base_name: str,
    base_value: float,
    steps: Sequence[WaterfallStep],
    total_name: str,
    change_format: Callable[[float], str],
    value_format: Callable[[float], str],
    value_heading: str,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of changes from a base, one upon another, and of all of them together.

    Zero is the base. What lowers is plain, what raises is hatched. Figures: the change at each bar, what there is after
    it in a column at the right. Raises ValueError where there are no steps, or where they do not lead from the base to
    the last value.
    """
    if not steps:
        raise ValueError("a waterfall needs at least one step")
    require_numbers(base_name, base_value, *(v for step in steps for v in (step.change, step.after)))
    so_far = _running(base_value, steps)
    total = steps[-1].after - base_value
    rows = [
        (base_name, 0.0, 0.0, base_value),
        *((step.name, a, b, step.after) for step, (a, b) in zip(steps, so_far, strict=True)),
        (total_name, 0.0, total, steps[-1].after),
    ]
    figures = [value_format(row[3]) for row in rows]
    figure_width = max(text_width(text, TYPE, semibold=True) for text in figures)
    heading = fitted(value_heading, max(figure_width, 18.0), size=2.2)
    column_width = max(figure_width, *(text_width(words, heading.size) for words in heading.lines))
    right = paper_width_mm - 0.4
    low, high = min(0.0, *(b for _, b in so_far)), max(0.0, *(b for _, b in so_far))
    low, high = (low, high) if low < high else (-1.0, 1.0)
    name_width, names = name_column([row[0] for row in rows], paper_width_mm, first_tick=change_format(low))
    label = max(text_width(change_format(b - a), TYPE, semibold=True) for _, a, b, _ in rows)
    room = label + _LABEL_GAP + 0.6
    axis = Axis(low, high, name_width + NAME_GAP + room, right - column_width - _COLUMN_GAP - room)
    top = heading.height + 1.2
    heights = [max(_PITCH, name.height + 2.0) for name in names]
    foot = top + sum(heights)
    ticks = ticks_apart(axis, low, high, change_format)
    drawn: list[str] = [
        path(along([(axis.at(t), top, axis.at(t), foot) for t in ticks if t]), stroke=PALE, width=0.1),
        *set_lines(heading, right, heading.height / 2, anchor="end", fill=GREY),
    ]
    middle, joints = top, []
    for index, (name, start, end, _) in enumerate(rows):
        middle += heights[index] / 2
        last = index == len(rows) - 1
        id = f"{id_prefix}-row-{index + 1}"
        parts = [
            *row_name(names[index], name_width, middle, is_chosen=index == 0, id=f"{id}-name"),
            lettering(
                figures[index],
                (right, middle),
                size=TYPE,
                weight=600 if index == 0 or last else None,
                anchor="end",
                centred=True,
                id=f"{id}-after",
            ),
        ]
        says = f"{name}: {figures[index]}"
        if index:
            change = change_format(end - start)
            parts += _bar(axis, start, end, middle, id=f"{id_prefix}-bar-{index + 1}", is_total=last)
            parts.append(_label(axis, start, end, middle, change, id=f"{id}-change"))
            says = f"{name}: {change}, then {figures[index]}"
        drawn.append(mark(parts, says=says, of=unit_label, id=id))
        if index and not last:
            joints.append(
                (
                    axis.at(end),
                    middle + _BAR / 2,
                    axis.at(end),
                    middle + heights[index] / 2 + heights[index + 1] / 2 - _BAR / 2,
                )
            )
        middle += heights[index] / 2
    zero = axis.at(0.0)
    drawn.append(path(along(joints), stroke=INK, width=DETAIL, dash="0.8 0.6"))
    drawn.append(line((zero, top - 0.4), (zero, foot + 0.6), width=EDGE, id=f"{id_prefix}-zero"))
    return with_foot(
        drawn,
        axis=axis,
        ticks=ticks,
        number_format=change_format,
        words=f"{unit_label}. Zero is {base_name}; each bar begins where the one above ends"
        + ("; hatched: more than before." if any(b > a for a, b in so_far) else "."),
        base=foot + 3.2,
        left=name_width + NAME_GAP,
        paper_width_mm=paper_width_mm,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )


def _running(base_value: float, steps: Sequence[WaterfallStep]) -> list[tuple[float, float]]:
    """Return where each step begins and ends, from zero at the base. Raises ValueError where they do not join."""
    at, places = 0.0, []
    for step in steps:
        end = at + step.change
        if abs(base_value + end - step.after) > 1e-6 * max(1.0, abs(base_value)):
            raise ValueError(f"{step.name} does not lead to what it says there is after it")
        places.append((at, end))
        at = end
    return places


def _bar(axis: Axis, start: float, end: float, middle: float, *, id: str, is_total: bool) -> list[str]:
    """Return the bar of one change; one that raises is hatched, that of all together is in the accent."""
    left, wide = min(axis.at(start), axis.at(end)), abs(axis.at(end) - axis.at(start))
    fill = ACCENT if is_total else _LESS
    bar = rect(left, middle - _BAR / 2, wide, _BAR, fill=fill, stroke=INK, weight=DETAIL, id=id)
    if end <= start or is_total:
        return [bar]
    return [bar, hatch(left, middle - _BAR / 2, wide, _BAR, stroke=INK)]


def _label(axis: Axis, start: float, end: float, middle: float, text: str, *, id: str) -> str:
    """Return the figure of a change, beyond the end that it runs to."""
    lowers = end <= start
    at = axis.at(end) + (-_LABEL_GAP if lowers else _LABEL_GAP)
    return lettering(
        text, (at, middle), size=TYPE, weight=600, anchor="end" if lowers else "start", centred=True, id=id
    )
