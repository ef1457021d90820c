"""Structural timber as the workbook states it: grades, sections on sale, and the cases a member is checked for."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.problem import Origin

MemberUse = Literal["rafter", "floor joist", "lintel"]
MEMBER_USES: tuple[MemberUse, ...] = get_args(MemberUse)

CaseKind = Literal["strength", "deflection"]
CASE_KINDS: tuple[CaseKind, ...] = get_args(CaseKind)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberGrade:
    """The grade of a material in the sections on sale, and what it bears.

    Sections are every depth with every thickness [m]. `bending`, `shear` and `bearing` (across the grain) are
    strengths or allowable stresses, `elasticity` the mean modulus [all Pa]; `size_factor` multiplies the
    bending strength of these depths. A material may have several rows for different depths.
    """

    material: str
    grade: str
    depths: tuple[float, ...]
    thicknesses: tuple[float, ...]
    bending: float
    shear: float
    bearing: float
    elasticity: float
    size_factor: float = 1.0
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCase:
    """One case that a kind of member is checked for.

    `dead` and `imposed` multiply the loads. A strength case divides the strengths by `material_factor` and
    multiplies them by `duration`, the bending strength by `load_sharing` too; a deflection case holds the span
    divided by `limit` (240 for a two hundred and fortieth). `longest_span` [m] bounds what is checked at all.
    """

    member: MemberUse
    case: str
    kind: CaseKind
    dead: float
    imposed: float
    duration: float = 1.0
    load_sharing: float = 1.0
    material_factor: float = 1.0
    limit: float | None = None
    longest_span: float | None = None
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)
