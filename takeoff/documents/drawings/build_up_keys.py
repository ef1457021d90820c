"""The letters by which the section refers to the details of build-ups, and the capsule each stands in."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.build_up_parts import BuildUpFigures, Kind

_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def letters_of(figures: Sequence[BuildUpFigures]) -> tuple[str, ...]:
    """Return a letter for each build-up, in order; I and O are left out, as they read as figures.

    After the last letter come pairs of them.

    >>> letters_of([])
    ()
    """
    return tuple(_letter(index) for index in range(len(figures)))


def _letter(index: int) -> str:
    """Return the letter of a place in the order."""
    whole, rest = divmod(index, len(_LETTERS))
    return _LETTERS[rest] if not whole else _letter(whole - 1) + _LETTERS[rest]


def letter_where(
    figures: Sequence[BuildUpFigures], kind: Kind, *names: str, flat: bool | None = None
) -> str | None:
    """Return the letter of the build-up of a kind that is made of the named ones, None where there is none."""
    for letter, each in zip(letters_of(figures), figures, strict=True):
        made_of = tuple(build_up.name for build_up in each.build_ups)
        if each.kind == kind and made_of == names and flat in (None, each.flat):
            return letter
    return None
