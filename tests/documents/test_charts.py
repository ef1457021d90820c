"""Charts: true lengths, order and colour of parts, labels that keep apart, and well-formed SVG."""

from __future__ import annotations

import math
import random
import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise
from typing import Any

import pytest

from takeoff.documents.charts import (
    GROUPS,
    PARTS,
    by_part,
    grouping_words,
    part_colours,
    scatter,
    stacked_bars,
    undominated,
)
from takeoff.documents.charts.axes import padded_range, round_ticks, spread
from takeoff.documents.charts.colours import ACCENT, COLOURS, linear, luminance
from takeoff.documents.charts.labels import Box
from takeoff.documents.drawings import Picture
from takeoff.documents.drawings.letters import text_width
from takeoff.model.library import ELEMENTS

SVG = "{http://www.w3.org/2000/svg}"

BASE = dict(zip(PARTS, [9200.0, 5400.0, 6100.0, 4300.0, 1500.0, 1800.0, 900.0, 700.0], strict=True))
ROWS: list[tuple[str, Mapping[str, float]]] = [
    ("base", BASE),
    ("brick & <blocks>", {**BASE, "external walls": 8200.0}),
    ("600 studs", {**BASE, "external walls": 5900.0}),
    ("no finishes", {**BASE, "finishes": 0.0}),
]
POINTS = [
    ("base", 301.0, 27.8),
    ("timber all round", 295.0, 26.4),
    ("brick & <blocks>", 318.0, 31.9),
    ("600 studs", 296.0, 27.4),
    ("least material", 289.0, 26.9),
    ("steel all round", 300.5, 27.9),
    ("high side north", 301.2, 27.7),
]


def tonnes(value: float) -> str:
    return f"{value / 1000:.1f}".replace("-", "−")


def bars(rows: Sequence[tuple[str, Mapping[str, float]]] = ROWS, **more: Any) -> Picture:
    settings: dict[str, Any] = {
        "title": "600 studs saves 0.2 t",
        "desc": "Upfront carbon of each option by element.",
        "unit_label": "t CO₂e",
        "rows": rows,
        "parts": PARTS,
        "number_format": tonnes,
        "chosen": "600 studs",
        "paper_width_mm": 180,
        "id_prefix": "b",
    }
    return stacked_bars(**(settings | more))


def dots(points: Sequence[tuple[str, float, float]] = POINTS, **more: Any) -> Picture:
    settings: dict[str, Any] = {
        "title": "Least material costs least",
        "desc": "Cost and carbon of each option.",
        "points": points,
        "x_label": "Cost",
        "y_label": "Carbon",
        "x_format": lambda v: f"{v:g}",
        "y_format": lambda v: f"{v:g}",
        "chosen": "600 studs",
        "paper_width_mm": 180,
        "id_prefix": "s",
    }
    return scatter(**(settings | more))


def nodes(picture: Picture) -> dict[str, ET.Element]:
    found = [(name, e) for e in ET.fromstring(picture.svg).iter() if (name := e.get("id"))]
    assert len(found) == len(dict(found)), "ids are not unique"
    return dict(found)


def texts(picture: Picture) -> list[str]:
    return [e.text or "" for e in ET.fromstring(picture.svg).iter(f"{SVG}text")]


def blocks(picture: Picture, row: int) -> list[ET.Element]:
    return [e for name, e in nodes(picture).items() if re.fullmatch(rf"b-bar-{row}-\d+", name)]


def value(e: ET.Element, name: str) -> float:
    return float(e.get(name, ""))


@pytest.mark.parametrize("picture", [bars(), dots()], ids=["bars", "scatter"])
def test_a_chart_is_well_formed_named_and_true_in_mm(picture: Picture) -> None:
    root = ET.fromstring(picture.svg)
    assert root.findtext(f"{SVG}title") == picture.title
    assert root.findtext(f"{SVG}desc")
    assert root.get("width") == "180mm"
    assert root.get("viewBox", "").startswith("0 0 180 ")
    assert "brick & <blocks>" in texts(picture)
    assert len(picture.svg) < 60_000
    assert all(name.startswith(("b", "s")) for name in nodes(picture))


