"""Finds the word that was most likely meant, for the messages about one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def nearest(word: str, known: Iterable[str], *, likeness: float = 0.6) -> str | None:
    """Return the known word most like the one typed, as it is spelt; None where none is like enough.

    Capitals count for nothing. `likeness` runs from 0 to 1, the same word but for capitals.
    """
    spelt: dict[str, str] = {}
    for other in known:
        spelt.setdefault(other.lower(), other)
    close = difflib.get_close_matches(word.lower(), sorted(spelt), 1, likeness)
    return spelt[close[0]] if close else None
