"""Sets out the frame of one external wall, stick by stick."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from takeoff.framing.member import MARKS, Member
from takeoff.framing.openings import LOADBEARING, OpeningFrame, opening_frames
from takeoff.framing.studs import stud_positions
from takeoff.model.geometry import Face, slope_factor, wall_face
from takeoff.model.house import Design, Side

# A stick shorter than this is not cut: the gap is closed by packing.
SHORTEST_STICK = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFrame:
    """The frame of one wall: its members and the face it fills [m, m2].

    `start` is the distance of the frame's left end from the house corner.
    """

    side: Side
    start: float
    face: Face
    members: tuple[Member, ...]
    openings: tuple[OpeningFrame, ...]

    @property
    def net_area(self) -> float:
        """Face of the frame less its openings [m2]."""
        return self.face.area - sum(framed.opening.area for framed in self.openings)

    @property
    def timber_area(self) -> float:
        """Area that sticks take of the face [m2]."""
        return sum(member.seen_area for member in self.members)

    @property
    def framing_fraction(self) -> float:
        """Share of the net face that is timber."""
        return self.timber_area / self.net_area if self.net_area > 0 else 0.0


def frame_wall(design: Design, side: Side, *, material: str) -> WallFrame:
    """Set out the frame of one wall.

    Low and high wall run through; side walls stand between them. Studs of a raking wall are cut to
    length one by one, measured to their longest point; its top plate follows the slope.

    Args:
        design: the house.
        side: which wall.
        material: material of studs, plates, noggings and trimmers.

    Source: common practice, no source; bottom plates full length except at doors, top plates full
    length (a web note quoting AS 1684, clause 6.2), nogging rows by the greatest clear stud height.
    """
    house = design.house
    outside = wall_face(house, side)
    start = 0.0 if side in LOADBEARING else house.stud_depth
    width = outside.width - 2 * start
    face = Face(width, 0.0, outside.top_at(start), outside.top_at(start + width))
    frames = tuple(_in_frame(framed, start) for framed in opening_frames(design, side))
    setting_out = _SettingOut(design=design, side=side, material=material, face=face, frames=frames)
    members = tuple(_marked(setting_out.members(), side))
    return WallFrame(side=side, start=start, face=face, members=members, openings=frames)


def _in_frame(framed: OpeningFrame, start: float) -> OpeningFrame:
    """Return an opening's framing measured from the left end of the frame instead of the house corner."""
    moved = replace(framed.opening, position=framed.opening.position - start)
    return replace(framed, opening=moved, left=framed.left - start, right=framed.right - start)


def _marked(members: Iterator[Member], side: Side) -> Iterator[Member]:
    """Yield the members with their piece marks, such as `H-S07`: wall, use, number."""
    counts: dict[str, int] = {}
    for member in members:
        counts[member.use] = counts.get(member.use, 0) + 1
        yield replace(member, mark=f"{side[0].upper()}-{MARKS[member.use]}{counts[member.use]:02d}")


