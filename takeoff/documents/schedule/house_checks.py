"""The house as the model measured it, on the sheet Checks: what the controls of geometry compare with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.controls import FLASHING, REVEAL, UNIT, cladding_tag
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

_HOUSE = (
    Column(key="number", title="", width=6, look="count"),
    Column(key="what", title="The house as measured", width=52),
    Column(key="tag", title="", width=17, look="small"),
    Column(key="value", title="Value", width=15, look="dimension", role="input"),
    Column(key="unit", title="", width=15),
)
_FACES = (
    Column(key="number", title="", width=6, look="count"),
    Column(key="side", title="Side", width=52),
    Column(key="tag", title="", width=17, look="small"),
    Column(key="width", title="Width", width=15, look="dimension", role="input"),
    Column(key="left", title="Height, left", width=15, look="dimension", role="input"),
    Column(key="right", title="Height, right", width=15, look="dimension", role="input"),
    Column(
        key="area",
        title="Gross, from floor",
        width=15,
        look="quantity",
        role="control",
        formula="=[width]*AVERAGE([left]:[right])",
        name="Face_area",
    ),
    Column(
        key="clad",
        title="Gross, from the foot of the cladding",
        width=64,
        look="quantity",
        role="control",
        formula="=[width]*(AVERAGE([left]:[right])+House_drop)",
        name="Face_clad",
    ),
)


def write_faces(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write the four faces; return the last row."""
    house = result.design.house
    lines = []
    for side in SIDES:
        face = wall_face(house, side)
        lines.append(
            Line(
                {
                    "side": side,
                    "tag": cladding_tag(side),
                    "width": face.width,
                    "left": face.top_left,
                    "right": face.top_right,
                    "area": face.area,
                    "clad": face.width * (face.mean_height + house.cladding_drop),
                }
            )
        )
    placed = write_table(paper, sheet, first, _FACES, lines)
    paper.name_range("Face_tag", placed.sheet, placed.columns["tag"], placed.first, placed.last)
    return placed.last


def write_house(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write what the model measured of the house, each figure with a name; return the last row."""
    house, areas = result.design.house, result.measured.areas
    bare = sum(room.floor for room in result.measured.inside.rooms if room.room.floor_finish is None)
    figures: tuple[tuple[str, str, float | str, str], ...] = (
        ("House_length", "length, to the outside of the frame", house.length, "m"),
        ("House_span", "span, to the outside of the frame", house.span, "m"),
        ("House_height", "height of the low wall", house.low_height, "m"),
        ("House_pitch", "pitch", house.pitch, "degrees"),
        ("House_low", "overhang, low side", house.overhang_low, "m"),
        ("House_high", "overhang, high side", house.overhang_high, "m"),
        ("House_left", "overhang, left", house.overhang_left, "m"),
        ("House_right", "overhang, right", house.overhang_right, "m"),
        ("House_drop", "cladding below floor level", house.cladding_drop, "m"),
        ("House_walls", "plan of internal walls", areas.inside - areas.rooms, "m2"),
        ("House_bare", "floor without finish", bare, "m2"),
        ("House_sticks", "sticks of the frame", sum(m.volume for m in result.measured.members), "m3"),
        ("Tag_unit", "tag of windows and doors", UNIT, ""),
        ("Tag_flashing", "tag of flashings", FLASHING, ""),
        ("Tag_reveal", "tag of reveals", REVEAL, ""),
    )
    lines = [Line({"what": what, "value": value, "unit": unit}) for _, what, value, unit in figures]
    placed = write_table(paper, sheet, first, _HOUSE, lines)
    for row, (name, *_) in enumerate(figures, start=placed.first):
        paper.name_cell(name, placed.sheet, f"{placed.columns['value']}{row}")
    return placed.last
