"""What stands under a plan: title, scale bar, north point, and the sentences that say what is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import (
    LEADING,
    MARGIN,
    NOTE_TYPE,
    TITLE_TYPE,
    metres,
    north_point,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.plan_inside import InsideDrawn
from takeoff.documents.drawings.plan_labels import list_entries
from takeoff.documents.drawings.svg import group, lettering
from takeoff.measure.inside import Inside
from takeoff.model.geometry import COMPASS_POINTS, inside_area, outside_area, overhang_over
from takeoff.model.house import SIDES, Design, House


def area_words(house: House, inwards: float) -> list[str]:
    """Return the floor areas of a house without rooms, each with its definition."""
    return [
        f"{outside_area(house):.2f} m² to outside face of frame",
        f"{inside_area(house, inwards):.2f} m² inside external walls",
    ]


def room_area_notes(design: Design, inside: Inside) -> list[str]:
    """Return the floor areas of a house with rooms, each with its definition, and those of its dwellings."""
    rooms = inside.rooms
    notes = [
        f"Floor area {outside_area(design.house):.2f} m² to outside face of frame, "
        f"{inside.plan.inside:.2f} m² inside external walls, to their finished faces, "
        f"{sum(room.floor for room in rooms):.2f} m² of rooms, net of internal walls and doorways."
    ]
    dwellings = dict.fromkeys(room.room.dwelling.strip() for room in rooms)
    if len(dwellings) > 1:
        shares = ", ".join(
            f"{dwelling or 'the house'} "
            f"{sum(r.floor for r in rooms if r.room.dwelling.strip() == dwelling):.2f} m²"
            for dwelling in dwellings
        )
        notes.append(f"Rooms by dwelling: {shares}.")
    return notes


def _roof_words(design: Design) -> str:
    """Return the words for the roof edge."""
    overhangs = ", ".join(f"{side} {metres(overhang_over(design.house, side))}" for side in SIDES)
    return f"roof edge, beyond the frame by {overhangs}."


def plain_notes(design: Design, areas: Sequence[str], wide: float) -> list[str]:
    """Return the lines under a plan without rooms within a width [mm]."""
    words = (
        "Dimensions in m, to the outside face of the frame and to structural openings. "
        f"Dashed: {_roof_words(design)}"
    )
    if any(opening.kind == "door" for opening in design.openings):
        words += " Door swings are indicative."
    notes = wrapped(words, NOTE_TYPE, wide)
    if areas:
        notes += wrapped("Floor area " + ", ".join(areas) + ".", NOTE_TYPE, wide)
    return notes


def room_notes(design: Design, inside: Inside, drawn: InsideDrawn, wide: float) -> list[str]:
    """Return the lines under a plan with rooms within a width [mm]."""
    words = (
        "Dimensions in m, to the outside face of the frame and to structural openings; sizes of rooms between "
        "finished faces, along the eaves by up the slope"
    )
    if _open_to_each_other(inside):
        words += ", and of rooms open to each other to the edge between them"
    words += f". Dashed: {_roof_words(design)}"
    if drawn.dashed:
        words += " Fine dashed: bulkheads and changes of ceiling height above the cut."
    kinds = {opening.kind for opening in design.openings} | {p.door.kind for p in inside.doors}
    if "door" in kinds:
        words += " Door swings are indicative"
        words += ", and so is which way doors between rooms slide." if _slides(inside) else "."
    elif _slides(inside):
        words += " Which way doors between rooms slide is indicative."
    if drawn.unlabelled:
        places = ", ".join(metres(y) for y in drawn.unlabelled)
        words += f" Dash and dot: support line of the rafters, {places} from the low side."
    if drawn.bulkheads:
        words += f" Bulkheads: {'; '.join(drawn.bulkheads)}."
    notes = wrapped(words, NOTE_TYPE, wide)
    for text in room_area_notes(design, inside):
        notes += wrapped(text, NOTE_TYPE, wide)
    entries = list_entries(drawn.labels.listed)
    if entries:
        notes += _set_entries("Rooms by number: ", entries, wide)
    return notes


def _open_to_each_other(inside: Inside) -> bool:
    """Whether rooms meet without a wall between them."""
    zones = inside.plan.zones
    return any(zones[a].room.name != zones[b].room.name for a, b in (s.zones for s in inside.plan.steps))


def _slides(inside: Inside) -> bool:
    """Whether a door between rooms slides."""
    return any(placed.door.kind == "sliding door" for placed in inside.doors)


def _set_entries(opening: str, entries: Sequence[str], wide: float) -> list[str]:
    """Return entries one after the other in lines within a width [mm], none broken across lines."""
    lines = [opening + entries[0]]
    for entry in entries[1:]:
        longer = f"{lines[-1]};   {entry}"
        if text_width(longer, NOTE_TYPE) <= wide:
            lines[-1] = longer
        else:
            lines[-1] += ";"
            lines.append(entry)
    return [*lines[:-1], f"{lines[-1]}."]


def title_block(
    design: Design, notes: list[str], *, top: float, sheet: float, scale: int, id_prefix: str
) -> tuple[list[str], float]:
    """Return title, scale bar, north point and notes below a plan, and the height of the whole [mm]."""
    north = -45.0 * COMPASS_POINTS.index(design.house.high_side_faces)
    radius = 3.6
    base = top + 3.0 + 2 * radius
    point = (sheet - MARGIN - radius - 3.4, base - radius)
    bar, _ = scale_bar(point[0] - radius - 7.0, base, scale=scale, room_mm=sheet * 0.3, id_prefix=id_prefix)
    first = base + 2.1 * LEADING
    elements = [
        lettering("Plan", (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        group([north_point(point, north, radius=radius)], id=f"{id_prefix}-north"),
        *note_lines(notes, (MARGIN, first)),
    ]
    return elements, first + (len(notes) - 1) * LEADING + 1.2
