"""A worksheet whose formulas are written as they are."""

from __future__ import annotations

from xlsxwriter.worksheet import Worksheet


class PlainSheet(Worksheet):  # type: ignore[misc]  # the library has no types
    """A worksheet for formulas of functions that every office program knows by one name.

    The library looks each formula over for functions younger than the file format, which are stored under longer
    names. The schedule uses none, and the search takes a third of the time of writing it.
    """

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        """Return a formula as it is stored: without the equals sign."""
        return formula.removeprefix("=")
