"""The first sheet of the movement: both issues, each measure by element, the reasons, and the check of the sums."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.line_movement import MEASURES, REASONS, Measure, Reason
from takeoff.compare.movement import Movement
from takeoff.documents.movement_lines import PREFIX
from takeoff.documents.movement_table import Column, Looks, Value, put, write_header
from takeoff.documents.movement_words import measure_title
from takeoff.workbook.page_layout import LINE, lines_of, set_up_page, write_heading
from takeoff.workbook.sheet_plan import HEADER_ROW

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

SUMMARY = "Summary"
# What two sums may differ by for floating point, in money and in kgCO2e: it stands in a cell of its own.
_TOLERANCE = 0.005
_WIDTHS = (34.0, *(18.0,) * 8)
_MOVES = ("quantity", "rate", "added", "omitted")
_ELEMENT_COLUMNS = (
    Column(key="element", title="Element", width=34),
    Column(key="old", title="Old", width=18, look="amount"),
    Column(key="quantity", title="Quantity movement", width=18, look="change"),
    Column(key="rate", title="Rate movement", width=18, look="change"),
    Column(key="added", title="Added", width=18, look="change"),
    Column(key="omitted", title="Omitted", width=18, look="change"),
    Column(key="ladder", title="Ladder effect", width=18, look="change"),
    Column(key="difference", title="Difference", width=18, look="change"),
    Column(key="new", title="New", width=18, look="amount"),
)
_LETTER = {column.key: "ABCDEFGHI"[place] for place, column in enumerate(_ELEMENT_COLUMNS)}


def write_summary(book: Workbook, paper: Worksheet, looks: Looks, movement: Movement, *, footer: str) -> None:
    """Write the summary; the other sheets have given their columns the names that it adds up."""
    write_heading(
        paper,
        looks.styles,
        title="Movement between two issues",
        help="Old amount + quantity movement + rate movement + added + omitted + ladder effect = new amount. Every "
        "amount is a formula over the sheets Lines, Upfront carbon, Life-cycle carbon and Ladder; the sheet Glossary "
        "says what the words mean.",
        widths=_WIDTHS,
    )
    row = _write_issues(paper, looks, movement, HEADER_ROW)
    totals: dict[Measure, int] = {}
    for measure in MEASURES:
        row = totals[measure] = _write_elements(paper, looks, movement, measure, row + 2)
    # reasons and check stand together on a page
    paper.set_h_pagebreaks([row + 2])
    row = _write_reasons(paper, looks, movement, row + 2)
    row = _write_check(book, paper, looks, movement, totals, row + 2)
    paper.freeze_panes(HEADER_ROW, 1)
    set_up_page(paper, widths=_WIDTHS, last_row=row, footer=footer, repeat=(0, 0))


def _write_issues(paper: Worksheet, looks: Looks, movement: Movement, row: int) -> int:
    """Write which two bills these are; return the last row."""
    columns = [Column(key=title, title=title, width=34) for title in ("Bill", "Old", "New")]
    write_header(paper, looks, row, columns)
    particulars = (
        ("Project", "project"),
        ("Issue", "issue"),
        ("Date", "date"),
        ("Option", "option"),
        ("Read from", "source"),
    )
    for place, (name, key) in enumerate(particulars, row + 1):
        texts = (name, getattr(movement.old, key), getattr(movement.new, key))
        for column, text in enumerate(texts):
            put(paper, place, column, text, looks.cells["text"])
        lines = max(lines_of(text, width) for text, width in zip(texts, _WIDTHS, strict=False))
        if lines > 1:
            paper.set_row(place, LINE * lines)
    return row + len(particulars)


def _write_elements(paper: Worksheet, looks: Looks, movement: Movement, measure: Measure, row: int) -> int:
    """Write one measure by element; return the row of its total."""
    name = PREFIX[measure]
    paper.write_string(row, 0, measure_title(movement, measure), looks.styles["heading"])
    header, first = row + 1, row + 2
    write_header(paper, looks, header, _ELEMENT_COLUMNS)
    rows: list[tuple[dict[str, Value], dict[str, str]]] = []
    for place, element in enumerate(movement.elements, first + 1):
        sums = movement.sums(measure, element)
        values: dict[str, Value] = {
            "element": element,
            "old": sums.old or 0.0,
            "new": sums.new or 0.0,
            "difference": sums.shift.difference,
            **{key: getattr(sums.shift, key) for key in _MOVES},
        }
        formulas = {key: f"=SUMIFS({name}_{key},line_element,$A{place})" for key in ("old", *_MOVES, "new")}
        rows.append((values, formulas))
    effect = movement.ladder_effect
    old, new = (sum(step.amount for step in bill.steps) for bill in (movement.old, movement.new))
    if measure == "money":
        ladder: dict[str, Value] = {"element": "cost ladder", "old": float(old), "new": float(new)}
        names = {"old": "=SUM(ladder_old)", "ladder": "=SUM(ladder_effect)", "new": "=SUM(ladder_new)"}
        rows.append(({**ladder, "ladder": effect, "difference": effect}, names))
    for place, (values, formulas) in enumerate(rows, first):
        formulas["difference"] = f"=SUM({_LETTER['quantity']}{place + 1}:{_LETTER['ladder']}{place + 1})"
        for column, shown in enumerate(_ELEMENT_COLUMNS):
            formula = formulas.get(shown.key, "")
            put(paper, place, column, values.get(shown.key), looks.cells[shown.look], formula=formula)
    last = first + len(rows)
    put(
        paper,
        last,
        0,
        "Total including tax" if measure == "money" else "Total",
        looks.totals["text"],
    )
    for column, shown in enumerate(_ELEMENT_COLUMNS[1:], 1):
        value = sum(v for values, _ in rows if isinstance(v := values.get(shown.key), float))
        letter = _LETTER[shown.key]
        none = shown.key == "ladder" and measure != "money"
        formula = "" if none else f"=SUM({letter}{first + 1}:{letter}{last})"
        put(paper, last, column, None if none else value, looks.totals[shown.look], formula=formula)
    return last


def _reason_formula(reason: Reason, measure: Measure) -> str:
    """Return the formula of what a reason comes to in one measure, "" where it can't be one."""
    name = PREFIX[measure]
    if reason in ("added", "omitted"):
        return f"=SUM({name}_{reason})"
    if reason == "override":
        return f"=SUMIFS({name}_quantity,line_basis,overridden)+SUMIFS({name}_rate,line_basis,overridden)"
    if reason == "quantity":
        return f"=SUMIFS({name}_quantity,line_basis,as_measured)"
    if reason == "carbon of one unit":
        return "" if measure == "money" else f"=SUMIFS({name}_rate,line_basis,as_measured)"
    if measure != "money":
        return ""
    if reason == "ladder":
        return "=SUM(ladder_effect)"
    return f"=SUMIFS(money_{reason.split()[0]},line_basis,as_measured)"


