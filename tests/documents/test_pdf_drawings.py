"""Drawings written straight into a PDF: the operators, where they land, and what stays with the layout program."""

from __future__ import annotations

import io
import math
import re
from xml.etree import ElementTree

import pydyf
import pytest
from pypdf import PdfReader

from takeoff.documents.drawings.svg import circle, group, lettering, line, path, picture, rect
from takeoff.documents.fonts import FAMILY, cut_font, embedded_fonts
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.pdf_drawings import lift_drawings
from takeoff.documents.pdf_paths import UnknownDrawingError, ellipse, path_operators, rectangle
from takeoff.documents.pdf_shapes import Painter
from takeoff.documents.pdf_type import drawing_types


def drawn(*elements: str, id: str = "bar") -> str:
    return picture(elements, width_mm=100, height_mm=40, title="A bar", desc="Cut in two.", id_prefix=id)


def painted(*elements: str) -> list[str]:
    """The lines of a drawing after the first, which is the limit of mitred corners."""
    painter = Painter(drawing_types(), FAMILY)
    painter.paint(ElementTree.fromstring(drawn(*elements)))
    assert painter.lines[0] == "4 M"
    return painter.lines[1:]


def page_of(*drawings: str) -> str:
    faces = "".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {font.weight}; src: url({font.address}); }}'
        for font in embedded_fonts("".join(drawings))
    )
    return (
        f'<!DOCTYPE html><html lang="en"><head><title>Cuts</title><style>{faces} body {{ font-family: "{FAMILY}"; }}'
        f"</style></head><body><h1>Cuts</h1>{''.join(drawings)}</body></html>"
    )


def test_level_upright_and_relative_lines_end_where_svg_says():
    assert list(path_operators("M10 20H30V25l-5 5h-5z")) == [
        "10 20 m",
        "30 20 l",
        "30 25 l",
        # 30 - 5, 25 + 5
        "25 30 l",
        # 25 - 5
        "20 30 l",
        "h",
    ]


def test_figures_after_a_move_are_lines_and_a_closed_path_goes_on_from_its_start():
    assert list(path_operators("m1 1 2 0 0 2z l5 5")) == ["1 1 m", "3 1 l", "3 3 l", "h", "6 6 l"]


def points_of_curves(operators: list[str]) -> list[tuple[float, float]]:
    """Points along curves of the third degree, a tenth of each apart."""
    points, pen = [], (math.nan, math.nan)
    for operator in operators:
        *figures, kind = operator.split()
        xy = [float(figure) for figure in figures]
        if kind == "c":
            for step in range(11):
                t = step / 10
                shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
                places = (pen, (xy[0], xy[1]), (xy[2], xy[3]), (xy[4], xy[5]))
                points.append(
                    (
                        sum(s * p[0] for s, p in zip(shares, places, strict=True)),
                        sum(s * p[1] for s, p in zip(shares, places, strict=True)),
                    )
                )
        if kind in "mlc":
            pen = (xy[-2], xy[-1])
    return points


@pytest.mark.parametrize(
    ("flags", "side"),
    [("0 1", -1), ("0 0", 1)],
)
def test_a_half_circle_keeps_its_radius_on_the_side_asked_for(flags, side):
    # y goes down: in the sense of growing angles from left to right is over the top
    points = points_of_curves(list(path_operators(f"M0 0A5 5 0 {flags} 10 0")))
    assert points[0] == (0, 0)
    assert points[-1] == (10, 0)
    # a curve of the third degree keeps to a quarter circle within 0.03 % of its radius
    assert all(math.hypot(x - 5, y) == pytest.approx(5, abs=0.003) for x, y in points)
    assert all(side * y >= -1e-3 for _, y in points)


def test_the_longer_of_two_arcs_goes_all_the_way_round():
    # a quarter of a circle of radius 5 about (5, 0) is left out
    points = points_of_curves(list(path_operators("M0 0A5 5 0 1 0 5 -5")))
    assert all(math.hypot(x - 5, y) == pytest.approx(5, abs=0.003) for x, y in points)
    assert max(x for x, _ in points) == pytest.approx(10, abs=0.01)
    assert max(y for _, y in points) == pytest.approx(5, abs=0.01)


