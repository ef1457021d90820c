"""Plans what is bought in lengths: framing, battens, boards, trims, gutters."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.cutting.lengths.length_plan import LengthPlan, Part, StockLength
from takeoff.cutting.lengths.plan import LengthQuestion, plan_lengths
from takeoff.cutting.lengths.running import lay_running
from takeoff.cutting.marks import MarkedCut, Wanted, mark_cuts
from takeoff.cutting.offcuts import offcuts_of_lengths
from takeoff.cutting.order_plan import CutLength, CutPiece, OrderItem, OrderPlan, TooLong, Worth
from takeoff.cutting.pools import Pool
from takeoff.cutting.summed import summed
from takeoff.measure.quantity import Piece
from takeoff.model.library import Stock

FRAMING_CLASS = "frame"
# Parts with more places for joints than this in all are laid as on site, one length after the other.
_MOST_JOINTS = 600


@dataclass(frozen=True, slots=True)
class _OnSale:
    """One length on sale: its row of the stock, its length [mm], what it counts for, mm or the aim's unit."""

    row: Stock
    length: int
    worth: float


def plan_by_length(pool: Pool, number: int, worth: Worth | None, worth_unit: str) -> OrderPlan | None:
    """Plan the lengths of a pool; None where the pieces of one of its items are not known.

    `worth` is what a length counts for under the aim of the plan, None for its length alone. Pieces that no
    length on sale can serve are bought at their own length, as a special order.
    """
    per_metre = _per_metre(pool)
    if per_metre is None or any(not quantity.pieces for quantity in pool.quantities):
        return None
    first_row = pool.rows[0]
    wanted = tuple(_wanted(pool))
    on_sale = _on_sale(pool, worth, per_metre)
    plan = _best_plan([w.part for w in wanted], on_sale, pool)
    lengths = tuple(_cut_lengths(mark_cuts(plan, wanted), on_sale))
    special = tuple(_too_long(plan, wanted, on_sale))
    items = tuple(_items(lengths, special, per_metre, first_row))
    scale = 1e-3 if worth is None else 1.0
    apart = sum(
        piece.length if worth is None else worth(pool.quantities[0], first_row, piece.length * per_metre)
        for piece in special
    )
    return OrderPlan(
        **summed(pool, number),
        basis="cutting plan",
        order=sum(item.amount for item in items),
        charged=sum(item.amount for item in items),
        items=items,
        rule=_rule(plan, pool),
        worth=plan.cost * scale + apart,
        bound=plan.bound * scale + apart,
        worth_unit=worth_unit if worth else "m",
        proven=plan.proven and not special,
        framing=pool.material.item_class == FRAMING_CLASS,
        lengths=lengths,
        offcuts=offcuts_of_lengths(lengths),
        too_long=special,
    )


def _per_metre(pool: Pool) -> float | None:
    """Return how much of its unit one metre of a pool is: 1 m, or its width where it is boards in m2."""
    if pool.unit == "m":
        return 1.0
    return pool.depth if pool.unit == "m2" else None


def _mm(length: float) -> int:
    """Return a length in whole mm, rounded up, since a piece cut short is lost."""
    return math.ceil(length * 1000 - 1e-6)


def _wanted(pool: Pool) -> Iterator[Wanted]:
    """Yield the parts of all items of a pool, equal ones together; those without a mark get one by length."""
    owners: dict[tuple[int, tuple[int, ...]], list[tuple[str, str]]] = {}
    kinds = sorted({_mm(p.length) for q in pool.quantities for p in q.pieces}, reverse=True)
    for quantity in pool.quantities:
        for piece in quantity.pieces:
            length = _mm(piece.length)
            marks = piece.mark.split() or [f"P{kinds.index(length) + 1:02d}"] * piece.count
            key = (length, _joints(piece, pool, length))
            owners.setdefault(key, []).extend((mark, quantity.id) for mark in marks)
    for (length, joints), them in sorted(owners.items(), key=lambda item: (-item[0][0], item[0][1])):
        yield Wanted(Part(length, len(them), joints), tuple(them))


def _joints(piece: Piece, pool: Pool, length: int) -> tuple[int, ...]:
    """Return where a piece may be joined [mm]: on its supports where the stock allows joints at all."""
    if pool.rows[0].joints == "none":
        return ()
    places = sorted({round(place * 1000) for place in piece.joints or ()})
    return tuple(place for place in places if 0 < place < length)


def _on_sale(pool: Pool, worth: Worth | None, per_metre: float) -> list[_OnSale]:
    """Return the lengths on sale; random lengths count as their mean."""
    on_sale = []
    for row in pool.rows:
        lengths = [sum(row.lengths) / 2] if row.sold_by == "random lengths" else row.lengths
        for length in lengths:
            counts = (
                worth(pool.quantities[0], row, length * per_metre) if worth else float(round(length * 1000))
            )
            on_sale.append(_OnSale(row, round(length * 1000), counts))
    return sorted(on_sale, key=lambda item: (item.length, item.worth))