def _write_reasons(paper: Worksheet, looks: Looks, movement: Movement, row: int) -> int:
    """Write the difference by reason; return the row of its total."""
    paper.write_string(row, 0, "Difference by reason", looks.styles["heading"])
    columns = [
        Column(key="reason", title="Reason", width=34),
        *(
            Column(key=measure, title=measure_title(movement, measure), width=18, look="change")
            for measure in MEASURES
        ),
    ]
    header, first = row + 1, row + 2
    write_header(paper, looks, header, columns)
    last = first + len(REASONS)
    for place, reason in enumerate(REASONS, first):
        put(paper, place, 0, reason, looks.cells["text"])
    put(paper, last, 0, "Total", looks.totals["text"])
    for column, measure in enumerate(MEASURES, 1):
        amounts = movement.by_reason(measure)
        for place, reason in enumerate(REASONS, first):
            formula = _reason_formula(reason, measure)
            value = amounts[reason] if formula else None
            put(paper, place, column, value, looks.cells["change"], formula=formula)
        letter = "ABCD"[column]
        put(
            paper,
            last,
            column,
            sum(amounts.values()),
            looks.totals["change"],
            formula=f"=SUM({letter}{first + 1}:{letter}{last})",
        )
    return last


def _write_check(
    book: Workbook,
    paper: Worksheet,
    looks: Looks,
    movement: Movement,
    totals: dict[Measure, int],
    row: int,
) -> int:
    """Write the totals as issued beside what the movements add up to; return the last row."""
    paper.write_string(
        row, 0, "Check: the movements add up to the difference of the totals", looks.styles["heading"]
    )
    titles = ("Measure", "Total as issued, old", "Total as issued, new", "Difference of the totals")
    texts = (*titles, "Sum of the movements", "Check")
    columns = [
        Column(key=text, title=text, width=18, look="text" if text == "Measure" else "amount")
        for text in texts
    ]
    write_header(paper, looks, row + 1, columns)
    tolerance = row + 2 + len(MEASURES)
    for place, measure in enumerate(MEASURES, row + 2):
        at = place + 1
        old, new = movement.totals(measure)
        difference, moved = movement.difference(measure), _moved(movement, measure)
        agrees = "agrees" if abs(difference - moved) < _TOLERANCE else "does not agree"
        check = f'=IF(ABS(D{at}-E{at})<tolerance,"agrees","does not agree")'
        put(paper, place, 0, measure_title(movement, measure), looks.cells["text"])
        put(paper, place, 1, old, looks.cells["amount"])
        put(paper, place, 2, new, looks.cells["amount"])
        put(paper, place, 3, difference, looks.cells["change"], formula=f"=C{at}-B{at}")
        sum_cell = f"={_LETTER['difference']}{totals[measure] + 1}"
        put(paper, place, 4, moved, looks.cells["change"], formula=sum_cell)
        put(paper, place, 5, agrees, looks.cells["change"], formula=check)
        paper.set_row(place, 30)
    put(paper, tolerance, 0, "Tolerance of the check", looks.cells["text"])
    paper.write_number(tolerance, 1, _TOLERANCE, looks.tolerance)
    book.define_name("tolerance", f"='{SUMMARY}'!$B${tolerance + 1}")
    return tolerance


def _moved(movement: Movement, measure: Measure) -> float:
    """Return what all movements add up to."""
    effect = movement.ladder_effect if measure == "money" else 0.0
    return movement.sums(measure).shift.difference + effect
