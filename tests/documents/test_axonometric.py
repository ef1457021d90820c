"""The axonometric of the frame: every stick in its place, true along three axes, the nearer hiding the farther."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.documents.drawings import axonometric
from takeoff.documents.drawings.axonometric_ground import plan_north
from takeoff.documents.drawings.axonometric_order import TO_READER, back_to_front, seen, seen_faces
from takeoff.documents.drawings.axonometric_pieces import pieces_of
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.stick_solids import Solid, stick_solids
from takeoff.framing.member import Member
from takeoff.workbook.reading import read_job

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["dune_studio", "heron_bank", "wharf_pair"])
def house(request, demo_folder):
    job = read_job(demo_folder / f"{request.param}.xlsx")
    return evaluate(job, job.base, planned=False)


def drawn(result, width=180.0):
    return axonometric(result, paper_width_mm=width, id_prefix="axo", name="the house")


def places(data: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML]([-\d.]+) ([-\d.]+)", data)]


def test_lengths_along_the_three_axes_are_true(house):
    """Along an axis of an isometric drawing at 1:n a metre is 1000 / n mm long."""
    picture = drawn(house)
    outline = next(p for p in ET.fromstring(picture.svg).iter(f"{SVG}path") if p.get("id") == "axo-outline")
    (x0, y0), (x1, y1), (x2, y2), _ = places(outline.attrib["d"])
    along = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    across = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    model = house.design.house
    assert along * picture.scale / 1000 == pytest.approx(model.length, abs=0.002)
    assert across * picture.scale / 1000 == pytest.approx(model.span, abs=0.002)
    # both fall by 30 degrees: to the right and down, to the right and up
    assert (y1 - y0) / (x1 - x0) == pytest.approx(1 / 3**0.5, abs=1e-4)
    assert (y2 - y1) / (x2 - x1) == pytest.approx(-1 / 3**0.5, abs=1e-4)


def test_upright_lengths_are_true(house):
    picture = drawn(house)
    solids = stick_solids(house)
    place, stud = next(
        (n, s) for n, s in enumerate(solids) if s.member.use == "stud" and s.member.place == "low wall"
    )
    group = next(
        g for g in ET.fromstring(picture.svg).iter(f"{SVG}g") if g.get("id") == f"axo-stick-{place + 1}"
    )
    heights = [y for path in group for _, y in places(path.attrib["d"])]
    # from the lowest corner to the highest: the length, and half of the section's sides along both level axes
    member = stud.member
    expected = member.length + (member.thickness + member.depth) / 2
    assert (max(heights) - min(heights)) * picture.scale / 1000 == pytest.approx(expected, abs=0.003)


def test_every_stick_is_drawn_once(house):
    sticks = Counter(solid.member.mark for solid in stick_solids(house))
    assert sticks == Counter(member.mark for member in house.measured.members)
    groups = [g.get("id") for g in ET.fromstring(drawn(house).svg).iter(f"{SVG}g") if g.get("id")]
    assert len(groups) == len(set(groups)) == len(house.measured.members)


def test_solids_have_the_volume_of_their_sticks(house):
    """Of sticks cut square; the box of a rake or a rafter is drawn out upright, so the same holds."""
    for solid in stick_solids(house):
        a, b, _, d = solid.near
        edges = [[q - p for p, q in zip(a, other, strict=True)] for other in (b, d, solid.far[0])]
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = edges
        volume = abs(ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx))
        # the raked head rail of a bulkhead is drawn out upright, its piece is as long as the rake
        drawn_out = math.cos(math.radians(house.design.house.pitch)) if is_raked_rail(solid) else 1.0
        assert volume == pytest.approx(solid.member.volume * drawn_out, rel=1e-6), solid.member.mark


def is_raked_rail(solid: Solid) -> bool:
    return solid.member.use == "ledger" and len({round(z, 6) for _, _, z in solid.corners}) == 4


def test_the_face_of_a_bulkhead_stands_between_its_rails(demo_folder):
    """Foot rail, studs and head rail of Heron Bank's bulkhead, whose face runs up the slope, touch one another."""
    job = read_job(demo_folder / "heron_bank.xlsx")
    house = evaluate(job, job.base, planned=False)
    place = "ceiling of Living and kitchen, Over the kitchen"
    solids = [solid for solid in stick_solids(house) if solid.member.place == place]
    studs = [solid for solid in solids if solid.member.use == "bulkhead stud"]
    # 3.315 m at centres of 450 mm, one at each end
    assert len(studs) == 9
    (head,) = [solid for solid in solids if is_raked_rail(solid)]
    (foot,) = [
        solid
        for solid in solids
        if solid.member.use == "ledger"
        and solid is not head
        and (solid.member.s, solid.member.z) == (head.member.s, head.member.z)
    ]
    rake = math.tan(math.radians(house.design.house.pitch))
    ends = sorted((y, z) for _, y, z in head.corners)
    low_end, (y0, z0) = ends[0], ends[-1]
    assert z0 - low_end[1] == pytest.approx((y0 - low_end[0]) * rake + head.member.thickness)
    for stud in studs:
        assert min(z for _, _, z in stud.corners) == pytest.approx(max(z for _, _, z in foot.corners))
        under_the_rail = low_end[1] + (stud.member.z - low_end[0]) * rake
        assert max(z for _, _, z in stud.corners) == pytest.approx(under_the_rail)
        xs = [x for x, _, _ in stud.corners]
        assert (min(xs), max(xs)) == pytest.approx(
            (min(c[0] for c in foot.corners), max(c[0] for c in foot.corners))
        )


