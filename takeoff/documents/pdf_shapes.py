"""A drawing in SVG written as the content of a PDF: shapes, lines and lettering, nothing that needs looking up."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from takeoff.documents.drawings.svg import number
from takeoff.documents.pdf_paths import UnknownDrawingError, ellipse, path_operators, rectangle
from takeoff.documents.pdf_type import DrawingType

Matrix = tuple[float, float, float, float, float, float]

_SVG = "{http://www.w3.org/2000/svg}"
# handed down from a group to what stands in it, with the values SVG starts from
_INHERITED = {
    "fill": "#000000",
    "fill-rule": "nonzero",
    "stroke": "none",
    "stroke-width": "1",
    "stroke-dasharray": "none",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "font-family": "",
    "font-size": "16",
    "font-weight": "400",
    "text-anchor": "start",
}
_OWN = {
    "path": {"d"},
    "rect": {"x", "y", "width", "height", "rx"},
    "circle": {"cx", "cy", "r"},
    "ellipse": {"cx", "cy", "rx", "ry"},
    "line": {"x1", "y1", "x2", "y2"},
    "polyline": {"points"},
    "polygon": {"points"},
    "text": {"x", "y"},
    "g": set[str](),
}
# for readers and scripts, not for the eye
_UNSEEN = re.compile(r"id|class|role|tabindex|lang|focusable|pointer-events|cursor|(aria|data)-.*")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_NAMED = {"black": "#000000", "white": "#ffffff"}
_CAPS = {"butt": 0, "round": 1, "square": 2}
_JOINS = {"miter": 0, "round": 1, "bevel": 2}
_WEIGHTS = {"normal": "400", "bold": "700"}
_TRANSFORM = re.compile(r"\s*(translate|rotate|scale|matrix)\(([^()]*)\)\s*")
_SPACES = re.compile(r"[ \t\r\n]+")


class Painter:
    """Writes the elements of one drawing; remembers colours and weights so that each is set once."""

    def __init__(self, types: Mapping[int, DrawingType], family: str) -> None:
        """Start a drawing: corners keep their points as far as SVG lets them."""
        self.lines = ["4 M"]
        self.weights = set[int]()
        self._types = types
        self._family = family
        self._set = dict[str, str]()

    def paint(self, root: Element) -> None:
        """Write a whole drawing. Raises UnknownDrawingError at what this painter does not know."""
        look = dict(_INHERITED)
        look |= {key: value for key, value in root.attrib.items() if key in _INHERITED}
        for child in root:
            self._element(child, look)

    def _element(self, element: Element, look: dict[str, str]) -> None:
        """Write one element and what stands in it."""
        if not isinstance(element.tag, str) or element.tag in (f"{_SVG}title", f"{_SVG}desc"):
            return
        name = element.tag.removeprefix(_SVG)
        own = _OWN.get(name)
        if own is None:
            raise UnknownDrawingError(f"an element {name}")
        turned: Matrix | None = None
        for key, value in element.attrib.items():
            if key in _INHERITED:
                if look.get(key) != value:
                    look = {**look, key: value}
            elif key == "transform":
                turned = _matrix(value)
            elif key not in own and not _UNSEEN.fullmatch(key):
                raise UnknownDrawingError(f"an attribute {key}")
        if name == "text":
            self._text(element, look, turned)
            return
        outside = self._set
        if turned:
            self._set = dict(outside)
            self.lines.append(f"q {' '.join(map(number, turned))} cm")
        if name == "g":
            for child in element:
                self._element(child, look)
        else:
            if any(child.tag not in (f"{_SVG}title", f"{_SVG}desc") for child in element):
                raise UnknownDrawingError(f"something within an element {name}")
            self._shape(name, element, look)
        if turned:
            self._set = outside
            self.lines.append("Q")

    def _shape(self, name: str, element: Element, look: Mapping[str, str]) -> None:
        """Write an area, a line, or both."""
        fill, stroke = look["fill"], look["stroke"]
        if _length(look["stroke-width"]) <= 0:
            stroke = "none"
        outline = _outline(name, element)
        if not outline or (fill == "none" and stroke == "none"):
            return
        if fill != "none":
            self._once("fill", f"{_rgb(fill)} rg")
        if stroke != "none":
            self._once("stroke", f"{_rgb(stroke)} RG")
            self._once("width", f"{number(_length(look['stroke-width']))} w")
            self._once("cap", f"{_known(_CAPS, look['stroke-linecap'])} J")
            self._once("join", f"{_known(_JOINS, look['stroke-linejoin'])} j")
            dash = "" if look["stroke-dasharray"] == "none" else look["stroke-dasharray"]
            self._once("dash", f"[{' '.join(map(number, _figures(dash)))}] 0 d")
        self.lines += outline
        if fill == "none":
            self.lines.append("S")
            return
        even = "*" if _known({"nonzero": 0, "evenodd": 1}, look["fill-rule"]) else ""
        self.lines.append(("f" if stroke == "none" else "B") + even)

    def _text(self, element: Element, look: Mapping[str, str], turned: Matrix | None) -> None:
        """Write a line of lettering."""
        if len(element):
            raise UnknownDrawingError("something within a text")
        content = _SPACES.sub(" ", element.text or "").strip(" ")
        if not content or look["fill"] == "none":
            return
        if look["stroke"] != "none" or look["font-family"].split(",")[0].strip("\"' ") != self._family:
            raise UnknownDrawingError("lettering with an outline, or in another type")
        asked = _WEIGHTS.get(look["font-weight"], look["font-weight"])
        face = self._types.get(int(asked) if asked.isdigit() else 0)
        if face is None or not face.has(content):
            raise UnknownDrawingError("lettering the type does not have")
        size = _length(look["font-size"])
        back = _known({"start": 0.0, "middle": 0.5, "end": 1.0}, look["text-anchor"])
        x = _length(element.get("x", "0")) - back * size * face.width(content)
        y = _length(element.get("y", "0"))
        a, b, c, d, e, f = turned or (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
        # letters stand upright where the paper's y goes down
        place = (a, b, -c, -d, a * x + c * y + e, b * x + d * y + f)
        self._once("fill", f"{_rgb(look['fill'])} rg")
        self.weights.add(face.weight)
        self.lines.append(
            f"BT /{face.name} {number(size)} Tf {' '.join(map(number, place))} Tm <{face.written(content)}> Tj ET"
        )

    def _once(self, what: str, operator: str) -> None:
        """Set a colour, a weight or the like, unless it is set already."""
        if self._set.get(what) != operator:
            self._set[what] = operator
            self.lines.append(operator)


def _outline(name: str, element: Element) -> list[str]:
    """Return the path operators of a shape; none where it has no extent."""

    def at(key: str) -> float:
        return _length(element.get(key, "0"))

    if name == "path":
        return list(path_operators(element.get("d", "")))
    if name == "rect":
        if at("width") <= 0 or at("height") <= 0:
            return []
        return list(rectangle(at("x"), at("y"), at("width"), at("height"), at("rx")))
    if name in ("circle", "ellipse"):
        rx, ry = (at("r"), at("r")) if name == "circle" else (at("rx"), at("ry"))
        return list(ellipse(at("cx"), at("cy"), rx, ry)) if rx > 0 and ry > 0 else []
    ends = [at("x1"), at("y1"), at("x2"), at("y2")]
    places = ends if name == "line" else _figures(element.get("points", ""))
    if len(places) < 4 or len(places) % 2:
        return []
    pairs = zip(places[::2], places[1::2], strict=True)
    lines = [f"{number(x)} {number(y)} {'l' if i else 'm'}" for i, (x, y) in enumerate(pairs)]
    return [*lines, "h"] if name == "polygon" else lines


def _matrix(text: str) -> Matrix:
    """Return the matrix of a transform, the leftmost step outermost."""
    whole: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    place = 0
    while place < len(text):
        step = _TRANSFORM.match(text, place)
        if step is None:
            raise UnknownDrawingError(f"a transform {text!r}")
        place = step.end()
        whole = _times(whole, _step(step[1], _figures(step[2])))
    return whole


def _step(name: str, figures: list[float]) -> Matrix:
    """Return the matrix of one step of a transform."""
    match name, figures:
        case "translate", [x, *rest]:
            return 1.0, 0.0, 0.0, 1.0, x, rest[0] if rest else 0.0
        case "scale", [x, *rest]:
            return x, 0.0, 0.0, rest[0] if rest else x, 0.0, 0.0
        case "rotate", [angle]:
            cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            return cos, sin, -sin, cos, 0.0, 0.0
        case "rotate", [angle, x, y]:
            there = _times((1.0, 0.0, 0.0, 1.0, x, y), _step("rotate", [angle]))
            return _times(there, (1.0, 0.0, 0.0, 1.0, -x, -y))
        case "matrix", [a, b, c, d, e, f]:
            return a, b, c, d, e, f
    raise UnknownDrawingError(f"a transform {name} of {figures}")


def _times(m: Matrix, n: Matrix) -> Matrix:
    """Return the matrix of one step within another."""
    return (
        m[0] * n[0] + m[2] * n[1],
        m[1] * n[0] + m[3] * n[1],
        m[0] * n[2] + m[2] * n[3],
        m[1] * n[2] + m[3] * n[3],
        m[0] * n[4] + m[2] * n[5] + m[4],
        m[1] * n[4] + m[3] * n[5] + m[5],
    )


def _rgb(colour: str) -> str:
    """Return a colour's three shares."""
    written = _NAMED.get(colour, colour)
    if not _COLOUR.fullmatch(written):
        raise UnknownDrawingError(f"a colour {colour!r}")
    return " ".join(number(int(written[place : place + 2], 16) / 255) for place in (1, 3, 5))


def _length(text: str) -> float:
    """Return a length in units of the drawing."""
    try:
        return float(text)
    except ValueError as error:
        raise UnknownDrawingError(f"a length {text!r}") from error


def _figures(text: str) -> list[float]:
    """Return the figures of a list."""
    return [_length(part) for part in text.replace(",", " ").split()]


def _known(values: Mapping[str, float], word: str) -> float:
    """Return what a word stands for."""
    if word not in values:
        raise UnknownDrawingError(f"a value {word!r}")
    return values[word]
