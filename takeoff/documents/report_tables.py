"""The tables of the comparison report, every cell as ready text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, replace

from takeoff.assess.lines import Line
from takeoff.assess.totals import Totals, total
from takeoff.compare.evaluate import Result
from takeoff.compare.figures import FIGURES, differences, figures_of
from takeoff.documents.column_widths import UPRIGHT, WIDE, ColumnTexts, column_shares
from takeoff.documents.wording import (
    NOT_KNOWN,
    assessed,
    change,
    figure,
    figure_change,
    number,
    percent,
    quantity,
    rate,
    unit_text,
)
from takeoff.framing.member import Member


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its title, its unit, and whether it holds figures."""

    title: str
    unit: str = ""
    figures: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of ready text; `second` is a smaller line in each cell, `below` one across the table.

    `heading` is all there is of a row that heads those after it.
    """

    cells: tuple[str, ...] = ()
    second: tuple[str, ...] = ()
    below: str = ""
    total: bool = False
    chosen: bool = False
    heading: str = ""


def rows_alike_as_one(rows: Iterable[Row]) -> tuple[Row, ...]:
    """Return rows of which those that differ in their first cell alone are one; the first cells of others stand below.

    >>> one, other = Row(cells=("Rail", "5"), below="Pine."), Row(cells=("Post", "9"))
    >>> [row.below for row in rows_alike_as_one([one, other, replace(one, cells=("Stile", "5"))])]
    ['Also Stile. Pine.', '']
    """
    names: dict[Row, list[str]] = {}
    for row in rows:
        names.setdefault(replace(row, cells=("", *row.cells[1:])), []).append(row.cells[0])
    return tuple(
        replace(
            row,
            cells=(first, *row.cells[1:]),
            below=f"Also {'; '.join(others)}. {row.below}".rstrip() if others else row.below,
        )
        for row, (first, *others) in names.items()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportTable:
    """A table with its caption."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    note: str = ""
    id: str = ""

    def shares(self, wide: bool) -> tuple[float, ...]:
        """Return the width of each column as a share of the table [%], on a sheet of paper that lies if `wide`."""
        lines = [line for row in self.rows for line in (row.cells, row.second) if line]
        return column_shares(
            [
                ColumnTexts(column.title, column.unit, [line[place] for line in lines], column.figures)
                for place, column in enumerate(self.columns)
            ],
            WIDE if wide else UPRIGHT,
        )


_OPTION_COLUMNS: tuple[tuple[str, str], ...] = (
    ("total_inc_tax", "Cost inc tax"),
    ("total_inc_tax_per_m2_outside", "Cost"),
    ("upfront_kgco2e", "Upfront carbon"),
    ("upfront_kgco2e_per_m2_outside", "Upfront carbon"),
    ("life_cycle_kgco2e", "Life-cycle carbon"),
    ("stored_kgco2", "Stored carbon"),
    ("whole_life_cost", "Cost and upkeep"),
    ("mass_kg", "Mass"),
    ("wastage_share", "Wastage"),
    ("frame_timber_m3", "Framing timber"),
    ("frame_pieces", "Framing pieces"),
    ("framing_fraction", "Framing fraction"),
    ("mean_u", "Mean U"),
    ("heat_loss_w_per_k", "Heat loss"),
)


def options_table(results: Sequence[Result], currency: str) -> ReportTable:
    """Return the options side by side, each with its difference from the base below."""
    by_key = {f.key: f for f in FIGURES}
    shown = [(by_key[key], title) for key, title in _OPTION_COLUMNS]
    base = results[0]
    rows = []
    for result in results:
        values, changes = figures_of(result), differences(result, base)
        rows.append(
            Row(
                cells=(
                    result.option.name,
                    *(figure(values[f.key], f.unit).removesuffix(" %") for f, _ in shown),
                ),
                second=("base", *("" for _ in shown))
                if result is base
                else ("", *(figure_change(changes[f.key], f.unit) for f, _ in shown)),
                chosen=result is base,
            )
        )
    return ReportTable(
        id="options",
        caption="Options, each with its difference from the base",
        columns=(
            Column(title="Option", figures=False),
            *(Column(title=title, unit=unit_text(f.unit, currency)) for f, title in shown),
        ),
        rows=tuple(rows),
        note="Per m² figures are for the floor area to the outside face of the frame. Wastage is the share of "
        "the mass bought that is not built in; its differences and those of the framing fraction are in "
        "percentage points. Framing fraction is timber in the net face of the external wall frames. Stored "
        "carbon stands apart and is never netted against any other. Life-cycle carbon adds up the modules of the study "
        "of what is assessed; cost and upkeep are the total including tax and all renewals over the study period.",
    )


