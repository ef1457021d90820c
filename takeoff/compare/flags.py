"""Short flags of what an option asks the engineer to confirm: they go with it into every document."""

from __future__ import annotations

from takeoff.assess.members.house_members import HouseMember
from takeoff.compare.evaluate import Result
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES, FramingPractice, Side

CONFIRM = "engineer to confirm"


def flags_of(result: Result) -> tuple[str, ...]:
    """Return the flags of an option: high walls, what its framing leaves out, steel left out, members that are over.

    They stand whatever status the workbook gives a rule.
    """
    practice = result.design.practice
    return (
        *_walls(result),
        *_left_out(practice),
        *_steel(result),
        *_members(result),
    )


def high_walls(result: Result) -> list[tuple[Side, float]]:
    """Return the walls higher than the framing tables reach, with their greatest height [m]."""
    house = result.design.house
    heights = [
        (side, max(face.top_left, face.top_right)) for side in SIDES if (face := wall_face(house, side))
    ]
    return [(side, height) for side, height in heights if height > house.wall_height_limit + 1e-9]


def _walls(result: Result) -> list[str]:
    """Return the flag of walls over the limit."""
    high = high_walls(result)
    if not high:
        return []
    limit = result.design.house.wall_height_limit
    return [f"walls over {limit:g} m: {', '.join(side for side, _ in high)}"]


def _left_out(practice: FramingPractice) -> list[str]:
    """Return what a framing practice leaves out."""
    found = (
        (practice.top_plates < 2, "single top plate"),
        (not practice.jack_studs_over_lintels, "no jack studs over lintels"),
        (practice.jamb_studs == "one full-height stud", "one jamb stud at every opening"),
        (practice.corner_studs < 2, "fewer studs at corners"),
        (practice.junction_studs < 2, "fewer studs at junctions"),
        (not practice.lintels_in_nonbearing_walls, "no lintels in non-loadbearing walls"),
    )
    return [words for left_out, words in found if left_out]


def _steel(result: Result) -> list[str]:
    """Return the flags of steel left out, and of steel that stays although none is wanted."""
    flags = []
    without = [each.mark for each in result.steel_lintels if each.timber is not None]
    stays = [each.mark for each in result.steel_lintels if each.timber is None]
    if without:
        flags.append(f"steel left out at {', '.join(without)}")
    if stays:
        flags.append(f"steel stays at {', '.join(stays)}: no timber on sale would do")
    return flags


def _members(result: Result) -> list[str]:
    """Return the flags of members that are over."""
    over = [member for member in result.members if member.check.outcome == "over"]
    return [f"{member.name} over by {over_by(member)}" for member in over]


def over_by(member: HouseMember) -> str:
    """Return by how much a member is over, in words."""
    governing = member.check.governing
    return "" if governing is None else f"{member.check.over_by:.0%} in {governing.of}"
