"""Turns sticks into quantity rows: by section and use, with the length of every piece."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.framing.member import Member
from takeoff.measure.layer import slug
from takeoff.measure.quantity import Dimension, Piece, Quantity
from takeoff.model.library import STEEL, Library

USES: dict[str, tuple[str, str]] = {
    "bottom plate": ("plates", "Plates"),
    "top plate": ("plates", "Plates"),
    "stud": ("studs", "Studs, jamb and jack studs"),
    "corner stud": ("studs", "Studs, jamb and jack studs"),
    "jamb stud": ("studs", "Studs, jamb and jack studs"),
    "stud under lintel": ("studs", "Studs, jamb and jack studs"),
    "jack stud": ("studs", "Studs, jamb and jack studs"),
    "junction stud": ("studs", "Studs, jamb and jack studs"),
    "nogging": ("noggings", "Noggings and trimmers"),
    "head trimmer": ("noggings", "Noggings and trimmers"),
    "sill trimmer": ("noggings", "Noggings and trimmers"),
    "lintel": ("lintels", "Lintels"),
    "rafter": ("rafters", "Rafters"),
    "barge rafter": ("rafters", "Rafters"),
    "blocking": ("blocking", "Blocking"),
    "outrigger": ("outriggers", "Outriggers"),
    "ceiling joist": ("ceiling-joists", "Ceiling joists, ledgers and bulkhead studs"),
    "ledger": ("ceiling-joists", "Ceiling joists, ledgers and bulkhead studs"),
    "bulkhead stud": ("ceiling-joists", "Ceiling joists, ledgers and bulkhead studs"),
    "floor joist": ("floor-joists", "Floor joists"),
    "floor blocking": ("floor-blocking", "Blocking between floor joists"),
    "bearer": ("bearers", "Bearers"),
}


def measure_members(
    members: Iterable[Member], library: Library, *, element: str, location: str
) -> list[Quantity]:
    """Measure framing in m by use and section, one dimension line for equal sticks of a wall and use."""
    groups: dict[tuple[str, str, str], list[Member]] = {}
    for member in members:
        groups.setdefault((USES[member.use][0], member.material, member.section), []).append(member)
    return [
        _row(group, library, element=element, location=location)
        for _, group in sorted(groups.items(), key=lambda item: list(USES).index(item[1][0].use))
    ]


def timber_volume(members: Iterable[Member], library: Library) -> float:
    """Return the volume of all sticks of timber [m3]; lintels of steel are none."""
    return sum(member.volume for member in members if library.materials[member.material].family != STEEL)


def _row(group: list[Member], library: Library, *, element: str, location: str) -> Quantity:
    """Return the quantity row of sticks of one use and section."""
    first = group[0]
    use, words = USES[first.use]
    material = library.materials[first.material]
    counts: dict[tuple[str, str, float], int] = {}
    pieces: dict[tuple[float, tuple[float, ...]], list[str]] = {}
    for member in group:
        length = round(member.length, 9)
        key = (member.place, member.use, length)
        counts[key] = counts.get(key, 0) + 1
        joints = tuple(round(place, 6) for place in member.joints)
        pieces.setdefault((length, joints), []).append(member.mark)
    dimensions = tuple(
        Dimension(f"{place}, {name}", count, length) for (place, name, length), count in counts.items()
    )
    net = sum(line.squaring for line in dimensions)
    return Quantity(
        id=f"{element}.FR.{use}.{slug(first.material)}.{first.section.replace(' ', '')}",
        element=element,
        trade=material.trade,
        item=f"{words}, {first.section} mm",
        description=f"{words}: {material.description}, section {first.section} mm, {len(group)} pieces",
        location=location,
        unit="m",
        material=first.material,
        net=net,
        required=net,
        dimensions=dimensions,
        pieces=tuple(
            Piece(length, len(marks), " ".join(marks), joints)
            for (length, joints), marks in sorted(pieces.items(), reverse=True)
        ),
        section=first.section_area,
        width=first.depth,
        thickness=first.thickness,
        how="set out stick by stick",
    )
