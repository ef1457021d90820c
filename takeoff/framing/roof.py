"""Sets out the framing of the roof, stick by stick."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.framing.member import MARKS, Member
from takeoff.framing.studs import stud_positions
from takeoff.framing.wall_setting_out import SHORTEST_STICK
from takeoff.model.geometry import Gap, slope_factor, slope_length, what_is_left
from takeoff.model.house import House

PLACE = "roof"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofFrame:
    """The framing of the roof: its members and the part of the slope over the outline [m2].

    s runs along the eaves from the outside face of the left wall, z up the slope from the low eave.
    `gap_area` is what the gaps of party walls take of the slope over the outline.
    """

    members: tuple[Member, ...]
    outline_area: float
    timber_area_over_outline: float
    gap_area: float = 0.0

    @property
    def framing_fraction(self) -> float:
        """Share of the slope over the outline that is timber."""
        return self.timber_area_over_outline / (self.outline_area - self.gap_area)


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of rafters: its place along the eaves, and the stretches up the slope that it fills [m]."""

    s: float
    stretches: tuple[tuple[float, float], ...]


def frame_roof(house: House, *, material: str, gaps: Sequence[Gap] = ()) -> RoofFrame:
    """Set out rafters, blocking, outriggers and barge rafters.

    Rafters stand on centres along the eaves, the first and last flush with the outside faces of the
    side walls, and run the whole slope; each support line joins two lengths. Where a verge overhangs,
    outriggers run from the second rafter to a barge rafter at the edge; a verge that overhangs by less than
    two rafter thicknesses has no room for them. No rafter crosses a gap of a party wall: those across it
    stop each side, the barge rafter of a verge that it reaches too, and one stands at each side of a gap that
    runs up the slope.

    Source: common practice, no source; party walls: no timber but roof battens crosses them, rafters stop
    each side (ABCB Housing Provisions 2022, 9.3, seen quoted).
    """
    factor = slope_factor(house)
    centres = rafter_places(house)
    lines = _lines(house, centres, gaps)
    members = tuple(_marked(_members(house, centres, lines, material, gaps)))
    low_edge = house.overhang_low * factor
    high_edge = low_edge + house.span * factor
    return RoofFrame(
        members=members,
        outline_area=house.length * house.span * factor,
        timber_area_over_outline=sum(_area_over_outline(m, house, low_edge, high_edge) for m in members),
        gap_area=_gaps_on_plan(gaps, house) * factor,
    )


def rafter_places(house: House) -> list[float]:
    """Return the centres of the common rafters along the eaves, from the outside face of the left wall [m]."""
    return stud_positions(house.length, spacing=house.rafter_spacing, thickness=house.rafter_thickness)


def outrigger_places(house: House) -> list[float]:
    """Return the places of outriggers up the slope, from the low edge of the roof to the high one [m]."""
    total = slope_length(house)
    bays = math.ceil(total / house.outrigger_spacing - 1e-9)
    return [total * number / bays for number in range(bays + 1)]


def _gaps_on_plan(gaps: Sequence[Gap], house: House) -> float:
    """Return the area of the gaps within the outline, on plan; where two meet it counts once [m2]."""
    outline = Gap(from_x=0.0, to_x=house.length, from_y=0.0, to_y=house.span)
    within = [_shared(gap, outline) for gap in gaps]
    both = [_shared(one, other) for one, other in itertools.combinations(within, 2)]
    return sum(map(_area, within)) - sum(map(_area, both))


def _shared(one: Gap, other: Gap) -> Gap:
    """Return what two rectangles have in common, without extent where they have nothing."""
    from_x, from_y = max(one.from_x, other.from_x), max(one.from_y, other.from_y)
    return Gap(
        from_x=from_x,
        to_x=max(from_x, min(one.to_x, other.to_x)),
        from_y=from_y,
        to_y=max(from_y, min(one.to_y, other.to_y)),
    )


def _area(gap: Gap) -> float:
    """Return the area of a gap on plan [m2]."""
    return (gap.to_x - gap.from_x) * (gap.to_y - gap.from_y)


def _up_the_slope(gap: Gap) -> bool:
    """Whether a gap runs up the slope."""
    return gap.to_y - gap.from_y > gap.to_x - gap.from_x


def _reach(gap: Gap, house: House) -> tuple[float, float]:
    """Return from where to where a gap parts the roof up the slope, overhangs included [m on the slope]."""
    factor = slope_factor(house)
    foot = 0.0 if gap.from_y <= 1e-9 else (house.overhang_low + gap.from_y) * factor
    head = (house.overhang_low + gap.to_y) * factor
    return foot, slope_length(house) if gap.to_y >= house.span - 1e-9 else head


