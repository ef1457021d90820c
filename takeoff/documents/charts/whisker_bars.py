"""Options as horizontal bars from zero, each with the whisker of its range, before lines to compare with."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.colours import ACCENT
from takeoff.documents.charts.context_lines import ContextLine, context_lines
from takeoff.documents.charts.foot import with_foot
from takeoff.documents.charts.marks import mark, touch_area
from takeoff.documents.charts.rows import (
    LEADING,
    NAME_GAP,
    SMALL,
    SMALL_LEADING,
    TYPE,
    Fitted,
    fitted,
    name_column,
    require_numbers,
    require_range,
    row_name,
    set_lines,
    ticks_apart,
)
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Picture,
    along,
    lettering,
    line,
    path,
    rect,
)

_BAR = 4.6
_CAP = 1.1
_ROW_GAP = 2.8
_PITCH = 8.2
_CONTEXT = "#b4b8bc"
# The column of figures: from the plot, between value and range, and its greatest share of the width.
_FIGURE_GAP = 2.4
_BETWEEN = 1.8
_FIGURE_SHARE = 0.27


@dataclass(frozen=True, slots=True, kw_only=True)
class WhiskerRow:
    """One option: its central value, the ends of its range (such as P10 and P90), and a note of a few words.

    The central value may lie outside its range, as one computed without spreads can.
    """

    name: str
    value: float
    low: float
    high: float
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse a range the wrong way round."""
        require_range(self.name, self.low, self.high)
        require_numbers(self.name, self.value)


@dataclass(frozen=True, slots=True)
class _Figures:
    """How the figures of a row are set: value and range in one line or in two, and the note below."""

    value: str
    range: str
    note: Fitted | None
    height: float


@dataclass(frozen=True, slots=True)
class _Column:
    """The column of figures at the right: its left edge, the width of its values, and its rows [mm]."""

    left: float
    value_width: float
    is_one_line: bool
    rows: tuple[_Figures, ...]


def _column(
    rows: Sequence[WhiskerRow], number_format: Callable[[float], str], paper_width_mm: float
) -> _Column:
    """Return the figures of all rows, set within their share of the width where they can be."""
    values = [number_format(row.value) for row in rows]
    ranges = [f"{number_format(row.low)} to {number_format(row.high)}" for row in rows]
    value_width = max((text_width(v, TYPE, semibold=True) for v in values), default=0.0)
    range_width = max((text_width(r, SMALL) for r in ranges), default=0.0)
    most = paper_width_mm * _FIGURE_SHARE
    is_one_line = value_width + _BETWEEN + range_width <= most
    width = value_width + _BETWEEN + range_width if is_one_line else max(value_width, range_width)
    width = max(width, min(max((text_width(row.note, SMALL) for row in rows), default=0.0), most))
    figures = []
    for row, value, span in zip(rows, values, ranges, strict=True):
        note = fitted(row.note, width, size=SMALL) if row.note else None
        height = LEADING + (0.0 if is_one_line else SMALL_LEADING) + (note.height if note else 0.0)
        figures.append(_Figures(value, span, note, height))
    return _Column(paper_width_mm - width - 0.4, value_width, is_one_line, tuple(figures))


def _figures(row: _Figures, column: _Column, middle: float, *, is_chosen: bool, id: str) -> list[str]:
    """Return the figures of one row around its middle."""
    at = middle - row.height / 2 + LEADING / 2
    right = column.left + column.value_width
    value_at = (right, at) if column.is_one_line else (column.left, at)
    elements = [
        lettering(
            row.value,
            value_at,
            size=TYPE,
            weight=600,
            anchor="end" if column.is_one_line else "start",
            fill=ACCENT if is_chosen else INK,
            centred=True,
            id=f"{id}-value",
        )
    ]
    at += 0.0 if column.is_one_line else (LEADING + SMALL_LEADING) / 2
    left = right + _BETWEEN if column.is_one_line else column.left
    elements.append(lettering(row.range, (left, at), size=SMALL, fill=GREY, centred=True, id=f"{id}-range"))
    if row.note:
        foot = middle + row.height / 2
        elements += set_lines(row.note, column.left, foot - row.note.height / 2, id=f"{id}-note")
    return elements


