"""Finds the rafters, lintels and floor joists of a house, what they carry, and checks each."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.assess.members.checks import Loading, MemberCheck, check_member
from takeoff.assess.members.sections import Section
from takeoff.assess.members.sizing import SectionOnSale, least_adequate
from takeoff.framing.floor import FloorFrame
from takeoff.framing.internal_walls import load_on
from takeoff.framing.openings import LOADBEARING, Hole, OpeningFrame, roof_width_carried
from takeoff.measure.house import MeasuredHouse, frame_material
from takeoff.model.geometry import slope_factor
from takeoff.model.house import Design, House, LintelRow, Opening, Side
from takeoff.model.library import STEEL, Library
from takeoff.model.timber import LoadCase, MemberUse, TimberGrade

# A lintel may be made of up to so many plies, as far as the wall has room for them. Common practice, no source.
LINTEL_PLIES = (1, 2, 3)
_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseMember:
    """Members of a house that are alike: what they are, their section, what they carry, and their check.

    `least` is the least section on sale of the same material that would do, None where none does or nothing is
    checked.
    """

    use: MemberUse
    name: str
    material: str
    section: Section
    loading: Loading | None
    check: MemberCheck
    least: SectionOnSale | None


def grade_of(grades: Sequence[TimberGrade], material: str, section: Section) -> TimberGrade | None:
    """Return the grade of a material in a section, None where no row holds for its depth."""
    return next(
        (
            grade
            for grade in grades
            if grade.material == material
            and any(abs(depth - section.depth) < _NEAR for depth in grade.depths)
        ),
        None,
    )


def cases_of(library: Library, use: MemberUse) -> list[LoadCase]:
    """Return the load cases of a kind of member."""
    return [case for case in library.load_cases if case.member == use]


def house_members(design: Design, library: Library, measured: MeasuredHouse) -> tuple[HouseMember, ...]:
    """Return the rafters by bay, the lintels by opening and the floor joists of a house, each checked."""
    return (
        *_rafters(design, library),
        *_lintels(design, library, measured),
        *_joists(design, library, measured.floor_frame),
    )


def roof_load(house: House) -> tuple[float, float] | None:
    """Return dead and imposed load of the roof for one m2 on plan [Pa], None where one is not stated."""
    if house.roof_dead is None or house.roof_imposed is None:
        return None
    return house.roof_dead * slope_factor(house), house.roof_imposed


def roof_width_borne(design: Design, side: Side) -> float:
    """Return the level width of roof whose whole weight an external wall bears [m], 0 for side walls.

    The overhang c counts with its lever about the next support, L away: (L + c)2 / 2L, a little more than the
    L / 2 + c of lintel tables. Source: statics.
    """
    if side not in LOADBEARING:
        return 0.0
    house = design.house
    overhang = house.overhang_low if side == "low" else house.overhang_high
    bay = 2 * (roof_width_carried(design, side) - overhang)
    return (bay + overhang) ** 2 / (2 * bay)


def lintel_loading(house: House, *, carried: float, width: float, studs_under: int) -> Loading | None:
    """Return what a lintel carries over an opening under a level width of roof [m], None where loads are not stated.

    It spans from the middle of the studs under it to that of those on the other side. The wall above is left out.
    """
    loads = roof_load(house)
    if loads is None:
        return None
    bearing = studs_under * house.stud_thickness
    return Loading(
        spans=(width + bearing,), dead=loads[0] * carried, imposed=loads[1] * carried, end_bearing=bearing
    )


def _member(
    use: MemberUse,
    name: str,
    material: str,
    section: Section,
    loading: Loading | None,
    library: Library,
    *,
    reason: str = "",
    widest: float = math.inf,
) -> HouseMember:
    """Return one member checked; a `reason` puts it outside the scope."""
    cases = cases_of(library, use)
    grade = grade_of(library.grades, material, section)
    if reason:
        check = MemberCheck(outcome="outside scope", reason=reason, checks=())
    else:
        check = check_member(section, grade, cases, loading)
    least = None
    if check.outcome != "outside scope" and loading is not None:
        same = [row for row in library.grades if row.material == material]
        least = least_adequate(
            same, cases, loading, plies=LINTEL_PLIES if use == "lintel" else (1,), widest=widest
        )
    return HouseMember(
        use=use,
        name=name,
        material=material,
        section=section,
        loading=loading,
        check=check,
        least=least,
    )


def _rafters(design: Design, library: Library) -> Iterator[HouseMember]:
    """Yield the rafters of every bay: they are joined over each support line, so each bay stands for itself.

    Loads and spans are taken square to the slope: w cos2 on the span over cos. Over the outer walls they bear on the
    whole depth of the frame, over a support line on half the thickness of the wall there. Thrust along the slope and
    wind that lifts the roof are left out. Source: statics; bearings: common practice, no source.
    """
    house = design.house
    factor = slope_factor(house)
    loads = roof_load(house)
    inner = _inner_wall_depth(design) / 2
    lines = [0.0, *sorted(house.support_lines), house.span]
    section = Section(depth=house.rafter_depth, thickness=house.rafter_thickness)
    material = frame_material(design.build_ups[house.roof])
    for index, (start, end) in enumerate(itertools.pairwise(lines)):
        first, last = index == 0, index == len(lines) - 2
        bearings = (house.stud_depth if first else inner, house.stud_depth if last else inner)
        # the outer faces of the walls are at the ends of the plan, the support lines in the middle of theirs
        span = end - start - sum(bearings) / 2
        overhang = max(house.overhang_low if first else 0.0, house.overhang_high if last else 0.0)
        loading = None
        if loads is not None and span > 0:
            loading = Loading(
                spans=(span * factor,),
                dead=loads[0] * house.rafter_spacing / factor**2,
                imposed=loads[1] * house.rafter_spacing / factor**2,
                end_bearing=min(bearings),
                cantilever=(overhang + house.stud_depth / 2) * factor if overhang else 0.0,
                outer_bearing=house.stud_depth if overhang else 0.0,
            )
        yield _member(
            "rafter",
            "rafters" if len(lines) == 2 else f"rafters, {start:g} to {end:g} m from the low wall",
            material,
            section,
            loading,
            library,
        )


def _inner_wall_depth(design: Design) -> float:
    """Return the depth of the frame of the ordinary internal wall, else of the external one [m]."""
    name = design.house.internal_wall
    build_up = design.build_ups.get(name) if name else None
    index = None if build_up is None else build_up.frame_index()
    depth = None if build_up is None or index is None else build_up.layers[index].thickness
    return depth or design.house.stud_depth


def _lintels(design: Design, library: Library, measured: MeasuredHouse) -> Iterator[HouseMember]:
    """Yield the lintel of every opening, external walls first."""
    for frame in measured.wall_frames:
        carried = roof_width_borne(design, frame.side)
        for framed in frame.openings:
            yield from _lintel(framed, carried, design, library)
    runs = {run.mark: run for run in measured.inside.runs}
    for inner in measured.inside.wall_frames:
        for hole in inner.openings:
            yield from _lintel(hole, load_on(design, runs[inner.run]), design, library)


def _lintel(
    framed: OpeningFrame[Opening] | OpeningFrame[Hole], carried: float, design: Design, library: Library
) -> Iterator[HouseMember]:
    """Yield the lintel of one opening, nothing where it has none or where it carries no roof."""
    row = framed.lintel
    if row is None or carried <= 0:
        return
    yield _member(
        "lintel",
        f"lintel over {framed.opening.mark}",
        row.material,
        section_of(row),
        lintel_loading(
            design.house, carried=carried, width=framed.opening.width, studs_under=framed.studs_under
        ),
        library,
        reason="it is of steel" if library.materials[row.material].family == STEEL else "",
        widest=design.house.stud_depth,
    )


def section_of(row: LintelRow) -> Section:
    """Return the section of a row of the lintel table."""
    return Section(depth=row.depth, thickness=row.thickness, plies=row.plies)


def _joists(design: Design, library: Library, frame: FloorFrame | None) -> Iterator[HouseMember]:
    """Yield the floor joists, each run of bays that a joist crosses once; they bear on the bearers.

    Over a bearer they run through on its whole thickness, a joint there gives each half of it.
    """
    if frame is None:
        return
    house = design.house
    lines = sorted({round(bearer.z, 6) for bearer in frame.bearers})
    seen: set[tuple[float, ...]] = set()
    for joist in frame.members:
        if joist.use != "floor joist":
            continue
        foot, head = joist.z - joist.length / 2 - _NEAR, joist.z + joist.length / 2 + _NEAR
        on = [line for line in lines if foot <= line <= head]
        spans = tuple(round(after - before, 6) for before, after in itertools.pairwise(on))
        if not spans or spans in seen:
            continue
        seen.add(spans)
        loading = None
        if house.floor_dead is not None and house.floor_imposed is not None:
            loading = Loading(
                spans=spans,
                dead=house.floor_dead * house.floor_joist_spacing,
                imposed=house.floor_imposed * house.floor_joist_spacing,
                end_bearing=house.bearer_thickness / 2,
                inner_bearing=house.bearer_thickness,
            )
        bays = " + ".join(f"{span:.2f}" for span in spans)
        yield _member(
            "floor joist",
            f"floor joists, {bays} m",
            joist.material,
            Section(depth=joist.depth, thickness=joist.thickness),
            loading,
            library,
        )
