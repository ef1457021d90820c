"""The fixed list of parts and the colour of each, dark and light in turn so that grey parts neighbours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

# Which elements each part of a chart adds up, in elemental order. What is not worth a colour is other.
GROUPS: dict[str, tuple[str, ...]] = {
    "substructure": ("substructure",),
    "roof": ("roof",),
    "external walls": ("external walls",),
    "windows and doors": ("windows", "external doors"),
    "internal walls and doors": ("internal walls", "internal doors"),
    "finishes": ("wall finishes", "floor finishes", "ceiling finishes"),
    "fitments and services": ("fitments", "services"),
    "other": ("site works", "preliminaries"),
}
PARTS = tuple(GROUPS)
_PART_OF = {element: part for part, elements in GROUPS.items() for element in elements}
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


def by_part(values: Mapping[str, float]) -> dict[str, float]:
    """Return values of elements added up by part; an element that no part names is other."""
    parts: dict[str, float] = {}
    for element, value in values.items():
        part = _PART_OF.get(element, "other")
        parts[part] = parts.get(part, 0.0) + value
    return parts


def grouping_words() -> str:
    """Return in words which elements stand under another name in the charts."""
    return "; ".join(
        f"{part}: {', '.join(elements)}" for part, elements in GROUPS.items() if elements != (part,)
    )


def part_colours(parts: Sequence[str]) -> dict[str, str]:
    """Return the colour of each part: its own, else one that none of these parts has for its own.

    Where the eight do not suffice, the rest is drawn in the grey of `other`.
    """
    known = {name: COLOURS[PARTS.index(name.lower())] for name in parts if name.lower() in PARTS}
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
