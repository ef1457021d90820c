"""Prices and assesses every ordered quantity: mass, rate build-up, carbon by module."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.assess.carbon import carbon_of
from takeoff.assess.converter import Converter
from takeoff.assess.lines import Line
from takeoff.assess.pricing import cost_parts, has_material, rate_of
from takeoff.cutting.order import OrderedQuantity
from takeoff.model.library import Library
from takeoff.model.problem import WorkbookProblem
from takeoff.model.study import Study


def assess_lines(
    ordered: Iterable[OrderedQuantity], library: Library, study: Study | None = None
) -> tuple[list[Line], list[WorkbookProblem]]:
    """Price and assess every item; renewals are added by `takeoff.assess.use_stage`.

    A price, labour constant or factor that can't meet the unit of its item is a located problem.
    """
    problems: list[WorkbookProblem] = []
    lines = [_line(item, library, study or Study(), problems) for item in ordered]
    return lines, problems


def _line(item: OrderedQuantity, library: Library, study: Study, problems: list[WorkbookProblem]) -> Line:
    """Price and assess one item."""
    quantity = item.quantity
    material = library.materials.get(quantity.material)
    work_name = quantity.work or (material.work if material else None)
    work = library.works.get(work_name) if work_name else None
    into = Converter(quantity, material, problems)
    mass_per_unit = into.mass()
    rate, priced = rate_of(item, material, work, library, into)
    carbon, parts = carbon_of(item, material, work, library, into, mass_per_unit, study)
    return Line(
        ordered=item,
        mass=None if mass_per_unit is None else item.built_in * mass_per_unit,
        mass_wastage=None if mass_per_unit is None else item.wastage * mass_per_unit,
        wood_volume=into.wood_volume() * item.built_in,
        rate=rate,
        cost=rate.total * quantity.net,
        priced=priced,
        needs_carbon=has_material(material),
        carbon=carbon,
        cost_parts=cost_parts(quantity, rate, material, work),
        carbon_parts=parts,
    )