def test_sticks_stand_within_the_house(house):
    model = house.design.house
    for solid in stick_solids(house):
        for x, y, z in solid.corners:
            if solid.member.place == "roof":
                # the outriggers at both ends of a verge lie about its edge
                half = model.rafter_thickness / 2
                assert -model.overhang_left - 1e-6 <= x <= model.length + model.overhang_right + 1e-6
                assert -model.overhang_low - half <= y <= model.span + model.overhang_high + half
            else:
                assert -1e-6 <= x <= model.length + 1e-6, solid.member.mark
                assert -1e-6 <= y <= model.span + 1e-6, solid.member.mark
            assert z < house.measured.areas.high_height + 1.0


def box(mark: str, x: float, y: float, z: float, size: float = 1.0) -> Solid:
    member = Member(
        use="stud",
        material="",
        thickness=size,
        depth=size,
        length=size,
        place="",
        s=0,
        z=0,
        seen_width=0,
        run="upright",
        mark=mark,
    )
    near = ((x, y, z), (x + size, y, z), (x + size, y, z + size), (x, y, z + size))
    far = tuple((a, b + size, c) for a, b, c in near)
    return Solid(member, near, far)


@pytest.mark.parametrize(
    ("behind", "before"),
    [
        # the reader looks from above, over the low side (y small) and the right one (x large)
        (box("far up the slope", 0, 2, 0), box("low side", 0, 1, 0)),
        (box("left", 0, 0, 0), box("right", 1, 0, 0)),
        (box("below", 0, 0, 0), box("on top", 0, 0, 1)),
        # the middle of the long one is nearer than that of the short one, which yet stands before it
        (box("behind", 0, 0.9, 0, 4.0), box("before", 1, 0.4, 0, 0.5)),
    ],
)
def test_the_nearer_is_drawn_after_the_farther(behind, before):
    assert back_to_front([behind, before], 0.0) == [0, 1]
    assert back_to_front([before, behind], 0.0) == [1, 0]


def test_what_is_drawn_last_is_nearest_to_the_reader(house):
    """Lines of sight through the frame: of the faces that each meets, the one on top of the drawing is the nearest.

    Joints where sticks are let into each other by some millimetres have no right order: 3 sights in 1000 may fail.
    """
    solids = [piece.solid for piece in pieces_of(stick_solids(house))]
    order = back_to_front(solids, math.tan(math.radians(house.design.house.pitch)))
    faces = [face for place in order for _, face in seen_faces(solids[place])]
    owners = np.array([place for place in order for _ in seen_faces(solids[place])])
    space = np.array(faces)
    paper = np.array([[seen(corner) for corner in face] for face in faces])
    edges = np.roll(paper, -1, axis=1) - paper
    normals = np.cross(space[:, 1] - space[:, 0], space[:, 3] - space[:, 0])
    towards = normals @ np.array(TO_READER)
    sights = np.random.default_rng(1).uniform(paper.min(axis=(0, 1)), paper.max(axis=(0, 1)), size=(4000, 2))
    met = wrong = 0
    for right, up in sights:
        away = np.array((right, up)) - paper
        side = edges[:, :, 0] * away[:, :, 1] - edges[:, :, 1] * away[:, :, 0]
        hit = np.flatnonzero((side > 1e-6).all(axis=1) | (side < -1e-6).all(axis=1))
        if len(hit) < 2:
            continue
        # the sight meets floor level where x + y = right / cos 30 and y - x = up / sin 30
        total, difference = right / math.cos(math.pi / 6), up / 0.5
        start = np.array(((total - difference) / 2, (total + difference) / 2, 0.0))
        depth = np.einsum("ij,ij->i", space[hit, 0] - start, normals[hit]) / towards[hit]
        nearest = int(np.argmax(depth))
        met += 1
        wrong += owners[hit[nearest]] != owners[hit[-1]] and depth[nearest] - depth[-1] > 0.003
    assert met > 500
    assert wrong <= 0.003 * met


