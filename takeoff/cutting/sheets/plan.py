"""The sheets to buy for surfaces: how they are laid and cut so that what is bought counts for least."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from takeoff.cutting.remembered import Remembered
from takeoff.cutting.sheets.bounds import in_whole_sheets, least_area, least_cost
from takeoff.cutting.sheets.choices import Choice, Rules, choices
from takeoff.cutting.sheets.layout import Direction, LaidPiece
from takeoff.cutting.sheets.offcuts import Saw, Stock
from takeoff.cutting.sheets.packing import CutSheet, Packing, pack, saw_of, sheets_cut, stocks_of
from takeoff.cutting.sheets.pieces import HAIR
from takeoff.cutting.sheets.sizes import SheetOnSale
from takeoff.measure.surface import Surface

# ways of laying are cut until they had so many pieces, times sizes on sale, together
_EFFORT = 6000
_HAIR = 1e-9
DIRECTIONS: tuple[Direction, ...] = ("horizontal", "vertical")
_NAMES: dict[Direction, str] = {"vertical": "upright sheets", "horizontal": "level courses"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """How sheets are laid, what is bought and how it is cut.

    `sheet_of` tells for each piece of the layout from which of the sheets it is cut. `cost` is what the sheets count
    for. Below `area_bound` [m2] no sheets could cover what is laid, below `strip_bound` [m2] none could be cut into
    the pieces of this layout.
    """

    layout: tuple[LaidPiece, ...]
    sheets: tuple[CutSheet, ...]
    sheet_of: tuple[int, ...]
    bought: tuple[tuple[SheetOnSale, int], ...]
    cost: float
    area_bound: float
    strip_bound: float
    direction: Direction
    rule: str

    @property
    def rank(self) -> tuple[float, int, float]:
        """What is less in the better plan: cost, then sheets, then small ones."""
        return (
            round(self.cost, 9),
            self.count,
            -max((size.size.area for size, _ in self.bought), default=0.0),
        )

    @property
    def count(self) -> int:
        """Number of sheets bought."""
        return len(self.sheets)

    @property
    def area_laid(self) -> float:
        """Area of the pieces laid [m2]."""
        return sum(piece.area for piece in self.layout)

    @property
    def area_bought(self) -> float:
        """Area of the sheets bought [m2]."""
        return sum(size.size.area * count for size, count in self.bought)


@dataclass(frozen=True, slots=True)
class SheetQuestion:
    """What a plan of sheets laid in one direction is asked for: see `plan_sheets`."""

    surfaces: tuple[Surface, ...]
    sizes: tuple[SheetOnSale, ...]
    direction: Direction
    rules: Rules

    @property
    def effort(self) -> int:
        """About how much work it is, in the measure of plans of lengths."""
        return 200 * len(self.surfaces) * len(self.sizes)

    @property
    def known(self) -> bool:
        """Whether the answer is kept."""
        return _plan.knows(self)

    def answer(self) -> SheetPlan:
        """Return the plan."""
        return _plan(self)

    def keep(self, plan: SheetPlan) -> None:
        """Keep a plan found elsewhere."""
        _plan.keep(self, plan)


@lru_cache(maxsize=1024)
def plan_sheets(
    surfaces: tuple[Surface, ...],
    sizes: tuple[SheetOnSale, ...],
    *,
    direction: Direction | None,
    stagger: float,
    joint: float = 0.0,
    kerf: float = 0.0,
    least_offcut: float = 0.0,
    least_width: float = 0.0,
) -> SheetPlan:
    """Return the sheets to buy for surfaces, how they are laid and how they are cut, at least cost.

    `direction` None tries both and takes the one that costs less for all surfaces together. `stagger` is the least
    distance between end joints of neighbouring courses, `joint` the open joint between sheets, `kerf` the saw cut;
    offcuts shorter than `least_offcut` or narrower than `least_width` are not used again [m]. A surface is laid
    in one size throughout, all in one size or each in the one that suits it; a piece of it may be cut
    from a smaller sheet. Of plans that cost the same the one with fewer sheets is taken, then the one with larger
    ones. Sizes too short for the stagger are left out; raises ValueError where that leaves none.
    """
    rules = Rules(stagger, joint, kerf, least_offcut, least_width)
    if direction is not None:
        return _plan(SheetQuestion(surfaces, sizes, direction, rules))
    level, upright = (_plan(SheetQuestion(surfaces, sizes, way, rules)) for way in DIRECTIONS)
    less, more = (upright, level) if upright.rank < level.rank else (level, upright)
    comparison = "took as much" if more.rank[0] == less.rank[0] else "took more"
    return replace(less, rule=f"{less.rule}, either way tried: {_NAMES[more.direction]} {comparison}")


def _solve(question: SheetQuestion) -> SheetPlan:
    """Return the plan for one direction."""
    surfaces, sizes = question.surfaces, question.sizes
    direction, rules = question.direction, question.rules
    stocks, saw = stocks_of(sizes), saw_of(rules.kerf, rules.least_offcut, rules.least_width)
    usable = [size for size in sizes if 2 * rules.stagger <= size.length + rules.joint + HAIR]
    if not usable:
        raise ValueError(f"no sheet on sale is long enough for end joints {rules.stagger:g} m apart")
    choice, packing = _least(choices(surfaces, usable, direction, rules), stocks, saw)
    layout = tuple(
        replace(piece, surface=place) for place, laid in enumerate(choice.surfaces) for piece in laid.pieces
    )
    sheets = sheets_cut(packing, sizes, saw)
    counts = Counter(sheet.size for sheet in sheets)
    sheet_of = {cut.piece: number for number, sheet in enumerate(sheets) for cut in sheet.pieces}
    return SheetPlan(
        layout=layout,
        sheets=sheets,
        sheet_of=tuple(sheet_of[number] for number in range(len(layout))),
        bought=tuple((size, counts[size]) for size in sizes if counts[size]),
        cost=packing.cost,
        area_bound=in_whole_sheets(sum(piece.area for piece in layout), sizes),
        strip_bound=least_area(choice.cut_sizes, sizes, saw.kerf),
        direction=direction,
        rule=_rule(direction, rules),
    )


_plan = Remembered(_solve, most=1024)


def _least(ways: Iterable[Choice], stocks: Sequence[Stock], saw: Saw) -> tuple[Choice, Packing]:
    """Return the way of laying that costs least, and how it is cut.

    The ways that promise most are cut quickly, but for those whose bound shows that they can't be better than what is
    found; then the best one with more effort.
    """
    found: list[tuple[tuple[float, int, int], int, Choice, Packing]] = []
    effort = _EFFORT
    for way in sorted(ways, key=lambda way: way.guess):
        if effort <= 0:
            break
        if found and _no_better(way, min(found)[0], stocks, saw):
            continue
        packing = pack(way.cut_sizes, stocks, saw, thorough=False)
        found.append((packing.rank, len(found), way, packing))
        effort -= (len(way.cut_sizes) + 1) * (len(stocks) + 1)
    _, _, way, quick = min(found)
    careful = pack(way.cut_sizes, stocks, saw, enough=least_cost(way.cut_sizes, stocks, saw.kerf))
    return way, min(quick, careful, key=lambda packing: packing.rank)


def _no_better(way: Choice, rank: tuple[float, int, int], stocks: Sequence[Stock], saw: Saw) -> bool:
    """Whether a way of laying can't cost less than another, nor as much with fewer sheets."""
    bound = least_cost(way.cut_sizes, stocks, saw.kerf)
    if abs(bound - rank[0]) > _HAIR:
        return bound > rank[0]
    return (
        least_cost(way.cut_sizes, [stock._replace(cost=1.0) for stock in stocks], saw.kerf) >= rank[1] - _HAIR
    )


def _rule(direction: Direction, rules: Rules) -> str:
    """Return how sheets are laid and cut, in words."""
    words = [_NAMES[direction]]
    if rules.joint:
        words.append(f"open joints of {rules.joint * 1000:.0f} mm")
    if rules.stagger:
        words.append(f"end joints at least {rules.stagger * 1000:.0f} mm apart")
    if rules.least_offcut or rules.least_width:
        words.append(
            f"offcuts from {rules.least_offcut * 1000:.0f} x {rules.least_width * 1000:.0f} mm used again"
        )
    else:
        words.append("offcuts used again")
    return ", ".join(words)
