"""How wide a line of text is in the report's own type, so that labels can be placed and wrapped."""

from __future__ import annotations

from functools import cache

_FACES = {"regular": "SourceSansPro", "semibold": "SourceSansProSemibold"}


@cache
def _advances(face: str) -> tuple[dict[int, float], float]:
    """Return the advance of each character in em, and that of one the face lacks."""
    import font_source_sans_pro
    from fontTools.ttLib import TTFont

    with TTFont(font_source_sans_pro.font_files_ttf[_FACES[face]], lazy=True) as font:
        em = font["head"].unitsPerEm
        metrics = font["hmtx"].metrics
        widths = {code: metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}
        return widths, metrics[".notdef"][0] / em


def text_width(text: str, size: float, *, semibold: bool = False) -> float:
    """Return the width of a line of text [mm] for a type size [mm], kerning left aside."""
    widths, missing = _advances("semibold" if semibold else "regular")
    return sum(widths.get(ord(sign), missing) for sign in text) * size


def wrapped(text: str, size: float, width: float, *, semibold: bool = False) -> list[str]:
    """Return the lines of a text set within a width [mm]; a single word may be longer than that."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, semibold=semibold) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
