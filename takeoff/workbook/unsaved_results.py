"""Finds formulas whose result was not stored: the file was made by a program that does not calculate."""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

# a formula to the end of its cell; what follows it in between is its stored result
_FORMULA_CELL = re.compile(rb"<(?:\w+:)?f[\s>/].*?</(?:\w+:)?c>", re.DOTALL)
_RESULT = re.compile(rb"<(?:\w+:)?v(?:\s[^>]*)?>[^<]")
_BOOK = "xl/workbook.xml"
_RELATIONS = "xl/_rels/workbook.xml.rels"


def formulas_without_result(path: Path) -> dict[str, set[tuple[int, int]]]:
    """Return where a workbook has formulas without a stored result: row and column from 1, by sheet title.

    Cells as ISO/IEC 29500-1, 18.3.1.4 lays them down: one without its place stands beside the one before.
    """
    found: dict[str, set[tuple[int, int]]] = {}
    with zipfile.ZipFile(path) as parts:
        names = set(parts.namelist())
        titles = _titles(parts) if {_BOOK, _RELATIONS} <= names else {}
        for part, title in titles.items():
            data = parts.read(part) if part in names else b""
            # nearly every sheet is done with here: reading all cells one by one takes long
            if any(not _RESULT.search(cell) for cell in _FORMULA_CELL.findall(data)):
                found[title] = set(_places(data))
    return found


def _titles(parts: zipfile.ZipFile) -> dict[str, str]:
    """Return the titles of the sheets by the part of the file that holds each."""
    targets = {
        relation.get("Id"): posixpath.normpath(posixpath.join("/xl", relation.get("Target", ""))).lstrip("/")
        for relation in ElementTree.fromstring(parts.read(_RELATIONS))
    }
    titles = {}
    for sheet in ElementTree.fromstring(parts.read(_BOOK)).iterfind(".//{*}sheet"):
        key = next((value for name, value in sheet.items() if name.endswith("}id")), None)
        if key in targets:
            titles[targets[key]] = sheet.get("name", "")
    return titles


def _places(data: bytes) -> Iterator[tuple[int, int]]:
    """Yield row and column of each formula of a sheet that has no stored result."""
    from openpyxl.utils.cell import coordinate_to_tuple

    row = 0
    for line in ElementTree.fromstring(data).iterfind(".//{*}row"):
        row = int(line.get("r", row + 1))
        column = 0
        for cell in line:
            place = cell.get("r")
            column = coordinate_to_tuple(place)[1] if place else column + 1
            formula, result = cell.find("{*}f"), cell.find("{*}v")
            if formula is not None and (result is None or not result.text):
                yield row, column
