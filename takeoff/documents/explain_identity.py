"""What an item is: its place in the bill, the layer, material and rule that made it, and where to see it."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.lines import Line as BillLine
from takeoff.compare.evaluate import Result
from takeoff.documents.explain_dimensions import lintel_cells
from takeoff.documents.explain_parts import Cell, Line, Section, cell, cells, listed
from takeoff.documents.explain_settings import setting_cell
from takeoff.documents.schedule import bill, carbon, dimensions, rates
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.wording import number, unit_text
from takeoff.measure.layer import slug
from takeoff.measure.quantity import Quantity
from takeoff.model.allowance import Allowance
from takeoff.model.house import SIDES, Design, Layer
from takeoff.model.job import Job
from takeoff.model.suspended_floor import BEARERS, JOISTS

HEADING = "What it is"
WHERE = "Where to see it"
_BUILD_UPS = (
    "external_wall",
    "roof",
    "ceiling",
    "floor",
    "opening_surround",
    "internal_wall",
    "wet_wall",
    "party_wall",
    "internal_surround",
)
_LININGS = ("wall_lining", "ceiling_lining", "floor_finish")
_FRAMES = frozenset({"frame", JOISTS, BEARERS, "ceiling joists"})


def identity_section(
    job: Job,
    result: Result,
    line: BillLine,
    made_of: tuple[tuple[str, Layer], ...],
    allowance: Allowance | None,
) -> Section:
    """Return what an item is, and the rows that say so."""
    quantity = line.quantity
    lines = [
        Line("id", quantity.id),
        Line("item", quantity.item),
        Line("element", f"{quantity.element_name} ({quantity.element})"),
        Line("trade", quantity.trade),
        Line("description", quantity.description),
        Line("location", quantity.location),
        Line("option", result.option.name),
        Line("unit", unit_text(quantity.unit)),
        *_made_by(job, result, quantity, made_of, allowance),
        *_rows(job, quantity),
    ]
    return Section(HEADING, tuple(lines))


def layers_of(result: Result, quantity: Quantity) -> tuple[tuple[str, Layer], ...]:
    """Return the layers that an item is, each with the name of its build-up.

    Sticks belong to the frames of their material in the build-ups that their element is made of.
    """
    design, built = result.design, quantity.built_in
    if built is not None:
        layers = design.build_ups[built.build_up].layers
        return tuple((built.build_up, layer) for layer in layers if layer.number == built.layer)
    if ".FR." not in quantity.id:
        return ()
    return tuple(
        (name, layer)
        for name in _framed(result, quantity.element)
        for layer in design.build_ups[name].layers
        if layer.measured_by in _FRAMES and layer.material == quantity.material
    )


def _framed(result: Result, element: str) -> list[str]:
    """Return the build-ups whose frames the sticks of an element are."""
    house = result.design.house
    whole = {"EW": house.external_wall, "RF": house.roof, "SB": house.floor}
    if element in whole:
        return [whole[element]]
    built = (line.quantity.built_in for line in result.lines if line.quantity.element == element)
    return list(dict.fromkeys(each.build_up for each in built if each is not None))


def _made_by(
    job: Job,
    result: Result,
    quantity: Quantity,
    made_of: tuple[tuple[str, Layer], ...],
    allowance: Allowance | None,
) -> list[Line]:
    """Return what puts an item into the house: layers, an opening, the lintel table, an allowance, a setting."""
    design = result.design
    if allowance is not None:
        kind = "firm" if allowance.kind == "firm" else f"a {allowance.kind}"
        found = cell(allowance.origin, "name", f"allowance {allowance.name}", allowance.name)
        return [Line("allowance", f"{allowance.name}, {kind}, by {allowance.basis}", cells(found))]
    lines = [line for name, layer in made_of for line in _layer_lines(design, name, layer, quantity)]
    rows = lintel_cells(design, quantity)
    if rows:
        lines.append(Line("lintels", "rows of the lintel table with this section", rows))
    unit = _unit_cell(design, quantity)
    if unit is not None:
        lines.append(Line("unit type", quantity.material, (unit,)))
    if quantity.work is not None:
        lines.append(Line("labour row", quantity.work, cells(setting_cell(design.house, "site_activity"))))
    return lines


def _layer_lines(design: Design, name: str, layer: Layer, quantity: Quantity) -> list[Line]:
    """Return a layer in words with its cells, and what names its build-up."""
    told = [
        cell(layer.origin, "material", f"layer {layer.number}", layer.material),
        cell(layer.origin, "measured_by", layer.measured_by, layer.measured_by),
    ]
    if layer.thickness is not None:
        told.append(
            cell(layer.origin, "thickness", f"thickness {number(layer.thickness, 4)} m", layer.thickness)
        )
    if layer.spacing is not None:
        told.append(cell(layer.origin, "spacing", f"spacing {number(layer.spacing, 3)} m", layer.spacing))
    if layer.rate != 1:
        told.append(cell(layer.origin, "rate", f"rate {layer.rate:g}", layer.rate))
    lines = [Line("build-up", f"{name}, layer {layer.number}, measured by {layer.measured_by}", cells(*told))]
    named = naming_cells(design, name, quantity)
    return [*lines, Line("named by", "what puts this build-up here:", named)] if named else lines


def naming_cells(design: Design, name: str, quantity: Quantity) -> tuple[Cell, ...]:
    """Return the cells that name a build-up where an item is: settings, palette, rooms, bulkheads, walls."""
    house = design.house
    found: list[Cell | None] = [setting_cell(house, s) for s in _BUILD_UPS if getattr(house, s) == name]
    for side in SIDES:
        if not quantity.id.startswith(f"EW.CL.{side}."):
            continue
        palette, band = design.palette, design.palette.band
        found.append(setting_cell(house, "palette"))
        if palette.build_up_for(side) == name:
            found.append(cell(palette.origin, side, f"palette {palette.name}, {side} side", name))
        if band is not None and side in band.sides and band.build_up == name:
            found.append(cell(palette.origin, "band", f"palette {palette.name}, band", name))
    found += [
        cell(room.origin, field, f"{room.name}, {field.replace('_', ' ')}", name)
        for room in design.rooms
        for field in _LININGS
        if getattr(room, field) == name
    ]
    found += [
        cell(bulkhead.origin, "ceiling_lining", f"{bulkhead.name}, ceiling lining", name)
        for bulkhead in design.bulkheads
        if bulkhead.ceiling_lining == name
    ]
    found += [
        cell(choice.origin, "build_up", f"wall of {' and '.join(choice.rooms)}", name)
        for choice in design.wall_choices
        if choice.build_up == name
    ]
    return cells(*found)


def _unit_cell(design: Design, quantity: Quantity) -> Cell | None:
    """Return the cell that names the unit of a window, door or shutter, None for other items."""
    for opening in design.openings:
        for field in ("unit_type", "shutter"):
            suffix = ".shutter" if field == "shutter" else ""
            own = f"{quantity.element}.{slug(opening.mark)}{suffix}"
            if quantity.id == own and quantity.dimensions[0].opening == opening.mark:
                return cell(
                    opening.origin, field, f"{opening.mark} {field.replace('_', ' ')}", quantity.material
                )
    for door in design.internal_doors:
        if quantity.id == f"ID.{slug(door.mark)}":
            return cell(door.origin, "unit_type", f"{door.mark} unit type", quantity.material)
    return None


def _rows(job: Job, quantity: Quantity) -> list[Line]:
    """Return the rows of the material and of its measurement rule, where the item has a material."""
    material = job.library.materials.get(quantity.material)
    if material is None:
        return []
    lines = [
        Line(
            "material",
            f"{material.name}, {material.family}",
            cells(cell(material.origin, "name", "row of the material", material.name)),
        )
    ]
    rule = job.library.measurement.get(material.item_class)
    if rule is not None:
        voids = f"voids up to {rule.smallest_void:.2f} m² within a face are not deducted"
        told = voids if quantity.void_rule is not None else "its void rule does not bear on this item"
        lines.append(
            Line(
                "rule of measuring",
                f"class {rule.item_class}: {told}. Deemed included: {rule.included}",
                cells(
                    cell(rule.origin, "item_class", "row of the rule", rule.item_class),
                    cell(
                        rule.origin,
                        "smallest_void",
                        f"smallest void {rule.smallest_void:g} m²",
                        rule.smallest_void,
                    )
                    if quantity.void_rule is not None
                    else None,
                ),
            )
        )
    return lines


def where_section(result: Result, line: BillLine, rows: Sequence[BillRow]) -> Section:
    """Return where the item stands in the schedule, `rows` those of its bill, and in quantities.csv."""
    row = next(row for row in rows if row.id == line.quantity.id)
    sheets = listed([bill.TITLE, dimensions.TITLE, rates.TITLE, carbon.TITLE])
    return Section(
        WHERE,
        (
            Line("schedule", f"item {row.number} of {len(rows)} in the sheets {sheets}"),
            Line("quantities.csv", f"the row of the id {row.id} in the option {result.option.name}"),
        ),
    )
