"""The thermal fabric of one option for the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.documents.report_tables import ReportTable

if TYPE_CHECKING:
    from rich.table import Table


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
