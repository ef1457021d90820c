"""What is written in the rooms of a plan: name, floor area and size; a number where there is no room for them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.places import Patch, about, nearest_place
from takeoff.documents.drawings.plan_floors import RoomFloor
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    DETAIL,
    GREY,
    INK,
    WHITE,
    Point,
    group,
    lettering,
    rect,
)

# Type sizes of a room's name and of the figures under it; the smaller pair where room is short [mm].
_SIZES = ((2.5, 2.2), (2.0, 1.9))
# Clear round lettering, and round smaller lettering [mm].
CLEAR = 0.8
_LESS_CLEAR = 0.5
_LINE = 1.32
_DESCENT = 0.24
_KEY_TYPE, _KEY_WIDTH, _KEY_HEIGHT = 2.1, 4.4, 3.5
# Where not even a number in its frame fits: bare numbers, the last small [mm].
_BARE_TYPES = (2.1, 1.6)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of lettering: its words, type size [mm], weight and ink."""

    words: str
    size: float
    bold: bool = False
    fill: str = INK

    @property
    def wide(self) -> float:
        """Its width [mm]."""
        return text_width(self.words, self.size, semibold=self.bold)


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of lettering one below the other, centred; `upright` ones read from the right of the sheet."""

    lines: tuple[Line, ...]
    upright: bool = False

    @property
    def clear(self) -> float:
        """Clear round it [mm]."""
        return CLEAR if self.lines[0].size == _SIZES[0][0] else _LESS_CLEAR

    @property
    def size(self) -> tuple[float, float]:
        """Width and height on the sheet [mm]."""
        wide = max(line.wide for line in self.lines)
        first, *rest = self.lines
        high = CAP_HEIGHT * first.size + sum(_LINE * line.size for line in rest)
        high += _DESCENT * self.lines[-1].size
        return (high, wide) if self.upright else (wide, high)

    def drawn(self, middle: Point, *, id: str | None = None) -> str:
        """Return the lines about a point."""
        x, y = middle
        wide, high = self.size
        down = (x - wide / 2) if self.upright else (y - high / 2)
        elements = []
        for index, line in enumerate(self.lines):
            down += (_LINE if index else CAP_HEIGHT) * line.size
            elements.append(
                lettering(
                    line.words,
                    (down, y) if self.upright else (x, down),
                    size=line.size,
                    anchor="middle",
                    weight=600 if line.bold else None,
                    fill=line.fill,
                    upright=self.upright,
                )
            )
        return group(elements, id=id)


@dataclass(frozen=True, slots=True)
class RoomLabels:
    """The lettering of all rooms: elements, the paper they take, and the rooms listed under the plan.

    Of a listed room `listed` has its number, None where not even that found room. `upright` are the
    rooms lettered so. `rank` is the sum over rooms
    of how far down the ways to letter them one had to go.
    """

    elements: tuple[str, ...]
    patches: tuple[Patch, ...]
    listed: tuple[tuple[int | None, RoomFloor], ...]
    upright: tuple[RoomFloor, ...]
    rank: int


def _blocks(floor: RoomFloor) -> Iterator[Block]:
    """Yield the ways to letter a room, the best first.

    Level before upright; in lines before all in one, as in a passage; larger before smaller; with the size
    before without; the name whole before wrapped.
    """
    box = max(floor.patches, key=lambda patch: patch.wide * patch.high)
    name = " ".join(floor.room.name.split())
    area = f"{floor.area:.2f} m²"
    for upright in (False, True):
        across = (box.high if upright else box.wide) - 2 * _LESS_CLEAR
        for large, small in _SIZES:
            figures = (Line(area, small), Line(floor.size, small, fill=GREY))
            broken = wrapped(name, large, across, semibold=True)
            for count in (2, 1):
                for names in dict.fromkeys(((name,), tuple(broken))):
                    lines = tuple(Line(words, large, bold=True) for words in names)
                    yield Block((*lines, *figures[:count]), upright)
        for _, small in _SIZES:
            yield Block((Line(f"{name}, {area}", small, bold=True),), upright)


def letter_rooms(floors: Sequence[RoomFloor], taken: Sequence[Patch], id_prefix: str) -> RoomLabels:
    """Return the lettering of every room, in its largest rectangle, clear of all that is taken."""
    elements: list[str] = []
    patches: list[Patch] = []
    listed: list[tuple[int | None, RoomFloor]] = []
    upright: list[RoomFloor] = []
    rank = 0
    for index, floor in enumerate(floors, start=1):
        ideal = max(floor.patches, key=lambda patch: patch.wide * patch.high).middle
        id = f"{id_prefix}-room-{index}"
        for step, block in enumerate(_blocks(floor)):
            place = _place(block.size, ideal, floor, taken, block.clear)
            if place is not None:
                elements.append(block.drawn(place, id=id))
                patches.append(about(place, *block.size))
                rank += step
                if block.upright:
                    upright.append(floor)
                break
        else:
            number = sum(1 for key, _ in listed if key is not None) + 1
            drawn = _number(number, ideal, floor, taken, id=id)
            listed.append((number if drawn else None, floor))
            if drawn:
                elements.append(drawn[0])
                patches.append(drawn[1])
    return RoomLabels(tuple(elements), tuple(patches), tuple(listed), tuple(upright), rank)


def _place(
    size: tuple[float, float], ideal: Point, floor: RoomFloor, taken: Sequence[Patch], clear: float
) -> Point | None:
    """Return the middle of a free place in a room, with room about it."""
    wide, high = size
    return nearest_place(wide + 2 * clear, high + 2 * clear, ideal=ideal, area=floor.patches, taken=taken)


def _number(
    number: int, ideal: Point, floor: RoomFloor, taken: Sequence[Patch], *, id: str
) -> tuple[str, Patch] | None:
    """Return the number of a room in its frame, or bare where that does not fit, and the paper it takes."""
    words = str(number)
    place = _place((_KEY_WIDTH, _KEY_HEIGHT), ideal, floor, taken, 0.5)
    if place is not None:
        patch = about(place, _KEY_WIDTH, _KEY_HEIGHT)
        frame = rect(patch.left, patch.top, _KEY_WIDTH, _KEY_HEIGHT, fill=WHITE, stroke=INK, weight=DETAIL)
        figure = lettering(words, place, size=_KEY_TYPE, weight=600, anchor="middle", centred=True)
        return group([frame, figure], id=id), patch
    for size in _BARE_TYPES:
        block = Block((Line(words, size, bold=True),))
        place = _place(block.size, ideal, floor, taken, 0.4)
        if place is not None:
            return block.drawn(place, id=id), about(place, *block.size)
    return None


def list_entries(listed: Sequence[tuple[int | None, RoomFloor]]) -> list[str]:
    """Return the rooms that are listed under the plan, each with number, area and size."""
    return [
        f"{'' if number is None else f'{number} '}{' '.join(floor.room.name.split())}, {floor.area:.2f} m², "
        f"{floor.size}"
        for number, floor in sorted(listed, key=lambda pair: pair[0] is None)
    ]
