"""Every way to cut the lengths on sale, as long as there are few."""

from __future__ import annotations

from takeoff.cutting.lengths.task import Bar, Task


def all_full_bars(task: Task, most: int) -> list[Bar] | None:
    """Return every bar to which no further piece wanted could be added; None if there are more than `most`.

    With bars for every length on sale these are enough for a plan of least cost: pieces too many can be left out.
    Only for tasks without joined parts, whose pieces are known beforehand.
    """
    pieces = sorted(task.demand, reverse=True)
    found: dict[Bar, None] = {}
    budget = most * 20

    def extend(bar: list[int], room: int, first: int) -> bool:
        """Add the full bars that begin with `bar`; False if there are too many."""
        nonlocal budget
        budget -= 1
        if budget < 0 or len(found) > most:
            return False
        full = True
        for place, piece in enumerate(pieces):
            if piece + task.kerf <= room and bar.count(piece) < task.demand[piece]:
                full = False
                if place >= first and not extend([*bar, piece], room - piece - task.kerf, place):
                    return False
        if full and bar:
            found[tuple(bar)] = None
        return True

    for length in task.lengths:
        if not extend([], length + task.kerf, 0):
            return None
    return list(found)
