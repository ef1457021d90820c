"""Plan and elevations: true scale, what is drawn of claddings, openings and roof, and well-formed SVG."""

from __future__ import annotations

import io
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from takeoff.documents.drawings import Drawing, common_scale, elevation, plan
from takeoff.documents.drawings.dimensions import dimension_string, stations_of
from takeoff.documents.drawings.hatches import (
    HATCH_INK,
    OFF_WHITE,
    TERRACOTTA,
    TONES,
    facing_of,
)
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import SCALES, Paper, metres
from takeoff.documents.drawings.regions import Region
from takeoff.documents.drawings.svg import element, lettering, number
from takeoff.framing.floor import FloorFrame
from takeoff.model.geometry import Face, Void, what_is_left
from takeoff.model.house import SIDES, Band, BuildUp, Design, House, Layer, Opening, Palette, Side
from takeoff.model.library import Library, Material
from takeoff.workbook.factors_sheets import FAMILIES

SVG = "{http://www.w3.org/2000/svg}"

# Invented house: 12.0 x 7.2 m, low wall 2.7 m, 5 degrees.
LENGTH, SPAN, LOW, PITCH = 12.0, 7.2, 2.7, 5.0
HIGH = LOW + SPAN * math.tan(math.radians(PITCH))
DROP, GROUND = 0.1, 0.2


def material(name: str, family: str, **sizes: Any) -> Material:
    return Material(
        name=name,
        description=sizes.pop("description", f"{name} as bought"),
        family=family,
        trade="cladding",
        item_class="cladding",
        **sizes,
    )


MATERIALS = {
    m.name: m
    for m in (
        material("board", "softwood", width=0.14, cover=0.132),
        material("narrow board", "hardwood", width=0.09, cover=0.084),
        material("sheet", "steel", width=0.80, cover=0.762),
        material("panel", "cement", width=1.2, length=2.4, joint=0.01),
        material("brick", "clay", length=0.23, height=0.076, joint=0.01),
        material("render", "stone and soil", description='Render <lime> & "sand"'),
        material("batten", "softwood", width=0.045, thickness=0.025),
        material("rafter", "softwood", width=0.045, thickness=0.24),
        material("paint", "coating"),
    )
}


def layer(number: int, name: str, way: str, direction: Any = None, spacing: float | None = None) -> Layer:
    return Layer(
        number=number,
        material=name,
        thickness=None,
        measured_by=way,
        direction=direction,
        spacing=spacing,
        rate=1.0,
    )


BUILD_UPS = {
    b.name: b
    for b in (
        BuildUp("weatherboards", "cladding", (layer(1, "board", "boards by cover", "horizontal"),)),
        BuildUp("upright boards", "cladding", (layer(1, "narrow board", "boards by cover", "vertical"),)),
        BuildUp("sheet", "cladding", (layer(1, "sheet", "profiled sheet by cover", "vertical"),)),
        BuildUp("level sheet", "cladding", (layer(1, "sheet", "profiled sheet by cover", "horizontal"),)),
        BuildUp("panels", "cladding", (layer(1, "panel", "panels"),)),
        BuildUp(
            "battened panels",
            "cladding",
            (layer(1, "batten", "battens at spacing", "vertical", 0.6), layer(2, "panel", "panels")),
        ),
        BuildUp("brick", "cladding", (layer(1, "brick", "masonry units"),)),
        BuildUp("render", "cladding", (layer(1, "paint", "coats"), layer(2, "render", "area"))),
        BuildUp(
            "roof",
            "roof",
            (
                layer(1, "sheet", "profiled sheet by cover", "vertical"),
                layer(2, "batten", "battens at spacing", "horizontal", 0.9),
                layer(3, "rafter", "frame"),
            ),
        ),
    )
}


def opening(
    mark: str, side: Side, kind: Any, width: float, height: float, sill: float, position: float, **more: Any
) -> Opening:
    return Opening(
        mark=mark,
        side=side,
        kind=kind,
        width=width,
        height=height,
        sill=sill,
        position=position,
        number=more.get("number", 1),
        unit_type="unit",
        shutter=more.get("shutter"),
    )


OPENINGS = (
    opening("W1", "low", "window", 1.8, 1.2, 0.9, 1.2, number=2, shutter="shutter"),
    opening("D1", "low", "sliding door", 2.4, 2.1, 0.0, 4.2),
    opening("D2", "low", "door", 0.92, 2.1, 0.0, 8.4),
    opening("W2", "high", "window", 1.5, 1.0, 1.8, 1.0),
    opening("W3", "high", "window", 3.0, 1.0, 1.8, 4.5, number=3),
    opening("D3", "left", "door", 1.6, 2.1, 0.0, 1.1, number=2),
    opening("W4", "left", "window", 0.6, 1.5, 0.6, 4.8),
    opening("D4", "right", "sliding door", 3.6, 2.1, 0.0, 0.9, number=2),
    opening("W5", "right", "window", 1.2, 1.2, 0.9, 5.2),
)


