"""The figures by which options are compared, each with its name, unit and basis."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.model.life_cycle import Module


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure: its key in results.json, what to call it, its unit and how it is found; None is not assessed."""

    key: str
    label: str
    unit: str
    of: Callable[[Result], float | None]


def _frame_volume(result: Result) -> float:
    """Return the volume of all sticks of timber [m3]."""
    return sum(member.volume for member in result.measured.timber)


def lost_share(lines: Iterable[Line]) -> float:
    """Return the share of the mass charged that is not built in, of items whose wastage is known."""
    known = [line for line in lines if line.mass is not None and line.mass_wastage is not None]
    lost = sum(line.mass_wastage or 0.0 for line in known)
    bought = sum(line.mass or 0.0 for line in known) + lost
    return lost / bought if bought else 0.0


def _module(key: str, label: str, module: Module) -> Figure:
    """Return the figure of one module."""
    return Figure(key=key, label=label, unit="kgCO2e", of=lambda r: r.totals.of(module))


def _over(amount: float | None, area: float) -> float | None:
    """Return an amount for one m2, None where it is not assessed."""
    return None if amount is None else amount / area


# Money is in the project's currency. Areas: "outside" is to the outside face of the frame.
FIGURES: tuple[Figure, ...] = (
    Figure(
        key="total_inc_tax",
        label="Cost, total including tax",
        unit="currency",
        of=lambda r: r.ladder.total_inc_tax,
    ),
    Figure(
        key="total_inc_tax_per_m2_outside",
        label="Cost per m2 of floor, outside of frame",
        unit="currency/m2",
        of=lambda r: r.ladder.total_inc_tax / r.measured.areas.outside,
    ),
    Figure(
        key="total_inc_tax_per_m2_inside",
        label="Cost per m2 of floor, inside faces",
        unit="currency/m2",
        of=lambda r: r.ladder.total_inc_tax / r.measured.areas.inside,
    ),
    Figure(
        key="total_inc_tax_allowed",
        label="Cost with wastage by allowance, total including tax",
        unit="currency",
        of=lambda r: r.by_allowance.ladder.total_inc_tax,
    ),
    Figure(
        key="measured_works",
        label="Measured works",
        unit="currency",
        of=lambda r: r.ladder.measured_works,
    ),
    Figure(
        key="works_and_sums",
        label="Works and sums, all items and allowances",
        unit="currency",
        of=lambda r: r.totals.cost,
    ),
    Figure(
        key="upfront_kgco2e",
        label="Upfront carbon, A1-A5",
        unit="kgCO2e",
        of=lambda r: r.totals.upfront,
    ),
    Figure(
        key="upfront_kgco2e_per_m2_outside",
        label="Upfront carbon per m2 of floor, outside of frame",
        unit="kgCO2e/m2",
        of=lambda r: r.totals.upfront / r.measured.areas.outside,
    ),
    Figure(
        key="upfront_kgco2e_per_m2_inside",
        label="Upfront carbon per m2 of floor, inside faces",
        unit="kgCO2e/m2",
        of=lambda r: r.totals.upfront / r.measured.areas.inside,
    ),
    Figure(
        key="upfront_allowed_kgco2e",
        label="Upfront carbon with wastage by allowance, A1-A5",
        unit="kgCO2e",
        of=lambda r: r.by_allowance.totals.upfront,
    ),
    _module("a1a3_kgco2e", "Product stage, A1-A3", "A1-A3"),
    _module("a4_kgco2e", "Transport to site, A4", "A4"),
    _module("a5_wastage_kgco2e", "Wastage, A5", "A5 wastage"),
    Figure(
        key="a5_wastage_allowed_kgco2e",
        label="Wastage by allowance, A5",
        unit="kgCO2e",
        of=lambda r: r.by_allowance.totals.a5_wastage,
    ),
    _module("a5_site_kgco2e", "Site work, A5", "A5 site"),
    Figure(
        key="life_cycle_kgco2e",
        label="Life-cycle carbon, the modules of the study",
        unit="kgCO2e",
        of=lambda r: r.life_cycle,
    ),
    Figure(
        key="life_cycle_kgco2e_per_m2_outside",
        label="Life-cycle carbon per m2 of floor, outside of frame",
        unit="kgCO2e/m2",
        of=lambda r: _over(r.life_cycle, r.measured.areas.outside),
    ),
    Figure(
        key="life_cycle_kgco2e_per_m2_inside",
        label="Life-cycle carbon per m2 of floor, inside faces",
        unit="kgCO2e/m2",
        of=lambda r: _over(r.life_cycle, r.measured.areas.inside),
    ),
    _module("b2_kgco2e", "Maintenance, B2", "B2"),
    _module("b3_kgco2e", "Repair, B3", "B3"),
    _module("b4_kgco2e", "Replacement, B4", "B4"),
    _module("c1_kgco2e", "Taking down, C1", "C1"),
    _module("c2_kgco2e", "Transport at end of life, C2", "C2"),
    _module("c3_kgco2e", "Processing of waste, C3", "C3"),
    _module("c4_kgco2e", "Disposal, C4", "C4"),
    _module("d_kgco2e", "Beyond the life of the house, D, apart", "D"),
    Figure(
        key="land_use_kgco2e",
        label="Land use and its change in A1-A3, apart",
        unit="kgCO2e",
        of=lambda r: r.totals.land_use,
    ),
    Figure(
        key="stored_kgco2", label="Stored biogenic carbon, apart", unit="kgCO2", of=lambda r: r.totals.stored
    ),
    Figure(
        key="kept_kgco2",
        label="Stored biogenic carbon never released, apart",
        unit="kgCO2",
        of=lambda r: r.totals.kept,
    ),
    Figure(
        key="upkeep", label="Upkeep over the study period, discounted", unit="currency", of=lambda r: r.upkeep
    ),
    Figure(
        key="whole_life_cost",
        label="Cost and upkeep over the study period",
        unit="currency",
        of=lambda r: r.whole_life_cost,
    ),
    Figure(
        key="floor_gross_m2",
        label="Floor, gross, outside of cladding",
        unit="m2",
        of=lambda r: r.gross_floor,
    ),
    Figure(key="mass_kg", label="Mass built in", unit="kg", of=lambda r: r.totals.mass),
    Figure(
        key="mass_wastage_kg", label="Mass lost as wastage", unit="kg", of=lambda r: r.totals.mass_wastage
    ),
    Figure(
        key="wastage_share",
        label="Wastage, share of mass charged",
        unit="share",
        of=lambda r: lost_share(r.lines),
    ),
    Figure(
        key="wastage_share_allowed",
        label="Wastage by allowance, share of mass",
        unit="share",
        of=lambda r: lost_share(r.by_allowance.lines),
    ),
    Figure(key="frame_timber_m3", label="Framing timber", unit="m3", of=_frame_volume),
    Figure(
        key="frame_pieces",
        label="Framing pieces",
        unit="Nr",
        of=lambda r: float(len(r.measured.members)),
    ),
    Figure(
        key="framing_fraction",
        label="Framing fraction, external walls",
        unit="share",
        of=lambda r: r.measured.framing_fraction,
    ),
    Figure(
        key="wall_gross_m2",
        label="External wall, gross",
        unit="m2",
        of=lambda r: r.measured.areas.wall_gross,
    ),
    Figure(
        key="heat_loss_w_per_k",
        label="Heat loss through the envelope",
        unit="W/K",
        of=lambda r: r.fabric.transmission,
    ),
    Figure(key="mean_u", label="Mean U-value of the envelope", unit="W/(m2 K)", of=lambda r: r.fabric.mean_u),
    Figure(key="labour_h", label="Gang hours", unit="h", of=lambda r: r.totals.hours),
)


def figures_of(result: Result) -> dict[str, float | None]:
    """Return every figure of one option by key; None is not assessed."""
    return {figure.key: figure.of(result) for figure in FIGURES}


def differences(result: Result, base: Result) -> dict[str, float | None]:
    """Return every figure of one option less that of the base, by key; None where either is not assessed."""
    other = figures_of(base)
    return {
        key: None if value is None or (before := other[key]) is None else value - before
        for key, value in figures_of(result).items()
    }
