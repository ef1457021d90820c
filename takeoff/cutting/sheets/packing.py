"""Cutting rectangles from whole sheets by cuts from edge to edge, with what is left used again.

Whole sheets are taken as they are. The others are placed one by one into the offcut they fit best (best-fit
decreasing with guillotine cuts), in several orders and with several first cuts, also after strips of nearly the
whole width have filled sheets by themselves; the least is kept. No piece is turned: paper and grain run along.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.cutting.sheets.offcuts import (
    FirstCut,
    Opening,
    OpenSheet,
    Piece,
    Rectangle,
    Saw,
    Stock,
    best_fit,
)
from takeoff.cutting.sheets.sizes import SheetOnSale, hundredths, metres
from takeoff.cutting.sheets.strips import fill_with_strips

_ORDERS: tuple[Callable[[Piece], tuple[int, ...]], ...] = (
    lambda piece: (-piece.width, -piece.length, piece.number),
    lambda piece: (-piece.length, -piece.width, piece.number),
    lambda piece: (-piece.length * piece.width, piece.number),
)
_FIRST_CUTS: tuple[FirstCut, ...] = ("larger rest", "along", "across")
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A rectangle cut from a sheet: its piece by place in the list, where it lies along and across, its size [m]."""

    piece: int
    x: float
    y: float
    length: float
    width: float


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left of a sheet that is worth keeping: where it lies along and across, its size [m]."""

    x: float
    y: float
    length: float
    width: float


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet bought, what is cut from it and what useful offcuts are left."""

    size: SheetOnSale
    pieces: tuple[CutPiece, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True)
class Packing:
    """Sheets opened and what they count for together."""

    sheets: tuple[OpenSheet, ...]
    cost: float

    @property
    def rank(self) -> tuple[float, int, int]:
        """What is least in the better packing: cost, then sheets, then small ones."""
        largest = max((sheet.stock.length * sheet.stock.width for sheet in self.sheets), default=0)
        return (round(self.cost, 9), len(self.sheets), -largest)


def cut_sheets(
    pieces: Sequence[tuple[float, float]],
    sizes: Sequence[SheetOnSale],
    *,
    kerf: float = 0.0,
    least_offcut: float = 0.0,
    least_width: float = 0.0,
) -> tuple[CutSheet, ...]:
    """Return how pieces, each a length and a width [m], are cut from sheets of the sizes on sale at least cost.

    `kerf` is the width of a saw cut; offcuts shorter than `least_offcut` or narrower than `least_width` are not used
    again [m]. Raises ValueError where a piece is larger than every size on sale.
    """
    stocks, saw = stocks_of(sizes), saw_of(kerf, least_offcut, least_width)
    packing = pack(in_hundredths(pieces), stocks, saw)
    return sheets_cut(packing, sizes, saw)


def pack(
    pieces: Sequence[tuple[int, int]],
    stocks: Sequence[Stock],
    saw: Saw,
    *,
    thorough: bool = True,
    enough: float = 0.0,
) -> Packing:
    """Return the best packing found of pieces [hundredths of a mm]; it stops at one that costs `enough`.

    Quick where not `thorough`: one order, with and without filling by strips first.
    """
    numbered = [Piece(number, *size) for number, size in enumerate(pieces)]
    worth_buying = [stock for stock in stocks if not any(_beats(other, stock) for other in stocks)]
    by_size = {(stock.length, stock.width): stock for stock in worth_buying}
    whole, part = [], []
    for piece in numbered:
        stock = by_size.get((piece.length, piece.width))
        if stock is None:
            part.append(piece)
        else:
            whole.append(OpenSheet(stock, [(piece.number, Rectangle(0, 0, piece.length, piece.width))]))
    for piece in part:
        if not any(_holds(stock, piece) for stock in worth_buying):
            raise ValueError(f"no sheet on sale holds {metres(piece.length):g} x {metres(piece.width):g} m")
    best: Packing | None = None
    for sheets in _attempts(part, worth_buying, saw, thorough):
        for sheet in sheets:
            _take_cheapest(sheet, worth_buying, saw)
        bought = (*whole, *sheets)
        packing = Packing(bought, sum(sheet.stock.cost for sheet in bought))
        if best is None or packing.rank < best.rank:
            best = packing
        if best.cost <= enough + _HAIR:
            break
    assert best is not None
    return best


