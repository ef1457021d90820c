"""Sets out the frame of a suspended timber floor: joists, blocking, bearers, and the stumps under them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.framing.floor_parts import FloorPart, floor_parts, free_spans, shared_spans
from takeoff.framing.member import MARKS, Member
from takeoff.framing.studs import stud_positions
from takeoff.framing.wall_setting_out import SHORTEST_STICK
from takeoff.model.geometry import Gap
from takeoff.model.house import House

PLACE = "floor"
_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorFrame:
    """The frame of a suspended floor: its members, its stumps, the areas they stand in [m, m2].

    `stumps` are the places (x, y) of stumps or piers in plan. `outline_area` is that to the outside face
    of the frame, `gap_area` the part of it that gaps take; `timber_area` is the seen face of joists and
    blocking. `longest_length` is that of the longest timber on sale.
    """

    members: tuple[Member, ...]
    stumps: tuple[tuple[float, float], ...]
    outline_area: float
    gap_area: float
    longest_length: float

    @property
    def joists(self) -> tuple[Member, ...]:
        """The joists and the blocking between them."""
        return tuple(member for member in self.members if member.use != "bearer")

    @property
    def bearers(self) -> tuple[Member, ...]:
        """The bearers."""
        return tuple(member for member in self.members if member.use == "bearer")

    @property
    def net_area(self) -> float:
        """Outline less gaps [m2]."""
        return self.outline_area - self.gap_area

    @property
    def timber_area(self) -> float:
        """Area that joists and blocking take of the outline [m2]."""
        return sum(member.seen_area for member in self.joists)

    @property
    def framing_fraction(self) -> float:
        """Share of the outline less gaps that is joists and blocking."""
        return self.timber_area / self.net_area if self.net_area > 0 else 0.0

    @property
    def too_long(self) -> tuple[Member, ...]:
        """Joists and bearers over the longest length: they span a bay that is itself longer."""
        return tuple(member for member in self.members if member.length > self.longest_length + _NEAR)


def frame_floor(
    house: House, *, joist_material: str, bearer_material: str | None, gaps: tuple[Gap, ...] = ()
) -> FloorFrame:
    """Set out joists, blocking, bearers and stumps.

    - Bearers run along the eaves: the first and last under the low and high wall, flush with the outside
      face; one under every support line, unless it lies within a bearer's thickness of another; between
      those in equal bays not longer than `bearer_spacing`.
    - Joists run up the slope from outside face to outside face, on centres from the left, the first and last
      flush with the side walls.
    - What is longer than `longest_length` is cut over a support, joists over bearers and bearers over
      stumps, into as few pieces as can be; a bay that is itself longer keeps one whole piece (`too_long`).
    - Blocking stands between the joists over the first and last bearer.
    - Stumps stand along each bearer in equal bays not longer than `stump_spacing`, the first and last half
      a bearer's thickness from its ends.
    - Gaps part the plan into rectangles (`floor_parts`), each set out as a floor of its own: end joists
      flush with a gap that runs up the slope; a bearer with blocking, flush with the gap, each side of one
      that runs along the eaves. Where two rectangles meet without a gap, their joists are joined over one
      bearer with its centre on the line where they meet.

    Args:
        house: the house.
        joist_material: material of joists and blocking.
        bearer_material: material of the bearers; None sets out none: joists then lie on something else
            along the same lines.
        gaps: rectangles of the plan that no timber crosses.

    Source: common practice, no source.
    """
    setting_out = _SettingOut(house=house, joist=joist_material, bearer=bearer_material, gaps=gaps)
    parts = setting_out.parts()
    lines = setting_out.lines(parts)
    members = itertools.chain(
        *(setting_out.joists(part, parts) for part in parts),
        *(setting_out.blocking(part, parts) for part in parts),
        *(setting_out.bearers(line) for line in lines),
    )
    outline = house.length * house.span
    return FloorFrame(
        members=tuple(_marked(members)),
        stumps=tuple((x, line.y) for line in lines for x in setting_out.stumps(line)),
        outline_area=outline,
        gap_area=outline - sum(p.area for p in floor_parts(length=house.length, span=house.span, gaps=gaps)),
        longest_length=house.longest_length,
    )


def pieces_between(
    start: float, end: float, *, joints: Sequence[float], longest: float
) -> list[tuple[float, float]]:
    """Return the pieces of a run that is cut over joints, as few as can be, none longer than `longest`.

    Where two joints (or a joint and an end) are further apart than that, one piece reaches from one to the
    other. All in m, joints in order.

    >>> pieces_between(0.0, 7.0, joints=[1.0, 3.0, 5.0], longest=6.0)
    [(0.0, 5.0), (5.0, 7.0)]
    """
    pieces: list[tuple[float, float]] = []
    here = start
    while end - here > longest + _NEAR:
        ahead = [joint for joint in joints if here + _NEAR < joint < end - _NEAR]
        if not ahead:
            break
        cut = max((joint for joint in ahead if joint - here <= longest + _NEAR), default=ahead[0])
        pieces.append((here, cut))
        here = cut
    pieces.append((here, end))
    return pieces


def equal_bays(start: float, end: float, *, spacing: float) -> list[float]:
    """Return the places from start to end in equal bays not longer than the spacing [m], both ends with them.

    >>> equal_bays(0.0, 4.5, spacing=1.8)
    [0.0, 1.5, 3.0, 4.5]
    """
    bays = max(math.ceil((end - start) / spacing - _NEAR), 1)
    return [start + (end - start) * number / bays for number in range(bays + 1)]


def _marked(members: Iterator[Member]) -> Iterator[Member]:
    """Yield the members with their piece marks, such as `F-FJ01`."""
    counts: dict[str, int] = {}
    for member in members:
        counts[member.use] = counts.get(member.use, 0) + 1
        yield replace(member, mark=f"F-{MARKS[member.use]}{counts[member.use]:02d}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """The line of a bearer along the eaves, from left to right at y [m]."""

    left: float
    right: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _SettingOut:
    """The setting-out of one floor: what each of its sticks follows from."""

    house: House
    joist: str
    bearer: str | None
    gaps: tuple[Gap, ...]

    def parts(self) -> list[FloorPart]:
        """Return the rectangles to be framed; a strip without room for two joists and bearers is none."""
        least_width, least_depth = 2 * self.house.floor_joist_thickness, 2 * self.house.bearer_thickness
        return [
            part
            for part in floor_parts(length=self.house.length, span=self.house.span, gaps=self.gaps)
            if part.right - part.left > least_width and part.head - part.foot > least_depth
        ]

    def lines(self, parts: Sequence[FloorPart]) -> list[_Line]:
        """Return the lines of all bearers, from the low side up; one that two rectangles share comes once."""
        half = self.house.bearer_thickness / 2
        lines: list[_Line] = []
        for part in parts:
            below, above = self._shared(part, parts)
            lines += [_Line(left=a, right=b, y=part.foot + half) for a, b in free_spans(part, below)]
            lines += [_Line(left=part.left, right=part.right, y=y) for y in self._between(part, parts)]
            lines += [_Line(left=a, right=b, y=part.head - half) for a, b in free_spans(part, above)]
            lines += [_Line(left=a, right=b, y=part.head) for a, b in above]
        return sorted(lines, key=lambda line: (line.y, line.left))

    def _shared(
        self, part: FloorPart, parts: Sequence[FloorPart]
    ) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
        """Return where the foot and the head of a rectangle are those of its neighbours."""
        return (
            shared_spans(part, parts, self.gaps, head=False),
            shared_spans(part, parts, self.gaps, head=True),
        )

    def _between(self, part: FloorPart, parts: Sequence[FloorPart]) -> list[float]:
        """Return y of the bearers between the first and the last of a rectangle [m]."""
        thickness = self.house.bearer_thickness
        below, above = self._shared(part, parts)
        fixed = [part.foot if below else part.foot + thickness / 2]
        last = part.head if above else part.head - thickness / 2
        # where a neighbour shares a part of an edge only, the bearer along the rest of it lies flush inside
        nearest = part.foot + thickness / 2 if free_spans(part, below) else part.foot
        furthest = part.head - thickness / 2 if free_spans(part, above) else part.head
        for line in sorted(self.house.support_lines):
            if nearest + thickness <= line <= furthest - thickness:
                fixed.append(line)
                nearest = line
        fixed.append(last)
        spacing = self.house.bearer_spacing
        bays = [equal_bays(low, high, spacing=spacing) for low, high in itertools.pairwise(fixed)]
        return [y for bay in bays for y in bay[1:]][:-1]

    def _centres(self, part: FloorPart) -> list[float]:
        """Return the centres of the joists of a rectangle along x [m]."""
        width = part.right - part.left
        thickness = self.house.floor_joist_thickness
        centres = stud_positions(width, spacing=self.house.floor_joist_spacing, thickness=thickness)
        return [part.left + centre for centre in centres]

    def joists(self, part: FloorPart, parts: Sequence[FloorPart]) -> Iterator[Member]:
        """Yield the joists of a rectangle, cut over its bearers where they are too long."""
        joints = self._between(part, parts)
        pieces = pieces_between(part.foot, part.head, joints=joints, longest=self.house.longest_length)
        for x in self._centres(part):
            for foot, head in pieces:
                yield self._stick("floor joist", x, (foot + head) / 2, head - foot, run="slope")

    def blocking(self, part: FloorPart, parts: Sequence[FloorPart]) -> Iterator[Member]:
        """Yield blocking over the first and last bearer of a rectangle, where they lie along a wall or gap."""
        thickness = self.house.floor_joist_thickness
        inside = max(self.house.bearer_thickness, thickness) / 2
        below, above = self._shared(part, parts)
        for shared, y in ((below, part.foot + inside), (above, part.head - inside)):
            for left, right in itertools.pairwise(self._centres(part)):
                middle, gap = (left + right) / 2, right - left - thickness
                joined = any(start < middle < end for start, end in shared)
                if gap > SHORTEST_STICK and not joined:
                    yield self._stick("floor blocking", middle, y, gap, run="eaves")

    def _stick(self, use: str, x: float, y: float, length: float, *, run: str) -> Member:
        """Return one stick of joist section."""
        return Member(
            use=use,
            material=self.joist,
            thickness=self.house.floor_joist_thickness,
            depth=self.house.floor_joist_depth,
            length=length,
            place=PLACE,
            s=x,
            z=y,
            seen_width=self.house.floor_joist_thickness,
            run=run,
        )

    def stumps(self, line: _Line) -> list[float]:
        """Return x of the stumps under a bearer [m]."""
        half = self.house.bearer_thickness / 2
        left, right = line.left + half, line.right - half
        if right <= left:
            return [(line.left + line.right) / 2]
        return equal_bays(left, right, spacing=self.house.stump_spacing)

    def bearers(self, line: _Line) -> Iterator[Member]:
        """Yield the bearer along a line, joined over stumps where it is too long."""
        if self.bearer is None:
            return
        joints, longest = self.stumps(line), self.house.longest_length
        # the end stumps carry the ends themselves: a joint over one would leave a stub
        for left, right in pieces_between(line.left, line.right, joints=joints[1:-1], longest=longest):
            yield Member(
                use="bearer",
                material=self.bearer,
                thickness=self.house.bearer_thickness,
                depth=self.house.bearer_depth,
                length=right - left,
                place=PLACE,
                s=(left + right) / 2,
                z=line.y,
                seen_width=self.house.bearer_thickness,
                run="eaves",
            )
