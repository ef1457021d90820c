"""Cutting plans for whole lengths: known optima, an independent checker, a second solver.

Nothing below shares code with the planner: the checker reads the plan alone, the known optima are made by cutting whole
lengths into pieces with nothing lost, and the second solver (OR-Tools, CP-SAT) is given every way to cut.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter, defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from takeoff.cutting.lengths.length_plan import LengthPlan, Part, StockLength
from takeoff.cutting.lengths.plan import plan_lengths

# --- known optima -----------------------------------------------------------------------------------------


def cut_up(seed: int, *, lengths: int, stock: int, kerf: int, triplets: bool) -> list[int]:
    """Cut whole lengths into pieces with nothing lost: the least number of lengths is then `lengths`."""
    draw = random.Random(seed)
    pieces: list[int] = []
    for _ in range(lengths):
        number = 3 if triplets else draw.randint(2, 7)
        room = stock - kerf * (number - 1)
        if triplets:
            # each piece longer than a quarter and shorter than half, so that no length holds four
            first = draw.randint(room // 4 + 1, room // 2 - 1)
            second = draw.randint(max(room // 4 + 1, room - first - room // 2 + 1), room // 2 - 1)
            parts = [first, second, room - first - second]
        else:
            cuts = sorted(draw.sample(range(1, room), number - 1))
            parts = [b - a for a, b in itertools.pairwise([0, *cuts, room])]
        pieces += [part for part in parts if part > 0]
    draw.shuffle(pieces)
    return pieces


SEEDED = [
    # seed, lengths, kerf, triplets
    *[(seed, 15 + 5 * seed, 0, False) for seed in range(1, 8)],
    *[(seed, 15 + 5 * seed, 4, False) for seed in range(8, 14)],
    *[(seed, 20, 0, True) for seed in range(14, 18)],
    *[(seed, 27, 3, True) for seed in range(18, 21)],
]


@pytest.mark.parametrize(("seed", "lengths", "kerf", "triplets"), SEEDED)
def test_whole_lengths_cut_up_are_put_together_again(seed, lengths, kerf, triplets):
    pieces = cut_up(seed, lengths=lengths, stock=6000, kerf=kerf, triplets=triplets)
    assert 60 <= len(pieces) <= 400
    parts = tuple(Part(length, count) for length, count in Counter(pieces).items())
    plan = plan_lengths(parts, (StockLength(6000, 1.0),), kerf=kerf)
    check(plan, parts, (StockLength(6000, 1.0),), kerf)
    assert lengths <= plan.cost <= lengths + 1
    assert plan.bound == lengths
    assert plan.gap == pytest.approx(plan.cost / plan.bound - 1)
    assert plan.proven is (plan.cost == lengths)


def test_most_of_them_are_put_together_without_one_length_more():
    plans = []
    for seed, lengths, kerf, triplets in SEEDED:
        counts = Counter(cut_up(seed, lengths=lengths, stock=6000, kerf=kerf, triplets=triplets))
        parts = tuple(Part(length, count) for length, count in counts.items())
        plans.append(plan_lengths(parts, (StockLength(6000, 1.0),), kerf=kerf))
    assert len(plans) == 20
    assert sum(plan.proven for plan in plans) >= 18


# --- the independent checker ------------------------------------------------------------------------------


def check(
    plan: LengthPlan, parts: tuple[Part, ...], stock: tuple[StockLength, ...], kerf: int
) -> dict[int, list[tuple[int, int]]]:
    """Assert that a plan can be cut and makes every part as often as it is wanted; return its pieces by part."""
    pieces: dict[int, list[tuple[int, int]]] = defaultdict(list)
    cost = 0.0
    for pattern in plan.patterns:
        assert pattern.count > 0
        assert pattern.cuts
        used = sum(cut.end - cut.start for cut in pattern.cuts) + kerf * (len(pattern.cuts) - 1)
        assert used <= stock[pattern.stock].length
        cost += stock[pattern.stock].cost * pattern.count
        for cut in pattern.cuts:
            pieces[cut.part] += [(cut.start, cut.end)] * pattern.count
    for number, part in enumerate(parts):
        if number in plan.too_long:
            assert not pieces[number]
            continue
        legal = {0, part.length, *part.joints}
        begins = Counter(start for start, _ in pieces[number])
        ends = Counter(end for _, end in pieces[number])
        assert {*begins, *ends} <= legal
        assert all(start < end for start, end in pieces[number])
        # as many pieces end at a joint as begin there, and the ends of the part are met as often as it is wanted
        assert begins[0] == ends[part.length] == part.count
        for joint in legal - {0, part.length}:
            assert begins[joint] == ends[joint]
    assert plan.cost == pytest.approx(cost)
    assert plan.bound <= plan.cost + 1e-6 * max(plan.cost, 1.0)
    if plan.proven:
        assert plan.bound == pytest.approx(plan.cost)
    return pieces


def assert_rules_of_joints(part: Part, made: list[tuple[int, int]], longest: int) -> None:
    """Assert that no piece is shorter than 900 mm where the part can be made so, and that pieces are few."""
    for least in (900, 1):
        fewest = {0: 0}
        for end in [*sorted(part.joints), part.length]:
            reached = [
                number + 1
                for start, number in fewest.items()
                if end - start <= longest and (end - start >= least or (start, end) == (0, part.length))
            ]
            if reached:
                fewest[end] = min(reached)
        if part.length in fewest:
            break
    assert len(made) <= part.count * (fewest[part.length] + 1)
    assert all(end - start >= least or (start, end) == (0, part.length) for start, end in made)


@st.composite
def house_lists(draw: st.DrawFn) -> tuple[tuple[Part, ...], tuple[StockLength, ...], int]:
    """Draw a list such as a house gives: studs, noggings, raking studs, plates joined over studs."""
    parts = [
        Part(draw(st.integers(50, 3500)), draw(st.integers(1, 12))) for _ in range(draw(st.integers(0, 8)))
    ]
    spacing = draw(st.sampled_from([400, 450, 600]))
    for _ in range(draw(st.integers(0, 4))):
        length = draw(st.integers(300, 14000))
        first = draw(st.integers(1, spacing))
        parts.append(Part(length, draw(st.integers(1, 3)), tuple(range(first, length, spacing))))
    lengths = draw(
        st.lists(
            st.sampled_from([2400, 3000, 3600, 4200, 4800, 5400, 6000]), min_size=1, max_size=4, unique=True
        )
    )
    by_price = draw(st.booleans())
    stock = tuple(
        StockLength(length, round(length * draw(st.floats(0.8, 1.3)), 2) if by_price else float(length))
        for length in sorted(lengths)
    )
    return tuple(parts), stock, draw(st.sampled_from([0, 3, 4]))


@settings(max_examples=120)
@given(house_lists())
def test_every_plan_can_be_cut_and_makes_every_part(drawn):
    parts, stock, kerf = drawn
    plan = plan_lengths(parts, stock, kerf=kerf)
    pieces = check(plan, parts, stock, kerf)
    longest = max(item.length for item in stock)
    for number, part in enumerate(parts):
        # only what has a stretch without a joint that no length on sale reaches over can't be served
        places = [0, *sorted(part.joints), part.length]
        out_of_reach = max(b - a for a, b in itertools.pairwise(places)) > longest
        assert (number in plan.too_long) is (part.length > longest and out_of_reach)
        if number not in plan.too_long:
            assert_rules_of_joints(part, pieces[number], longest)
    served = [part for number, part in enumerate(parts) if number not in plan.too_long]
    if not served:
        assert plan.patterns == ()
        return
    cheapest = min(item.cost / item.length for item in stock)
    length = sum(part.length * part.count for part in served)
    # a kerf may be saved at the end of a length, never more than one a length
    assert plan.cost >= length * cheapest - 1e-6


@settings(max_examples=40)
@given(house_lists())
def test_without_any_work_allowed_the_plan_is_first_fit_and_no_better(drawn):
    parts, stock, kerf = drawn
    simple = plan_lengths(parts, stock, kerf=kerf, work_limit=0)
    check(simple, parts, stock, kerf)
    best = plan_lengths(parts, stock, kerf=kerf)
    assert best.cost <= simple.cost + 1e-6
    assert simple.bound <= best.cost + 1e-6
    assert simple.method in ("first fit", "nothing to cut")


def test_a_part_without_a_joint_within_reach_is_too_long():
    parts = (Part(9000, 1, (1000, 8000)), Part(9000, 1, (4000,)), Part(7000, 2))
    plan = plan_lengths(parts, (StockLength(6000, 6000.0),))
    # 1000 to 8000 is 7 m without a joint; 4.0 and 5.0 m can be cut; 7.0 m in one piece can't
    assert plan.too_long == (0, 2)
    assert plan.cost == 12000.0


# --- a second solver --------------------------------------------------------------------------------------


def least_cost(parts: tuple[Part, ...], stock: tuple[StockLength, ...], kerf: int) -> int:
    """Return the least cost by CP-SAT over every way to make up the parts and every way to cut a length."""
    ways = [chains_of(part, max(item.length for item in stock)) for part in parts]
    lengths = sorted({length for chains in ways for chain in chains for length in chain}, reverse=True)
    model = cp_model.CpModel()
    wanted = dict.fromkeys(lengths, 0)
    for part, chains in zip(parts, ways, strict=True):
        used = [model.new_int_var(0, part.count, "") for _ in chains]
        model.add(sum(used) == part.count)
        for chain, number in zip(chains, used, strict=True):
            for length in chain:
                wanted[length] = wanted[length] + number
    total, made = 0, dict.fromkeys(lengths, 0)
    for item in stock:
        for pattern in patterns_of(lengths, item.length, kerf):
            number = model.new_int_var(0, sum(part.count for part in parts) * 4, "")
            total = total + int(item.cost) * number
            for length, times in Counter(pattern).items():
                made[length] = made[length] + times * number
    for length in lengths:
        model.add(made[length] >= wanted[length])
    model.minimize(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def chains_of(part: Part, longest: int) -> list[tuple[int, ...]]:
    """List every way to make up a part by the rules of the plan: pieces of 900 mm at least where it can be made so,
    at most one piece more than the fewest.
    """
    for least in (900, 1):
        every = []
        for number in range(len(part.joints) + 1):
            for joints in itertools.combinations(part.joints, number):
                pieces = [b - a for a, b in itertools.pairwise([0, *joints, part.length])]
                if max(pieces) <= longest and (len(pieces) == 1 or min(pieces) >= least):
                    every.append(tuple(pieces))
        if every:
            fewest = min(len(chain) for chain in every)
            return [chain for chain in every if len(chain) <= fewest + 1]
    raise AssertionError("drawn so that it can be made")


def patterns_of(lengths: list[int], stock: int, kerf: int) -> list[tuple[int, ...]]:
    """List every way to cut a length that has no room for a further piece."""
    found: list[tuple[int, ...]] = []

    def fill(pattern: tuple[int, ...], room: int, first: int) -> None:
        if not any(length + kerf <= room for length in lengths):
            found.append(pattern)
        for index in range(first, len(lengths)):
            if lengths[index] + kerf <= room:
                fill((*pattern, lengths[index]), room - lengths[index] - kerf, index)

    fill((), stock + kerf, 0)
    return [pattern for pattern in dict.fromkeys(tuple(sorted(p, reverse=True)) for p in found) if pattern]


@st.composite
def small_lists(draw: st.DrawFn) -> tuple[tuple[Part, ...], tuple[StockLength, ...], int]:
    """Draw a list so small that every way to cut can be written down."""
    lengths = draw(
        st.lists(st.sampled_from([2400, 3000, 4200, 4800, 6000]), min_size=1, max_size=3, unique=True)
    )
    longest = max(lengths)
    parts = [
        Part(draw(st.integers(900, longest)), draw(st.integers(1, 5))) for _ in range(draw(st.integers(1, 4)))
    ]
    if draw(st.booleans()):
        length = draw(st.integers(2 * 900, 2 * longest - 1200))
        spacing = draw(st.sampled_from([600, 900, 1200]))
        joints = tuple(range(spacing, length, spacing))[:8]
        stretch = length - (joints[-1] if joints else 0)
        if stretch <= longest:
            parts.append(Part(length, draw(st.integers(1, 2)), joints))
    prices = draw(st.booleans())
    stock = tuple(
        StockLength(length, float(draw(st.integers(length // 2, length)) if prices else length))
        for length in sorted(lengths)
    )
    return tuple(parts), stock, draw(st.sampled_from([0, 4]))


@settings(max_examples=60)
@given(small_lists())
def test_a_second_solver_finds_nothing_cheaper_and_nothing_below_the_bound(drawn):
    parts, stock, kerf = drawn
    plan = plan_lengths(parts, stock, kerf=kerf)
    check(plan, parts, stock, kerf)
    least = least_cost(parts, stock, kerf)
    assert plan.bound <= least + 1e-6
    assert plan.cost >= least - 1e-6
    if plan.proven:
        assert plan.cost == pytest.approx(least)
    # a thousandth over the bound is where the search may stop
    assert plan.cost <= max(least, plan.bound * 1.001) + max(item.cost for item in stock) * 0.5


@pytest.mark.parametrize(
    ("parts", "on_sale", "kerf", "least"),
    [
        # 3143 + 2 x 1159 = 5461 from 6000, 3143 + 1159 = 4302 from 4800, 2 x 1159 = 2318 from 3000
        ((Part(3143, 2), Part(1159, 5)), (3000, 4800, 6000), 0, 13_800),
        # three of 2164 are 6492, so two lengths; two stay whole, with 1200 and 964 of the third beside them
        ((Part(2164, 3, (1200,)),), (4200, 4800, 6000), 0, 8_400),
        # two lengths at least, and the shortest two hold 2400 and 1387
        ((Part(3787, 1, (1200, 2400, 3600)),), (2400, 3000), 0, 4_800),
        # 7512 in all, so two lengths: 2504 + 1604 and 2504 + 900
        ((Part(2504, 3, (900, 1800)),), (4800, 6000), 0, 9_600),
        # without a kerf 3 x 2400 would do: 1200 + 1200, 2037, 2037; with it the two of 1200 need 2404
        ((Part(3237, 2, (600, 1200, 1800, 2400, 3000)),), (2400, 3000), 4, 7_800),
        # 3000 + 4 + 3000 is more than 6000; 3000 + 4 + 2996 ends flush and takes no kerf at its end
        ((Part(3000, 2),), (6000, 6600), 4, 6_600),
        ((Part(3000, 1), Part(2996, 1)), (6000, 6600), 4, 6_000),
    ],
)
def test_small_lists_that_take_a_search(parts, on_sale, kerf, least):
    stock = tuple(StockLength(length, float(length)) for length in on_sale)
    plan = plan_lengths(parts, stock, kerf=kerf)
    check(plan, parts, stock, kerf)
    assert plan.cost == least == least_cost(parts, stock, kerf)
    assert plan.proven
