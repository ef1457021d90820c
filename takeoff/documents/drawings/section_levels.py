"""Levels beside a section: a mark at each height, named and set apart where they stand close."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import level_text
from takeoff.documents.drawings.svg import DETAIL, INK, group, lettering, path, through

LEVEL_TYPE = 2.1
_PITCH = 3.2
# From the near end of a level to its lettering: the triangle and the slant of a moved line [mm].
_JOG = 4.2


@dataclass(frozen=True, slots=True)
class Level:
    """A named height above floor level [m]."""

    name: str
    height: float

    @property
    def words(self) -> str:
        """Its name and height."""
        return f"{self.name} {level_text(self.height)}"


def levels_width(levels: Sequence[Level]) -> float:
    """Return the paper that a column of levels takes [mm]."""
    return max((text_width(level.words, LEVEL_TYPE) for level in levels), default=0.0) + _JOG + 0.6


def draw_levels(
    levels: Sequence[Level], *, near: float, outwards: int, zero: float, scale: int, id_prefix: str
) -> list[str]:
    """Return a column of levels; `near` is the end beside the drawing, `outwards` -1 to the left and 1 to the right.

    `zero` is the height of floor level on paper [mm]. Levels at heights that come close have their lettering moved
    apart, each still marked at its own height.
    """
    ordered = sorted(levels, key=lambda level: -level.height)
    true = [zero - level.height * 1000 / scale for level in ordered]
    lines = _apart(true)
    elements = []
    for index, (level, y, moved) in enumerate(zip(ordered, true, lines, strict=True), start=1):
        wide = text_width(level.words, LEVEL_TYPE)
        text = near + outwards * _JOG
        far = text + outwards * wide
        points = [(near, y), (near + outwards * 1.7, y), (near + outwards * 3.4, moved), (far, moved)]
        tip = near + outwards * 0.85
        elements.append(
            group(
                [
                    path(through(points), width=DETAIL),
                    path(
                        through([(tip, y), (tip - 0.6, y - 1.1), (tip + 0.6, y - 1.1)], closed=True),
                        width=DETAIL,
                        fill=INK,
                    ),
                    lettering(
                        level.words,
                        (text, moved - 0.55),
                        size=LEVEL_TYPE,
                        anchor="start" if outwards > 0 else "end",
                        id=f"{id_prefix}-{index}",
                    ),
                ]
            )
        )
    return elements


def _apart(places: Sequence[float]) -> list[float]:
    """Return places in order [mm] moved apart so that no two are closer than a line, as little as can be."""
    moved = list(places)
    for _ in range(60):
        settled = True
        for index in range(len(moved) - 1):
            short = _PITCH - (moved[index + 1] - moved[index])
            if short > 1e-6:
                moved[index] -= short / 2
                moved[index + 1] += short / 2
                settled = False
        if settled:
            break
    return moved
