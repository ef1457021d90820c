"""Finds the item that somebody asks for: by its id or the beginning of it, upper and lower case alike."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

_MOST = 12
_NEAREST = 3


class NoSuchItemError(LookupError):
    """No item, or several, go by what was asked for; the message says which there are."""


def find_id(ids: Sequence[str], wanted: str, option: str) -> str:
    """Return the one id that is meant among those of an option: itself, else the only one that begins so.

    Raises NoSuchItemError with the ids that begin so, or the nearest ones.
    """
    asked = wanted.strip().lower()
    same = [id for id in ids if id.lower() == asked]
    beginning = same or [id for id in ids if asked and id.lower().startswith(asked)]
    if len(beginning) == 1:
        return beginning[0]
    if beginning:
        shown = beginning[:_MOST]
        more = len(beginning) - len(shown)
        rest = [f"and {more} more"] if more else []
        raise NoSuchItemError(
            "\n  ".join([f"{len(beginning)} items of {option!r} begin with {wanted!r}:", *shown, *rest])
        )
    raise NoSuchItemError(_unknown(ids, wanted, asked, option))


def _unknown(ids: Sequence[str], wanted: str, asked: str, option: str) -> str:
    """Return that there is no such item, and the nearest there are."""
    spelt = {id.lower(): id for id in reversed(ids)}
    close = difflib.get_close_matches(asked, list(spelt), _NEAREST)
    text = f"There is no item {wanted!r} in {option!r}."
    if close:
        return "\n  ".join([f"{text} Nearest:", *(spelt[id] for id in close)])
    return f"{text} takeoff measure lists the ids."
