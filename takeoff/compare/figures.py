"""The figures by which options are compared, each with its name, unit and basis."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure: its key in results.json, what to call it, its unit and how it is found."""

    key: str
    label: str
    unit: str
    of: Callable[[Result], float]


def _frame_volume(result: Result) -> float:
    """Return the volume of all sticks [m3]."""
    return sum(member.volume for member in result.measured.members)


def lost_share(lines: Iterable[Line]) -> float:
    """Return the share of the mass charged that is not built in, of items whose wastage is known."""
    known = [line for line in lines if line.mass is not None and line.mass_wastage is not None]
    lost = sum(line.mass_wastage or 0.0 for line in known)
    bought = sum(line.mass or 0.0 for line in known) + lost
    return lost / bought if bought else 0.0


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
    Figure(key="a1a3_kgco2e", label="Product stage, A1-A3", unit="kgCO2e", of=lambda r: r.totals.a1a3 or 0.0),
    Figure(key="a4_kgco2e", label="Transport to site, A4", unit="kgCO2e", of=lambda r: r.totals.a4 or 0.0),
    Figure(
        key="a5_wastage_kgco2e", label="Wastage, A5", unit="kgCO2e", of=lambda r: r.totals.a5_wastage or 0.0
    ),
    Figure(
        key="a5_wastage_allowed_kgco2e",
        label="Wastage by allowance, A5",
        unit="kgCO2e",
        of=lambda r: r.by_allowance.totals.a5_wastage or 0.0,
    ),
    Figure(key="a5_site_kgco2e", label="Site work, A5", unit="kgCO2e", of=lambda r: r.totals.a5_site or 0.0),
    Figure(
        key="stored_kgco2", label="Stored biogenic carbon, apart", unit="kgCO2", of=lambda r: r.totals.stored
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
    Figure(key="labour_h", label="Gang hours", unit="h", of=lambda r: r.totals.hours),
)


def figures_of(result: Result) -> dict[str, float]:
    """Return every figure of one option by key."""
    return {figure.key: figure.of(result) for figure in FIGURES}


def differences(result: Result, base: Result) -> dict[str, float]:
    """Return every figure of one option less that of the base, by key."""
    own, other = figures_of(result), figures_of(base)
    return {key: own[key] - other[key] for key in own}
