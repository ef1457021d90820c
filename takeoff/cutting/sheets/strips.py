"""Filling sheets with strips: pieces too wide to lie side by side, which share the length of a sheet.

They are a one-dimensional cutting stock. Each sheet takes the longest strip left and of the others those that fill
it best, found exactly as a sum of lengths. Lengths are whole hundredths of a mm.
"""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.cutting.sheets.offcuts import OpenSheet, Piece, Rectangle, Saw, Stock

# sums are found in tenths of a mm, rounded to the safe side: finer ones take longer and save nothing
_STEP = 10
_MOST = 40


def fill_with_strips(
    pieces: Sequence[Piece], stocks: Sequence[Stock], saw: Saw
) -> tuple[list[OpenSheet], list[Piece]]:
    """Return sheets filled with the strips among the pieces, and the pieces that are no strips.

    Where several sizes are on sale each sheet is of the size that its strips fill best for what it costs.
    """
    widest = max(stock.width for stock in stocks)
    strips = [piece for piece in pieces if 2 * piece.width + saw.kerf > widest]
    strips.sort(key=lambda piece: (-piece.length, -piece.width, piece.number))
    others = [piece for piece in pieces if 2 * piece.width + saw.kerf <= widest]
    sheets = []
    while strips:
        stock, chosen = _best_filled(strips, stocks, saw)
        sheet, room = OpenSheet(stock), Rectangle(0, 0, stock.length, stock.width)
        cut = set()
        for piece in chosen:
            rests = sheet.place(piece, room, saw, "across")
            cut.add(piece.number)
            beyond = [rest for rest in rests if rest.x > room.x]
            sheet.offcuts += [rest for rest in rests if rest.x == room.x]
            if not beyond:
                break
            room = beyond[0]
        else:
            sheet.offcuts.append(room)
        sheets.append(sheet)
        strips = [piece for piece in strips if piece.number not in cut]
    return sheets, others


def _best_filled(strips: Sequence[Piece], stocks: Sequence[Stock], saw: Saw) -> tuple[Stock, list[Piece]]:
    """Return the size that strips with the first one fill best for its cost, and those strips."""
    best: tuple[float, int] | None = None
    for stock in stocks:
        if strips[0].length > stock.length or strips[0].width > stock.width:
            continue
        fitting = [piece for piece in strips[1:] if piece.width <= stock.width]
        if len(fitting) > _MOST:
            # strips spread over all lengths fill a sheet as well as all of them
            fitting = [fitting[number * len(fitting) // _MOST] for number in range(_MOST)]
        fitting.insert(0, strips[0])
        lengths = [piece.length for piece in fitting]
        taken = [fitting[number] for number in fullest(lengths, room=stock.length, kerf=saw.kerf)]
        worth = sum(piece.length * piece.width for piece in taken) / stock.cost, stock.length * stock.width
        if best is None or worth > best:
            best, found = worth, (stock, taken)
    return found


def fullest(lengths: Sequence[int], *, room: int, kerf: int) -> list[int]:
    """Return which of the lengths, the first one among them, fill a room best with a saw cut between each.

    >>> fullest([1000, 900, 800, 700, 300], room=2000, kerf=0)
    [0, 3, 4]
    """
    left = (room - lengths[0]) // _STEP
    if left <= 0:
        return [0]
    mask = (1 << (left + 1)) - 1
    steps = [-(-(length + kerf) // _STEP) for length in lengths[1:]]
    reached = [1]
    for step in steps:
        reached.append(reached[-1] | (reached[-1] << step) & mask)
        if reached[-1].bit_length() > left:
            break
    chosen, total = [], reached[-1].bit_length() - 1
    for number in range(len(reached) - 1, 0, -1):
        if not reached[number - 1] >> total & 1:
            chosen.append(number)
            total -= steps[number - 1]
    return [0, *reversed(chosen)]