def design(
    claddings: tuple[str, str, str, str] = ("upright boards", "sheet", "brick", "weatherboards"),
    *,
    openings: tuple[Opening, ...] = OPENINGS,
    band: Band | None = None,
    build_ups: dict[str, BuildUp] = BUILD_UPS,
    **changes: Any,
) -> Design:
    settings: dict[str, Any] = dict.fromkeys(House.__dataclass_fields__, 0.0)
    settings |= {
        "length": LENGTH,
        "span": SPAN,
        "low_height": LOW,
        "pitch": PITCH,
        "high_side_faces": "N",
        "overhang_low": 0.6,
        "overhang_high": 0.65,
        "overhang_left": 0.45,
        "overhang_right": 0.4,
        "rafter_depth": 0.24,
        "support_lines": (3.9,),
        "palette": "p",
        "roof": "roof",
        "cladding_drop": DROP,
        "floor_above_ground": GROUND,
        "origin": {},
    }
    settings |= changes
    low, high, left, right = claddings
    palette = Palette(name="p", low=low, high=high, left=left, right=right, band=band)
    return Design(
        house=House(**settings),
        openings=openings,
        build_ups=build_ups,
        palettes={"p": palette},
        practices={},
        lintels=(),
    )


LIBRARY = Library(
    materials=MATERIALS,
    prices={},
    works={},
    gangs={},
    carbon={},
    transport={},
    ladder=(),
    measurement={},
    accuracy={},
    sources={},
)


def drawn_plan(of: Design | None = None, library: Library = LIBRARY, **more: Any) -> Drawing:
    settings: dict[str, Any] = {
        "wall_thickness_in": 0.165,
        "cladding_thickness": 0.045,
        "paper_width_mm": 180,
        "id_prefix": "p",
    }
    return plan(of or design(), library, **(settings | more))


def drawn_elevation(side: Side, of: Design | None = None, library: Library = LIBRARY, **more: Any) -> Drawing:
    settings: dict[str, Any] = {"paper_width_mm": 180, "id_prefix": "e", "scale": 100}
    return elevation(of or design(), library, side, **(settings | more))


def tree(drawing: Drawing) -> ET.Element:
    return ET.fromstring(drawing.svg)


def by_id(drawing: Drawing, name: str) -> ET.Element:
    found = [e for e in tree(drawing).iter() if e.get("id") == name]
    assert len(found) == 1, f"{len(found)} elements with id {name}"
    return found[0]


def ids(drawing: Drawing) -> list[str]:
    return [name for e in tree(drawing).iter() if (name := e.get("id"))]


def texts(drawing: Drawing) -> list[str]:
    return [e.text or "" for e in tree(drawing).iter(f"{SVG}text")]


def corners(path: ET.Element) -> list[tuple[float, float]]:
    """Return the points of a path of straight lines written with M and L."""
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.get("d", ""))]


def lines(path: ET.Element) -> list[tuple[float, float, float, float]]:
    """Return the separate straight lines of a path written with M and H, V or L."""
    found = []
    for x, y, how, a, b in re.findall(
        r"M(-?[\d.]+) (-?[\d.]+)([HVL])(-?[\d.]+)(?: (-?[\d.]+))?", path.get("d", "")
    ):
        end = (
            (float(a), float(y))
            if how == "H"
            else (float(x), float(a))
            if how == "V"
            else (float(a), float(b))
        )
        found.append((float(x), float(y), *end))
    return found


def levels(path: ET.Element) -> set[float]:
    return {round(y1, 2) for _, y1, _, y2 in lines(path) if y1 == y2}


def uprights(path: ET.Element) -> set[float]:
    return {round(x1, 2) for x1, _, x2, _ in lines(path) if x1 == x2}


# --- the sheet ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(
    "claddings",
    [
        ("upright boards", "sheet", "brick", "weatherboards"),
        ("panels", "level sheet", "battened panels", "render"),
        ("brick", "brick", "brick", "brick"),
    ],
)
def test_every_elevation_is_well_formed_named_and_small(side: Side, claddings: Any) -> None:
    drawing = drawn_elevation(side, design(claddings))
    root = tree(drawing)
    assert root.tag == f"{SVG}svg"
    assert root.findtext(f"{SVG}title") == drawing.title
    assert "Cladding:" in (root.findtext(f"{SVG}desc") or "")
    assert len(drawing.svg) < 60_000
    assert "NaN" not in drawing.svg
    assert "inf" not in drawing.svg


def test_the_plan_title_carries_the_name_and_the_size() -> None:
    drawing = drawn_plan(name="Heron Bank")
    assert drawing.title == "Plan of Heron Bank, 12.00 by 7.20 m"
    assert tree(drawing).findtext(f"{SVG}title") == drawing.title


def test_paper_size_and_units_agree_so_that_it_prints_true() -> None:
    for drawing in (drawn_plan(), drawn_elevation("low")):
        root = tree(drawing)
        assert root.get("width") == f"{number(drawing.width_mm)}mm"
        assert root.get("height") == f"{number(drawing.height_mm)}mm"
        assert root.get("viewBox") == f"0 0 {number(drawing.width_mm)} {number(drawing.height_mm)}"


@pytest.mark.parametrize("prefix", ["one", "two"])
def test_ids_are_unique_and_begin_with_the_prefix(prefix: str) -> None:
    of = design(band=Band(build_up="brick", sides=("low",), bottom=-0.1, top=0.9))
    for drawing in (drawn_plan(of, id_prefix=prefix), drawn_elevation("low", of, id_prefix=prefix)):
        names = ids(drawing)
        assert len(names) == len(set(names))
        assert all(name.startswith(prefix) for name in names)


@pytest.mark.parametrize("paper_width", [60, 95, 130, 180, 250, 400])
def test_the_plan_outline_times_the_scale_is_the_house(paper_width: float) -> None:
    drawing = drawn_plan(paper_width_mm=paper_width)
    points = corners(by_id(drawing, "p-outline"))
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)
    assert wide * drawing.scale / 1000 == pytest.approx(LENGTH, abs=0.001)
    assert high * drawing.scale / 1000 == pytest.approx(SPAN, abs=0.001)
    assert drawing.width_mm == paper_width


