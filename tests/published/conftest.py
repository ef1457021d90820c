"""One item at a time: a material with nothing but what a check needs, priced and assessed as in a bill."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

import pytest

from takeoff.assess.items import assess_lines
from takeoff.assess.lines import Line
from takeoff.assess.use_stage import with_renewals
from takeoff.cutting.order import by_allowance
from takeoff.measure.quantity import Dimension, Quantity, Weathered
from takeoff.model.job import Job
from takeoff.model.library import Library, Material, TransportMode
from takeoff.model.life_cycle import CarbonFactor, EndOfLife, ServiceLife
from takeoff.model.per_unit import PerUnit
from takeoff.model.study import Study

NAME = "material of the check"


@pytest.fixture(scope="session")
def bill_item(job: Job) -> Callable[..., Line]:
    """Return a maker of one item; `factor`, `life` and `end` are rows of the sheets of that name, by attribute.

    `modes` are factors of transport [kgCO2e/(kg m)] by name; what else is given is of the material.
    """

    def make(
        *,
        unit: str = "kg",
        amount: float = 1.0,
        factor: Mapping[str, object] | None = None,
        life: Mapping[str, object] | None = None,
        end: Iterable[Mapping[str, object]] = (),
        modes: Mapping[str, float] | None = None,
        study: Study | None = None,
        weather: tuple[Weathered, ...] = (),
        **of_material: object,
    ) -> Line:
        study = study or Study()
        settings: dict[str, object] = {"family": "family", "trade": "carpentry", "item_class": "class"}
        material = Material(name=NAME, description=NAME, **{**settings, **of_material})
        library = Library(
            materials={NAME: material},
            prices={},
            works={},
            gangs={},
            carbon={} if factor is None else {NAME: _factor(factor)},
            transport={
                name: TransportMode(name=name, factor=value, source="", standing="")
                for name, value in (modes or {}).items()
            },
            ladder=(),
            measurement={},
            accuracy={},
            sources={},
            lives={} if life is None else {NAME: _life(life)},
            end_of_life={(row.scenario, row.family): row for row in map(_end, end)},
        )
        quantity = Quantity(
            id="EW.check",
            element="EW",
            trade="carpentry",
            item=NAME,
            description=NAME,
            location="anywhere",
            unit=unit,
            material=NAME,
            net=amount,
            required=amount,
            dimensions=(Dimension("as given", amount),),
            weather=weather,
        )
        lines, problems = assess_lines([by_allowance(quantity, library)], library, study)
        assert not problems
        return with_renewals(lines, house=job.design.house, library=library, study=study)[0]

    return make


def _factor(given: Mapping[str, object]) -> CarbonFactor:
    """Return a carbon factor of 1 kgCO2e/kg, but for what is given."""
    blank: dict[str, object] = {
        "material": NAME,
        "a1a3": PerUnit(1.0, "kg"),
        **dict.fromkeys(("low", "high", "mode", "distance")),
        **dict.fromkeys(("source", "year", "country", "standing"), ""),
    }
    return CarbonFactor(**{**blank, **given})


def _life(given: Mapping[str, object]) -> ServiceLife:
    """Return a service life; `years` are those of every exposure."""
    rest = {name: value for name, value in given.items() if name != "years"}
    alike = dict.fromkeys(("sheltered", "moderate", "exposed"), given.get("years"))
    return ServiceLife(**{"material": NAME, "module": "B4", **alike, **rest})


def _end(given: Mapping[str, object]) -> EndOfLife:
    """Return a row of the usual scenario of which nothing is assessed, but for what is given."""
    blank = dict.fromkeys(("c1", "mode", "distance", "c3", "c4", "d"))
    return EndOfLife(**{"scenario": "usual", "family": "family", "route": "landfill", **blank, **given})
