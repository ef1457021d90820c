"""Profiled sheets made to length: each length with its count, parted with end laps over the handling limit."""

from __future__ import annotations

import math
from collections import Counter

from takeoff.cutting.order_plan import CutLength, CutPiece, OrderItem, OrderPlan
from takeoff.cutting.pools import Pool
from takeoff.cutting.summed import summed
from takeoff.model.library import Stock


def made_lengths(length: float, row: Stock) -> list[float]:
    """Return the lengths that one sheet is ordered in [m]: to the next step, in several over the limit.

    Sheets over the limit are parted into equal ones that lap.

    >>> made_lengths(8.412, Stock(material="sheet", sold_by="cut to length", step=0.01))
    [8.42]
    >>> made_lengths(13.0, Stock(material="sheet", sold_by="cut to length", longest=12.0, end_lap=0.2, step=0.01))
    [6.6, 6.6]
    """
    number = 1
    if row.longest and length > row.longest + 1e-9:
        number = math.ceil((length - row.end_lap) / (row.longest - row.end_lap) - 1e-9)
    each = (length + (number - 1) * row.end_lap) / number
    return [round(math.ceil(each / row.step - 1e-6) * row.step, 6)] * number


def plan_cut_to_length(pool: Pool, number: int) -> OrderPlan | None:
    """Return the lengths to be made for all sheets of a pool; None where its pieces are not known.

    Source: common practice, no source; end laps of sheets of at least 8 in (200 mm): an extension text on
    metal roofing, University of Florida.
    """
    row, cover = pool.rows[0], pool.material.cover
    if not cover or any(not quantity.pieces for quantity in pool.quantities):
        return None
    counts: Counter[tuple[str, float, float]] = Counter()
    for quantity in pool.quantities:
        for piece in quantity.pieces:
            counts[quantity.id, piece.length, len(made_lengths(piece.length, row))] += piece.count
    made: Counter[float] = Counter()
    lengths = []
    lapped = 0
    for index, ((item, length, parts), count) in enumerate(
        sorted(counts.items(), key=lambda found: (-found[0][1], found[0][0])), start=1
    ):
        each = made_lengths(length, row)
        lapped += count if parts > 1 else 0
        for part, this in enumerate(each, start=1):
            made[this] += count
            cut = CutPiece(
                length=this,
                marks=(f"P{index:02d}",) * count,
                item=item,
                part=f"{part} of {len(each)}" if len(each) > 1 else "",
            )
            lengths.append(CutLength(stock=row, length=this, count=count, pieces=(cut,), offcut=0.0))
    items = tuple(
        OrderItem(stock=row, count=count, amount=count * length * cover, length=length)
        for length, count in sorted(made.items(), reverse=True)
    )
    notes = (
        (
            f"{lapped} sheets are longer than the handling limit of {row.longest:g} m: made in parts with end "
            f"laps of {row.end_lap * 1000:g} mm over a batten; the least slope for laps is the maker's",
        )
        if lapped
        else ()
    )
    return OrderPlan(
        **summed(pool, number),
        basis="cut to length",
        order=sum(item.amount for item in items),
        charged=sum(item.amount for item in items),
        items=items,
        rule=f"made to length, to the next {row.step * 1000:g} mm",
        lengths=tuple(lengths),
        notes=notes,
    )
