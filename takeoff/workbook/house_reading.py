"""Makes the house, its openings, palettes, practices and options from the records of its workbook."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

from takeoff.model.geometry import compass_of, side_from
from takeoff.model.house import (
    SIDES,
    Band,
    FramingPractice,
    House,
    LintelRow,
    Opening,
    Option,
    Palette,
)
from takeoff.model.library import Project
from takeoff.model.picture import PictureFile
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.client_reading import shown_options
from takeoff.workbook.options_sheet import OptionColumn
from takeoff.workbook.tables import Record


def build_project(settings: Mapping[str, Record], logo: PictureFile | None = None) -> Project:
    """Return the particulars of the project; `logo` is the picture that its setting names."""
    values = {name: record.values["value"] for name, record in settings.items()}
    exclusions = tuple(
        part.strip() for part in str(values.pop("exclusions") or "").split(";") if part.strip()
    )
    values |= {"logo": logo, "client_options": shown_options(settings)}
    return Project(**cast("dict[str, Any]", values), exclusions=exclusions)


def build_house(settings: Mapping[str, Record]) -> House:
    """Return the house, each setting with the row it came from."""
    values = {name: record.values["value"] for name, record in settings.items()}
    origin = {name: record.origin for name, record in settings.items()}
    return House(**cast("dict[str, Any]", values), origin=origin)


def build_openings(records: list[Record], house: House) -> tuple[list[Opening], list[WorkbookProblem]]:
    """Return the openings with their sides resolved, and those on no side of the house."""
    openings: list[Opening] = []
    problems: list[WorkbookProblem] = []
    for record in records:
        if not record.complete:
            continue
        values = cast("dict[str, Any]", dict(record.values))
        missing = _missing(record)
        if missing:
            problems += missing
            continue
        side = side_from(house, values["side"])
        if side is None:
            faces = ", ".join(compass_of(house, own) for own in SIDES)
            problems.append(
                at(
                    record.origin,
                    "side",
                    found=f"no wall faces {values['side']}",
                    expected=f"low, high, left, right or one of {faces}",
                    mend=f"The high side faces {house.high_side_faces}",
                )
            )
            continue
        for name in ("room", "other_room"):
            del values[name]
        openings.append(Opening(**{**values, "side": side}, origin=record.origin))
    return openings, problems


def _missing(record: Record) -> list[WorkbookProblem]:
    """Return what an opening of an external wall lacks, or can't be."""
    problems = [
        at(record.origin, name, found=f"{title} is blank", expected=expected)
        for name, title, expected in (
            ("side", "Side", "a side for an opening of an external wall, or two rooms for one between them"),
            ("position", "Position", "a number in m"),
            ("unit_type", "Unit type", "a name from the column Materials, Material"),
        )
        if record.values.get(name) is None
    ]
    if record.values.get("kind") == "opening":
        problems.append(
            at(
                record.origin,
                "kind",
                found="an opening without a unit in an external wall",
                expected="window, sliding door or door",
            )
        )
    return problems


def build_palettes(records: list[Record]) -> tuple[dict[str, Palette], list[WorkbookProblem]]:
    """Return the palettes by name, and bands that are only half described."""
    palettes: dict[str, Palette] = {}
    problems: list[WorkbookProblem] = []
    for record in records:
        if not record.complete:
            continue
        values = cast("dict[str, Any]", record.values)
        names = ("band", "band_sides", "band_from", "band_to")
        given = [name for name in names if values[name] is not None]
        band = None
        if given and len(given) < len(names):
            missing = next(name for name in names if values[name] is None)
            problems.append(
                at(
                    record.origin,
                    missing,
                    found=f"the band of {values['palette']!r} is only half described",
                    expected="Band, Band sides, Band from and Band to, or none of them",
                )
            )
        elif given:
            band = Band(
                build_up=values["band"],
                sides=values["band_sides"],
                bottom=values["band_from"],
                top=values["band_to"],
            )
        palettes[values["palette"]] = Palette(
            name=values["palette"],
            low=values["low"],
            high=values["high"],
            left=values["left"],
            right=values["right"],
            band=band,
            origin=record.origin,
        )
    return palettes, problems


def build_practices(records: list[Record]) -> dict[str, FramingPractice]:
    """Return the framing practices by name."""
    practices: dict[str, FramingPractice] = {}
    for record in records:
        if record.complete:
            values = cast("dict[str, Any]", dict(record.values))
            name = values.pop("practice")
            practices[name] = FramingPractice(name=name, **values, origin=record.origin)
    return practices


def build_lintels(records: list[Record]) -> tuple[LintelRow, ...]:
    """Return the rows of the lintel table."""
    return tuple(
        LintelRow(**cast("dict[str, Any]", record.values), origin=record.origin)
        for record in records
        if record.complete
    )


def build_options(columns: list[OptionColumn]) -> tuple[Option, ...]:
    """Return the options, the first of them the base."""
    return tuple(
        Option(
            name=column.name,
            changes=column.changes,
            description=column.description,
            shown=tuple(column.shown),
            origin=column.cells,
        )
        for column in columns
    )