# --- stacked bars ------------------------------------------------------------------------------------


def test_widths_of_the_parts_are_their_values_to_one_scale() -> None:
    picture = bars()
    scale = value(blocks(picture, 1)[0], "width") / BASE["substructure"]
    for row, (_, values) in enumerate(ROWS):
        drawn = blocks(picture, row + 1)
        wanted = [values[part] for part in PARTS if values[part]]
        assert [value(e, "width") / scale for e in drawn] == pytest.approx(wanted, rel=1e-3)
        assert sum(value(e, "width") for e in drawn) / scale == pytest.approx(sum(values.values()), rel=1e-3)


def test_parts_stand_side_by_side_from_zero() -> None:
    picture = bars()
    zero = float(re.findall(r"M([\d.]+) ", nodes(picture)["b-zero"].get("d", ""))[0])
    at = zero
    for block in blocks(picture, 1):
        assert value(block, "x") == pytest.approx(at, abs=0.002)
        at += value(block, "width")


def test_the_total_of_each_row_is_written() -> None:
    picture = bars()
    for row, (_, values) in enumerate(ROWS):
        assert nodes(picture)[f"b-total-{row + 1}"].text == tonnes(sum(values.values()))


def test_negative_parts_stand_left_of_zero_and_the_net_total_is_marked() -> None:
    rows = [("stored", {**BASE, "roof": -3000.0, "other": -1500.0})]
    picture = bars(rows)
    zero = float(re.findall(r"M([\d.]+) ", nodes(picture)["b-zero"].get("d", ""))[0])
    net = float(re.findall(r"M([\d.]+) ", nodes(picture)["b-net-1"].get("d", ""))[0])
    left = [e for e in blocks(picture, 1) if value(e, "x") < zero - 0.01]
    scale = value(blocks(picture, 1)[0], "width") / BASE["substructure"]
    assert [e.get("fill") for e in left] == [COLOURS[1], COLOURS[7]]
    assert sum(value(e, "width") for e in left) / scale == pytest.approx(4500, rel=1e-3)
    assert max(value(e, "x") + value(e, "width") for e in left) == pytest.approx(zero, abs=0.002)
    assert (net - zero) / scale == pytest.approx(sum(rows[0][1].values()), rel=1e-3)
    assert nodes(picture)["b-total-1"].text == tonnes(sum(rows[0][1].values()))


def test_a_part_has_its_colour_whatever_stands_beside_it() -> None:
    picture = bars([("base", {"windows and doors": 2.0, "roof": 1.0})], parts=("roof", "windows and doors"))
    assert [e.get("fill") for e in blocks(picture, 1)] == [COLOURS[1], COLOURS[3]]
    assert part_colours(PARTS) == dict(zip(PARTS, COLOURS, strict=True))


def test_other_parts_take_colours_that_no_part_has() -> None:
    colours = part_colours(["roof", "transport", "site"])
    assert len(set(colours.values())) == 3
    assert colours["roof"] == COLOURS[1]
    assert set(part_colours([f"part {i}" for i in range(12)]).values()) <= set(COLOURS)


def test_every_element_stands_in_one_part_and_in_elemental_order() -> None:
    assert [element for elements in GROUPS.values() for element in elements] == list(ELEMENTS.values())
    assert len(PARTS) == len(COLOURS) == 8


def test_values_of_elements_are_added_up_by_part() -> None:
    values = {"windows": 3.0, "external doors": 2.0, "roof": 1.0, "site works": 0.5, "preliminaries": 0.25}
    assert by_part(values) == {"windows and doors": 5.0, "roof": 1.0, "other": 0.75}
    assert by_part(dict.fromkeys(ELEMENTS.values(), 1.0)) == {
        part: float(len(elements)) for part, elements in GROUPS.items()
    }


def test_the_grouping_is_told_in_words() -> None:
    assert grouping_words() == (
        "windows and doors: windows, external doors; internal walls and doors: internal walls, internal doors; "
        "finishes: wall finishes, floor finishes, ceiling finishes; fitments and services: fitments, services; "
        "other: site works, preliminaries"
    )


