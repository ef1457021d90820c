"""A face that a layer lies on."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.measure.side_calculation import SideCalculation
from takeoff.model.geometry import Face, Void


@dataclass(frozen=True, slots=True)
class Surface:
    """A face that a layer lies on, with its voids.

    `run_on` is how far sheets run past its foot, such as roof sheets into the gutter [m], `hung` how far a
    flat ceiling hangs below the rafters [m]. `supports` are the places along it of the studs, rafters or
    joists behind it [m], () where they are not known. `at_foot` and `at_head` tell whether it reaches the foot and the
    head of its elevation, which a band may not. `height` is the side calculation that the height of a level face
    follows from, None where it is known as it stands.
    """

    note: str
    face: Face
    voids: tuple[Void, ...] = ()
    run_on: float = 0.0
    hung: float = 0.0
    at_foot: bool = True
    at_head: bool = True
    supports: tuple[float, ...] = ()
    height: SideCalculation | None = None
