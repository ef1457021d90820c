"""Puts rows of the Build-ups sheet together into build-ups, and checks that each can be measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, cast

from takeoff.model.house import BuildUp, Layer, Part
from takeoff.model.measuring_ways import WAYS
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.field_words import message_number
from takeoff.workbook.tables import Record

_FRAMED: tuple[Part, ...] = ("external wall", "internal wall", "party wall", "roof")
_BOUNDED: tuple[Part, ...] = ("external wall", "internal wall", "party wall", "wall lining")


def read_build_ups(
    records: list[Record], materials: Mapping[str, Record]
) -> tuple[dict[str, BuildUp], list[WorkbookProblem]]:
    """Return the build-ups by name and what is wrong with them.

    Rows that could not be read whole are left out (their problems are known already).
    """
    problems: list[WorkbookProblem] = []
    groups: dict[str, list[Record]] = {}
    for record in records:
        name = record.values.get("build_up")
        if name:
            groups.setdefault(str(name), []).append(record)
    build_ups: dict[str, BuildUp] = {}
    for name, rows in groups.items():
        parts = {str(row.values["part"]) for row in rows if row.values.get("part")}
        if len(parts) > 1:
            problems.append(
                at(
                    rows[-1].origin,
                    "part",
                    found=f"build-up {name!r} is of the parts {' and '.join(sorted(parts))}",
                    expected="one part for all layers of a build-up",
                )
            )
        complete = [row for row in rows if row.complete]
        if not complete or len(parts) != 1:
            continue
        part = cast(Part, parts.pop())
        for row in complete:
            problems += _layer_problems(row, part, materials)
            problems += _renewal_problems(row, rows)
        layers = tuple(sorted((_layer(row) for row in complete), key=lambda layer: layer.number))
        build_ups[name] = BuildUp(name, part, layers)
        if len(complete) == len(rows):
            problems += _frame_problem(build_ups[name], rows[0])
    return build_ups, problems


def _layer(row: Record) -> Layer:
    """Return one row as a layer."""
    values = cast("dict[str, Any]", row.values)
    return Layer(
        number=values["layer"],
        material=values["material"],
        thickness=values["thickness"],
        measured_by=values["measured_by"],
        direction=values["direction"],
        spacing=values["spacing"],
        rate=1.0 if values["rate"] is None else values["rate"],
        bottom=values["bottom"],
        top=values["top"],
        renewed_with=values["renewed_with"],
        note=values["note"],
        origin=row.origin,
    )


def _layer_problems(row: Record, part: Part, materials: Mapping[str, Record]) -> Iterator[WorkbookProblem]:
    """Yield what keeps a layer from being measured the way it says."""
    way = WAYS[str(row.values["measured_by"])]
    if part not in way.parts:
        yield at(
            row.origin,
            "measured_by",
            found=f"{way.name!r} in a build-up of the part {part}",
            expected=f"a way for the part {part}",
            mend=f"{way.name!r} is for {', '.join(way.parts)}",
        )
    for needed, name in (
        (way.needs_direction, "direction"),
        (way.needs_spacing, "spacing"),
        (way.needs_rate, "rate"),
        (way.needs_thickness, "thickness"),
    ):
        if needed and row.values.get(name) is None:
            yield at(
                row.origin, name, found=f"{name.capitalize()} is blank", expected=f"one, for {way.name!r}"
            )
    yield from _bound_problems(row, part)
    material = materials.get(str(row.values["material"]))
    if material is None or not material.complete:
        return
    for name in way.material_needs:
        if not material.values.get(name):
            yield at(
                material.origin,
                name,
                found=f"{name.capitalize()} of {row.values['material']!r} is blank",
                expected=f"a size, for a layer measured by {way.name!r}",
            )


def _bound_problems(row: Record, part: Part) -> Iterator[WorkbookProblem]:
    """Yield problems of the heights between which a layer lies."""
    bottom, top = row.values.get("bottom"), row.values.get("top")
    for name, value in (("bottom", bottom), ("top", top)):
        if value is not None and part not in _BOUNDED:
            yield at(
                row.origin,
                name,
                found=f"a height in a build-up of the part {part}",
                expected="blank: heights bound layers of walls and wall linings",
            )
    if isinstance(bottom, float) and isinstance(top, float) and top <= bottom:
        yield at(
            row.origin,
            "top",
            found=f"a layer from {message_number(bottom)} to {message_number(top)} m",
            expected="its head above its foot",
        )


def _renewal_problems(row: Record, rows: list[Record]) -> Iterator[WorkbookProblem]:
    """Yield a layer renewed with one that is not there, with itself, or with one that follows another in turn."""
    number = row.values.get("renewed_with")
    if number is None:
        return
    name = row.values["build_up"]
    host = next((other for other in rows if other.values.get("layer") == number), None)
    if host is None:
        numbers = sorted(cast("int", o.values["layer"]) for o in rows if o.values.get("layer") is not None)
        yield at(
            row.origin,
            "renewed_with",
            found=f"renewed with layer {number}, which {name!r} does not have",
            expected=f"one of its layers {', '.join(map(str, numbers))}",
        )
    elif number == row.values["layer"]:
        yield at(
            row.origin,
            "renewed_with",
            found=f"layer {number} of {name!r} is renewed with itself",
            expected="the number of another layer",
            mend="Leave the cell blank: its own life is in the sheet Service lives",
        )
    elif (further := host.values.get("renewed_with")) is not None and further != number:
        yield at(
            row.origin,
            "renewed_with",
            found=f"renewed with layer {number} of {name!r}, which is itself renewed with layer {further}",
            expected="a layer that is renewed by itself",
            mend=f"Name layer {further} here too" if further != row.values["layer"] else "",
        )


def _frame_problem(build_up: BuildUp, row: Record) -> Iterator[WorkbookProblem]:
    """Yield a problem where a wall or roof has no frame or two, or a frame that can't be set out."""
    if build_up.part not in _FRAMED:
        return
    frames = [layer for layer in build_up.layers if layer.measured_by == "frame"]
    if len(frames) != 1:
        yield at(
            row.origin,
            "build_up",
            found=f"{len(frames) or 'no'} layers measured by 'frame' in {build_up.name!r}",
            expected="exactly one, the framing itself",
        )
        return
    if build_up.part in ("internal wall", "party wall") and not frames[0].thickness:
        yield at(
            frames[0].origin,
            "thickness",
            found=f"Thickness of the frame of {build_up.name!r} is blank",
            expected="the depth of its studs",
        )
    if build_up.part == "party wall":
        for layer in build_up.layers[: build_up.layers.index(frames[0])]:
            if not layer.thickness:
                yield at(
                    layer.origin,
                    "thickness",
                    found=f"Thickness of {layer.material!r} before the frame of {build_up.name!r} is blank",
                    expected="the depth it takes of the gap between the leaves",
                )
    if build_up.part == "internal wall" and build_up.layers[0] is not frames[0]:
        yield at(
            build_up.layers[0].origin,
            "measured_by",
            found=f"{build_up.layers[0].measured_by!r} before the frame of {build_up.name!r}",
            expected="the frame first: layers after it lie on both faces",
        )