def _lines(house: House, centres: list[float], gaps: Sequence[Gap]) -> list[_Line]:
    """Return the lines of rafters: the common ones cut at gaps, and one at each side of a gap up the slope."""
    t, whole = house.rafter_thickness, (0.0, slope_length(house))
    lines = []
    for s in centres:
        cuts = []
        for gap in gaps:
            # the end rafters take the place of a common one that they would stand in
            room = t if _up_the_slope(gap) else 0.0
            if s + t / 2 > gap.from_x - room + 1e-9 and s - t / 2 < gap.to_x + room - 1e-9:
                cuts.append(_reach(gap, house))
        lines.append(_Line(s, tuple(what_is_left(*whole, cuts))))
    for gap in (gap for gap in gaps if _up_the_slope(gap)):
        others = [_reach(other, house) for other in gaps if other is not gap]
        for s in (gap.from_x - t / 2, gap.to_x + t / 2):
            beside = [
                reach
                for other, reach in zip((g for g in gaps if g is not gap), others, strict=True)
                if s + t / 2 > other.from_x + 1e-9 and s - t / 2 < other.to_x - 1e-9
            ]
            lines.append(_Line(s, tuple(what_is_left(*_reach(gap, house), beside))))
    return sorted(lines, key=lambda line: line.s)


def _marked(members: Iterator[Member]) -> Iterator[Member]:
    """Yield the members with their piece marks."""
    counts: dict[str, int] = {}
    for member in members:
        counts[member.use] = counts.get(member.use, 0) + 1
        yield replace(member, mark=f"RF-{MARKS[member.use]}{counts[member.use]:02d}")


def _members(
    house: House, centres: list[float], lines: list[_Line], material: str, gaps: Sequence[Gap]
) -> Iterator[Member]:
    """Yield every stick of the roof."""
    factor, total = slope_factor(house), slope_length(house)
    joints = sorted((house.overhang_low + y) * factor for y in house.support_lines)

    def along_slope(use: str, line: _Line) -> Iterator[Member]:
        for start, end in line.stretches:
            cuts = [start, *(z for z in joints if start + 1e-9 < z < end - 1e-9), end]
            for foot, head in itertools.pairwise(cuts):
                yield _member(house, material, use, line.s, (foot + head) / 2, head - foot, run="slope")

    for line in lines:
        yield from along_slope("rafter", line)
    yield from _blocking(house, lines, material, gaps)
    half = house.rafter_thickness / 2
    if house.overhang_left >= 2 * house.rafter_thickness:
        cuts = [_reach(gap, house) for gap in gaps if not _up_the_slope(gap) and gap.from_x < 1e-9]
        barge = _Line(-house.overhang_left + half, tuple(what_is_left(0.0, total, cuts)))
        yield from along_slope("barge rafter", barge)
        yield from _outriggers(house, material, -house.overhang_left + 2 * half, centres[1] - half, cuts)
    if house.overhang_right >= 2 * house.rafter_thickness:
        edge, end = house.length + house.overhang_right, house.length - 1e-9
        cuts = [_reach(gap, house) for gap in gaps if not _up_the_slope(gap) and gap.to_x > end]
        barge = _Line(edge - half, tuple(what_is_left(0.0, total, cuts)))
        yield from along_slope("barge rafter", barge)
        yield from _outriggers(house, material, centres[-2] + half, edge - 2 * half, cuts)


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


def _blocking(house: House, lines: list[_Line], material: str, gaps: Sequence[Gap]) -> Iterator[Member]:
    """Yield blocking between the rafters over both walls and each support line, but not across a gap."""
    if not house.rafter_blocking:
        return
    factor, t = slope_factor(house), house.rafter_thickness
    half_wall = house.stud_depth / 2
    for y in (half_wall, *sorted(house.support_lines), house.span - half_wall):
        z = (house.overhang_low + y) * factor
        here = [line.s for line in lines if any(foot < z < head for foot, head in line.stretches)]
        parting = [gap for gap in gaps if gap.from_y < y < gap.to_y]
        for left, right in itertools.pairwise(here):
            gap = right - left - t
            crossed = any(left < g.to_x and right > g.from_x for g in parting)
            if gap > SHORTEST_STICK and not crossed:
                yield _member(house, material, "blocking", (left + right) / 2, z, gap, run="eaves")


def _outriggers(
    house: House, material: str, left: float, right: float, gaps: Sequence[tuple[float, float]]
) -> Iterator[Member]:
    """Yield outriggers on centres up the slope between a rafter and the barge rafter, clear of gaps there."""
    if right - left <= SHORTEST_STICK:
        return
    for place in outrigger_places(house):
        yield _member(
            house,
            material,
            "outrigger",
            (left + right) / 2,
            _beside(place, gaps, house.rafter_thickness / 2),
            right - left,
            run="eaves",
            depth=house.outrigger_depth,
        )


def _beside(place: float, gaps: Sequence[tuple[float, float]], half: float) -> float:
    """Return where a stick stands that would lie in a gap: against its nearer side."""
    for start, end in gaps:
        if start - half < place < end + half:
            return start - half if place < (start + end) / 2 else end + half
    return place


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
