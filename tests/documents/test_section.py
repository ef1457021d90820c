"""The section: where it is cut, true scale of everything that is cut, its levels, letters and lettering."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from drawn_svg import by_id, corners, extent, outside, overlapping, root_of, texts

from takeoff.compare.build_up_figures import build_up_figures
from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.drawings import Drawing, section
from takeoff.documents.drawings.build_up_keys import letters_of
from takeoff.documents.drawings.section_levels import Level, draw_levels
from takeoff.documents.drawings.section_line import SectionLine, line_at, section_line
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

# A thousandth of a millimetre of paper, to which coordinates are written, and some for sums of two.
PAPER = 0.003
DEMOS = ("heron_bank", "dune_studio", "wharf_pair")


@dataclass(frozen=True)
class Sheet:
    """A house, its section and what is drawn of it."""

    job: Job
    result: Result
    drawing: Drawing
    root: ET.Element
    line: SectionLine

    @property
    def house(self) -> Any:
        return self.result.design.house

    def part(self, name: str) -> ET.Element:
        return by_id(self.root, f"cut-{name}")

    def metres(self, paper_mm: float) -> float:
        return paper_mm * self.drawing.scale / 1000

    @property
    def tolerance(self) -> float:
        return self.metres(PAPER)

    @property
    def zero(self) -> float:
        """The height of floor level on paper."""
        return max(y for _, y in corners(self.part("frame-low")))

    def words(self, name: str) -> list[str]:
        return texts(self.part(name))


def sheet_of(job: Job, result: Result) -> Sheet:
    drawing = section(result, job.library, paper_width_mm=180.0, id_prefix="cut", name=job.project.name)
    return Sheet(job, result, drawing, root_of(drawing.svg), section_line(result))


@pytest.fixture(scope="module", params=DEMOS)
def sheet(request: pytest.FixtureRequest, demo_folder: Path) -> Sheet:
    job = read_job(demo_folder / f"{request.param}.xlsx")
    return sheet_of(job, evaluate(job, job.base, planned=False))


# --- where it is cut ---------------------------------------------------------------------------------


def test_the_cut_goes_through_an_opening_of_each_long_wall(sheet: Sheet) -> None:
    length = sheet.house.length
    assert sheet.line.low is not None
    assert sheet.line.high is not None
    assert sheet.line.low.position < sheet.line.x < sheet.line.low.right
    # seen from outside, the high wall runs from the right end of the house to the left
    assert sheet.line.high.position < length - sheet.line.x < sheet.line.high.right


def test_the_cut_keeps_clear_of_walls_that_run_along_it(sheet: Sheet) -> None:
    for run in sheet.result.measured.inside.runs:
        if run.axis == "y":
            assert abs(run.at - sheet.line.x) > run.depth / 2


def test_the_cut_keeps_a_little_away_from_a_wall_beside_it(job: Job) -> None:
    # the only window has its middle at 8.25 m; the wall between living room and bedroom now stands beside it
    design = job.design
    edges = {"Living and kitchen": {"to_x": 8.40}, "Bedroom 1": {"from_x": 8.40}}
    rooms = tuple(replace(room, **edges.get(room.name, {})) for room in design.rooms)
    doors = tuple(replace(d, position=10.0) if d.mark == "D15" else d for d in design.internal_doors)
    openings = tuple(opening for opening in design.openings if opening.mark == "W07")
    design = replace(design, rooms=rooms, internal_doors=doors, openings=openings)
    moved = replace(job, design=design, overrides=())
    line = section_line(evaluate(moved, moved.base, planned=False))
    assert line.low is not None
    assert line.low.mark == "W07"
    # half of the frame, and 120 mm clear of it
    assert abs(line.x - 8.40) > 0.09 / 2 + 0.12


def test_the_rooms_cut_lie_one_behind_the_other_between_the_external_walls(sheet: Sheet) -> None:
    edges = [edge for room in sheet.line.rooms for edge in (room.start, room.end)]
    assert edges == sorted(edges)
    assert edges[0] > sheet.house.stud_depth
    assert edges[-1] < sheet.house.span - sheet.house.stud_depth
    for room in sheet.line.rooms:
        assert any(
            box.from_x < sheet.line.x < box.to_x and box.from_y - 1e-9 <= room.start < room.end
            for box in room.zone.boxes
        )


def test_a_place_can_be_given_and_the_caption_says_it(sheet: Sheet) -> None:
    assert f"Section at x = {sheet.line.x:.2f} m" in texts(sheet.root)
    other = section(
        sheet.result, sheet.job.library, paper_width_mm=180.0, id_prefix="cut", at=sheet.line.x + 0.01
    )
    assert f"Section at x = {sheet.line.x + 0.01:.2f} m" in texts(root_of(other.svg))
    assert line_at(sheet.result, sheet.line.x) == sheet.line


# --- true scale --------------------------------------------------------------------------------------


def test_the_span_is_true(sheet: Sheet) -> None:
    low, high = extent(sheet.part("frame-low")), extent(sheet.part("frame-high"))
    assert sheet.metres(high.right - low.left) == pytest.approx(sheet.house.span, abs=sheet.tolerance)


def test_the_low_wall_is_true_to_its_height_and_the_high_one_to_low_height_and_pitch(sheet: Sheet) -> None:
    rise = sheet.house.span * math.tan(math.radians(sheet.house.pitch))
    for side, outer, height in (
        ("low", min, sheet.house.low_height),
        ("high", max, sheet.house.low_height + rise),
    ):
        points = corners(sheet.part(f"frame-{side}"))
        edge = outer(x for x, _ in points)
        heights = [y for x, y in points if x == pytest.approx(edge, abs=PAPER)]
        assert sheet.metres(max(heights) - min(heights)) == pytest.approx(height, abs=sheet.tolerance)


def test_studs_are_as_deep_as_the_house_has_them(sheet: Sheet) -> None:
    for side in ("low", "high"):
        wide = extent(sheet.part(f"frame-{side}")).wide
        assert sheet.metres(wide) == pytest.approx(sheet.house.stud_depth, abs=sheet.tolerance)


def test_the_overhangs_and_the_depth_of_the_rafters_are_true(sheet: Sheet) -> None:
    roof, low, high = (extent(sheet.part(name)) for name in ("rafters", "frame-low", "frame-high"))
    house = sheet.house
    assert sheet.metres(low.left - roof.left) == pytest.approx(house.overhang_low, abs=sheet.tolerance)
    assert sheet.metres(roof.right - high.right) == pytest.approx(house.overhang_high, abs=sheet.tolerance)
    ends = [y for x, y in corners(sheet.part("rafters")) if x == pytest.approx(roof.left, abs=PAPER)]
    upright = house.rafter_depth / math.cos(math.radians(house.pitch))
    assert sheet.metres(max(ends) - min(ends)) == pytest.approx(upright, abs=sheet.tolerance)


def test_the_roof_rises_by_the_pitch(sheet: Sheet) -> None:
    points = corners(sheet.part("rafters"))
    roof = extent(sheet.part("rafters"))
    foot = max(y for x, y in points if x == pytest.approx(roof.left, abs=PAPER))
    head = max(y for x, y in points if x == pytest.approx(roof.right, abs=PAPER))
    assert (foot - head) / roof.wide == pytest.approx(math.tan(math.radians(sheet.house.pitch)), abs=1e-4)


def test_roof_insulation_is_as_thick_as_its_layer(sheet: Sheet) -> None:
    roof = sheet.result.design.build_ups[sheet.house.roof]
    (layer,) = [layer for layer in roof.layers if layer.measured_by == "between rafters"]
    insulation = extent(sheet.part("roof-insulation"))
    ends = [
        y for x, y in corners(sheet.part("roof-insulation")) if x == pytest.approx(insulation.left, abs=PAPER)
    ]
    upright = (layer.thickness or sheet.house.rafter_depth) / math.cos(math.radians(sheet.house.pitch))
    assert sheet.metres(max(ends) - min(ends)) == pytest.approx(upright, abs=sheet.tolerance)


def test_walls_are_as_thick_as_their_layers(sheet: Sheet) -> None:
    materials = sheet.job.library.materials
    design = sheet.result.design
    for side, sign in (("low", 1), ("high", -1)):
        cladding = design.build_ups[getattr(design.palette, side)]
        # boards and sheets with the battens behind them; a still air layer has its own thickness
        skin = sum(
            layer.thickness or materials[layer.material].thickness or 0.0
            for layer in cladding.layers
            if layer.measured_by
            in (
                "boards by cover",
                "profiled sheet by cover",
                "panels",
                "masonry units",
                "battens at spacing",
                "still air layer",
            )
        )
        face = sheet.line.rooms[0].start if side == "low" else sheet.house.span - sheet.line.rooms[-1].end
        outer = corners(sheet.part(f"outside-{side}"))[0][0]
        inner = corners(sheet.part(f"face-{side}"))[0][0]
        assert sheet.metres(sign * (inner - outer)) == pytest.approx(skin + face, abs=sheet.tolerance)


def test_the_layers_of_a_cladding_lie_one_on_the_other_from_the_frame_out(sheet: Sheet) -> None:
    frame = extent(sheet.part("frame-low"))
    drawn = [extent(e) for e in sheet.root.iter() if e.get("id", "").startswith("cut-skin-low-")]
    outer = corners(sheet.part("outside-low"))[0][0]
    edges = sorted({(round(patch.left, 2), round(patch.right, 2)) for patch in drawn}, reverse=True)
    assert edges[0][1] == pytest.approx(frame.left, abs=0.01)
    assert edges[-1][0] == pytest.approx(outer, abs=0.01)
    for one, other in pairwise(edges):
        assert one[0] == pytest.approx(other[1], abs=0.011)


def test_walls_between_rooms_stand_where_they_are_and_are_as_deep_as_their_studs(sheet: Sheet) -> None:
    origin = extent(sheet.part("frame-low")).left
    cut = [
        frame
        for frame in sheet.result.measured.inside.wall_frames
        if frame.start < sheet.line.x < frame.end
        and any(run.mark == frame.run and run.axis == "x" for run in sheet.result.measured.inside.runs)
    ]
    assert len(cut) >= len(sheet.line.rooms) - 1
    for frame in cut:
        drawn = extent(sheet.part(f"wall-{frame.run}-{frame.across:.3f}"))
        assert sheet.metres(drawn.middle[0] - origin) == pytest.approx(frame.across, abs=sheet.tolerance)
        assert sheet.metres(drawn.wide) == pytest.approx(0.09, abs=sheet.tolerance)


def test_the_floor_reaches_from_floor_level_to_the_foot_of_its_beams_or_joists(sheet: Sheet) -> None:
    floor = extent(sheet.part("slab"))
    house = sheet.house
    # a slab goes down to the foot of its beams; 19 mm of flooring lies on joists
    suspended = sheet.result.measured.floor_frame is not None
    deep = 0.019 + house.floor_joist_depth if suspended else house.edge_beam_depth
    assert floor.top == pytest.approx(sheet.zero, abs=PAPER)
    assert sheet.metres(floor.high) == pytest.approx(deep, abs=sheet.tolerance)
    assert sheet.metres(floor.wide) == pytest.approx(house.span, abs=sheet.tolerance)


def test_the_ground_lies_below_floor_level_as_the_house_has_it(sheet: Sheet) -> None:
    ground = extent(sheet.part("ground"))
    assert sheet.metres(ground.top - sheet.zero) == pytest.approx(
        sheet.house.floor_above_ground, abs=sheet.tolerance
    )


# --- figures -----------------------------------------------------------------------------------------


def test_span_and_overhangs_are_written_in_their_string(sheet: Sheet) -> None:
    house = sheet.house
    assert sheet.words("span") == [
        f"{house.overhang_low:.2f}",
        f"{house.span:.2f}",
        f"{house.overhang_high:.2f}",
    ]


def test_clear_widths_and_walls_add_up_to_the_house_over_its_cladding(sheet: Sheet) -> None:
    outer = (corners(sheet.part(f"outside-{side}"))[0][0] for side in ("low", "high"))
    low, high = outer
    figures = [float(word) for word in sheet.words("clear-widths")]
    assert len(figures) == 2 * len(sheet.line.rooms) + 1
    assert sum(figures) == pytest.approx(sheet.metres(high - low), abs=0.0005 * len(figures))


def test_levels_of_floor_ground_plates_and_ceilings_are_written(sheet: Sheet) -> None:
    house = sheet.house
    words = texts(sheet.root)
    high = house.low_height + house.span * math.tan(math.radians(house.pitch))
    assert words.count("Floor 0.00") == 2
    assert words.count(f"Ground −{house.floor_above_ground:.2f}") == 2
    assert f"Top plate {house.low_height:.2f}" in words
    assert f"Top plate {high:.2f}" in words
    assert sum(word.startswith("Ceiling ") for word in words) == 2
    first = sheet.line.rooms[0]
    if first.zone.flat_height is not None:
        assert f"Ceiling {first.zone.flat_height:.2f}" in words


def test_the_clear_height_of_a_flat_ceiling_is_its_own(sheet: Sheet) -> None:
    for index, room in enumerate(sheet.line.rooms, start=1):
        if room.zone.flat_height is not None:
            assert sheet.words(f"clear-{index}-1") == [f"{room.zone.flat_height:.2f}"]


def test_the_pitch_is_written(sheet: Sheet) -> None:
    assert sheet.part("pitch").text == f"{sheet.house.pitch:g}°"


def test_close_levels_are_moved_apart_and_marked_where_they_are() -> None:
    drawn = draw_levels(
        [Level("Top plate", 2.70), Level("Ceiling", 2.67), Level("Floor", 0.0)],
        near=50.0,
        outwards=1,
        zero=60.0,
        scale=100,
        id_prefix="level",
    )
    root = ET.fromstring(f"<svg>{''.join(drawn)}</svg>")
    baselines = [float(e.get("y", "")) for e in root.iter("text")]
    assert baselines[1] - baselines[0] >= 3.2 - 1e-6
    # 2.70 m is 27 mm and 2.67 m 26.7 mm above floor level at 1:100
    starts = [
        float((e.get("d") or "").split()[1].split("L")[0].split("H")[0]) for e in list(root.iter("path"))[::2]
    ]
    assert starts == pytest.approx([60.0 - 27.0, 60.0 - 26.7, 60.0])


def test_letters_are_those_of_the_details_and_are_told_in_the_caption(sheet: Sheet) -> None:
    figures = build_up_figures(sheet.result, sheet.job.library)
    known = dict(zip(letters_of(figures), figures, strict=True))
    letters = [word for word in texts(sheet.root) if word in known]
    caption = " ".join(texts(sheet.root))
    kinds = {known[letter].kind for letter in letters}
    assert {"external wall", "roof", "floor"} <= kinds
    for letter in letters:
        assert f"{letter} {known[letter].kind}, {known[letter].name}" in caption


def test_every_room_that_is_cut_is_named(sheet: Sheet) -> None:
    words = texts(sheet.root)
    for room in sheet.line.rooms:
        assert room.zone.room.name in words


# --- the sheet ---------------------------------------------------------------------------------------


def test_no_lettering_overlaps_and_none_leaves_the_sheet(sheet: Sheet) -> None:
    assert overlapping(sheet.root) == []
    assert outside(sheet.root) == []


def test_nothing_drawn_leaves_the_sheet(sheet: Sheet) -> None:
    _, _, wide, high = (float(n) for n in sheet.root.get("viewBox", "").split())
    for element in sheet.root.iter("{http://www.w3.org/2000/svg}path"):
        if (
            "C" in (element.get("d") or "")
            or "l" in (element.get("d") or "")
            or "h" in (element.get("d") or "")
        ):
            continue
        patch = extent(element)
        assert patch.left >= -1e-6
        assert patch.top >= -1e-6
        assert patch.right <= wide + 1e-6
        assert patch.bottom <= high + 1e-6


def test_title_and_description_name_the_section(sheet: Sheet) -> None:
    namespace = "{http://www.w3.org/2000/svg}"
    title, desc = sheet.root.findtext(f"{namespace}title"), sheet.root.findtext(f"{namespace}desc")
    assert title == sheet.drawing.title
    assert title is not None
    assert title.startswith(f"Section of {sheet.job.project.name} at x = {sheet.line.x:.2f} m")
    assert desc is not None
    assert f"Section at 1:{sheet.drawing.scale}" in desc
    assert sheet.line.low is not None
    assert sheet.line.low.mark in desc


def test_every_id_is_there_once_and_begins_with_the_prefix(sheet: Sheet) -> None:
    ids = [e.get("id", "") for e in sheet.root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert all(name == "cut" or name.startswith("cut-") for name in ids)


def test_a_steeper_roof_is_drawn_steeper(sheet: Sheet) -> None:
    design = replace(sheet.job.design, house=replace(sheet.job.design.house, pitch=12.0))
    job = replace(sheet.job, design=design)
    steeper = sheet_of(job, evaluate(job, job.base, planned=False))
    points = corners(steeper.part("frame-high"))
    edge = max(x for x, _ in points)
    heights = [y for x, y in points if x == pytest.approx(edge, abs=PAPER)]
    high = sheet.house.low_height + sheet.house.span * math.tan(math.radians(12.0))
    assert steeper.metres(max(heights) - min(heights)) == pytest.approx(high, abs=steeper.tolerance)
    assert overlapping(steeper.root) == []
    assert outside(steeper.root) == []
