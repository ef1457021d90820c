"""Reads drawings back: where lettering stands on paper, the corners of outlines, what is drawn under an id."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.places import Patch

SVG = "{http://www.w3.org/2000/svg}"


def root_of(svg: str) -> ET.Element:
    """Return the drawing as a tree; raises ParseError where it is no valid XML."""
    return ET.fromstring(svg)


def by_id(root: ET.Element, name: str) -> ET.Element:
    """Return the one element of an id."""
    (found,) = [e for e in root.iter() if e.get("id") == name]
    return found


def corners(element: ET.Element) -> list[tuple[float, float]]:
    """Return the points of a path of straight lines [mm]."""
    points: list[tuple[float, float]] = []
    for letter, numbers in re.findall(r"([MLHV])([^MLHVZ]*)", element.get("d", "")):
        values = [float(n) for n in numbers.split()]
        x, y = points[-1] if points else (0.0, 0.0)
        if letter in "ML":
            x, y = values
        elif letter == "H":
            (x,) = values
        else:
            (y,) = values
        points.append((x, y))
    return points


def extent(element: ET.Element) -> Patch:
    """Return the paper that a path takes."""
    points = corners(element)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Patch(min(xs), min(ys), max(xs), max(ys))


def texts(root: ET.Element) -> list[str]:
    """Return every line of lettering, in order."""
    return [e.text or "" for e in root.iter(f"{SVG}text")]


def text_boxes(root: ET.Element) -> list[tuple[str, Patch]]:
    """Return every line of lettering with the paper it takes, from cap height to descender."""
    return list(_boxes(root, 0.0, 0.0))


def _boxes(element: ET.Element, dx: float, dy: float) -> Iterator[tuple[str, Patch]]:
    moved = re.fullmatch(r"translate\((-?[\d.]+) (-?[\d.]+)\)", element.get("transform", ""))
    if moved:
        dx, dy = dx + float(moved[1]), dy + float(moved[2])
    if element.tag == f"{SVG}text":
        yield _box(element, dx, dy)
    for child in element:
        yield from _boxes(child, dx, dy)


def _box(e: ET.Element, dx: float, dy: float) -> tuple[str, Patch]:
    words, size = e.text or "", float(e.get("font-size", ""))
    wide = text_width(words, size, semibold=e.get("font-weight") == "600")
    before = {"middle": wide / 2, "end": wide}.get(e.get("text-anchor", ""), 0.0)
    turned = re.match(r"translate\((-?[\d.]+) (-?[\d.]+)\) rotate\(-90\)", e.get("transform", ""))
    if turned:
        x, y = float(turned[1]) + dx, float(turned[2]) + dy
        return words, Patch(x - 0.66 * size, y + before - wide, x + 0.22 * size, y + before)
    x, y = float(e.get("x", "")) + dx, float(e.get("y", "")) + dy
    return words, Patch(x - before, y - 0.66 * size, x - before + wide, y + 0.22 * size)


def overlapping(root: ET.Element) -> list[tuple[str, str]]:
    """Return every two lines of lettering that overlap."""
    boxes = text_boxes(root)
    return [(one, other) for (one, a), (other, b) in itertools.combinations(boxes, 2) if a.overlaps(b)]


def outside(root: ET.Element) -> list[str]:
    """Return the lettering that reaches beyond the viewBox."""
    left, top, wide, high = (float(n) for n in root.get("viewBox", "").split())
    return [
        words
        for words, box in text_boxes(root)
        if box.left < left - 1e-6
        or box.top < top - 1e-6
        or box.right > left + wide + 1e-6
        or box.bottom > top + high + 1e-6
    ]
