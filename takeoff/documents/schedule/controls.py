"""Which items take part in the controls: tags that formulas of the sheet Checks add up by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.measure.cladding import cladding_regions
from takeoff.model.house import SIDES, Side
from takeoff.model.library import Library

ROOF, FLOOR, FLASHING, REVEAL, UNIT = "roof slope", "floor finish", "flashing", "reveal", "unit"
_SLOPE_NOTE = "roof slope"
# classes of items that surround an opening
_SURROUNDS = {"trims": FLASHING, "linings": REVEAL}


def cladding_tag(side: Side) -> str:
    """Return the tag of the items that cover one side whole."""
    return f"cladding {side}"


def controls_of(rows: Sequence[BillRow], result: Result, library: Library) -> dict[str, str]:
    """Return the tag of each item that a control adds up, by id."""
    tags: dict[str, str] = {}
    for id, tag in (
        *_roof(rows),
        *_cladding(rows, result),
        *_floor(rows),
        *_openings(rows, library),
    ):
        tags.setdefault(id, tag)
    return tags


def _roof(rows: Iterable[BillRow]) -> Iterator[tuple[str, str]]:
    """Yield the first item that is the whole slope, once."""
    for row in rows:
        lines = row.line.quantity.dimensions
        once = len(lines) == 1 and lines[0].note == _SLOPE_NOTE and lines[0].timesing == 1
        if once and row.line.quantity.unit == "m2":
            yield row.id, ROOF
            return


def _cladding(rows: Sequence[BillRow], result: Result) -> Iterator[tuple[str, str]]:
    """Yield, for each build-up on each side, the outermost layer that is measured by its face."""
    for side in SIDES:
        for name in dict.fromkeys(region[0] for region in cladding_regions(result.design, side)):
            layers = [
                row
                for row in rows
                if row.id.startswith(f"EW.CL.{side}.")
                and (built := row.line.quantity.built_in) is not None
                and built.build_up == name
                and row.line.quantity.unit == "m2"
                and all(line.timesing == 1 for line in row.line.quantity.dimensions)
            ]
            if layers:
                yield min(layers, key=_layer).id, cladding_tag(side)


def _layer(row: BillRow) -> int:
    """Return the number of the layer that a row is."""
    built = row.line.quantity.built_in
    return built.layer if built is not None else 0


def _floor(rows: Iterable[BillRow]) -> Iterator[tuple[str, str]]:
    """Yield, for each floor finish, the layer that is measured once over the floor it covers."""
    by_finish: dict[str, list[BillRow]] = {}
    for row in rows:
        quantity = row.line.quantity
        if quantity.element == "FF" and quantity.unit == "m2" and quantity.built_in is not None:
            by_finish.setdefault(quantity.built_in.build_up, []).append(row)
    for layers in by_finish.values():
        # coats are measured for each coat, so the least is the floor itself
        yield min(layers, key=lambda row: (row.measured, _layer(row))).id, FLOOR


def _openings(rows: Iterable[BillRow], library: Library) -> Iterator[tuple[str, str]]:
    """Yield the units of external openings and what surrounds them, by the class of the material."""
    for row in rows:
        quantity = row.line.quantity
        if quantity.element not in ("WN", "ED"):
            continue
        if quantity.built_in is None and not row.id.endswith(".shutter"):
            yield row.id, UNIT
            continue
        material = library.materials.get(quantity.material)
        tag = None if material is None else _SURROUNDS.get(material.item_class)
        if tag is not None:
            yield row.id, tag
