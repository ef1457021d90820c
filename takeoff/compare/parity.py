"""Whether the fabric of an option is as good as it has to be: by how much it falls short, and what would restore it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.assess.fabric.elements import Envelope
from takeoff.assess.fabric.restoring import MoreInsulation, restoring_all
from takeoff.compare.evaluate import Result
from takeoff.model.fabric import FABRIC_ELEMENTS, FabricElement
from takeoff.model.job import Job

HEAT_LOSS = "heat loss"
# What is less than the last digit printed is no shortfall [W/(m2 K) and W/K].
_LEAST_U = 0.0005
_LEAST_HEAT = 0.05
# Elements whose insulation is thickened to bring the heat loss of a house down, the likeliest first.
_RESTORED: tuple[FabricElement, ...] = ("external walls", "roof", "floor")


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """What would restore a target: more insulation of an element."""

    element: FabricElement
    more: MoreInsulation


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """By how much an option misses a target.

    `of` is an element, judged by its mean U-value, or `HEAT_LOSS` for the heat loss through the envelope against the
    base. `where` is the part with the highest U-value where there are several. `value` and `target` are in `unit`.
    """

    of: str
    where: str
    value: float
    target: float
    unit: str
    remedies: tuple[Remedy, ...]

    @property
    def by(self) -> float:
        """By how much it is missed, in its unit."""
        return self.value - self.target


def shortfalls(job: Job, result: Result, base: Result) -> tuple[Shortfall, ...]:
    """Return every target that an option misses; parts that are not assessed miss none."""
    found = [missed for element in FABRIC_ELEMENTS if (missed := _element(job, result, element)) is not None]
    if (heat := _heat_loss(job, result, base)) is not None:
        found.append(heat)
    return tuple(found)


def shortfalls_of_all(job: Job, results: Sequence[Result]) -> dict[str, tuple[Shortfall, ...]]:
    """Return the targets that each option misses, by its name."""
    return {result.option.name: shortfalls(job, result, results[0]) for result in results}


def _element(job: Job, result: Result, element: FabricElement) -> Shortfall | None:
    """Return by how much the mean U-value of an element misses its target, None where it does not."""
    target, value = job.fabric.target(element), result.fabric.u_value(element)
    if target is None or value is None or value < target + _LEAST_U:
        return None
    parts = result.fabric.of(element)
    more = restoring_all(parts, target * result.fabric.area(element), job.library, job.fabric.air_gaps)
    return Shortfall(
        of=element,
        where=max(parts, key=lambda part: part.u_value or 0.0).name if len(parts) > 1 else "",
        value=value,
        target=target,
        unit="W/(m2 K)",
        remedies=() if more is None else (Remedy(element=element, more=more),),
    )


def _heat_loss(job: Job, result: Result, base: Result) -> Shortfall | None:
    """Return by how much an option loses more heat through its envelope than the base may."""
    limit, own, before = job.fabric.heat_loss_limit, result.fabric.transmission, base.fabric.transmission
    if limit is None or own is None or before is None or result is base:
        return None
    target = limit * before
    if own < target + _LEAST_HEAT:
        return None
    remedies = []
    for element in _RESTORED:
        parts: list[Envelope] = result.fabric.of(element)
        loss = result.fabric.heat_loss(element)
        if loss is None or not parts:
            continue
        more = restoring_all(parts, loss - (own - target), job.library, job.fabric.air_gaps)
        if more is not None and (more.deeper is not None or more.unbroken is not None):
            remedies.append(Remedy(element=element, more=more))
    return Shortfall(
        of=HEAT_LOSS,
        where="",
        value=own,
        target=target,
        unit="W/K",
        remedies=tuple(remedies),
    )
