"""Pieces longer than anything on sale, and sheets over the handling limit, are told with the cell they rest on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.compare.cautions import cautions_of
from takeoff.compare.evaluate import evaluate
from takeoff.model.house import Option


def orders_of(job, **changes):
    option = Option(name="changed", changes=changes)
    result = evaluate(replace(job, options=(*job.options, option)), option)
    told = ("Longer than on sale", "Handling")
    return result, [caution for caution in cautions_of(result) if caution.about in told]


def test_rafters_without_a_support_line_are_longer_than_anything_on_sale(job):
    result, cautions = orders_of(job, support_lines=())
    assert [caution.about for caution in cautions] == ["Longer than on sale"]
    # 21 rafters and two barge rafters of 8.4 m / cos 5 deg = 8.432 m, to the next mm 8.433
    assert cautions[0].text == (
        "Softwood rafters, structural, 240 x 45 mm: 23 pieces (RF-R01 to RF-BR02) up to 8.433 m, longest on sale 6 m "
        "(factors.xlsx Stock!E9); counted at their own length, as a special order. What could be done: splice "
        "them at a support line (setting support lines), take another product, or order the length"
    )
    plan = next(plan for plan in result.plans if plan.too_long)
    assert len(plan.too_long) == 23
    assert plan.order >= 23 * 8.432


def test_no_option_of_the_demo_needs_a_special_order(job):
    for option in job.options[:2]:
        assert not orders_of(job, **option.changes)[1]


@pytest.mark.parametrize(("overhang", "told"), [(2.3, False), (2.4, True)])
def test_roof_sheets_over_the_handling_limit_are_told(job, overhang, told):
    # (7.2 + 2 x 2.3) / cos 5 deg + 0.05 m into the gutter = 11.895 m; with 2.4 m it is 12.096 m, over the 12 m limit
    _, cautions = orders_of(job, overhang_low=overhang, overhang_high=overhang)
    handling = [caution.text for caution in cautions if caution.about == "Handling"]
    assert len(handling) == told
    for text in handling:
        assert text.startswith(
            "Profiled steel roof sheet 0.42, colour coated: 17 sheets are longer than the handling limit of 12 m"
        )
