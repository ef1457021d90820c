"""The thermal fabric and the members of one option for the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.compare.parity import shortfalls_of_all
from takeoff.documents.fabric_tables import envelope_table, framing_cost_table, heat_loss_table
from takeoff.documents.member_tables import members_table
from takeoff.documents.parity_words import marked, parity_table
from takeoff.documents.report_tables import ReportTable
from takeoff.model.job import Job

if TYPE_CHECKING:
    from rich.console import Group
    from rich.table import Table


def fabric_screen(job: Job, results: Sequence[Result], chosen: Result) -> Group:
    """Return the fabric of all options side by side, framing and members of one of them."""
    from rich.console import Group
    from rich.text import Text

    missed = shortfalls_of_all(job, results)
    shown = marked(results, missed)
    one = marked([chosen], missed)[0]
    tables = (
        framing_cost_table(one),
        heat_loss_table(shown),
        envelope_table(shown),
        parity_table(missed),
        members_table(one),
    )
    parts: list[Table | Text] = []
    for table in tables:
        if table is not None:
            parts += [table_screen(table), Text()]
    return Group(*parts)


def table_screen(table: ReportTable) -> Table:
    """Return a table of the report for the terminal, smaller lines below their cells."""
    from rich.table import Table

    shown = Table(title=table.caption, title_justify="left", pad_edge=False, box=None, header_style="bold")
    for column in table.columns:
        title = f"{column.title}\n{column.unit}" if column.unit else column.title
        shown.add_column(title, justify="right" if column.figures else "left", overflow="fold")
    for row in table.rows:
        if row.heading:
            shown.add_row(f"[bold]{row.heading}[/bold]")
            continue
        second = row.second or ("",) * len(row.cells)
        cells = [f"{cell}\n{more}" if more else cell for cell, more in zip(row.cells, second, strict=True)]
        shown.add_row(*cells, style="bold" if row.total else "")
        if row.below:
            shown.add_row(f"[italic]{row.below}[/italic]")
    return shown
