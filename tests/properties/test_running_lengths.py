"""Running lengths laid end to end: whatever the parts and lengths on sale, the plan can be cut and covers all.

The checks below share no code with the planner.
"""

from __future__ import annotations

from collections import Counter, defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.cutting.lengths.length_plan import Part, StockLength
from takeoff.cutting.lengths.running import lay_running
from takeoff.cutting.marks import Wanted, mark_cuts


@st.composite
def parts(draw: st.DrawFn) -> list[Part]:
    """Draw parts of up to 14 m, with supports on some centres."""
    found = []
    for _ in range(draw(st.integers(1, 6))):
        length = draw(st.integers(300, 14000))
        spacing = draw(st.integers(300, 1200))
        joints = tuple(range(spacing, length, spacing)) if draw(st.booleans()) else ()
        found.append(Part(length, draw(st.integers(1, 5)), joints))
    return found


on_sale = st.lists(
    st.sampled_from([1800, 2400, 3000, 3600, 4200, 4800, 5400, 6000]), min_size=1, max_size=4, unique=True
).map(lambda lengths: [StockLength(length, float(length)) for length in sorted(lengths)])


@settings(max_examples=150)
@given(
    wanted=parts(),
    stock=on_sale,
    kerf=st.sampled_from([0, 3]),
    end_lap=st.sampled_from([0, 100]),
    least=st.sampled_from([0, 300]),
    anywhere=st.booleans(),
)
def test_what_is_laid_fits_what_is_bought_and_covers_every_part(
    wanted, stock, kerf, end_lap, least, anywhere
):
    plan = lay_running(wanted, stock, kerf=kerf, end_lap=end_lap, least=least, anywhere=anywhere)
    pieces = defaultdict(list)
    for pattern in plan.patterns:
        used = sum(cut.end - cut.start for cut in pattern.cuts) + kerf * (len(pattern.cuts) - 1)
        assert used <= stock[pattern.stock].length
        for cut in pattern.cuts:
            pieces[cut.part] += [(cut.start, cut.end)] * pattern.count
    for number, part in enumerate(wanted):
        if number in plan.too_long:
            assert not pieces[number]
            assert part.length > max(item.length for item in stock)
            continue
        starts = Counter(start for start, _ in pieces[number])
        ends = Counter(end for _, end in pieces[number])
        assert starts[0] == ends[part.length] == part.count
        # every joint has a piece that ends there and one that begins there, or a lap before it
        for place, count in ends.items():
            if place != part.length:
                assert starts[place - end_lap] >= count
                assert anywhere or place in part.joints
                assert least <= place <= part.length - least
    served = sum(p.length * p.count for i, p in enumerate(wanted) if i not in plan.too_long)
    assert served <= plan.bound <= plan.cost + 1e-6
    assert plan.cost == pytest.approx(sum(stock[p.stock].length * p.count for p in plan.patterns))


@settings(max_examples=60)
@given(wanted=parts(), stock=on_sale, end_lap=st.sampled_from([0, 100]))
def test_every_mark_gets_the_pieces_that_make_it_up(wanted, stock, end_lap):
    owners = [
        Wanted(part, tuple((f"{number}-{copy}", "item") for copy in range(part.count)))
        for number, part in enumerate(wanted)
    ]
    plan = lay_running(wanted, stock, kerf=3, end_lap=end_lap, anywhere=True)
    made: dict[str, list[int]] = defaultdict(list)
    for _, cuts in mark_cuts(plan, owners):
        for cut in cuts:
            made[cut.mark].append(cut.length)
    for number, part in enumerate(wanted):
        for copy in range(part.count):
            lengths = made.pop(f"{number}-{copy}")
            assert sum(lengths) == part.length + (len(lengths) - 1) * end_lap
    assert not made


def test_a_course_is_joined_on_the_last_support_that_a_length_reaches():
    # 7.2 m on supports at 0.6 m centres from lengths of 4.0 m: 3.6 and 3.6, not 4.0 and 3.2
    plan = lay_running([Part(7200, 1, tuple(range(600, 7200, 600)))], [StockLength(4000, 4000.0)], least=300)
    assert sorted(cut.length for p in plan.patterns for cut in p.cuts for _ in range(p.count)) == [3600, 3600]


def test_a_flashing_of_12_9_m_takes_two_lengths_of_6_and_one_that_holds_the_rest_with_its_laps():
    # 12.9 m and two laps of 0.15 m are 13.2 m: 6.0 + 6.0 + 1.2 m
    stock = [StockLength(length, float(length)) for length in (1200, 3000, 6000)]
    plan = lay_running([Part(12900, 1)], stock, end_lap=150, anywhere=True)
    assert sorted(stock[p.stock].length for p in plan.patterns for _ in range(p.count)) == [1200, 6000, 6000]


def test_a_part_that_nothing_on_sale_serves_is_told_and_the_rest_is_laid():
    plan = lay_running([Part(7000, 1), Part(2000, 3)], [StockLength(6000, 6000.0)])
    assert plan.too_long == (0,)
    assert plan.cost == 6000.0
    assert plan.proven