def _best_plan(parts: Sequence[Part], on_sale: Sequence[_OnSale], pool: Pool) -> LengthPlan:
    """Return the cheaper of the plan solved for and the plan laid as on site, where both may be used."""
    row = pool.rows[0]
    stock = _stock(on_sale)
    kerf, least = _mm(row.kerf), _mm(row.least_offcut)
    anywhere = _joined_anywhere(pool)
    tries: list[LengthPlan] = []
    question = _question(parts, stock, pool)
    if question is not None:
        tries.append(plan_lengths(question.parts, question.stock, kerf=question.kerf))
    if anywhere or not tries or tries[0].too_long:
        tries.append(
            lay_running(parts, stock, kerf=kerf, end_lap=_mm(row.end_lap), least=least, anywhere=anywhere)
        )
    return min(tries, key=lambda plan: (sum(parts[i].count for i in plan.too_long), plan.cost))


def length_questions(pool: Pool, worth: Worth | None) -> list[LengthQuestion]:
    """Return what the plan of a pool will ask for, if it is solved; arguments as for `plan_by_length`."""
    per_metre = _per_metre(pool)
    if per_metre is None or any(not quantity.pieces for quantity in pool.quantities):
        return []
    parts = [wanted.part for wanted in _wanted(pool)]
    question = _question(parts, _stock(_on_sale(pool, worth, per_metre)), pool)
    return [] if question is None else [question]


def _question(parts: Sequence[Part], stock: tuple[StockLength, ...], pool: Pool) -> LengthQuestion | None:
    """Return what is to be solved for, None where parts are only laid as on site."""
    row = pool.rows[0]
    if row.sold_by == "random lengths":
        return None
    solved = [replace(part, joints=()) for part in parts] if _joined_anywhere(pool) else list(parts)
    if sum(len(part.joints) for part in solved) > _MOST_JOINTS:
        return None
    return LengthQuestion(tuple(solved), stock, _mm(row.kerf))


def _stock(on_sale: Sequence[_OnSale]) -> tuple[StockLength, ...]:
    """Return the lengths on sale as the plan takes them."""
    return tuple(StockLength(item.length, item.worth) for item in on_sale)


def _joined_anywhere(pool: Pool) -> bool:
    """Whether the lengths of a pool may be joined anywhere."""
    return pool.rows[0].joints == "anywhere" and pool.material.item_class != FRAMING_CLASS


def _cut_lengths(
    bars: Sequence[tuple[int, Sequence[MarkedCut]]], on_sale: Sequence[_OnSale]
) -> Iterator[CutLength]:
    """Yield the lengths bought, those cut alike together: longest first, fullest first."""
    alike: dict[tuple[int, tuple[tuple[int, str, str], ...]], list[list[MarkedCut]]] = {}
    for stock, cuts in bars:
        ordered = sorted(cuts, key=lambda cut: (-cut.length, cut.item, cut.part, cut.mark))
        key = (stock, tuple((cut.length, cut.item, cut.part) for cut in ordered))
        alike.setdefault(key, []).append(ordered)
    found = []
    for (stock, _), group in alike.items():
        row, length = on_sale[stock].row, on_sale[stock].length / 1000
        pieces = tuple(
            CutPiece(
                length=cuts[0].length / 1000,
                marks=tuple(cut.mark for cut in cuts),
                item=cuts[0].item,
                part=cuts[0].part,
            )
            for cuts in zip(*group, strict=True)
        )
        used = sum(piece.length for piece in pieces) + len(pieces) * row.kerf
        found.append(
            CutLength(
                stock=row,
                length=length,
                count=len(group),
                pieces=pieces,
                offcut=max(round(length - used, 6), 0.0),
            )
        )
    yield from sorted(found, key=lambda cut: (-cut.length, cut.offcut, -cut.pieces[0].length))


def _too_long(plan: LengthPlan, wanted: Sequence[Wanted], on_sale: Sequence[_OnSale]) -> Iterator[TooLong]:
    """Yield the pieces that nothing on sale serves."""
    longest = max(on_sale, key=lambda item: item.length)
    for index in plan.too_long:
        length = wanted[index].part.length / 1000
        for mark, item in wanted[index].owners:
            yield TooLong(item=item, mark=mark, length=length, longest=longest.length / 1000, row=longest.row)


def _items(
    lengths: Sequence[CutLength], special: Sequence[TooLong], per_metre: float, special_row: Stock
) -> Iterator[OrderItem]:
    """Yield what is bought: lengths of each size, random lengths together, special orders."""
    counts: Counter[tuple[Stock, float]] = Counter()
    for cut in lengths:
        counts[cut.stock, cut.length] += cut.count
    for (row, length), count in sorted(counts.items(), key=lambda item: item[0][1]):
        by_the_metre = row.sold_by == "random lengths"
        yield OrderItem(
            stock=row,
            count=count * length if by_the_metre else count,
            amount=count * length * per_metre,
            length=None if by_the_metre else length,
        )
    for length, count in sorted(Counter(piece.length for piece in special).items()):
        yield OrderItem(stock=special_row, count=count, amount=count * length * per_metre, length=length)


def _rule(plan: LengthPlan, pool: Pool) -> str:
    """Return in words how the order follows."""
    row = pool.rows[0]
    how = {
        "column generation": "pieces cut from whole lengths",
        "first fit": "laid one length after the other",
        "nothing to cut": "nothing to cut",
    }[plan.method]
    if row.sold_by == "random lengths":
        shortest, longest = row.lengths
        how += f", random lengths of {shortest:g} to {longest:g} m planned as their mean"
    joints = {"none": "no joints", "on supports": "joined on supports only", "anywhere": "joined anywhere"}
    return f"{how}, {joints[row.joints]}"