@pytest.mark.parametrize("width", [88, 130, 180])
def test_every_part_is_labelled_within_the_picture(width: float) -> None:
    picture = bars(paper_width_mm=width)
    labels = [e for e in ET.fromstring(picture.svg).iter(f"{SVG}text") if e.text in PARTS]
    assert [e.text for e in labels] == list(PARTS)
    boxes = [
        (value(e, "x"), value(e, "x") + text_width(e.text or "", value(e, "font-size")), value(e, "y"))
        for e in labels
    ]
    assert all(left >= 0 and right <= width for left, right, _ in boxes)
    for (left, right, y), (other_left, other_right, other_y) in combinations(boxes, 2):
        assert y != other_y or right < other_left or other_right < left


def test_the_chosen_option_alone_is_bold_and_in_the_accent() -> None:
    names = {e.text: e for e in ET.fromstring(bars().svg).iter(f"{SVG}text")}
    assert names["600 studs"].get("fill") == ACCENT
    assert names["600 studs"].get("font-weight") == "600"
    assert names["base"].get("fill") != ACCENT
    assert ACCENT not in bars(chosen=None).svg


def test_a_value_that_would_not_be_drawn_is_refused() -> None:
    with pytest.raises(ValueError, match="base has parts that the chart does not draw: windows"):
        bars([("base", {"roof": 1.0, "windows": 2.0})], parts=("roof",))


def test_a_chart_of_nothing_still_stands() -> None:
    assert nodes(bars([("base", dict.fromkeys(PARTS, 0.0))]))["b-total-1"].text == "0.0"


# --- scatter -----------------------------------------------------------------------------------------


def test_undominated_points_are_lowest_in_one_measure_for_the_other() -> None:
    assert [POINTS[i][0] for i in undominated(POINTS)] == ["least material", "timber all round"]
    # Equal in one and lower in the other beats; equal in both does not.
    assert undominated([("a", 1, 1), ("b", 1, 2), ("c", 2, 1), ("d", 1, 1)]) == [0, 3]


def test_the_line_joins_the_undominated_points_in_order() -> None:
    found = nodes(dots())
    line = [
        (float(x), float(y))
        for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", found["s-undominated"].get("d", ""))
    ]
    at = [(value(found[f"s-point-{i}"], "cx"), value(found[f"s-point-{i}"], "cy")) for i in (5, 2)]
    assert line == at


def test_points_stand_to_scale() -> None:
    found = nodes(dots())
    at = {
        name: (value(found[f"s-point-{i + 1}"], "cx"), value(found[f"s-point-{i + 1}"], "cy"))
        for i, (name, _, _) in enumerate(POINTS)
    }
    # 318 - 289 = 29 across against 301 - 289 = 12; carbon runs up the sheet.
    across = (at["brick & <blocks>"][0] - at["least material"][0]) / (at["base"][0] - at["least material"][0])
    up = (at["least material"][1] - at["brick & <blocks>"][1]) / (at["least material"][1] - at["base"][1])
    assert across == pytest.approx(29 / 12, rel=1e-3)
    assert up == pytest.approx((31.9 - 26.9) / (27.8 - 26.9), rel=1e-3)


def label_boxes(picture: Picture) -> list[Box]:
    boxes = []
    for name, e in nodes(picture).items():
        if "-label-" in name:
            x, y, size = value(e, "x"), value(e, "y"), value(e, "font-size")
            wide = text_width(e.text or "", size, semibold=bool(e.get("font-weight")))
            boxes.append(Box(x, y - 0.66 * size, x + wide, y))
    return boxes


@pytest.mark.parametrize("width", [88, 180])
@pytest.mark.parametrize("seed", range(6))
def test_labels_overlap_neither_each_other_nor_points(width: float, seed: int) -> None:
    draw = random.Random(seed)
    points = [(f"option {i}", draw.gauss(300, 12), draw.gauss(28, 2)) for i in range(12)]
    picture = dots(points, paper_width_mm=width, chosen="option 3")
    boxes = label_boxes(picture)
    assert len(boxes) == 12
    assert sum(a.overlap(b) for a, b in combinations(boxes, 2)) == 0
    for e in (e for name, e in nodes(picture).items() if "-point-" in name):
        x, y, r = value(e, "cx"), value(e, "cy"), value(e, "r")
        assert sum(b.overlap(Box(x - r, y - r, x + r, y + r)) for b in boxes) == 0
    assert all(b.left >= 0 and b.right <= width for b in boxes)


