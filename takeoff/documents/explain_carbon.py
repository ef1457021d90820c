"""The carbon of one item module by module: how each amount follows, and what is not assessed and why."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.assess.end_of_life import end_row, methane_beyond_its_co2
from takeoff.assess.lines import Line as BillLine
from takeoff.documents.explain_allowance import allowance_modules
from takeoff.documents.explain_conversion import Conversion, conversion
from takeoff.documents.explain_parts import Cell, Line, Section, cell, cells, metres, precise
from takeoff.documents.explain_rate import work_of
from takeoff.documents.explain_renewals import renewal_lines, renewed_words
from takeoff.documents.wording import NOT_ASSESSED, number, percent, unit_text
from takeoff.model.allowance import Allowance
from takeoff.model.house import Layer
from takeoff.model.job import Job
from takeoff.model.library import Material, Work
from takeoff.model.life_cycle import MODULES, CarbonFactor, EndOfLife, Module

HEADING = "Carbon by module"
_NAMES = {"a1a3": "A1-A3", "biogenic": "stored"}
_OWN = {"C1": "c1", "C2": "c2", "C3": "c3", "C4": "c4", "D": "d"}
_WASTED: tuple[Module, ...] = ("A1-A3", "A4", "C2", "C3", "C4")
_KGCO2E = "kgCO₂e"


@dataclass(frozen=True, slots=True)
class _Term:
    """A part of a module: the sum in words without its result, the amount [kgCO2e], the cells."""

    words: str
    amount: float
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Item:
    """An item with the rows that its carbon follows from; `mass` is that of what is built in [kg]."""

    job: Job
    line: BillLine
    material: Material | None
    factor: CarbonFactor | None
    turned: Conversion | None
    work: Work | None
    site_turned: Conversion | None
    end: EndOfLife | None

    @property
    def built_in(self) -> float:
        """What is built in, in the measured unit."""
        return self.line.ordered.built_in

    @property
    def mass(self) -> float | None:
        """The mass of what is built in [kg]."""
        return self.line.mass


def carbon_section(job: Job, line: BillLine, layer: Layer | None, allowance: Allowance | None) -> Section:
    """Return every module of an item: its amount, how it follows, its cells; then stored carbon and the source."""
    if allowance is not None:
        return Section(HEADING, (*renewal_lines(job, line, allowance), *allowance_modules(line, allowance)))
    item = _item(job, line, layer)
    lines = [*_ground(item), *renewal_lines(job, line, None)]
    lines += [_module(item, module) for module in MODULES]
    lines += _stored(item)
    if item.factor is not None:
        lines.append(_source(item.factor))
    return Section(HEADING, tuple(lines))


def _item(job: Job, line: BillLine, layer: Layer | None) -> _Item:
    """Return an item with its rows."""
    library, quantity = job.library, line.quantity
    material = library.materials.get(quantity.material)
    factor = library.carbon.get(quantity.material)
    work = work_of(line, library)
    return _Item(
        job=job,
        line=line,
        material=material,
        factor=factor,
        turned=None if factor is None else conversion(quantity, material, factor.a1a3.per, layer),
        work=work,
        site_turned=None if work is None else conversion(quantity, material, work.hours.per, layer),
        end=None if material is None else end_row(material.family, job.study.end_of_life, library),
    )


def _ground(item: _Item) -> list[Line]:
    """Return what all modules go by: built in, wasted, the conversion into the unit of the factor, the mass."""
    line, unit = item.line, unit_text(item.line.quantity.unit)
    lines = [
        Line("built in", f"{metres(item.built_in)} {unit}"),
        Line("wasted", f"{metres(line.ordered.wastage)} {unit}, charged and not built in"),
    ]
    factor, turned = item.factor, item.turned
    if factor is not None and turned is not None and factor.a1a3.per != line.quantity.unit:
        lines.append(
            Line("conversion", f"{unit_text(factor.a1a3.per)} in one {unit}: {turned.text}", turned.cells)
        )
    mass = NOT_ASSESSED if item.mass is None else f"{metres(item.mass)} kg of what is built in"
    lines.append(Line("mass", mass))
    row = item.end
    if row is None:
        return lines
    family = cells(cell(row.origin, "family", f"row of the family, scenario {row.scenario}", row.family))
    return [*lines, Line("end of life", f"{row.family}: {row.route}", family)]


def _amount(value: float) -> str:
    """Return an amount of carbon with the unit."""
    return f"{number(value, 3)} {_KGCO2E}"


def _module(item: _Item, module: Module) -> Line:
    """Return one module: its terms and their sum, or the words that it is not assessed."""
    amount = item.line.carbon.of(module)
    if amount is None:
        return Line(module, f"{NOT_ASSESSED}: {_why_not(item, module)}")
    terms = _terms(item, module)
    words = " + ".join(term.words for term in terms) or "nothing"
    return Line(
        module, f"{words} = {_amount(amount)}", cells(*(each for term in terms for each in term.cells))
    )


def _why_not(item: _Item, module: Module) -> str:
    """Return why a module is not assessed, as far as it is known."""
    if module == "A5 site":
        return "neither the carbon factor nor the labour row gives any"
    if item.material is None or item.material.family == "work only":
        return "it takes no material"
    if item.factor is None and module in ("A1-A3", "A4", "A5 wastage", "B3"):
        return "the material has no row in the sheet Carbon factors"
    if module == "A4":
        return "no mass is known" if item.mass is None else "the factor's row gives no way to the site"
    if module == "B4" and item.line.renewal is None:
        return "the material has no service life, and goes with no layer that has one"
    if module in ("B2", "B3"):
        return "the factor's row gives no upkeep, and no renewal counts here"
    if module in _OWN:
        return "neither the factor's row nor that of the family in the sheet End of life gives any"
    return "a renewal is not assessed" if item.line.renewal is not None else "nothing gives any"


def _terms(item: _Item, module: Module) -> list[_Term]:
    """Return the terms that a module is the sum of."""
    if module == "A5 wastage":
        return _wastage(item)
    if module == "A5 site":
        return _site(item)
    if module in ("B2", "B3", "B4"):
        return _use(item, module)
    per_unit = _once(item, module)
    return [] if per_unit is None else [per_unit]


def _once(item: _Item, module: Module) -> _Term | None:
    """Return the term of a module that goes with what is built in, None where nothing tells it."""
    factor, turned, mass = item.factor, item.turned, item.mass
    if factor is not None and turned is not None:
        if module == "A1-A3":
            return _declared(item, "a1a3", factor.a1a3.value)
        own = getattr(factor, _OWN[module]) if module in _OWN else None
        if own is not None:
            return _declared(item, _OWN[module], own)
    if module == "A4" and factor is not None and mass is not None:
        return _carried(item, factor.mode, factor.distance, factor)
    return None if item.end is None or mass is None else _of_family(item, item.end, module, mass)


def _declared(item: _Item, field: str, value: float, times: str = "", factor_of: float = 1.0) -> _Term:
    """Return a value of the factor's row times conversion and what is built in."""
    factor, turned = item.factor, item.turned
    assert factor is not None
    assert turned is not None
    words = f"{metres(item.built_in)} x {precise(turned.factor)} x {precise(value)}{times}"
    found = cell(
        factor.origin,
        field,
        f"{_NAMES.get(field, field.upper())} {precise(value)} {_KGCO2E}/{factor.a1a3.per}",
        value,
    )
    return _Term(words, item.built_in * turned.factor * value * factor_of, cells(found))