def test_outriggers_stand_out_of_the_rafters_they_are_let_into(house):
    """Each is drawn in parts that together are as long as it is, less what lies within rafters."""
    solids = stick_solids(house)
    pieces = pieces_of(solids)
    assert {piece.stick for piece in pieces} == set(range(len(solids)))
    for place, solid in enumerate(solids):
        parts = [piece.solid for piece in pieces if piece.stick == place]
        if solid.member.use != "outrigger":
            assert parts == [solid]
            continue
        ends = sorted((min(c[0] for c in part.corners), max(c[0] for c in part.corners)) for part in parts)
        for left, right in ends:
            for rafter in solids:
                if rafter.member.use not in ("rafter", "barge rafter"):
                    continue
                across = [c[0] for c in rafter.corners]
                slope = [c[1] for c in rafter.corners]
                if min(slope) < solid.corners[0][1] < max(slope):
                    assert right <= min(across) + 1e-9 or left >= max(across) - 1e-9


def test_three_faces_of_a_box_are_seen():
    faces = dict(seen_faces(box("one", 0, 0, 0)))
    assert set(faces) == {"front", "side", "top"}
    assert {corner[1] for corner in faces["front"]} == {0}
    assert {corner[0] for corner in faces["side"]} == {1.0}
    assert {corner[2] for corner in faces["top"]} == {1.0}
    # 1 m up is 1 m up on paper
    assert seen((0, 0, 1))[1] - seen((0, 0, 0))[1] == 1.0


def test_north_lies_in_the_plan(house):
    """Up the slope faces a compass point; turned back by its bearing that is north."""
    along, up = plan_north(house.design.house)
    bearing = {"N": 0, "NE": 45}[house.design.house.high_side_faces]
    assert along == pytest.approx(-math.sin(math.radians(bearing)))
    assert up == pytest.approx(math.cos(math.radians(bearing)))


def test_the_floor_stands_over_the_ground(house):
    """A slab shows its edge down to the ground, a timber floor stands on its stumps."""
    root = ET.fromstring(drawn(house).svg)
    found = {p.get("id"): p for p in root.iter(f"{SVG}path") if p.get("id")}
    floor, ground = places(found["axo-outline"].attrib["d"]), places(found["axo-ground"].attrib["d"])
    deep = house.design.house.floor_above_ground * 1000 / drawn(house).scale
    assert ground[1][1] - floor[1][1] == pytest.approx(deep, abs=0.002)
    assert (house.measured.floor_frame is None) == (len(ground) == 3)


def test_texts_keep_apart(house):
    picture = drawn(house)
    boxes = []
    for text in ET.fromstring(picture.svg).iter(f"{SVG}text"):
        size, semibold = float(text.attrib["font-size"]), text.get("font-weight") == "600"
        wide = text_width(text.text, size, semibold=semibold)
        left = float(text.attrib["x"]) - {"middle": wide / 2, "end": wide}.get(text.get("text-anchor"), 0.0)
        base = float(text.attrib["y"])
        boxes.append((left, base - 0.66 * size, left + wide, base))
    assert len(boxes) >= 5
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (a, b)
    # nothing drawn of the frame lies under the lettering
    lowest = min(box[1] for box in boxes[1:])
    for stick in ET.fromstring(picture.svg).iter(f"{SVG}g"):
        if (stick.get("id") or "").startswith("axo-stick"):
            assert max(y for path in stick for _, y in places(path.attrib["d"])) < lowest


def test_the_picture_of_the_largest_house_stays_small(house):
    assert len(drawn(house).svg) < 600_000


def test_nothing_leaves_the_paper(house):
    picture = drawn(house)
    root = ET.fromstring(picture.svg)
    for path in root.iter(f"{SVG}path"):
        for x, y in places(path.attrib["d"]):
            assert -0.01 <= x <= picture.width_mm + 0.01
            assert -0.01 <= y <= picture.height_mm + 0.01
    assert root.find(f"{SVG}title").text == "Frame of the house, axonometric"
    assert "Isometric, 1:" in root.find(f"{SVG}desc").text
