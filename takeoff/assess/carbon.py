"""The carbon of an item by module, renewals left out: what is built in once, used and taken away."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.assess.converter import Converter
from takeoff.assess.end_of_life import EndOfKg, end_of_kg, end_row
from takeoff.assess.lines import Carbon
from takeoff.assess.parts import Input, Part, sum_of
from takeoff.assess.pricing import quantity_inputs
from takeoff.assess.stored_carbon import stored_per_kg
from takeoff.cutting.order import OrderedQuantity
from takeoff.model.library import Library, Material, Work
from takeoff.model.life_cycle import CarbonFactor, Module
from takeoff.model.study import Study


@dataclass(frozen=True, slots=True, kw_only=True)
class _Item:
    """One item with everything its carbon follows from; `mass` is that of one unit [kg], `into` converts."""

    ordered: OrderedQuantity
    material: Material | None
    work: Work | None
    factor: CarbonFactor | None
    per_unit: float | None
    mass: float | None
    into: Converter
    library: Library
    study: Study

    def part(self, module: Module, amount: float, *inputs: Input) -> Part:
        """Return a part of a module, which goes with the measured quantity as well."""
        return Part(amount, (*inputs, *quantity_inputs(self.material)), module)

    @property
    def factor_input(self) -> Input:
        """The carbon factor of the material."""
        return Input("factor", self.ordered.quantity.material)


def carbon_of(
    ordered: OrderedQuantity,
    material: Material | None,
    work: Work | None,
    library: Library,
    into: Converter,
    mass: float | None,
    study: Study,
) -> tuple[Carbon, tuple[Part, ...]]:
    """Return the carbon of an item by module, and its parts; renewals are left out.

    A1-A3, A4, B2, B3 (maintenance and repair of every year), C and D are those of what is built in. A5 wastage is
    A1-A3, A4, C2, C3 and C4 of what is bought and not built in, of what is assessed; A5 site follows the labour row and
    the factor's own A5. A module of the factor itself counts before that of the sheet End of life. `mass` is that of
    one unit [kg].

    Source: EN 15978 modules; wastage as in the wastage factor of `takeoff.cutting.allowance`; its end of life
    from memory of the usual guidance.
    """
    factor = library.carbon.get(ordered.quantity.material)
    per_unit = None if factor is None else into.to(factor.a1a3.per, factor.origin, "unit", "the factor")
    item = _Item(
        ordered=ordered,
        material=material,
        work=work,
        factor=factor,
        per_unit=per_unit,
        mass=mass,
        into=into,
        library=library,
        study=study,
    )
    stored_in_unit = _stored_in_unit(item)
    end = _end(item, stored_in_unit)
    parts = (*_product_and_site(item, end), *_use(item), *_end_parts(item, end))
    carbon = Carbon(
        a1a3=sum_of(parts, "A1-A3"),
        a4=sum_of(parts, "A4"),
        a5_wastage=sum_of(parts, "A5 wastage"),
        a5_site=sum_of(parts, "A5 site"),
        b2=sum_of(parts, "B2"),
        b3=sum_of(parts, "B3"),
        c1=sum_of(parts, "C1"),
        c2=sum_of(parts, "C2"),
        c3=sum_of(parts, "C3"),
        c4=sum_of(parts, "C4"),
        d=sum_of(parts, "D"),
        land_use=_declared(item, None if factor is None else factor.land_use),
        stored=-ordered.built_in * stored_in_unit,
        released=None
        if end.released is None and stored_in_unit
        else ordered.built_in * stored_in_unit * (end.released or 0.0),
    )
    return carbon, parts


def _declared(item: _Item, value: float | None) -> float | None:
    """Return what a value of the factor's row comes to for what is built in, None where it is not assessed."""
    if value is None or item.per_unit is None:
        return None
    return value * item.per_unit * item.ordered.built_in


def _stored_in_unit(item: _Item) -> float:
    """Return the CO2 stored in one unit, above nought: as declared, else from the wood share by EN 16449 [kgCO2]."""
    if item.factor is not None and item.factor.biogenic is not None and item.per_unit is not None:
        return -item.factor.biogenic * item.per_unit
    material = item.material
    if material is None or item.mass is None or not material.wood_share:
        return 0.0
    per_kg = stored_per_kg(moisture=material.moisture, carbon_fraction=material.carbon_fraction)
    return item.mass * material.wood_share * per_kg


