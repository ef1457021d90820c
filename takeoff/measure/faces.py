"""Net area of a face by dimension paper, with the void rule."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.measure.quantity import Dimension
from takeoff.model.geometry import Face, Void


def face_dimensions(
    face: Face, voids: Iterable[Void], *, smallest_void: float | None, note: str
) -> list[Dimension]:
    """Return the dimension lines of a face less its voids.

    A void wholly inside the face and not larger than `smallest_void` [m2] is not deducted: it is
    written and squared nil. The rule looks at each void by itself; one that touches an edge, and every
    void where `smallest_void` is None, is deducted.

    Source: common practice, no source; having regard to the void rules of methods of measurement.
    """
    heights = f"({face.top_left - face.bottom:.3f} + {face.top_right - face.bottom:.3f}) / 2"
    level = face.top_left == face.top_right
    lines = [Dimension(note if level else f"{note}, mean height {heights}", 1, face.width, face.mean_height)]
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
            )
        )
    return lines
