"""The details of the build-ups of a house: every layer cut, named and measured, with what one m2 of it comes to."""

from __future__ import annotations

from takeoff.compare.build_up_figures import build_up_figures
from takeoff.compare.build_up_parts import BuildUpFigures
from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.build_up_drawing import VOID_DRAWN, Strip, draw_stack
from takeoff.documents.drawings.build_up_keys import letters_of
from takeoff.documents.drawings.build_up_list import (
    LIST_ROW,
    dots_of,
    draw_leaders,
    draw_list,
    row_places,
    sticks_of,
)
from takeoff.documents.drawings.build_up_stack import Stack, mm, stack_of
from takeoff.documents.drawings.build_up_tables import (
    draw_notes,
    figure_rows,
    scope_words,
    table,
    u_rows,
    width_of,
)
from takeoff.documents.drawings.dimensions import STRING_GAP, dimension_string, figures_reach
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import (
    MARGIN,
    TITLE_TYPE,
    Drawing,
    Paper,
    mark_capsule,
    mark_width,
)
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    lettering,
    line,
    path,
    picture,
    through,
)
from takeoff.model.house import House
from takeoff.model.job import Job
from takeoff.model.library import Library

DETAIL_SCALES = (5, 10, 20, 25, 50)
# The most that a build-up may take across on paper: upright and lying; length of a lying one [mm].
_WIDEST, _HIGHEST = 78.0, 46.0
_LYING = 62.0
_ELBOW = 9.0


def build_up_details(job: Job, result: Result, *, paper_width_mm: float, id_prefix: str) -> list[Drawing]:
    """Return one detail for each build-up of an option, in the order of the letters on the section.

    Walls are drawn upright, outside to the left; roofs and floors lie, outside or room above. The scale of each is the
    largest of `DETAIL_SCALES` at which it fits. `id_prefix` begins every id, followed by the letter.
    """
    figures = build_up_figures(result, job.library)
    return [
        _detail(
            each,
            letter,
            house=result.design.house,
            library=job.library,
            currency=job.project.currency,
            wide=paper_width_mm,
            id_prefix=f"{id_prefix}-{letter.lower()}",
        )
        for letter, each in zip(letters_of(figures), figures, strict=True)
    ]


def _scale(stack: Stack, *, upright: bool) -> int:
    """Return the largest scale at which a build-up fits across."""
    most = _WIDEST if upright else _HIGHEST
    reach = _reach(stack)
    return next((scale for scale in DETAIL_SCALES if reach * 1000 / scale <= most), DETAIL_SCALES[-1])


def _reach(stack: Stack) -> float:
    """Return how far the pieces of a build-up reach across [m]; bearers reach below its layers."""
    return max((piece.end for piece in stack.pieces), default=stack.depth)


