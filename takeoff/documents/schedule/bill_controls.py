"""The controls of the bill: two figures each that come about in different ways, as formulas and as figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.controls import FLOOR, ROOF, cladding_tag
from takeoff.documents.schedule.opening_checks import has_all, opening_counts
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """One control: its two sides as formulas with their figures. `[tag]` stands for the cell of the tag beside."""

    name: str
    how: str
    left: str
    right: str
    values: tuple[float, float]
    tag: str = ""


def _tagged(rows: Sequence[BillRow], controls: dict[str, str], tag: str) -> list[BillRow]:
    """Return the rows with a tag."""
    return [row for row in rows if controls.get(row.id) == tag]


def bill_controls(
    rows: Sequence[BillRow], controls: dict[str, str], result: Result, *, by_trade: bool
) -> list[Control]:
    """Return the controls in order: geometry, measuring, sums."""
    return [
        *_geometry(rows, controls, result),
        *_measuring(rows, controls, result),
        *_sums(rows, result, by_trade=by_trade),
    ]


def _geometry(rows: Sequence[BillRow], controls: dict[str, str], result: Result) -> list[Control]:
    """Return the controls of roof, walls, cladding and floors."""
    house, areas = result.design.house, result.measured.areas
    measured = "=SUMIFS(Bill_measured,Bill_control,[tag])"
    roof = sum(row.measured for row in _tagged(rows, controls, ROOF))
    floor = sum(row.measured for row in _tagged(rows, controls, FLOOR))
    bare = sum(room.floor for room in result.measured.inside.rooms if room.room.floor_finish is None)
    out = [
        Control(
            name="Roof in plan = slope area x cos pitch",
            how="span and length with their overhangs; the slope as billed",
            left="=(House_span+House_low+House_high)*(House_length+House_left+House_right)",
            right=f"{measured}*COS(RADIANS(House_pitch))",
            values=(areas.roof_plan, roof * math.cos(math.radians(house.pitch))),
            tag=ROOF,
        ),
        Control(
            name="Gross wall = perimeter x mean height",
            how="the four faces added up; perimeter times the mean of the heights at both eaves",
            left="=SUM(Face_area)",
            right="=SUM(House_length,House_length,House_span,House_span)"
            "*(House_height+House_height+House_span*TAN(RADIANS(House_pitch)))/(Whole+Whole)",
            values=(
                areas.wall_gross,
                (house.length + house.span)
                * (2 * house.low_height + house.span * math.tan(math.radians(house.pitch))),
            ),
        ),
    ]
    for side in SIDES:
        tag = cladding_tag(side)
        lines = [line for row in _tagged(rows, controls, tag) for line in row.line.quantity.dimensions]
        net = sum(line.squaring for line in lines)
        deducted = sum(line.squaring for line in lines if line.deducted)
        face = wall_face(house, side, bottom=-house.cladding_drop)
        out.append(
            Control(
                name=f"Cladding + openings = gross face, {side} side",
                how="net with what was deducted added again; the face from the foot of the cladding to the roof",
                left=f"{measured}-SUMIFS(Dim_squaring,Dim_control,[tag],Dim_sign,Word_deduction)",
                right="=INDEX(Face_clad,MATCH([tag],Face_tag,FALSE))",
                values=(net - deducted, face.area),
                tag=tag,
            )
        )
    out.append(
        Control(
            name="Floor finish = inside area - walls - floor without finish",
            how="finishes as billed, each once; inside the external walls, less the plan of the internal ones",
            left=measured,
            right="=Area_inside-House_walls-House_bare",
            values=(floor, areas.inside - (areas.inside - areas.rooms) - bare),
            tag=FLOOR,
        )
    )
    return out


def _measuring(rows: Sequence[BillRow], controls: dict[str, str], result: Result) -> list[Control]:
    """Return the controls of quantities."""
    squared = sum(row.measured for row in rows)
    framed = [row for row in rows if row.line.quantity.unit == "m" and ".FR." in row.id]
    sticks = sum(member.volume for member in result.measured.members)
    overridden = float(sum(len(row.line.overrides) for row in rows))
    free = sum(not row.line.rate.total and row.line.priced for row in rows)
    return [
        Control(
            name="Squarings = net of all items on dimension paper",
            how="all lines; the totals below the items",
            left="=SUM(Dim_squaring)",
            right="=SUM(Dim_total)",
            values=(squared, squared),
        ),
        Control(
            name="Squarings = quantities measured in the schedule",
            how="all lines of dimension paper; the bill, which fetches them by item",
            left="=SUM(Dim_squaring)",
            right="=SUM(Bill_measured)",
            values=(squared, squared),
        ),
        Control(
            name="Metres of sticks x section = m3",
            how="items of the frame as billed; the sticks of the model one by one",
            left="=SUMPRODUCT(Bill_measured,Bill_section_area)",
            right="=House_sticks",
            values=(sum(row.measured * (row.line.quantity.section or 0.0) for row in framed), sticks),
        ),
        Control(
            name="No quantity without a rate",
            how="items with a quantity and no rate; those that are known to cost nothing",
            left="=SUMPRODUCT((Bill_net>Nil)*(Bill_net_rate=Nil)*ISNUMBER(Bill_item))",
            right="=COUNT(Bill_free)",
            values=(
                float(sum(row.line.quantity.net > 0 and not row.line.rate.total for row in rows)),
                float(free),
            ),
        ),
        Control(
            name="No negative net quantity",
            how="items below nothing; none",
            left="=SUMPRODUCT((Bill_net<Nil)*ISNUMBER(Bill_item))",
            right="=Nil",
            values=(float(sum(row.line.quantity.net < 0 for row in rows)), 0.0),
        ),
        Control(
            name="Each override meets one item, once",
            how="overrides with a value; those whose id and figure are known and stand in one row only",
            left="=COUNT(Over_value)",
            right="=SUMPRODUCT((Over_met=Whole)*(Over_alike=Whole))",
            values=(overridden, overridden),
        ),
        Control(
            name="Each opening has its deduction, lintel, jambs, unit, flashing and reveal",
            how="openings below that have all of them; all openings",
            left="=COUNTIFS(Opening_result,Word_satisfied)",
            right="=COUNT(Opening_number)",
            values=(
                float(sum(has_all(counts) for counts in opening_counts(rows, controls, result))),
                float(len(result.design.openings)),
            ),
        ),
    ]


def _sums(rows: Sequence[BillRow], result: Result, *, by_trade: bool) -> list[Control]:
    """Return the controls of money and carbon."""
    cost = sum(row.line.cost for row in rows)
    carbon = sum(row.line.carbon.upfront for row in rows)
    total = result.ladder.total_inc_tax
    same = [
        (
            "Trades = elements",
            "sums of the summary",
            "=SUM(Amount_by_trade)",
            "=SUM(Amount_by_element)",
            cost,
        ),
        (
            "Sections of the schedule = all its lines",
            "section totals; amounts one by one",
            "=SUM(Bill_section)",
            "=SUM(Bill_amount)",
            cost,
        ),
        (
            "Net quantities x rates = amounts",
            "an independent sum of products; amounts one by one",
            "=SUMPRODUCT(Bill_net,Bill_net_rate)",
            "=SUM(Bill_amount)",
            cost,
        ),
        (
            "Material, labour, plant and stated = amounts",
            "the parts by element; amounts one by one",
            "=SUM(Material_by_element,Labour_by_element,Plant_by_element,Stated_by_element)",
            "=SUM(Bill_amount)",
            cost,
        ),
        (
            "Cost ladder = total including tax",
            "the steps added up; the running total at its end",
            "=SUM(Ladder_amount)",
            "=Total_inc_tax",
            total,
        ),
        (
            "Works and sums in the ladder = schedule",
            "firm items and the sums allowed for; amounts one by one",
            "=Measured_works+SUMIFS(Ladder_amount,Ladder_from,Word_schedule)",
            "=SUM(Bill_amount)",
            cost,
        ),
        (
            "Carbon by element = by trade",
            "A1 to A5, sums of the summary",
            "=SUM(Carbon_by_element)",
            "=SUM(Carbon_by_trade)",
            carbon,
        ),
        (
            "Carbon by element = modules",
            "sums of the summary; the four modules added up",
            "=SUM(Carbon_by_element)",
            "=SUM(Carbon_a1a3,Carbon_a4,Carbon_a5_wastage,Carbon_a5_site)",
            carbon,
        ),
    ]
    if by_trade:
        same.append(
            ("Schedule by trade = schedule", "both bills", "=SUM(Trade_amount)", "=SUM(Bill_amount)", cost)
        )
    return [
        Control(name=name, how=how, left=left, right=right, values=(value, value))
        for name, how, left, right, value in same
    ]
