"""The sheet Checks: every control of the bill, each with both its sides as live formulas."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.controls import FLASHING, FLOOR, NO_RATE, REVEAL, ROOF, UNIT, cladding_tag
from takeoff.documents.schedule.grid import Column, Line, Paper, Placed, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

TITLE = "Checks"
HELP = (
    "Controls that the bill has to satisfy, whatever is changed in it: each compares two figures that come about in "
    "different ways. The house below is what the model measured; it takes part in the controls alone."
)
_CONTROLS = (
    Column(key="number", title="Nr", width=6, look="count"),
    Column(key="control", title="Control", width=52),
    Column(key="tag", title="Items tagged", width=17, look="small"),
    Column(key="left", title="One side", width=15, look="quantity", role="control", formula="="),
    Column(key="right", title="Other side", width=15, look="quantity", role="control", formula="="),
    Column(
        key="difference",
        title="Difference",
        width=15,
        look="quantity",
        role="control",
        formula="=[left]-[right]",
    ),
    Column(
        key="result",
        title="Result",
        width=15,
        role="control",
        formula="=IF(ABS([difference])<=Tolerance*MAX(ABS([left]),ABS([right]),Whole),"
        "Word_satisfied,Word_not_satisfied)",
        name="Check_result",
    ),
    Column(key="how", title="How the two sides come about", width=64, look="small"),
)
_OPENINGS = (
    Column(key="number", title="Nr", width=6, look="count"),
    Column(key="mark", title="Opening", width=52),
    Column(key="tag", title="Cladding", width=17, look="small"),
    Column(
        key="deduction",
        title="Deduction, or nil",
        width=15,
        look="count",
        role="control",
        formula="=COUNTIFS(Dim_opening,[number],Dim_control,[tag])",
    ),
    *(
        Column(
            key=key,
            title=title,
            width=15,
            look="count",
            role="control",
            formula=f"=COUNTIFS(Dim_opening,[number],Dim_control,Tag_{key})",
        )
        for key, title in ((UNIT, "Unit"), (FLASHING, "Flashing"), (REVEAL, "Reveal"))
    ),
    Column(
        key="result",
        title="Result",
        width=64,
        role="control",
        formula="=IF(AND([deduction]:[reveal],[lintel]:[jambs]),Word_satisfied,Word_not_satisfied)",
        name="Opening_result",
    ),
    Column(key="lintel", title="Lintel or head trimmer", width=12, look="count", role="input"),
    Column(key="jambs", title="Jamb studs", width=12, look="count", role="input"),
)
_HOUSE = (
    Column(key="number", title="", width=6, look="count"),
    Column(key="what", title="The house as measured", width=52),
    Column(key="tag", title="", width=17, look="small"),
    Column(key="value", title="Value", width=15, look="dimension", role="input"),
    Column(key="unit", title="", width=15),
)
_FACES = (
    Column(key="number", title="", width=6, look="count"),
    Column(key="side", title="Side", width=52),
    Column(key="tag", title="", width=17, look="small"),
    Column(key="width", title="Width", width=15, look="dimension", role="input"),
    Column(key="left", title="Height, left", width=15, look="dimension", role="input"),
    Column(key="right", title="Height, right", width=15, look="dimension", role="input"),
    Column(
        key="area",
        title="Gross, from floor",
        width=15,
        look="quantity",
        role="control",
        formula="=[width]*AVERAGE([left]:[right])",
        name="Face_area",
    ),
    Column(
        key="clad",
        title="Gross, from the foot of the cladding",
        width=64,
        look="quantity",
        role="control",
        formula="=[width]*(AVERAGE([left]:[right])+House_drop)",
        name="Face_clad",
    ),
)
_TAGS = (UNIT, FLASHING, REVEAL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """One control: its two sides as formulas with their figures. `[tag]` stands for the cell of the tag beside."""

    name: str
    how: str
    left: str
    right: str
    values: tuple[float, float]
    tag: str = ""


def write_checks(
    paper: Paper,
    rows: Sequence[BillRow],
    controls: dict[str, str],
    result: Result,
    *,
    by_trade: bool,
    footer: str,
) -> None:
    """Write the sheet."""
    sheet = new_sheet(paper, TITLE, HELP, _CONTROLS)
    wanted = _controls(rows, controls, result, by_trade=by_trade)
    lines = [
        Line(
            {
                "number": number,
                "control": control.name,
                "tag": control.tag,
                "left": control.values[0],
                "right": control.values[1],
                "difference": control.values[0] - control.values[1],
                "result": "satisfied" if _agree(*control.values) else "not satisfied",
                "how": control.how,
            },
            own={"left": control.left, "right": control.right},
        )
        for number, control in enumerate(wanted, start=1)
    ]
    placed = write_table(paper, sheet, HEADER_ROW, _CONTROLS, lines)
    last = _write_openings(paper, sheet, placed.last + 2, rows, controls, result)
    last = _write_faces(paper, sheet, last + 2, result)
    last = _write_house(paper, sheet, last + 2, result)
    finish(sheet, _CONTROLS, footer=footer, last=last)


def _agree(left: float, right: float) -> bool:
    """Whether two sides agree, as the formula of the result has it."""
    return abs(left - right) <= 1e-9 * max(abs(left), abs(right), 1.0)


def _tagged(rows: Sequence[BillRow], controls: dict[str, str], tag: str) -> list[BillRow]:
    """Return the rows with a tag."""
    return [row for row in rows if controls.get(row.id) == tag]


def _controls(
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
    free = [row for row in rows if controls.get(row.id) == NO_RATE]
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
            right="=COUNTIFS(Bill_control,[tag])",
            values=(
                float(sum(row.line.quantity.net > 0 and not row.line.rate.total for row in rows)),
                float(len(free)),
            ),
            tag=NO_RATE,
        ),
        Control(
            name="No negative net quantity",
            how="items below nothing; none",
            left="=SUMPRODUCT((Bill_net<Nil)*ISNUMBER(Bill_item))",
            right="=Nil",
            values=(float(sum(row.line.quantity.net < 0 for row in rows)), 0.0),
        ),
        Control(
            name="Each opening has its deduction, lintel, jambs, unit, flashing and reveal",
            how="openings below that have all of them; all openings",
            left="=COUNTIFS(Opening_result,Word_satisfied)",
            right="=COUNT(Opening_number)",
            values=(
                float(sum(_is_whole(counts) for counts in _opening_counts(rows, controls, result))),
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


def _opening_counts(
    rows: Sequence[BillRow], controls: dict[str, str], result: Result
) -> list[dict[str, int]]:
    """Return how often each opening occurs in what belongs to it."""
    tagged: dict[str, list[str]] = {}
    for row in rows:
        for line in row.line.quantity.dimensions:
            tagged.setdefault(controls.get(row.id, ""), []).append(line.opening)
    framed = {f.opening.mark: f for frame in result.measured.wall_frames for f in frame.openings}
    counts = []
    for opening in result.design.openings:
        frame = framed[opening.mark]
        counts.append(
            {
                "deduction": tagged.get(cladding_tag(opening.side), []).count(opening.mark),
                **{tag: tagged.get(tag, []).count(opening.mark) for tag in _TAGS},
                "lintel": frame.lintel.plies if frame.lintel else 1,
                "jambs": 2 * frame.jamb_studs,
            }
        )
    return counts


def _is_whole(counts: dict[str, int]) -> bool:
    """Whether an opening has all that belongs to it."""
    return all(counts.values())


def _write_openings(
    paper: Paper,
    sheet: Worksheet,
    first: int,
    rows: Sequence[BillRow],
    controls: dict[str, str],
    result: Result,
) -> int:
    """Write the table of openings; return its last row."""
    lines = [
        Line(
            {
                "number": number,
                "mark": f"{opening.mark}, {opening.kind}, {opening.width:.2f} x {opening.height:.2f} m",
                "tag": cladding_tag(opening.side),
                **counts,
                "result": "satisfied" if _is_whole(counts) else "not satisfied",
            }
        )
        for number, (opening, counts) in enumerate(
            zip(result.design.openings, _opening_counts(rows, controls, result), strict=True), start=1
        )
    ]
    placed = write_table(paper, sheet, first, _OPENINGS, lines)
    paper.name_range("Opening_number", placed.sheet, placed.columns["number"], placed.first, placed.last)
    return placed.last


def _write_faces(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write the four faces; return the last row."""
    house = result.design.house
    lines = []
    for side in SIDES:
        face = wall_face(house, side)
        lines.append(
            Line(
                {
                    "side": side,
                    "tag": cladding_tag(side),
                    "width": face.width,
                    "left": face.top_left,
                    "right": face.top_right,
                    "area": face.area,
                    "clad": face.width * (face.mean_height + house.cladding_drop),
                }
            )
        )
    placed = write_table(paper, sheet, first, _FACES, lines)
    paper.name_range("Face_tag", placed.sheet, placed.columns["tag"], placed.first, placed.last)
    return placed.last


