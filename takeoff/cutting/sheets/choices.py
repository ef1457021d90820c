"""The ways in which all surfaces together may be laid, from which the plan takes the one that costs least."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.cutting.sheets.layout import Direction, LaidPiece, count_of_courses, lay_surface, longest_course
from takeoff.cutting.sheets.offcuts import Stock
from takeoff.cutting.sheets.packing import in_hundredths, stocks_of
from takeoff.cutting.sheets.pieces import HAIR
from takeoff.cutting.sheets.sizes import SheetOnSale
from takeoff.cutting.sheets.starts import usual_starts, ways_to_start
from takeoff.measure.surface import Surface


@dataclass(frozen=True, slots=True)
class Rules:
    """How sheets are laid and cut: stagger, open joint, saw cut and least offcut used again [m]."""

    stagger: float
    joint: float
    kerf: float
    least_offcut: float
    least_width: float


@dataclass(frozen=True, slots=True)
class LaidSurface:
    """One surface laid in one way: its pieces, their sizes [hundredths of a mm], and two guesses of its cost.

    The first guess takes every offcut for used, the second none of those of pieces over half a sheet long.
    """

    pieces: tuple[LaidPiece, ...]
    cut_sizes: tuple[tuple[int, int], ...]
    guesses: tuple[float, float]

    def rank(self, guess: int) -> tuple[float, float, int]:
        """What is least in the way that promises most: one guess, the other where it is a tie, then pieces."""
        return (round(self.guesses[guess], 9), round(self.guesses[1 - guess], 9), len(self.pieces))


@dataclass(frozen=True, slots=True)
class Choice:
    """All surfaces laid in one direction, each in one way."""

    direction: Direction
    surfaces: tuple[LaidSurface, ...]

    @property
    def guess(self) -> float:
        """Guess of what the sheets cost where every offcut is used."""
        return sum(surface.guesses[0] for surface in self.surfaces)

    @property
    def cut_sizes(self) -> list[tuple[int, int]]:
        """Lengths and widths of all pieces [hundredths of a mm]."""
        return [size for surface in self.surfaces for size in surface.cut_sizes]


def choices(
    surfaces: Sequence[Surface], sizes: Sequence[SheetOnSale], direction: Direction, rules: Rules
) -> Iterator[Choice]:
    """Yield ways to lay all surfaces in a direction, each once.

    With each size for all surfaces: courses started alike everywhere in each way, and surface by surface in the way
    that promises the least cost. With several sizes on sale also surface by surface in the size that does.
    """
    seen = set()
    for laid in _combinations([_ways(surfaces, size, direction, rules) for size in sizes]):
        cut_sizes = tuple(surface.cut_sizes for surface in laid)
        if cut_sizes not in seen:
            seen.add(cut_sizes)
            yield Choice(direction, laid)


def _combinations(by_size: Sequence[list[list[LaidSurface]]]) -> Iterator[tuple[LaidSurface, ...]]:
    """Yield one way for each surface, of the ways by size and surface."""
    for ways in by_size:
        for number in range(max((len(of_surface) for of_surface in ways), default=0)):
            yield tuple(of_surface[min(number, len(of_surface) - 1)] for of_surface in ways)
    pooled = [[way for of_surface in of_one for way in of_surface] for of_one in zip(*by_size, strict=True)]
    for ways in [*by_size, *([pooled] if len(by_size) > 1 else [])]:
        for guess in (0, 1):
            yield tuple(min(of_surface, key=lambda way: way.rank(guess)) for of_surface in ways)


def _ways(
    surfaces: Sequence[Surface], size: SheetOnSale, direction: Direction, rules: Rules
) -> list[list[LaidSurface]]:
    """Return for each surface the ways it may be laid in sheets of one size."""
    (stock,) = stocks_of([size])
    return [
        [
            _laid(surface, size, direction, starts, rules, stock)
            for starts in _starts(surface, size, direction, rules)
        ]
        for surface in surfaces
    ]


def _starts(
    surface: Surface, size: SheetOnSale, direction: Direction, rules: Rules
) -> list[tuple[float, ...]]:
    """Return the ways to start courses on a surface; one where no course has an end joint."""
    length = longest_course(surface.face, direction)
    if length <= size.length + HAIR:
        return [usual_starts(size.size, stagger=rules.stagger, joint=rules.joint)]
    return ways_to_start(
        size.size,
        stagger=rules.stagger,
        joint=rules.joint,
        kerf=rules.kerf,
        least_offcut=rules.least_offcut,
        course_length=length,
        courses=count_of_courses(surface.face, size.size, direction, rules.joint),
    )


def _laid(
    surface: Surface,
    size: SheetOnSale,
    direction: Direction,
    starts: tuple[float, ...],
    rules: Rules,
    stock: Stock,
) -> LaidSurface:
    """Return a surface laid in one way."""
    pieces = lay_surface(
        surface.face,
        surface.voids,
        size.size,
        direction,
        stagger=rules.stagger,
        joint=rules.joint,
        starts=starts,
    )
    cut_sizes = tuple(in_hundredths([(piece.length, piece.width) for piece in pieces]))
    shares = [(length / stock.length, width / stock.width) for length, width in cut_sizes]
    used = sum(length if width > 0.5 else length * width for length, width in shares)
    unused = sum(
        (1.0 if length > 0.5 else length) if width > 0.5 else length * width for length, width in shares
    )
    return LaidSurface(pieces, cut_sizes, (used * stock.cost, unused * stock.cost))