@pytest.mark.parametrize(("paper_width", "scale"), [(400, 50), (250, 75), (180, 100), (130, 150), (96, 200)])
def test_the_largest_scale_that_fits_is_taken(paper_width: float, scale: int) -> None:
    drawing = drawn_plan(paper_width_mm=paper_width)
    assert drawing.scale == scale
    assert f"1:{scale}" in texts(drawing)
    xs = [float(v) for v in re.findall(r"[ML](-?[\d.]+) ", drawing.svg)]
    assert min(xs) >= 0
    assert max(xs) <= paper_width
    larger = [s for s in SCALES if s < scale]
    if larger:
        assert drawn_plan(paper_width_mm=paper_width, scale=larger[-1]).width_mm > paper_width


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    drawing = drawn_plan()
    bar = by_id(drawing, "p-scale-bar")
    label = next(t for t in texts(drawing) if re.fullmatch(r"\d+ m", t))
    assert float(bar.get("width", "")) * drawing.scale / 1000 == pytest.approx(float(label.split()[0]))


def test_four_elevations_of_one_width_share_a_scale_and_a_ground_line() -> None:
    of = design()
    scale = common_scale(of, paper_width_mm=180)
    assert scale == max(elevation(of, LIBRARY, s, paper_width_mm=180, id_prefix="e").scale for s in SIDES)
    grounds = {lines(by_id(drawn_elevation(side, of, scale=scale), "e-ground"))[0][1] for side in SIDES}
    assert len(grounds) == 1


def test_text_from_the_workbook_is_escaped() -> None:
    marks = (replace(OPENINGS[0], mark='<W&1>"'),)
    of = design(("render",) * 4, openings=marks)  # type: ignore[arg-type]
    for drawing in (drawn_plan(of, name="Mud & <Sticks>"), drawn_elevation("low", of, name="Mud & <Sticks>")):
        assert '<W&1>"' in texts(drawing)
        assert "Mud & <Sticks>" in (tree(drawing).findtext(f"{SVG}title") or "")
        assert "&lt;W&amp;1&gt;" in drawing.svg
    assert any('Render <lime> & "sand"' in text for text in texts(drawn_elevation("low", of)))


# --- the plan ----------------------------------------------------------------------------------------


def test_every_opening_is_in_the_plan_with_its_mark() -> None:
    written = texts(drawn_plan())
    for o in OPENINGS:
        assert written.count(o.mark) == 1


@pytest.mark.parametrize(
    ("side", "axis", "ends"),
    [
        # s runs from the left seen from outside: along x on the low side, against it on the high side.
        ("low", 0, (1.2, 3.0)),
        ("high", 0, (LENGTH - 1.2 - 1.8, LENGTH - 1.2)),
        # ... down the sheet on the left (y = span at its left end), up the sheet on the right.
        ("left", 1, (SPAN - 1.2 - 1.8, SPAN - 1.2)),
        ("right", 1, (1.2, 3.0)),
    ],
)
def test_an_opening_breaks_the_wall_where_it_stands(side: Side, axis: int, ends: tuple[float, float]) -> None:
    drawing = drawn_plan(design(openings=(opening("W9", side, "window", 1.8, 1.2, 0.9, 1.2),)))
    outline = corners(by_id(drawing, "p-outline"))
    left, foot = min(x for x, _ in outline), max(y for _, y in outline)
    jambs = set()
    for x1, y1, x2, y2 in lines(by_id(drawing, "p-faces")):
        along, across = (x1 - left, (y1, y2)) if axis == 0 else (foot - y1, (x1, x2))
        thick = abs(across[1] - across[0]) * drawing.scale / 1000
        if thick == pytest.approx(0.165, abs=0.001):
            jambs.add(round(along * drawing.scale / 1000, 3))
    assert sorted(jambs) == pytest.approx(sorted(ends), abs=0.001)


