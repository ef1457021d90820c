"""Cutting plans as drawn: every mark once, everything to scale, offcuts hatched, no lettering out of its place."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import replace
from itertools import compress, pairwise

import pytest

from takeoff.compare.evaluate import Result, evaluate
from takeoff.cutting.order_plan import CutLength, CutPiece, OrderItem, OrderPlan
from takeoff.cutting.sheets.layout import lay_out
from takeoff.cutting.sheets.packing import CutPiece as SheetCut
from takeoff.cutting.sheets.packing import CutSheet
from takeoff.cutting.sheets.plan import plan_sheets
from takeoff.cutting.sheets.sizes import SheetOnSale, SheetSize
from takeoff.documents.cutting_appendix import cutting_appendix, surfaces_of
from takeoff.documents.drawings import Drawing
from takeoff.documents.drawings.cutting_patterns import cutting_patterns, pattern_scale
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.offcut_hatch import hatch_lines
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.piece_labels import LABEL_TYPE, ranged
from takeoff.documents.drawings.sheet_cutting import cut_sheets_drawn, is_whole
from takeoff.documents.drawings.sheet_layouts import face_layouts, piece_edges
from takeoff.documents.order_kinds import bars_drawn, kind_of, lengths_not_drawn
from takeoff.documents.piece_marks import SheetPattern, laid_mark, sheet_patterns
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void
from takeoff.model.job import Job
from takeoff.model.library import Stock

SVG = "{http://www.w3.org/2000/svg}"
WIDTH = 180.0
# Coordinates are written to a thousandth of a mm: at 1:75 that is less than a tenth of a mm of timber.
NEAR = 1e-4

TIMBER = Stock(material="Softwood", sold_by="length", lengths=(4.8, 6.0), kerf=0.003)


@pytest.fixture(scope="module")
def base(job: Job) -> Result:
    return evaluate(job, job.base)


def stick(length: float, *marks: str, part: str = "") -> CutPiece:
    return CutPiece(length=length, marks=marks, item="frame", part=part)


def pattern(length: float, *pieces: CutPiece, count: int = 1) -> CutLength:
    used = sum(piece.length + TIMBER.kerf for piece in pieces)
    return CutLength(
        stock=TIMBER, length=length, count=count, pieces=pieces, offcut=max(round(length - used, 6), 0.0)
    )


def plan_of(*lengths: CutLength) -> OrderPlan:
    metres = sum(cut.count * cut.length for cut in lengths)
    return OrderPlan(
        number=1,
        name="Softwood 90 x 45",
        material="Softwood",
        depth=0.09,
        thickness=0.045,
        unit="m",
        basis="cutting plan",
        items_of=("frame",),
        net=metres,
        required=metres,
        allowed=metres,
        order=metres,
        charged=metres,
        items=(OrderItem(stock=TIMBER, count=1, amount=metres, length=metres),),
        rule="",
        framing=True,
        lengths=lengths,
    )


def drawn(plan: OrderPlan, scale: int = 75) -> list[Drawing]:
    return cutting_patterns(plan, tone="#eeeeee", scale=scale, paper_width_mm=WIDTH, id_prefix="p")


def parsed(drawing: Drawing) -> ET.Element:
    return ET.fromstring(drawing.svg)


def by_id(root: ET.Element, ending: str) -> list[ET.Element]:
    return [element for element in root.iter() if element.get("id", "").endswith(ending)]


def boxes(root: ET.Element, ending: str) -> list[tuple[float, float, float, float]]:
    """Return x, y, width, height [mm] of the rectangles of a path."""
    data = "".join(element.get("d", "") for element in by_id(root, ending))
    found = re.findall(r"M(\S+) (\S+?)h(\S+?)v(\S+?)h\S+?z", data)
    return [tuple(float(value) for value in place) for place in found]


def bars(drawings: list[Drawing]) -> list[ET.Element]:
    """Return the lettering of every pattern, one group a pattern."""
    return [
        element
        for drawing in drawings
        for element in parsed(drawing).iter(f"{SVG}g")
        if "-bar-" in element.get("id", "")
    ]


def is_left(text: ET.Element) -> bool:
    """Whether a text begins at its place: notes, and offcuts after the bar."""
    return text.get("text-anchor") == "start"


LENGTH = re.compile(r"^\d+\.\d{3}$")


def expanded(text: str) -> list[str]:
    """Return the marks in a note, as a reader takes them."""
    marks: list[str] = []
    for part in text.split("; "):
        if part.startswith("offcut "):
            continue
        for item in re.sub(r"^\d+\.\d{3} ", "", part).split(", "):
            if " to " in item:
                first, last = item.split(" to ")
                stem, digits = re.fullmatch(r"(.*?)(\d+)", first).groups()
                end = int(re.fullmatch(r".*?(\d+)", last)[1])
                marks += [f"{stem}{n:0{len(digits)}d}" for n in range(int(digits), end + 1)]
            elif " of " in item:
                count, mark = item.split(" of ")
                marks += [mark] * int(count)
            else:
                marks.append(item)
    return marks


def marks_shown(bar: ET.Element) -> Counter[str]:
    """Return the marks that one pattern shows, in the bar and below it."""
    texts = list(bar.iter(f"{SVG}text"))
    inside = [t.text for t in texts if not is_left(t)]
    left = [""] + [t.text for t in texts if is_left(t)]
    # the length of an offcut stands after its bar, or in the note, where it may begin a line
    after = [a.endswith("offcut") or not LENGTH.match(b) for a, b in pairwise(left)]
    below = " ".join(compress(left[1:], after))
    in_bar = [t for t in inside if re.search(r"[A-Z]", t)]
    return Counter(in_bar + (expanded(below) if below else []))


def marks_meant(cut: CutLength) -> Counter[str]:
    """Return the marks of a pattern: each of the sticks cut alike, or once what they share."""
    meant: list[str] = []
    for piece in cut.pieces:
        ending = f"/{piece.part[0]}" if piece.part else ""
        marks = [mark + ending for mark in piece.marks]
        meant += marks[:1] if len(set(marks)) == 1 else marks
    return Counter(meant)


def test_every_mark_of_the_house_is_shown_once(base, job):
    plans = bars_drawn(base, job.library)
    assert sum(plan.framing for plan in plans) == sum(plan.framing for plan in base.plans) > 5
    for plan in plans:
        groups = bars(drawn(plan))
        assert len(groups) == len(plan.lengths)
        for cut, group in zip(plan.lengths, groups, strict=True):
            assert marks_shown(group) == marks_meant(cut), plan.name


def test_pieces_and_bars_are_as_wide_as_they_are_long(base, job):
    for plan in bars_drawn(base, job.library):
        roots = [parsed(drawing) for drawing in drawn(plan)]
        widths = [box[2] * 75 / 1000 for root in roots for box in boxes(root, "-pieces")]
        assert widths == pytest.approx([p.length for cut in plan.lengths for p in cut.pieces], abs=NEAR)
        long = [box[2] * 75 / 1000 for root in roots for box in boxes(root, "-bars")]
        assert long == pytest.approx([cut.length for cut in plan.lengths], abs=NEAR)


def test_pieces_lie_a_saw_cut_apart():
    # 2.400 and 1.200 m out of 4.8 m with cuts of 3 mm: the second begins at 2.403 m, 1.194 m are left
    cut = pattern(4.8, stick(2.4, "A1"), stick(1.2, "A2"))
    [root] = [parsed(drawing) for drawing in drawn(plan_of(cut), scale=50)]
    first, second = boxes(root, "-pieces")
    assert (second[0] - first[0]) * 50 / 1000 == pytest.approx(2.403, abs=NEAR)
    cuts = re.findall(r"M(\S+) \S+?V", by_id(root, "-cuts")[0].get("d"))
    # in the middle of each saw cut
    assert [(float(x) - first[0]) * 50 / 1000 for x in cuts] == pytest.approx([2.4015, 3.6045], abs=NEAR)
    assert cut.offcut == pytest.approx(1.194)


def test_the_offcut_is_hatched_and_nothing_else():
    cut = pattern(4.8, stick(2.4, "A1"), stick(1.2, "A2"))
    [root] = [parsed(drawing) for drawing in drawn(plan_of(cut), scale=50)]
    [bar] = boxes(root, "-bars")
    ends = [
        float(x)
        for line in re.findall(r"M(\S+) \S+?L(\S+) ", by_id(root, "-offcuts")[0].get("d"))
        for x in line
    ]
    left, right = bar[0] + (4.8 - 1.194) * 20, bar[0] + 4.8 * 20
    assert min(ends) == pytest.approx(left, abs=0.01)
    assert max(ends) == pytest.approx(right, abs=0.01)
    # 23.9 mm of paper: a line every 1.4 mm of x + y, over 23.9 + 5 mm
    assert len(ends) / 2 == pytest.approx((1.194 * 20 + 5) / 1.4, abs=1)


def test_nothing_is_hatched_where_nothing_is_left():
    [drawing] = drawn(plan_of(pattern(4.8, stick(4.8, "A1"))))
    assert not by_id(parsed(drawing), "-offcuts")
    assert not by_id(parsed(drawing), "-cuts")


def test_hatch_lines_keep_to_their_rectangle_at_45_degrees():
    for x1, y1, x2, y2 in hatch_lines(3.0, 10.0, 7.0, 5.0):
        assert 3.0 <= x1 < x2 <= 10.0
        assert 10.0 - 1e-9 <= y2 < y1 <= 15.0 + 1e-9
        assert x2 - x1 == pytest.approx(y1 - y2)


def wide(text: ET.Element) -> float:
    return text_width(text.text, LABEL_TYPE, semibold=text.get("font-weight") == "600")


def test_lettering_never_leaves_its_piece(base, job):
    for plan in bars_drawn(base, job.library):
        for drawing in drawn(plan):
            root = parsed(drawing)
            pieces = boxes(root, "-pieces")
            frames = boxes(root, "-bars")
            for text in root.iter(f"{SVG}text"):
                x, y = float(text.get("x")), float(text.get("y"))
                if is_left(text):
                    assert x + wide(text) <= WIDTH
                    continue
                here = [
                    b for b in (*pieces, *frames) if b[0] <= x <= b[0] + b[2] and b[1] <= y <= b[1] + b[3]
                ]
                if here:
                    # the piece if it is in one, else the bar, in whose offcut it is
                    left, _, width, _ = min(here, key=lambda box: box[2])
                    assert left <= x - wide(text) / 2, text.text
                    assert x + wide(text) / 2 <= left + width, text.text
                else:
                    assert re.fullmatch(r"\d+ x|\d+\.\d+", text.text), text.text


def test_a_short_piece_is_named_below_its_bar():
    # 0.168 m are 2.2 mm at 1:75
    [bar] = bars(drawn(plan_of(pattern(4.8, stick(3.0, "L-S01"), stick(0.168, "L-N07")))))
    texts = [(text.text, is_left(text)) for text in bar.iter(f"{SVG}text")]
    assert ("L-S01", False) in texts
    assert ("0.168 L-N07", True) in texts
    assert not any(text == "0.168" for text, _ in texts)


def test_lengths_cut_alike_are_one_bar_with_their_number():
    cut = pattern(6.0, stick(2.9, "R01", "R02", "R03"), stick(2.9, "R04", "R05", "R06"), count=3)
    [bar] = bars(drawn(plan_of(cut)))
    texts = [text.text for text in bar.iter(f"{SVG}text")]
    assert "3 x" in texts
    # 6.0 m less 2 x 2.903 m
    assert "R01 to R06; offcut 0.194" in texts
    [single] = bars(drawn(plan_of(pattern(6.0, stick(2.9, "R01")))))
    assert not any(text.text.endswith(" x") for text in single.iter(f"{SVG}text"))


def test_parts_of_a_joined_member_carry_their_number():
    cuts = [pattern(6.0, stick(5.5, "L-TP01", part=f"{n} of 2")) for n in (1, 2)]
    assert [list(marks_shown(bar)) for bar in bars(drawn(plan_of(*cuts)))] == [["L-TP01/1"], ["L-TP01/2"]]


def test_marks_in_a_row_are_first_to_last():
    assert ranged(["N1", "N2"]) == "N1, N2"
    assert ranged(["N08", "N09", "N10", "N12", "S11"]) == "N08 to N10, N12, S11"
    assert ranged(["TP01/1", "TP01/2", "TP01/3"]) == "TP01/1, TP01/2, TP01/3"
    assert ranged(["P01", "P02", "P03", "P03"]) == "P01, P02, 2 of P03"


def test_bars_of_six_metres_stand_in_two_columns_at_1_to_75():
    plan = plan_of(*[pattern(6.0, stick(5.9, f"A{n}")) for n in range(4)])
    assert pattern_scale([plan], paper_width_mm=WIDTH) == 75
    [root] = [parsed(drawing) for drawing in drawn(plan)]
    frames = boxes(root, "-bars")
    assert len({round(x, 3) for x, *_ in frames}) == 2
    assert len({round(y, 3) for _, y, *_ in frames}) == 2
    # 180 mm of paper hold no bar of 14 m at 1:75
    assert pattern_scale([plan_of(pattern(14.0, stick(13.0, "A")))], paper_width_mm=WIDTH) == 100


def test_pictures_are_low_enough_to_fill_pages_and_name_their_patterns():
    plan = plan_of(*[pattern(6.0, stick(5.9, f"A{n}")) for n in range(30)])
    drawings = drawn(plan)
    assert all(drawing.height_mm < 40 for drawing in drawings)
    # two columns, and three rows of a bar of 5 mm and a note of one line below it
    assert drawings[0].title == "Softwood 90 x 45: cutting patterns 1 to 6 of 30, at 1:75"
    assert drawings[-1].title.endswith(" to 30 of 30, at 1:75")


def polygon_area(data: str) -> float:
    """Return the area of the closed polygons of path data [mm2]."""
    area = 0.0
    for ring in re.findall(r"M([^M]*)Z", data):
        points = [tuple(map(float, point.split())) for point in ring.split("L")]
        area += abs(
            sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True)) / 2
        )
    return area


def faces_area(drawings: list[Drawing], scale: int) -> list[float]:
    """Return the area of sheet drawn on every face [m2]."""
    return [
        polygon_area(element.get("d")) * (scale / 1000) ** 2
        for drawing in drawings
        for element in parsed(drawing).iter(f"{SVG}path")
        if re.search(r"-face-\d+-pieces$", element.get("id", ""))
    ]


# A face of 3.6 x 2.4 m with an opening of 0.9 x 1.2 m in it; one of 2.0 m that rakes from 2.4 to 3.0 m.
SURFACES = (
    Surface(
        note="Study, low wall",
        face=Face(width=3.6, bottom=0.0, top_left=2.4, top_right=2.4),
        voids=(Void(left=1.5, bottom=0.9, width=0.9, height=1.2),),
    ),
    Surface(note="Study, left wall", face=Face(width=2.0, bottom=0.0, top_left=2.4, top_right=3.0)),
)
AREAS = [3.6 * 2.4 - 0.9 * 1.2, 2.0 * 2.7]


def test_sheets_drawn_cover_the_faces_less_their_openings():
    plan = plan_sheets(SURFACES, (SheetOnSale(2.4, 1.2),), direction="horizontal", stagger=0.6)
    drawings = face_layouts(
        plan.layout, SURFACES, name="Board", tone="#eeeeee", scale=100, paper_width_mm=WIDTH, id_prefix="f"
    )
    assert faces_area(drawings, 100) == pytest.approx(AREAS, abs=0.002)
    words = [text.text for drawing in drawings for text in parsed(drawing).iter(f"{SVG}text")]
    assert {"F1 Study, low wall", "F2 Study, left wall"} <= set(words)


def test_the_faces_of_the_house_are_covered(base):
    items = {line.quantity.id: line.quantity for line in base.lines}
    plans = [plan for plan in base.plans if plan.sheets is not None]
    assert len(plans) >= 3
    for plan in plans:
        surfaces = surfaces_of(plan, items)
        drawings = face_layouts(
            plan.sheets.layout,
            surfaces,
            name=plan.name,
            tone="#eeeeee",
            scale=100,
            paper_width_mm=WIDTH,
            id_prefix="f",
        )
        areas = [
            (s.face.top_left + s.face.top_right) / 2 * s.face.width - sum(v.width * v.height for v in s.voids)
            for s in surfaces
        ]
        assert sum(faces_area(drawings, 100)) == pytest.approx(sum(areas), rel=2e-3)


def test_the_outline_of_a_notched_piece_has_no_line_across():
    # a sheet of 2.4 x 1.2 m with a notch of 0.5 x 0.4 m in its corner: 2 x (2.4 + 1.2) m round it
    surface = Surface(
        note="",
        face=Face(width=2.4, bottom=0.0, top_left=1.2, top_right=1.2),
        voids=(Void(left=1.9, bottom=0.8, width=0.5, height=0.4),),
    )
    [piece] = lay_out((surface,), size=SheetSize(2.4, 1.2), direction="horizontal", stagger=0.0)
    paper = Paper(100, 0.0, 0.0)
    lengths = [abs(x2 - x1) + abs(y2 - y1) for x1, y1, x2, y2 in piece_edges(piece, paper)]
    assert sum(lengths) / 10 == pytest.approx(7.2)


def test_openings_are_crossed_within_the_face():
    plan = plan_sheets(SURFACES, (SheetOnSale(2.4, 1.2),), direction="vertical", stagger=0.0)
    [drawing] = face_layouts(
        plan.layout, SURFACES, name="Board", tone="#eeeeee", scale=100, paper_width_mm=WIDTH, id_prefix="f"
    )
    [crosses] = by_id(parsed(drawing), "-openings")
    points = [tuple(map(float, p)) for p in re.findall(r"[ML](\S+?) (\S+?)(?=[ML]|$)", crosses.get("d"))]
    assert len(points) == 4
    # 9 x 12 mm at 1:100, 15 mm from the left end
    xs, ys = [x for x, _ in points], [y for _, y in points]
    assert max(xs) - min(xs) == pytest.approx(9.0)
    assert max(ys) - min(ys) == pytest.approx(12.0)


def sheets_drawn(plan, scale: int = 100) -> list[Drawing]:
    patterns = [p for p in sheet_patterns(plan) if not is_whole(p)]
    return cut_sheets_drawn(
        patterns, name="Board", tone="#eeeeee", scale=scale, paper_width_mm=WIDTH, id_prefix="s"
    )


def test_every_piece_of_sheet_is_named_once(base, job):
    appendix = cutting_appendix(base, job.library, paper_width_mm=WIDTH)
    plans = [plan.sheets for plan in base.plans if plan.sheets is not None]
    for shown, plan in zip(appendix.sheets, plans, strict=True):
        cut = [d for d in shown.pictures if "sheets as cut" in d.title]
        texts = [text.text for drawing in cut for text in parsed(drawing).iter(f"{SVG}text")]
        # captions wrap between marks
        found = re.findall(r"F\d+\.\d+\.\d+", " ".join([*texts, shown.words]))
        ranges = re.findall(r"(F\d+\.\d+\.)(\d+) to F\d+\.\d+\.(\d+)", " ".join(texts))
        found += [f"{stem}{n}" for stem, a, b in ranges for n in range(int(a) + 1, int(b))]
        assert Counter(found) == Counter(laid_mark(piece) for piece in plan.layout)


def test_pieces_lie_on_their_sheets_to_scale():
    plan = plan_sheets(SURFACES, (SheetOnSale(2.4, 1.2),), direction="horizontal", stagger=0.6, kerf=0.004)
    cut = sum(not is_whole(p) for p in sheet_patterns(plan))
    drawings = sheets_drawn(plan)
    found = [box for drawing in drawings for box in boxes(parsed(drawing), "-pieces")]
    on_sheets = [c for p in sheet_patterns(plan) if not is_whole(p) for c in p.sheet.pieces]
    assert cut > 0
    assert [box[2] / 10 for box in found] == pytest.approx([c.length for c in on_sheets], abs=NEAR)
    assert [box[3] / 10 for box in found] == pytest.approx([c.width for c in on_sheets], abs=NEAR)
    assert all(box[0] + box[2] <= 0.3 + 24 + 1e-3 and box[1] + box[3] <= 0.3 + 12 + 1e-3 for box in found)


def test_words_on_sheets_keep_to_their_pieces(base):
    for plan in (plan.sheets for plan in base.plans if plan.sheets is not None):
        for drawing in sheets_drawn(plan):
            for sheet in parsed(drawing).findall(f"{SVG}g"):
                places = boxes(sheet, "-pieces")
                for text in sheet.iter(f"{SVG}text"):
                    if is_left(text):
                        continue
                    turned = re.match(r"translate\((\S+) (\S+)\)", text.get("transform", ""))
                    x, y = map(float, turned.groups() if turned else (text.get("x"), text.get("y")))
                    here = [b for b in places if b[0] <= x <= b[0] + b[2] and b[1] <= y <= b[1] + b[3]]
                    for left, top, long, high in here:
                        room, at, start = (high, y, top) if turned else (long, x, left)
                        assert start <= at - wide(text) / 2, text.text
                        assert at + wide(text) / 2 <= start + room, text.text


def test_a_mark_without_room_stands_below_its_sheet():
    # strips of 0.3 x 1.0 and 0.3 x 0.5 m are 3 mm wide, 10 and 5 mm high at 1:100; a mark takes 6 mm
    surface = Surface(note="", face=Face(width=0.3, bottom=0.0, top_left=1.5, top_right=1.5))
    laid = lay_out((surface,), size=SheetSize(2.4, 1.0), direction="horizontal", stagger=0.0)
    sheet = CutSheet(
        size=SheetOnSale(2.4, 1.2),
        pieces=(SheetCut(0, 0.0, 0.0, 0.3, 1.0), SheetCut(1, 0.4, 0.0, 0.3, 0.5)),
        offcuts=(),
    )
    one = SheetPattern(numbers=(1,), sheet=sheet, pieces=tuple((piece,) for piece in laid))
    [drawing] = cut_sheets_drawn(
        [one], name="Board", tone="#eeeeee", scale=100, paper_width_mm=WIDTH, id_prefix="s"
    )
    texts = list(parsed(drawing).iter(f"{SVG}text"))
    assert [text.text for text in texts if not is_left(text)] == ["F1.1.1"]
    assert " ".join(text.text for text in texts if is_left(text)) == "S1 2.4 x 1.2: F1.2.1"


def test_trims_and_random_lengths_are_not_drawn_but_said_to_be_in_the_list(base, job):
    appendix = cutting_appendix(base, job.library, paper_width_mm=WIDTH)
    left_out = lengths_not_drawn(base, job.library)
    shown = {plan.heading for plan in appendix.lengths}
    assert not shown & {f"{plan.number} {plan.name}" for plan in left_out}
    random = [p.name for p in left_out if any(i.stock.sold_by == "random lengths" for i in p.items)]
    assert random
    assert all(name in appendix.not_drawn for name in random)
    assert all(kind_of(plan, job.library) in ("trims and linings by length", "boards") for plan in left_out)
    assert appendix.not_drawn.startswith(
        "Trims, gutters and linings bought by length are in the order list only."
    )


def test_words_of_a_plan_add_up(base, job):
    appendix = cutting_appendix(base, job.library, paper_width_mm=WIDTH)
    number = r"([\d\u202f]+\.\d)"
    for shown in appendix.lengths:
        match = re.search(
            rf"{number} m, of which pieces {number} m, offcuts {number} m, saw cuts {number} m", shown.words
        )
        bought, *parts = (float(value.replace("\u202f", "")) for value in match.groups())
        assert bought == pytest.approx(sum(parts), abs=0.21)


def test_all_ids_differ_and_every_picture_has_title_and_description(base, job):
    appendix = cutting_appendix(base, job.library, paper_width_mm=WIDTH)
    drawings = [
        appendix.length_key,
        appendix.sheet_key,
        *(d for plan in (*appendix.lengths, *appendix.sheets) for d in plan.pictures),
    ]
    ids: Counter[str] = Counter()
    for drawing in drawings:
        root = parsed(drawing)
        ids.update(element.get("id") for element in root.iter() if element.get("id"))
        assert root.find(f"{SVG}title").text == drawing.title
        assert root.find(f"{SVG}desc").text
        assert f"at 1:{drawing.scale}" in drawing.title
        assert drawing.width_mm == WIDTH
    assert max(ids.values()) == 1


def test_a_house_without_stock_has_no_cutting_plans(job):
    bare = replace(job, library=replace(job.library, stock={}))
    assert cutting_appendix(evaluate(bare, bare.base), bare.library, paper_width_mm=WIDTH) is None
