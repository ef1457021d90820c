"""Stud positions along a frame."""

from __future__ import annotations

import math


def stud_positions(length: float, *, spacing: float, thickness: float) -> list[float]:
    """Return the centres of the common studs of a frame without openings.

    The first stud is flush with the end of the frame, the others stand on centres measured from that
    end, the last is flush with the other end; a stud that would overlap the last gives way.

    Args:
        length: length of the frame [m].
        spacing: stud centres [m].
        thickness: thickness of a stud [m].

    Source: common practice, no source. The count agrees with the published rule length / centres + 1
    where the length is a multiple of the centres.

    >>> len(stud_positions(12.0, spacing=0.450, thickness=0.045))
    28
    >>> len(stud_positions(12.0, spacing=0.600, thickness=0.045))
    21
    """
    if length <= thickness:
        return [length / 2]
    last = length - thickness / 2
    centres = [thickness / 2]
    for step in range(1, math.floor(length / spacing + 1e-9) + 1):
        centre = step * spacing
        if last - centre < thickness - 1e-9:
            break
        if centre - centres[-1] >= thickness - 1e-9:
            centres.append(centre)
    centres.append(last)
    return centres
