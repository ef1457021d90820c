"""Finds what contradicts itself in the rows of carbon, prices, lives, end of life, spreads and benchmarks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import cast

from takeoff.model.allowance import SUM_KINDS
from takeoff.model.life_cycle import ALL, SpreadOf
from takeoff.model.problem import WorkbookProblem, at
from takeoff.model.study import Study
from takeoff.workbook.carbon_factors_sheet import CARBON_FACTORS, SCORES
from takeoff.workbook.factors_sheets import PRICES
from takeoff.workbook.field_words import message_number
from takeoff.workbook.fields import Sheet
from takeoff.workbook.life_cycle_sheets import BENCHMARKS, END_OF_LIFE, KEEPING_ROUTES, SERVICE_LIVES, SPREADS
from takeoff.workbook.material_kinds import FAMILIES, ITEM_CLASSES, WOOD_FAMILIES
from takeoff.workbook.range_checks import half_range, range_problems
from takeoff.workbook.references import unknown_name
from takeoff.workbook.study_sheet import LEAST_DISCOUNT_RATE
from takeoff.workbook.tables import Record

Tables = Mapping[str, "list[Record] | None"]

_SCORES = tuple(name for name, _, _ in SCORES)


def life_cycle_problems(tables: Tables) -> list[WorkbookProblem]:
    """Return what contradicts itself within the rows of the sheets of carbon over the whole life, and of prices."""
    problems: list[WorkbookProblem] = []

    def whole(sheet: Sheet) -> Iterator[Record]:
        return (record for record in tables.get(sheet.title) or () if record.complete)

    for sheet, name, numerator in (
        (CARBON_FACTORS, "a1a3", "kgCO2e"),
        (PRICES, "price", "currency"),
        (BENCHMARKS, "value", None),
    ):
        for record in whole(sheet):
            problems += range_problems(record, sheet, name, numerator)
    for sheet in (CARBON_FACTORS, PRICES, SERVICE_LIVES, BENCHMARKS):
        for record in whole(sheet):
            problems += half_range(record, sheet)
    for record in whole(CARBON_FACTORS):
        problems += _score_problems(record)
    for record in whole(SERVICE_LIVES):
        problems += _exposure_problems(record)
    for record in whole(END_OF_LIFE):
        problems += [*_way_problems(record), *_release_problems(record)]
    for record in whole(BENCHMARKS):
        problems += _period_problems(record)
    names = _names_of_spreads(tables)
    for record in whole(SPREADS):
        problems += _name_problems(record, names)
    return problems


def _score_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield the first score that is blank where others are not."""
    blank = [name for name in _SCORES if record.values[name] is None]
    if blank and len(blank) < len(_SCORES):
        yield at(
            record.origin,
            blank[0],
            found=f"{CARBON_FACTORS.field(blank[0]).title} is blank for {record.values['material']!r}, which has "
            "other scores",
            expected="all five scores, or none of them",
        )


def _exposure_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield the first life that is longer than one with less sun and weather."""
    material = record.values["material"]
    shorter, longest = "sheltered", cast("float", record.values["sheltered"])
    for name in ("moderate", "exposed"):
        life = cast("float | None", record.values[name])
        as_sheltered = name == "exposed" and life is None
        if as_sheltered:
            life = cast("float", record.values["sheltered"])
        if life is None:
            continue
        title = SERVICE_LIVES.field(name).title
        if life > longest:
            words = f"{title} of {message_number(life)} year for {material!r}"
            if as_sheltered:
                words = f"{title} is blank for {material!r}, so {message_number(life)} year as Sheltered"
            yield at(
                record.origin,
                name,
                found=f"{words}, longer than its {SERVICE_LIVES.field(shorter).title} of "
                f"{message_number(longest)} year",
                expected=f"at most {message_number(longest)} year, since nothing lasts longer for more sun and weather",
            )
            return
        shorter, longest = name, life


def _way_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield a way of carrying without a distance, and a distance without a way."""
    mode, distance = record.values["mode"], record.values["distance"]
    if (mode is None) == (distance is None):
        return
    blank, given = ("mode", "distance") if mode is None else ("distance", "mode")
    yield at(
        record.origin,
        blank,
        found=f"{END_OF_LIFE.field(blank).title} is blank, but {END_OF_LIFE.field(given).title} is filled in",
        expected="both for C2, or neither where it is not assessed",
    )


