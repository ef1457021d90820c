"""The type of the documents: an open font out of a package, cut down to the signs used and embedded."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from pathlib import Path

FAMILY = "Source Sans Pro"
# set by the style sheet or by the layout, not in the page itself: bullets, hyphens, page numbers
_ALWAYS = "\u2022\u25e6-\u2010\u00ad" + "".join(map(chr, range(0x20, 0x7F)))
_WEIGHTS = (("SourceSansPro", 400), ("SourceSansProSemibold", 600))


@dataclass(frozen=True, slots=True)
class EmbeddedFont:
    """One weight of the font as a data address for @font-face."""

    weight: int
    address: str


def embedded_fonts(text: str) -> list[EmbeddedFont]:
    """Return the weights used, each cut down to the signs of a text."""
    import font_source_sans_pro

    signs = "".join(sorted(set(text + _ALWAYS)))
    return [
        EmbeddedFont(weight, _address(Path(font_source_sans_pro.font_files_ttf[name]), signs))
        for name, weight in _WEIGHTS
    ]


def _address(path: Path, signs: str) -> str:
    """Return a font file cut down to some signs as a data address."""
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(path)
    options = Options(layout_features=["kern", "liga", "tnum", "lnum"], flavor="woff2", notdef_outline=True)
    cutter = Subsetter(options)
    cutter.populate(text=signs)
    cutter.subset(font)
    font.flavor = "woff2"
    # the time of making would change the bytes at every run
    font.recalcTimestamp = False
    data = io.BytesIO()
    font.save(data)
    return "data:font/woff2;base64," + base64.b64encode(data.getvalue()).decode("ascii")
