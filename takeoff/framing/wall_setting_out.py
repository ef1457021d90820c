"""Sets out any wall frame, stick by stick: plates, studs, what frames openings, noggings."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.framing.member import MARKS, Member
from takeoff.framing.openings import Hole, OpeningFrame
from takeoff.framing.studs import stud_positions
from takeoff.model.geometry import Face, what_is_left
from takeoff.model.house import FramingPractice, Opening

# A stick shorter than this is not cut: the gap is closed by packing.
SHORTEST_STICK = 0.02
# Least distance between the joints of plates on one another [m]: common practice, no source.
PLATE_STAGGER = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class WallSettingOut:
    """What every stick of one wall frame follows from. Lengths in m.

    `corner_centres` are those of the extra studs of a corner, before which grid studs give way,
    `junction_centres` those of the extra studs where other walls meet this one. `gaps` are stretches that
    no stick may cross, with a stud flush at each side. `slope_factor` lengthens the upright depth of plates
    on a rake. `longest_length` is that of the longest timber on sale.
    """

    place: str
    mark: str
    material: str
    practice: FramingPractice
    face: Face
    frames: tuple[OpeningFrame[Opening | Hole], ...]
    thickness: float
    depth: float
    spacing: float
    slope_factor: float
    corner_centres: tuple[float, ...] = ()
    junction_centres: tuple[float, ...] = ()
    gaps: tuple[tuple[float, float], ...] = ()
    longest_length: float = 6.0

    @property
    def foot(self) -> float:
        """Height of the top of the bottom plates [m]."""
        return self.face.bottom + self.practice.bottom_plates * self.thickness

    @property
    def _plate_depth(self) -> float:
        """Upright depth of one top plate [m]."""
        level = self.face.top_left == self.face.top_right
        return self.thickness if level else self.thickness * self.slope_factor

    def under_plates(self, s: float) -> float:
        """Return the height of the underside of the top plates at s [m]."""
        return self.face.top_at(s) - self.practice.top_plates * self._plate_depth

    def highest_under_plates(self, centre: float) -> float:
        """Return the height of the underside of the top plates at the longer side of a stud [m]."""
        half = self.thickness / 2
        return max(self.under_plates(centre - half), self.under_plates(centre + half))

    def sticks(self) -> Iterator[Member]:
        """Yield every stick of the wall with its piece mark, such as `HI-S07`: wall, use, number."""
        counts: dict[str, int] = {}
        for member in self._members():
            counts[member.use] = counts.get(member.use, 0) + 1
            yield replace(member, mark=f"{self.mark}-{MARKS[member.use]}{counts[member.use]:02d}")

    def _members(self) -> Iterator[Member]:
        """Yield every stick of the wall."""
        full = list(self._full_height_studs())
        centres = sorted(member.s for member in full)
        yield from self._plates(centres)
        yield from full
        for framed in self.frames:
            yield from self._around(framed)
        yield from self._noggings(centres)

    def _stick(self, use: str, s: float, foot: float, head: float) -> Member:
        """Return an upright stick of stud section between two heights."""
        return Member(
            use=use,
            material=self.material,
            thickness=self.thickness,
            depth=self.depth,
            length=head - foot,
            place=self.place,
            s=s,
            z=(foot + head) / 2,
            seen_width=self.thickness,
            run="upright",
        )

    def _rail(self, use: str, left: float, right: float, z: float, *, raking: bool = False) -> Member:
        """Return a stick of stud section laid flat between two places, along the rake if asked."""
        rise = self.face.top_at(right) - self.face.top_at(left) if raking else 0.0
        return Member(
            use=use,
            material=self.material,
            thickness=self.thickness,
            depth=self.depth,
            length=math.hypot(right - left, rise),
            place=self.place,
            s=(left + right) / 2,
            z=z,
            seen_width=self.thickness,
            run="rake" if rise else "level",
        )

    def parts(self) -> list[tuple[float, float]]:
        """Return the stretches of the frame between its ends and gaps [m]."""
        return what_is_left(0.0, self.face.width, self.gaps)

    def _plates(self, studs: list[float]) -> Iterator[Member]:
        """Yield the bottom plates, cut at openings that reach them and at gaps, and the top plates.

        Plates may be joined over `studs`, the centres of full-height studs; the joints of plates that lie on one
        another are at least `PLATE_STAGGER` apart where that can be.
        """
        cuts = [
            (framed.opening.position, framed.opening.right)
            for framed in self.frames
            if framed.opening.sill < self.foot - self.face.bottom - 1e-9
        ]
        for row in range(self.practice.bottom_plates):
            z = self.face.bottom + (row + 0.5) * self.thickness
            for left, right in what_is_left(0.0, self.face.width, (*cuts, *self.gaps)):
                if right - left > SHORTEST_STICK:
                    plate = self._rail("bottom plate", left, right, z)
                    yield self._joined(plate, (left, right), studs, row, self.practice.bottom_plates)
        for row in range(self.practice.top_plates):
            for left, right in self.parts():
                z = self.face.top_at((left + right) / 2) - (row + 0.5) * self._plate_depth
                plate = self._rail("top plate", left, right, z, raking=True)
                yield self._joined(plate, (left, right), studs, row, self.practice.top_plates)

    def _joined(
        self, plate: Member, ends: tuple[float, float], studs: list[float], row: int, rows: int
    ) -> Member:
        """Return a plate with the places where it may be joined, in its row of plates on one another.

        Where keeping the stagger leaves a row a stretch longer than the longest timber on sale, as between wide
        openings, the rows take turns stud by stud.
        """
        turns = [_joints(plate, *ends, _in_turn(studs, here) if rows > 1 else studs) for here in range(rows)]
        stretches = (pair for joints in turns for pair in itertools.pairwise((0.0, *joints, plate.length)))
        if rows > 1 and max(end - start for start, end in stretches) > self.longest_length:
            turns = [_joints(plate, *ends, studs[here::rows]) for here in range(rows)]
        return replace(plate, joints=turns[row])

    def _full_height_studs(self) -> Iterator[Member]:
        """Yield common studs on the grid, corner, jamb and junction studs, each cut to its own length."""
        junctions = self._junctions()
        for centre in self._grid():
            if not self._taken(centre) and not any(self._overlap(centre, other) for other in junctions):
                yield self._full("stud", centre)
        for centre in self.corner_centres:
            yield self._full("corner stud", centre)
        for framed in self.frames:
            for number in range(framed.jamb_studs):
                offset = (number + 0.5) * self.thickness
                for centre in (framed.left + offset, framed.right - offset):
                    yield self._full("jamb stud", centre)
        for centre in junctions:
            yield self._full("junction stud", centre)

    def _full(self, use: str, centre: float) -> Member:
        """Return a stud from the bottom to the top plates."""
        return self._stick(use, centre, self.foot, self.highest_under_plates(centre))

    def _grid(self) -> list[float]:
        """Return the centres of the common studs as if there were no opening [m]."""
        return [
            left + centre
            for left, right in self.parts()
            for centre in stud_positions(right - left, spacing=self.spacing, thickness=self.thickness)
        ]

    def _junctions(self) -> list[float]:
        """Return the centres of the junction studs: one that others stand in for is left out."""
        ends = [
            edge
            for left, right in self.parts()
            for edge in (left + self.thickness / 2, right - self.thickness / 2)
        ]
        standing: list[float] = []
        for centre in sorted(self.junction_centres):
            beside = any(self._overlap(centre, other) for other in (*ends, *standing))
            if not self._taken(centre) and not beside and self._within_a_part(centre):
                standing.append(centre)
        return standing

    def _within_a_part(self, centre: float) -> bool:
        """Whether a stud stands wholly between the ends and gaps of the frame."""
        half = self.thickness / 2
        return any(
            left - 1e-9 <= centre - half and centre + half <= right + 1e-9 for left, right in self.parts()
        )

    def _overlap(self, centre: float, other: float) -> bool:
        """Whether two studs would stand in each other."""
        return abs(centre - other) < self.thickness - 1e-9

    def _taken(self, centre: float) -> bool:
        """Whether a stud would stand in an opening, its jambs or a built-up corner."""
        left, right = centre - self.thickness / 2 + 1e-9, centre + self.thickness / 2 - 1e-9
        if any(left < framed.right and right > framed.left for framed in self.frames):
            return True
        return any(self._overlap(centre, corner) for corner in self.corner_centres)

    def _around(self, framed: OpeningFrame[Opening | Hole]) -> Iterator[Member]:
        """Yield the lintel or head trimmer, studs under it, sill trimmer and jack studs of an opening."""
        opening = framed.opening
        head, t = opening.head, self.thickness
        if framed.lintel is None:
            yield self._rail("head trimmer", opening.position, opening.right, head + t / 2)
            over = head + t
        else:
            yield from self._lintel(framed)
            over = head + framed.lintel.depth
        for number in range(framed.studs_under):
            offset = (number + 0.5) * t
            for centre in (opening.position - offset, opening.right + offset):
                yield self._stick("stud under lintel", centre, self.foot, head)
        has_sill = opening.sill >= self.foot + t - 1e-9
        if has_sill:
            yield self._rail("sill trimmer", opening.position, opening.right, opening.sill - t / 2)
        for centre in self._grid():
            if not opening.position < centre - t / 2 + 1e-9 or not centre + t / 2 - 1e-9 < opening.right:
                continue
            if has_sill and opening.sill - t - self.foot > SHORTEST_STICK:
                yield self._stick("jack stud", centre, self.foot, opening.sill - t)
            top = self.highest_under_plates(centre)
            if self._jacks_over(framed) and top - over > SHORTEST_STICK:
                yield self._stick("jack stud", centre, over, top)

    def _jacks_over(self, framed: OpeningFrame[Opening | Hole]) -> bool:
        """Whether jack studs stand over an opening: always on a head trimmer, by the practice on a lintel."""
        return framed.lintel is None or self.practice.jack_studs_over_lintels

    def _lintel(self, framed: OpeningFrame[Opening | Hole]) -> Iterator[Member]:
        """Yield the plies of a lintel, borne by the studs under it; only the first is seen."""
        row = framed.lintel
        if row is None:
            return
        bearing = framed.studs_under * self.thickness
        for ply in range(row.plies):
            yield Member(
                use="lintel",
                material=row.material,
                thickness=row.thickness,
                depth=row.depth,
                length=framed.opening.width + 2 * bearing,
                place=self.place,
                s=framed.opening.position + framed.opening.width / 2,
                z=framed.opening.head + row.depth / 2,
                seen_width=row.depth if ply == 0 else 0.0,
                run="level",
            )

    def _noggings(self, centres: list[float]) -> Iterator[Member]:
        """Yield noggings in every bay between full-height studs, in rows by the clear height.

        Bays closed by an opening have none: its sill and head hold the jamb studs.
        """
        half = self.thickness / 2
        for left, right in itertools.pairwise(centres):
            gap_left, gap_right = left + half, right - half
            if gap_right - gap_left <= SHORTEST_STICK or self._closed(gap_left, gap_right):
                continue
            clear = max(self.under_plates(gap_left), self.under_plates(gap_right)) - self.foot
            rows = nogging_rows(clear, self.practice.nogging_spacing)
            for row in range(1, rows + 1):
                yield self._rail("nogging", gap_left, gap_right, self.foot + clear * row / (rows + 1))

    def _closed(self, left: float, right: float) -> bool:
        """Whether a bay is the one an opening stands in, or holds a gap."""
        taken = [(framed.opening.position, framed.opening.right) for framed in self.frames]
        return any(left < end - 1e-9 and right > start + 1e-9 for start, end in (*taken, *self.gaps))


def _in_turn(studs: Sequence[float], row: int) -> list[float]:
    """Return the studs that a row of plates may be joined over [m].

    Along the wall, groups of studs no longer than one stagger are open to the even rows and to the odd ones in turn;
    studs nearer than one stagger to a group of the other rows are left out.
    """
    groups: list[list[float]] = []
    for stud in studs:
        if groups and stud - groups[-1][0] <= PLATE_STAGGER + 1e-9:
            groups[-1].append(stud)
        elif not groups or stud - groups[-1][-1] >= PLATE_STAGGER - 1e-9:
            groups.append([stud])
    return [stud for group in groups[row % 2 :: 2] for stud in group]


def _joints(plate: Member, left: float, right: float, studs: Sequence[float]) -> tuple[float, ...]:
    """Return the places along a plate between two places of its wall that lie over studs [m]."""
    along = plate.length / (right - left)
    return tuple((stud - left) * along for stud in studs if left < stud < right)


def nogging_rows(clear_height: float, spacing: float) -> int:
    """Return the rows of noggings that keep every clear stud height within the spacing.

    >>> nogging_rows(2.565, 1.350), nogging_rows(2.700, 1.350), nogging_rows(2.710, 1.350)
    (1, 1, 2)

    Source: rows at 1350 mm at most, AS 1684.2 clause 6.2.1.5 as quoted in published teaching slides.
    """
    return max(math.ceil(clear_height / spacing - 1e-9) - 1, 0)


def beside(centre: float, number: int, thickness: float) -> tuple[float, ...]:
    """Return the centres of studs side by side about a place [m]."""
    first = centre - (number - 1) * thickness / 2
    return tuple(first + index * thickness for index in range(number))
