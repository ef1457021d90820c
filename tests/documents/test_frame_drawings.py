"""All framing drawings of a house: every stick in one of them, marked as in the cutting list; ceilings to scale."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import pytest
from drawn_svg import by_id, corners, extent, outside, overlapping, root_of, texts

from takeoff.compare.evaluate import Result, evaluate
from takeoff.documents.cutting_list_csv import cutting_list_table
from takeoff.documents.drawings import (
    Drawing,
    frame_ceiling_plans,
    frame_elevations,
    frame_floor_plan,
    frame_roof_plan,
)
from takeoff.documents.drawings.frame_elevation_walls import framed_walls
from takeoff.documents.drawings.frame_marks import own_mark
from takeoff.documents.drawings.framing_ceilings import framed_ceilings
from takeoff.documents.drawings.places import Patch
from takeoff.documents.pdf_drawings import lift_drawings
from takeoff.measure.house import measure_house
from takeoff.model.house import Bulkhead, Room
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

DEMOS = ("heron_bank", "dune_studio", "wharf_pair")
# Coordinates are written to a thousandth of a millimetre, at both ends of a length.
PAPER = 0.0021
STICK = re.compile(r".*-([A-Z]{1,2}\d{2,})")


@dataclass(frozen=True)
class Set:
    """A house with all its framing drawings."""

    job: Job
    result: Result
    walls: Sequence[Drawing]
    roof: Drawing
    floor: Sequence[Drawing]
    ceilings: Sequence[Drawing]

    @property
    def all(self) -> list[Drawing]:
        return [*self.walls, self.roof, *self.floor, *self.ceilings]


def drawn(job: Job, result: Result) -> Set:
    paper = 180.0
    floor = frame_floor_plan(result, paper_width_mm=paper, id_prefix="floor", name="Test house")
    return Set(
        job=job,
        result=result,
        walls=frame_elevations(result, paper_width_mm=paper, id_prefix="walls", name="Test house"),
        roof=frame_roof_plan(result, job.library, paper_width_mm=paper, id_prefix="roof", name="Test house"),
        floor=[floor] if floor else [],
        ceilings=frame_ceiling_plans(
            result, job.library, paper_width_mm=paper, id_prefix="ceilings", name="Test house"
        ),
    )


@cache
def _house(name: str) -> Set:
    job = read_job(Path(__file__).parents[2] / "demo_projects" / f"{name}.xlsx")
    return drawn(job, evaluate(job, job.base, planned=False))


@pytest.fixture(params=DEMOS)
def house(request: pytest.FixtureRequest) -> Set:
    return _house(request.param)


def sticks_in(element: ET.Element) -> dict[str, ET.Element]:
    """Every outline of a stick in a drawing or a part of it, by its mark without that of its frame."""
    found = {}
    for outline in element.iter():
        mark = STICK.fullmatch(outline.get("id", ""))
        if mark and outline.get("d"):
            assert mark[1] not in found
            found[mark[1]] = outline
    return found


def marks_drawn(house: Set) -> Counter[str]:
    """The whole mark of every stick outline of a set; a plate cut by the edge of a sheet counts once."""
    found: Counter[str] = Counter()
    by_wall = {wall.mark: wall for wall in framed_walls(house.result)}
    plates: set[str] = set()
    for drawing in house.walls:
        for group in root_of(drawing.svg).iter():
            name = re.fullmatch(r"walls-\d+-(.+)", group.get("id", ""))
            if name is None or name[1] not in by_wall:
                continue
            for mark in sticks_in(group):
                whole = f"{name[1]}-{mark}"
                if mark[:2] in ("TP", "BP"):
                    plates.add(whole)
                else:
                    found[whole] += 1
    found.update(plates)
    for letters, drawings in (("RF", [house.roof]), ("F", house.floor), ("C", house.ceilings)):
        for drawing in drawings:
            found.update(f"{letters}-{mark}" for mark in sticks_in(root_of(drawing.svg)))
    return found


def test_every_stick_of_the_house_is_in_one_framing_drawing(house: Set) -> None:
    # a ply behind another shows no width; the mark at the ply in front tells it
    seen = Counter(member.mark for member in house.result.measured.members if member.seen_width > 0)
    assert set(seen.values()) == {1}
    assert marks_drawn(house) == seen


def test_marks_of_the_drawings_are_those_of_the_cutting_list(base: Result, job: Job) -> None:
    table = cutting_list_table([base])
    framing = {plan.number for plan in base.plans if plan.framing}
    listed = " ".join(table[table["plan"].isin(framing)]["marks"])
    cut = set(re.findall(r"[A-Z]+\d*[a-z]?-[A-Z]{1,2}\d{2,}", listed))
    hidden = {member.mark for member in base.measured.members if member.seen_width == 0}
    assert hidden < cut
    assert set(marks_drawn(drawn(job, base))) == cut - hidden


def test_the_set_of_a_house_is_small_and_goes_into_a_pdf(house: Set) -> None:
    page = "".join(drawing.svg for drawing in house.all)
    assert len(page.encode()) < 400_000
    assert len(lift_drawings(page).drawings) == len(house.all)
    ids = [
        e.get("id") for drawing in house.all for e in root_of(drawing.svg).iter() if e.get("id") is not None
    ]
    assert len(ids) == len(set(ids))


def test_every_drawing_says_what_it_shows_and_at_which_scale(house: Set) -> None:
    for drawing in house.all:
        root = root_of(drawing.svg)
        assert root[0].tag.endswith("}title")
        assert root[1].tag.endswith("}desc")
        assert root[0].text == drawing.title
        assert "Test house" in drawing.title
        assert f"at 1:{drawing.scale}" in (root[1].text or "")
        assert f"1:{drawing.scale}" in texts(root)
        assert root.get("viewBox") == f"0 0 {drawing.width_mm:g} {round(drawing.height_mm, 3):g}"


def test_no_lettering_overlaps_or_leaves_the_sheet_and_none_is_smaller_than_1_7_mm(house: Set) -> None:
    for drawing in house.all:
        root = root_of(drawing.svg)
        assert overlapping(root) == [], drawing.title
        assert outside(root) == [], drawing.title
        sizes = [float(e.get("font-size", "")) for e in root.iter() if e.tag.endswith("}text")]
        assert min(sizes) >= 1.7


def test_a_house_without_flat_ceilings_on_joists_has_no_ceiling_framing() -> None:
    assert _house("dune_studio").ceilings == []


def test_ceilings_of_a_house_are_drawn_to_one_scale(house: Set) -> None:
    # the longest, 3.3 m, takes 66 mm at 1:50
    assert {drawing.scale for drawing in house.ceilings} <= {50}


def ceiling_groups(house: Set) -> list[tuple[Drawing, ET.Element]]:
    """The blocks of the ceiling framing, in order."""
    return [
        (drawing, group)
        for drawing in house.ceilings
        for group in root_of(drawing.svg)
        if re.fullmatch(r"ceilings-\d+-\d+", group.get("id", ""))
    ]


def block_of(house: Set, mark: str) -> tuple[float, dict[str, Patch], ET.Element]:
    """Paper per metre [mm], the paper of every stick, and the group of the block in which a stick is drawn."""
    for drawing, group in ceiling_groups(house):
        sticks = sticks_in(group)
        if own_mark(mark) in sticks:
            return 1000 / drawing.scale, {name: extent(e) for name, e in sticks.items()}, group
    raise AssertionError(mark)


@pytest.mark.parametrize("name", ["heron_bank", "wharf_pair"])
def test_joists_and_ledgers_have_their_length_and_place_to_scale(name: str) -> None:
    house = _house(name)
    ceilings, _ = framed_ceilings(house.result, house.job.library)
    assert ceilings
    for ceiling in ceilings:
        first = ceiling.members[0]
        scale, sticks, _ = block_of(house, first.mark)
        origin = sticks[own_mark(first.mark)].middle
        assert set(sticks) == {own_mark(member.mark) for member in ceiling.members}
        for member in ceiling.members:
            patch = sticks[own_mark(member.mark)]
            size = (member.length * scale, member.thickness * scale)
            expected = size if member.run == "eaves" else size[::-1]
            assert (patch.wide, patch.high) == pytest.approx(expected, abs=PAPER), member.mark
            moved = (patch.middle[0] - origin[0], origin[1] - patch.middle[1])
            place = ((member.s - first.s) * scale, (member.z - first.z) * scale)
            assert moved == pytest.approx(place, abs=PAPER), member.mark


def test_the_first_joist_is_flush_and_the_next_stand_at_centres() -> None:
    house = _house("heron_bank")
    scale, sticks, group = block_of(house, "C-CJ07")
    # laundry: joists CJ07 to CJ13 up the slope at 450 mm centres from the left, in 2.565 m between walls
    assert sticks["CJ07"].left == pytest.approx(sticks["LG03"].left, abs=PAPER)
    assert sticks["CJ13"].right == pytest.approx(sticks["LG03"].right, abs=PAPER)
    centres = [sticks[f"CJ{n:02d}"].middle[0] - sticks["LG03"].left for n in range(8, 13)]
    assert centres == pytest.approx([0.45 * n * scale for n in range(1, 6)], abs=PAPER)
    assert {"2.565", "2.115"} <= set(texts(group))


def test_a_ceiling_names_the_walls_about_it() -> None:
    house = _house("heron_bank")
    _, sticks, group = block_of(house, "C-CJ07")
    assert {"low wall", "right wall", "I01", "I06"} <= set(texts(group))
    # strips of wall stand outside the ledgers and joists
    inner = Patch(
        min(p.left for p in sticks.values()),
        min(p.top for p in sticks.values()),
        max(p.right for p in sticks.values()),
        max(p.bottom for p in sticks.values()),
    )
    strips = [rectangle(e) for e in group.iter() if e.tag.endswith("}rect") and e.get("fill") == "#b9bbbd"]
    assert len(strips) == 4
    assert not [strip for strip in strips if strip.overlaps(inner)]
    assert all(strip.grown(1e-3).overlaps(inner) for strip in strips)


def rectangle(e: ET.Element) -> Patch:
    x, y, wide, high = (float(e.get(name, "")) for name in ("x", "y", "width", "height"))
    return Patch(x, y, x + wide, y + high)


def test_the_upright_face_of_a_bulkhead_is_drawn_in_elevation() -> None:
    house = _house("heron_bank")
    scale, sticks, group = block_of(house, "C-BS01")
    members = {own_mark(m.mark): m for m in house.result.measured.members if m.mark.startswith("C-")}
    foot, head = sticks["LG07"], corners(sticks_in(group)["LG08"])
    # rails of 3.315 m on the flat and 3.328 m along a head that rises with the roof of 5 degrees
    assert foot.wide == pytest.approx(3.315 * scale, abs=PAPER)
    (x1, y1), (x2, y2) = head[0], head[1]
    assert math.hypot(x2 - x1, y2 - y1) == pytest.approx(members["LG08"].length * scale, abs=PAPER)
    assert math.degrees(math.atan2(y1 - y2, x2 - x1)) == pytest.approx(5.0, abs=0.01)
    for n in range(1, 10):
        stud, patch = members[f"BS{n:02d}"], sticks[f"BS{n:02d}"]
        assert patch.high == pytest.approx(stud.length * scale, abs=PAPER)
        # it stands on the foot rail, and where the plan has it: the face starts at y = 3.6575
        assert patch.bottom == pytest.approx(foot.top, abs=PAPER)
        assert patch.middle[0] - foot.left == pytest.approx((stud.z - 3.6575) * scale, abs=PAPER)
        # and reaches the underside of the head rail, which is as thick as it but measured across the slope
        slope = (y2 - y1) / (x2 - x1)
        underside = y1 + slope * (patch.middle[0] - x1)
        assert patch.top == pytest.approx(underside, abs=0.005)
    # heights of the face: stud and two rails at either end
    low, high = (by_id(group, f"ceilings-2-1-height-{end}") for end in ("left", "right"))
    assert texts(low) == ["0.537"]
    assert texts(high) == ["0.827"]


JOISTS = "Flat plasterboard on joists"


def changed(job: Job, rooms: Sequence[Room], bulkheads: Sequence[Bulkhead]) -> Set:
    """The demo house with other rooms and bulkheads."""
    base = _house("heron_bank").result
    design = replace(base.design, rooms=tuple(rooms), bulkheads=tuple(bulkheads))
    return drawn(job, replace(base, design=design, measured=measure_house(design, job.library)))


@pytest.fixture(params=["flat rooms about a bulkhead", "bulkhead in the middle", "bulkhead along the eaves"])
def other_ceilings(request: pytest.FixtureRequest, job: Job) -> Set:
    rooms = _house("heron_bank").result.design.rooms
    (bulkhead,) = _house("heron_bank").result.design.bulkheads
    flat = [replace(room, flat_ceiling=2.6, ceiling_lining=JOISTS) for room in rooms]
    middle = replace(bulkhead, from_x=2.0, to_x=4.0, from_y=4.6, to_y=5.4)
    if request.param == "flat rooms about a bulkhead":
        # its upright face is 0.20 m high, and the ceiling round it has the shape of an L
        return changed(job, flat, [bulkhead])
    if request.param == "bulkhead in the middle":
        return changed(job, flat, [middle])
    return changed(job, rooms, [replace(bulkhead, to_x=7.0, from_y=6.3), middle])


def test_every_stick_of_other_ceilings_is_drawn_and_marked_once(other_ceilings: Set) -> None:
    assert_marked_once(other_ceilings)
    drawn_marks: Counter[str] = Counter()
    for drawing in other_ceilings.ceilings:
        root = root_of(drawing.svg)
        drawn_marks.update(list(sticks_in(root)))
        assert overlapping(root) == [], drawing.title
        assert outside(root) == [], drawing.title
    assert drawn_marks == Counter(
        own_mark(m.mark) for m in other_ceilings.result.measured.inside.ceiling_members
    )


def test_a_bulkhead_along_the_eaves_has_an_upright_face_with_a_level_head(job: Job) -> None:
    (bulkhead,) = _house("heron_bank").result.design.bulkheads
    rooms = _house("heron_bank").result.design.rooms
    house = changed(job, rooms, [replace(bulkhead, to_x=7.0, from_y=6.3)])
    _, faces = framed_ceilings(house.result, job.library)
    (face,) = faces
    assert face.seen == "the low side of the house"
    assert face.face.top_left == pytest.approx(face.face.top_right)
    scale, sticks, _ = block_of(house, face.members[0].mark)
    foot, head = (sticks[own_mark(member.mark)] for member in face.members[:2])
    assert (head.left, head.right) == pytest.approx((foot.left, foot.right), abs=PAPER)
    assert foot.bottom - head.top == pytest.approx((face.face.top_left - 2.40) * scale, abs=PAPER)


def test_marks_that_find_no_room_are_told_in_words(job: Job) -> None:
    (bulkhead,) = _house("heron_bank").result.design.bulkheads
    # 0.17 m is left between wall and edge: 3.5 mm of paper, less than a mark is long
    house = changed(job, _house("heron_bank").result.design.rooms, [replace(bulkhead, to_x=0.40)])
    words = " ".join(texts(root_of(house.ceilings[0].svg)))
    assert "Without room for their marks: LG05-LG06, CJ14-CJ22." in words


def assert_marked_once(house: Set) -> None:
    members = house.result.measured.inside.ceiling_members
    written = Counter(
        text
        for _, group in ceiling_groups(house)
        for text in texts(group)
        if re.fullmatch(r"[A-Z]{2}\d{2,}", text)
    )
    assert written == Counter(own_mark(member.mark) for member in members)


def test_every_mark_of_the_ceilings_is_written_once(house: Set) -> None:
    assert_marked_once(house)


def test_the_words_under_a_ceiling_give_underside_centres_and_pieces() -> None:
    words = " ".join(texts(root_of(_house("heron_bank").ceilings[0].svg)))
    assert "Laundry Underside 2.40 above floor; joists at 450 mm centres." in words
    assert "LG ledger 120 x 45: 2; CJ ceiling joist 120 x 45: 7." in words
    assert "the high side up the sheet" in words
