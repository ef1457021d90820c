"""A stick of timber in its place."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One stick: what it does, its section, its length, where it stands.

    `thickness` and `depth` are the section [m]; `length` is that of the piece to be cut, to its longest
    point [m]. `place` is the wall or roof it belongs to. (`s`, `z`) is the centre of the stick in that
    frame: along the frame and upright for walls, along the eaves and up the slope for the roof, x and y of
    the plan for floors and flat ceilings [m].
    `seen_width` is the width it shows in elevation [m], 0 for a ply hidden behind another.
    `run` is its direction in the frame. `joints` are the places along it where it may be made up of shorter
    sticks [m]: those of the studs under or over a plate; none for sticks that may not be joined.
    """

    use: str
    material: str
    thickness: float
    depth: float
    length: float
    place: str
    s: float
    z: float
    seen_width: float
    run: str
    mark: str = ""
    joints: tuple[float, ...] = ()

    @property
    def section_area(self) -> float:
        """Area of the section [m2]."""
        return self.thickness * self.depth

    @property
    def volume(self) -> float:
        """Length times section [m3]."""
        return self.length * self.section_area

    @property
    def seen_area(self) -> float:
        """Area it takes of the face of its frame [m2]."""
        return self.length * self.seen_width

    @property
    def section(self) -> str:
        """Section in mm, as the trade writes it: depth x thickness."""
        return f"{self.depth * 1000:g} x {self.thickness * 1000:g}"


MARKS = {
    "bottom plate": "BP",
    "top plate": "TP",
    "stud": "S",
    "corner stud": "CS",
    "jamb stud": "JS",
    "stud under lintel": "US",
    "lintel": "L",
    "head trimmer": "HT",
    "sill trimmer": "ST",
    "jack stud": "JK",
    "nogging": "N",
    "rafter": "R",
    "barge rafter": "BR",
    "outrigger": "OR",
    "blocking": "B",
    "junction stud": "PS",
    "ceiling joist": "CJ",
    "ledger": "LG",
    "bulkhead stud": "BS",
    "floor joist": "FJ",
    "floor blocking": "FB",
    "bearer": "BE",
}
