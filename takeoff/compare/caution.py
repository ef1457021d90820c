"""What a caution is."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: what it is about, and the sentence."""

    about: str
    text: str
