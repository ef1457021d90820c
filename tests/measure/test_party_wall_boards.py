"""The boards of a party wall stay where a room beside it has a wall lining of its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.measure.inside import measure_inside
from takeoff.workbook.reading import read_job


def test_a_lining_of_a_room_takes_no_fire_boards_off_the_party_wall(demo_folder):
    job = read_job(demo_folder / "wharf_pair.xlsx")

    def fire_boards(lining: str | None) -> list[float]:
        rooms = tuple(
            replace(room, wall_lining=lining) if room.name == "Unit living" else room
            for room in job.design.rooms
        )
        inside = measure_inside(replace(job.design, rooms=rooms), job.library)
        return [q.net for q in inside.quantities if "plasterboard-16-fire-rated" in q.id]

    plain, lined = fire_boards(None), fire_boards("Plywood lining, oiled")
    assert len(plain) == 2
    # the plywood is 3.5 mm thinner than the plasterboard of the walls beside: the face is a little wider, no more
    assert lined == pytest.approx(plain, rel=0.01)
