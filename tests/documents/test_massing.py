"""The picture of the whole house: true to its scales, the right sides seen, lit and in shade, nothing off the paper."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.documents.drawings import massing
from takeoff.documents.drawings.hatches import facing_of
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.massing_view import common_area, mixed, view_over
from takeoff.documents.pdf_drawings import lift_drawings
from takeoff.model.geometry import wall_face
from takeoff.workbook.reading import read_job

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["dune_studio", "heron_bank", "wharf_pair"])
def house(request, demo_folder):
    job = read_job(demo_folder / f"{request.param}.xlsx")
    return job.library, evaluate(job, job.base, planned=False)


def drawn(house, **more):
    library, result = house
    settings = {"paper_width_mm": 160.0, "id_prefix": "m", "name": "the house"} | more
    return massing(result, library, **settings)


def found(picture, id):
    (one,) = [element for element in ET.fromstring(picture.svg).iter() if element.get("id") == id]
    return one


def places(data: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", data)]


def seen_sides(result):
    openings = result.measured.areas.openings_by_side
    front = "high" if openings["high"] > openings["low"] else "low"
    second = "left" if openings["left"] > openings["right"] else "right"
    return front, second


def reshaped(house, **settings):
    """Return the house with some settings changed in the design that is drawn."""
    library, result = house
    design = replace(result.design, house=replace(result.design.house, **settings))
    return library, replace(result, design=design)


def test_front_and_heights_are_at_the_scale_the_other_side_at_half_of_it(house):
    """Dimetric: the front runs at 7 degrees, the other side at 42."""
    picture, result = drawn(house), house[1]
    front, second = seen_sides(result)
    for side, angle, share in ((front, 7, 1.0), (second, 42, 0.5)):
        foot_left, foot_right, top_right, top_left = places(found(picture, f"m-{side}-outline").attrib["d"])
        face = wall_face(result.design.house, side, bottom=-result.design.house.cladding_drop)
        wide, deep = foot_right[0] - foot_left[0], foot_right[1] - foot_left[1]
        assert math.hypot(wide, deep) * picture.scale / 1000 == pytest.approx(face.width * share, abs=0.002)
        assert abs(math.degrees(math.atan2(deep, wide))) == pytest.approx(angle, abs=0.05)
        for foot, top, height in (
            (foot_left, top_left, face.top_left),
            (foot_right, top_right, face.top_right),
        ):
            assert (foot[1] - top[1]) * picture.scale / 1000 == pytest.approx(height - face.bottom, abs=0.002)


def test_the_sides_with_most_openings_are_seen_with_all_of_them(house):
    picture, result = drawn(house), house[1]
    sides = seen_sides(result)
    ids = [e.get("id") for e in ET.fromstring(picture.svg).iter() if "-opening-" in (e.get("id") or "")]
    expected = [
        f"m-{side}-opening-{number}"
        for side in sides
        for number, _ in enumerate(result.design.openings_in(side), start=1)
    ]
    assert sorted(ids) == sorted(expected)
    assert len(expected) > 0
    desc = ET.fromstring(picture.svg).find(f"{SVG}desc").text
    for side in sides:
        assert f"{side} side {result.design.palette.build_up_for(side)}" in desc


def test_openings_stand_where_they_are(house):
    """Left jamb and width of each along the foot of its side."""
    picture, result = drawn(house), house[1]
    front, _ = seen_sides(result)
    foot_left, foot_right, *_ = places(found(picture, f"m-{front}-outline").attrib["d"])
    length = wall_face(result.design.house, front).width
    per_metre = (foot_right[0] - foot_left[0]) / length
    for number, opening in enumerate(result.design.openings_in(front), start=1):
        frame = next(found(picture, f"m-{front}-opening-{number}").iter(f"{SVG}path"))
        left, right, *_ = places(frame.attrib["d"])
        assert (left[0] - foot_left[0]) / per_metre == pytest.approx(opening.position, abs=0.003)
        assert (right[0] - left[0]) / per_metre == pytest.approx(opening.width, abs=0.003)


def test_the_front_is_lit_and_the_other_side_in_shade(house):
    picture, (library, result) = drawn(house), house
    front, second = seen_sides(result)
    design = result.design

    def tone(side):
        return facing_of(design.build_ups[design.palette.build_up_for(side)], library).tone

    assert found(picture, f"m-{front}-cladding-1-tint").attrib["fill"] == tone(front)
    # 17 parts of ink in a hundred
    shaded = mixed(tone(second), "#1f2023", 0.17)
    assert found(picture, f"m-{second}-cladding-1-tint").attrib["fill"] == shaded != tone(second)


def test_the_shadow_of_the_eaves_falls_as_far_as_the_light_does(house):
    """1.4 m down for each metre into the front: its lower edge, from floor level."""
    picture, result = drawn(house), house[1]
    front, _ = seen_sides(result)
    model = result.design.house
    over = model.overhang_high if front == "high" else model.overhang_low
    y = model.span + over if front == "high" else -over
    eaves = model.low_height + y * math.tan(math.radians(model.pitch))
    shadow = places(found(picture, f"m-{front}-cladding-1-shadow").attrib["d"])
    foot_left, foot_right, *_ = places(found(picture, f"m-{front}-outline").attrib["d"])
    slope = (foot_right[1] - foot_left[1]) / (foot_right[0] - foot_left[0])
    lowest = min(foot_left[1] + (x - foot_left[0]) * slope - y for x, y in shadow)
    height = lowest * picture.scale / 1000 - model.cladding_drop
    assert height == pytest.approx(eaves - 1.4 * over, abs=0.003)


def test_no_overhang_no_shadow(house):
    picture = drawn(reshaped(house, overhang_low=0.0, overhang_high=0.0))
    assert "-shadow" not in "".join(
        e.get("id") or "" for e in ET.fromstring(picture.svg).iter() if e.get("id") != "m-shadow"
    )


def test_a_steep_roof_is_seen_over_its_low_side(house):
    """From the high side the reader looks over a roof of 25 degrees: there the low side is the front."""
    picture = drawn(reshaped(house, pitch=25.0))
    assert "its low and" in picture.title
    assert 'id="m-low"' in picture.svg
    assert 'id="m-high"' not in picture.svg


def test_the_roof_has_a_rib_where_the_elevation_has_one(house):
    """Four ribs to a cover width, each of two lines, from the left end of the low side on."""
    picture, (library, result) = drawn(house), house
    sheet = facing_of(result.design.build_ups[result.design.house.roof], library).material
    model = result.design.house
    wide = model.length + model.overhang_left + model.overhang_right
    pitch = sheet.cover / 4
    # a rib of 40 mm in the middle of each pitch
    edges = [(k + 0.5) * pitch + half for k in range(math.ceil(wide / pitch)) for half in (-0.02, 0.02)]
    ribs = found(picture, "m-ribs").attrib["d"].count("M")
    assert ribs == sum(edge < wide for edge in edges)


def test_stumps_stand_under_a_timber_floor_and_a_plinth_under_a_slab(house):
    picture, result = drawn(house), house[1]
    frame = result.measured.floor_frame
    if frame is None:
        front, second = seen_sides(result)
        assert found(picture, f"m-plinth-{front}") is not None
        assert found(picture, f"m-plinth-{second}") is not None
    else:
        # two faces of each are seen
        assert len(list(found(picture, "m-stumps"))) == 2 * len(frame.stumps)


def test_nothing_leaves_the_paper_and_the_height_asked_for_is_kept(house):
    for height in (None, 85.0, 40.0):
        picture = drawn(house, height_mm=height)
        assert picture.width_mm == 160.0
        assert height is None or picture.height_mm <= height + 1e-9
        root = ET.fromstring(picture.svg)
        for path in root.iter(f"{SVG}path"):
            for x, y in places(path.attrib["d"]):
                assert -0.01 <= x <= picture.width_mm + 0.01
                assert -0.01 <= y <= picture.height_mm + 0.01
        (text,) = root.iter(f"{SVG}text")
        left, size = float(text.attrib["x"]), float(text.attrib["font-size"])
        assert left >= 0
        assert left + text_width(text.text, size) <= picture.width_mm
        assert float(text.attrib["y"]) < picture.height_mm
        # the caption stands below everything drawn
        lowest = max(y for path in root.iter(f"{SVG}path") for _, y in places(path.attrib["d"]))
        assert float(text.attrib["y"]) - 0.66 * size > lowest


def test_it_is_light_and_goes_straight_into_a_pdf(house):
    svg = drawn(house).svg
    assert len(svg) < 60_000
    assert len(lift_drawings(svg).drawings) == 1
    root = ET.fromstring(svg)
    assert root.find(f"{SVG}title").text.startswith("the house, seen over its ")
    assert "Seen from the north" in root.find(f"{SVG}desc").text


def test_sides_without_a_corner_are_refused(house):
    with pytest.raises(ValueError, match="the sides low and high have no corner in common"):
        view_over(house[1].design.house, "low", "high", scale=100)


def test_places_on_a_line_to_the_reader_fall_on_one_another(house):
    for front in ("low", "high"):
        for second in ("left", "right"):
            view = view_over(house[1].design.house, front, second, scale=100)
            step = view.to_reader()
            assert view.at((1 + step[0], 2 + step[1], 3 + step[2])) == pytest.approx(view.at((1, 2, 3)))
            # the reader stands above, before both sides
            assert step[2] > 0
            assert step[0] > 0 > step[1]


def test_areas_apart_have_nothing_in_common():
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    assert common_area(square, [(x + 3.0, y) for x, y in square]) == []
    assert set(common_area(square, square)) == set(square)