def _write_house(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write what the model measured of the house, each figure with a name; return the last row."""
    house, areas = result.design.house, result.measured.areas
    bare = sum(room.floor for room in result.measured.inside.rooms if room.room.floor_finish is None)
    figures: tuple[tuple[str, str, float | str, str], ...] = (
        ("House_length", "length, to the outside of the frame", house.length, "m"),
        ("House_span", "span, to the outside of the frame", house.span, "m"),
        ("House_height", "height of the low wall", house.low_height, "m"),
        ("House_pitch", "pitch", house.pitch, "degrees"),
        ("House_low", "overhang, low side", house.overhang_low, "m"),
        ("House_high", "overhang, high side", house.overhang_high, "m"),
        ("House_left", "overhang, left", house.overhang_left, "m"),
        ("House_right", "overhang, right", house.overhang_right, "m"),
        ("House_drop", "cladding below floor level", house.cladding_drop, "m"),
        ("House_walls", "plan of internal walls", areas.inside - areas.rooms, "m2"),
        ("House_bare", "floor without finish", bare, "m2"),
        ("House_sticks", "sticks of the frame", sum(m.volume for m in result.measured.members), "m3"),
        ("Tag_unit", "tag of windows and doors", UNIT, ""),
        ("Tag_flashing", "tag of flashings", FLASHING, ""),
        ("Tag_reveal", "tag of reveals", REVEAL, ""),
    )
    lines = [Line({"what": what, "value": value, "unit": unit}) for _, what, value, unit in figures]
    placed: Placed = write_table(paper, sheet, first, _HOUSE, lines)
    for row, (name, *_) in enumerate(figures, start=placed.first):
        paper.name_cell(name, placed.sheet, f"{placed.columns['value']}{row}")
    return placed.last
