"""The type of the documents: an open font out of a package, cut down to the signs used and embedded."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from functools import cache, lru_cache

FAMILY = "Source Sans Pro"
TYPE_HERE = "/* type */"
# set by the style sheet or by the layout, not in the page itself: bullets, hyphens, page numbers
_ALWAYS = "\u2022\u25e6-\u2010\u00ad" + "".join(map(chr, range(0x20, 0x7F)))
# in names and in what the documents say themselves: with these in any case most pages are set in the same cut
_USUAL = "".join(map(chr, range(0xA0, 0x100))) + "\u202f₀₁₂₃₄₅₆₇₈₉⁰⁴⁵⁶⁷⁸⁹⁻–—‘’“”…−×≤≥≈→←↑↓■□●○λΔΣψχ"
_WEIGHTS = {400: "SourceSansPro", 600: "SourceSansProSemibold"}


@dataclass(frozen=True, slots=True)
class EmbeddedFont:
    """One weight of the font as a data address for @font-face."""

    weight: int
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFont:
    """A font file cut down to some signs, with what a PDF says about it; lengths in units of the file."""

    data: bytes
    name: str
    glyphs: dict[str, int]
    units_per_em: int
    box: tuple[int, int, int, int]
    ascent: int
    descent: int
    cap_height: int


def embedded_fonts(text: str) -> list[EmbeddedFont]:
    """Return the weights used, each cut down to the signs of a text."""
    signs = set(text + _ALWAYS + _USUAL)
    return [
        EmbeddedFont(weight, _address(weight, "".join(sorted(sign for sign in signs if ord(sign) in known))))
        for weight, known in weights_of().items()
    ]


def with_type(page: str) -> str:
    """Return a page with the type it is set in, embedded where `TYPE_HERE` stands in its style sheet."""
    faces = "\n".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {font.weight}; font-style: normal; '
        f'src: url({font.address}) format("woff2"); }}'
        for font in embedded_fonts(page)
    )
    return page.replace(TYPE_HERE, faces, 1)


@cache
def weights_of() -> dict[int, dict[int, float]]:
    """Return the weights there are, each with the advance of its signs [em]."""
    import font_source_sans_pro
    from fontTools.ttLib import TTFont

    advances = {}
    for weight, name in _WEIGHTS.items():
        with TTFont(font_source_sans_pro.font_files_ttf[name], lazy=True) as font:
            em, metrics = font["head"].unitsPerEm, font["hmtx"].metrics
            advances[weight] = {code: metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}
    return advances


# a page is set more than once in a run (for the screen and for print), mostly with the same signs
@lru_cache(maxsize=8)
def _address(weight: int, signs: str) -> str:
    """Return a weight cut down to some signs as a data address."""
    return "data:font/woff2;base64," + base64.b64encode(_cut(weight, signs, flavor="woff2")).decode("ascii")


@lru_cache(maxsize=8)
def cut_font(weight: int, signs: str) -> CutFont:
    """Return a weight cut down to some signs, without what only a layout program reads."""
    from fontTools.ttLib import TTFont

    data = _cut(weight, signs)
    with TTFont(io.BytesIO(data)) as font:
        head, metrics = font["head"], font["OS/2"]
        glyphs = font.getBestCmap()
        return CutFont(
            data=data,
            name=font["name"].getDebugName(6),
            glyphs={sign: font.getGlyphID(glyphs[ord(sign)]) for sign in signs},
            units_per_em=head.unitsPerEm,
            box=(head.xMin, head.yMin, head.xMax, head.yMax),
            ascent=font["hhea"].ascent,
            descent=font["hhea"].descent,
            cap_height=metrics.sCapHeight,
        )


def _cut(weight: int, signs: str, *, flavor: str | None = None) -> bytes:
    """Return a font file with the outlines of some signs alone."""
    import font_source_sans_pro
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    # what is not cut is not read either; the time of making would change the bytes at every run
    font = TTFont(font_source_sans_pro.font_files_ttf[_WEIGHTS[weight]], lazy=True, recalcTimestamp=False)
    options = Options(
        layout_features=["kern", "liga", "tnum", "lnum"] if flavor else [],
        hinting=bool(flavor),
        notdef_outline=True,
    )
    cutter = Subsetter(options)
    cutter.populate(text=signs)
    cutter.subset(font)
    font.flavor = flavor
    data = io.BytesIO()
    font.save(data)
    return data.getvalue()
