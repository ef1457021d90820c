"""What a practice knows of carbon over the whole life: factors, service lives, end of life, spreads, benchmarks."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.per_unit import PerUnit
from takeoff.model.problem import Origin

# How much sun and weather an elevation takes.
Exposure = Literal["sheltered", "moderate", "exposed"]
EXPOSURES: tuple[Exposure, ...] = get_args(Exposure)

# Modules of EN 15978 and EN 15804, in their order; A5 in two parts that are never merged.
Module = Literal["A1-A3", "A4", "A5 wastage", "A5 site", "B2", "B3", "B4", "C1", "C2", "C3", "C4", "D"]
MODULES: tuple[Module, ...] = get_args(Module)
UPFRONT: tuple[Module, ...] = ("A1-A3", "A4", "A5 wastage", "A5 site")
USE: tuple[Module, ...] = ("B2", "B3", "B4")
END: tuple[Module, ...] = ("C1", "C2", "C3", "C4")
LIFE_CYCLE: tuple[Module, ...] = (*UPFRONT, *USE, *END)


def module_words(modules: tuple[Module, ...]) -> str:
    """Return the modules of life-cycle carbon in words: stages whole where they are, else module by module.

    >>> module_words(LIFE_CYCLE), module_words(("A1-A3", "A4", "C1", "C2", "C3", "C4"))
    ('A1-A5, B2-B4 and C1-C4', 'A1-A3, A4 and C1-C4')
    """
    words: list[str] = []
    for stage, name in ((UPFRONT, "A1-A5"), (USE, "B2-B4"), (END, "C1-C4")):
        found = [module for module in stage if module in modules]
        words += [name] if len(found) == len(stage) else found
    return (
        words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else "no module"
    )


RenewalModule = Literal["B2", "B3", "B4"]
RENEWAL_MODULES: tuple[RenewalModule, ...] = get_args(RenewalModule)
Route = Literal["reuse", "recycling", "energy recovery", "landfill", "fill", "left in the ground"]
ROUTES: tuple[Route, ...] = get_args(Route)
AreaBasis = Literal["outside of frame", "inside faces", "gross, outside of cladding"]
AREA_BASES: tuple[AreaBasis, ...] = get_args(AreaBasis)
ModuleScope = Literal["A1-A3", "A1-A5", "A-C"]
MODULE_SCOPES: tuple[ModuleScope, ...] = get_args(ModuleScope)
SpreadOf = Literal[
    "price basis",
    "labour constant",
    "gang rate",
    "quantity",
    "allowance",
    "transport",
    "site work",
    "maintenance",
    "service life",
    "end of life",
]
SPREADS_OF: tuple[SpreadOf, ...] = get_args(SpreadOf)
# The end of life that families without a row in the scenario chosen go by.
USUAL = "usual"
# Stands for every name of its kind that has no row of its own.
ALL = "all"


@dataclass(frozen=True, slots=True)
class Scores:
    """Five scores of data quality, each from 1 (best) to 5.

    Source: indicators of the pedigree matrix of the ecoinvent data quality guideline (Weidema et al. 2013).
    """

    reliability: int
    completeness: int
    time: int
    geography: int
    technology: int

    def values(self) -> tuple[int, ...]:
        """Return them in this order."""
        return (self.reliability, self.completeness, self.time, self.geography, self.technology)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarbonFactor:
    """The carbon of a material for one unit (`a1a3.per`) by module [kgCO2e]; None is not assessed.

    `a1a3` is fossil, stored biogenic carbon is not in it; `low` and `high` are the ends of its range. `land_use` is
    that of land use and its change in A1-A3. `biogenic` is what the source declares as stored [kgCO2], negative;
    None where the wood share of the material tells. `mode` and `distance` [m] are its way to the site, for A4.
    `a5` is that of fixing it besides wastage. `b2` and `b3` are of one year. `c1` to `d` are those of the
    source; None where the sheet End of life tells. `scores` give the spread where no range is given.
    """

    material: str
    a1a3: PerUnit
    low: float | None
    high: float | None
    mode: str | None
    distance: float | None
    source: str
    year: str
    country: str
    standing: str
    land_use: float | None = None
    biogenic: float | None = None
    a5: float | None = None
    b2: float | None = None
    b3: float | None = None
    c1: float | None = None
    c2: float | None = None
    c3: float | None = None
    c4: float | None = None
    d: float | None = None
    standard: str = ""
    scores: Scores | None = None
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceLife:
    """How long a material stays before it is renewed [years], by exposure; inside it is sheltered.

    `module` is where its renewal counts: B2 for recoating and the like, B4 for replacement. `low` and `high` are the
    ends of its range as shares of the life (0.6, 1.4). `share` is how much of it is renewed at a time,
    `taking_down` the hours of taking down the old, as a share of those of fixing.
    """

    material: str
    module: RenewalModule
    sheltered: float
    moderate: float
    exposed: float
    low: float | None = None
    high: float | None = None
    share: float = 1.0
    taking_down: float = 0.0
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    def years(self, exposure: Exposure) -> float:
        """Return the life under an exposure [years]."""
        return {"sheltered": self.sheltered, "moderate": self.moderate, "exposed": self.exposed}[exposure]


@dataclass(frozen=True, slots=True, kw_only=True)
class EndOfLife:
    """What becomes of the materials of a family in a scenario [kgCO2e/kg]; None is not assessed.

    `mode` and `distance` [m] are the way of C2. `released` is the share of the stored carbon that leaves the
    system or goes back to the air: 1 but for a landfill, whose decay it is. `methane` is the share of the carbon
    released that leaves as methane, after collection and oxidation.
    """

    scenario: str
    family: str
    route: Route
    c1: float | None
    mode: str | None
    distance: float | None
    c3: float | None
    c4: float | None
    d: float | None
    released: float = 1.0
    methane: float = 0.0
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The range of a kind of input where it states none itself, as shares of it (-0.05, +0.10)."""

    of: SpreadOf
    name: str
    low: float
    high: float
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Benchmark:
    """A published figure to stand beside ours [kgCO2e/m2], with what it covers.

    `study_period` [years] is None where its modules need none. `low` and `high` are the ends of its range.
    """

    name: str
    value: float
    low: float | None
    high: float | None
    modules: ModuleScope
    area_basis: AreaBasis
    study_period: float | None
    covers: str
    version: str
    source: str
    standing: str
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)
