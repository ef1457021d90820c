"""Build-ups for one m2 as built: which there are, which items and areas they go over, what is not assessed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from takeoff.compare.build_up_figures import build_up_figures
from takeoff.compare.build_up_parts import BuildUpFigures, BuildUpPart
from takeoff.compare.evaluate import Result, evaluate
from takeoff.model.house import Design
from takeoff.model.job import Job


@pytest.fixture(scope="module")
def result(job: Job) -> Result:
    return evaluate(job, job.base, planned=False)


@pytest.fixture(scope="module")
def figures(job: Job, result: Result) -> tuple[BuildUpFigures, ...]:
    return build_up_figures(result, job.library)


def part(figures: BuildUpFigures, name: str) -> BuildUpPart:
    (found,) = [part for part in figures.parts if part.name == name]
    return found


def test_they_go_from_external_walls_to_the_floor(figures: tuple[BuildUpFigures, ...]) -> None:
    kinds = list(dict.fromkeys(each.kind for each in figures))
    assert kinds == ["external wall", "internal wall", "roof", "floor"]


def test_a_cladding_is_told_with_its_sides_and_their_u_values(figures: tuple[BuildUpFigures, ...]) -> None:
    boards = figures[0]
    assert boards.build_ups[0].name == "Timber boards, vertical"
    assert boards.sides == ("low", "right")
    assert [each.name for each in boards.envelope] == ["low wall", "right wall"]


def test_a_house_without_openings_has_walls_over_their_whole_faces(
    job: Job, bare_house: Callable[..., Design]
) -> None:
    bare = replace(job, design=bare_house(), options=(replace(job.base, changes={}),), overrides=())
    result = evaluate(bare, bare.base, planned=False)
    boards, steel = (each for each in build_up_figures(result, job.library) if each.kind == "external wall")
    high = 2.7 + 7.2 * 0.0874886635
    # low wall 12.0 x 2.70, right wall 7.2 x the mean of both heights; both 0.15 m further down in cladding
    low_face, right_face = 12.0 * 2.7, 7.2 * (2.7 + high) / 2
    assert part(boards, "cladding").area == pytest.approx(low_face + right_face + 0.15 * (12.0 + 7.2))
    assert part(steel, "cladding").area == pytest.approx(12.0 * high + right_face + 0.15 * (12.0 + 7.2))
    whole = low_face + 12.0 * high + 2 * right_face
    assert part(boards, "frame and layers").area == pytest.approx(whole)


def test_no_item_of_the_walls_is_counted_twice_or_left_out(
    result: Result, figures: tuple[BuildUpFigures, ...]
) -> None:
    walls = [each for each in figures if each.kind == "external wall"]
    ids = [line.quantity.id for each in walls for line, _ in part(each, "cladding").shares]
    ids += [line.quantity.id for line, _ in part(walls[0], "frame and layers").shares]
    assert sorted(ids) == sorted(line.quantity.id for line in result.lines if line.quantity.element == "EW")


def test_no_item_of_the_roof_is_counted_twice_or_left_out(
    result: Result, figures: tuple[BuildUpFigures, ...]
) -> None:
    roofs = [each for each in figures if each.kind == "roof"]
    own = {
        line.quantity.id
        for line, _ in (*part(roofs[0], "roof").shares, *part(roofs[0], "airtight layer").shares)
    }
    of_ceilings = {line.quantity.id for each in roofs for line, _ in part(each, "ceiling").shares}
    roof = {line.quantity.id for line in result.lines if line.quantity.element == "RF"}
    ceilings = {line.quantity.id for line in result.lines if line.quantity.element == "CF"}
    assert own | of_ceilings == roof | ceilings
    assert not own & of_ceilings


def test_a_lining_of_a_wall_between_rooms_counts_for_both_faces(figures: tuple[BuildUpFigures, ...]) -> None:
    (wall,) = [each for each in figures if each.name == "Internal wall 90"]
    lining = part(wall, "lining")
    assert lining.upfront is not None
    assert lining.each(lining.upfront) == pytest.approx(2 * lining.upfront / lining.area)


def test_an_area_goes_by_boards_and_not_by_coats(result: Result, figures: tuple[BuildUpFigures, ...]) -> None:
    # three coats of paint measure three times the face
    boards = next(q for q in result.lines if q.quantity.id == "WF.IN.plasterboard-12.5")
    paint = next(q for q in result.lines if q.quantity.id == "WF.IN.interior-paint-water-based")
    assert paint.quantity.net == pytest.approx(3 * boards.quantity.net)
    assert part(figures[0], "lining").area == pytest.approx(boards.quantity.net)


def test_excavation_takes_no_material_and_still_counts(figures: tuple[BuildUpFigures, ...]) -> None:
    floor = part(figures[-1], "floor")
    digging = [line for line, _ in floor.shares if not line.needs_carbon]
    assert digging
    assert floor.upfront == pytest.approx(sum(line.carbon.upfront for line, _ in floor.shares))


def test_a_part_of_which_nothing_is_assessed_has_no_figure_and_neither_has_the_whole(
    figures: tuple[BuildUpFigures, ...],
) -> None:
    wall = figures[0]
    lining = part(wall, "lining")
    bare = [
        (
            replace(line, carbon=replace(line.carbon, a1a3=None, a4=None, a5_wastage=None, a5_site=None)),
            share,
        )
        for line, share in lining.shares
    ]
    unknown = replace(lining, shares=tuple(bare))
    assert unknown.upfront is None
    assert "Plasterboard 12.5" in unknown.not_assessed
    assert replace(wall, parts=(*wall.parts[:-1], unknown)).upfront is None
    assert replace(wall, parts=(*wall.parts[:-1], unknown)).cost == pytest.approx(wall.cost)
