"""Cautions that go with the inside of a house: walls under support lines, party walls, heights, wet rooms."""

from __future__ import annotations

from takeoff.compare.caution import Caution
from takeoff.compare.evaluate import Result
from takeoff.model.wall_runs import across_extent

# Shorter stretches of a support line without a wall are bridged by the plates of the walls beside them [m].
_BRIDGED = 0.05


def inside_cautions(result: Result) -> list[Caution]:
    """Return the cautions of the inside of one option."""
    return [
        *_support_lines(result),
        *_dwellings(result),
        *_heights(result),
        *_flat_ceilings(result),
        *_wet_rooms(result),
    ]


def unsupported(result: Result, line: float) -> list[tuple[float, float]]:
    """Return the stretches of a support line with no loadbearing wall under them [m along the eaves]."""
    house, inside = result.design.house, result.measured.inside
    inset = house.stud_depth
    here, stretches = inset, []
    under = sorted(
        (run.start, run.end)
        for run in inside.runs
        if (run.loadbearing or run.party) and run.axis == "x" and abs(run.at - line) <= run.depth / 2 + 1e-6
    )
    for start, end in (*under, (across_extent(house, "x") - inset, float("inf"))):
        if start - here > _BRIDGED:
            stretches.append((here, start))
        here = max(here, end)
    return stretches


def _support_lines(result: Result) -> list[Caution]:
    """Return the support lines that no wall stands under, wholly or in part."""
    cautions = []
    for line in result.design.house.support_lines:
        bare = unsupported(result, line)
        if not bare:
            continue
        where = ", ".join(f"{start:.2f} to {end:.2f} m" for start, end in bare)
        cautions.append(
            Caution(
                "Support lines",
                f"rafters are carried at {line:g} m from the low wall, where no wall stands at x {where}: a beam "
                "there is not measured. Put an edge of rooms on the line (sheets Rooms and Internal walls), or "
                "take it out of the setting support lines",
            )
        )
    return cautions


def _dwellings(result: Result) -> list[Caution]:
    """Return what goes with two dwellings under one roof."""
    design = result.design
    dwellings = {room.dwelling.strip().lower() for room in design.rooms}
    if len(dwellings) < 2:
        return []
    if design.house.separate_dwellings:
        return [
            Caution(
                "Party wall",
                "fire resistance and sound insulation of the party wall, its packing, and everything that passes it "
                "are by local codes: certifier to confirm",
            )
        ]
    return [
        Caution(
            "Party wall",
            "rooms of several dwellings are measured as one dwelling, without a party wall (setting separate "
            "dwellings): whether they may be is the certifier's call",
        )
    ]


def _heights(result: Result) -> list[Caution]:
    """Return the internal walls higher than the framing tables reach."""
    limit = result.design.house.wall_height_limit
    high: dict[str, float] = {}
    for frame in result.measured.inside.wall_frames:
        height = max(frame.face.top_left, frame.face.top_right)
        if height > limit + 1e-9:
            high[frame.run] = max(height, high.get(frame.run, 0.0))
    if not high:
        return []
    words = ", ".join(f"{mark} {height:.2f} m" for mark, height in high.items())
    return [
        Caution(
            "Wall height",
            f"internal walls over {limit:g} m ({words}) are likely outside simple framing tables: engineer to "
            "confirm",
        )
    ]


def _flat_ceilings(result: Result) -> list[Caution]:
    """Return that ceiling joists are indicative."""
    if not result.measured.inside.ceiling_members:
        return []
    return [
        Caution("Flat ceilings", "sections and spans of ceiling joists are indicative: engineer to confirm")
    ]


def _wet_rooms(result: Result) -> list[Caution]:
    """Return that waterproofing is by local codes."""
    if not any(room.wet for room in result.design.rooms):
        return []
    return [
        Caution(
            "Wet rooms",
            "extent and kind of waterproofing, falls and substrates of wet rooms are by local codes and the "
            "makers' instructions",
        )
    ]
