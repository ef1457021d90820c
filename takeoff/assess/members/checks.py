"""Checks one member against its load cases: within, over and by how much, or outside the scope of the check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from takeoff.assess.members.beams import MOST_SPANS, BeamEffects, beam_effects
from takeoff.assess.members.sections import Section
from takeoff.model.timber import LoadCase, TimberGrade

Outcome = Literal["within", "over", "outside scope"]
CheckedFor = Literal["bending", "bending over the wall", "shear", "bearing", "deflection"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loading:
    """What a member carries and what carries it.

    `spans` [m] are between the middles of its bearings; `dead` and `imposed` are line loads square to it [N/m];
    `end_bearing` and `inner_bearing` are the lengths it bears on [m], 0 where they are not known. `cantilever` is what
    reaches beyond a bearing of the length `outer_bearing`, loaded all along [m]; 0 where nothing does.
    """

    spans: tuple[float, ...]
    dead: float
    imposed: float
    end_bearing: float
    inner_bearing: float = 0.0
    cantilever: float = 0.0
    outer_bearing: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: its load case, what it is of, and the share of the resistance that is used."""

    case: str
    of: CheckedFor
    used: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberCheck:
    """What the checks of a member come to; `reason` says why it is outside the scope."""

    outcome: Outcome
    reason: str
    checks: tuple[Check, ...]

    @property
    def governing(self) -> Check | None:
        """The check that uses most, None where there is none."""
        return max(self.checks, key=lambda check: check.used, default=None)

    @property
    def over_by(self) -> float:
        """By what share the governing check is over, 0 within."""
        governing = self.governing
        return 0.0 if governing is None else max(governing.used - 1, 0.0)


def check_member(
    section: Section, grade: TimberGrade | None, cases: Sequence[LoadCase], loading: Loading | None
) -> MemberCheck:
    """Check a member of a section and grade for every load case of its kind.

    A strength case compares stresses with strength x size factor x load sharing x duration / material factor, the
    first two in bending only; a deflection case compares the sag with its span over the limit. Shear is that at the
    support, 1.5 V / A; where a member reaches beyond its end bearing, the moment there is checked with all of it
    loaded, with what it presses on the wall by itself and by lifting the far end of the span; what it takes off the
    moment and the sag of the span is left out.

    Source: the form that EN 1995-1-1 and the American design specification for wood have in common; from memory.
    """
    outside = _outside(grade, cases, loading)
    if outside or grade is None or loading is None:
        return MemberCheck(outcome="outside scope", reason=outside, checks=())
    checks = tuple(check for case in cases for check in _checks(section, grade, case, loading))
    within = all(check.used <= 1 + 1e-9 for check in checks)
    return MemberCheck(outcome="within" if within else "over", reason="", checks=checks)


def _outside(grade: TimberGrade | None, cases: Sequence[LoadCase], loading: Loading | None) -> str:
    """Return why a member is outside the scope of the checks, empty where it is not."""
    if not cases:
        return "no load case is stated for it"
    if loading is None:
        return "its loads are not stated"
    if grade is None:
        return "no timber grade is stated for its section"
    if len(loading.spans) > MOST_SPANS:
        return f"it has more than {MOST_SPANS} spans"
    longest = min((case.longest_span for case in cases if case.longest_span is not None), default=None)
    if longest is not None and max(loading.spans) > longest + 1e-9:
        return f"its span of {max(loading.spans):.2f} m is over the {longest:g} m that its load cases reach"
    return ""


def _checks(section: Section, grade: TimberGrade, case: LoadCase, loading: Loading) -> Iterator[Check]:
    """Yield the checks of one case."""
    dead, imposed = case.dead * loading.dead, case.imposed * loading.imposed
    effects = beam_effects(
        loading.spans, dead=dead, imposed=imposed, stiffness=grade.elasticity * section.inertia
    )
    if case.kind == "deflection":
        yield Check(case=case.case, of="deflection", used=effects.sag_ratio * (case.limit or 0.0))
        return
    strength = case.duration / case.material_factor
    bending = grade.bending * grade.size_factor * case.load_sharing * strength
    yield Check(case=case.case, of="bending", used=effects.moment / section.modulus / bending)
    beyond, pressed = (dead + imposed) * loading.cantilever, 0.0
    if loading.cantilever:
        moment = beyond * loading.cantilever / 2
        yield Check(case=case.case, of="bending over the wall", used=moment / section.modulus / bending)
        # the moment over the wall lifts the far end of the span and presses as much on the wall; where the span runs on
        # over another support, up to half as much again
        pressed = moment / min(loading.spans) * (1.0 if len(loading.spans) == 1 else 1.5)
    shear = 1.5 * (effects.shear + pressed) / section.area
    yield Check(case=case.case, of="shear", used=shear / (grade.shear * strength))
    bearing = _bearing(section, effects, loading, beyond + pressed)
    if bearing:
        yield Check(case=case.case, of="bearing", used=bearing / (grade.bearing * strength))


def _bearing(section: Section, effects: BeamEffects, loading: Loading, beyond: float) -> float:
    """Return the greatest stress on a bearing [Pa], `beyond` being the load on a cantilever [N]; 0 if not known."""
    stresses = [
        reaction / (section.width * length)
        for reaction, length in (
            (effects.end_reaction, loading.end_bearing),
            (effects.end_reaction + beyond, loading.outer_bearing),
            (effects.inner_reaction, loading.inner_bearing),
        )
        if length > 0
    ]
    return max(stresses, default=0.0)
