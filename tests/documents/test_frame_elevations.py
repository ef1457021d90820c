"""Framing drawings: every stick of walls, roof and floor drawn once and to scale, every mark told, nothing overlaps."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise
from pathlib import Path

import pytest
from drawn_svg import by_id, extent, outside, overlapping, root_of, texts

from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.drawings.frame_elevation import frame_elevations
from takeoff.documents.drawings.frame_elevation_walls import FramedWall, framed_walls, stretches
from takeoff.documents.drawings.frame_floor_plan import frame_floor_plan
from takeoff.documents.drawings.frame_marks import MARK_PITCH, RowMark, in_a_row, in_runs, own_mark
from takeoff.documents.drawings.frame_roof_plan import frame_roof_plan
from takeoff.documents.drawings.paper import Drawing
from takeoff.documents.drawings.places import Patch
from takeoff.documents.pdf_drawings import lift_drawings
from takeoff.framing.internal_walls import InternalFrame
from takeoff.framing.member import Member
from takeoff.framing.walls import WallFrame
from takeoff.workbook.reading import read_job

DEMOS = ("heron_bank", "dune_studio", "wharf_pair")
# A thousandth of a millimetre of paper, to which coordinates are written, at both ends of a length.
PAPER = 0.0021


@dataclass
class Sheets:
    """A house and its framing drawings."""

    name: str
    result: Result
    elevations: Sequence[Drawing]
    roof: Drawing
    floor: Drawing | None

    @cached_property
    def all(self) -> list[tuple[Drawing, ET.Element]]:
        drawings = [*self.elevations, self.roof, *([self.floor] if self.floor else [])]
        return [(drawing, root_of(drawing.svg)) for drawing in drawings]

    @cached_property
    def walls(self) -> dict[str, list[tuple[Drawing, ET.Element]]]:
        """The groups of each wall, by its mark: more than one where it is drawn in stretches."""
        found: dict[str, list[tuple[Drawing, ET.Element]]] = {}
        for drawing, root in self.all[: len(self.elevations)]:
            for group in root.iter():
                name = re.fullmatch(r"framing-\d+-([A-Z]{2}|I\d+[a-z])", group.get("id", ""))
                if name:
                    found.setdefault(name[1], []).append((drawing, group))
        return found

    def frames(self) -> Iterator[tuple[str, tuple[Member, ...]]]:
        """The sticks of every wall with its mark."""
        frames: list[WallFrame | InternalFrame] = [*self.result.measured.wall_frames]
        frames += self.result.measured.inside.wall_frames
        for frame in frames:
            yield frame.members[0].mark.rpartition("-")[0], frame.members

    def extents(self, wall: str) -> list[tuple[Drawing, dict[str, Patch]]]:
        """The paper that each stick of a wall takes, by its mark, in each drawing of it."""
        return [(drawing, stick_extents(group)) for drawing, group in self.walls[wall]]


def stick_extents(group: ET.Element) -> dict[str, Patch]:
    found = {}
    for element in group.iter():
        mark = re.fullmatch(r".*-([A-Z]{1,2}\d{2,})", element.get("id", ""))
        if mark and element.get("d"):
            found[mark[1]] = extent(element)
    return found


def told(group: ET.Element) -> list[str]:
    """Every mark that is written, those of runs one by one."""
    marks = []
    for text in texts(group):
        for part in re.split(r", | over |; |: |\.$", text):
            run = re.fullmatch(r"([A-Z]{1,2})(\d{2,})-([A-Z]{1,2})(\d{2,})", part)
            if run:
                width = len(run[2])
                marks += [f"{run[1]}{n:0{width}d}" for n in range(int(run[2]), int(run[4]) + 1)]
            elif re.fullmatch(r"[A-Z]{1,2}\d{2,}", part):
                marks.append(part)
    return marks


@cache
def _house(name: str) -> Sheets:
    job = read_job(Path(__file__).parents[2] / "demo_projects" / f"{name}.xlsx")
    result = evaluate(job, job.base, planned=False)
    return Sheets(
        name=name,
        result=result,
        elevations=frame_elevations(result, paper_width_mm=180, id_prefix="framing", name="Test house"),
        roof=frame_roof_plan(result, job.library, paper_width_mm=180, id_prefix="roof", name="Test house"),
        floor=frame_floor_plan(result, paper_width_mm=180, id_prefix="floor", name="Test house"),
    )


@pytest.fixture(params=DEMOS)
def sheets(request: pytest.FixtureRequest) -> Sheets:
    return _house(request.param)


def test_all_walls_of_a_house_are_drawn_to_one_scale(sheets: Sheets) -> None:
    # 7.2 m fit 180 mm at 1:50, 12 m at 1:75; 18 m are drawn at 1:75 in two stretches.
    expected = {"heron_bank": 75, "dune_studio": 50, "wharf_pair": 75}[sheets.name]
    assert {drawing.scale for drawing in sheets.elevations} == {expected}
    parted = {wall for wall, groups in sheets.walls.items() if len(groups) > 1}
    assert parted == ({"LO", "HI"} if sheets.name == "wharf_pair" else set())


def test_every_wall_frame_is_drawn(sheets: Sheets) -> None:
    assert set(sheets.walls) == {wall for wall, _ in sheets.frames()}


def test_every_seen_stick_of_a_wall_is_drawn_once(sheets: Sheets) -> None:
    for wall, members in sheets.frames():
        seen = Counter(own_mark(m.mark) for m in members if m.seen_width > 0)
        drawn = Counter(mark for _, sticks in sheets.extents(wall) for mark in sticks)
        # only plates run on from one stretch of a wall to the next
        again = drawn - seen
        assert drawn.keys() == seen.keys()
        assert all(mark[:2] in ("TP", "BP") for mark in again), (wall, again)


def test_a_plate_drawn_in_two_stretches_has_its_whole_length(sheets: Sheets) -> None:
    for wall, members in sheets.frames():
        for plate in (m for m in members if m.use == "bottom plate"):
            mark = own_mark(plate.mark)
            pieces = [(d, s[mark]) for d, s in sheets.extents(wall) if mark in s]
            paper = sum(patch.wide for _, patch in pieces)
            assert paper == pytest.approx(plate.length * 1000 / pieces[0][0].scale, abs=2 * PAPER)


def test_sticks_have_their_size_and_place_to_scale(sheets: Sheets) -> None:
    cosine = math.cos(math.radians(sheets.result.design.house.pitch))
    for wall, members in sheets.frames():
        model = {own_mark(m.mark): m for m in members}
        for drawing, sticks in sheets.extents(wall):
            first = next(mark for mark in sticks if model[mark].run == "upright")
            for mark, patch in sticks.items():
                member, scale = model[mark], 1000 / drawing.scale
                if member.use in ("bottom plate", "top plate"):
                    continue
                long = member.length * scale
                thick = (member.depth if member.use == "lintel" else member.thickness) * scale
                wide, high = (thick, long) if member.run == "upright" else (long, thick)
                assert patch.wide == pytest.approx(wide, abs=PAPER), (wall, mark)
                assert patch.high == pytest.approx(high, abs=PAPER), (wall, mark)
                along = patch.middle[0] - sticks[first].middle[0]
                up = sticks[first].middle[1] - patch.middle[1]
                assert along == pytest.approx((member.s - model[first].s) * scale, abs=PAPER), (wall, mark)
                assert up == pytest.approx((member.z - model[first].z) * scale, abs=PAPER), (wall, mark)
            for mark, patch in sticks.items():
                if model[mark].run == "rake":
                    plate = model[mark]
                    # a plate on the slope is as deep upright as its thickness over the cosine
                    high = plate.length * math.sqrt(1 - cosine**2) + plate.thickness / cosine
                    assert patch.wide == pytest.approx(plate.length * cosine * scale, abs=PAPER)
                    assert patch.high == pytest.approx(high * scale, abs=PAPER)


def test_the_first_and_last_stud_are_flush_with_the_ends(sheets: Sheets) -> None:
    for wall, members in sheets.frames():
        studs = [own_mark(m.mark) for m in members if m.use == "stud"]
        plates = {
            mark: patch for _, s in sheets.extents(wall) for mark, patch in s.items() if mark[:2] == "TP"
        }
        first, last = sheets.extents(wall)[0][1], sheets.extents(wall)[-1][1]
        assert first[studs[0]].left == pytest.approx(first["TP01"].left, abs=PAPER)
        right = max(patch.right for mark, patch in last.items() if mark in plates)
        assert last[studs[-1]].right == pytest.approx(right, abs=PAPER)


def test_openings_are_as_wide_between_the_studs_under_their_lintels(sheets: Sheets) -> None:
    for frame in sheets.result.measured.wall_frames:
        wall = frame.members[0].mark.rpartition("-")[0]
        inner = iter([own_mark(m.mark) for m in frame.members if m.use == "stud under lintel"])
        for framed in frame.openings:
            pairs = [(next(inner), next(inner)) for _ in range(framed.studs_under)]
            if not pairs:
                continue
            left, right = pairs[0]
            (drawing, sticks) = next((d, s) for d, s in sheets.extents(wall) if left in s)
            clear = sticks[right].left - sticks[left].right
            assert clear == pytest.approx(framed.opening.width * 1000 / drawing.scale, abs=PAPER)


def test_every_mark_of_a_wall_is_told_once_where_it_is_drawn(sheets: Sheets) -> None:
    for wall, members in sheets.frames():
        written = [told(group) for _, group in sheets.walls[wall]]
        openings = {text for _, group in sheets.walls[wall] for text in texts(group) if text[0] in "WD"}
        for marks in written:
            twice = {mark for mark, number in Counter(marks).items() if number > 1}
            assert not twice, (wall, twice)
        every = {mark for marks in written for mark in marks} - openings
        assert every == {own_mark(m.mark) for m in members}, wall


def test_nothing_has_to_be_told_in_words_for_want_of_room(sheets: Sheets) -> None:
    for drawing, root in sheets.all:
        assert not [text for text in texts(root) if text.startswith("Without room")], drawing.title


def test_the_list_under_a_wall_counts_its_pieces() -> None:
    sheets = _house("heron_bank")
    # LO: two plies each over a window of 1.8 m (170 deep) and over the three narrower openings (140 deep)
    words = " ".join(texts(sheets.all[0][1]))
    assert "S stud 170 x 45: 15;" in words
    assert "L lintel 170 x 45 (Softwood framing, structural): 2;" in words
    assert "L lintel 140 x 45 (Softwood framing, structural): 6;" in words
    assert "studs at 450 mm centres" in words
    assert "Openings: W06 1.80 × 0.90, sill 1.10; D03 1.02 × 2.10;" in words


def test_internal_walls_say_from_which_side_they_are_seen(sheets: Sheets) -> None:
    runs = {run.mark: run for run in sheets.result.measured.inside.runs}
    for wall in framed_walls(sheets.result):
        if wall.outer:
            assert wall.seen == "outside"
        else:
            side = "low" if runs[wall.mark[:-1]].axis == "x" else "right"
            assert wall.seen == f"the {side} side of the house"


def test_a_steel_lintel_is_dark_and_has_no_cross() -> None:
    sheets = _house("wharf_pair")
    steel = [
        m for _, members in sheets.frames() for m in members if m.material in sheets.result.measured.steel
    ]
    assert [m.mark for m in steel] == ["HI-L05"]
    (group,) = [
        g
        for _, root in sheets.all
        for g in root.iter()
        if g.get("fill") == "#7c7e82" and g.tag.endswith("}g")
    ]
    assert [e.get("id", "")[-6:] for e in group] == ["HI-L05"]


def test_a_wall_is_cut_at_common_studs_into_stretches_that_fit(sheets: Sheets) -> None:
    wall = max(framed_walls(sheets.result), key=lambda w: w.width)
    parts = stretches(wall, wall.width / 1.7)
    assert len(parts) >= 2
    assert [p.start for p in parts[1:]] == [p.end for p in parts[:-1]]
    assert (parts[0].start, parts[-1].end) == (0.0, wall.face.width)
    assert all(p.width <= wall.width / 1.7 + 1e-9 for p in parts)
    faces = [m.s - m.thickness / 2 for m in wall.members if m.use == "stud"]
    for part in parts[1:]:
        assert min(abs(face - part.start) for face in faces) < 1e-9
    assert _drawn_but_plates(parts) == _drawn_but_plates([wall])


def _drawn_but_plates(parts: Sequence[FramedWall]) -> Counter[str]:
    return Counter(
        s.member.mark
        for part in parts
        for s in part.sticks()
        if s.member.use not in ("top plate", "bottom plate")
    )


def test_rafters_are_drawn_with_their_length_on_plan(sheets: Sheets) -> None:
    house, drawing = sheets.result.design.house, sheets.roof
    sticks, cosine = stick_extents(root_of(drawing.svg)), math.cos(math.radians(house.pitch))
    members = sheets.result.measured.roof_frame.members
    assert set(sticks) == {own_mark(m.mark) for m in members}
    scale, first = 1000 / drawing.scale, members[0]
    origin = sticks[own_mark(first.mark)]
    for member in members:
        patch = sticks[own_mark(member.mark)]
        long, wide = member.length * scale, member.thickness * scale
        expected = (wide, long * cosine) if member.run == "slope" else (long, wide * cosine)
        assert (patch.wide, patch.high) == pytest.approx(expected, abs=PAPER), member.mark
        along, up = patch.middle[0] - origin.middle[0], origin.middle[1] - patch.middle[1]
        assert along == pytest.approx((member.s - first.s) * scale, abs=PAPER), member.mark
        assert up == pytest.approx((member.z - first.z) * cosine * scale, abs=PAPER), member.mark


def test_the_walls_under_the_roof_are_the_outline_of_the_frame(sheets: Sheets) -> None:
    house, root, scale = sheets.result.design.house, root_of(sheets.roof.svg), 1000 / sheets.roof.scale
    walls, sticks = extent(by_id(root, "roof-walls")), stick_extents(root)
    assert walls.wide == pytest.approx(house.length * scale, abs=PAPER)
    assert walls.high == pytest.approx(house.span * scale, abs=PAPER)
    # the first rafter is flush with the outside of the left wall and starts at the low eave
    assert sticks["R01"].left == pytest.approx(walls.left, abs=PAPER)
    assert sticks["R01"].bottom - walls.bottom == pytest.approx(house.overhang_low * scale, abs=PAPER)
    for number, y in enumerate(house.support_lines, 1):
        line = extent(by_id(root, f"roof-support-{number}"))
        assert walls.bottom - line.bottom == pytest.approx(y * scale, abs=PAPER)


def test_every_mark_of_the_roof_is_told_once(sheets: Sheets) -> None:
    marks = Counter(told(root_of(sheets.roof.svg)))
    assert marks == Counter(own_mark(m.mark) for m in sheets.result.measured.roof_frame.members)


def test_the_roof_says_its_fall_and_that_battens_are_drawn_in_a_patch(sheets: Sheets) -> None:
    words = " ".join(texts(root_of(sheets.roof.svg)))
    assert f"fall {sheets.result.design.house.pitch:g}°" in words
    assert (
        "Battens at 900 mm centres at most, drawn over three bays only. Roof sheets are not drawn." in words
    )
    assert "Rafters at 600 mm centres" in words


def test_battens_of_the_patch_have_their_width_and_centres_to_scale(sheets: Sheets) -> None:
    house, root, scale = sheets.result.design.house, root_of(sheets.roof.svg), 1000 / sheets.roof.scale
    cosine, eave = math.cos(math.radians(house.pitch)), stick_extents(root)["R01"].bottom
    battens = [extent(e) for e in by_id(root, "roof-battens")]
    assert len(battens) >= 2
    for patch in battens:
        # battens 70 wide, three bays of 600 mm long
        assert (patch.wide, patch.high) == pytest.approx((1.8 * scale, 0.07 * cosine * scale), abs=PAPER)
        # centres at 900 mm on the slope, from the low end of the rafters
        rows = (eave - patch.middle[1]) / scale / cosine / 0.9
        assert rows == pytest.approx(round(rows), abs=PAPER / scale)


def test_only_a_suspended_floor_has_a_drawing(sheets: Sheets) -> None:
    assert (sheets.floor is None) == (sheets.result.measured.floor_frame is None)


def test_every_stick_and_stump_of_the_floor_is_drawn_to_scale() -> None:
    sheets = _house("dune_studio")
    floor, drawing = sheets.result.measured.floor_frame, sheets.floor
    assert floor is not None
    assert drawing is not None
    root, scale = root_of(drawing.svg), 1000 / drawing.scale
    sticks = stick_extents(root)
    assert Counter(told(root)) == Counter(own_mark(m.mark) for m in floor.members) == Counter(list(sticks))
    for member in floor.members:
        patch = sticks[own_mark(member.mark)]
        size = (
            (member.thickness, member.length) if member.run == "slope" else (member.length, member.thickness)
        )
        expected = (size[0] * scale, size[1] * scale)
        assert (patch.wide, patch.high) == pytest.approx(expected, abs=PAPER), member.mark
    corner = sticks["FJ01"]
    dots = [
        e
        for e in root.iter()
        if e.tag.endswith("}circle") and e.get("fill") == "#1f2023" and e.get("r") == "0.75"
    ]
    drawn = sorted(
        ((float(e.get("cx", "")) - corner.left) / scale, (corner.bottom - float(e.get("cy", ""))) / scale)
        for e in dots
    )
    assert len(drawn) == len(floor.stumps)
    for here, there in zip(drawn, sorted(floor.stumps), strict=True):
        assert here == pytest.approx(there, abs=PAPER / scale)


def test_no_lettering_overlaps_and_none_leaves_the_sheet(sheets: Sheets) -> None:
    for drawing, root in sheets.all:
        assert overlapping(root) == [], drawing.title
        assert outside(root) == [], drawing.title


def test_every_drawing_has_title_and_description_and_ids_of_its_own(sheets: Sheets) -> None:
    ids: list[str] = []
    for drawing, root in sheets.all:
        title, desc = root[0], root[1]
        assert (title.tag[-5:], desc.tag[-4:]) == ("title", "desc")
        assert title.text == drawing.title
        assert "Test house" in drawing.title
        assert f"at 1:{drawing.scale}" in (desc.text or "")
        assert f"1:{drawing.scale}" in texts(root)
        assert drawing.width_mm == 180
        ids += [e.get("id", "") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_every_drawing_can_be_written_straight_into_a_pdf(sheets: Sheets) -> None:
    page = "".join(drawing.svg for drawing, _ in sheets.all)
    assert len(lift_drawings(page).drawings) == len(sheets.all)


def test_framing_drawings_are_small(sheets: Sheets) -> None:
    assert sum(len(drawing.svg) for drawing, _ in sheets.all) < 350_000


def test_marks_that_follow_one_another_are_written_as_a_run() -> None:
    assert in_runs(["S03", "S04", "S05", "JS01", "JS03"]) == "S03-S05, JS01, JS03"


def test_marks_of_a_crowded_row_move_apart_about_their_middle() -> None:
    row = [RowMark(10.0, ("JS01",)), RowMark(10.6, ("US01",)), RowMark(30.0, ("S02",))]
    placed = [x for _, x in in_a_row(row, 0.0, 100.0)]
    # the first two stand one pitch apart about 10.3, the third where it belongs
    assert placed == pytest.approx([10.3 - MARK_PITCH / 2, 10.3 + MARK_PITCH / 2, 30.0])


def test_marks_of_a_row_that_is_too_short_are_written_as_runs() -> None:
    row = [RowMark(float(n), (f"S{n:02d}",)) for n in range(1, 9)]
    placed = in_a_row(row, 0.0, 4 * MARK_PITCH)
    assert len(placed) == 5
    assert [mark for m, _ in placed for mark in m.marks] == [f"S{n:02d}" for n in range(1, 9)]
    places = [x for _, x in placed]
    assert all(b - a >= MARK_PITCH - 1e-9 for a, b in pairwise(places))
    assert places[0] >= 0.0
    assert places[-1] <= 4 * MARK_PITCH + 1e-9
