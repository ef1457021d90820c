"""The details of build-ups: every layer once and to scale, U-values as the fabric has them, figures recomputed."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from drawn_svg import by_id, extent, outside, overlapping, root_of, texts

from takeoff.assess.lines import Line
from takeoff.compare.build_up_figures import build_up_figures
from takeoff.compare.build_up_parts import BuildUpFigures
from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.drawings import Drawing, build_up_details, section
from takeoff.documents.drawings.build_up_hatches import diagonals
from takeoff.documents.drawings.build_up_keys import letters_of
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

SVG = "{http://www.w3.org/2000/svg}"
# A thousandth of a millimetre of paper, to which coordinates are written, and some for sums of two.
PAPER = 0.003
DEMOS = ("heron_bank", "dune_studio", "wharf_pair")
UPFRONT = ("a1a3", "a4", "a5_wastage", "a5_site")


@dataclass(frozen=True)
class Detail:
    """One build-up with its detail."""

    letter: str
    figures: BuildUpFigures
    drawing: Drawing
    root: ET.Element

    @property
    def id(self) -> str:
        return f"detail-{self.letter.lower()}"

    def part(self, name: str) -> ET.Element:
        return by_id(self.root, f"{self.id}-{name}")

    def metres(self, paper_mm: float) -> float:
        return paper_mm * self.drawing.scale / 1000

    def rows(self) -> list[tuple[str, str]]:
        """Return name and thickness of every row of the list."""
        words = [(e.get("id", ""), e.text or "") for e in self.root.iter(f"{SVG}text")]
        return [
            (words[index - 1][1], text)
            for index, (name, text) in enumerate(words)
            if name.startswith(f"{self.id}-thickness-")
        ]

    def also(self) -> list[tuple[str, str]]:
        """Return name and thickness of every layer that is named under the drawing."""
        whole = " ".join(texts(self.root))
        found = re.search(r"Also counted, not drawn: (.*?\))\.", whole)
        if found is None:
            return []
        pairs = [re.fullmatch(r"(.*) \(([^()]*)\)", each) for each in found[1].split("; ")]
        return [(pair[1], pair[2]) for pair in pairs if pair is not None]


@dataclass(frozen=True)
class Sheet:
    """A house and all its details."""

    job: Job
    result: Result
    details: tuple[Detail, ...]

    def of(self, kind: str) -> list[Detail]:
        return [detail for detail in self.details if detail.figures.kind == kind]


def sheet_of(job: Job, result: Result) -> Sheet:
    figures = build_up_figures(result, job.library)
    drawn = build_up_details(job, result, paper_width_mm=180.0, id_prefix="detail")
    return Sheet(
        job,
        result,
        tuple(
            Detail(letter, each, drawing, root_of(drawing.svg))
            for letter, each, drawing in zip(letters_of(figures), figures, drawn, strict=True)
        ),
    )


@pytest.fixture(scope="module", params=DEMOS)
def sheet(request: pytest.FixtureRequest, demo_folder: Path) -> Sheet:
    job = read_job(demo_folder / f"{request.param}.xlsx")
    return sheet_of(job, evaluate(job, job.base, planned=False))


@pytest.fixture(scope="module")
def heron(job: Job) -> Sheet:
    return sheet_of(job, evaluate(job, job.base, planned=False))


# --- what there are details of -----------------------------------------------------------------------


def test_there_is_a_detail_of_the_external_wall_with_each_cladding(sheet: Sheet) -> None:
    palette = sheet.result.design.palette
    names = {palette.low, palette.high, palette.left, palette.right}
    assert {detail.figures.build_ups[0].name for detail in sheet.of("external wall")} == names
    assert len(sheet.of("external wall")) == len(names)


def test_there_is_a_detail_of_every_wall_between_rooms_the_floor_and_the_roof_over_every_ceiling(
    sheet: Sheet,
) -> None:
    walls = {frame.build_up for frame in sheet.result.measured.inside.wall_frames}
    drawn = [*sheet.of("internal wall"), *sheet.of("party wall")]
    assert {detail.figures.name for detail in drawn} == walls
    assert len(sheet.of("floor")) == 1
    assert len(sheet.of("roof")) == len(sheet.result.fabric.of("roof"))


def test_a_band_of_another_cladding_has_its_own_detail(demo_folder: Path) -> None:
    job = read_job(demo_folder / "dune_studio.xlsx")
    banded = sheet_of(job, evaluate(job, job.option("Steel with timber band"), planned=False))
    band = banded.result.design.palette.band
    assert band is not None
    assert any(each.figures.build_ups[0].name == band.build_up for each in banded.of("external wall"))


# --- layers ------------------------------------------------------------------------------------------


def test_every_layer_of_a_build_up_is_named_once(sheet: Sheet) -> None:
    for detail in sheet.details:
        named = Counter(name for name, _ in (*detail.rows(), *detail.also()))
        assert named == Counter(layer.material for _, layer in detail.figures.layers), detail.figures.name


def test_every_layer_with_a_thickness_of_its_own_has_it_written(sheet: Sheet) -> None:
    materials = sheet.job.library.materials
    for detail in sheet.details:
        written = [*detail.rows(), *detail.also()]
        for _, layer in detail.figures.layers:
            thick = layer.thickness or materials[layer.material].thickness
            if thick is None or layer.measured_by == "ceiling joists":
                continue
            expected = f"{round(thick * 1000, 2):g} mm"
            if layer.measured_by == "battens at spacing":
                assert layer.spacing is not None
                expected += f" at {layer.spacing * 1000:g}"
            assert (layer.material, expected) in written


def test_frames_and_what_fills_them_are_as_thick_as_the_sticks(sheet: Sheet) -> None:
    house = sheet.result.design.house
    depths = {
        "external wall": house.stud_depth,
        "roof": house.rafter_depth,
        "floor": house.floor_joist_depth,
        "internal wall": 0.09,
        "party wall": 0.09,
    }
    for detail in sheet.details:
        deep = depths[detail.figures.kind]
        for _, layer in detail.figures.layers:
            if layer.measured_by in ("frame", "floor joists") or (
                layer.measured_by == "between studs" and layer.thickness is None
            ):
                assert (layer.material, f"{deep * 1000:g} mm") in detail.rows()


def test_coats_and_membranes_are_not_given_a_thickness(heron: Sheet) -> None:
    rows = heron.of("external wall")[0].rows()
    assert ("Timber oil, exterior", "2 coats") in rows
    assert ("Wall wrap, vapour-open", "membrane") in rows
    assert ("Interior paint, water-based", "3 coats") in rows


def test_layers_are_drawn_to_the_scale_that_is_written(sheet: Sheet) -> None:
    materials = sheet.job.library.materials
    measured = 0
    for detail in sheet.details:
        upright = detail.figures.kind not in ("roof", "floor")
        assert f"1:{detail.drawing.scale}" in texts(detail.root)
        drawn = [layer for _, layer in detail.figures.layers]
        numbers = iter(range(1, 100))
        for layer in drawn:
            if layer.material not in [name for name, _ in detail.rows()] or (
                layer.measured_by in ("slab edge", "edge beams", "pads")
            ):
                continue
            number = next(numbers)
            thick = layer.thickness or materials[layer.material].thickness
            solid = layer.measured_by in ("sheets", "area", "boards by cover", "panels", "masonry units")
            if solid and thick and thick * 1000 / detail.drawing.scale >= 0.5:
                patch = extent(detail.part(f"layer-{number}"))
                across = patch.wide if upright else patch.high
                assert detail.metres(across) == pytest.approx(thick, abs=detail.metres(PAPER)), layer
                measured += 1
    assert measured >= len(sheet.details)


def test_sticks_are_drawn_with_their_section(sheet: Sheet) -> None:
    house = sheet.result.design.house
    for detail in sheet.of("external wall"):
        (number,) = [
            index
            for index, (name, _) in enumerate(detail.rows(), start=1)
            if name == "Softwood framing, structural"
        ]
        patch = extent(detail.part(f"layer-{number}"))
        assert detail.metres(patch.wide) == pytest.approx(house.stud_depth, abs=detail.metres(PAPER))
        assert detail.metres(patch.high) == pytest.approx(house.stud_thickness, abs=detail.metres(PAPER))


def test_the_layers_of_a_wall_follow_each_other_and_add_up(heron: Sheet) -> None:
    wall = heron.of("external wall")[0]
    # boards 20, cavity 20, studs 170, service cavity 45, plasterboard 12.5 mm
    assert wall.part("total").text == "267.5 mm"
    assert texts(wall.part("across")) == ["40", "170", "57.5"]
    lefts = [extent(wall.part(f"layer-{number}")).left for number in (2, 5, 10)]
    assert lefts == sorted(lefts)
    gap = extent(wall.part("layer-10")).left - extent(wall.part("layer-5")).right
    assert wall.metres(gap) == pytest.approx(0.045, abs=wall.metres(PAPER))


def test_a_wall_between_rooms_has_its_lining_on_both_faces(heron: Sheet) -> None:
    (wall,) = [each for each in heron.of("internal wall") if each.figures.name == "Internal wall 90"]
    # studs 90 and twice 12.5 mm
    assert wall.part("total").text == "115 mm"
    assert texts(wall.part("across")) == ["12.5", "90", "12.5"]


def test_a_party_wall_has_two_leaves_and_their_gap(demo_folder: Path) -> None:
    job = read_job(demo_folder / "wharf_pair.xlsx")
    (wall,) = sheet_of(job, evaluate(job, job.base, planned=False)).of("party wall")
    # boards 2 x 16, studs 90, packing 40, studs 90, boards 2 x 16 mm
    assert wall.part("total").text == "284 mm"
    assert texts(wall.part("across")) == ["32", "90", "40", "90", "32"]


def test_what_hangs_below_a_void_keeps_its_thickness(heron: Sheet) -> None:
    flat = next(each for each in heron.of("roof") if each.figures.flat)
    assert "void over the flat ceiling not to scale" in " ".join(texts(flat.root))
    upper, lower = texts(flat.part("across")), texts(flat.part("across-2"))
    # sheet 17, battens 45, rafters 240 mm
    assert upper == ["302"]
    assert float(lower[0]) + 302 == pytest.approx(float((flat.part("total").text or "").split()[0]))


# --- U-values ----------------------------------------------------------------------------------------


def u_table(detail: Detail) -> list[list[str]]:
    """Return the rows of the table of U-values: where, share of timber, resistance, U-value."""
    rows: dict[int, dict[int, str]] = {}
    for e in detail.root.iter(f"{SVG}text"):
        found = re.fullmatch(rf"{detail.id}-u-(\d+)-(\d+)", e.get("id", ""))
        if found and int(found[1]):
            rows.setdefault(int(found[1]), {})[int(found[2])] = e.text or ""
    return [[row.get(column, "") for column in range(4)] for _, row in sorted(rows.items())]


def test_u_values_of_walls_are_those_of_the_fabric(sheet: Sheet) -> None:
    parts = {part.name: part for part in sheet.result.fabric.parts}
    palette = sheet.result.design.palette
    seen = []
    for detail in sheet.of("external wall"):
        for where, timber, resistance, u_value in u_table(detail):
            side = where.removesuffix(" side")
            seen.append(side)
            part = parts[f"{side} wall"]
            assert part.u_value is not None
            assert part.fraction is not None
            assert getattr(palette, side) == detail.figures.build_ups[0].name
            assert u_value == f"{part.u_value:.3f}"
            assert timber == f"{part.fraction * 100:.1f} %"
            assert resistance == f"{1 / part.u_value:.2f}"
    assert sorted(seen) == sorted(SIDES)


def test_u_values_of_roof_and_floor_are_those_of_the_fabric(sheet: Sheet) -> None:
    roofs = {part.name.removeprefix("roof over "): part for part in sheet.result.fabric.of("roof")}
    for detail in sheet.of("roof"):
        ((_, timber, _, u_value),) = u_table(detail)
        part = roofs[detail.figures.build_ups[1].name]
        assert u_value == f"{part.u_value:.3f}"
        assert timber == f"{(part.fraction or 0.0) * 100:.1f} %"
    (floor,) = sheet.of("floor")
    ((_, _, _, u_value),) = u_table(floor)
    assert u_value == f"{sheet.result.fabric.u_value('floor'):.3f}"


def test_walls_between_rooms_have_no_u_value(sheet: Sheet) -> None:
    for detail in (*sheet.of("internal wall"), *sheet.of("party wall")):
        assert [row[3] for row in u_table(detail)] == ["not assessed"]


def test_what_has_no_conductivity_is_said_to_be_not_assessed(job: Job) -> None:
    name = "Glass wool batts"
    wool = replace(job.library.materials[name], conductivity=None)
    job = replace(job, library=replace(job.library, materials={**job.library.materials, name: wool}))
    bare = sheet_of(job, evaluate(job, job.base, planned=False))
    wall = bare.of("external wall")[0]
    assert [row[3] for row in u_table(wall)] == ["not assessed"] * 2
    assert f"U-value not assessed: no conductivity or thickness of {name}" in " ".join(texts(wall.root))


# --- carbon and cost ---------------------------------------------------------------------------------


def upfront(lines: Iterable[Line]) -> float:
    return sum(getattr(line.carbon, module) or 0.0 for line in lines for module in UPFRONT)


def together(detail: Detail) -> tuple[str, str, str]:
    """Return the sums of the table: upfront carbon, stored carbon, cost."""
    last = max(
        int(found[1])
        for e in detail.root.iter(f"{SVG}text")
        if (found := re.fullmatch(rf"{detail.id}-carbon-(\d+)-0", e.get("id", "")))
    )
    one, two, three = (detail.part(f"carbon-{last}-{column}").text or "" for column in (2, 3, 4))
    return one, two, three


def starting(result: Result, *beginnings: str) -> list[Line]:
    return [line for line in result.lines if line.quantity.id.startswith(beginnings)]


def net(result: Result, id: str) -> float:
    (line,) = [line for line in result.lines if line.quantity.id == id]
    return line.quantity.net


def test_the_carbon_of_a_wall_is_that_of_its_items_over_the_areas_they_are_fixed_on(sheet: Sheet) -> None:
    result = sheet.result
    frame = starting(result, "EW.FR.", "EW.OUT.", "EW.IN.")
    frame_area = result.measured.areas.wall_gross - result.measured.areas.openings
    lining = starting(result, "WF.IN.")
    lining_area = net(result, "WF.IN.plasterboard-12.5")
    for detail in sheet.of("external wall"):
        name = detail.figures.build_ups[0].name
        sides = [side for side in SIDES if getattr(result.design.palette, side) == name]
        cladding = starting(result, *(f"EW.CL.{side}." for side in sides))
        house = result.design.house
        face = sum(
            result.measured.areas.wall_by_side[side]
            + house.cladding_drop * (house.length if side in ("low", "high") else house.span)
            - result.measured.areas.openings_by_side[side]
            for side in sides
        )
        expected = upfront(cladding) / face + upfront(frame) / frame_area + upfront(lining) / lining_area
        assert together(detail)[0] == f"{expected:.1f}"
        cost = sum(
            sum(line.cost for line in lines) / area
            for lines, area in ((cladding, face), (frame, frame_area), (lining, lining_area))
        )
        assert together(detail)[2] == f"{cost:.0f}"


def test_the_carbon_of_a_roof_is_that_of_the_slope_the_membrane_and_its_ceiling(heron: Sheet) -> None:
    result = heron.result
    roof = [line for line in starting(result, "RF.") if not line.quantity.id.startswith("RF.ceiling.")]
    membrane = starting(result, "RF.ceiling.airtight-membrane-vapour-control")
    acoustic = starting(result, "CF.acoustic-ceiling-raked.")
    expected = (
        upfront(roof) / result.measured.areas.roof_slope
        + upfront(membrane) / net(result, "RF.ceiling.airtight-membrane-vapour-control")
        + upfront(acoustic) / net(result, "CF.acoustic-ceiling-raked.plasterboard-12.5-perforated-15")
    )
    (detail,) = [d for d in heron.of("roof") if d.figures.build_ups[1].name == "Acoustic ceiling, raked"]
    assert together(detail)[0] == f"{expected:.1f}"


def test_the_carbon_of_the_floor_is_that_of_all_substructure_over_the_outline(sheet: Sheet) -> None:
    items = starting(sheet.result, "SB.")
    house = sheet.result.design.house
    (detail,) = sheet.of("floor")
    area = house.length * house.span
    stored = sum(line.carbon.stored for line in items) / area
    assert together(detail)[0] == f"{upfront(items) / area:.1f}"
    assert together(detail)[1] == f"{stored:.1f}".replace("-", "−")
    assert together(detail)[2] == f"{sum(line.cost for line in items) / area:.0f}"


def test_frames_of_walls_between_rooms_share_their_items_without_rest(sheet: Sheet) -> None:
    walls = [d.figures for d in (*sheet.of("internal wall"), *sheet.of("party wall"))]
    parts = [part for figures in walls for part in figures.parts if part.name == "frame and layers"]
    whole = sum(part.upfront or 0.0 for part in parts)
    assert whole == pytest.approx(upfront(starting(sheet.result, "IW.")))


def test_the_frame_of_a_party_wall_goes_over_one_face_of_its_two_leaves(demo_folder: Path) -> None:
    job = read_job(demo_folder / "wharf_pair.xlsx")
    pair = sheet_of(job, evaluate(job, job.base, planned=False))
    (wall,) = pair.of("party wall")
    leaves = [frame for frame in pair.result.measured.inside.wall_frames if frame.party]
    faces = sum(frame.face.area - sum(o.opening.area for o in frame.openings) for frame in leaves)
    framing = starting(pair.result, "IW.PW.FR.", "IW.party-wall-two-leaves.")
    lining = starting(pair.result, "WF.IW.party-wall-two-leaves.")
    boards = net(pair.result, "WF.IW.party-wall-two-leaves.plasterboard-16-fire-rated")
    expected = upfront(framing) / (faces / 2) + 2 * upfront(lining) / boards
    assert together(wall)[0] == f"{expected:.1f}"


def test_joists_of_flat_ceilings_share_their_items_without_rest(sheet: Sheet) -> None:
    joists = [
        line.carbon.upfront * share
        for detail in sheet.of("roof")
        for part in detail.figures.parts
        for line, share in part.shares
        if line.quantity.id.startswith("CF.FR.")
    ]
    assert sum(joists) == pytest.approx(upfront(starting(sheet.result, "CF.FR.")))


def test_the_sum_of_a_table_is_that_of_its_parts(sheet: Sheet) -> None:
    for detail in sheet.details:
        parts = [part.each(part.upfront) or 0.0 for part in detail.figures.parts]
        assert detail.figures.upfront == pytest.approx(sum(parts))


def test_material_without_a_carbon_factor_is_named(job: Job) -> None:
    name = "Airtight tape"
    carbon = {key: factor for key, factor in job.library.carbon.items() if key != name}
    job = replace(job, library=replace(job.library, carbon=carbon))
    wall = sheet_of(job, evaluate(job, job.base, planned=False)).of("external wall")[0]
    assert f"Carbon not assessed: {name}." in " ".join(texts(wall.root))


def test_a_build_up_with_a_part_that_is_not_assessed_has_no_sum(job: Job) -> None:
    lining = {"Plasterboard 12.5", "Interior paint, water-based", "Skirting, softwood 90 x 18"}
    lining |= {"Shadow-line trim, galvanised steel"}
    carbon = {key: factor for key, factor in job.library.carbon.items() if key not in lining}
    works = {key: replace(work, site_carbon=None) for key, work in job.library.works.items()}
    job = replace(job, library=replace(job.library, carbon=carbon, works=works))
    wall = sheet_of(job, evaluate(job, job.base, planned=False)).of("external wall")[0]
    assert together(wall)[0] == "not assessed"
    assert wall.figures.upfront is None


def test_a_lining_that_no_room_has_is_left_out_and_said_to_be(heron: Sheet) -> None:
    (wall,) = [each for each in heron.of("internal wall") if each.figures.name == "Wet wall 90"]
    assert "Left out: its own lining" in " ".join(texts(wall.root))
    assert [part.name for part in wall.figures.parts] == ["frame and layers"]


# --- the sheets --------------------------------------------------------------------------------------


def test_no_lettering_overlaps_and_none_leaves_the_sheet(sheet: Sheet) -> None:
    for detail in sheet.details:
        assert overlapping(detail.root) == [], detail.figures.name
        assert outside(detail.root) == [], detail.figures.name


def test_lettering_keeps_apart_with_brick_and_panel(job: Job) -> None:
    other = sheet_of(job, evaluate(job, job.option("Brick and panel"), planned=False))
    for detail in other.details:
        assert overlapping(detail.root) == []
        assert outside(detail.root) == []


def test_titles_name_the_build_up_and_descriptions_its_layers(sheet: Sheet) -> None:
    for detail in sheet.details:
        title = detail.root.findtext(f"{SVG}title")
        desc = detail.root.findtext(f"{SVG}desc") or ""
        assert title == detail.drawing.title
        assert title is not None
        assert title.startswith(f"Detail {detail.letter}: {detail.figures.kind}, {detail.figures.name}")
        assert all(layer.material in desc for _, layer in detail.figures.layers)


def test_ids_are_distinct_over_all_drawings_of_a_house(sheet: Sheet) -> None:
    cut = section(sheet.result, sheet.job.library, paper_width_mm=180.0, id_prefix="section")
    roots = [root_of(cut.svg), *(detail.root for detail in sheet.details)]
    ids = [e.get("id", "") for root in roots for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_all_drawings_of_a_house_take_less_than_300_kb(sheet: Sheet) -> None:
    cut = section(sheet.result, sheet.job.library, paper_width_mm=180.0, id_prefix="section")
    drawings = [cut, *(detail.drawing for detail in sheet.details)]
    assert sum(len(each.svg.encode()) for each in drawings) < 300_000


def test_hatch_lines_stay_within_their_outline() -> None:
    square = [(0.0, 0.0), (0.0, 10.0), (10.0, 10.0), (10.0, 0.0)]
    lines = list(diagonals(square, 2.0, rising=True))
    assert lines
    for x1, y1, x2, y2 in lines:
        assert all(-1e-9 <= place <= 10 + 1e-9 for place in (x1, y1, x2, y2))
        assert abs(x2 - x1) == pytest.approx(abs(y2 - y1))


def test_letters_leave_out_those_that_read_as_figures(heron: Sheet) -> None:
    letters = letters_of([heron.details[0].figures] * 30)
    assert letters[:10] == ("A", "B", "C", "D", "E", "F", "G", "H", "J", "K")
    assert letters[24:26] == ("AA", "AB")