def sheets_cut(packing: Packing, sizes: Sequence[SheetOnSale], saw: Saw) -> tuple[CutSheet, ...]:
    """Return the sheets of a packing in metres."""
    on_sale = dict(zip(stocks_of(sizes), sizes, strict=True))
    return tuple(
        CutSheet(
            on_sale[sheet.stock],
            tuple(CutPiece(number, *map(metres, place)) for number, place in sheet.placed),
            tuple(Offcut(*map(metres, room)) for room in sheet.offcuts),
        )
        for sheet in packing.sheets
    )


def in_hundredths(pieces: Sequence[tuple[float, float]]) -> list[tuple[int, int]]:
    """Return lengths and widths [m] in whole hundredths of a mm."""
    return [(hundredths(length), hundredths(width)) for length, width in pieces]


def stocks_of(sizes: Sequence[SheetOnSale]) -> list[Stock]:
    """Return sizes on sale in whole hundredths of a mm. Raises ValueError where one counts for nothing."""
    if any(size.counts_for <= 0 for size in sizes):
        raise ValueError("a sheet on sale must count for more than nothing")
    return [Stock(hundredths(size.length), hundredths(size.width), size.counts_for) for size in sizes]


def saw_of(kerf: float, least_offcut: float, least_width: float) -> Saw:
    """Return saw cut and least offcut in whole hundredths of a mm; an offcut has some length and width."""
    return Saw(hundredths(kerf), max(hundredths(least_offcut), 1), max(hundredths(least_width), 1))


def _attempts(
    pieces: Sequence[Piece], stocks: Sequence[Stock], saw: Saw, thorough: bool
) -> Iterator[list[OpenSheet]]:
    """Yield sheets with all pieces placed, in one way after the other."""
    orders = _ORDERS if thorough else _ORDERS[:1]
    first_cuts = _FIRST_CUTS if thorough else _FIRST_CUTS[:1]
    filled_first, others = fill_with_strips(pieces, stocks, saw)
    openings = [_opening_for(stock, stocks) for stock in _to_open(stocks, thorough)]
    for order in orders:
        for first_cut in first_cuts:
            for opening in openings:
                sheets = [sheet.copy() for sheet in filled_first]
                best_fit(sorted(others, key=order), sheets, saw=saw, first_cut=first_cut, opening=opening)
                yield sheets
                sheets = []
                best_fit(sorted(pieces, key=order), sheets, saw=saw, first_cut=first_cut, opening=opening)
                yield sheets


def _to_open(stocks: Sequence[Stock], thorough: bool) -> list[Stock]:
    """Return the sizes to prefer for new sheets: the cheapest and the largest, and others with more effort."""
    cheapest_first = sorted(stocks, key=lambda stock: (stock.cost, -stock.length * stock.width))
    if thorough and len(stocks) > 2:
        return [cheapest_first[0], cheapest_first[len(stocks) // 2], cheapest_first[-1]]
    return list(dict.fromkeys([cheapest_first[0], cheapest_first[-1]]))


def _opening_for(preferred: Stock, stocks: Sequence[Stock]) -> Opening:
    """Return the rule that opens the preferred size where it holds a piece, else the cheapest that does."""
    cheapest_first = sorted(stocks, key=lambda stock: (stock.cost, -stock.length * stock.width))

    def opening(piece: Piece) -> Stock:
        if _holds(preferred, piece):
            return preferred
        return next(stock for stock in cheapest_first if _holds(stock, piece))

    return opening


def _take_cheapest(sheet: OpenSheet, stocks: Sequence[Stock], saw: Saw) -> None:
    """Make a sheet of the cheapest size that holds what is cut from it; its offcuts end where it ends."""
    length = max(place.x + place.length for _, place in sheet.placed)
    width = max(place.y + place.width for _, place in sheet.placed)
    stock = min(
        (
            s
            for s in stocks
            if length <= s.length <= sheet.stock.length and width <= s.width <= sheet.stock.width
        ),
        key=lambda s: (s.cost, -s.length * s.width),
    )
    if stock == sheet.stock:
        return
    sheet.stock = stock
    ended = [
        room._replace(
            length=min(room.length, stock.length - room.x), width=min(room.width, stock.width - room.y)
        )
        for room in sheet.offcuts
    ]
    sheet.offcuts = [room for room in ended if saw.keeps(room)]


def _holds(stock: Stock, piece: Piece) -> bool:
    """Whether a sheet of a size is large enough for a piece."""
    return stock.length >= piece.length and stock.width >= piece.width


def _beats(one: Stock, other: Stock) -> bool:
    """Whether a size is as large as another and costs less, or is larger and costs no more."""
    return (
        one.length >= other.length
        and one.width >= other.width
        and (one.cost < other.cost or (one.cost == other.cost and one[:2] != other[:2]))
    )
