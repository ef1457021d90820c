"""What is written in a section: clear heights and names of rooms, the letters that refer to the details."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from takeoff.compare.build_up_parts import BuildUpFigures, Kind
from takeoff.documents.drawings.build_up_keys import letter_where
from takeoff.documents.drawings.dimensions import dimension_string
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import MARK_HEIGHT, NOTE_TYPE, level_text, mark_capsule, mark_width
from takeoff.documents.drawings.section_floor import floor_foot
from takeoff.documents.drawings.section_inside import frames_cut
from takeoff.documents.drawings.section_line import RoomCut
from takeoff.documents.drawings.section_view import SectionView
from takeoff.documents.drawings.svg import DETAIL, INK, Point, circle, lettering, line
from takeoff.measure.cladding import cladding_regions
from takeoff.measure.linings import ceiling_lining
from takeoff.model.house import Side


@dataclass(frozen=True, slots=True)
class _Key:
    """The letter of a detail: where its capsule stands and what it points to [mm]."""

    letter: str
    at: Point
    target: Point


# From a finished face to the string of the clear height beside it, on either side [mm].
_LEFT_OF_ROOM, _RIGHT_OF_ROOM = 4.6, 2.0
# From the frame to the middle of the letter of an external wall, and to its far end [mm].
_KEY_OUT = 5.2
KEY_REACH = 7.7
_LINE = 3.0


def clear_heights(view: SectionView) -> list[str]:
    """Return the clear heights of the rooms that are cut: of a raked one at both sides where there is room."""
    elements: list[str] = []
    for index, room in enumerate(view.line.rooms, start=1):
        wide = view.paper.mm(room.end - room.start)
        flat = room.zone.flat_height is not None
        places = [view.paper.at(room.start, 0)[0] + _LEFT_OF_ROOM]
        if not flat and wide > 24.0:
            places.append(view.paper.at(room.end, 0)[0] - _RIGHT_OF_ROOM)
        for number, x in enumerate(places, start=1):
            y = (x - view.paper.x0) * view.paper.scale / 1000
            elements.append(
                dimension_string(
                    [0.0, view.interior.ceiling_at(room.zone, y)],
                    edge="left",
                    line_at=x,
                    paper=view.paper,
                    write=level_text,
                    id=view.id(f"clear-{index}-{number}"),
                )
            )
    return elements


def room_names(view: SectionView) -> list[str]:
    """Return the names of the rooms that are cut, in their middles; those of narrow rooms stand upright."""
    elements: list[str] = []
    for room in view.line.rooms:
        name = room.zone.bulkhead.name if room.zone.bulkhead else room.zone.room.name
        if not name:
            continue
        left, right = view.paper.at(room.start, 0)[0] + _LEFT_OF_ROOM, view.paper.at(room.end, 0)[0]
        x, y = (left + right - _RIGHT_OF_ROOM) / 2, view.paper.at(0, 1.25)[1]
        wide = right - left - _RIGHT_OF_ROOM - 3.0
        lines = wrapped(name, NOTE_TYPE, wide)
        if all(text_width(text, NOTE_TYPE) <= wide for text in lines):
            first = y - (len(lines) - 1) * _LINE / 2
            elements += [
                lettering(text, (x, first + i * _LINE), size=NOTE_TYPE, anchor="middle")
                for i, text in enumerate(lines)
            ]
        elif right - left > 5.0:
            place = ((left + right) / 2, view.paper.at(0, 1.3)[1])
            elements.append(
                lettering(name, place, size=NOTE_TYPE, anchor="middle", upright=True, centred=True)
            )
    return elements


def keys(view: SectionView, figures: Sequence[BuildUpFigures]) -> tuple[list[str], list[str]]:
    """Return the letters with their leaders, and which of them stand in the section."""
    rooms = view.line.rooms
    found: list[_Key | None] = []
    if rooms:
        found += [_wall_key(view, figures, "low"), _wall_key(view, figures, "high")]
    for index, room in enumerate(rooms):
        found.append(_ceiling_key(view, figures, room))
        if index:
            found.append(_internal_key(view, figures, rooms[index - 1], room))
    found.append(_floor_key(view, figures))
    placed = [key for key in found if key is not None]
    elements = [element for key in placed for element in _drawn(key)]
    return elements, sorted({key.letter for key in placed}, key=lambda letter: (len(letter), letter))


def _drawn(key: _Key) -> list[str]:
    """Return a letter in its capsule with a leader to what it is the detail of."""
    (x, y), (tx, ty) = key.at, key.target
    letter, target = key.letter, key.target
    dx, dy = tx - x, ty - y
    half_wide, half_high = mark_width(letter) / 2, MARK_HEIGHT / 2
    if abs(dy) < 1e-6 or (abs(dx) > 1e-6 and abs(dx) / half_wide > abs(dy) / half_high):
        start = (x + (half_wide if dx > 0 else -half_wide), y + dy / abs(dx) * half_wide)
    else:
        start = (x + dx / abs(dy) * half_high, y + (half_high if dy > 0 else -half_high))
    return [
        line(start, target, width=DETAIL),
        circle(target, 0.42, fill=INK),
        mark_capsule(letter, key.at),
    ]


def _wall_key(view: SectionView, figures: Sequence[BuildUpFigures], side: Side) -> _Key | None:
    """Return the letter of an external wall, outside it, at a height where the wall is whole."""
    opening = view.line.opening(side)
    regions = cladding_regions(view.design, side)
    z = 0.5
    if opening is not None:
        z = opening.sill / 2 if opening.sill > 0.4 else (opening.head + regions[-1][2].top_left) / 2
    name = next((name for name, _, face in regions if face.bottom <= z <= face.top_left), regions[0][0])
    letter = letter_where(figures, "external wall", name, view.house.external_wall)
    if letter is None:
        return None
    sign, face = (-1, 0.0) if side == "low" else (1, view.house.span)
    x, y = view.paper.at(face, z)
    return _Key(letter, (x + sign * _KEY_OUT, y), view.paper.at(face - sign * view.house.stud_depth / 2, z))


def _ceiling_key(view: SectionView, figures: Sequence[BuildUpFigures], room: RoomCut) -> _Key | None:
    """Return the letter of the roof over a room, under its ceiling."""
    flat = room.zone.flat_height is not None
    lining = ceiling_lining(view.design, view.library, room.zone.room, room.zone.bulkhead)
    letter = letter_where(figures, "roof", view.house.roof, lining.build_up.name, flat=flat)
    if letter is None:
        return None
    start, end = view.paper.at(room.start, 0)[0], view.paper.at(room.end, 0)[0]
    x = (start + end) / 2 + (_LEFT_OF_ROOM - _RIGHT_OF_ROOM) / 2
    y = view.paper.metres(x - view.paper.x0)
    ceiling = view.interior.ceiling_at(room.zone, y)
    return _Key(
        letter, (x, view.paper.at(0, ceiling)[1] + 5.6), view.paper.at(y, view.under_rafters(y) + 0.1)
    )


def _internal_key(
    view: SectionView, figures: Sequence[BuildUpFigures], one: RoomCut, other: RoomCut
) -> _Key | None:
    """Return the letter of the wall between two rooms, in the room beyond it."""
    frames = [f for f in frames_cut(view) if one.end - 1e-6 < f.across < other.start + 1e-6]
    if not frames:
        return None
    kind: Kind = "party wall" if frames[0].party else "internal wall"
    letter = letter_where(figures, kind, frames[0].build_up)
    if letter is None:
        return None
    doors = [o.opening for o in frames[0].openings]
    s = view.line.x - frames[0].start
    head = next((door.head for door in doors if door.position < s < door.right), None)
    z = 0.4 if head is None else head + 0.12
    x, y = view.paper.at(one.end, z)
    return _Key(letter, (x - 6.0, y), view.paper.at(frames[0].across, z))


def _floor_key(view: SectionView, figures: Sequence[BuildUpFigures]) -> _Key | None:
    """Return the letter of the floor, below everything that is drawn of it."""
    letter = letter_where(figures, "floor", view.house.floor)
    if letter is None:
        return None
    y = _middle_of_floor(view)
    return _Key(letter, view.paper.at(y, floor_foot(view) + 0.12), view.paper.at(y, -0.05))


def _middle_of_floor(view: SectionView) -> float:
    """Return the middle of the widest room that is cut, on a timber floor that of the bay between bearers there [m]."""
    widest = max(view.line.rooms, key=lambda room: room.end - room.start, default=None)
    middle = view.house.span / 2 if widest is None else (widest.start + widest.end) / 2
    frame = view.result.measured.floor_frame
    bearers = sorted({round(bearer.z, 6) for bearer in frame.bearers}) if frame is not None else []
    bays = [(one + other) / 2 for one, other in pairwise(bearers)]
    return min(bays, key=lambda bay: abs(bay - middle), default=middle)
