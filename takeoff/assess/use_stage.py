"""Renewals of every item over the study period, with the layer each belongs to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from takeoff.assess.allowances import AssessedAllowance
from takeoff.assess.lines import Carbon, Line
from takeoff.assess.parts import Part
from takeoff.assess.renewal import Renewal, renewal_years, renewals, whole_renewals
from takeoff.measure.quantity import Quantity
from takeoff.model.exposure import exposure_of, worst_of
from takeoff.model.house import House
from takeoff.model.library import Library
from takeoff.model.life_cycle import END, UPFRONT, Exposure, Module, RenewalModule, ServiceLife
from takeoff.model.study import Study

# What one renewal takes: what is new, fixed, and the end of life of what it replaces.
_OF_ONE_RENEWAL: tuple[Module, ...] = (*UPFRONT, *END)
# An item that is renewed with its layer only lasts as long as that does.
_AS_LONG_AS_ITS_LAYER = math.inf


@dataclass(frozen=True, slots=True)
class _Life:
    """The service life of an item in its place; `row` is None where it has none of its own."""

    row: ServiceLife | None
    exposure: Exposure
    years: float


def with_renewals(
    lines: Sequence[Line],
    *,
    house: House,
    library: Library,
    study: Study,
    among: Sequence[Line] | None = None,
) -> list[Line]:
    """Return the items with their renewals over the study period.

    The life of an item is that of its material under the exposure of where it meets the weather, the worst of them
    where it meets it on several sides; inside it is sheltered. A layer that the build-up renews with another is
    renewed with it too, counts in its module then, and its own life begins anew. What has neither a life nor such a
    layer is not assessed. `among` are all items of the house, where `lines` are only some of them.

    Source: EN 15978, modules B2 to B4; that claddings bring their coats and fixings is common practice, no source.
    """
    every = lines if among is None else among
    hosts = _hosts(every)
    lives = {
        line.quantity.id: life for line in every if (life := _life(line.quantity, house, library)) is not None
    }
    return [_renewed(line, hosts.get(line.quantity.id), lives, study) for line in lines]


def exposure_at(quantity: Quantity, house: House) -> Exposure:
    """Return the exposure of an item: the roof takes all sun and weather, what is inside none."""
    return worst_of(
        ["exposed" if place == "roof" else exposure_of(house, place) for place in quantity.weather]
    )


def _life(quantity: Quantity, house: House, library: Library) -> _Life | None:
    """Return the life of an item by itself, None where its material has none."""
    row = library.lives.get(quantity.material)
    if row is None:
        return None
    exposure = exposure_at(quantity, house)
    return _Life(row, exposure, row.years(exposure))


def _hosts(lines: Iterable[Line]) -> dict[str, Quantity]:
    """Return the item that each item is renewed with, by id.

    It is the layer of that number in the same place, else the only one of that number in the same build-up.
    """
    by_layer: dict[tuple[str, int], list[Quantity]] = {}
    for line in lines:
        built = line.quantity.built_in
        if built is not None:
            by_layer.setdefault((built.build_up, built.layer), []).append(line.quantity)
    hosts: dict[str, Quantity] = {}
    for line in lines:
        built = line.quantity.built_in
        if built is None or built.renewed_with is None:
            continue
        candidates = by_layer.get((built.build_up, built.renewed_with), [])
        here = [q for q in candidates if q.built_in is not None and q.built_in.assembly == built.assembly]
        found = here or candidates
        if len(found) == 1:
            hosts[line.quantity.id] = found[0]
    return hosts


def _renewed(line: Line, host: Quantity | None, lives: dict[str, _Life], study: Study) -> Line:
    """Return one item with its renewals, where it has any to count."""
    own = lives.get(line.quantity.id)
    host_life = None if host is None else lives.get(host.id)
    if not line.needs_carbon or (own is None and host_life is None):
        return line
    row = own.row if own else None
    leading = own or host_life
    assert leading is not None
    renewal = renewal_of(
        line,
        material=line.quantity.material,
        life=own.years if own else _AS_LONG_AS_ITS_LAYER,
        exposure=leading.exposure,
        module=row.module if row else "B4",
        share=row.share if row else 1.0,
        taking_down=row.taking_down if row else 0.0,
        study=study,
        host=host if host_life else None,
        host_life=host_life.years if host_life else None,
        host_module=_module_of(host_life),
    )
    return with_renewal(line, renewal)


def _module_of(life: _Life | None) -> RenewalModule | None:
    """Return where the renewals of a life count."""
    return None if life is None or life.row is None else life.row.module


def renewal_of(
    line: Line,
    *,
    material: str,
    life: float,
    exposure: Exposure,
    module: RenewalModule,
    share: float,
    taking_down: float,
    study: Study,
    host: Quantity | None = None,
    host_life: float | None = None,
    host_module: RenewalModule | None = None,
) -> Renewal:
    """Return how an item is renewed: counts both ways, the years, and what one renewal takes.

    One renewal of all of it costs what the item cost, and `taking_down` of its labour besides; its carbon is A1 to
    A5 of the new and C of what it replaces. Lives are in years.
    """
    years = tuple(
        (year, 1.0 if with_host else share, (host_module or module) if with_host else module)
        for year, with_host in renewal_years(life, study.period, host_life)
    )
    hosts = None if host_life is None else np.array([host_life])
    counts = renewals(np.array([life]), study.period, hosts, annualised=True)
    annualised = float(counts.own[0]) * share + float(counts.with_host[0])
    whole = sum(weight for _, weight, _ in years)
    is_annualised = study.replacements == "annualised"
    hosts_whole = 0 if host_life is None else whole_renewals(host_life, study.period)
    parts = tuple(
        Part(part.amount, part.inputs, module) for part in line.carbon_parts if part.module in _OF_ONE_RENEWAL
    )
    cost = tuple(_with_taking_down(part, taking_down) for part in line.cost_parts)
    return Renewal(
        material=material,
        exposure=exposure,
        life=life,
        module=module,
        share=share,
        whole=whole,
        annualised=annualised,
        counted=annualised if is_annualised else whole,
        years=years,
        cost_each=sum(part.amount for part in cost),
        carbon_each=None if line.carbon.a1a3 is None else sum(part.amount for part in parts),
        cost_parts=cost,
        carbon_parts=parts if line.carbon.a1a3 is not None else (),
        host=None if host is None else host.id,
        host_material=None if host is None else host.material,
        host_life=host_life,
        host_module=host_module,
        counted_with_host=float(counts.with_host[0]) if is_annualised else float(hosts_whole),
    )


def _with_taking_down(part: Part, taking_down: float) -> Part:
    """Return a part of the cost of a renewal: labour grows by what taking down the old takes."""
    is_labour = any(source.kind == "gang" for source in part.inputs)
    return Part(part.amount * (1 + taking_down), part.inputs) if is_labour else part


def with_renewal(line: Line, renewal: Renewal) -> Line:
    """Return an item with its renewal and the modules and stored carbon that come of it."""
    carbon = line.carbon
    # what is renewed as maintenance is not replaced besides, so that no replacement is known to be nought
    modules: dict[RenewalModule, float | None] = {"B2": carbon.b2, "B3": carbon.b3, "B4": 0.0}
    for module, count in renewal.counts:
        if not count:
            modules[module] = modules[module] or 0.0
        elif renewal.carbon_each is None:
            modules[module] = None
        else:
            modules[module] = (modules[module] or 0.0) + renewal.carbon_each * count
    return replace(line, renewal=renewal, carbon=_with_modules(carbon, modules, renewal.counted))


def _with_modules(carbon: Carbon, modules: dict[RenewalModule, float | None], count: float) -> Carbon:
    """Return carbon with its use stage, and what renewals store and release."""
    return replace(
        carbon,
        b2=modules["B2"],
        b3=modules["B3"],
        b4=modules["B4"],
        renewed_stored=carbon.stored * count,
        renewed_released=None if carbon.released is None else carbon.released * count,
    )


def allowance_renewals(allowances: Iterable[AssessedAllowance], study: Study) -> list[AssessedAllowance]:
    """Return allowances with the renewals of those that state a service life.

    All of it is renewed, in module B4; its fixing goes with it. Without a service life it is not assessed.
    """
    renewed: list[AssessedAllowance] = []
    for each in allowances:
        life = each.allowance.service_life
        if life is None:
            renewed.append(each)
            continue
        supply, fixing = (
            None
            if line is None
            else with_renewal(line, _whole_renewal(line, each.allowance.name, life, study))
            for line in (each.line, each.fixing)
        )
        assert supply is not None
        renewed.append(replace(each, line=supply, fixing=fixing))
    return renewed


def _whole_renewal(line: Line, name: str, life: float, study: Study) -> Renewal:
    """Return the renewal of all that an allowance is for."""
    return renewal_of(
        line,
        material=name,
        life=life,
        exposure="sheltered",
        module="B4",
        share=1.0,
        taking_down=0.0,
        study=study,
    )
