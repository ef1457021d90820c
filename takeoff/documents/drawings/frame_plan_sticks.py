"""The sticks of a roof or a floor frame on plan, and where their marks stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.frame_marks import (
    MARK_CAP,
    MARK_DROP,
    Lettered,
    level_patch,
    mark_room,
    own_mark,
    upright_patch,
)
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.places import Patch
from takeoff.documents.drawings.svg import Point, element, number
from takeoff.framing.member import Member

_CLEAR = 0.35
_STEP = 0.6
# Further from a stick, where something lies along it [mm].
_OFF = (0.0, 0.4, 0.8, 1.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStick:
    """A stick seen from above: the rectangle it takes of the plan [m]."""

    member: Member
    left: float
    right: float
    foot: float
    head: float

    @property
    def up_the_slope(self) -> bool:
        """Whether it runs up the slope."""
        return self.member.run == "slope"

    @property
    def text(self) -> str:
        """Its mark as written."""
        return own_mark(self.member.mark)

    def on(self, paper: Paper) -> Patch:
        """Return the paper it takes."""
        left, foot = paper.at(self.left, self.foot)
        right, head = paper.at(self.right, self.head)
        return Patch(left, head, right, foot)


def plan_stick(member: Member, *, y: float, factor: float = 1.0) -> PlanStick:
    """Return a stick on plan whose middle is at `y` [m]; `factor` is its length on the slope for one metre level."""
    long, wide = member.length, member.thickness
    if member.run == "slope":
        across, up = wide, long / factor
    else:
        across, up = long, wide / factor
    return PlanStick(
        member=member,
        left=member.s - across / 2,
        right=member.s + across / 2,
        foot=y - up / 2,
        head=y + up / 2,
    )


def stick_paths(sticks: Sequence[PlanStick], paper: Paper, *, id_prefix: str) -> list[str]:
    """Return sticks as paths with ids; fill and lines are those of the group they are put in."""
    paths = []
    for stick in sticks:
        patch = stick.on(paper)
        left, top, right, low = map(number, (patch.left, patch.top, patch.right, patch.bottom))
        outline = f"M{left} {top}H{right}V{low}H{left}Z"
        paths.append(element("path", id=f"{id_prefix}-{stick.text}", d=outline))
    return paths


def mark_sticks(sheet: Lettered, sticks: Sequence[PlanStick], paper: Paper, within: Patch) -> None:
    """Write the marks of sticks beside them: those up the slope upright, the others level where there is room."""
    for stick in sticks:
        patch = stick.on(paper)
        inwards = 1.0 if patch.middle[1] < within.middle[1] else -1.0
        places = _beside_upright(stick, patch) if stick.up_the_slope else _beside_level(stick, patch, inwards)
        inside = (place for place in places if _lies_in(within, stick.text, *place))
        if not sheet.put(stick.text, inside, clear=0.08):
            sheet.put_near(stick.text, patch.middle, within=within, reach=7.0)


def _lies_in(within: Patch, text: str, at: Point, upright: bool) -> bool:
    """Whether a mark at a place stays within a rectangle."""
    patch = upright_patch(text, at) if upright else level_patch(text, at)
    return patch.lies_in([within])


def _outwards(middle: float, reach: float) -> Iterator[float]:
    """Yield places from the middle outwards to both sides [mm]."""
    yield middle
    for step in range(1, int(max(reach, 0.0) / _STEP) + 1):
        yield from (middle - step * _STEP, middle + step * _STEP)


def _beside_upright(stick: PlanStick, patch: Patch) -> Iterator[tuple[Point, bool]]:
    """Yield the places beside a stick up the slope, right of it first."""
    wide = mark_room(stick.text)
    for middle in _outwards(patch.middle[1], patch.high / 2 - wide):
        for x in (patch.right + _CLEAR + MARK_CAP / 2, patch.left - _CLEAR - MARK_CAP / 2 - MARK_DROP):
            yield (x, middle + wide / 2), True


def _beside_level(stick: PlanStick, patch: Patch, inwards: float) -> Iterator[tuple[Point, bool]]:
    """Yield the places over and under a stick along the eaves; `inwards` is 1 where the drawing goes on below it."""
    wide = mark_room(stick.text)
    over, under = patch.top - MARK_DROP - 0.15, patch.bottom + 0.25 + MARK_CAP
    if wide + 0.3 <= patch.wide:
        for off in _OFF:
            baselines = (under + off, over - off) if inwards > 0 else (over - off, under + off)
            for x in _outwards(patch.middle[0], (patch.wide - wide) / 2):
                yield from (((x, y), False) for y in baselines)
    if patch.wide >= MARK_CAP + MARK_DROP + 0.2:
        for off in _OFF:
            baselines = (patch.bottom + 0.3 + wide + off, patch.top - 0.3 - off)
            for x in _outwards(patch.middle[0] - MARK_DROP / 2, patch.wide / 2 - MARK_CAP):
                yield from (((x, y), True) for y in (baselines if inwards > 0 else baselines[::-1]))
