"""With how long a sheet each course starts, so that end joints of neighbouring courses are apart."""

from __future__ import annotations

import itertools

from takeoff.cutting.sheets.sizes import SheetSize

_HAIR = 1e-9


def apart(one: float, other: float, period: float) -> float:
    """Return the least distance between end joints of two courses that start with these lengths [m].

    Joints come again after each `period`, a sheet and its joint.

    >>> apart(2.0, 0.5, 2.0), apart(2.0, 1.0, 2.0)
    (0.5, 1.0)
    """
    distance = abs(one - other) % period
    return min(distance, period - distance)


def usual_starts(size: SheetSize, *, stagger: float, joint: float) -> tuple[float, ...]:
    """Return a whole and a half sheet in turns, or whole ones where no stagger is asked for [m]."""
    return (size.length, (size.length - joint) / 2) if stagger else (size.length,)


def ways_to_start(
    size: SheetSize,
    *,
    stagger: float,
    joint: float,
    kerf: float,
    least_offcut: float,
    course_length: float,
    courses: int,
) -> list[tuple[float, ...]]:
    """Return lengths of first sheets course by course that keep end joints `stagger` apart, in several ways [m].

    Whole and part sheets in turns, the part a half, as short or as long as the stagger allows; and each course
    begun with what the one before left of its last sheet, as floors are laid. With no stagger sheets line up.
    """
    whole, period = size.length, size.length + joint
    ways = [usual_starts(size, stagger=stagger, joint=joint)]
    if not stagger or courses == 0:
        return ways
    half = ways[0][1]
    ways += [(half, whole), (whole, whole - stagger), (whole, max(stagger - joint, _HAIR))]
    ways.append(_carried_on(size, stagger, joint, kerf, least_offcut, course_length, courses))
    fitting = [
        way for way in ways if all(apart(a, b, period) >= stagger - _HAIR for a, b in itertools.pairwise(way))
    ]
    return list(dict.fromkeys(fitting))


def _carried_on(
    size: SheetSize,
    stagger: float,
    joint: float,
    kerf: float,
    least_offcut: float,
    course_length: float,
    courses: int,
) -> tuple[float, ...]:
    """Return starts that go on with the offcut of the course before where the joints allow it."""
    period = size.length + joint
    starts = [size.length]
    while len(starts) < courses:
        before = starts[-1]
        last = (course_length - before - joint) % period
        left = size.length - last - kerf
        choices = [left] if left >= max(least_offcut, _HAIR) else []
        choices += [size.length, (size.length - joint) / 2, (before + period / 2) % period]
        fitting = [c for c in choices if 0 < c <= size.length and apart(before, c, period) >= stagger - _HAIR]
        starts.append(fitting[0] if fitting else choices[-1])
    return tuple(starts)