def test_the_poche_is_the_wall_less_the_openings() -> None:
    of = design(openings=(opening("W9", "low", "window", 1.8, 1.2, 0.9, 1.2),))
    drawing = drawn_plan(of, wall_thickness_in=0.2)
    rings = by_id(drawing, "p-poche").get("d", "").split("Z")[:-1]
    areas = []
    for ring in rings:
        points = [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", ring)]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        areas.append((max(xs) - min(xs)) * (max(ys) - min(ys)))
    # Low wall in two lengths, the others whole; strips overlap in the corners: 2 (12 + 7.2) - 1.8 m in all.
    square_metres = sum(areas) * drawing.scale**2 / 1e6
    assert square_metres == pytest.approx((2 * (LENGTH + SPAN) - 1.8) * 0.2, rel=1e-3)


def test_the_roof_edge_stands_beyond_the_frame_by_each_overhang() -> None:
    drawing = drawn_plan()
    frame, roof = corners(by_id(drawing, "p-outline")), corners(by_id(drawing, "p-roof"))
    assert by_id(drawing, "p-roof").get("stroke-dasharray")

    def reach(side: int, pick: Any) -> float:
        return abs(pick(p[side] for p in roof) - pick(p[side] for p in frame)) * drawing.scale / 1000

    assert reach(0, min) == pytest.approx(0.45, abs=0.001)
    assert reach(0, max) == pytest.approx(0.40, abs=0.001)
    assert reach(1, max) == pytest.approx(0.60, abs=0.001)  # low side, at the foot of the sheet
    assert reach(1, min) == pytest.approx(0.65, abs=0.001)


def test_support_lines_stand_at_their_distance_with_a_label() -> None:
    drawing = drawn_plan(design(support_lines=(2.4, 4.8)))
    foot = max(y for _, y in corners(by_id(drawing, "p-outline")))
    for index, distance in enumerate((2.4, 4.8)):
        path = by_id(drawing, f"p-support-{index + 1}")
        assert (foot - lines(path)[0][1]) * drawing.scale / 1000 == pytest.approx(distance, abs=0.001)
        assert path.get("stroke-dasharray")
    assert "support line, 2.40 from low side" in texts(drawing)


def string_figures(drawing: Drawing, name: str) -> list[float]:
    return [float(e.text or "") for e in by_id(drawing, name).iter(f"{SVG}text")]


@pytest.mark.parametrize(
    ("name", "figures"),
    [
        ("p-string-low-1", [1.2, 1.8, 1.2, 2.4, 1.8, 0.92, 2.68]),
        # From the left of the sheet: the high side seen from inside.
        ("p-string-high-1", [4.5, 3.0, 2.0, 1.5, 1.0]),
        # Up the sheet: the left side from its right-hand end seen from outside.
        ("p-string-left-1", [1.8, 0.6, 2.1, 1.6, 1.1]),
        ("p-string-right-1", [0.9, 3.6, 0.7, 1.2, 0.8]),
        ("p-string-low-2", [12.0]),
        ("p-string-left-2", [7.2]),
    ],
)
def test_strings_give_every_jamb_and_the_whole(name: str, figures: list[float]) -> None:
    assert string_figures(drawn_plan(), name) == pytest.approx(figures)


@pytest.mark.parametrize(
    ("faces", "expected"),
    [
        ("N", {"High side, N", "Right side, E", "Low side, S", "Left side, W"}),
        ("SE", {"High side, SE", "Right side, SW", "Low side, NW", "Left side, NE"}),
    ],
)
def test_sides_are_named_with_their_compass_point(faces: str, expected: set[str]) -> None:
    assert expected <= set(texts(drawn_plan(design(high_side_faces=faces))))


@pytest.mark.parametrize(
    ("faces", "direction"),
    # The high side is up the sheet: facing E, north is to the left; facing W, to the right.
    [("N", (0, -1)), ("E", (-1, 0)), ("S", (0, 1)), ("W", (1, 0)), ("NE", (-1, -1))],
)
def test_the_north_point_points_north(faces: str, direction: tuple[int, int]) -> None:
    north = by_id(drawn_plan(design(high_side_faces=faces)), "p-north")
    ring = next(north.iter(f"{SVG}circle"))
    tip = corners(next(north.iter(f"{SVG}path")))[0]
    dx, dy = tip[0] - float(ring.get("cx", "")), tip[1] - float(ring.get("cy", ""))
    length = math.hypot(*direction)
    assert (dx / math.hypot(dx, dy), dy / math.hypot(dx, dy)) == pytest.approx(
        (direction[0] / length, direction[1] / length), abs=0.01
    )


def test_a_door_swings_into_the_house() -> None:
    drawing = drawn_plan(design(openings=(opening("D9", "low", "door", 0.9, 2.1, 0.0, 2.0),)))
    arcs = re.findall(r"M(-?[\d.]+) (-?[\d.]+)A(-?[\d.]+) \3 0 0 ([01]) (-?[\d.]+) (-?[\d.]+)", drawing.svg)
    assert len(arcs) == 1
    x1, y1, radius, sweep, x2, y2 = (float(v) for v in arcs[0])
    foot = max(y for _, y in corners(by_id(drawing, "p-outline")))
    assert radius * drawing.scale / 1000 == pytest.approx(0.9, abs=0.001)
    # From the tip of the leaf, inside, to the closing jamb on the inside face; round the hinge at (x1, y2).
    assert y1 < y2 < foot
    assert (x2 - x1, y2 - y1) == pytest.approx((radius, radius), abs=0.01)
    assert sweep == 1


def test_an_opening_above_another_is_dashed_and_does_not_cut_the_wall() -> None:
    upper = opening("W9", "low", "window", 0.6, 0.4, 2.2, 4.5)
    lower = opening("D9", "low", "sliding door", 2.4, 2.1, 0.0, 4.2)
    both, alone = drawn_plan(design(openings=(upper, lower))), drawn_plan(design(openings=(lower,)))
    assert by_id(both, "p-faces").get("d") == by_id(alone, "p-faces").get("d")
    assert "W9" not in texts(both)


def test_cladding_may_differ_from_side_to_side() -> None:
    skins: dict[Side, float] = {"low": 0.12, "high": 0.03, "left": 0.05, "right": 0.08}
    drawing = drawn_plan(cladding_thickness=skins)
    xs = [v for x1, _, x2, _ in lines(by_id(drawing, "p-cladding")) for v in (x1, x2)]
    ys = [v for _, y1, _, y2 in lines(by_id(drawing, "p-cladding")) for v in (y1, y2)]
    frame = corners(by_id(drawing, "p-outline"))
    paper = drawing.scale / 1000
    assert (min(x for x, _ in frame) - min(xs)) * paper == pytest.approx(0.05, abs=0.001)
    assert (max(xs) - max(x for x, _ in frame)) * paper == pytest.approx(0.08, abs=0.001)
    assert (max(ys) - max(y for _, y in frame)) * paper == pytest.approx(0.12, abs=0.001)
    assert (min(y for _, y in frame) - min(ys)) * paper == pytest.approx(0.03, abs=0.001)


# --- elevations --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("side", "width", "left", "right"),
    [
        ("low", LENGTH, LOW, LOW),
        ("high", LENGTH, HIGH, HIGH),
        ("left", SPAN, HIGH, LOW),  # the high end of the left side is on the left, seen from outside
        ("right", SPAN, LOW, HIGH),
    ],
)
def test_walls_are_true_and_rake_the_right_way(side: Side, width: float, left: float, right: float) -> None:
    drawing = drawn_elevation(side)
    points = corners(by_id(drawing, "e-outline"))
    assert len(points) == 4
    foot_left, foot_right, top_right, top_left = [(x / 10, y / 10) for x, y in points]  # 1:100
    assert foot_right[0] - foot_left[0] == pytest.approx(width, abs=0.001)
    assert foot_left[1] - top_left[1] == pytest.approx(left + DROP, abs=0.001)
    assert foot_right[1] - top_right[1] == pytest.approx(right + DROP, abs=0.001)
    assert string_figures(drawing, "e-height-left") == [pytest.approx(left, abs=0.005)]
    assert string_figures(drawing, "e-height-right") == [pytest.approx(right, abs=0.005)]
    assert string_figures(drawing, "e-width") == [pytest.approx(width)]