def test_an_arc_too_short_for_its_ends_is_stretched():
    # ends 10 apart, radius 1: the smallest circle that reaches has radius 5
    points = points_of_curves(list(path_operators("M0 0A1 1 0 0 1 10 0")))
    assert all(math.hypot(x - 5, y) == pytest.approx(5, abs=0.003) for x, y in points)


def test_a_circle_stands_about_its_centre():
    points = points_of_curves(list(ellipse(3, 4, 2, 2)))
    assert all(math.hypot(x - 3, y - 4) == pytest.approx(2, abs=0.002) for x, y in points)


def test_rounded_corners_stay_within_the_rectangle():
    points = points_of_curves(list(rectangle(10, 20, 8, 4, 1)))
    assert (min(x for x, _ in points), max(x for x, _ in points)) == (10, 18)
    assert (min(y for _, y in points), max(y for _, y in points)) == (20, 24)


@pytest.mark.parametrize("data", ["M0 0Q1 1 2 2", "M0 0L1", "1 2", "M0 0L1e3 2"])
def test_path_data_that_is_not_known_is_not_guessed(data):
    with pytest.raises(UnknownDrawingError, match="path data with"):
        list(path_operators(data))


def test_an_area_a_line_and_both():
    assert painted(
        rect(1, 2, 3, 4, fill="#ff0000"),
        line((0, 0), (9, 0), stroke="#000000", width=0.5),
        circle((0, 0), 0, fill="#ff0000"),
    ) == [
        "1 0 0 rg",
        "1 2 3 4 re",
        "f",
        "0 0 0 RG",
        "0.5 w",
        "0 J",
        "0 j",
        "[] 0 d",
        "0 0 m",
        "9 0 l",
        "S",
    ]


def test_what_is_set_already_is_not_set_again():
    lines = painted(
        rect(1, 2, 3, 4, fill="#ff0000", stroke="#000000"), rect(5, 2, 3, 4, fill="#ff0000", stroke="#000000")
    )
    assert lines[-2:] == ["5 2 3 4 re", "B"]
    assert lines.count("1 0 0 rg") == 1


def test_a_hole_is_left_open():
    assert painted(path("M0 0H9V9ZM1 1H2V2Z", stroke=None, fill="#ff0000", rule="evenodd"))[-1] == "f*"


def test_what_is_set_within_a_turned_group_ends_with_it():
    inner = rect(0, 0, 1, 1, fill="#ff0000")
    lines = painted(inner, group([rect(0, 0, 1, 1, fill="#00ff00")], transform="translate(5 6)"), inner)
    assert lines == [
        *("1 0 0 rg", "0 0 1 1 re", "f"),
        *("q 1 0 0 1 5 6 cm", "0 1 0 rg", "0 0 1 1 re", "f", "Q"),
        # the colour before the group holds again
        *("0 0 1 1 re", "f"),
    ]


def place(text: str) -> list[float]:
    """Where the letters of a drawing's only text stand: the six figures of their matrix."""
    found = re.search(r"Tf (.*) Tm", painted(text)[-1])
    assert found is not None
    return [float(figure) for figure in found[1].split()]


def test_lettering_ends_or_is_centred_at_its_place():
    # two figures of 0.497 em each at 4 mm: 3.976 mm
    assert place(lettering("11", (50, 10), size=4)) == [1, 0, 0, -1, 50, 10]
    assert place(lettering("11", (50, 10), size=4, anchor="end"))[4] == pytest.approx(50 - 3.976)
    assert place(lettering("11", (50, 10), size=4, anchor="middle"))[4] == pytest.approx(50 - 3.976 / 2)


def test_upright_lettering_reads_from_the_right_hand_side():
    # its direction is up the paper, its upper side to the left; centred: half of 3.976 further down
    assert place(lettering("11", (50, 10), size=4, anchor="middle", upright=True)) == pytest.approx(
        [0, -1, -1, 0, 50, 10 + 3.976 / 2]
    )