def _whisker(low: float, high: float, middle: float, id: str) -> list[str]:
    """Return the whisker between two places, with a white edge so that it shows on any bar."""
    shaft = [(low, middle, high, middle)]
    caps = [(x, middle - _CAP, x, middle + _CAP) for x in (low, high)]
    return [
        path(along(shaft + caps), stroke=WHITE, width=1.0),
        path(along(caps), stroke=INK, width=0.35),
        path(along(shaft), stroke=INK, width=0.35, id=id),
    ]


def whisker_bars(
    *,
    title: str,
    desc: str,
    unit_label: str,
    rows: Sequence[WhiskerRow],
    number_format: Callable[[float], str],
    chosen: str | None,
    paper_width_mm: float,
    id_prefix: str,
    lines: Sequence[ContextLine] = (),
    value_words: str = "central value",
    range_words: str = "P10 to P90",
) -> Picture:
    """Return a chart of options, each a bar from zero to its central value with the whisker of its range.

    Values may be differences, on both sides of zero. `lines` are values to compare with; their figures are
    written after their labels. `value_words` and `range_words` say below the chart what bar and whisker
    show, `number_format` writes all figures. Raises ValueError where there are no rows.
    """
    if not rows:
        raise ValueError("a chart of bars with whiskers needs at least one row")
    column = _column(rows, number_format, paper_width_mm)
    values = [v for row in rows for v in (row.value, row.low, row.high)]
    values += [v for context in lines for v in context.values]
    low, high = min(0.0, *values), max(0.0, *values)
    if low == high:
        high = 1.0
    name_width, names = name_column([row.name for row in rows], paper_width_mm, first_tick=number_format(low))
    axis = Axis(low, high, name_width + NAME_GAP, column.left - _FIGURE_GAP)
    heights = [
        max(name.height + 1.0, figures.height + 1.0, _BAR) + _ROW_GAP - 1.0
        for name, figures in zip(names, column.rows, strict=True)
    ]
    heights = [max(height, _PITCH) for height in heights]
    plot = sum(heights)
    bands, dashed, top = context_lines(
        lines,
        axis,
        number_format=number_format,
        paper_width_mm=paper_width_mm,
        plot_height_mm=plot,
        id_prefix=id_prefix,
    )
    foot = top + plot
    ticks = ticks_apart(axis, low, high, number_format)
    grid = path(along([(axis.at(t), top, axis.at(t), foot) for t in ticks if t]), stroke=PALE, width=0.1)
    zero = axis.at(0.0)
    bars, written = [], []
    middle = top
    for index, row in enumerate(rows):
        middle += heights[index] / 2
        is_chosen = row.name == chosen
        id = f"{id_prefix}-row-{index + 1}"
        end = axis.at(row.value)
        bars.append(
            rect(
                min(zero, end),
                middle - _BAR / 2,
                abs(end - zero),
                _BAR,
                fill=ACCENT if is_chosen else _CONTEXT,
                id=f"{id_prefix}-bar-{index + 1}",
            )
        )
        figures = column.rows[index]
        says = f"{row.name}: {figures.value}, {range_words} {figures.range}"
        written.append(
            mark(
                [
                    touch_area(axis.start, middle - _BAR / 2, axis.end - axis.start, _BAR),
                    *_whisker(
                        axis.at(row.low), axis.at(row.high), middle, f"{id_prefix}-whisker-{index + 1}"
                    ),
                    *row_name(names[index], name_width, middle, is_chosen=is_chosen, id=f"{id}-name"),
                    *_figures(figures, column, middle, is_chosen=is_chosen, id=id),
                ],
                says=f"{says}, {row.note}" if row.note else says,
                of=unit_label,
                id=id,
            )
        )
        middle += heights[index] / 2
    zero_line = line((zero, top - 0.4), (zero, foot + 0.6), width=EDGE, id=f"{id_prefix}-zero")
    words = f"{unit_label}. Bar and first figure: {value_words}; whisker and second figure: {range_words}."
    if lines:
        words += " Dashed: for comparison" + ("; shaded: its range." if bands else ".")
    return with_foot(
        [*bands, grid, *bars, *dashed, *written, zero_line],
        axis=axis,
        ticks=ticks,
        number_format=number_format,
        words=words,
        base=foot + 3.2,
        left=axis.start,
        paper_width_mm=paper_width_mm,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