def _release_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield a landfill of wood that says nothing of decay, and a release in part where all of it leaves."""
    route, family = cast("str", record.values["route"]), cast("str", record.values["family"])
    released = cast("float", record.values["released"])
    if route == "landfill" and family in WOOD_FAMILIES and "released" not in record.typed:
        yield at(
            record.origin,
            "released",
            found=f"Released is blank for {family!r} in a landfill",
            expected="the share of its stored carbon that decays there, in %",
            mend="Write 100 where all of it is to count as decayed",
        )
    elif released < 1 and route not in KEEPING_ROUTES:
        yield at(
            record.origin,
            "released",
            found=f"Released of {message_number(released * 100)} % for {family!r} by the route {route!r}",
            expected="100 %, since what is burnt, reused or recycled leaves the system",
        )


def _period_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield a study period that the modules of a benchmark have no use for."""
    modules, period = record.values["modules"], record.values["study_period"]
    name = record.values["name"]
    if modules != "A-C" and period is not None:
        yield at(
            record.origin,
            "study_period",
            found=f"Study period is filled in for {name!r}, which covers {modules}",
            expected="a blank cell: those modules end when the house is built",
        )


def _names_of_spreads(tables: Tables) -> dict[SpreadOf, set[str] | None]:
    """Return the names each kind of input has; None where the sheet that holds them is missing."""

    def column(title: str, name: str) -> set[str] | None:
        records = tables.get(title)
        return None if records is None else {str(r.values[name]) for r in records if r.values.get(name)}

    works = column("Labour", "work")
    return {
        "price basis": set(PRICES.field("basis").choices),
        "labour constant": works,
        "gang rate": column("Gangs", "gang"),
        "quantity": set(ITEM_CLASSES),
        "allowance": set(SUM_KINDS),
        "transport": column("Transport", "mode"),
        "site work": works,
        "maintenance": column("Materials", "name"),
        "service life": column("Materials", "name"),
        "end of life": set(FAMILIES),
    }


def _name_problems(record: Record, names: Mapping[SpreadOf, set[str] | None]) -> Iterator[WorkbookProblem]:
    """Yield a name that no input of its kind has, so that its spread would go for nothing."""
    of, name = cast("SpreadOf", record.values["of"]), str(record.values["name"])
    known = names[of]
    if name == ALL or known is None or name in known:
        return
    yield unknown_name(record.origin, "name", name, f"{_KIND_WORDS[of]}, or all", known)


_KIND_WORDS: dict[SpreadOf, str] = {
    "price basis": f"a basis of prices ({', '.join(PRICES.field('basis').choices)})",
    "labour constant": "a row of the sheet Labour",
    "gang rate": "a row of the sheet Gangs",
    "quantity": "an item class",
    "allowance": f"a kind of allowance ({', '.join(SUM_KINDS)})",
    "transport": "a row of the sheet Transport",
    "site work": "a row of the sheet Labour",
    "maintenance": "a row of the sheet Materials",
    "service life": "a row of the sheet Materials",
    "end of life": "a family of materials",
}


def scenario_problems(
    study: Mapping[str, Record] | None, records: Sequence[Record] | None
) -> list[WorkbookProblem]:
    """Return the scenario of the study where the sheet End of life has none of that name.

    Where that sheet has no rows, nothing is assessed by it and the usual scenario stays unquestioned.
    """
    usual = Study().end_of_life
    known = {str(record.values["scenario"]) for record in records or () if record.values.get("scenario")}
    setting = None if study is None else study["end_of_life"]
    name = usual if setting is None else str(setting.values["value"])
    if name in known or (not known and name == usual):
        return []
    expected = "a name from the column Scenario of the sheet End of life"
    if setting is not None and setting.typed:
        return [unknown_name(setting.origin, "value", name, expected, known)]
    first = next(record for record in records or () if record.values.get("scenario"))
    return [
        at(
            first.origin,
            "scenario",
            found=f"no row of the scenario {usual!r}",
            expected="rows of the scenario that a study without one goes by",
            mend="Add them, or name one of the others in the sheet Study",
        )
    ]


def discount_problems(study: Mapping[str, Record] | None) -> list[WorkbookProblem]:
    """Return the discount rate of the study where it is so low that a share was typed for a percentage."""
    setting = None if study is None else study["discount_rate"]
    if setting is None or not setting.complete:
        return []
    rate, least = cast("float", setting.values["value"]), LEAST_DISCOUNT_RATE
    if not 0 < rate < least:
        return []
    meant = f"Did you mean {message_number(rate * 1e4)} %?" if rate * 100 >= least else ""
    return [
        at(
            setting.origin,
            "value",
            found=f"{message_number(rate * 100)} % a year",
            expected=f"0 %, or at least {message_number(least * 100)} %",
            mend=meant,
        )
    ]
