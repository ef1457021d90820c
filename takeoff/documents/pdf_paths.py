"""The data of an SVG path written as the path operators of a PDF."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from takeoff.documents.drawings.svg import Point, number

# Control points of a quarter circle stand this share of the radius from its ends.
QUARTER = 4 / 3 * (math.sqrt(2) - 1)

_TOKEN = re.compile(r"([MLHVCAZmlhvcaz])|(-?(?:\d+\.?\d*|\.\d+))|[\s,]+|(.)")
_FIGURES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "A": 7, "Z": 0}


class UnknownDrawingError(ValueError):
    """A drawing uses something of SVG that is not written here."""


def path_operators(data: str) -> Iterator[str]:
    """Yield the PDF operators of SVG path data: lines, curves of the third degree, arcs of ellipses.

    Raises UnknownDrawingError for any other command.
    """
    x = y = start_x = start_y = 0.0
    for command, figures in _commands(data):
        way = command.upper()
        # where relative figures count from
        ox, oy = (x, y) if command.islower() else (0.0, 0.0)
        if way == "Z":
            x, y = start_x, start_y
            yield "h"
            continue
        if way == "C":
            points = [ox + f if i % 2 == 0 else oy + f for i, f in enumerate(figures)]
            x, y = points[4:]
            yield _curve(*points)
            continue
        if way == "A":
            end = (ox + figures[5], oy + figures[6])
            yield from _arc((x, y), figures[0], figures[1], figures[2], figures[3], figures[4], end)
            x, y = end
            continue
        if way != "V":
            x = ox + figures[0]
        if way != "H":
            y = oy + figures[-1]
        if way == "M":
            start_x, start_y = x, y
            yield f"{number(x)} {number(y)} m"
        else:
            yield f"{number(x)} {number(y)} l"


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its figures; a command's letter holds for all groups of figures after it."""
    command, figures = "", list[float]()
    for letter, figure, other in _TOKEN.findall(data):
        if other:
            raise UnknownDrawingError(f"path data with {other!r}")
        if letter:
            if figures:
                raise UnknownDrawingError("path data with a figure too many or too few")
            command = letter
            if letter in "Zz":
                yield letter, []
        elif figure:
            if command in ("", "Z", "z"):
                raise UnknownDrawingError("path data with a figure and no command")
            figures.append(float(figure))
            if len(figures) == _FIGURES[command.upper()]:
                yield command, figures
                figures = []
                # a pair of figures after the first one of a move is a line
                command = {"M": "L", "m": "l"}.get(command, command)
    if figures:
        raise UnknownDrawingError("path data with a figure too many or too few")


def _curve(*figures: float) -> str:
    """Return a curve from where the pen is: two control points and the end."""
    return " ".join(map(number, figures)) + " c"


def _arc(
    start: Point, rx: float, ry: float, turn: float, large: float, clockwise: float, end: Point
) -> Iterator[str]:
    """Yield an arc of an ellipse as curves of a quarter turn at most.

    Radii as in SVG: `turn` [degrees] of its first axis, the longer of two arcs where `large`, in the sense
    of growing angles where `clockwise`. Source: SVG 1.1, appendix F.6, from endpoints to centre.
    """
    if start == end:
        return
    rx, ry = abs(rx), abs(ry)
    if not rx or not ry:
        yield f"{number(end[0])} {number(end[1])} l"
        return
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    u, v = cos * dx + sin * dy, cos * dy - sin * dx
    # radii too short for the chord are stretched
    stretch = math.sqrt(max(1.0, (u / rx) ** 2 + (v / ry) ** 2))
    rx, ry = rx * stretch, ry * stretch
    below = (rx * v) ** 2 + (ry * u) ** 2
    root = math.sqrt(max(0.0, (rx * ry) ** 2 / below - 1.0))
    side = root if bool(large) != bool(clockwise) else -root
    cu, cv = side * rx * v / ry, -side * ry * u / rx
    middle = (
        cos * cu - sin * cv + (start[0] + end[0]) / 2,
        sin * cu + cos * cv + (start[1] + end[1]) / 2,
    )
    first = math.atan2((v - cv) / ry, (u - cu) / rx)
    sweep = math.atan2((-v - cv) / ry, (-u - cu) / rx) - first
    if clockwise and sweep < 0:
        sweep += 2 * math.pi
    elif not clockwise and sweep > 0:
        sweep -= 2 * math.pi
    pieces = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    step = sweep / pieces
    reach = 4 / 3 * math.tan(step / 4)

    def at(along: float, across: float) -> Point:
        """Return a point of the unit circle's plane on paper."""
        return middle[0] + cos * rx * along - sin * ry * across, middle[
            1
        ] + sin * rx * along + cos * ry * across

    for piece in range(pieces):
        a = first + piece * step
        b = a + step
        yield _curve(
            *at(math.cos(a) - reach * math.sin(a), math.sin(a) + reach * math.cos(a)),
            *at(math.cos(b) + reach * math.sin(b), math.sin(b) - reach * math.cos(b)),
            *at(math.cos(b), math.sin(b)),
        )


def rectangle(x: float, y: float, width: float, height: float, radius: float) -> Iterator[str]:
    """Yield a rectangle from its upper left corner, its corners rounded where there is a radius."""
    if radius <= 0:
        yield " ".join(map(number, (x, y, width, height))) + " re"
        return
    r = min(radius, width / 2, height / 2)
    k = r * (1 - QUARTER)
    right, foot = x + width, y + height
    yield f"{number(x + r)} {number(y)} m"
    yield f"{number(right - r)} {number(y)} l"
    yield _curve(right - k, y, right, y + k, right, y + r)
    yield f"{number(right)} {number(foot - r)} l"
    yield _curve(right, foot - k, right - k, foot, right - r, foot)
    yield f"{number(x + r)} {number(foot)} l"
    yield _curve(x + k, foot, x, foot - k, x, foot - r)
    yield f"{number(x)} {number(y + r)} l"
    yield _curve(x, y + k, x + k, y, x + r, y)
    yield "h"


def ellipse(x: float, y: float, rx: float, ry: float) -> Iterator[str]:
    """Yield a closed ellipse about its centre."""
    k, m = rx * QUARTER, ry * QUARTER
    yield f"{number(x + rx)} {number(y)} m"
    yield _curve(x + rx, y + m, x + k, y + ry, x, y + ry)
    yield _curve(x - k, y + ry, x - rx, y + m, x - rx, y)
    yield _curve(x - rx, y - m, x - k, y - ry, x, y - ry)
    yield _curve(x + k, y - ry, x + rx, y - m, x + rx, y)
    yield "h"
