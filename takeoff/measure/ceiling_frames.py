"""Frames the flat ceilings and bulkheads of the rooms whose lining asks for joists."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.framing.ceilings import JoistSection, frame_flat_ceiling, frame_upright_face, with_marks
from takeoff.framing.member import Member
from takeoff.measure.ceilings import Interior
from takeoff.measure.room_plan import Zone


def frame_ceilings(interior: Interior) -> tuple[Member, ...]:
    """Return the joists, ledgers and bulkhead studs of all rooms with a flat ceiling on joists.

    They are set out at the finished faces of the walls.
    """
    return with_marks(_members(interior))


def _members(interior: Interior) -> Iterator[Member]:
    """Yield the sticks of every zone."""
    for number, zone in enumerate(interior.plan.zones):
        section = joist_section(interior, zone)
        if section is None:
            continue
        place = f"ceiling of {interior.zone_name(zone)}"
        for box in zone.boxes:
            yield from frame_flat_ceiling(box, section, place=place)
        for step, higher in interior.steps_of(number):

            def height(
                s: float, zone: Zone = zone, higher: Zone = higher, axis: str = step.axis, at: float = step.at
            ) -> float:
                y = at if axis == "x" else s
                return interior.ceiling_at(higher, y) - interior.ceiling_at(zone, y)

            yield from frame_upright_face(
                step.axis, step.at, step.start, step.end, height, section, place=place
            )


def joist_section(interior: Interior, zone: Zone) -> JoistSection | None:
    """Return the joists of a zone's ceiling, None where it rakes or has none."""
    if zone.flat_height is None:
        return None
    for layer in interior.lining_of(zone).layers:
        if layer.measured_by == "ceiling joists":
            material = interior.library.materials[layer.material]
            return JoistSection(
                material=material.name,
                depth=material.width or 0.0,
                thickness=material.thickness or 0.0,
                spacing=layer.spacing or 0.45,
            )
    return None
