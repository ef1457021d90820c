"""The tables of the report about the thermal fabric: framing by part, heat loss by option, layers, conductivities."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.fabric.elements import Envelope
from takeoff.assess.fabric.heat_loss import HouseFabric
from takeoff.compare.evaluate import Result
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import NOT_ASSESSED, change, number, percent
from takeoff.model.fabric import FABRIC_ELEMENTS
from takeoff.model.geometry import compass_of
from takeoff.model.house import SIDES
from takeoff.model.job import Job

U_UNIT = "W/(m²K)"
_HEAT = "W/K"


def u_text(value: float | None) -> str:
    """Return a U-value as printed."""
    return NOT_ASSESSED if value is None else number(value, 3)


def heat_text(value: float | None) -> str:
    """Return a heat loss for each degree as printed."""
    return NOT_ASSESSED if value is None else number(value, 1)


def framing_cost_table(result: Result) -> ReportTable:
    """Return the share of timber in every framed part, its U-value at it and at the assumed share, and the cost."""
    fabric = result.fabric
    rows = [_framed_row(part) for part in fabric.parts if part.fraction is not None]
    cost = fabric.cost_of_framing
    return ReportTable(
        id="framing-cost",
        caption=f"{result.option.name}: what the sticks cost in heat",
        columns=(
            Column(title="Part", figures=False),
            Column(title="Area", unit="m²"),
            Column(title="Timber measured", unit="%"),
            Column(title="Timber assumed", unit="%"),
            Column(title="U as measured", unit=U_UNIT),
            Column(title="U as assumed", unit=U_UNIT),
            Column(title="Heat loss", unit=_HEAT),
            Column(title="More than assumed", unit=_HEAT),
        ),
        rows=(
            *rows,
            Row(
                cells=(
                    "all framed parts",
                    *[""] * 6,
                    NOT_ASSESSED if cost is None else change(cost, 1),
                ),
                total=True,
            ),
        ),
        note="Timber measured: seen face of every stick over the face of that very frame less its openings; assumed: "
        "the share usually taken, of the sheet Fabric. U-values by the combined method of EN ISO 6946 (floors on the "
        "ground: EN ISO 13370). Areas are to the outside face of the frame, openings left out.",
    )


def _framed_row(part: Envelope) -> Row:
    """Return one framed part."""
    cost = part.cost_of_framing
    return Row(
        cells=(
            part.name,
            number(part.area, 1),
            number((part.fraction or 0.0) * 100, 1),
            number((part.assumed_fraction or 0.0) * 100, 1),
            u_text(part.u_value),
            u_text(part.assumed_u),
            heat_text(part.heat_loss),
            NOT_ASSESSED if cost is None else change(cost, 1),
        ),
        below=part.not_assessed,
    )


def heat_loss_table(results: Sequence[Result]) -> ReportTable:
    """Return the heat lost by each option, by element and in total."""
    base = results[0]
    demand = base.fabric.degree_days is not None
    rows = []
    for result in results:
        fabric = result.fabric
        cells = [
            result.option.name,
            *(heat_text(fabric.heat_loss(element)) for element in FABRIC_ELEMENTS),
            heat_text(fabric.installation),
            heat_text(fabric.bridges),
            heat_text(fabric.transmission),
            u_text(fabric.mean_u),
            heat_text(fabric.ventilation),
            heat_text(fabric.total),
        ]
        if demand:
            cells.append(_demand(fabric))
        second = ["base" if result is base else "", *[""] * (len(cells) - 1)]
        if result is not base:
            second[8] = _against(fabric.transmission, base.fabric.transmission)
            second[11] = _against(fabric.total, base.fabric.total)
        rows.append(Row(cells=tuple(cells), second=tuple(second), chosen=result is base))
    degree_days = number(base.fabric.degree_days or 0)
    return ReportTable(
        id="heat-loss",
        caption="Heat loss coefficient by element",
        columns=(
            Column(title="Option", figures=False),
            Column(title="Walls", unit=_HEAT),
            Column(title="Roof", unit=_HEAT),
            Column(title="Floor", unit=_HEAT),
            Column(title="Windows", unit=_HEAT),
            Column(title="Doors", unit=_HEAT),
            Column(title="Installation", unit=_HEAT),
            Column(title="Junctions", unit=_HEAT),
            Column(title="Through the envelope", unit=_HEAT),
            Column(title="Mean U", unit=U_UNIT),
            Column(title="With the air", unit=_HEAT),
            Column(title="Total", unit=_HEAT),
            *([Column(title="Demand by degree days", unit="kWh a year")] if demand else []),
        ),
        rows=tuple(rows),
        note="Installation: joints of windows and doors with the wall; junctions: the round sum of the sheet Fabric "
        "for each m² of envelope. The mean U is the heat loss through the envelope over its area. With the air: 0.33 "
        "Wh/(m³K) "
        f"x {base_air(base)}."
        + (
            f" Demand by degree days, {degree_days} K d, serves to compare options and nothing else: sun, people, "
            "appliances and what the house stores are left out. It is no prediction and no rating."
            if demand
            else ""
        ),
    )


def base_air(base: Result) -> str:
    """Return the air of the base in words."""
    return (
        f"air volume ({number(base.fabric.air_volume, 1)} m³ in the base) x air changes, less heat recovery"
    )


def _demand(fabric: HouseFabric) -> str:
    """Return the demand by degree days."""
    demand = fabric.degree_day_demand
    return NOT_ASSESSED if demand is None else number(demand)


def _against(value: float | None, base: float | None) -> str:
    """Return a heat loss less that of the base."""
    return "" if value is None or base is None else change(value - base, 1)


def envelope_table(results: Sequence[Result]) -> ReportTable:
    """Return U-values by element and the figures of the envelope of every option."""
    rows = []
    for result in results:
        fabric = result.fabric
        windows = ", ".join(percent(fabric.windows_to_wall[side], 0).removesuffix(" %") for side in SIDES)
        rows.append(
            Row(
                cells=(
                    result.option.name,
                    *(u_text(fabric.u_value(e)) if fabric.area(e) else "" for e in FABRIC_ELEMENTS),
                    number(fabric.envelope_area, 1),
                    number(fabric.envelope_to_floor, 2),
                    "" if fabric.transmission is None else number(fabric.transmission / fabric.floor_area, 2),
                    windows,
                    number(fabric.airtight_area, 1),
                    number(fabric.air_volume, 1),
                ),
                chosen=result is results[0],
            )
        )
    house = results[0].design.house
    sides = ", ".join(f"{side} ({compass_of(house, side)})" for side in SIDES)
    return ReportTable(
        id="envelope",
        caption="The envelope of every option",
        columns=(
            Column(title="Option", figures=False),
            Column(title="U walls", unit=U_UNIT),
            Column(title="U roof", unit=U_UNIT),
            Column(title="U floor", unit=U_UNIT),
            Column(title="U windows", unit=U_UNIT),
            Column(title="U doors", unit=U_UNIT),
            Column(title="Envelope", unit="m²"),
            Column(title="Envelope to floor", unit="m²/m²"),
            Column(title="Heat loss to floor", unit="W/(m²K)"),
            Column(title="Windows to wall", unit="%"),
            Column(title="Airtight layer", unit="m²"),
            Column(title="Air volume", unit="m³"),
        ),
        rows=tuple(rows),
        note="U-values are means by area. Floor is that to the outside face of the frame. Windows to wall: windows and "
        f"sliding doors over the gross wall, sides {sides} in the base. The airtight layer goes to the inside faces of "
        "the walls and the underside of the rafters, openings included.",
    )


def layers_table(result: Result) -> ReportTable:
    """Return what the heat goes through in each part, layer by layer, with both limits of its resistance."""
    rows: list[Row] = []
    told: set[tuple[object, ...]] = set()
    for part in result.fabric.parts:
        if part.path is None or part.limits is None:
            continue
        names = tuple(layer.name for layer in part.path.layers)
        # walls of one make-up differ by their share of timber only: they are told once
        if (part.element, names) in told:
            continue
        told.add((part.element, names))
        limits = part.limits
        rows.append(Row(heading=part.name))
        rows += [
            Row(cells=("", piece.name, number(piece.share * 100, 1), number(piece.resistance, 3)))
            for layer in part.path.layers
            for piece in layer.parts
        ]
        rows.append(
            Row(
                cells=(
                    "",
                    f"upper limit {number(limits.upper, 3)}, lower limit {number(limits.lower, 3)}; "
                    f"U {u_text(part.u_value)}",
                    "",
                    number(limits.total, 3),
                ),
                total=True,
            )
        )
    return ReportTable(
        id="layers",
        caption=f"{result.option.name}: layers and their thermal resistances",
        columns=(
            Column(title="Part", figures=False),
            Column(title="Layer, outside to inside", figures=False),
            Column(title="Share", unit="%"),
            Column(title="Resistance", unit="m²K/W"),
        ),
        rows=tuple(rows),
        note="Surfaces are in the limits. What lies outside moving air is left out, membranes and coats have no "
        "resistance, room that insulation leaves between sticks is still air. Walls of one make-up stand once, with "
        "the share of timber of the first.",
    )


def conductivities_table(job: Job, results: Sequence[Result]) -> ReportTable:
    """Return the conductivity of every material that heat goes through, and declared U-values, with their sources."""
    names: dict[str, None] = {}
    for result in results:
        for part in result.fabric.parts:
            for layer in part.path.layers if part.path else ():
                for piece in layer.parts:
                    names.setdefault(piece.name)
            if part.ground is not None and part.ground.material:
                names.setdefault(part.ground.material)
            if part.element in ("windows", "external doors"):
                names.setdefault(part.name)
    rows = []
    for name in names:
        material = job.library.materials.get(name)
        if material is None:
            continue
        declared = "" if material.u_value is None else number(material.u_value, 2)
        joint = "" if material.installation is None else number(material.installation, 3)
        rows.append(
            Row(
                cells=(
                    name,
                    "" if material.conductivity is None else f"{material.conductivity:g}",
                    declared,
                    joint,
                    material.source,
                    material.standing,
                ),
                below=material.note,
            )
        )
    return ReportTable(
        id="conductivities",
        caption="Conductivities and declared U-values used",
        columns=(
            Column(title="Material", figures=False),
            Column(title="Conductivity", unit="W/(mK)"),
            Column(title="U declared", unit=U_UNIT),
            Column(title="Installation", unit="W/(mK)"),
            Column(title="Source", figures=False),
            Column(title="Standing", figures=False),
        ),
        rows=tuple(rows),
        note="Source and standing are those of the material's row; its note says where a value has another. Surfaces "
        "and air layers: "
        + "; ".join(
            dict.fromkeys(f"{row.kind}: {row.source}, {row.standing}" for row in job.library.resistances)
        )
        + ".",
    )