def per_m2_table(results: Sequence[Result], currency: str) -> ReportTable:
    """Return totals with both per-m2 bases, and the modules of upfront carbon."""
    keys = (
        "measured_works",
        "works_and_sums",
        "total_inc_tax_per_m2_inside",
        "upfront_kgco2e_per_m2_inside",
        "a1a3_kgco2e",
        "a4_kgco2e",
        "a5_wastage_kgco2e",
        "a5_site_kgco2e",
        "life_cycle_kgco2e_per_m2_outside",
        "life_cycle_kgco2e_per_m2_inside",
        "upkeep",
        "mass_wastage_kg",
        "labour_h",
    )
    by_key = {f.key: f for f in FIGURES}
    rows = []
    for key in keys:
        shown = by_key[key]
        label = shown.label.replace("m2", "m²")
        cells = (figure(figures_of(result)[key], shown.unit) for result in results)
        rows.append(Row(cells=(label, unit_text(shown.unit, currency), *cells)))
    return ReportTable(
        id="figures",
        caption="More figures of every option",
        columns=(
            Column(title="Figure", figures=False),
            Column(title="Unit", figures=False),
            *(Column(title=result.option.name) for result in results),
        ),
        rows=tuple(rows),
    )


def _group_row(name: str, totals: Totals, cost_share: float, *, total: bool = False) -> Row:
    """Return the row of one element."""
    return Row(
        cells=(
            name,
            number(totals.cost),
            percent(cost_share),
            NOT_KNOWN if totals.known_mass is None else number(totals.known_mass),
            assessed(totals.a1a3),
            assessed(totals.a4),
            assessed(totals.a5_wastage),
            assessed(totals.a5_site),
            assessed(totals.upfront_assessed),
            number(totals.stored),
        ),
        total=total,
    )


def elements_table(result: Result, currency: str) -> ReportTable:
    """Return cost and carbon of one option by element, with their sum."""
    whole = result.totals
    rows = [
        _group_row(name, totals, totals.cost / whole.cost if whole.cost else 0.0)
        for name, totals in result.by_element.items()
    ]
    rows.append(_group_row("works and sums", whole, 1.0, total=True))
    carbon = ("A1-A3", "A4", "A5 wastage", "A5 site", "Upfront")
    return ReportTable(
        id="by-element",
        caption=f"{result.option.name}: cost and upfront carbon by element",
        columns=(
            Column(title="Element", figures=False),
            Column(title="Cost", unit=currency),
            Column(title="Share", unit="%"),
            Column(title="Mass", unit="kg"),
            *(Column(title=title, unit="kgCO₂e") for title in carbon),
            Column(title="Stored", unit="kgCO₂"),
        ),
        rows=tuple(rows),
        note="Cost is that of all items, measured works and allowances, before the percentages of the cost "
        "ladder. Mass is that of what it is known of. Carbon sums are of what is assessed; site work only where "
        "the labour row says what it takes.",
    )


def ladder_table(result: Result, currency: str) -> ReportTable:
    """Return the cost ladder of one option."""
    ladder = result.ladder
    rows = [
        Row(
            cells=(
                "Measured works",
                "sum of all items but provisional and prime-cost sums"
                if any(line.sum_kind for line in result.lines)
                else "sum of all items",
                number(ladder.measured_works),
                number(ladder.measured_works),
            )
        )
    ]
    taxed = False
    for rung in ladder.rungs:
        if rung.is_tax and not taxed:
            taxed = True
            rows.append(Row(cells=("Total excluding tax", "", "", number(ladder.total_ex_tax)), total=True))
        rows.append(Row(cells=(rung.name, rung.words, change(rung.amount), number(rung.running))))
    rows.append(Row(cells=("Total including tax", "", "", number(ladder.total_inc_tax)), total=True))
    return ReportTable(
        id="ladder",
        caption=f"{result.option.name}: from measured works to the total including tax",
        columns=(
            Column(title="Step", figures=False),
            Column(title="Of what", figures=False),
            Column(title="Amount", unit=currency),
            Column(title="Running total", unit=currency),
        ),
        rows=tuple(rows),
    )


def _overridden(line: Line) -> str:
    """Return which figures of an item are overridden; why stands in a table of its own."""
    figures = " and ".join(applied.override.figure for applied in line.overrides)
    return f"{figures} overridden" if figures else ""


