"""The foot of charts of rows: figures of the axis, what the chart shows, and the picture that it ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from takeoff.documents.charts.axes import Axis
from takeoff.documents.charts.rows import LEADING, SMALL
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.svg import GREY, Picture, lettering, picture


def with_foot(
    elements: Sequence[str],
    *,
    axis: Axis,
    ticks: Sequence[float],
    number_format: Callable[[float], str],
    words: str,
    base: float,
    left: float,
    paper_width_mm: float,
    title: str,
    desc: str,
    id_prefix: str,
) -> Picture:
    """Return a chart with the figures of its ticks at `base`, and words below from `left` on [mm]."""
    figures = [
        lettering(number_format(t), (axis.at(t), base), size=SMALL, anchor="middle", fill=GREY) for t in ticks
    ]
    legend = wrapped(words, SMALL, paper_width_mm - left)
    told = [
        lettering(text, (left, base + (i + 1) * LEADING + 0.4), size=SMALL, fill=GREY)
        for i, text in enumerate(legend)
    ]
    height = base + len(legend) * LEADING + 1.6
    svg = picture(
        [*elements, *figures, *told],
        width_mm=paper_width_mm,
        height_mm=height,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
    return Picture(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height)
