"""Palettes beside each other: figures of the cladding items, walls to scale, darker where the figure is greater."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from takeoff.compare.by_side import palettes_of
from takeoff.compare.evaluate import evaluate_all
from takeoff.documents.charts import tinted_elevations
from takeoff.documents.charts.colours import luminance
from takeoff.documents.charts.labels import Box
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.palettes import palettes_shown
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES
from takeoff.workbook.reading import read_job

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["dune_studio", "heron_bank", "wharf_pair"])
def results(request, demo_folder):
    return evaluate_all(read_job(demo_folder / f"{request.param}.xlsx"), planned=False)


def test_each_palette_stands_once_with_the_options_that_have_it(results):
    palettes = palettes_of(results)
    names = [palette.palette for palette in palettes]
    assert len(names) == len(set(names))
    assert names[0] == results[0].design.palette.name
    for result in results:
        (own,) = [p for p in palettes if p.palette == result.design.palette.name]
        assert result.option.name in own.options


def test_the_figures_of_a_side_are_those_of_its_cladding_items(results):
    """Items of the cladding have ids that begin with EW.CL and the side; the face is net of every opening."""
    for palette in palettes_of(results):
        result = palette.result
        for side in palette.sides:
            lines = [line for line in result.lines if line.quantity.id.startswith(f"EW.CL.{side.side}.")]
            face = wall_face(result.design.house, side.side, bottom=-result.design.house.cladding_drop)
            area = face.area - sum(opening.area for opening in result.design.openings_in(side.side))
            assert side.area == pytest.approx(area)
            assert side.cost == pytest.approx(sum(line.cost for line in lines) / area)
            carbon = sum(
                part
                for line in lines
                for part in (line.carbon.a1a3, line.carbon.a4, line.carbon.a5_wastage, line.carbon.a5_site)
                if part is not None
            )
            assert side.upfront == pytest.approx(carbon / area)


def drawn(results):
    return palettes_shown(results, "AUD", paper_width_mm=180.0)


def walls(picture, prefix):
    root = ET.fromstring(picture.svg)
    return {p.attrib["id"]: p for p in root.iter(f"{SVG}path") if p.get("id", "").startswith(prefix)}


def test_walls_are_to_scale(results):
    picture = drawn(results).drawings[0]
    found = walls(picture, "palettes-carbon")
    for place, palette in enumerate(palettes_of(results), start=1):
        for side in SIDES:
            data = found[f"palettes-carbon-{place}-{side}"].attrib["d"]
            points = [(float(x), float(y)) for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", data)]
            face = wall_face(
                palette.result.design.house, side, bottom=-palette.result.design.house.cladding_drop
            )
            per_metre = 1000 / picture.scale
            assert points[1][0] - points[0][0] == pytest.approx(face.width * per_metre, abs=0.003)
            assert points[1][1] - points[2][1] == pytest.approx(
                (face.top_right - face.bottom) * per_metre, abs=0.003
            )
            assert points[0][1] - points[3][1] == pytest.approx(
                (face.top_left - face.bottom) * per_metre, abs=0.003
            )


def test_tints_grow_darker_with_the_figure(results):
    shown = drawn(results)
    for picture, prefix, figure in (
        (shown.drawings[0], "palettes-carbon", lambda side: side.upfront),
        (shown.drawings[1], "palettes-cost", lambda side: side.cost),
    ):
        found = walls(picture, prefix)
        tinted = sorted(
            (figure(side), luminance(found[f"{prefix}-{place}-{side.side}"].attrib["fill"]))
            for place, palette in enumerate(palettes_of(results), start=1)
            for side in palette.sides
        )
        lights = [light for _, light in tinted]
        assert all(a >= b - 0.004 for a, b in pairwise(lights))
        if tinted[0][0] < tinted[-1][0]:
            assert lights[0] > 0.8
            assert lights[-1] < 0.15


def test_printed_figures_are_those_of_the_sides(results):
    shown = drawn(results)
    texts = {
        t.attrib["id"]: t.text
        for picture in shown.drawings
        for t in ET.fromstring(picture.svg).iter(f"{SVG}text")
        if "id" in t.attrib
    }
    rows = iter(shown.table.rows)
    for place, palette in enumerate(palettes_of(results), start=1):
        for side in palette.sides:
            carbon = f"{side.upfront:.1f}"
            assert texts[f"palettes-carbon-{place}-{side.side}-value"] == carbon
            assert texts[f"palettes-cost-{place}-{side.side}-value"] == f"{side.cost:.0f}"
            assert next(rows).cells[3:] == (f"{side.area:.1f}", f"{side.cost:.0f}", carbon)


def test_what_is_not_assessed_is_said_and_white(results):
    palettes = palettes_of(results)
    picture = tinted_elevations(
        palettes,
        figure=lambda side: None,
        title="Nothing",
        unit="kg",
        number_format=str,
        paper_width_mm=180.0,
        id_prefix="none",
    )
    assert picture.svg.count(">not assessed<") == 4 * len(palettes)
    assert {p.attrib["fill"] for p in walls(picture, "none").values()} == {"#ffffff"}
    with pytest.raises(ValueError, match="tinted elevations need at least one palette"):
        tinted_elevations(
            [],
            figure=lambda side: None,
            title="Nothing",
            unit="kg",
            number_format=str,
            paper_width_mm=180.0,
            id_prefix="none",
        )


def test_no_text_lies_on_another_or_leaves_the_paper(results):
    for picture in drawn(results).drawings:
        boxes = []
        for text in ET.fromstring(picture.svg).iter(f"{SVG}text"):
            size = float(text.attrib["font-size"])
            wide = text_width(text.text or "", size, semibold=text.attrib.get("font-weight") == "600")
            left, base = float(text.attrib["x"]), float(text.attrib["y"])
            boxes.append((text.text, Box(left, base - 0.66 * size, left + wide, base)))
        frame = Box(0.0, 0.0, picture.width_mm, picture.height_mm)
        assert all(box.outside(frame) < 0.05 for _, box in boxes)
        for (one, a), (other, b) in combinations(boxes, 2):
            assert a.overlap(b) < 0.02, (one, other)
