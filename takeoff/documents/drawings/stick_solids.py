"""Every stick of a house as a solid in its true place: x along the eaves, y up the slope, z from floor level [m]."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.framing.member import Member
from takeoff.model.geometry import height_at, plan_point, slope_factor
from takeoff.model.house import House, Side

Place = tuple[float, float, float]
Quad = tuple[Place, Place, Place, Place]
# Places in the plane of a frame: along it, upright, and across it from its first face on [m].
InSpace = Callable[[float, float, float], Place]


@dataclass(frozen=True, slots=True)
class Solid:
    """A stick with two opposite faces, corner by corner; the other four faces join them."""

    member: Member
    near: Quad
    far: Quad

    @property
    def corners(self) -> tuple[Place, ...]:
        """Its eight corners."""
        return (*self.near, *self.far)


def stick_solids(result: Result) -> list[Solid]:
    """Return a solid for every stick of external and internal walls, roof, suspended floor and flat ceilings."""
    design, measured = result.design, result.measured
    solids: list[Solid] = []
    for frame in measured.wall_frames:
        solids += _in_wall(frame.members, _outer_wall(design.house, frame.side, frame.start), design.house)
    axis = {run.mark: run.axis for run in measured.inside.runs}
    for inner in measured.inside.wall_frames:
        depth = max(member.depth for member in inner.members)
        across = inner.across - depth / 2
        in_space = _along_x(inner.start, across) if axis[inner.run] == "x" else _along_y(inner.start, across)
        solids += _in_wall(inner.members, in_space, design.house)
    solids += [_of_the_roof(member, design.house) for member in measured.roof_frame.members]
    if measured.floor_frame is not None:
        joists = max((m.depth for m in measured.floor_frame.joists), default=0.0)
        for member in measured.floor_frame.members:
            top = -joists if member.use == "bearer" else 0.0
            solids.append(_lying(member, top))
    undersides = _undersides(result)
    solids += _of_ceilings(measured.inside.ceiling_members, undersides, design.house)
    return solids


def _outer_wall(house: House, side: Side, start: float) -> InSpace:
    """Return where a place in the frame of an external wall, seen from outside, is in space."""
    return lambda s, z, w: (*plan_point(house, side, start + s, w), z)


def _along_x(start: float, across: float) -> InSpace:
    """Return where a place in a frame along the eaves is."""
    return lambda s, z, w: (start + s, across + w, z)


def _along_y(start: float, across: float) -> InSpace:
    """Return where a place in a frame up the slope is."""
    return lambda s, z, w: (across + w, start + s, z)


def _in_wall(members: Iterable[Member], in_space: InSpace, house: House) -> Iterator[Solid]:
    """Yield the sticks of a wall frame; the plies of a lintel stand one behind the other."""
    plies: dict[tuple[float, float], int] = {}
    rise = math.tan(math.radians(house.pitch))
    for member in members:
        first, last = 0.0, member.depth
        half_long, half_high = member.length / 2, member.thickness / 2
        if member.use == "lintel":
            ply = plies[member.s, member.z] = plies.get((member.s, member.z), -1) + 1
            first, last = ply * member.thickness, (ply + 1) * member.thickness
            half_high = member.depth / 2
        elif member.run == "upright":
            half_long, half_high = member.thickness / 2, member.length / 2
        slope = 0.0
        if member.run == "rake":
            half_long *= math.cos(math.radians(house.pitch))
            half_high *= slope_factor(house)
            at = [in_space(s, 0.0, 0.0)[1] for s in (0.0, 1.0)]
            slope = rise if at[1] > at[0] else -rise
        outline = [
            (member.s + along, member.z + along * slope + up)
            for along, up in (
                (-half_long, -half_high),
                (half_long, -half_high),
                (half_long, half_high),
                (-half_long, half_high),
            )
        ]
        yield Solid(member, _quad(outline, in_space, first), _quad(outline, in_space, last))


def _quad(outline: list[tuple[float, float]], in_space: InSpace, across: float) -> Quad:
    """Return four places of a frame in space."""
    a, b, c, d = (in_space(s, z, across) for s, z in outline)
    return a, b, c, d


def _of_the_roof(member: Member, house: House) -> Solid:
    """Return a stick of the roof: rafters stand on the walls, outriggers are flush with their tops."""
    factor = slope_factor(house)
    long, wide = (
        (member.thickness, member.length) if member.run == "slope" else (member.length, member.thickness)
    )
    top = house.rafter_depth * factor
    deep = member.depth * factor

    def at(x: float, along_slope: float, up: float) -> Place:
        y = along_slope / factor - house.overhang_low
        return x, y, height_at(house, y) + up

    left, right = member.s - long / 2, member.s + long / 2
    foot, head = member.z - wide / 2, member.z + wide / 2
    near = tuple(at(x, foot, up) for x, up in _square(left, right, top - deep, top))
    far = tuple(at(x, head, up) for x, up in _square(left, right, top - deep, top))
    return Solid(member, _four(near), _four(far))


def _lying(member: Member, top: float) -> Solid:
    """Return a level stick of a floor or a ceiling whose upper edge is at a height [m]."""
    along, across = (
        (member.length, member.thickness) if member.run == "eaves" else (member.thickness, member.length)
    )
    left, right = member.s - along / 2, member.s + along / 2
    front, back = member.z - across / 2, member.z + across / 2
    square = _square(left, right, top - member.depth, top)
    return Solid(
        member, _four(tuple((x, front, z) for x, z in square)), _four(tuple((x, back, z) for x, z in square))
    )


def _of_ceilings(members: Iterable[Member], undersides: dict[str, float], house: House) -> Iterator[Solid]:
    """Yield the sticks of flat ceilings, and of the upright faces of bulkheads that stand on their edges.

    A face has two rails at one place of the plan, that of its foot and that of its head, and studs between them.
    """
    rails: dict[tuple[str, float, float], list[Member]] = {}
    studs: dict[str, list[Member]] = {}
    for member in members:
        if member.use == "bulkhead stud":
            studs.setdefault(member.place, []).append(member)
        elif member.use == "ledger":
            rails.setdefault((member.place, member.s, member.z), []).append(member)
        else:
            yield _lying(member, undersides[member.place] + member.depth)
    for (place, s, z), found in rails.items():
        if len(found) == 1:
            yield _lying(found[0], undersides[place] + found[0].depth)
            continue
        foot, head = found
        own = [m for m in studs.get(place, []) if (m.z == z if foot.run == "eaves" else m.s == s)]
        yield from _of_a_face(foot, head, own, undersides[place], house)


def _of_a_face(
    foot: Member, head: Member, studs: Sequence[Member], under: float, house: House
) -> Iterator[Solid]:
    """Yield the sticks of an upright face from a height on; both rails lie flat, that of the head with the ceiling."""
    level = foot.run == "eaves"
    in_space = _along_x(foot.s, foot.z) if level else _along_y(foot.z, foot.s)
    rise = 0.0 if level else math.tan(math.radians(house.pitch))
    half, thick = foot.length / 2, foot.thickness
    at = [stud.s - foot.s if level else stud.z - foot.z for stud in studs]
    # the height of the face at its middle, by its first stud: without studs one rail lies on the other
    middle = studs[0].length + 2 * thick - rise * at[0] if studs else 2 * thick
    top, slip = under + middle, rise * half
    pieces: list[tuple[Member, tuple[tuple[float, float], ...]]] = [
        (foot, _square(-half, half, under, under + thick)),
        (
            head,
            (
                (-half, top - slip - thick),
                (half, top + slip - thick),
                (half, top + slip),
                (-half, top - slip),
            ),
        ),
    ]
    for stud, along in zip(studs, at, strict=True):
        low = under + thick
        pieces.append((stud, _square(along - thick / 2, along + thick / 2, low, low + stud.length)))
    for member, outline in pieces:
        deep = member.depth / 2
        yield Solid(member, _quad(list(outline), in_space, -deep), _quad(list(outline), in_space, deep))


def _undersides(result: Result) -> dict[str, float]:
    """Return the heights of the flat ceilings by what their sticks call the place [m]."""
    found = {}
    for zone in result.measured.inside.plan.zones:
        if zone.flat_height is not None:
            bulkhead = f", {zone.bulkhead.name}" if zone.bulkhead else ""
            found[f"ceiling of {zone.room.name}{bulkhead}"] = zone.flat_height
    return found


def _square(left: float, right: float, low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Return the corners of a rectangle, one after the other."""
    return (left, low), (right, low), (right, high), (left, high)


def _four(places: tuple[Place, ...]) -> Quad:
    """Return four places as such."""
    a, b, c, d = places
    return a, b, c, d