def test_the_two_side_elevations_mirror_each_other() -> None:
    left = corners(by_id(drawn_elevation("left", design(openings=())), "e-roof"))
    right = corners(by_id(drawn_elevation("right", design(openings=())), "e-roof"))
    middle = (min(x for x, _ in left) + max(x for x, _ in left)) / 2
    shift = (min(x for x, _ in right) + max(x for x, _ in right)) / 2 - middle
    mirrored = sorted((2 * middle - x + shift, y) for x, y in left)
    for got, expected in zip(mirrored, sorted(right), strict=True):
        assert got == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize(
    ("side", "before", "after"),
    [("low", 0.45, 0.40), ("high", 0.40, 0.45), ("left", 0.65, 0.60), ("right", 0.60, 0.65)],
)
def test_the_roof_overhangs_on_the_side_it_should(side: Side, before: float, after: float) -> None:
    drawing = drawn_elevation(side)
    wall, roof = corners(by_id(drawing, "e-outline")), corners(by_id(drawing, "e-roof"))
    assert (min(x for x, _ in wall) - min(x for x, _ in roof)) / 10 == pytest.approx(before, abs=0.001)
    assert (max(x for x, _ in roof) - max(x for x, _ in wall)) / 10 == pytest.approx(after, abs=0.001)


def test_the_roof_edge_stands_on_the_rake_at_the_pitch() -> None:
    points = corners(by_id(drawn_elevation("right"), "e-roof"))
    (x1, y1), (x2, y2) = points[0], points[1]
    assert (y1 - y2) / (x2 - x1) == pytest.approx(math.tan(math.radians(PITCH)), abs=0.001)
    # Rafter 240 mm and battens 25 mm on the slope; the sheet of this test has no thickness.
    depth = (points[0][1] - points[3][1]) / 10
    assert depth == pytest.approx(0.265 / math.cos(math.radians(PITCH)), abs=0.001)


def test_only_the_low_side_shows_the_slope() -> None:
    shown = {side: "e-slope" in ids(drawn_elevation(side)) for side in SIDES}
    assert shown == {"low": True, "high": False, "left": False, "right": False}
    assert "e-soffit" in ids(drawn_elevation("high"))


@pytest.mark.parametrize("side", SIDES)
def test_openings_stand_where_they_should_with_their_marks(side: Side) -> None:
    drawing = drawn_elevation(side)
    outline = corners(by_id(drawing, "e-outline"))
    left, floor = min(x for x, _ in outline), max(y for _, y in outline) - 10 * DROP
    expected = sorted((o for o in OPENINGS if o.side == side), key=lambda o: o.position)
    for index, o in enumerate(expected):
        edge = by_id(drawing, f"e-opening-{index + 1}-edge")
        x, y, wide, high = (float(edge.get(name, "")) for name in ("x", "y", "width", "height"))
        assert (x - left) / 10 == pytest.approx(o.position, abs=0.001)
        assert (floor - y) / 10 == pytest.approx(o.head, abs=0.001)
        assert (wide / 10, high / 10) == pytest.approx((o.width, o.height), abs=0.001)
        assert texts(drawing).count(o.mark) == 1
    assert not {o.mark for o in OPENINGS if o.side != side} & set(texts(drawing))


def test_a_shutter_is_noted() -> None:
    assert "S" in texts(drawn_elevation("low"))
    assert "S" not in texts(drawn_elevation("high"))


def test_levels_of_floor_ground_and_eaves_are_given() -> None:
    written = texts(drawn_elevation("left"))
    rise = math.tan(math.radians(PITCH))
    depth = 0.265 / math.cos(math.radians(PITCH))
    low_eave, high_eave = LOW - 0.6 * rise + depth, HIGH + 0.65 * rise + depth
    assert {"0.00", "−0.20", f"{low_eave:.2f}", f"{high_eave:.2f}"} <= set(written)


# --- claddings ---------------------------------------------------------------------------------------


def cladding_lines(drawing: Drawing, part: int = 1) -> ET.Element:
    return by_id(drawing, f"e-cladding-{part}-lines")


