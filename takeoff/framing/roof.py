"""Sets out the framing of the roof, stick by stick."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from takeoff.framing.member import MARKS, Member
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import SHORTEST_STICK
from takeoff.model.geometry import slope_factor, slope_length
from takeoff.model.house import House

PLACE = "roof"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofFrame:
    """The framing of the roof: its members and the part of the slope over the outline [m2].

    s runs along the eaves from the outside face of the left wall, z up the slope from the low eave.
    """

    members: tuple[Member, ...]
    outline_area: float
    timber_area_over_outline: float

    @property
    def framing_fraction(self) -> float:
        """Share of the slope over the outline that is timber."""
        return self.timber_area_over_outline / self.outline_area


def frame_roof(house: House, *, material: str) -> RoofFrame:
    """Set out rafters, blocking, outriggers and barge rafters.

    Rafters stand on centres along the eaves, the first and last flush with the outside faces of the
    side walls, and run the whole slope; each support line joins two lengths. Where a verge overhangs,
    outriggers run from the second rafter to a barge rafter at the edge; a verge that overhangs by less than
    two rafter thicknesses has no room for them.

    Source: common practice, no source.
    """
    centres = stud_positions(house.length, spacing=house.rafter_spacing, thickness=house.rafter_thickness)
    members = tuple(_marked(_members(house, centres, material)))
    factor = slope_factor(house)
    low_edge = house.overhang_low * factor
    high_edge = low_edge + house.span * factor
    return RoofFrame(
        members=members,
        outline_area=house.length * house.span * factor,
        timber_area_over_outline=sum(_area_over_outline(m, house, low_edge, high_edge) for m in members),
    )


def _marked(members: Iterator[Member]) -> Iterator[Member]:
    """Yield the members with their piece marks."""
    counts: dict[str, int] = {}
    for member in members:
        counts[member.use] = counts.get(member.use, 0) + 1
        yield replace(member, mark=f"RF-{MARKS[member.use]}{counts[member.use]:02d}")


def _members(house: House, centres: list[float], material: str) -> Iterator[Member]:
    """Yield every stick of the roof."""
    factor = slope_factor(house)
    total = slope_length(house)
    joints = [0.0, *((house.overhang_low + y) * factor for y in sorted(house.support_lines)), total]

    def along_slope(use: str, s: float) -> Iterator[Member]:
        for foot, head in itertools.pairwise(joints):
            yield _member(house, material, use, s, (foot + head) / 2, head - foot, run="slope")

    for centre in centres:
        yield from along_slope("rafter", centre)
    yield from _blocking(house, centres, material)
    half = house.rafter_thickness / 2
    if house.overhang_left >= 2 * house.rafter_thickness:
        yield from along_slope("barge rafter", -house.overhang_left + half)
        yield from _outriggers(house, material, -house.overhang_left + 2 * half, centres[1] - half)
    if house.overhang_right >= 2 * house.rafter_thickness:
        edge = house.length + house.overhang_right
        yield from along_slope("barge rafter", edge - half)
        yield from _outriggers(house, material, centres[-2] + half, edge - 2 * half)


def _member(
    house: House, material: str, use: str, s: float, z: float, length: float, *, run: str, depth: float = 0.0
) -> Member:
    """Return one stick of the roof, of rafter section unless another depth is given."""
    return Member(
        use=use,
        material=material,
        thickness=house.rafter_thickness,
        depth=depth or house.rafter_depth,
        length=length,
        place=PLACE,
        s=s,
        z=z,
        seen_width=house.rafter_thickness,
        run=run,
    )


def _blocking(house: House, centres: list[float], material: str) -> Iterator[Member]:
    """Yield blocking between the rafters over both walls and each support line."""
    if not house.rafter_blocking:
        return
    factor = slope_factor(house)
    half_wall = house.stud_depth / 2
    for y in (half_wall, *sorted(house.support_lines), house.span - half_wall):
        for left, right in itertools.pairwise(centres):
            gap = right - left - house.rafter_thickness
            if gap > SHORTEST_STICK:
                z = (house.overhang_low + y) * factor
                yield _member(house, material, "blocking", (left + right) / 2, z, gap, run="eaves")


def _outriggers(house: House, material: str, left: float, right: float) -> Iterator[Member]:
    """Yield outriggers on centres up the slope between a rafter and the barge rafter."""
    if right - left <= SHORTEST_STICK:
        return
    total = slope_length(house)
    bays = math.ceil(total / house.outrigger_spacing - 1e-9)
    for number in range(bays + 1):
        yield _member(
            house,
            material,
            "outrigger",
            (left + right) / 2,
            total * number / bays,
            right - left,
            run="eaves",
            depth=house.outrigger_depth,
        )


def _area_over_outline(member: Member, house: House, low_edge: float, high_edge: float) -> float:
    """Return the area that a stick takes of the slope over the outline [m2].

    Outriggers cross over the end rafters at the top of the slope and take no room from insulation.
    """
    if member.use in ("outrigger", "barge rafter"):
        return 0.0
    if member.run == "eaves":
        return member.seen_area
    foot, head = member.z - member.length / 2, member.z + member.length / 2
    return max(min(head, high_edge) - max(foot, low_edge), 0.0) * member.seen_width
