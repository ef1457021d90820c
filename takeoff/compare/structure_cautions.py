"""Cautions about the structure: rules of the framing, high walls, steel left out, members over or not checked."""

from __future__ import annotations

from takeoff.compare.caution import Caution
from takeoff.compare.evaluate import Result
from takeoff.compare.flags import CONFIRM, high_walls, over_by


def structure_cautions(result: Result) -> list[Caution]:
    """Return what the engineer has to confirm of an option, member by member where one is over."""
    return [*_framing(result), *_walls(result), *_steel(result), *_members(result)]


def _framing(result: Result) -> list[Caution]:
    """Return each rule of the framing practice to be confirmed: by its status, or because it leaves something out."""
    practice = result.design.practice
    stated = [
        Caution("Framing", f"{words} ({practice.name}): {status}")
        for words, status in practice.rules()
        if status == CONFIRM
    ]
    told = [words for words, status in practice.rules() if status == CONFIRM]
    left_out = {
        "single top plate": (practice.top_plates < 2, practice.rules()[0][0]),
        "jack studs left out over lintels": (not practice.jack_studs_over_lintels, practice.rules()[4][0]),
    }
    unstated = [
        Caution("Framing", f"{words} ({practice.name}): within tables by the workbook; {CONFIRM}")
        for words, (applies, rule) in left_out.items()
        if applies and rule not in told
    ]
    return [*stated, *unstated]


def _walls(result: Result) -> list[Caution]:
    """Return the walls higher than the framing tables reach."""
    high = high_walls(result)
    if not high:
        return []
    words = ", ".join(f"{side} {height:.2f} m" for side, height in high)
    return [
        Caution(
            "Wall height",
            f"walls over {result.design.house.wall_height_limit:g} m ({words}) are likely outside simple framing "
            f"tables: {CONFIRM}",
        )
    ]


def _steel(result: Result) -> list[Caution]:
    """Return what became of steel lintels that are not wanted, and what steel does to the heat loss where it stands."""
    cautions = []
    for each in result.steel_lintels:
        if each.timber is None:
            words = (
                f"{each.mark}: no timber on sale would do in the room there is, or loads or load cases are not "
                f"stated; {each.row.material} stays"
            )
        else:
            timber = each.timber
            words = (
                f"{each.mark}: {timber.plies} x {timber.depth * 1000:g} x {timber.thickness * 1000:g} "
                f"{timber.material} in place of {each.row.material}, the least on sale that would do"
            )
        cautions.append(Caution("Steel left out", f"{words}: {CONFIRM}"))
    marks = [
        framed.opening.mark
        for frame in result.measured.wall_frames
        for framed in frame.openings
        if framed.lintel is not None and framed.lintel.material in result.measured.steel
    ]
    if marks:
        cautions.append(
            Caution(
                "Steel lintel",
                f"{', '.join(marks)}: counted as timber in the U-values; steel there loses more heat, and its size "
                f"is not checked: {CONFIRM}",
            )
        )
    return cautions


def _members(result: Result) -> list[Caution]:
    """Return the members that are over, and those that were not checked by what kept them from it."""
    cautions = []
    for member in result.members:
        if member.check.outcome != "over":
            continue
        least = member.least
        would_do = (
            "none on sale of its material would do"
            if least is None
            else f"{least.section.plies} x {least.section.depth * 1000:g} x {least.section.thickness * 1000:g} would do"
        )
        cautions.append(
            Caution("Member over", f"{member.name}: over by {over_by(member)}; {would_do}: {CONFIRM}")
        )
    reasons: dict[str, list[str]] = {}
    for member in result.members:
        if member.check.outcome == "outside scope":
            reasons.setdefault(member.check.reason, []).append(member.name)
    cautions += [
        Caution("Member not checked", f"{', '.join(names)}: {reason}; {CONFIRM}")
        for reason, names in reasons.items()
    ]
    return cautions
