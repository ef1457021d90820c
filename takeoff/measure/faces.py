"""Net area of a face by dimension paper, with the void rule."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.measure.quantity import Dimension
from takeoff.measure.side_calculation import SideCalculation, mean_of
from takeoff.model.geometry import Face, Void
from takeoff.model.house import House, Side


def face_dimensions(
    face: Face,
    voids: Iterable[Void],
    *,
    smallest_void: float | None,
    note: str,
    height: SideCalculation | None = None,
) -> list[Dimension]:
    """Return the dimension lines of a face less its voids.

    A void wholly inside the face and not larger than `smallest_void` [m2] is not deducted: it is
    written and squared nil. The rule looks at each void by itself; one that touches an edge, and every
    void where `smallest_void` is None, is deducted. `height` is the side calculation that the height of a level
    face follows from.

    Source: common practice, no source; having regard to the void rules of methods of measurement.
    """
    lines = [face_dimension(face, note, height=height)]
    for void in voids:
        inside = face.holds(void)
        clipped = face.clip(void)
        if clipped is None:
            continue
        small = smallest_void is not None and inside and clipped.area <= smallest_void + 1e-12
        reason = f", {clipped.area:.2f} m2, not over {smallest_void:.2f}, within the face" if small else ""
        lines.append(
            Dimension(
                f"ddt opening {void.mark}{reason}".replace("  ", " "),
                1,
                clipped.width,
                clipped.height,
                deducted=True,
                nil=small,
                opening=void.mark,
            )
        )
    return lines


def face_dimension(
    face: Face, note: str, *, height: SideCalculation | None = None, deducted: bool = False
) -> Dimension:
    """Return the dimension line of a whole face: of a raking one with its mean height as side calculation."""
    if face.top_left != face.top_right:
        note = f"{note}, mean height"
        height = mean_of(face.top_left - face.bottom, face.top_right - face.bottom)
    return Dimension(note, 1, face.width, face.mean_height, deducted=deducted, side=height)


def high_wall_height(
    house: House, side: Side, *, inset: float = 0.0, drop: float = 0.0
) -> SideCalculation | None:
    """Return the side calculation of the height of the high wall, None for the other sides.

    `inset` is how far within the outside face of the frame it is taken, `drop` how far below floor level it starts [m].
    """
    if side != "high":
        return None
    return SideCalculation("under the slope", (house.low_height + drop, house.span - inset, house.pitch))


def length_on_slope(house: House) -> SideCalculation:
    """Return the side calculation of the length of the roof on the slope, overhangs included."""
    return SideCalculation("on the slope", (house.span, house.overhang_low, house.overhang_high, house.pitch))
