"""The practice's own colour and logo on the client paper."""

from __future__ import annotations

import base64
from dataclasses import dataclass

from takeoff.documents.charts.colours import ACCENT, luminance
from takeoff.documents.drawings.svg import INK
from takeoff.model.library import Project

# Where the workbook names no colour.
NEUTRAL = "#44505c"
# The least contrast of lettering against the paper. Source: WCAG 2.1, criterion 1.4.3, from memory.
_LEGIBLE = 4.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Logo:
    """The logo as a data address, and what it says to those who can't see it."""

    address: str
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """The one colour for rules and areas, the colour for lettering, and the logo, None where there is none."""

    area: str
    letters: str
    logo: Logo | None

    def tinted(self, svg: str) -> str:
        """Return a chart with the colour of the practice in place of the accent of the charts.

        Its lettering is in the accent too, so that a pale colour gives way to ink.
        """
        return svg.replace(ACCENT, self.letters)


def looks_of(project: Project) -> Looks:
    """Return the looks of the paper of a project; a colour too pale to be read is left to rules and areas."""
    colour = (project.practice_colour or NEUTRAL).lower()
    return Looks(area=colour, letters=colour if contrast(colour) >= _LEGIBLE else INK, logo=_logo(project))


def contrast(colour: str) -> float:
    """Return the contrast of a colour against white paper, 1 for white itself and 21 for black.

    Source: WCAG 2.1, definition of the contrast ratio, from memory.
    """
    return 1.05 / (luminance(colour) + 0.05)


def _logo(project: Project) -> Logo | None:
    """Return the logo of a project."""
    if project.logo is None:
        return None
    data = base64.b64encode(project.logo.data).decode("ascii")
    owner = project.practice or "the practice"
    return Logo(address=f"data:image/{project.logo.kind};base64,{data}", alt=f"Logo of {owner}")