def allowances_table(result: Result, currency: str) -> ReportTable | None:
    """Return what is allowed for and not measured from the plan, with a total for each kind; None without any."""
    if not result.allowances:
        return None
    rows = []
    for each in result.allowances:
        allowance = each.allowance
        source = f"Source: {allowance.source}" if allowance.source else ""
        standing = f"Carbon {allowance.standing}" if allowance.standing else ""
        below = (allowance.description, allowance.note, source, standing)
        rows.append(_allowance_row(each.line, allowance.basis, below))
        if each.fixing is not None:
            rows.append(_allowance_row(each.fixing, allowance.basis, ()))
    lines = [line for each in result.allowances for line in each.lines]
    for kind, label in (
        (None, "measured works among them"),
        ("provisional sum", "provisional sums"),
        ("prime-cost sum", "prime-cost sums"),
    ):
        of_kind = [line for line in lines if line.sum_kind == kind]
        if of_kind:
            rows.append(_allowances_total(label, of_kind))
    return ReportTable(
        id="allowances-table",
        caption=f"{result.option.name}: allowances",
        columns=(
            Column(title="Allowance", figures=False),
            Column(title="Kind", figures=False),
            Column(title="Measured by", figures=False),
            Column(title="Quantity"),
            Column(title="Rate", unit=currency),
            Column(title="Cost", unit=currency),
            Column(title="A1-A3", unit="kgCO₂e"),
        ),
        rows=tuple(rows),
        note="What is allowed for and not measured from the plan. A provisional sum is supply and work; a "
        "prime-cost sum is supply only, its fixing stands below it and in the measured works. m² of floor are "
        "to the inside face of the external walls unless a quantity is given. Of carbon, the product stage "
        "alone can be given with an allowance.",
    )


def _allowance_row(line: Line, basis: str, below: tuple[str, ...]) -> Row:
    """Return the row of an allowance, or of the fixing of one; labour alone takes no product."""
    item = line.quantity
    return Row(
        cells=(
            item.item,
            line.sum_kind or "firm, in the measured works",
            unit_text(basis),
            quantity(item.net, item.unit),
            rate(line.rate.total),
            number(line.cost),
            assessed(line.carbon.a1a3, 1) if line.needs_carbon else "",
        ),
        below=" · ".join(part for part in (*below, _overridden(line)) if part),
    )


def _allowances_total(label: str, lines: Sequence[Line]) -> Row:
    """Return the total of the allowances of one kind, its carbon of what is assessed."""
    totals = total(lines)
    return Row(
        cells=(label, "", "", "", "", number(totals.cost), assessed(totals.a1a3, 1)),
        total=True,
    )


def framing_table(result: Result) -> ReportTable:
    """Return sticks by wall, of the roof and of a suspended floor: pieces, metres, volume, framing fraction."""
    steel = result.measured.steel
    rows = [
        _frame_row(steel, f"{frame.side} wall", frame.members, frame.net_area, frame.framing_fraction)
        for frame in result.measured.wall_frames
    ]
    roof = result.measured.roof_frame
    rows.append(_frame_row(steel, "roof", roof.members, roof.outline_area, roof.framing_fraction))
    floor = result.measured.floor_frame
    if floor is not None:
        rows.append(_frame_row(steel, "floor", floor.members, floor.net_area, floor.framing_fraction))
    rows += _inside_rows(result)
    rows.append(_frame_row(steel, "all framing", result.measured.members, total=True))
    return ReportTable(
        id="framing",
        caption=f"{result.option.name}: framing, stick by stick",
        columns=(
            Column(title="Frame", figures=False),
            Column(title="Pieces", unit="Nr"),
            Column(title="Length", unit="m"),
            Column(title="Timber", unit="m³"),
            Column(title="Net face", unit="m²"),
            Column(title="Framing fraction", unit="%"),
        ),
        rows=tuple(rows),
        note="Framing fraction: seen face of every stick over the face of the frame less its openings; for the "
        "roof, over the slope above the outline"
        + ("; for the floor, joists and blocking over the outline." if floor is not None else "."),
    )


def _inside_rows(result: Result) -> list[Row]:
    """Return the rows of internal walls, party walls and flat ceilings, where there are any."""
    inside, steel = result.measured.inside, result.measured.steel
    rows = []
    for name, party in (("internal walls", False), ("party wall, both leaves", True)):
        frames = [frame for frame in inside.wall_frames if frame.party is party]
        if frames:
            members = [member for frame in frames for member in frame.members]
            net = sum(frame.net_area for frame in frames)
            rows.append(
                _frame_row(steel, name, members, net, sum(frame.timber_area for frame in frames) / net)
            )
    if inside.ceiling_members:
        rows.append(_frame_row(steel, "flat ceilings", inside.ceiling_members))
    return rows


def _frame_row(
    steel: Set[str],
    name: str,
    members: Sequence[Member],
    area: float | None = None,
    fraction: float | None = None,
    *,
    total: bool = False,
) -> Row:
    """Return pieces, metres and volume of timber of a frame, and its framing fraction where it fills a face."""
    return Row(
        cells=(
            name,
            number(len(members)),
            number(sum(member.length for member in members), 1),
            number(sum(member.volume for member in members if member.material not in steel), 2),
            "" if area is None else number(area, 1),
            "" if fraction is None else percent(fraction),
        ),
        total=total,
    )
