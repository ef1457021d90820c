"""Options as horizontal bars, each stacked of the same parts in the same order, with its total at the end."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis, round_ticks, spread
from takeoff.documents.charts.colours import ACCENT, ink_on, part_colours
from takeoff.documents.charts.marks import mark
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Picture,
    Point,
    Segment,
    along,
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
_BAR = 4.8
_PITCH = 8.6
_LEADING = 3.0
_SWATCH = 2.4
_LEADER = 5.5
# Around lettering within a bar, and around one part's label [mm].
_ROOM = 1.4
_LABEL_GAP = 3.2
# Kept free at the right edge of the picture [mm].
_EDGE = 0.4


@dataclass(frozen=True, slots=True)
class _Block:
    """One part of one bar: from zero outwards, to the right where positive, to the left where negative."""

    part: str
    value: float
    start: float
    end: float


def stack(values: Mapping[str, float], parts: Sequence[str]) -> list[_Block]:
    """Return the parts of a bar in their order; negative ones are stacked to the left of zero."""
    right = left = 0.0
    blocks = []
    for part in parts:
        value = values.get(part, 0.0)
        if value > 0:
            blocks.append(_Block(part, value, right, right + value))
            right += value
        elif value < 0:
            blocks.append(_Block(part, value, left + value, left))
            left += value
    return blocks


def _range(stacks: Sequence[Sequence[_Block]]) -> tuple[float, float]:
    """Return the least and the greatest place that any bar reaches, zero among them."""
    low = min((b.start for blocks in stacks for b in blocks), default=0.0)
    high = max((b.end for blocks in stacks for b in blocks), default=0.0)
    return min(low, 0.0), (max(high, 0.0) if max(high, 0.0) > min(low, 0.0) else 1.0)


def _label_width(part: str) -> float:
    """Return the width of the swatch and name of one part, with the gap to the next [mm]."""
    return _SWATCH + 0.9 + text_width(part, _TYPE) + _LABEL_GAP


def _part_label(part: str, left: float, foot: float, colour: str) -> str:
    """Return the swatch and the name of a part."""
    return group(
        [
            rect(left, foot - _SWATCH, _SWATCH, _SWATCH, fill=colour, stroke=INK, weight=0.07),
            lettering(part, (left + _SWATCH + 0.9, foot - 0.35), size=_TYPE),
        ]
    )


def _part_labels(
    parts: Sequence[str], first: Sequence[_Block], axis: Axis, colours: Mapping[str, str], width: float
) -> tuple[list[str], float]:
    """Return the labels of the parts over the first bar, and the height they take [mm].

    Where they fit one line, each stands near its part of the first bar and a leader runs down to it;
    else they stand in lines, in the order of the bar.
    """
    width -= _EDGE
    anchors = {block.part: axis.at((block.start + block.end) / 2) for block in first}
    ordered = sorted(parts, key=lambda part: (anchors.get(part, float("inf")), list(parts).index(part)))
    widths = [_label_width(part) for part in ordered]
    foot = _SWATCH + 0.8
    if sum(widths) - _LABEL_GAP <= width:
        wishes = [anchors.get(part, width) + w / 2 - _SWATCH for part, w in zip(ordered, widths, strict=True)]
        centres = spread(wishes, widths, low=0.0, high=width + _LABEL_GAP)
        elements, leaders = [], []
        for part, centre, wide in zip(ordered, centres, widths, strict=True):
            left = centre - wide / 2
            elements.append(_part_label(part, left, foot, colours[part]))
            if part in anchors:
                start = (left + _SWATCH / 2, foot + 0.4)
                leaders.append((*start, anchors[part], foot + _LEADER))
        return [path(along(leaders), stroke=GREY, width=DETAIL), *elements], foot + _LEADER
    elements, at = [], 0.0
    for part, wide in zip(ordered, widths, strict=True):
        if at and at + wide - _LABEL_GAP > width:
            at, foot = 0.0, foot + _SWATCH + 1.4
        elements.append(_part_label(part, at, foot, colours[part]))
        at += wide
    return elements, foot + 2.4


def _bar(
    blocks: Sequence[_Block],
    axis: Axis,
    top: float,
    colours: Mapping[str, str],
    number_format: Callable[[float], str],
    id: str,
    *,
    name: str,
    unit_label: str,
) -> list[str]:
    """Return one bar: its parts, each with its figure where there is room."""
    elements = []
    for index, block in enumerate(blocks):
        left, right = axis.at(block.start), axis.at(block.end)
        colour = colours[block.part]
        drawn = [
            rect(
                left, top, right - left, _BAR, fill=colour, stroke=WHITE, weight=0.15, id=f"{id}-{index + 1}"
            )
        ]
        figure = number_format(block.value)
        if text_width(figure, _SMALL) + _ROOM <= right - left:
            drawn.append(
                lettering(
                    figure,
                    ((left + right) / 2, top + _BAR / 2),
                    size=_SMALL,
                    anchor="middle",
                    fill=ink_on(colour),
                    centred=True,
                )
            )
        elements.append(mark(drawn, says=f"{name}, {block.part}: {figure}", of=unit_label))
    return elements


def _name(lines: Sequence[str], right: float, middle: float, *, is_chosen: bool) -> list[str]:
    """Return the name of an option, right-aligned before its bar; the chosen one bold with a pointer."""
    first = middle - (len(lines) - 1) * _LEADING / 2
    words = [
        lettering(
            text,
            (right, first + i * _LEADING),
            size=_TYPE,
            anchor="end",
            weight=600 if is_chosen else None,
            fill=ACCENT if is_chosen else INK,
            centred=True,
        )
        for i, text in enumerate(lines)
    ]
    if not is_chosen:
        return words
    tip: Point = (right + 2.0, middle)
    return [
        *words,
        path(
            through([(tip[0] - 1.3, middle - 0.9), tip, (tip[0] - 1.3, middle + 0.9)], closed=True),
            stroke=None,
            fill=ACCENT,
        ),
    ]


def stacked_bars(
    *,
    title: str,
    desc: str,
    unit_label: str,
    rows: Sequence[tuple[str, Mapping[str, float]]],
    parts: Sequence[str],
    number_format: Callable[[float], str],
    chosen: str | None,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return a chart of options stacked of parts.

    `rows` are options with the value of each part; a part without a value is left out of its bar.
    `number_format` writes values and totals; `unit_label` says what they are. Values of a row that
    `parts` does not name are refused with a ValueError, for the total would not be that of the row.
    """
    for name, values in rows:
        strangers = [part for part in values if part not in parts and values[part]]
        if strangers:
            raise ValueError(f"{name} has parts that the chart does not draw: {', '.join(strangers)}")
    colours = part_colours(parts)
    stacks = [stack(values, parts) for _, values in rows]
    totals = [sum(block.value for block in blocks) for blocks in stacks]
    figures = [number_format(total) for total in totals]
    name_width = min(
        max((text_width(name, _TYPE, semibold=True) for name, _ in rows), default=0.0) + 0.5,
        paper_width_mm * 0.3,
    )
    names = [wrapped(name, _TYPE, name_width, semibold=True) for name, _ in rows]
    start = name_width + 3.0
    end = paper_width_mm - max((text_width(f, _TYPE, semibold=True) for f in figures), default=0.0) - 2.6
    low, high = _range(stacks)
    axis = Axis(low, high, start, end)
    labels, top = _part_labels(parts, stacks[0] if stacks else [], axis, colours, paper_width_mm)
    foot = top + len(rows) * _PITCH - (_PITCH - _BAR) + 1.6

    ticks = round_ticks(low, high)
    grid: list[Segment] = [(axis.at(tick), top - 0.6, axis.at(tick), foot) for tick in ticks if tick]
    elements = [path(along(grid), stroke=PALE, width=0.1), *labels]
    has_negative = low < 0
    for index, (name, _) in enumerate(rows):
        at = top + index * _PITCH
        middle = at + _BAR / 2
        is_chosen = name == chosen
        bar = _bar(
            stacks[index],
            axis,
            at,
            colours,
            number_format,
            f"{id_prefix}-bar-{index + 1}",
            name=name,
            unit_label=unit_label,
        )
        reach_left = axis.at(min((b.start for b in stacks[index]), default=0.0))
        reach = axis.at(max((b.end for b in stacks[index]), default=0.0))
        if is_chosen:
            bar.append(
                rect(
                    reach_left - 0.5,
                    at - 0.5,
                    reach - reach_left + 1.0,
                    _BAR + 1.0,
                    stroke=ACCENT,
                    weight=0.3,
                )
            )
        if has_negative:
            # The bar ends at the sum of its positive parts: the net total gets its own line.
            net = axis.at(totals[index])
            bar.append(
                line((net, at - 1.0), (net, at + _BAR + 1.0), width=0.5, id=f"{id_prefix}-net-{index + 1}")
            )
        wide = text_width(figures[index], _TYPE, semibold=True)
        bar.append(rect(reach + 1.0, middle - 1.3, wide + 0.8, 2.6, fill=WHITE))
        bar.append(
            lettering(
                figures[index],
                (reach + 1.4, middle),
                size=_TYPE,
                weight=600,
                fill=ACCENT if is_chosen else INK,
                centred=True,
                id=f"{id_prefix}-total-{index + 1}",
            )
        )
        elements.append(
            group(
                [*bar, *_name(names[index], name_width, middle, is_chosen=is_chosen)],
                id=f"{id_prefix}-row-{index + 1}",
            )
        )
    zero = axis.at(0.0)
    elements.append(line((zero, top - 1.2), (zero, foot + 0.6), width=EDGE, id=f"{id_prefix}-zero"))
    base = foot + 3.2
    elements += [
        lettering(number_format(tick), (axis.at(tick), base), size=_SMALL, anchor="middle", fill=GREY)
        for tick in ticks
    ]
    unit = unit_label + ("; net total at the thick line" if has_negative else "")
    units = wrapped(unit, _SMALL, paper_width_mm - start)
    elements += [
        lettering(text, (start, base + (i + 1) * _LEADING + 0.4), size=_SMALL, fill=GREY)
        for i, text in enumerate(units)
    ]
    height = base + len(units) * _LEADING + 1.6
    svg = picture(
        elements, width_mm=paper_width_mm, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Picture(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height)
