"""Reads what the sheet Project says of the client paper: colour and logo of the practice, options to show."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from takeoff.model.picture import PictureFile
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.nearest import nearest
from takeoff.workbook.picture_file import PictureError, read_picture
from takeoff.workbook.tables import Record

# Options that stand beside the base on one page.
MOST_SHOWN = 3
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def shown_options(settings: Mapping[str, Record]) -> tuple[str, ...]:
    """Return the names that the setting `client options` holds."""
    text = str(settings["client_options"].values["value"] or "")
    return tuple(name.strip() for name in text.split(";") if name.strip())


def client_problems(settings: Mapping[str, Record], options: Sequence[str] | None) -> list[WorkbookProblem]:
    """Return what is wrong with the colour of the practice and the options to show.

    `options` are the names of all options, the base first; None where they could not be read.
    """
    return [*_colour_problems(settings["practice_colour"]), *_option_problems(settings, options)]


def _colour_problems(record: Record) -> list[WorkbookProblem]:
    """Return the problem of a colour that is not written as one."""
    text = str(record.values["value"] or "")
    if not text or _COLOUR.fullmatch(text):
        return []
    return [
        at(
            record.origin,
            "value",
            found=f"{text!r} is no colour",
            expected="# and six digits or letters from a to f, such as #2f5d62",
        )
    ]


def _option_problems(settings: Mapping[str, Record], options: Sequence[str] | None) -> list[WorkbookProblem]:
    """Return names that are no option beside the base, or are too many."""
    record, names = settings["client_options"], shown_options(settings)
    problems = []
    if len(names) > MOST_SHOWN:
        problems.append(
            at(
                record.origin,
                "value",
                found=f"{len(names)} options to show the client",
                expected=f"{MOST_SHOWN} at most; the base is always shown",
            )
        )
    if options is None:
        return problems
    known = {name.lower() for name in options[1:]}
    for name in names:
        if name.lower() in known:
            continue
        meant = nearest(name, options[1:])
        is_base = name.lower() == options[0].lower()
        problems.append(
            at(
                record.origin,
                "value",
                found=f"{name!r} is the base, which is always shown" if is_base else f"no option {name!r}",
                expected="names of options besides the base, separated by semicolons",
                mend=f"Did you mean {meant!r}?" if meant and not is_base else "",
            )
        )
    return problems


def read_logo(
    settings: Mapping[str, Record], folder: Path
) -> tuple[PictureFile | None, list[WorkbookProblem]]:
    """Return the logo that stands in the folder of the workbook, None where none is named, and what is wrong."""
    record = settings["logo"]
    name = str(record.values["value"] or "")
    if not name:
        return None, []
    try:
        return read_picture(folder / name), []
    except PictureError as error:
        problem = at(
            record.origin,
            "value",
            found=f"logo {name}: {error}",
            expected="a PNG or JPEG picture in the folder of this workbook",
        )
        return None, [problem]
