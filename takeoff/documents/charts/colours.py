"""The fixed list of elements and the colour of each, dark and light in turn so that grey parts neighbours."""

from __future__ import annotations

from collections.abc import Sequence

ELEMENTS = (
    "substructure",
    "roof",
    "external walls",
    "windows",
    "external doors",
    "wall finishes",
    "ceiling finishes",
    "other",
)
COLOURS = (
    "#283048",
    "#93b5dc",
    "#925b34",
    "#dcc175",
    "#336a62",
    "#e2cfda",
    "#713f85",
    "#a09f9c",
)
OTHER = COLOURS[-1]
ACCENT = "#b3123f"


def part_colours(parts: Sequence[str]) -> dict[str, str]:
    """Return the colour of each part: that of its element, else one that no element of these parts has.

    Where the eight do not suffice, the rest is drawn in the grey of `other`.
    """
    known = {name: COLOURS[ELEMENTS.index(name.lower())] for name in parts if name.lower() in ELEMENTS}
    free = iter([colour for colour in COLOURS[:-1] if colour not in known.values()])
    return {name: known.get(name) or next(free, OTHER) for name in parts}


def linear(colour: str) -> tuple[float, float, float]:
    """Return red, green and blue of a colour as amounts of light from 0 to 1."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return red, green, blue


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 for black and 1 for white.

    Source: weights of red, green and blue of IEC 61966-2-1, from memory.
    """
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ink_on(colour: str) -> str:
    """Return the lettering colour that stands out more on a colour: white or near-black."""
    light = luminance(colour)
    return "#ffffff" if 1.05 / (light + 0.05) > (light + 0.05) / 0.06 else "#1f2023"
