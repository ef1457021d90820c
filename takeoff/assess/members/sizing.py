"""What would do: the least section on sale, and the greatest span of one."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.assess.members.checks import Loading, check_member
from takeoff.assess.members.sections import Section
from takeoff.model.timber import LoadCase, TimberGrade

_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionOnSale:
    """A section on sale in its grade."""

    section: Section
    grade: TimberGrade


def sections_on_sale(
    grades: Iterable[TimberGrade],
    *,
    plies: Sequence[int] = (1,),
    widest: float = math.inf,
    deepest: float = math.inf,
) -> list[SectionOnSale]:
    """Return the sections on sale up to a width and depth [m], the least area first, then the least depth."""
    found = [
        SectionOnSale(section=Section(depth=depth, thickness=thickness, plies=count), grade=grade)
        for grade in grades
        for depth in grade.depths
        for thickness in grade.thicknesses
        for count in plies
        if thickness * count <= widest + _NEAR and depth <= deepest + _NEAR
    ]
    return sorted(found, key=lambda each: (round(each.section.area, 9), each.section.depth))


def least_adequate(
    grades: Iterable[TimberGrade],
    cases: Sequence[LoadCase],
    loading: Loading,
    *,
    plies: Sequence[int] = (1,),
    widest: float = math.inf,
    deepest: float = math.inf,
) -> SectionOnSale | None:
    """Return the section on sale of the least area that is within, the shallowest of equals; None if none is.

    `plies` says how many may stand side by side, `widest` and `deepest` what room there is [m].
    """
    return next(
        (
            each
            for each in sections_on_sale(grades, plies=plies, widest=widest, deepest=deepest)
            if check_member(each.section, each.grade, cases, loading).outcome == "within"
        ),
        None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class GreatestSpan:
    """The greatest span [m], and the case and check that set it."""

    span: float
    case: str
    of: str


def greatest_span(
    section: Section, grade: TimberGrade, cases: Sequence[LoadCase], *, dead: float, imposed: float
) -> GreatestSpan:
    """Return the greatest span of a member on two supports under line loads [N/m], bearing left out.

    Bending gives sqrt(8 f W / w), shear 4 f A / (3 w), deflection the cube root of 384 E I / (5 limit w). Raises
    ValueError where no case has a load.

    Source: closed forms of the beam on two supports, as in structural handbooks.
    """
    spans = [each for case in cases for each in _spans(section, grade, case, dead=dead, imposed=imposed)]
    if not spans:
        raise ValueError("no load case has a load")
    return min(spans, key=lambda each: each.span)


def _spans(
    section: Section, grade: TimberGrade, case: LoadCase, *, dead: float, imposed: float
) -> Iterator[GreatestSpan]:
    """Yield the span that each check of a case allows."""
    load = case.dead * dead + case.imposed * imposed
    if load <= 0:
        return
    if case.kind == "deflection":
        cube = 384 * grade.elasticity * section.inertia / (5 * (case.limit or math.inf) * load)
        yield GreatestSpan(span=cube ** (1 / 3), case=case.case, of="deflection")
        return
    strength = case.duration / case.material_factor
    bending = grade.bending * grade.size_factor * case.load_sharing * strength
    yield GreatestSpan(span=math.sqrt(8 * bending * section.modulus / load), case=case.case, of="bending")
    shear = 4 * grade.shear * strength * section.area / (3 * load)
    yield GreatestSpan(span=shear, case=case.case, of="shear")
