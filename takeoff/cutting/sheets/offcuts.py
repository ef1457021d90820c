"""One attempt at cutting: sheets opened so far, what is placed on them, and the offcuts still to be used.

All lengths are whole hundredths of a mm. Cuts go from edge to edge, so that what is left is rectangles.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

FirstCut = Literal["along", "across", "larger rest"]


class Rectangle(NamedTuple):
    """A rectangle on a sheet: its place along and across, its length and width."""

    x: int
    y: int
    length: int
    width: int


class Piece(NamedTuple):
    """A rectangle to be cut, and its number in the list of pieces."""

    number: int
    length: int
    width: int


class Stock(NamedTuple):
    """A size of sheet on sale, and what one counts for."""

    length: int
    width: int
    cost: float


@dataclass(frozen=True, slots=True)
class Saw:
    """Width of the saw cut, and the least offcut that is used again."""

    kerf: int
    least_length: int
    least_width: int

    def keeps(self, room: Rectangle) -> bool:
        """Whether an offcut is large enough to be used again."""
        return room.length >= self.least_length and room.width >= self.least_width


@dataclass(slots=True)
class OpenSheet:
    """A sheet being cut: its size, its pieces by number and place, and the offcuts left."""

    stock: Stock
    placed: list[tuple[int, Rectangle]] = field(default_factory=list)
    offcuts: list[Rectangle] = field(default_factory=list)

    def copy(self) -> OpenSheet:
        """Return a copy that can be cut further by itself."""
        return OpenSheet(self.stock, list(self.placed), list(self.offcuts))

    def place(self, piece: Piece, room: Rectangle, saw: Saw, first_cut: FirstCut) -> list[Rectangle]:
        """Cut a piece from the corner of a room and return what is left of the room and worth keeping."""
        self.placed.append((piece.number, Rectangle(room.x, room.y, piece.length, piece.width)))
        return _rests(room, piece, saw, first_cut)


Opening = Callable[[Piece], Stock]


def best_fit(
    pieces: Sequence[Piece], sheets: list[OpenSheet], *, saw: Saw, first_cut: FirstCut, opening: Opening
) -> None:
    """Place pieces in the order given, each into the offcut that it fits best, else into a new sheet.

    Best is what leaves least across, then least along. `opening` says which size of sheet to open for a piece.
    """
    # width and length first: they are read often
    rooms = [(room.width, room.length, room, sheet) for sheet in sheets for room in sheet.offcuts]
    for piece in pieces:
        _, length, width = piece
        fitting = [
            (room_width, room_length, place)
            for place, (room_width, room_length, _, _) in enumerate(rooms)
            if room_width >= width and room_length >= length
        ]
        if fitting:
            _, _, room, sheet = rooms.pop(min(fitting)[2])
        else:
            stock = opening(piece)
            room, sheet = Rectangle(0, 0, stock.length, stock.width), OpenSheet(stock)
            sheets.append(sheet)
        rests = sheet.place(piece, room, saw, first_cut)
        rooms += [(rest.width, rest.length, rest, sheet) for rest in rests]
    for sheet in sheets:
        sheet.offcuts = []
    for _, _, room, sheet in rooms:
        sheet.offcuts.append(room)


def _rests(room: Rectangle, piece: Piece, saw: Saw, first_cut: FirstCut) -> list[Rectangle]:
    """Return what is left of a room beyond and beside a piece, as far as it is worth keeping."""
    beyond = room.length - piece.length - saw.kerf
    beside = room.width - piece.width - saw.kerf
    if first_cut == "larger rest":
        # the larger of the two rests is kept in one piece
        first_cut = "along" if room.length * beside >= beyond * room.width else "across"
    x, y = room.x + piece.length + saw.kerf, room.y + piece.width + saw.kerf
    if first_cut == "along":
        rests = (Rectangle(x, room.y, beyond, piece.width), Rectangle(room.x, y, room.length, beside))
    else:
        rests = (Rectangle(x, room.y, beyond, room.width), Rectangle(room.x, y, piece.length, beside))
    return [rest for rest in rests if saw.keeps(rest)]
