"""The parts of results.json about members: their indicative checks, steel lintels left out."""

from __future__ import annotations

from typing import Any

from takeoff.assess.members.house_members import HouseMember
from takeoff.assess.members.sections import Section
from takeoff.assess.members.without_steel import SteelLintel
from takeoff.compare.evaluate import Result


def members_data(result: Result) -> dict[str, Any]:
    """Return the members of an option with their checks, and what became of steel lintels that are not wanted."""
    return {
        "engineer_to_confirm": True,
        "checked": [_member(member) for member in result.members],
        "steel_lintels": [_steel(each) for each in result.steel_lintels],
    }


def _member(member: HouseMember) -> dict[str, Any]:
    """Return one member; lengths in m, line loads in N/m."""
    loading, check = member.loading, member.check
    return {
        "use": member.use,
        "name": member.name,
        "material": member.material,
        "section": _section(member.section),
        "spans_m": [] if loading is None else list(loading.spans),
        "dead_n_per_m": None if loading is None else loading.dead,
        "imposed_n_per_m": None if loading is None else loading.imposed,
        "end_bearing_m": None if loading is None else loading.end_bearing,
        "cantilever_m": None if loading is None else loading.cantilever,
        "outcome": check.outcome,
        "reason": check.reason,
        "over_by": check.over_by,
        "checks": [{"case": each.case, "of": each.of, "used": each.used} for each in check.checks],
        "least": None if member.least is None else _section(member.least.section),
    }


def _section(section: Section) -> dict[str, float]:
    """Return a section in m."""
    return {"depth_m": section.depth, "thickness_m": section.thickness, "plies": section.plies}


def _steel(each: SteelLintel) -> dict[str, Any]:
    """Return a steel lintel that is not wanted, and the timber in its place."""
    timber = each.timber
    return {
        "mark": each.mark,
        "steel": each.row.material,
        "timber": None if timber is None else timber.material,
        "timber_section": None
        if timber is None
        else {"depth_m": timber.depth, "thickness_m": timber.thickness, "plies": timber.plies},
    }
