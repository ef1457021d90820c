"""The type of the documents: embedded, with every sign that is used and that the font has; read back by fontTools."""

from __future__ import annotations

import base64
import io

import font_source_sans_pro
from fontTools.ttLib import TTFont

from takeoff.documents.fonts import TYPE_HERE, embedded_fonts, with_type

FULL = "SourceSansPro"


def signs_of(address: str) -> set[int]:
    """The signs in a font of a data address."""
    return set(TTFont(io.BytesIO(base64.b64decode(address.partition(",")[2]))).getBestCmap())


def test_every_sign_of_a_text_is_embedded_in_every_weight():
    fonts = embedded_fonts("Wohnfläche 12 m² · Ω ≥ ž")
    assert [font.weight for font in fonts] == [400, 600]
    for font in fonts:
        assert set(map(ord, "Wohnfläche12m²·≥ž")) <= signs_of(font.address)


def test_a_sign_the_font_lacks_changes_nothing():
    known = TTFont(font_source_sans_pro.font_files_ttf[FULL]).getBestCmap()
    lacking = next(sign for sign in "漢字☃" if ord(sign) not in known)
    assert embedded_fonts(f"a\n{lacking}") == embedded_fonts("a")


def test_usual_texts_are_set_in_the_same_cut():
    assert embedded_fonts("Größe, 12\u202f000 kgCO₂e") == embedded_fonts("Sols et plafonds à 2,4 m")


def test_a_sign_beyond_the_usual_ones_is_added():
    greek = next(font for font in embedded_fonts("Ж") if font.weight == 400)
    assert ord("Ж") in signs_of(greek.address)
    assert ord("Ж") not in signs_of(embedded_fonts("")[0].address)


def test_the_type_is_put_where_the_style_sheet_wants_it():
    page = with_type(f"<style>{TYPE_HERE}\nbody {{ }}</style>")
    assert page.count("@font-face") == 2
    assert TYPE_HERE not in page
    assert page.endswith("body { }</style>")