def test_an_axis_that_does_not_start_at_zero_says_so() -> None:
    assert "Cost (axis starts at 285, not at zero)" in texts(dots())
    from_zero = dots([("a", 10.0, 1.0), ("b", 100.0, 40.0)], chosen=None)
    assert {"Cost", "Carbon"} <= set(texts(from_zero))


def test_zero_lines_are_drawn_where_values_lie_on_both_sides() -> None:
    found = nodes(dots([("a", -10.0, 1.0), ("b", 10.0, 4.0)], chosen=None))
    assert "s-zero-x" in found
    assert "s-zero-y" not in found


def test_one_point_is_enough_and_none_is_refused() -> None:
    assert "s-point-1" in nodes(dots([("only", 5.0, 5.0)], chosen="only"))
    with pytest.raises(ValueError, match="at least one point"):
        dots([])


# --- what they are made of ---------------------------------------------------------------------------


@pytest.mark.parametrize(("low", "high"), [(0, 1), (0, 32_500), (-4.5, 27.9), (285, 330), (0.0012, 0.0034)])
def test_ticks_are_round_and_few(low: float, high: float) -> None:
    ticks = round_ticks(low, high)
    assert 3 <= len(ticks) <= 11
    assert all(low - 1e-9 <= tick <= high + 1e-9 for tick in ticks)
    step = ticks[1] - ticks[0]
    lead = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert any(lead == pytest.approx(n) for n in (1, 2, 5, 10))


def test_an_axis_starts_at_zero_where_zero_is_near() -> None:
    assert padded_range([10.0, 100.0])[0] == 0.0
    low, high = padded_range([290.0, 320.0])
    assert 250 < low < 290
    assert high > 320


def test_labels_in_a_line_keep_order_and_distance_and_move_little() -> None:
    assert spread([10.0, 50.0], [10.0, 10.0], low=0, high=100) == [10.0, 50.0]
    # Two that wish for one place stand around it.
    assert spread([50.0, 50.0], [10.0, 10.0], low=0, high=100) == [45.0, 55.0]
    packed = spread([0.0, 0.0, 99.0, 99.0], [20.0, 20.0, 20.0, 20.0], low=0, high=100)
    assert packed[0] >= 10
    assert packed[-1] <= 90
    assert all(b - a >= 20 - 1e-9 for a, b in pairwise(packed))


# Dichromatic vision in linear light: Machado, Oliveira and Fernandes 2009, severity 1.0, from memory.
VISION = {
    "full": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
}


def lab(rgb: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return CIE L*a*b* of linear sRGB under D65."""
    r, g, b = rgb
    x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505
    y = 0.2126 * r + 0.7152 * g + 0.0722 * b
    z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089
    f = [max(v, 0.0) ** (1 / 3) if v > 0.008856 else 7.787 * max(v, 0.0) + 16 / 116 for v in (x, y, z)]
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


@pytest.mark.parametrize("vision", VISION)
def test_any_two_colours_are_told_apart_by_every_eye(vision: str) -> None:
    def seen(colour: str) -> tuple[float, float, float]:
        light = linear(colour)
        red, green, blue = (sum(a * b for a, b in zip(row, light, strict=True)) for row in VISION[vision])
        return lab((red, green, blue))

    closest = min(math.dist(seen(a), seen(b)) for a, b in combinations(COLOURS, 2))
    assert closest > 15


def test_neighbours_differ_in_grey() -> None:
    assert len(set(COLOURS)) == len(PARTS) == 8
    for a, b in pairwise(COLOURS):
        light, dark = max(luminance(a), luminance(b)), min(luminance(a), luminance(b))
        assert (light + 0.05) / (dark + 0.05) > 2.5