@dataclass(frozen=True, slots=True, kw_only=True)
class _SettingOut:
    """The setting-out of one wall: what each of its sticks follows from."""

    design: Design
    side: Side
    material: str
    face: Face
    frames: tuple[OpeningFrame, ...]

    @property
    def t(self) -> float:
        """Thickness of studs and plates [m]."""
        return self.design.house.stud_thickness

    @property
    def foot(self) -> float:
        """Height of the top of the bottom plates [m]."""
        return self.design.practice.bottom_plates * self.t

    def under_plates(self, s: float) -> float:
        """Return the height of the underside of the top plates at s [m]."""
        level = self.face.top_left == self.face.top_right
        upright = self.t if level else self.t * slope_factor(self.design.house)
        return self.face.top_at(s) - self.design.practice.top_plates * upright

    def highest_under_plates(self, centre: float) -> float:
        """Return the height of the underside of the top plates at the longer side of a stud [m]."""
        return max(self.under_plates(centre - self.t / 2), self.under_plates(centre + self.t / 2))

    def members(self) -> Iterator[Member]:
        """Yield every stick of the wall."""
        yield from self._plates()
        full = list(self._full_height_studs())
        yield from full
        for framed in self.frames:
            yield from self._around(framed)
        yield from self._noggings(sorted(member.s for member in full))

    def _stick(self, use: str, s: float, foot: float, head: float) -> Member:
        """Return an upright stick of stud section between two heights."""
        return Member(
            use=use,
            material=self.material,
            thickness=self.t,
            depth=self.design.house.stud_depth,
            length=head - foot,
            place=f"{self.side} wall",
            s=s,
            z=(foot + head) / 2,
            seen_width=self.t,
            run="upright",
        )

    def _rail(self, use: str, left: float, right: float, z: float, *, raking: bool = False) -> Member:
        """Return a stick of stud section laid flat between two places, along the rake if asked."""
        rise = self.face.top_at(right) - self.face.top_at(left) if raking else 0.0
        return Member(
            use=use,
            material=self.material,
            thickness=self.t,
            depth=self.design.house.stud_depth,
            length=math.hypot(right - left, rise),
            place=f"{self.side} wall",
            s=(left + right) / 2,
            z=z,
            seen_width=self.t,
            run="rake" if rise else "level",
        )

    def _plates(self) -> Iterator[Member]:
        """Yield the bottom plates, cut at openings that reach them, and the top plates."""
        cuts = [
            (framed.opening.position, framed.opening.right)
            for framed in self.frames
            if framed.opening.sill < self.foot - 1e-9
        ]
        for row in range(self.design.practice.bottom_plates):
            left = 0.0
            for cut_left, cut_right in (*cuts, (self.face.width, self.face.width)):
                if cut_left - left > SHORTEST_STICK:
                    yield self._rail("bottom plate", left, cut_left, (row + 0.5) * self.t)
                left = cut_right
        middle = self.face.width / 2
        pitch_depth = (
            self.t if self.face.top_left == self.face.top_right else self.t * slope_factor(self.design.house)
        )
        for row in range(self.design.practice.top_plates):
            z = self.face.top_at(middle) - (row + 0.5) * pitch_depth
            yield self._rail("top plate", 0.0, self.face.width, z, raking=True)

    def _full_height_studs(self) -> Iterator[Member]:
        """Yield common studs on the grid, corner studs and jamb studs, each cut to its own length."""
        for centre in self._grid():
            if not self._taken(centre):
                yield self._stick("stud", centre, self.foot, self.highest_under_plates(centre))
        if self.side in LOADBEARING:
            for centre in self._corner_centres():
                yield self._stick("corner stud", centre, self.foot, self.highest_under_plates(centre))
        for framed in self.frames:
            for number in range(framed.jamb_studs):
                for centre in (framed.left + (number + 0.5) * self.t, framed.right - (number + 0.5) * self.t):
                    yield self._stick("jamb stud", centre, self.foot, self.highest_under_plates(centre))

    def _grid(self) -> list[float]:
        """Return the centres of the common studs as if there were no opening [m]."""
        return stud_positions(self.face.width, spacing=self.design.stud_spacing, thickness=self.t)

    def _corner_centres(self) -> list[float]:
        """Return the centres of the extra studs at both ends: the first backs the lining of the side wall."""
        depth = self.design.house.stud_depth
        near = [depth + (number + 0.5) * self.t for number in range(self.design.practice.corner_studs)]
        return near + [self.face.width - centre for centre in near]

    def _taken(self, centre: float) -> bool:
        """Whether a grid stud would stand in an opening, its jambs or a built-up corner."""
        left, right = centre - self.t / 2 + 1e-9, centre + self.t / 2 - 1e-9
        if any(left < framed.right and right > framed.left for framed in self.frames):
            return True
        if self.side not in LOADBEARING:
            return False
        return any(abs(centre - corner) < self.t - 1e-9 for corner in self._corner_centres())

    def _around(self, framed: OpeningFrame) -> Iterator[Member]:
        """Yield the lintel or head trimmer, studs under it, sill trimmer and jack studs of an opening."""
        opening = framed.opening
        head = opening.head
        if framed.lintel is None:
            yield self._rail("head trimmer", opening.position, opening.right, head + self.t / 2)
            over = head + self.t
        else:
            yield from self._lintel(framed)
            over = head + framed.lintel.depth
        for number in range(framed.studs_under):
            for centre in (
                opening.position - (number + 0.5) * self.t,
                opening.right + (number + 0.5) * self.t,
            ):
                yield self._stick("stud under lintel", centre, self.foot, head)
        has_sill = opening.sill >= self.foot + self.t - 1e-9
        if has_sill:
            yield self._rail("sill trimmer", opening.position, opening.right, opening.sill - self.t / 2)
        for centre in self._grid():
            if (
                not opening.position < centre - self.t / 2 + 1e-9
                or not centre + self.t / 2 - 1e-9 < opening.right
            ):
                continue
            if has_sill and opening.sill - self.t - self.foot > SHORTEST_STICK:
                yield self._stick("jack stud", centre, self.foot, opening.sill - self.t)
            top = self.highest_under_plates(centre)
            if self._jacks_over(framed) and top - over > SHORTEST_STICK:
                yield self._stick("jack stud", centre, over, top)

    def _jacks_over(self, framed: OpeningFrame) -> bool:
        """Whether jack studs stand over an opening: always on a head trimmer, by the practice on a lintel."""
        return framed.lintel is None or self.design.practice.jack_studs_over_lintels

    def _lintel(self, framed: OpeningFrame) -> Iterator[Member]:
        """Yield the plies of a lintel, borne by the studs under it; only the first is seen."""
        row = framed.lintel
        if row is None:
            return
        bearing = framed.studs_under * self.t
        for ply in range(row.plies):
            yield Member(
                use="lintel",
                material=row.material,
                thickness=row.thickness,
                depth=row.depth,
                length=framed.opening.width + 2 * bearing,
                place=f"{self.side} wall",
                s=framed.opening.position + framed.opening.width / 2,
                z=framed.opening.head + row.depth / 2,
                seen_width=row.depth if ply == 0 else 0.0,
                run="level",
            )

    def _noggings(self, centres: list[float]) -> Iterator[Member]:
        """Yield noggings in every bay between full-height studs, in rows by the clear height.

        Bays closed by an opening have none: its sill and head hold the jamb studs.
        """
        spacing = self.design.practice.nogging_spacing
        for left, right in itertools.pairwise(centres):
            gap_left, gap_right = left + self.t / 2, right - self.t / 2
            if gap_right - gap_left <= SHORTEST_STICK or self._in_opening(gap_left, gap_right):
                continue
            clear = max(self.under_plates(gap_left), self.under_plates(gap_right)) - self.foot
            rows = nogging_rows(clear, spacing)
            for row in range(1, rows + 1):
                yield self._rail("nogging", gap_left, gap_right, self.foot + clear * row / (rows + 1))

    def _in_opening(self, left: float, right: float) -> bool:
        """Whether a bay is the one an opening stands in."""
        return any(
            left < framed.opening.right - 1e-9 and right > framed.opening.position + 1e-9
            for framed in self.frames
        )


def nogging_rows(clear_height: float, spacing: float) -> int:
    """Return the rows of noggings that keep every clear stud height within the spacing.

    >>> nogging_rows(2.565, 1.350), nogging_rows(2.700, 1.350), nogging_rows(2.710, 1.350)
    (1, 1, 2)

    Source: rows at 1350 mm at most, AS 1684.2 clause 6.2.1.5 as quoted in published teaching slides.
    """
    return max(math.ceil(clear_height / spacing - 1e-9) - 1, 0)
