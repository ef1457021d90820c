"""Flat ceilings and the upright faces of bulkheads as they are framed: which sticks belong together, and where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.frame_elevation_walls import FramedWall
from takeoff.framing.member import Member
from takeoff.measure.ceiling_frames import joist_section
from takeoff.measure.ceilings import Interior
from takeoff.measure.room_plan import CeilingStep, WallFace, Zone
from takeoff.model.geometry import Face
from takeoff.model.library import Library
from takeoff.model.room_edges import Box

_SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatCeiling:
    """A flat ceiling on joists, seen on plan [m].

    `members` are its joists and ledgers, `walls` the faces of the walls about it, `open_edges` the lines on which
    it meets another ceiling without a wall between them.
    """

    name: str
    underside: float
    spacing: float
    boxes: tuple[Box, ...]
    walls: tuple[WallFace, ...]
    open_edges: tuple[CeilingStep, ...]
    members: tuple[Member, ...]

    @property
    def extent(self) -> Box:
        """The rectangle about it."""
        return Box(
            min(box.from_x for box in self.boxes),
            max(box.to_x for box in self.boxes),
            min(box.from_y for box in self.boxes),
            max(box.to_y for box in self.boxes),
        )


def framed_ceilings(result: Result, library: Library) -> tuple[list[FlatCeiling], list[FramedWall]]:
    """Return the flat ceilings on joists and the upright faces on their open edges, in the order of piece marks.

    An upright face is told as a wall: its sticks are placed along it and by their height above floor level [m].
    """
    inside = result.measured.inside
    interior = Interior(result.design, library, inside.plan, inside.doors)
    ceilings: list[FlatCeiling] = []
    faces: list[FramedWall] = []
    for number, zone in enumerate(inside.plan.zones):
        section = joist_section(interior, zone)
        if section is None or zone.flat_height is None:
            continue
        name = interior.zone_name(zone)
        own = [member for member in inside.ceiling_members if member.place == f"ceiling of {name}"]
        steps = interior.steps_of(number)
        lying = [m for m in own if _lies_in(m, zone) and not any(_stands_on(m, step) for step, _ in steps)]
        if lying:
            ceilings.append(
                FlatCeiling(
                    name=name,
                    underside=zone.flat_height,
                    spacing=section.spacing,
                    boxes=zone.boxes,
                    walls=tuple(face for face in inside.plan.faces if face.zone == number),
                    open_edges=tuple(step for step, _ in steps),
                    members=tuple(lying),
                )
            )
        for step, higher in steps:
            standing = [member for member in own if _stands_on(member, step)]
            if standing:
                ends = (step.start, step.end) if step.axis == "y" else (step.at, step.at)
                tops = [interior.ceiling_at(higher, y) for y in ends]
                face = Face(step.end - step.start, zone.flat_height, tops[0], tops[1])
                faces.append(_upright_face(name, step, face, standing, section.spacing))
    return ceilings, faces


def _stands_on(member: Member, step: CeilingStep) -> bool:
    """Whether the middle of a stick lies on a line of the plan."""
    along, across = (member.s, member.z) if step.axis == "x" else (member.z, member.s)
    return abs(across - step.at) < _SAME and step.start - _SAME < along < step.end + _SAME


def _lies_in(member: Member, zone: Zone) -> bool:
    """Whether the middle of a stick lies in a zone."""
    return any(
        box.from_x - _SAME < member.s < box.to_x + _SAME and box.from_y - _SAME < member.z < box.to_y + _SAME
        for box in zone.boxes
    )


def _upright_face(
    name: str, step: CeilingStep, face: Face, members: Sequence[Member], spacing: float
) -> FramedWall:
    """Return the frame of an upright face, the start of its line at the left."""
    return FramedWall(
        mark="C",
        name=f"{name}: upright face",
        # whoever sees x run to the right looks up the slope, whoever sees y do so looks to the left
        seen=f"the {'low' if step.axis == 'x' else 'right'} side of the house",
        outer=False,
        spacing=spacing,
        face=face,
        members=tuple(_in_face(step, face, members)),
        openings=(),
        gaps=(),
        start=0.0,
        end=face.width,
    )


def _in_face(step: CeilingStep, face: Face, members: Sequence[Member]) -> Iterator[Member]:
    """Yield the sticks of an upright face in their places: foot rail, head rail, and studs on the foot rail."""
    rails = 0
    for member in members:
        along = (member.s if step.axis == "x" else member.z) - step.start
        if member.run == "upright":
            yield replace(member, s=along, z=face.bottom + member.thickness + member.length / 2)
        elif rails == 0:
            rails += 1
            yield replace(member, s=along, z=face.bottom + member.thickness / 2, run="level")
        else:
            # the head rail is as deep upright as its thickness over the cosine of its slope
            deep = member.thickness * face.rake / face.width
            middle = (face.top_left + face.top_right) / 2
            raking = abs(face.top_right - face.top_left) > _SAME
            yield replace(member, s=along, z=middle - deep / 2, run="rake" if raking else "level")
