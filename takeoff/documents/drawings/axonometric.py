"""The frame of a house in axonometric: every stick in its true place, the nearer hiding the farther."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.axonometric_ground import (
    Projection,
    draw_ground,
    lying_north_point,
    outline_at,
)
from takeoff.documents.drawings.axonometric_order import back_to_front, seen, seen_faces
from takeoff.documents.drawings.axonometric_pieces import pieces_of
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
    scale_bar,
)
from takeoff.documents.drawings.stick_solids import Place, Solid, stick_solids
from takeoff.documents.drawings.svg import INK, WHITE, Point, element, group, lettering, picture, through
from takeoff.model.geometry import compass_of, height_at, rise_per_metre
from takeoff.model.house import House

# Faces that look down the slope are light, those along the eaves in shade: reads in black and white.
_TONES = {"front": WHITE, "side": "#c9cbcc", "top": "#ececea"}
_LINE = 0.08
_LEFT_OUT = "Sheets, battens and linings are not drawn."
# Paper over the highest stick, and about the north point [mm].
_HEAD, _NORTH = 1.0, 9.0


def axonometric(result: Result, *, paper_width_mm: float, id_prefix: str, name: str) -> Drawing:
    """Return the frame seen from above, over the low and the right side, at a trade scale along its three axes."""
    house = result.design.house
    solids = stick_solids(result)
    foot = outline_at(house, -house.floor_above_ground)
    places = [corner for solid in solids for corner in solid.corners] + foot
    across = [seen(place) for place in places]
    left, right = min(x for x, _ in across), max(x for x, _ in across)
    low, top = min(y for _, y in across), max(y for _, y in across)
    scale = next(
        (s for s in ALL_SCALES if (right - left) * 1000 / s + 2 * MARGIN <= paper_width_mm), ALL_SCALES[-1]
    )
    per_metre = 1000 / scale
    wide = max(paper_width_mm, (right - left) * per_metre + 2 * MARGIN)
    shift = (wide - (right - left) * per_metre) / 2

    def at(place: Place) -> Point:
        x, y = seen(place)
        return shift + (x - left) * per_metre, _HEAD + (top - y) * per_metre

    elements = [
        group(draw_ground(result, at, id_prefix=id_prefix), stroke_linejoin="round"),
        group(
            _sticks(solids, rise_per_metre(house), at, id_prefix),
            stroke=INK,
            stroke_width=_LINE,
            stroke_linejoin="round",
        ),
    ]
    height = _HEAD + (top - low) * per_metre + 0.6
    kind = f"Isometric, 1:{scale} along the eaves, up the slope level and upright."
    title = f"Frame of {name}, axonometric"
    elements.append(lying_north_point(house, seen, (MARGIN + _NORTH, height - 6.0), radius=4.6))
    notes, height = _notes(
        f"Frame, axonometric: {len(solids)} sticks", kind, house, height, wide, scale, id_prefix
    )
    elements += notes
    svg = picture(
        elements,
        width_mm=wide,
        height_mm=height,
        title=title,
        desc=f"{kind} {_seen_over(house)} {_LEFT_OUT} {metres(house.length)} m along the eaves, "
        f"{metres(house.span)} m deep, walls from {metres(house.low_height)} to "
        f"{metres(height_at(house, house.span))} m high.",
        id_prefix=id_prefix,
    )
    return Drawing(svg=svg, title=title, width_mm=wide, height_mm=height, scale=scale)


def _seen_over(house: House) -> str:
    """Return from where the house is seen."""
    return (
        f"Seen from above over the low side, facing {compass_of(house, 'low')}, and the right side, "
        f"facing {compass_of(house, 'right')}."
    )


def _notes(
    heading: str, kind: str, house: House, top: float, wide: float, scale: int, id_prefix: str
) -> tuple[list[str], float]:
    """Return heading, scale bar and notes under a picture that ends at `top`, and the height of the whole [mm]."""
    base = top + 6.0
    bar, _ = scale_bar(wide - MARGIN, base, scale=scale, room_mm=wide * 0.25, id_prefix=id_prefix)
    lines = wrapped(f"{kind} {_seen_over(house)} {_LEFT_OUT}", NOTE_TYPE, wide - 2 * MARGIN)
    return [
        lettering(heading, (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        *note_lines(lines, (MARGIN, base + 4.6)),
    ], base + 4.6 + len(lines) * LEADING


def _sticks(solids: Sequence[Solid], rise: float, at: Projection, id_prefix: str) -> Iterator[str]:
    """Yield the sticks from the back on; one in several parts has its id on the first of them drawn."""
    pieces = pieces_of(solids)
    named: set[int] = set()
    for place in back_to_front([piece.solid for piece in pieces], rise):
        piece = pieces[place]
        id = None if piece.stick in named else f"{id_prefix}-stick-{piece.stick + 1}"
        named.add(piece.stick)
        yield _stick(piece.solid, at, id)


def _stick(solid: Solid, at: Projection, id: str | None) -> str:
    """Return a stick: its seen faces, each in the tone of where it looks."""
    faces = [
        element("path", d=through([at(place) for place in face], closed=True), fill=_TONES[named])
        for named, face in seen_faces(solid)
    ]
    return group(faces, id=id)