def _carried(
    item: _Item, mode: str | None, distance: float | None, row: CarbonFactor | EndOfLife
) -> _Term | None:
    """Return the carriage of what is built in: mass x distance x factor of the mode."""
    if mode is None or distance is None or item.mass is None:
        return None
    way = item.job.library.transport[mode]
    tonne = way.factor * 1e6
    return _Term(
        f"{metres(item.mass)} kg x {precise(distance / 1000)} km x {precise(tonne)} {_KGCO2E}/(t km) / 1000",
        item.mass * distance * way.factor,
        cells(
            cell(row.origin, "mode", mode, mode),
            cell(row.origin, "distance", f"distance {precise(distance / 1000)} km", distance),
            cell(way.origin, "factor", f"{precise(tonne)} {_KGCO2E}/(t km)", way.factor),
        ),
    )


def _of_family(item: _Item, row: EndOfLife, module: Module, mass: float) -> _Term | None:
    """Return the end of life by the row of the family in the scenario of the study."""
    if module == "C2":
        return _carried(item, row.mode, row.distance, row)
    field = _OWN.get(module)
    value = None if field is None else getattr(row, field)
    stored = -item.line.carbon.stored
    methane = (
        methane_beyond_its_co2(stored, released=row.released, methane=row.methane) if module == "C4" else 0.0
    )
    if field is None or (value is None and not methane):
        return None
    words = f"{metres(mass)} kg x {precise(value or 0.0)}"
    told = f"{module} {precise(value or 0.0)} {_KGCO2E}/kg"
    found = [None if value is None else cell(row.origin, field, told, value)]
    if methane:
        words += f" + methane of decay {number(methane, 3)}"
        found.append(cell(row.origin, "methane", f"methane {percent(row.methane)}", row.methane))
    return _Term(words, mass * (value or 0.0) + methane, cells(*found))