@pytest.mark.parametrize(
    ("element", "words"),
    [
        ('<use href="#other"/>', "an element use"),
        ('<rect width="1" height="1" opacity="0.5"/>', "an attribute opacity"),
        ('<rect width="1" height="1" fill="url(#tint)"/>', "a colour 'url(#tint)'"),
        ('<g transform="skewX(5)"><rect width="1" height="1"/></g>', "a transform 'skewX(5)'"),
        ('<text x="1 2" font-size="3">ab</text>', "a length '1 2'"),
        ('<text x="1" font-size="3">a<tspan>b</tspan></text>', "something within a text"),
        ('<text x="1" font-size="3">\u6728</text>', "lettering the type does not have"),
        ('<text x="1" font-family="serif">a</text>', "lettering with an outline, or in another type"),
    ],
)
def test_what_is_not_known_stays_for_the_layout_program(element, words):
    with pytest.raises(UnknownDrawingError, match=re.escape(words)):
        painted(element)
    page = page_of(drawn(element))
    assert lift_drawings(page).page == page


def test_a_lifted_drawing_leaves_its_frame_and_its_words():
    svg = drawn(rect(1, 2, 3, 4, fill="#ff0000"), lettering("HI-S01", (5, 5), size=3))
    lifted = lift_drawings(page_of(svg))
    assert len(lifted.drawings) == 1
    assert svg[: svg.index(">") + 1] in lifted.page
    assert "<title>A bar: Cut in two.</title>" in lifted.page
    assert "<rect" not in lifted.page
    assert "HI-S01" not in lifted.page


def test_a_drawing_lands_in_its_place_with_text_that_can_be_read_back():
    svgs = [drawn(lettering(f"HI-S0{n}", (5, 5), size=3), id=f"bar-{n}") for n in (1, 2)]
    reader = PdfReader(io.BytesIO(page_to_pdf(page_of(*svgs))))
    drawings = [drawing.get_object() for drawing in reader.pages[0]["/Resources"]["/XObject"].values()]
    assert [drawing["/Subtype"] for drawing in drawings] == ["/Form", "/Form"]
    assert drawings[0]["/BBox"] == [0, 0, 100, 40]
    # the lower left corner of the drawing goes to 0, 0 and its upper right one to 1, 1
    a, b, c, d, e, f = (float(figure) for figure in drawings[0]["/Matrix"])
    assert (a * 0 + c * 40 + e, b * 0 + d * 40 + f) == pytest.approx((0, 0))
    assert (a * 100 + c * 0 + e, b * 100 + d * 0 + f) == pytest.approx((1, 1))
    text = reader.pages[0].extract_text()
    assert "HI-S01" in text
    assert "HI-S02" in text


def test_a_drawing_that_is_not_known_is_still_drawn():
    reader = PdfReader(io.BytesIO(page_to_pdf(page_of(drawn('<rect width="9" height="9" fill="tomato"/>')))))
    content = reader.pages[0].get_contents()
    assert content is not None
    # tomato is 255, 99, 71
    assert b"1 0.388235 0.278431 rg" in content.get_data()


def test_a_picture_that_is_lost_is_not_passed_over():
    lifted = lift_drawings(page_of(drawn(rect(0, 0, 1, 1, fill="#ff0000"))))
    with pytest.raises(RuntimeError, match="a drawing has no place on the pages of the PDF"):
        lifted.set_drawings(pydyf.PDF())


def test_the_same_page_gives_the_same_bytes(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    page = page_of(drawn(lettering("HI-S01", (5, 5), size=3)))
    assert page_to_pdf(page) == page_to_pdf(page)


def test_a_font_is_cut_down_to_the_signs_asked_for():
    cut = cut_font(400, "HS1")
    assert set(cut.glyphs) == set("HS1")
    # the sign for what is missing is the first, the three after it
    assert sorted(cut.glyphs.values()) == [1, 2, 3]
    assert len(cut.data) < 20_000
