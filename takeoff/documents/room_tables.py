"""The tables of rooms and internal walls, every cell as ready text."""

from __future__ import annotations

from takeoff.compare.evaluate import Result
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import number, percent
from takeoff.measure.inside import RoomFigures
from takeoff.model.wall_runs import WallRun

_AS_WALL = "as the wall's own"
_AS_HOUSE = "as the house's"


def rooms_table(result: Result) -> ReportTable | None:
    """Return the rooms with their areas, heights and linings; None where the house has none."""
    if not result.design.rooms:
        return None
    rooms = result.measured.inside.rooms
    dwellings = list(dict.fromkeys(figures.room.dwelling for figures in rooms))
    rows = []
    for dwelling in dwellings:
        own = [figures for figures in rooms if figures.room.dwelling == dwelling]
        rows += [_room_row(figures) for figures in own]
        if len(dwellings) > 1:
            rows.append(_sum_row(dwelling or "house", own))
    rows.append(_sum_row("all rooms", list(rooms)))
    areas = result.measured.areas
    return ReportTable(
        id="rooms",
        caption=f"{result.option.name}: rooms, their linings and finishes",
        columns=(
            Column(title="Room", figures=False),
            Column(title="Floor", unit="m²"),
            Column(title="Ceiling height", unit="m"),
            Column(title="Walls", unit="m"),
            Column(title="Walls, gross", unit="m²"),
            Column(title="Ceiling", unit="m²"),
            Column(title="Wall lining", figures=False),
            Column(title="Ceiling lining", figures=False),
            Column(title="Floor finish", figures=False),
        ),
        rows=tuple(rows),
        note=f"Floor is net of walls, at the finished faces. Rooms {number(areas.rooms, 2)} m² and internal walls "
        f"{number(areas.inside - areas.rooms, 2)} m² make up the {number(areas.inside, 2)} m² inside the external "
        f"walls; {number(areas.outside, 2)} m² are to the outside face of the frame. Walls are the faces that a "
        "room sees, openings not deducted; ceilings that rake are measured on the slope.",
    )


def _room_row(figures: RoomFigures) -> Row:
    """Return the row of one room."""
    room = figures.room
    return Row(
        cells=(
            room.name,
            number(figures.floor, 2),
            _heights(figures),
            number(figures.wall_length, 2),
            number(figures.walls, 1),
            number(figures.ceiling, 1),
            room.wall_lining or _AS_WALL,
            room.ceiling_lining or _AS_HOUSE,
            room.floor_finish or "none",
        )
    )


def _heights(figures: RoomFigures) -> str:
    """Return the height of a ceiling, or from where to where it rakes."""
    low, high = number(figures.lowest, 2), number(figures.highest, 2)
    return low if low == high else f"{low} to {high}"


def _sum_row(name: str, rooms: list[RoomFigures]) -> Row:
    """Return the sum of some rooms."""
    return Row(
        cells=(
            name,
            number(sum(figures.floor for figures in rooms), 2),
            "",
            number(sum(figures.wall_length for figures in rooms), 2),
            number(sum(figures.walls for figures in rooms), 1),
            number(sum(figures.ceiling for figures in rooms), 1),
            "",
            "",
            "",
        ),
        total=True,
    )


def internal_walls_table(result: Result) -> ReportTable | None:
    """Return the internal walls with what they are made of; None where there are none."""
    inside = result.measured.inside
    if not inside.runs:
        return None
    rows = []
    for run in inside.runs:
        frames = [frame for frame in inside.wall_frames if frame.run == run.mark]
        members = [member for frame in frames for member in frame.members]
        net = sum(frame.net_area for frame in frames)
        timber = sum(frame.timber_area for frame in frames)
        rows.append(
            Row(
                cells=(
                    run.mark,
                    _between(run),
                    run.build_up,
                    _kind(run),
                    number(run.length, 2),
                    number(len(members)),
                    number(sum(member.length for member in members), 1),
                    number(sum(member.volume for member in members), 3),
                    percent(timber / net) if net else "",
                )
            )
        )
    return ReportTable(
        id="internal-walls",
        caption=f"{result.option.name}: internal walls",
        columns=(
            Column(title="Wall", figures=False),
            Column(title="Between", figures=False),
            Column(title="Build-up", figures=False),
            Column(title="Kind", figures=False),
            Column(title="Length", unit="m"),
            Column(title="Pieces", unit="Nr"),
            Column(title="Sticks", unit="m"),
            Column(title="Timber", unit="m³"),
            Column(title="Framing fraction", unit="%"),
        ),
        rows=tuple(rows),
        note="Lengths are between the nodes of the centre lines. A party wall counts both leaves.",
    )


def _between(run: WallRun) -> str:
    """Return the rooms that a wall parts."""
    before = dict.fromkeys(edge.before for edge in run.edges)
    after = dict.fromkeys(edge.after for edge in run.edges)
    return f"{', '.join(before)} / {', '.join(after)}"


def _kind(run: WallRun) -> str:
    """Return what a wall does."""
    if run.party:
        return "party wall, two leaves"
    return "loadbearing" if run.loadbearing else "non-loadbearing"
