"""Divides the plan of a suspended floor into the rectangles that are framed each by itself."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from takeoff.model.geometry import Gap

_NEAR = 1e-6
Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorPart:
    """A rectangle of the plan without a gap, x from left to right and y from foot to head [m]."""

    left: float
    right: float
    foot: float
    head: float

    @property
    def area(self) -> float:
        """Area [m2]."""
        return (self.right - self.left) * (self.head - self.foot)


def floor_parts(*, length: float, span: float, gaps: Sequence[Gap]) -> list[FloorPart]:
    """Return the rectangles that gaps leave of a plan, from the low side up and from left to right.

    Without a gap it is the whole plan; a gap from wall to wall leaves one rectangle each side. Where a gap
    ends at another, the plan is divided at the level of its end as well: a party wall round the upper left
    corner leaves a rectangle over the whole length below it and two beside each other above.

    Args:
        length: length of the plan along x [m].
        span: depth of the plan along y [m].
        gaps: what no timber crosses; each runs to a wall or to another gap, as the gap of a party wall does.

    >>> [(p.left, p.right) for p in floor_parts(length=9.0, span=6.0, gaps=())]
    [(0.0, 9.0)]
    """
    whole = [_meeting(gap, gaps) for gap in gaps]
    levels = _distinct([0.0, span, *(y for g in whole for y in (g.from_y, g.to_y) if 0 < y < span)])
    done: list[FloorPart] = []
    below: list[FloorPart] = []
    for foot, head in itertools.pairwise(levels):
        crossing = [(g.from_x, g.to_x) for g in whole if g.from_y < head - _NEAR and g.to_y > foot + _NEAR]
        row: list[FloorPart] = []
        for left, right in _left_between((0.0, length), crossing):
            part = FloorPart(left=left, right=right, foot=foot, head=head)
            under = next(
                (p for p in below if _same(p, part) and not gaps_at(foot, (left, right), whole)), None
            )
            if under is not None:
                below.remove(under)
                part = replace(part, foot=under.foot)
            row.append(part)
        done += below
        below = row
    return sorted([*done, *below], key=lambda part: (part.foot, part.left))


def shared_spans(
    part: FloorPart, others: Iterable[FloorPart], gaps: Sequence[Gap], *, head: bool
) -> list[Span]:
    """Return where the head (else the foot) of a part is that of its neighbour, with no gap between [m]."""
    edge = part.head if head else part.foot
    spans: list[Span] = []
    for other in others:
        facing = other.foot if head else other.head
        left, right = max(part.left, other.left), min(part.right, other.right)
        if abs(facing - edge) < _NEAR and right - left > _NEAR:
            spans += _left_between((left, right), gaps_at(edge, (left, right), gaps))
    return spans


def free_spans(part: FloorPart, shared: Iterable[Span]) -> list[Span]:
    """Return what of the length of a part lies along a wall or a gap, given what is shared [m]."""
    return _left_between((part.left, part.right), shared)


def gaps_at(y: float, span: Span, gaps: Iterable[Gap]) -> list[Span]:
    """Return the lengths of gaps that reach a level y within a span along x [m]."""
    return [
        (gap.from_x, gap.to_x)
        for gap in gaps
        if gap.from_y - _NEAR <= y <= gap.to_y + _NEAR
        and min(gap.to_x, span[1]) - max(gap.from_x, span[0]) > _NEAR
    ]


def _meeting(gap: Gap, gaps: Iterable[Gap]) -> Gap:
    """Return a gap drawn out over the corners where it meets gaps of the other direction.

    Two gaps round a corner then both hold the corner square, whichever of them it was given to.
    """
    for other in gaps:
        touch = (
            gap.from_x <= other.to_x + _NEAR
            and other.from_x <= gap.to_x + _NEAR
            and gap.from_y <= other.to_y + _NEAR
            and other.from_y <= gap.to_y + _NEAR
        )
        if not touch or _upright(gap) == _upright(other):
            continue
        if _upright(gap):
            gap = replace(gap, from_y=min(gap.from_y, other.from_y), to_y=max(gap.to_y, other.to_y))
        else:
            gap = replace(gap, from_x=min(gap.from_x, other.from_x), to_x=max(gap.to_x, other.to_x))
    return gap


def _upright(gap: Gap) -> bool:
    """Whether a gap runs up the slope rather than along the eaves."""
    return gap.to_y - gap.from_y > gap.to_x - gap.from_x


def _same(one: FloorPart, other: FloorPart) -> bool:
    """Whether two parts stand over each other with the same left and right edge."""
    return abs(one.left - other.left) < _NEAR and abs(one.right - other.right) < _NEAR


def _distinct(levels: Iterable[float]) -> list[float]:
    """Return levels in order, those nearer than a thousandth of a mm once."""
    kept: list[float] = []
    for level in sorted(levels):
        if not kept or level - kept[-1] > _NEAR:
            kept.append(level)
    return kept


def _left_between(whole: Span, taken: Iterable[Span]) -> list[Span]:
    """Return what is left of a length when parts are taken out; one without width parts it in two."""
    pieces: list[Span] = []
    here, end = whole
    for left, right in sorted(taken):
        if min(left, end) > here + _NEAR:
            pieces.append((here, min(left, end)))
        here = max(here, right)
    if end > here + _NEAR:
        pieces.append((here, end))
    return pieces
