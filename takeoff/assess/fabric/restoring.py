"""How much more insulation brings a part of the envelope, or the whole of it, back to a target."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.assess.fabric.elements import Envelope, Surfaces
from takeoff.assess.fabric.thickness import thickness_for
from takeoff.model.fabric import FabricElement, Flow
from takeoff.model.library import Library

_FLOWS: dict[FabricElement, Flow] = {
    "external walls": "horizontal",
    "roof": "upwards",
    "floor": "downwards",
}
# No one is told to add more than this [m].
_MOST = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class MoreInsulation:
    """The thickness that restores a target [m], rounded up to 5 mm, of a material; None where 500 mm is not enough.

    `deeper` is more of it where it lies, the sticks it lies between deeper too; `unbroken` is a layer of it that no
    stick crosses. `sticks` says whether there are any.
    """

    material: str
    deeper: float | None
    unbroken: float | None
    sticks: bool


def u_with_more(
    part: Envelope, library: Library, air_gaps: int, *, unbroken: bool
) -> Callable[[float], float]:
    """Return the U-value of a part as a function of more insulation [m]; it must have some."""
    ground, path = part.ground, part.path
    if ground is not None:
        return ground.with_more
    assert path is not None
    assert path.insulation is not None
    main = path.insulation
    surfaces = Surfaces(library.resistances, _FLOWS[part.element], air_gaps)
    if unbroken:
        return lambda more: surfaces.u_value(path, unbroken=more / main.conductivity)
    return lambda more: surfaces.deeper(path, more)


def insulation_of(part: Envelope) -> str | None:
    """Return the material of the main insulation of a part, None where it has none that could be thicker."""
    if part.ground is not None:
        return part.ground.material
    if part.path is None or part.u_value is None or part.path.insulation is None:
        return None
    return part.path.insulation.material


def restoring_all(
    parts: Sequence[Envelope], target: float, library: Library, air_gaps: int
) -> MoreInsulation | None:
    """Return what brings the heat loss of parts of one element down to a target [W/K]; None without insulation.

    The same thickness is added to all of them; the material is that of the largest.
    """
    if not parts or any(insulation_of(part) is None for part in parts):
        return None
    largest = max(parts, key=lambda part: part.area)

    def least(*, unbroken: bool) -> float | None:
        courses = [(part.area, u_with_more(part, library, air_gaps, unbroken=unbroken)) for part in parts]
        return thickness_for(
            lambda more: sum(area * u_of(more) for area, u_of in courses), target, low=0.0, high=_MOST
        )

    on_ground = any(part.ground is not None for part in parts)
    deeper = least(unbroken=False)
    return MoreInsulation(
        material=insulation_of(largest) or "",
        deeper=deeper,
        unbroken=deeper if on_ground else least(unbroken=True),
        sticks=any(part.fraction is not None for part in parts),
    )
