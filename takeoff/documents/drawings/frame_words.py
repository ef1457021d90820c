"""What a framing drawing says in words: the list of its sticks by use and section, and its openings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import NOTE_TYPE, level_text, metres
from takeoff.framing.member import MARKS, Member
from takeoff.model.geometry import Void


def stick_list(members: Iterable[Member]) -> list[str]:
    """Return an entry for every use and section, with the number of pieces, hidden plies among them.

    Lintels are told apart by material, as they may be of steel.
    """
    counts: dict[str, int] = {}
    for member in members:
        of = f" ({member.material})" if member.use == "lintel" else ""
        name = f"{MARKS[member.use]} {member.use} {member.section}{of}"
        counts[name] = counts.get(name, 0) + 1
    return [f"{name}: {number}" for name, number in counts.items()]


def opening_entry(void: Void) -> str:
    """Return size and sill of an opening in words [m]."""
    sill = f", sill {level_text(void.bottom)}" if void.bottom > 1e-9 else ""
    return f"{void.mark} {metres(void.width)} × {metres(void.height)}{sill}"


def set_entries(opening: str, entries: Sequence[str], wide: float) -> list[str]:
    """Return entries one after the other in lines within a width [mm], broken between them where that will do."""
    if not entries:
        return []
    lines = wrapped(f"{opening}{entries[0]}", NOTE_TYPE, wide)
    for entry in entries[1:]:
        longer = f"{lines[-1]}; {entry}"
        if text_width(longer, NOTE_TYPE) <= wide:
            lines[-1] = longer
        else:
            lines[-1] += ";"
            lines += wrapped(entry, NOTE_TYPE, wide)
    return [*lines[:-1], f"{lines[-1]}."]