def test_level_boards_are_as_many_as_their_cover_gives() -> None:
    drawing = drawn_elevation("right", design(("brick", "brick", "brick", "weatherboards")))
    # 3.330 + 0.100 m at the high end, 132 mm cover: 25.98, so 26 boards.
    assert len(levels(cladding_lines(drawing))) == math.ceil((HIGH + DROP) / 0.132) == 26
    assert not uprights(cladding_lines(drawing))


def test_upright_boards_are_as_many_as_their_cover_gives() -> None:
    drawing = drawn_elevation("low")
    assert len(uprights(cladding_lines(drawing))) == math.ceil(LENGTH / 0.084) == 143
    assert not levels(cladding_lines(drawing))


@pytest.mark.parametrize(
    "build_up", ["weatherboards", "upright boards", "sheet", "level sheet", "panels", "brick"]
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_lines_keep_under_the_rake_and_out_of_openings(build_up: str, side: Side) -> None:
    drawing = drawn_elevation(side, design((build_up,) * 4))  # type: ignore[arg-type]
    outline = corners(by_id(drawing, "e-outline"))
    left, floor = min(x for x, _ in outline), max(y for _, y in outline) - 10 * DROP
    drawn = lines(cladding_lines(drawing))
    if build_up == "brick":
        drawn += lines(by_id(drawing, "e-cladding-1-perpends"))
    assert drawn
    start, end = (HIGH, LOW) if side == "left" else (LOW, HIGH)
    for x1, y1, x2, y2 in drawn:
        for share in (0.001, 0.25, 0.5, 0.75, 0.999):
            s = (x1 + share * (x2 - x1) - left) / 10
            z = (floor - y1 - share * (y2 - y1)) / 10
            assert -0.001 <= s <= SPAN + 0.001
            assert -DROP - 0.001 <= z <= start + (end - start) * s / SPAN + 0.001
            for o in OPENINGS:
                if o.side == side:
                    within = o.position + 0.001 < s < o.right - 0.001 and o.sill + 0.001 < z < o.head - 0.001
                    assert not within, (o.mark, s, z)


def test_a_longer_wall_has_as_much_more_line_as_it_is_longer() -> None:
    def length(of: Design) -> float:
        return sum(
            x2 - x1 for x1, _, x2, _ in lines(cladding_lines(drawn_elevation("low", of, paper_width_mm=400)))
        )

    walls = ("weatherboards",) * 4
    short = design(walls, openings=())  # type: ignore[arg-type]
    long = design(walls, openings=(), length=2 * LENGTH)  # type: ignore[arg-type]
    assert length(long) == pytest.approx(2 * length(short))


@pytest.mark.parametrize(("build_up", "count"), [("sheet", uprights), ("level sheet", levels)])
def test_a_profiled_sheet_shows_pairs_of_lines_at_a_quarter_of_its_cover(build_up: str, count: Any) -> None:
    drawing = drawn_elevation("low", design((build_up,) * 4, openings=()))  # type: ignore[arg-type]
    places = sorted(count(cladding_lines(drawing)))
    gaps = [b - a for a, b in pairwise(places)]
    assert gaps[0] + gaps[1] == pytest.approx(0.762 / 4 * 10, abs=0.02)
    assert gaps[0] == pytest.approx(gaps[2], abs=0.02)
    assert min(gaps[0], gaps[1]) < max(gaps[0], gaps[1]) / 2


def test_panels_show_a_grid_of_their_size_and_joint() -> None:
    drawing = drawn_elevation("low", design(("panels",) * 4, openings=()))  # type: ignore[arg-type]
    left = min(x for x, _ in corners(by_id(drawing, "e-outline")))
    places = sorted(uprights(cladding_lines(drawing)))
    assert [(x - left) / 10 for x in places] == pytest.approx([i * 1.21 for i in range(10)], abs=0.001)
    # 2.8 m high: one joint at 2.41 m above the foot besides the foot itself.
    assert len(levels(cladding_lines(drawing))) == 2


def test_exposed_battens_are_drawn_over_the_panels() -> None:
    drawing = drawn_elevation("low", design(("battened panels",) * 4, openings=()))  # type: ignore[arg-type]
    battens = sorted(uprights(by_id(drawing, "e-cladding-1-battens-1")))
    assert battens[1] - battens[0] == pytest.approx(0.45, abs=0.011)
    assert battens[2] - battens[0] == pytest.approx(6.0, abs=0.011)
    assert len(battens) == 2 * 20


def joints_of(drawing: Drawing) -> set[tuple[int, float]]:
    """Return (course, place along the wall) of every upright joint that the dashes make [m]."""
    path = by_id(drawing, "e-cladding-1-perpends")
    dash, gap = (float(v) for v in path.get("stroke-dasharray", "").split())
    outline = corners(by_id(drawing, "e-outline"))
    left, foot = min(x for x, _ in outline), max(y for _, y in outline)
    found = set()
    for x, y1, _, y2 in lines(path):
        start = y1
        while start > y2 + 1e-3:
            middle = start - min(dash, start - y2) / 2
            found.add((math.floor((foot - middle) / dash), round((x - left) / 10, 3)))
            start -= dash + gap
    return found


def test_masonry_is_drawn_in_stretcher_bond_of_the_real_unit() -> None:
    drawing = drawn_elevation("low", design(("brick",) * 4, openings=()))  # type: ignore[arg-type]
    assert len(levels(cladding_lines(drawing))) == math.ceil((LOW + DROP) / 0.086)
    joints = joints_of(drawing)
    even = sorted(s for course, s in joints if course == 0)
    odd = sorted(s for course, s in joints if course == 1)
    # Units of 230 + 10 mm: joints at 0.24, 0.48 ... and, a half unit on, at 0.12, 0.36 ...
    assert even == pytest.approx([0.24 * i for i in range(1, 50)], abs=0.001)
    assert odd == pytest.approx([0.12 + 0.24 * i for i in range(50)], abs=0.001)
    assert {s for course, s in joints if course == 8} == set(even)


def test_the_bond_goes_on_above_an_opening_as_if_it_were_not_there() -> None:
    walls: Any = ("brick",) * 4
    plain = joints_of(drawn_elevation("low", design(walls, openings=())))
    pierced = joints_of(drawn_elevation("low", design(walls)))
    assert pierced < plain
    above = [o for o in OPENINGS if o.side == "low"]
    for course, s in plain - pierced:
        z = (course + 0.5) * 0.086 - DROP
        assert any(o.position < s < o.right and o.sill - 0.086 < z < o.head + 0.086 for o in above)


def test_lines_too_close_to_print_are_thinned_and_the_caption_says_so() -> None:
    drawing = drawn_elevation("low", scale=500)
    # 84 mm at 1:500 is 0.17 mm: one line for three boards keeps 0.4 mm.
    assert len(uprights(cladding_lines(drawing))) == math.ceil(LENGTH / (3 * 0.084))
    assert any("every third line drawn" in text for text in texts(drawing))
    assert not any("line drawn" in text for text in texts(drawn_elevation("low")))


def test_anything_else_is_a_plain_tint() -> None:
    drawing = drawn_elevation("low", design(("render",) * 4))  # type: ignore[arg-type]
    assert "e-cladding-1-lines" not in ids(drawing)
    assert by_id(drawing, "e-cladding-1-tint").get("fill") == TONES["stone and soil"]


def test_a_new_cladding_draws_itself_from_its_rows_alone() -> None:
    tile = material("clay tile", "clay", width=0.3, cover=0.2, description="Hung tile")
    added = BuildUp("hung tiles", "cladding", (layer(1, "clay tile", "boards by cover", "horizontal"),))
    library = replace(LIBRARY, materials={**MATERIALS, "clay tile": tile})
    of = design(("hung tiles",) * 4, build_ups={**BUILD_UPS, "hung tiles": added}, openings=())  # type: ignore[arg-type]
    drawing = drawn_elevation("low", of, library)
    assert len(levels(cladding_lines(drawing))) == 14  # 2.8 m / 0.2 m
    assert by_id(drawing, "e-cladding-1-tint").get("fill") == TERRACOTTA
    assert any(text.startswith("Hung tile, horizontal") for text in texts(drawing))


def test_a_band_is_drawn_in_its_own_cladding_and_the_rest_goes_on_round_it() -> None:
    band = Band(build_up="brick", sides=("low", "right"), bottom=0.8, top=1.6)
    of = design(("weatherboards",) * 4, band=band)  # type: ignore[arg-type]
    drawing = drawn_elevation("low", of)
    fills = [by_id(drawing, f"e-cladding-{i}-tint").get("fill") for i in (1, 2, 3)]
    assert fills == [TONES["softwood"], TONES["clay"], TONES["softwood"]]
    floor = max(y for _, y in corners(by_id(drawing, "e-outline"))) - 10 * DROP
    heights = [(floor - y) / 10 for y in levels(cladding_lines(drawing, 2))]
    assert min(heights) == pytest.approx(0.8, abs=0.001)
    assert max(heights) < 1.6
    assert any(text.startswith("Band 0.80 to 1.60: brick as bought") for text in texts(drawing))
    assert "e-cladding-2" not in ids(drawn_elevation("high", of))


def test_a_band_under_a_rake_ends_where_the_roof_is() -> None:
    band = Band(build_up="brick", sides=("right",), bottom=2.0, top=3.0)
    drawing = drawn_elevation("right", design(("weatherboards",) * 4, band=band, openings=()))  # type: ignore[arg-type]
    outline = corners(by_id(drawing, "e-outline"))
    left, floor = min(x for x, _ in outline), max(y for _, y in outline) - 10 * DROP
    points = {
        (round((x - left) / 10, 2), round((floor - y) / 10, 2))
        for x, y in corners(by_id(drawing, "e-cladding-2-tint"))
    }
    crossing = (3.0 - LOW) / math.tan(math.radians(PITCH))
    assert points == {(0.0, 2.0), (7.2, 2.0), (7.2, 3.0), (round(crossing, 2), 3.0), (0.0, 2.7)}


def test_every_family_has_a_tone_and_there_are_eight_at_most() -> None:
    assert set(TONES) <= set(FAMILIES)
    assert len({*TONES.values(), OFF_WHITE}) <= 8


def test_the_facing_is_what_stands_outermost_and_is_seen() -> None:
    facing = facing_of(BUILD_UPS["render"], LIBRARY)
    assert facing is not None
    assert facing.material.name == "render"  # not its paint
    assert facing_of(BuildUp("none", "cladding", ()), LIBRARY) is None


# --- what they are made of ---------------------------------------------------------------------------


def test_without_takes_intervals_out() -> None:
    assert what_is_left(0.0, 10.0, [(2.0, 3.0), (2.5, 5.0), (9.0, 12.0)]) == [(0.0, 2.0), (5.0, 9.0)]
    assert what_is_left(0.0, 1.0, [(-1.0, 2.0)]) == []


def test_a_region_is_cut_between_two_heights() -> None:
    region = Region(Face(4.0, 0.0, 2.0, 4.0), 1.0, 3.0, (Void(1.0, 0.5, 1.0, 1.0),))
    assert sorted(region.outline()) == [(0.0, 1.0), (0.0, 2.0), (2.0, 3.0), (4.0, 1.0), (4.0, 3.0)]
    assert region.level_runs(1.2) == [(0.0, 1.0), (2.0, 4.0)]
    assert region.level_runs(0.5) == []
    assert region.upright_runs(1.5) == [(1.5, 2.75)]
    assert region.holes() == [Void(1.0, 1.0, 1.0, 0.5)]


def test_stations_come_once_each() -> None:
    assert stations_of([(2.0, 3.0), (0.0, 1.0), (3.0, 4.0)], 4.0) == [0.0, 1.0, 2.0, 3.0, 4.0]


def test_figures_of_a_string_never_overlap() -> None:
    stations = [0.0, 0.1, 0.2, 0.45, 0.6, 3.0, 3.2, 3.3, 6.0]
    string = ET.fromstring(dimension_string(stations, edge="top", line_at=10, paper=Paper(100, 0, 50)))
    boxes = []
    for text in string.iter("text"):
        x, y, words = float(text.get("x", "")), float(text.get("y", "")), text.text or ""
        half = text_width(words, 2.3) / 2
        boxes.append((x - half, x + half, y))
    assert len(boxes) == len(stations) - 1
    for i, (left, right, y) in enumerate(boxes):
        for other_left, other_right, other_y in boxes[i + 1 :]:
            assert y != other_y or right <= other_left or left >= other_right


@pytest.mark.parametrize(
    ("value", "text"),
    [(12.0, "12.00"), (0.605, "0.605"), (1.2949999, "1.295"), (0.1 + 0.2, "0.30"), (-0.2, "−0.20")],
)
def test_metres_have_two_decimals_unless_millimetres_would_be_lost(value: float, text: str) -> None:
    assert metres(value) == text


@pytest.mark.parametrize(("value", "text"), [(1.0, "1"), (-0.0001, "0"), (0.1 + 0.2, "0.3"), (-2.5, "-2.5")])
def test_coordinates_are_short(value: float, text: str) -> None:
    assert number(value) == text


def test_attributes_and_text_are_escaped() -> None:
    written = element("g", lettering("a < b & c", (0, 0), size=2), id='say "x" & <y>')
    parsed = ET.fromstring(written)
    assert parsed.get("id") == 'say "x" & <y>'
    assert parsed.findtext("text") == "a < b & c"


def test_text_is_measured_in_the_type_of_the_report() -> None:
    # Figures of the type are 0.497 em wide, all alike.
    assert text_width("12345", 10) == pytest.approx(5 * 4.97, abs=0.01)
    assert text_width("wide", 2, semibold=True) > text_width("wide", 2)
    assert wrapped("one two three four", 10, text_width("one two", 10)) == ["one two", "three", "four"]


def test_hatches_have_no_style_sheet_and_no_clip_path() -> None:
    drawing = drawn_elevation("low")
    assert "<style" not in drawing.svg
    assert "clip" not in drawing.svg
    assert HATCH_INK in drawing.svg


def test_the_printer_takes_every_drawing_without_complaint(caplog: pytest.LogCaptureFixture) -> None:
    try:
        from weasyprint import HTML
    except OSError:
        pytest.skip("no Pango on this machine")
    pypdf = pytest.importorskip("pypdf")
    of = design(("battened panels", "level sheet", "brick", "weatherboards"))
    drawings = [drawn_plan(of), *(drawn_elevation(side, of, id_prefix=side) for side in SIDES)]
    page = "".join(f"<div>{drawing.svg}</div>" for drawing in drawings)
    with caplog.at_level("WARNING", logger="weasyprint"):
        pdf = HTML(string=f"<html lang='en'><title>t</title>{page}</html>").write_pdf()
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []
    printed = "".join(sheet.extract_text() for sheet in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    for words in ("High side, N", "support line, 3.90 from low side", "Low side, faces S", "W1", "1:100"):
        assert words in printed


@pytest.mark.parametrize(
    ("side", "middles"),
    [
        # stumps at x 0.5 and 4.0, y 0.045 and 7.155, seen from outside: x or length - x, y or span - y
        ("low", [0.5, 4.0]),
        ("high", [8.0, 11.5]),
        ("left", [0.045, 7.155]),
        ("right", [0.045, 7.155]),
    ],
)
def test_a_suspended_floor_stands_on_stumps(side: Side, middles: list[float]) -> None:
    stumps = ((0.5, 0.045), (4.0, 0.045), (0.5, 7.155), (4.0, 7.155))
    floor = FloorFrame(members=(), stumps=stumps, outline_area=86.4, gap_area=0.0, longest_length=6.0)
    drawing = drawn_elevation(side, floor=floor)
    wall = corners(by_id(drawing, "e-outline"))
    left, foot = min(x for x, _ in wall), max(y for _, y in wall)
    found = list(by_id(drawing, "e-stumps"))
    assert [float(s.attrib["x"]) + float(s.attrib["width"]) / 2 - left for s in found] == pytest.approx(
        [middle * 10 for middle in middles], abs=0.002
    )
    for stump in found:
        assert float(stump.attrib["y"]) == pytest.approx(foot, abs=0.002)
        # from the foot of the cladding to the ground, at 1:100
        assert float(stump.attrib["height"]) == pytest.approx((GROUND - DROP) * 10, abs=0.002)
    assert "stumps" not in drawn_elevation(side).svg
