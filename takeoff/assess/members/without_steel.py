"""Puts timber in place of steel lintels: the least on sale that would do, where there is one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from takeoff.assess.members.house_members import LINTEL_PLIES, cases_of, lintel_loading, roof_width_borne
from takeoff.assess.members.sizing import least_adequate
from takeoff.framing.internal_walls import door_places, load_on
from takeoff.framing.openings import frame_opening, head_room, lintel_row
from takeoff.measure.linings import structure_inset
from takeoff.model.geometry import height_at
from takeoff.model.house import Design, LintelRow
from takeoff.model.library import STEEL, Library
from takeoff.model.wall_runs import wall_runs


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelLintel:
    """A lintel that the table makes of steel: its opening, its row, and the timber that takes its place.

    `timber` is None where none on sale would do; the steel then stays.
    """

    mark: str
    row: LintelRow
    timber: LintelRow | None


def without_steel(design: Design, library: Library) -> tuple[Design, tuple[SteelLintel, ...]]:
    """Return a design with timber in place of its steel lintels, and what was found for each of them.

    The timber is the least on sale of any grade that is within in all load cases of lintels, fits in the wall and
    under its top plates. Only where the setting no steel asks for it; else the design as it is.
    """
    if not design.house.no_steel:
        return design, ()
    found = tuple(_external(design, library)) + tuple(_internal(design, library))
    chosen = {each.mark: each.timber for each in found if each.timber is not None}
    return (replace(design, chosen_lintels={**design.chosen_lintels, **chosen}) if chosen else design), found


def _external(design: Design, library: Library) -> Iterator[SteelLintel]:
    """Yield the steel lintels of external walls."""
    for opening in design.openings:
        row = frame_opening(design, opening).lintel
        if row is None or library.materials[row.material].family != STEEL:
            continue
        carried = roof_width_borne(design, opening.side)
        yield _found(
            opening.mark,
            row,
            design,
            library,
            carried=carried,
            width=opening.width,
            room=head_room(design, opening),
        )


def _internal(design: Design, library: Library) -> Iterator[SteelLintel]:
    """Yield the steel lintels of loadbearing internal walls."""
    plates = design.practice.top_plates * design.house.stud_thickness
    for placed in door_places(design, wall_runs(design), inset=structure_inset(design, library)):
        carried, door = load_on(design, placed.run), placed.door
        row = lintel_row(design, load=carried, width=door.width) if carried > 0 else None
        if row is None or library.materials[row.material].family != STEEL:
            continue
        room = height_at(design.house, placed.run.at) - plates - door.height
        yield _found(door.mark, row, design, library, carried=carried, width=door.width, room=room)


def _found(
    mark: str, row: LintelRow, design: Design, library: Library, *, carried: float, width: float, room: float
) -> SteelLintel:
    """Return a steel lintel with the timber that would do under a width of roof carried [m].

    Where it carries no roof there is nothing to size it by: the first row of timber in the lintel table that is wide
    enough and fits does.
    """
    if carried <= 0:
        return SteelLintel(mark=mark, row=row, timber=_from_table(design, library, width=width, room=room))
    loading = lintel_loading(design.house, carried=carried, width=width, studs_under=row.studs_under)
    cases = cases_of(library, "lintel")
    if loading is None or not cases:
        return SteelLintel(mark=mark, row=row, timber=None)
    best = least_adequate(
        library.grades,
        cases,
        loading,
        plies=LINTEL_PLIES,
        widest=design.house.stud_depth,
        deepest=room,
    )
    timber = None
    if best is not None:
        section = best.section
        timber = replace(
            row,
            material=best.grade.material,
            depth=section.depth,
            thickness=section.thickness,
            plies=section.plies,
        )
    return SteelLintel(mark=mark, row=row, timber=timber)


def _from_table(design: Design, library: Library, *, width: float, room: float) -> LintelRow | None:
    """Return the first row of timber in the lintel table for an opening width and the room over it [m], or None."""
    rows = sorted(design.lintels, key=lambda row: (row.load_width, row.opening_width))
    return next(
        (
            row
            for row in rows
            if library.materials[row.material].family != STEEL
            and row.opening_width >= width - 1e-9
            and row.depth <= room + 1e-9
        ),
        None,
    )
