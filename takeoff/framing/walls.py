"""Sets out the frame of one external wall, stick by stick."""

from __future__ import annotations

from dataclasses import dataclass, replace

from takeoff.framing.member import Member
from takeoff.framing.openings import LOADBEARING, OpeningFrame, opening_frames
from takeoff.framing.studs import stud_positions
from takeoff.framing.wall_setting_out import WallSettingOut, beside
from takeoff.model.geometry import Face, slope_factor, wall_face
from takeoff.model.house import Design, Opening, Side
from takeoff.model.wall_runs import wall_runs, walls_meeting

# How piece marks of each wall begin: low and left must not be mixed up on site.
_MARKS: dict[Side, str] = {"low": "LO", "high": "HI", "left": "LE", "right": "RI"}


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFrame:
    """The frame of one wall: its members and the face it fills [m, m2].

    `start` is the distance of the frame's left end from the house corner; `gaps` are the stretches where a
    party wall parts the frame.
    """

    side: Side
    start: float
    face: Face
    members: tuple[Member, ...]
    openings: tuple[OpeningFrame[Opening], ...]
    gaps: tuple[tuple[float, float], ...] = ()

    @property
    def gap_faces(self) -> tuple[Face, ...]:
        """The parts of the face that the gaps of party walls take."""
        face = self.face
        return tuple(
            Face(right - left, face.bottom, face.top_at(left), face.top_at(right))
            for left, right in self.gaps
        )

    @property
    def net_area(self) -> float:
        """Face of the frame less its openings and gaps [m2]."""
        openings = sum(framed.opening.area for framed in self.openings)
        return self.face.area - openings - sum(face.area for face in self.gap_faces)

    @property
    def timber_area(self) -> float:
        """Area that sticks take of the face [m2]."""
        return sum(member.seen_area for member in self.members)

    @property
    def framing_fraction(self) -> float:
        """Share of the net face that is timber."""
        return self.timber_area / self.net_area if self.net_area > 0 else 0.0


def frame_wall(design: Design, side: Side, *, material: str) -> WallFrame:
    """Set out the frame of one external wall.

    Low and high wall run through; side walls stand between them. Studs of a raking wall are cut to
    length one by one, measured to their longest point; its top plate follows the slope. Where an internal
    wall meets it, it has the junction studs of the framing practice; a party wall parts it.

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
    meeting = walls_meeting(design, side, wall_runs(design))
    gaps = tuple(
        (place - start - run.gap / 2, place - start + run.gap / 2)
        for run, place in meeting
        if run.party and run.gap > 0
    )
    setting_out = WallSettingOut(
        place=f"{side} wall",
        mark=_MARKS[side],
        material=material,
        practice=design.practice,
        face=face,
        frames=frames,
        thickness=house.stud_thickness,
        depth=house.stud_depth,
        spacing=design.stud_spacing,
        longest_length=house.longest_length,
        slope_factor=slope_factor(house),
        corner_centres=_corner_centres(design, width) if side in LOADBEARING else (),
        junction_centres=tuple(
            centre
            for run, place in meeting
            if not run.party
            for centre in beside(place - start, design.practice.junction_studs, house.stud_thickness)
        ),
        gaps=gaps,
    )
    return WallFrame(
        side=side, start=start, face=face, members=tuple(setting_out.sticks()), openings=frames, gaps=gaps
    )


def grid_studs(design: Design, side: Side) -> tuple[float, ...]:
    """Return the centres of the common studs of a wall as if it had no opening, from the house corner [m]."""
    house = design.house
    start = 0.0 if side in LOADBEARING else house.stud_depth
    width = wall_face(house, side).width - 2 * start
    centres = stud_positions(width, spacing=design.stud_spacing, thickness=house.stud_thickness)
    return tuple(start + centre for centre in centres)


def _in_frame(framed: OpeningFrame[Opening], start: float) -> OpeningFrame[Opening]:
    """Return an opening's framing measured from the left end of the frame instead of the house corner."""
    moved = replace(framed.opening, position=framed.opening.position - start)
    return replace(framed, opening=moved, left=framed.left - start, right=framed.right - start)


def _corner_centres(design: Design, width: float) -> tuple[float, ...]:
    """Return the centres of the extra studs at both ends: the first backs the lining of the side wall."""
    house = design.house
    near = [
        house.stud_depth + (number + 0.5) * house.stud_thickness
        for number in range(design.practice.corner_studs)
    ]
    return (*near, *(width - centre for centre in near))
