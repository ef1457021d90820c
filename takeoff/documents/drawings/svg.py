"""SVG elements as text: lines, paths, rectangles, lettering, and the picture around them.

All coordinates here are millimetres of paper, y downwards. Only presentation attributes are used, no
style sheet and no clip path, so that several pictures can stand in one page and print alike everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

# Line weights [mm]: what is cut, outlines, edges within an outline, detail and dimensions.
CUT = 0.5
OUTLINE = 0.35
EDGE = 0.2
DETAIL = 0.13

INK = "#1f2023"
GREY = "#6b6d70"
PALE = "#b9bbbd"
WHITE = "#ffffff"

FONT = "Source Sans Pro, sans-serif"
# Height of capitals and figures as a share of the type size, for lettering centred on a line.
CAP_HEIGHT = 0.66

Point = tuple[float, float]
Segment = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A finished SVG with its size on paper [mm] and the message its title carries."""

    svg: str
    title: str
    width_mm: float
    height_mm: float


def number(value: float) -> str:
    """Return a coordinate to a thousandth of a millimetre, as short as it goes."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def element(name: str, /, *children: str, **attributes: str | float | None) -> str:
    """Return one element; children are SVG text already, attributes are escaped here.

    An underscore in an attribute's name stands for a hyphen; an attribute that is None is left out.
    """
    written = "".join(
        f" {key.replace('_', '-')}={quoteattr(value if isinstance(value, str) else number(value))}"
        for key, value in attributes.items()
        if value is not None
    )
    if not children:
        return f"<{name}{written}/>"
    return f"<{name}{written}>{''.join(children)}</{name}>"


def group(elements: Iterable[str], **attributes: str | float | None) -> str:
    """Return elements in one group that carries attributes for all of them."""
    return element("g", "".join(elements), **attributes)


def through(points: Sequence[Point], *, closed: bool = False) -> str:
    """Return path data through points."""
    first, *rest = points
    data = f"M{number(first[0])} {number(first[1])}" + "".join(f"L{number(x)} {number(y)}" for x, y in rest)
    return data + "Z" if closed else data


def along(segments: Iterable[Segment]) -> str:
    """Return path data of separate straight lines, level and upright ones written the short way."""
    parts = []
    for x1, y1, x2, y2 in segments:
        start = f"M{number(x1)} {number(y1)}"
        if abs(y2 - y1) < 5e-4:
            parts.append(f"{start}H{number(x2)}")
        elif abs(x2 - x1) < 5e-4:
            parts.append(f"{start}V{number(y2)}")
        else:
            parts.append(f"{start}L{number(x2)} {number(y2)}")
    return "".join(parts)


def path(
    data: str,
    *,
    stroke: str | None = INK,
    width: float = DETAIL,
    fill: str | None = None,
    dash: str | None = None,
    cap: str | None = None,
    join: str | None = None,
    rule: str | None = None,
    id: str | None = None,
) -> str:
    """Return a path; without `fill` it is lines only, without `stroke` an area only."""
    return element(
        "path",
        id=id,
        d=data,
        fill=fill or "none",
        fill_rule=rule,
        stroke=stroke,
        stroke_width=width if stroke else None,
        stroke_dasharray=dash,
        stroke_linecap=cap,
        stroke_linejoin=join,
    )


def line(
    start: Point,
    end: Point,
    *,
    stroke: str = INK,
    width: float = DETAIL,
    dash: str | None = None,
    id: str | None = None,
) -> str:
    """Return one straight line."""
    return path(along([(*start, *end)]), stroke=stroke, width=width, dash=dash, id=id)


def rect(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    fill: str | None = None,
    stroke: str | None = None,
    weight: float = DETAIL,
    radius: float | None = None,
    id: str | None = None,
) -> str:
    """Return a rectangle from its upper left corner."""
    return element(
        "rect",
        id=id,
        x=x,
        y=y,
        width=width,
        height=height,
        rx=radius,
        fill=fill or "none",
        stroke=stroke,
        stroke_width=weight if stroke else None,
    )


def circle(
    centre: Point,
    radius: float,
    *,
    fill: str | None = None,
    stroke: str | None = None,
    width: float = DETAIL,
    id: str | None = None,
) -> str:
    """Return a circle."""
    return element(
        "circle",
        id=id,
        cx=centre[0],
        cy=centre[1],
        r=radius,
        fill=fill or "none",
        stroke=stroke,
        stroke_width=width if stroke else None,
    )


def lettering(
    content: str,
    at: Point,
    *,
    size: float,
    anchor: str = "start",
    weight: int | None = None,
    fill: str = INK,
    upright: bool = False,
    centred: bool = False,
    id: str | None = None,
) -> str:
    """Return a line of text at a place on its baseline, escaped.

    `upright` turns it to read from the right-hand side of the sheet; `centred` puts the middle of its
    capitals at the place instead of the baseline (not every renderer knows `dominant-baseline`).
    """
    x, y = at
    drop = CAP_HEIGHT * size / 2 if centred else 0.0
    if upright:
        place: dict[str, str | float | None] = {
            "transform": f"translate({number(x + drop)} {number(y)}) rotate(-90)"
        }
    else:
        place = {"x": x, "y": y + drop}
    return element(
        "text",
        escape(content),
        id=id,
        **place,
        font_size=size,
        font_weight=str(weight) if weight else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=fill,
    )


def picture(
    elements: Iterable[str], *, width_mm: float, height_mm: float, title: str, desc: str, id_prefix: str
) -> str:
    """Return the whole SVG: one unit is one millimetre of paper; title and desc name the picture."""
    names = f"{id_prefix}-title {id_prefix}-desc"
    return element(
        "svg",
        element("title", escape(title), id=f"{id_prefix}-title"),
        element("desc", escape(desc), id=f"{id_prefix}-desc"),
        *elements,
        xmlns="http://www.w3.org/2000/svg",
        id=id_prefix,
        width=f"{number(width_mm)}mm",
        height=f"{number(height_mm)}mm",
        viewBox=f"0 0 {number(width_mm)} {number(height_mm)}",
        role="img",
        aria_labelledby=names,
        font_family=FONT,
    )