def _wastage(item: _Item) -> list[_Term]:
    """Return A5 wastage: what A1-A3, A4 and C2 to C4 of one unit are, times what is wasted."""
    known = {module: term.amount for module in _WASTED if (term := _once(item, module)) is not None}
    each = sum(known.values()) / item.built_in
    wasted = item.line.ordered.wastage
    words = f"{metres(wasted)} x {precise(each)} for one unit of {', '.join(known)}"
    return [_Term(words, wasted * each, ())]


def _site(item: _Item) -> list[_Term]:
    """Return A5 site: that of the factor's row on what is built in, that of the labour row on net."""
    terms = []
    if item.factor is not None and item.turned is not None and item.factor.a5 is not None:
        terms.append(_declared(item, "a5", item.factor.a5))
    work, turned, net = item.work, item.site_turned, item.line.quantity.net
    if work is not None and work.site_carbon is not None and turned is not None:
        amount = net * turned.factor * work.site_carbon
        words = f"net {metres(net)} x {precise(turned.factor)} x {precise(work.site_carbon)} of site work"
        told = f"site carbon {precise(work.site_carbon)} {_KGCO2E}/{work.hours.per}"
        terms.append(_Term(words, amount, cells(cell(work.origin, "site_carbon", told, work.site_carbon))))
    return terms


def _use(item: _Item, module: Module) -> list[_Term]:
    """Return B2 to B4: upkeep of every year by the factor's row, and the renewals that count there."""
    terms = []
    field = {"B2": "b2", "B3": "b3"}.get(module)
    yearly = None if field is None or item.factor is None else getattr(item.factor, field)
    if field is not None and yearly is not None and item.turned is not None:
        years = item.job.study.period
        terms.append(_declared(item, field, yearly, f" x {years:g} years", years))
    words = renewed_words(item.line, module)
    return [*terms, _Term(words, 0.0, ())] if words else terms


def _stored(item: _Item) -> list[Line]:
    """Return the carbon that wood stores, apart from the modules."""
    carbon, material, factor, mass = item.line.carbon, item.material, item.factor, item.mass
    if not carbon.stored:
        return []
    total = f"{number(carbon.stored, 3)} kgCO₂"
    if factor is not None and factor.biogenic is not None and item.turned is not None:
        term = _declared(item, "biogenic", factor.biogenic)
        return [Line("stored", f"{term.words} = {total}, apart from the modules", term.cells)]
    assert material is not None
    assert mass is not None
    words = (
        f"{metres(mass)} kg x {percent(material.wood_share, 0)} wood x 44/12 x "
        f"{precise(material.carbon_fraction)} / (1 + {percent(material.moisture, 0)})"
    )
    found = cells(
        cell(material.origin, "wood_share", f"wood {percent(material.wood_share, 0)}", material.wood_share),
        cell(material.origin, "moisture", f"moisture {percent(material.moisture, 0)}", material.moisture),
    )
    return [Line("stored", f"-({words}) = {total}, apart from the modules", found)]


def _source(factor: CarbonFactor) -> Line:
    """Return where the factor comes from and how far it can be relied on."""
    parts = (
        factor.source,
        factor.year,
        factor.country,
        f"standard: {factor.standard}",
        f"standing: {factor.standing}",
    )
    return Line(
        "source",
        "; ".join(part for part in parts if part),
        cells(
            cell(factor.origin, "source", "source", factor.source),
            cell(factor.origin, "standing", "standing", factor.standing),
        ),
    )