def _detail(
    figures: BuildUpFigures,
    letter: str,
    *,
    house: House,
    library: Library,
    currency: str,
    wide: float,
    id_prefix: str,
) -> Drawing:
    """Return one detail."""
    stack = stack_of(figures, house, library)
    upright = figures.kind not in ("roof", "floor")
    scale = _scale(stack, upright=upright)
    rows = [row for row in stack.listed if row.number]
    across = _reach(stack) * 1000 / scale + (VOID_DRAWN if stack.void_at is not None else 0.0)
    listing = (len(rows) + 1) * LIST_ROW
    title_foot = MARGIN + 4.0
    top = title_foot + 5.0
    if upright:
        long = max(listing, 30.0)
        strip = Strip(corner=(MARGIN + 3.0, top), long=long, scale=scale, upright=True)
        right, foot = strip.at(long, across)
    else:
        strip = Strip(corner=(MARGIN + 9.0, top), long=_LYING, scale=scale, upright=False)
        right, foot = strip.at(_LYING, across)
    list_left = right + _ELBOW + 3.0
    list_top = top + (max(0.0, across - listing) / 2 if not upright else 0.0)
    row_at = row_places(rows, list_top, long=strip.long - LIST_ROW if upright else 0.0)
    dots = dots_of(stack, strip, row_at)
    sticks = sticks_of(stack, strip, dots)
    elements = [
        *_heading(figures, letter, scale=scale, wide=wide, base=title_foot, id_prefix=id_prefix),
        *draw_stack(stack, strip, sticks, id_prefix=id_prefix),
        *draw_leaders(stack, strip, dots, row_at, right=right, list_left=list_left),
        *_sides(figures, strip, across),
    ]
    listed, list_foot = draw_list(
        stack, rows, row_at, left=list_left, right=wide - MARGIN, id_prefix=id_prefix
    )
    elements += listed
    elements += _thickness(stack, strip, foot=foot, id_prefix=id_prefix)
    below = max(foot + _dimensioned(stack, strip), list_foot)
    under, height = _under(figures, stack, currency, top=below, wide=wide, id_prefix=id_prefix)
    title = f"Detail {letter}: {figures.kind}, {figures.name}, {mm(stack.depth)} mm"
    names = "; ".join(f"{row.name} ({row.thickness})" for row in stack.listed)
    desc = f"Build-up at 1:{scale}, outside to inside. Layers: {names}."
    svg = picture(
        [*elements, *under], width_mm=wide, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Drawing(svg=svg, title=title, width_mm=wide, height_mm=height, scale=scale)


def _heading(
    figures: BuildUpFigures, letter: str, *, scale: int, wide: float, base: float, id_prefix: str
) -> list[str]:
    """Return the letter in its capsule, the name of the build-up and the scale with its bar."""
    half = mark_width(letter) / 2
    name = f"{figures.kind.capitalize()}: {figures.name}"
    bar, room = _bar(wide - MARGIN, base, scale=scale, id_prefix=id_prefix)
    x = MARGIN + 2 * half + 2.2
    lines = wrapped(name, TITLE_TYPE, wide - x - room - 6.0, semibold=True)
    return [
        mark_capsule(letter, (MARGIN + half, base - 1.0)),
        lettering(" ".join(lines), (x, base), size=TITLE_TYPE, weight=600, id=f"{id_prefix}-name"),
        *bar,
    ]


def _bar(right: float, base: float, *, scale: int, id_prefix: str) -> tuple[list[str], float]:
    """Return a scale bar in mm with the scale in words before it, and the width both take [mm]."""
    whole = max((n for n in (50, 100, 200, 500, 1000) if n / scale <= 26.0), default=50)
    long = whole / scale
    words, unit = f"1:{scale}", f"{whole} mm"
    hang = text_width(unit, 2.0) / 2
    left = right - hang - long
    before = text_width(words, TITLE_TYPE) + 3.5
    elements = [
        path(through([(left, base), (left + long, base)]), width=1.0),
        path(through([(left + long / 2, base), (left + long, base)]), width=0.7, stroke="#ffffff"),
        lettering("0", (left, base - 1.2), size=2.0, anchor="middle"),
        lettering(unit, (left + long, base - 1.2), size=2.0, anchor="middle"),
        lettering(words, (left - before, base), size=TITLE_TYPE, id=f"{id_prefix}-scale"),
    ]
    return elements, long + before + hang


def _sides(figures: BuildUpFigures, strip: Strip, across: float) -> list[str]:
    """Return what lies on either side of the build-up."""
    first, last = {
        "external wall": ("outside", "inside"),
        "roof": ("outside", "inside"),
        "floor": ("inside", "ground"),
    }.get(figures.kind, ("room", "room"))
    x, y = strip.corner
    if strip.upright:
        return [
            lettering(first, (x, y - 1.3), size=2.0, fill=GREY),
            lettering(
                last,
                (x + max(across, text_width(f"{first} {last}", 2.0) + 2.0), y - 1.3),
                size=2.0,
                fill=GREY,
                anchor="end",
            ),
        ]
    return [
        lettering(first, (x, y - 1.3), size=2.0, fill=GREY),
        lettering(last, (x, y + across + 2.6), size=2.0, fill=GREY),
    ]


def _thickness(stack: Stack, strip: Strip, *, foot: float, id_prefix: str) -> list[str]:
    """Return the dimensions across the build-up, in mm."""
    x, y = strip.corner
    if strip.upright:
        paper = Paper(strip.scale, x, foot)
        return [
            dimension_string(
                list(stack.zones),
                edge="bottom",
                line_at=foot + STRING_GAP,
                paper=paper,
                drawn_from=foot + 0.8,
                write=mm,
                id=f"{id_prefix}-across",
            )
        ]
    if stack.void_at is not None:
        # both sides of the void by themselves, its height is not to scale
        upper = stack.void_at
        parts = [(0.0, upper, y), (upper, stack.depth, y + VOID_DRAWN)]
    else:
        parts = [(0.0, stack.depth, y)]
    strings = []
    for index, (start, end, moved) in enumerate(parts):
        paper = Paper(strip.scale, x, moved + end * 1000 / strip.scale)
        strings.append(
            dimension_string(
                [0.0, end - start],
                edge="left",
                line_at=x - STRING_GAP,
                paper=paper,
                drawn_from=x - 0.8,
                write=mm,
                id=f"{id_prefix}-across" if not index else f"{id_prefix}-across-{index + 1}",
            )
        )
    return strings


def _dimensioned(stack: Stack, strip: Strip) -> float:
    """Return the paper below a drawing that its dimensions, or the name of its inner side, take [mm]."""
    if not strip.upright:
        return 3.2
    # the figures are in mm, which are no wider than those in m that the reach is worked out for
    return STRING_GAP + figures_reach(stack.zones, edge="bottom", scale=strip.scale) + 0.8


def _under(
    figures: BuildUpFigures, stack: Stack, currency: str, *, top: float, wide: float, id_prefix: str
) -> tuple[list[str], float]:
    """Return what is written under a detail, and the height of the whole picture [mm]."""
    room = wide - 2 * MARGIN
    also = [row for row in stack.listed if not row.number]
    elements: list[str] = []
    at = top + 0.8
    if also:
        words = "; ".join(f"{row.name} ({row.thickness})" for row in also)
        notes, at = draw_notes(f"Also counted, not drawn: {words}.", left=MARGIN, top=at, wide=room)
        elements += notes
    rows = figure_rows(figures, currency)
    first = max(width_of(rows, 0), 24.0)
    columns = [first, first + 12.0, first + 25.0, first + 41.0, first + 53.0]
    drawn, left_foot = table(
        rows, left=MARGIN, top=at + 1.6, columns=columns, total=True, id=f"{id_prefix}-carbon"
    )
    elements += drawn
    u_table = u_rows(figures)
    start = max(MARGIN + columns[-1] + 9.0, wide * 0.52)
    first = max(width_of(u_table, 0), 18.0)
    u_columns = [first, first + 12.0, first + 25.0, first + 41.0]
    drawn, right_foot = table(
        u_table, left=start, top=at + 1.6, columns=u_columns, total=False, id=f"{id_prefix}-u"
    )
    elements += drawn
    words = scope_words(figures) + " " + _drawing_words(figures, stack)
    notes, foot = draw_notes(words.strip(), left=MARGIN, top=max(left_foot, right_foot) + 0.4, wide=room)
    elements += notes
    rule = foot + 2.4
    elements.append(line((MARGIN, rule), (wide - MARGIN, rule), stroke=GREY, width=DETAIL))
    return elements, rule + EDGE


def _drawing_words(figures: BuildUpFigures, stack: Stack) -> str:
    """Return what is drawn otherwise than it is, in words."""
    words = []
    shapes = {piece.shape for piece in stack.pieces}
    if shapes & {"membrane", "mesh"}:
        words.append("membranes drawn thicker")
    if "sticks" in shapes:
        words.append("sticks shown cut across whichever way they run")
    if stack.void_at is not None:
        words.append("void over the flat ceiling not to scale")
    if figures.kind in ("internal wall", "party wall"):
        words.append("layers listed once lie on both sides")
    return f"{'; '.join(words).capitalize()}." if words else ""
