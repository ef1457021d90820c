"""What is known of each input: its range, where it comes from, and what to call it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from takeoff.assess.parts import Input, InputKind
from takeoff.compare.uncertainty.distributions import Distribution, Fixed, Lognormal, Triangular
from takeoff.compare.uncertainty.pedigree import sigma_of
from takeoff.model.allowance import Allowance
from takeoff.model.job import Job
from takeoff.model.library import Library
from takeoff.model.life_cycle import ALL, SpreadOf


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnInput:
    """An input with its distribution, which is that of a multiplier of its central value.

    `central` is that value in `unit`, None where the input stands for several or for none. `is_stated` is False where
    no range is given anywhere, so that the input stays at its central value.
    """

    source: Input
    label: str
    distribution: Distribution
    is_stated: bool
    central: float | None = None
    unit: str = ""

    @property
    def varies(self) -> bool:
        """Whether its draws differ."""
        return not isinstance(self.distribution, Fixed)

    def multiplier_at(self, share: float) -> float:
        """Return the multiplier at which a share of the *values* lies below: of a negative one it is the greater."""
        of_multipliers = 1.0 - share if self.central is not None and self.central < 0 else share
        return float(self.distribution.at(np.array([of_multipliers]))[0])


@dataclass(frozen=True, slots=True)
class _Known:
    """What the workbooks say of an input; `distribution` is None where they state no range."""

    label: str
    distribution: Distribution | None
    central: float | None = None
    unit: str = ""


def drawn_inputs(inputs: Iterable[Input], job: Job) -> tuple[DrawnInput, ...]:
    """Return what is known of each input. Raises ValueError where a range leaves its central value out.

    A range of its own counts first; then, for a carbon factor, the scores of its data quality; then the spread of
    its kind under its name, and that under "all". An input of nought stays so, for no multiple of it is more.
    """
    return tuple(_drawn(source, job) for source in inputs)


def _drawn(source: Input, job: Job) -> DrawnInput:
    """Return what is known of one input."""
    try:
        known = _KNOWN_OF[source.kind](source.name, job)
    except ValueError as error:
        raise ValueError(f"{source.kind} {source.name!r}: {error}") from error
    distribution = known.distribution
    if distribution is None or known.central == 0.0 or _is_a_point(distribution):
        distribution = Fixed()
    return DrawnInput(
        source=source,
        label=known.label,
        distribution=distribution,
        is_stated=known.distribution is not None,
        central=known.central,
        unit=known.unit,
    )


def _is_a_point(distribution: Distribution) -> bool:
    """Whether a range was stated that has no width."""
    return isinstance(distribution, Triangular) and distribution.low == distribution.high


def _between(central: float, low: float | None, high: float | None) -> Distribution | None:
    """Return a range between two values around a central one; an end not stated is the central value."""
    if low is None and high is None:
        return None
    if central == 0.0:
        return Fixed()
    ends = [(central if end is None else end) / central for end in (low, high)]
    return Triangular(low=min(ends), high=max(ends))


def _spread(library: Library, of: SpreadOf, name: str) -> Distribution | None:
    """Return the spread stated for a kind of input under a name, else for all of that kind."""
    spread = library.spreads.get((of, name)) or library.spreads.get((of, ALL))
    return None if spread is None else Triangular(low=1.0 + spread.low, high=1.0 + spread.high)


def _factor(name: str, job: Job) -> _Known:
    """Return what is known of the carbon factor of a material, whose other modules go with its A1-A3."""
    label, factor = f"carbon factor of {name}", job.library.carbon.get(name)
    if factor is None:
        return _Known(label, None)
    central = factor.a1a3.value
    distribution = _between(central, factor.low, factor.high)
    if distribution is None and factor.scores is not None:
        distribution = Lognormal(sigma=sigma_of(factor.scores))
    return _Known(label, distribution, central, f"kgCO2e/{factor.a1a3.per}")


def _transport(name: str, job: Job) -> _Known:
    """Return what is known of a way of carrying: factor and distance alike."""
    mode = job.library.transport.get(name)
    spread = _spread(job.library, "transport", name)
    return _Known(
        f"transport factor of {name}", spread, None if mode is None else mode.factor, "kgCO2e/(kg m)"
    )


def _site_work(name: str, job: Job) -> _Known:
    """Return what is known of the site carbon of a labour row."""
    return _Known(f"site carbon of {name}", _spread(job.library, "site work", name))


def _maintenance(name: str, job: Job) -> _Known:
    """Return what is known of the yearly maintenance and repair of a material."""
    return _Known(f"carbon of maintaining {name}", _spread(job.library, "maintenance", name))


def _end_of_life(name: str, job: Job) -> _Known:
    """Return what is known of the end of life of a family."""
    return _Known(f"end of life of {name}", _spread(job.library, "end of life", name))


def _price(name: str, job: Job) -> _Known:
    """Return what is known of the price of a material; sizes with prices of their own go with it."""
    label, price = f"price of {name}", job.library.prices.get(name)
    if price is None:
        return _Known(label, _spread(job.library, "price basis", ALL))
    central = price.price.value
    own = _between(central, price.low, price.high)
    unit = f"{job.project.currency}/{price.price.per}"
    return _Known(label, own or _spread(job.library, "price basis", price.basis), central, unit)


def _labour(name: str, job: Job) -> _Known:
    """Return what is known of the hours of a labour row."""
    label, work = f"labour constant of {name}", job.library.works.get(name)
    spread = _spread(job.library, "labour constant", name)
    return (
        _Known(label, spread)
        if work is None
        else _Known(label, spread, work.hours.value, f"h/{work.hours.per}")
    )


def _gang(name: str, job: Job) -> _Known:
    """Return what is known of the rate of a gang."""
    gang = job.library.gangs.get(name)
    spread = _spread(job.library, "gang rate", name)
    return _Known(
        f"hourly rate of {name}", spread, None if gang is None else gang.rate, f"{job.project.currency}/h"
    )


def _quantity(name: str, job: Job) -> _Known:
    """Return what is known of the measured quantities of a class of items."""
    return _Known(f"quantities of the class {name}", _spread(job.library, "quantity", name))


def _allowance(name: str, job: Job) -> _Known:
    """Return what is known of the money of an allowance: its supply, and its fixing with it."""
    allowance, spread = _allowance_spread(name, job)
    central = None if allowance is None else allowance.rate
    # a prime-cost sum of nothing may have its fixing all the same, which the rate does not stand for
    return _Known(
        f"rate of the allowance {name}",
        spread,
        central or None,
        "" if allowance is None else _per(allowance, job),
    )


def _allowance_carbon(name: str, job: Job) -> _Known:
    """Return what is known of the carbon of an allowance: it has the spread of its money, drawn apart."""
    allowance, spread = _allowance_spread(name, job)
    if allowance is None:
        return _Known(f"carbon of the allowance {name}", spread)
    return _Known(f"carbon of the allowance {name}", spread, allowance.carbon, f"kgCO2e/{allowance.basis}")


def _per(allowance: Allowance, job: Job) -> str:
    """Return the unit of the rate of an allowance."""
    return f"{job.project.currency}/{allowance.basis}"


def _allowance_spread(name: str, job: Job) -> tuple[Allowance | None, Distribution | None]:
    """Return an allowance and the spread of its kind."""
    allowance = next((each for each in job.allowances if each.name == name), None)
    return allowance, _spread(job.library, "allowance", ALL if allowance is None else allowance.kind)


def _life(name: str, job: Job) -> _Known:
    """Return what is known of the service life of a material or an allowance.

    Its range is in shares and holds under any exposure.
    """
    label, life = f"service life of {name}", job.library.lives.get(name)
    own = None if life is None else _between(1.0, life.low, life.high)
    return _Known(label, own or _spread(job.library, "service life", name))


_KNOWN_OF: dict[InputKind, Callable[[str, Job], _Known]] = {
    "factor": _factor,
    "transport": _transport,
    "site work": _site_work,
    "maintenance": _maintenance,
    "end of life": _end_of_life,
    "price": _price,
    "labour": _labour,
    "gang": _gang,
    "quantity": _quantity,
    "allowance": _allowance,
    "allowance carbon": _allowance_carbon,
    "life": _life,
}
