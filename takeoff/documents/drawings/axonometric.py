"""The frame of a house in axonometric: every stick in its true place, the nearer hiding the farther."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.axonometric_order import back_to_front, seen, seen_faces
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    TITLE_TYPE,
    Drawing,
    metres,
    note_lines,
)
from takeoff.documents.drawings.stick_solids import Place, Solid, stick_solids
from takeoff.documents.drawings.svg import (
    DETAIL,
    WHITE,
    Point,
    group,
    lettering,
    path,
    picture,
    through,
)
from takeoff.model.geometry import compass_of, height_at, rise_per_metre
from takeoff.model.house import House

# Faces that look down the slope are light, those along the eaves in shade: reads in black and white.
_TONES = {"front": WHITE, "side": "#c9cbcc", "top": "#ececea"}
_LINE = 0.08
# Paper over the highest stick [mm].
_HEAD = 1.0

Projection = Callable[[Place], Point]


def axonometric(result: Result, *, paper_width_mm: float, id_prefix: str, name: str) -> Drawing:
    """Return the frame seen from above, over the low and the right side, at a trade scale along its three axes."""
    house = result.design.house
    solids = stick_solids(result)
    ground = _ground(house)
    places = [corner for solid in solids for corner in solid.corners] + ground
    across = [seen(place) for place in places]
    left, right = min(x for x, _ in across), max(x for x, _ in across)
    foot, top = min(y for _, y in across), max(y for _, y in across)
    scale = next(
        (s for s in ALL_SCALES if (right - left) * 1000 / s + 2 * MARGIN <= paper_width_mm), ALL_SCALES[-1]
    )
    shift = (paper_width_mm - (right - left) * 1000 / scale) / 2

    def at(place: Place) -> Point:
        x, y = seen(place)
        return shift + (x - left) * 1000 / scale, _HEAD + (top - y) * 1000 / scale

    drawn = [_outline(ground, at, id_prefix)]
    drawn += [
        _stick(solids[place], at, f"{id_prefix}-stick-{place + 1}")
        for place in back_to_front(solids, rise_per_metre(house))
    ]
    height = _HEAD + (top - foot) * 1000 / scale
    heading = f"Frame, axonometric: {len(solids)} sticks"
    words = (
        f"Isometric, 1:{scale} along the eaves, up the slope level and upright. Seen from above over the low side, "
        f"facing {compass_of(house, 'low')}, and the right side, facing {compass_of(house, 'right')}. "
        "Sheets, battens and linings are not drawn."
    )
    notes = wrapped(words, NOTE_TYPE, paper_width_mm - 2 * MARGIN)
    base = height + 6.0
    title = f"Frame of {name}, axonometric"
    svg = picture(
        [
            group(drawn, stroke_linejoin="round"),
            lettering(heading, (MARGIN, base), size=TITLE_TYPE, weight=600),
            *note_lines(notes, (MARGIN, base + 4.2)),
        ],
        width_mm=paper_width_mm,
        height_mm=base + 4.2 + len(notes) * LEADING,
        title=title,
        desc=f"{words} {metres(house.length)} m along the eaves, {metres(house.span)} m deep, walls from "
        f"{metres(house.low_height)} to {metres(height_at(house, house.span))} m high.",
        id_prefix=id_prefix,
    )
    return Drawing(
        svg=svg,
        title=title,
        width_mm=paper_width_mm,
        height_mm=base + 4.2 + len(notes) * LEADING,
        scale=scale,
    )


def _ground(house: House) -> list[Place]:
    """Return the outline of the frame at floor level."""
    return [
        (0.0, 0.0, 0.0),
        (house.length, 0.0, 0.0),
        (house.length, house.span, 0.0),
        (0.0, house.span, 0.0),
    ]


def _outline(ground: Sequence[Place], at: Projection, id_prefix: str) -> str:
    """Return the outline at floor level."""
    return path(
        through([at(place) for place in ground], closed=True),
        width=DETAIL,
        fill="#f6f6f4",
        id=f"{id_prefix}-outline",
    )


def _stick(solid: Solid, at: Projection, id: str) -> str:
    """Return a stick: its seen faces, each in the tone of where it looks."""
    faces = [
        path(through([at(place) for place in face], closed=True), width=_LINE, fill=_TONES[named])
        for named, face in seen_faces(solid)
    ]
    return group(faces, id=id)
