"""The pages on the fabric and on members show what the demo houses give."""

from __future__ import annotations

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.compare.parity import shortfalls
from takeoff.documents.member_tables import least_words, section_words
from takeoff.guide import page_text
from takeoff.workbook.fabric_sheets import FABRIC
from takeoff.workbook.reading import read_job


@pytest.fixture(scope="module")
def plain(job):
    return evaluate(job, job.base, planned=False)


def test_what_the_sticks_cost_is_that_of_the_demo(plain, table_headed):
    rows = table_headed("fabric", "part", "area, m2")
    walls = [part for part in plain.fabric.parts if part.element == "external walls"]
    assert rows == [
        [
            part.name,
            f"{part.area:.1f}",
            f"{part.fraction * 100:.1f} %",
            f"{part.assumed_fraction * 100:.1f} %",
            f"{part.u_value:.3f}",
            f"{part.assumed_u:.3f}",
            f"{part.heat_loss:.1f}",
            f"{part.cost_of_framing:+.1f}",
        ]
        for part in walls
    ]
    roof = plain.measured.roof_frame.framing_fraction
    text = " ".join(page_text("fabric").split())
    assert f"whose rafters take {roof * 100:.1f} % where 10.0 % is assumed" in text
    assert f"the whole house loses {plain.fabric.cost_of_framing:.1f} W/K more" in text
    fabric = plain.fabric
    assert (
        f"Heron Bank loses {fabric.transmission:.1f} W/K through the envelope and {fabric.ventilation:.1f} W/K with "
        f"the air; its mean U is {fabric.mean_u:.3f}."
    ) in text


def test_every_setting_of_the_sheet_fabric_stands_on_the_page(table_headed):
    named = " ".join(row[0] for row in table_headed("fabric", "setting", "what it does", "where blank"))
    for field in FABRIC.fields:
        assert f"`{field.title}`" in named
    assert named.count("`") == 2 * len(FABRIC.fields)


def test_the_shortfalls_shown_are_those_of_the_demo(job, plain, table_headed):
    rows = table_headed("fabric", "Heron Bank, plant-fibre insulation")
    option = evaluate(job, job.option("Plant-fibre insulation"), planned=False)
    for row, missed in zip(rows, shortfalls(job, option, plain), strict=True):
        places = 3 if missed.unit == "W/(m2 K)" else 1
        shown = [f"{value:.{places}f}" for value in (missed.value, missed.target, missed.by)]
        more = missed.remedies[0].more
        assert row[:4] == [missed.of, *shown]
        assert row[4].startswith(f"{more.deeper * 1000:.0f} mm")
        assert row[5].startswith(f"{more.unbroken * 1000:.0f} mm")


def test_the_members_shown_are_those_of_the_demo(plain, table_headed):
    members = {member.name: member for member in plain.members}
    rows = table_headed("members", "Heron Bank", "section")
    assert len(rows) == 3
    for name, section, span, governed, used, least in rows:
        member = members[name]
        governing = member.check.governing
        assert section == section_words(member.section)
        assert span == f"{member.loading.spans[0]:.2f}"
        assert governed == governing.of
        assert used == f"{governing.used * 100:.0f} %"
        assert least == least_words(member)


def test_the_steel_that_wharf_pair_does_without(demo_folder):
    job = read_job(demo_folder / "wharf_pair.xlsx")
    option = evaluate(job, job.option("No steel"), planned=False)
    (found,) = option.steel_lintels
    assert (found.mark, found.timber.plies) == ("D01", 1)
    timber = found.timber
    words = f"takes {timber.plies} x {timber.depth * 1000:g} x {timber.thickness * 1000:g} of laminated"
    assert words in " ".join(page_text("members").split())