def transport_per_kg(factor: CarbonFactor, library: Library) -> float | None:
    """Return the carbon of bringing one kg to the site [kgCO2e/kg], None where it is not assessed."""
    if factor.mode is None or factor.distance is None:
        return None
    return library.transport[factor.mode].factor * factor.distance


def _product_and_site(item: _Item, end: _End) -> list[Part]:
    """Return the parts of A1 to A5."""
    factor, ordered, parts = item.factor, item.ordered, list[Part]()
    if factor is not None and item.per_unit is not None:
        product = factor.a1a3.value * item.per_unit
        parts.append(item.part("A1-A3", ordered.built_in * product, item.factor_input))
        wasted = [(product, item.factor_input)]
        way = transport_per_kg(factor, item.library)
        if way is not None and item.mass is not None and factor.mode is not None:
            carried = Input("transport", factor.mode)
            parts.append(item.part("A4", ordered.built_in * way * item.mass, carried))
            wasted.append((way * item.mass, carried))
        wasted += [
            (amount, source)
            for module, (amount, source) in end.modules.items()
            if module in ("C2", "C3", "C4")
        ]
        parts += [item.part("A5 wastage", ordered.wastage * amount, source) for amount, source in wasted]
        own = _declared(item, factor.a5)
        if own is not None:
            parts.append(item.part("A5 site", own, item.factor_input))
    work = item.work
    if work is not None and work.site_carbon is not None:
        conversion = item.into.to(work.hours.per, work.origin, "unit", "the site carbon")
        if conversion is not None:
            amount = ordered.quantity.net * work.site_carbon * conversion
            parts.append(item.part("A5 site", amount, Input("site work", work.name)))
    return parts


def _use(item: _Item) -> list[Part]:
    """Return maintenance and repair over the study period, where the factor states those of a year."""
    if item.factor is None:
        return []
    cared = Input("maintenance", item.ordered.quantity.material)
    years = item.study.period
    modules: tuple[tuple[Module, float | None], ...] = (("B2", item.factor.b2), ("B3", item.factor.b3))
    return [
        item.part(module, amount * years, cared)
        for module, yearly in modules
        if (amount := _declared(item, yearly)) is not None
    ]


@dataclass(frozen=True, slots=True)
class _End:
    """The end of life of one unit by module, each with the input it follows; `released` is the share let go."""

    modules: dict[Module, tuple[float, Input]]
    released: float | None


def _end(item: _Item, stored_in_unit: float) -> _End:
    """Return the end of life of one unit: the factor's own modules, else those of the family in the scenario."""
    modules: dict[Module, tuple[float, Input]] = {}
    material = item.material
    row = None if material is None else end_row(material.family, item.study.end_of_life, item.library)
    if row is not None and item.mass is not None and material is not None:
        stored = stored_in_unit / item.mass if item.mass else 0.0
        of_kg: EndOfKg = end_of_kg(row, stored=stored, library=item.library)
        family = Input("end of life", material.family)
        carried = family if row.mode is None else Input("transport", row.mode)
        modules = {
            module: (amount * item.mass, carried if module == "C2" else family)
            for module, amount in of_kg.items()
        }
    if item.factor is not None and item.per_unit is not None:
        own: tuple[tuple[Module, float | None], ...] = (
            ("C1", item.factor.c1),
            ("C2", item.factor.c2),
            ("C3", item.factor.c3),
            ("C4", item.factor.c4),
            ("D", item.factor.d),
        )
        modules |= {
            module: (value * item.per_unit, item.factor_input) for module, value in own if value is not None
        }
    return _End(modules, None if row is None else row.released)


def _end_parts(item: _Item, end: _End) -> list[Part]:
    """Return the parts of C1 to C4 and D of what is built in."""
    return [
        item.part(module, item.ordered.built_in * amount, source)
        for module, (amount, source) in end.modules.items()
    ]
