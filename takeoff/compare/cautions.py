"""Warnings that go with an option into every document: they are data, not print."""

from __future__ import annotations

from takeoff.compare.caution import Caution
from takeoff.compare.evaluate import Result
from takeoff.compare.inside_cautions import inside_cautions
from takeoff.compare.order_cautions import order_cautions
from takeoff.compare.structure_cautions import structure_cautions
from takeoff.model.life_cycle import END, USE

# Early warning only: half to twice what published houses of the kind were found to take.
_UPFRONT_SEEN = (193.0, 233.0)


GENERAL = (
    Caution("Estimate", "An early-design estimate from a few numbers; not a quotation and not a tender."),
    Caution(
        "Structure",
        "Sizes of studs, rafters, lintels and slabs are indicative and are not structural design; the "
        "engineer confirms them.",
    ),
    Caution(
        "Members",
        "Checks of rafters, lintels and floor joists are indicative, for uniform loads alone; within is no "
        "approval: engineer to confirm beside every one.",
    ),
    Caution(
        "Fabric",
        "Nothing here is an energy rating, or advice on bushfire, fire, acoustics or condensation.",
    ),
    Caution(
        "Last word",
        "Local codes, the engineer, the energy assessor, the certifier, the licensed quantity surveyor and "
        "the builder have the last word.",
    ),
    Caution("Prices", "Prices belong to their date and place."),
    Caution("Carbon", "Carbon covers the modules and the items stated, from the sources stated; no more."),
    Caution(
        "Upkeep",
        "Service lives and intervals are typical figures for comparing options; no maintenance plan and no warranty.",
    ),
)


def cautions_of(result: Result) -> list[Caution]:
    """Return the cautions of one option: structure, what can't be bought whole, gaps in prices, carbon and heat
    loss, bounds.
    """
    return [
        *structure_cautions(result),
        *inside_cautions(result),
        *_suspended_floor(result),
        *order_cautions(result),
        *_gaps(result),
        *_heat(result),
        *_bounds(result),
    ]


def _suspended_floor(result: Result) -> list[Caution]:
    """Return what goes with a suspended floor: indicative sizes, the crawl space, bays longer than timber."""
    frame = result.measured.floor_frame
    if frame is None:
        return []
    house = result.design.house
    cautions = [
        Caution(
            "Suspended floor",
            "sizes and spans of joists, bearers and stumps and the size and depth of their footings are "
            "indicative: engineer to confirm",
        ),
        Caution(
            "Crawl space",
            "ventilation of the space under the floor, termites and moisture: by local codes",
        ),
    ]
    clear = result.measured.under_floor or 0.0
    if clear < 0:
        cautions.append(
            Caution(
                "Crawl space",
                f"the underside of the bearers lies {-clear * 1000:.0f} mm below finished ground: raise the "
                f"setting floor above ground, now {house.floor_above_ground * 1000:.0f} mm",
            )
        )
    if frame.too_long:
        longest = max(member.length for member in frame.too_long)
        cautions.append(
            Caution(
                "Floor timber",
                f"{len(frame.too_long)} joists or bearers of the floor are longer (up to {longest:.2f} m) than the "
                f"longest length of {frame.longest_length:g} m: their bays leave no place to join them",
            )
        )
    return cautions


def _gaps(result: Result) -> list[Caution]:
    """Return items without a price or a carbon factor."""
    cautions = []
    if result.totals.not_priced:
        cautions.append(Caution("Not priced", ", ".join(result.totals.not_priced)))
    if result.totals.not_assessed:
        cautions.append(Caution("Carbon not assessed", ", ".join(result.totals.not_assessed)))
    if result.totals.a4_not_assessed:
        cautions.append(Caution("Transport (A4) not assessed", ", ".join(result.totals.a4_not_assessed)))
    return [*cautions, *_upkeep_gaps(result), *_whole_life_gaps(result)]


def _upkeep_gaps(result: Result) -> list[Caution]:
    """Return the materials and allowances whose renewals nothing tells: their upkeep is missing from the sums."""
    missing = set(result.totals.upkeep_not_assessed)
    names = dict.fromkeys(
        line.quantity.material or line.quantity.item for line in result.lines if line.quantity.id in missing
    )
    if not names:
        return []
    share = 1 - (result.totals.upkeep_cover or 0.0)
    return [
        Caution(
            "Upkeep not assessed",
            f"without a service life, and renewed with no layer, so that cost and carbon of their renewals are missing "
            f"({share:.1%} of the cost of items with material): {', '.join(names)}",
        )
    ]


def _whole_life_gaps(result: Result) -> list[Caution]:
    """Return which modules of use and end of life leave a part of the mass out."""
    partly = [
        f"{module} {share:.0%}"
        for module in (*USE, *END)
        if (share := result.totals.modules[module].cover_mass) is not None and share < 1 - 1e-9
    ]
    if not partly:
        return []
    return [
        Caution(
            "Whole life not assessed in full",
            f"share of the known mass for which each module is assessed: {', '.join(partly)}; the rest is missing "
            "from the sums",
        )
    ]


def _heat(result: Result) -> list[Caution]:
    """Return the parts of the envelope whose heat loss is not assessed."""
    if not result.fabric.not_assessed:
        return []
    return [Caution("Heat loss not assessed", "; ".join(result.fabric.not_assessed))]


def _bounds(result: Result) -> list[Caution]:
    """Return a warning where upfront carbon is far from that of published houses of the kind.

    Source: three single-storey Australian houses, 193 to 233 kgCO2e/m2 (Illankoon et al.), seen quoted.
    """
    per_m2 = result.totals.upfront / result.measured.areas.outside
    low, high = _UPFRONT_SEEN
    if 0.5 * low <= per_m2 <= 2 * high:
        return []
    return [
        Caution(
            "Plausibility",
            f"upfront carbon of {per_m2:.0f} kgCO2e/m2 is outside half to twice the {low:.0f} to {high:.0f} "
            "published for three single-storey Australian houses (Illankoon et al.)",
        )
    ]
