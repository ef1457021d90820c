"""What is wrong with the inside of a house, told with its cell: rooms, walls, doors, ceilings, bulkheads.

The workbook is made here from the starter content, with rooms of its own:

    y 7.2 +-----------------------+--------------+
          | Living                |  Bedroom     |   walls of the build-up Partition, studs 90
      3.6 +==========D11==========+==============+   D11 from x 5.00, 0.92 wide; D12 from y 1.00, 0.82 wide
          | Bath    D12  Hall                    |   Bath and Hall have flat ceilings at 2.400
        0 +---------+----------------------------+
          0         4             7             12
"""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pytest
from click.testing import Result
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.workbook.grid import Book, open_book
from takeoff.workbook.starter_content import factors_starter, house_starter
from takeoff.workbook.writing import workbook_bytes

TIMBER, BOARD = "Softwood framing, structural", "Plasterboard 12.5"
UNIT = "Window unit, timber frame, double glazed"
SETTINGS = {
    "length": "12.0",
    "span": "7.2",
    "low height": "2.7",
    "pitch": "5",
    "stud depth": "170",
    "stud thickness": "45",
    "stud spacing": "450",
    "support lines": "3.6",
    "framing practice": "Usual",
    "internal wall": "Partition",
    "wet wall": "",
    "party wall": "Two leaves",
    "separate dwellings": "no",
    "internal surround": "",
}
TABLES: dict[str, list[dict[str, str]]] = {
    "Rooms": [
        {"Room": "Living", "From x": "0", "To x": "7", "From y": "3.6", "To y": "7.2"},
        {"Room": "Bedroom", "From x": "7", "To x": "12", "From y": "3.6", "To y": "7.2"},
        {"Room": "Bath", "From x": "0", "To x": "4", "From y": "0", "To y": "3.6", "Ceiling lining": "Flat"}
        | {"Wet": "yes", "Flat ceiling at": "2.4", "Wall lining": "Wall boards"},
        {"Room": "Hall", "From x": "4", "To x": "12", "From y": "0", "To y": "3.6", "Ceiling lining": "Flat"}
        | {"Flat ceiling at": "2.4", "Floor finish": "Cover"},
    ],
    "Bulkheads": [
        {"Bulkhead": "Duct", "Room": "Living", "From x": "0", "To x": "1", "From y": "3.6", "To y": "7.2"}
        | {"Underside at": "2.3", "Ceiling lining": "Flat"},
    ],
    "Internal walls": [],
    "Openings": [
        {"Mark": "W01", "Side": "low", "Kind": "window", "Width": "1.2", "Height": "0.9", "Sill": "1.2"}
        | {"Position": "1.0", "Number": "1", "Unit type": UNIT},
        {"Mark": "W02", "Side": "high", "Kind": "window", "Width": "1.2", "Height": "1.2", "Sill": "0.9"}
        | {"Position": "2.0", "Number": "1", "Unit type": UNIT},
        {"Mark": "D11", "Kind": "opening", "Width": "0.92", "Height": "2.1", "Sill": "0", "Position": "5.0"}
        | {"Number": "1", "Room": "Living", "Other room": "Hall"},
        {"Mark": "D12", "Kind": "opening", "Width": "0.82", "Height": "2.1", "Sill": "0", "Position": "1.0"}
        | {"Number": "1", "Room": "Bath", "Other room": "Hall"},
    ],
}
LAYERS = [
    ("Partition", "internal wall", TIMBER, "90", "frame"),
    ("Partition", "internal wall", BOARD, "", "sheets"),
    ("Deep partition", "internal wall", TIMBER, "250", "frame"),
    ("Two leaves", "party wall", "Glass wool batts", "40", "area"),
    ("Two leaves", "party wall", TIMBER, "90", "frame"),
    ("Wall boards", "wall lining", BOARD, "", "sheets"),
    ("Flat", "ceiling lining", BOARD, "", "sheets"),
    ("Cover", "floor finish", "Plywood sheathing 9", "", "sheets"),
]


def _table(head: list[str], units: list[str], rows: list[dict[str, str]]) -> list[list[str]]:
    """Return rows for a sheet from what each column holds."""
    return [head, units, *([row.get(title, "") for title in head] for row in rows)]


@pytest.fixture(scope="module")
def workbooks() -> tuple[bytes, bytes]:
    """Return the house workbook with the rooms above and the factors workbook, sound, as bytes."""
    starter, factors = house_starter(), factors_starter()
    content = {title: [list(row) for row in rows] for title, rows in starter.content.items()}
    heads = {
        "Rooms": "Room,Dwelling,From x,To x,From y,To y,Wall lining,Ceiling lining,Floor finish,Wet,Flat ceiling at",
        "Bulkheads": "Bulkhead,Room,From x,To x,From y,To y,Underside at,Ceiling lining",
        "Internal walls": "Room,Other room,Wall",
        "Openings": "Mark,Side,Kind,Width,Height,Sill,Position,Number,Unit type,Shutter,Room,Other room",
    }
    metres = {"From x", "To x", "From y", "To y", "Flat ceiling at", "Underside at"}
    metres |= {"Width", "Height", "Sill", "Position"}
    for title, line in heads.items():
        head = line.split(",")
        content[title] = _table(head, ["m" if name in metres else "" for name in head], TABLES[title])
    head = content["Build-ups"][0]
    for number, (name, part, material, thickness, way) in enumerate(LAYERS, start=1):
        cells = {"Build-up": name, "Part": part, "Layer": str(number), "Material": material}
        cells |= {"Thickness": thickness, "Measured by": way}
        content["Build-ups"].append([cells.get(title, "") for title in head])
    own = {row[0]: row for row in content["House"]}
    for name, value in SETTINGS.items():
        if name in own:
            own[name][1] = value
        else:
            content["House"].append([name, value, "", ""])
    known = {title: list(rows) for title, rows in factors.content.items()}
    _used_only(content, known)
    house = workbook_bytes(starter.layout, content, title="Rooms", example="Made for a test.")
    return house, workbook_bytes(
        factors.layout, factors.content, title="Factors", example="As in the starter."
    )


def _used_only(content: dict[str, list[list[str]]], factors: dict[str, list[list[str]]]) -> None:
    """Leave out options, palettes, build-ups, materials and prices that this house does not use: quicker to read."""
    own = {row[0]: row[1] for row in content["House"]}
    palettes = content["Palettes"]
    content["Palettes"] = [*palettes[:2], *(row for row in palettes[2:] if row[0] == own["palette"])]
    content["Options"] = [row[:3] for row in content["Options"][:2]]
    named = {
        *own.values(),
        *(cell for row in content["Palettes"] for cell in row),
        *(each[0] for each in LAYERS),
    }
    layers = content["Build-ups"]
    content["Build-ups"] = [*layers[:2], *(row for row in layers[2:] if row[0] in named)]
    named = {UNIT, *(row[layers[0].index("Material")] for row in content["Build-ups"])}
    named |= {row[content["Lintels"][0].index("Material")] for row in content["Lintels"]}
    for title in ("Materials", "Prices", "Carbon factors"):
        factors[title] = [*factors[title][:2], *(row for row in factors[title][2:] if row[0] in named)]


@pytest.fixture(scope="module")
def factors_book(workbooks, tmp_path_factory) -> Book:
    """Return the factors workbook as opened: the same in every test, so opened once."""
    path = tmp_path_factory.mktemp("factors") / "factors.xlsx"
    path.write_bytes(workbooks[1])
    return open_book(path)


@pytest.fixture
def rooms(spoiled, workbooks, factors_book, monkeypatch):
    """Return the workbooks above in a folder; the house workbook stays open until it is checked."""

    def opened(path: Path) -> Book:
        return factors_book if path.name == "factors.xlsx" else open_book(path)

    monkeypatch.setattr("takeoff.workbook.reading.open_book", opened)
    book = openpyxl.load_workbook(io.BytesIO(workbooks[0]))
    spoiled.edit = lambda change, factors=False: change(book)
    spoiled.save = lambda: book.save(spoiled.house)
    return spoiled


def add_row(rooms, sheet: str, **values: object) -> dict[str, str]:
    """Add a row to a table, underscores for spaces; return the cell of each column."""
    cells: dict[str, str] = {}

    def change(book: Workbook) -> None:
        lines = list(book[sheet].iter_rows())
        first = next(iter((TABLES[sheet] or [{"Room": ""}])[0]))
        head = next(i for i, line in enumerate(lines) if line[0].value == first)
        line = next((i for i in range(head + 2, len(lines)) if lines[i][0].value is None), len(lines))
        for column, cell in enumerate(lines[head]):
            name = str(cell.value).replace(" ", "_")
            place = book[sheet].cell(row=line + 1, column=column + 1)
            cells[name] = place.coordinate
            if name in values:
                place.value = values[name]

    rooms.edit(change)
    return cells


def checked(rooms) -> Result:
    """Save the workbook and run check."""
    rooms.save()
    return CliRunner().invoke(app, ["check", str(rooms.house)])


def problems_of(rooms) -> list[str]:
    """Run check; return the problem lines without the workbook's name and the closing count."""
    check = checked(rooms)
    assert check.exit_code == 1, check.stdout
    assert isinstance(check.exception, SystemExit)
    lines = check.stderr.strip().splitlines()
    assert lines[-1] == f"{len(lines) - 1} problem{'' if len(lines) == 2 else 's'}."
    return [line.removeprefix("heron_bank.xlsx ") for line in lines[:-1]]


def test_the_workbook_itself_is_sound(rooms):
    check = checked(rooms)
    assert check.stderr.splitlines() == []
    assert check.exit_code == 0


# --- rooms that do not tile the plan ---


def test_a_gap(rooms):
    place = rooms.cell("Rooms", "Living", "To x", 6.5)
    assert problems_of(rooms) == [
        f"Rooms!{place}: no room at x 6.5 to 7, y 3.6 to 7.2 m; expected rooms that leave no gap. Move an edge or "
        "add a room there."
    ]


def test_an_overlap(rooms):
    rooms.cell("Rooms", "Living", "To x", 7.5)
    place = rooms.cell("Rooms", "Bedroom", "Room", "Bedroom")
    assert problems_of(rooms) == [
        f"Rooms!{place}: Bedroom overlaps Living over x 7 to 7.5, y 3.6 to 7.2 m; expected each place in one room "
        "only. Move an edge of one of them."
    ]


@pytest.mark.parametrize(
    ("name", "title", "value", "found", "expected"),
    [
        ("Bedroom", "To x", 12.4, "x 7 to 12.4", "within the plan, x from 0 to 12 m"),
        ("Living", "To y", 7.3, "y 3.6 to 7.3", "within the plan, y from 0 to 7.2 m"),
    ],
)
def test_a_room_outside_the_plan(rooms, name, title, value, found, expected):
    place = rooms.cell("Rooms", name, title, value)
    assert problems_of(rooms) == [
        f"Rooms!{place}: {name} runs from {found} m; expected {expected}. Rooms are measured to the outside face "
        "of the frame."
    ]


@pytest.mark.parametrize(
    ("title", "value", "found"), [("From x", 12, "x 12 to 12"), ("From y", 4, "y 4 to 3.6")]
)
def test_a_room_whose_edges_are_turned_about(rooms, title, value, found):
    rooms.cell("Rooms", "Hall", title, value)
    axis = title[-1]
    place = rooms.cell("Rooms", "Hall", f"To {axis}", {"x": 12, "y": 3.6}[axis])
    assert problems_of(rooms) == [
        f"Rooms!{place}: Hall runs from {found} m; expected its second edge beyond its first."
    ]


def test_rooms_of_an_option_follow_the_plan(rooms):
    def longer(book: Workbook) -> None:
        sheet = book["Options"]
        head = next(row for row in sheet.iter_rows() if row[0].value == "Setting")
        sheet.cell(row=head[0].row, column=4, value="Longer")
        for name, unit, value in (("length", "m", 15), ("span", "m", 8)):
            line = sheet.max_row + 1
            for column, cell in ((1, name), (2, unit), (4, value)):
                sheet.cell(row=line, column=column, value=cell)

    rooms.edit(longer)
    check = checked(rooms)
    assert check.stderr.splitlines() == []
    assert "2 options" in check.stdout


# --- names ---


NAMES = [
    (
        "Rooms",
        "Bath",
        "Wall lining",
        "Wall bords",
        "'Wall bords' is not defined; expected a build-up of the part wall lining on the sheet Build-ups. Did "
        "you mean 'Wall boards'?",
    ),
    (
        "Rooms",
        "Hall",
        "Wall lining",
        "Flat",
        "'Flat' is a build-up of the part ceiling lining; expected a build-up of the part wall lining.",
    ),
    (
        "Rooms",
        "Hall",
        "Ceiling lining",
        "Wall boards",
        "'Wall boards' is a build-up of the part wall lining; expected a build-up of the part ceiling lining.",
    ),
    (
        "Rooms",
        "Hall",
        "Floor finish",
        "Flat",
        "'Flat' is a build-up of the part ceiling lining; expected a build-up of the part floor finish.",
    ),
    (
        "Bulkheads",
        "Duct",
        "Room",
        "Livin",
        "'Livin' is not defined; expected a name from the column Room of the sheet Rooms. Did you mean 'Living'?",
    ),
    (
        "Bulkheads",
        "Duct",
        "Ceiling lining",
        "Partition",
        "'Partition' is a build-up of the part internal wall; expected a build-up of the part ceiling lining.",
    ),
    (
        "Openings",
        "D11",
        "Room",
        "Lving",
        "'Lving' is not defined; expected a name from the column Room of the sheet Rooms. Did you mean 'Living'?",
    ),
]


def test_names_that_mean_nothing_there_are_told_all_at_once(rooms):
    told = [
        f"{sheet}!{rooms.cell(sheet, key, title, value)}: {message}"
        for sheet, key, title, value, message in NAMES
    ]
    assert sorted(problems_of(rooms)) == sorted(told)


def test_a_room_named_twice(rooms):
    place = rooms.cell("Rooms", "Bedroom", "Room", "Living")
    first = rooms.cell("Rooms", "Living", "Room", "Living").lstrip("A")
    assert problems_of(rooms) == [
        f"Rooms!{place}: 'Living' stands in row {first} already; expected each one once. Rename or delete one of the "
        "rows."
    ]


def test_a_wall_between_rooms_that_is_not_one(rooms):
    cells = add_row(rooms, "Internal walls", Room="Bath", Other_room="Hal", Wall="Two leaves")
    assert problems_of(rooms) == [
        f"Internal walls!{cells['Other_room']}: 'Hal' is not defined; expected a name from the column Room of the "
        "sheet Rooms. Did you mean 'Hall'?",
        f"Internal walls!{cells['Wall']}: 'Two leaves' is a build-up of the part party wall; expected a build-up of "
        "the part internal wall.",
    ]


def test_settings_with_a_build_up_of_another_part(rooms):
    wrong = {
        "internal wall": ("Two leaves", "party wall", "internal wall"),
        "wet wall": ("Two leaves", "party wall", "internal wall"),
        "party wall": ("Partition", "internal wall", "party wall"),
        "internal surround": ("Partition", "internal wall", "opening surround"),
    }
    told = [
        f"House!{rooms.setting(name, value)}: {value!r} is a build-up of the part {part}; expected a build-up of the "
        f"part {wanted}."
        for name, (value, part, wanted) in wrong.items()
    ]
    assert sorted(problems_of(rooms)) == sorted(told)


# --- walls ---


def test_no_internal_wall_named(rooms):
    place = rooms.setting("internal wall", None)
    assert problems_of(rooms) == [
        f"House!{place}: internal wall is blank, and Bath and Living share an edge; expected a build-up of the part "
        "internal wall. Name one; rooms open to each other go on the sheet Internal walls."
    ]


def test_no_party_wall_named(rooms):
    place = rooms.setting("party wall", None)
    rooms.setting("separate dwellings", "yes")
    rooms.cell("Rooms", "Bedroom", "Dwelling", "Unit")
    assert problems_of(rooms) == [
        f"House!{place}: party wall is blank, and Hall and Bedroom share an edge; expected a build-up of the part "
        "party wall. Name one; rooms open to each other go on the sheet Internal walls."
    ]


def test_a_pair_that_shares_no_edge(rooms):
    cells = add_row(rooms, "Internal walls", Room="Bath", Other_room="Bedroom", Wall="open")
    assert problems_of(rooms) == [
        f"Internal walls!{cells['Other_room']}: Bath and Bedroom share no edge; expected two rooms side by side."
    ]


def test_a_room_beside_itself(rooms):
    cells = add_row(rooms, "Internal walls", Room="Bath", Other_room="Bath", Wall="open")
    assert problems_of(rooms) == [
        f"Internal walls!{cells['Other_room']}: Bath and Bath share no edge; expected two rooms side by side."
    ]


def test_a_pair_in_both_orders(rooms):
    add_row(rooms, "Internal walls", Room="Living", Other_room="Bedroom", Wall="open")
    cells = add_row(rooms, "Internal walls", Room="Bedroom", Other_room="Living", Wall="Partition")
    assert problems_of(rooms) == [
        f"Internal walls!{cells['Other_room']}: Bedroom and Living stand here twice; expected each pair once."
    ]


def test_a_wall_that_meets_an_external_wall_in_a_window(rooms):
    # Living and Bedroom meet the high wall at 12.0 - 7.0 = 5.0 from its left end, seen from outside
    rooms.cell("Openings", "W02", "Position", 4.5)
    place = rooms.cell("Rooms", "Living", "To x", 7)
    assert problems_of(rooms) == [
        f"Rooms!{place}: the wall between Living and Bedroom meets the high wall in opening W02; expected it beside "
        "the opening. Move the edge of the rooms or the opening."
    ]


def test_a_party_wall_that_meets_an_external_wall_in_jamb_studs(rooms):
    # beside the opening by 10 mm: room enough for a wall between rooms, not for the studs beside a gap
    rooms.cell("Openings", "W02", "Position", 5.0 + 0.045 + 0.010)
    assert checked(rooms).exit_code == 0
    rooms.cell("Openings", "W02", "Position", 5.0 + 0.110 + 0.010)
    rooms.setting("separate dwellings", "yes")
    rooms.cell("Rooms", "Bedroom", "Dwelling", "Unit")
    place = rooms.cell("Rooms", "Living", "To x", 7)
    assert problems_of(rooms) == [
        f"Rooms!{place}: the wall between Living and Bedroom meets the high wall in opening W02; expected it beside "
        "the opening and its jamb studs. Move the edge of the rooms or the opening."
    ]


# --- doors between rooms ---


def test_a_door_between_rooms_that_share_no_wall(rooms):
    place = rooms.cell("Openings", "D12", "Other room", "Bedroom")
    assert problems_of(rooms) == [
        f"Openings!{place}: D12 stands between Bath and Bedroom, which share no wall; expected two rooms with a wall "
        "between them. Take it out where the rooms are open to each other."
    ]


def test_a_door_between_rooms_that_are_open_to_each_other(rooms):
    add_row(rooms, "Internal walls", Room="Hall", Other_room="Living", Wall="open")
    place = rooms.cell("Openings", "D11", "Other room", "Hall")
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 stands between Living and Hall, which share no wall; expected two rooms with a wall "
        "between them. Take it out where the rooms are open to each other."
    ]


def test_a_door_in_a_party_wall(rooms):
    rooms.setting("separate dwellings", "yes")
    for name in ("Living", "Bedroom"):
        rooms.cell("Rooms", name, "Dwelling", "Unit")
    place = rooms.cell("Openings", "D11", "Other room", "Hall")
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 stands in the party wall between Living and Hall; expected no opening in a party wall."
    ]


def test_dwellings_that_are_not_separate_share_doors(rooms):
    for name in ("Living", "Bedroom"):
        rooms.cell("Rooms", name, "Dwelling", "Unit")
    assert checked(rooms).exit_code == 0


@pytest.mark.parametrize(("position", "left", "right"), [(4.0, "4.000", "4.920"), (6.5, "6.500", "7.420")])
def test_a_door_beyond_what_its_rooms_share(rooms, position, left, right):
    place = rooms.cell("Openings", "D11", "Position", position)
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 with its jamb studs from {left} to {right} m; expected it within the wall that Living "
        "and Hall share, 4.000 to 7.000 m less the walls at its ends. Move it, or leave Position blank for the middle."
    ]


def test_a_door_wider_than_what_its_rooms_share(rooms):
    rooms.cell("Openings", "D11", "Width", 2.95)
    place = rooms.cell("Openings", "D11", "Position", None)
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 with its jamb studs from 4.025 to 6.975 m; expected it within the wall that Living "
        "and Hall share, 4.000 to 7.000 m less the walls at its ends. Move it, or leave Position blank for the middle."
    ]


def test_a_door_without_a_lintel_to_carry_it(rooms):
    # a support line 3.6 from both walls: 3.60 m of roof
    place = rooms.cell("Openings", "D11", "Width", 4.2)
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 is 4.200 m wide under 3.60 m of roof; expected a row of the Lintels sheet that carries "
        "it. Add a row to the Lintels sheet or make the door narrower."
    ]


def second_door(rooms, position: float) -> str:
    """Add a second opening between Living and Hall, 0.8 wide; return the cell of its position."""
    cells = add_row(
        rooms,
        "Openings",
        Mark="D13",
        Kind="opening",
        Width=0.8,
        Height=2.1,
        Sill=0,
        Position=position,
        Number=1,
        Room="Hall",
        Other_room="Living",
    )
    return cells["Position"]


def test_a_door_in_another_door(rooms):
    place = second_door(rooms, 5.5)
    assert problems_of(rooms) == [
        f"Openings!{place}: D13 overlaps D11; expected at least 180 mm between them for the jamb studs. Move one of "
        "them."
    ]


def test_a_door_in_the_jamb_studs_of_another(rooms):
    # a jamb stud and a stud under the lintel each: 2 x 2 x 45 = 180
    place = second_door(rooms, 5.0 + 0.92 + 0.10)
    assert problems_of(rooms) == [
        f"Openings!{place}: D13 stands 100 mm from D11; expected at least 180 mm between them for the jamb studs. Move "
        "one of them."
    ]


def test_a_door_where_another_wall_meets_its_wall(rooms):
    # the wall between Living and Bedroom, 250 deep, meets this one at 7.000: to 6.875
    add_row(rooms, "Internal walls", Room="Living", Other_room="Bedroom", Wall="Deep partition")
    place = rooms.cell("Openings", "D11", "Position", 7.0 - 0.92 - 0.1)
    assert problems_of(rooms) == [
        f"Openings!{place}: another wall meets the wall of D11 at 7.000 m, in the door; expected the door beside it. "
        "Move one of them."
    ]


def test_a_door_that_reaches_into_the_top_plates(rooms):
    # roof at the lower face of the wall, 3.600 - 0.045: 2.700 + 3.555 x 0.087489 = 3.011, less two plates 2.921;
    # 3.6 m of roof and 0.92: the lintel row for 5.0 and 1.2, 170 deep
    place = rooms.cell("Openings", "D11", "Height", 2.8)
    assert problems_of(rooms) == [
        f"Openings!{place}: D11 with its lintel or head trimmer reaches 2.970 m; expected at most 2.921 m, the "
        "underside of the top plates there. Lower it, or raise the ceiling of a room beside it.",
        f"Openings!{place}: the head of D11 at 2.800 m is above the flat ceiling of Hall; expected at most 2.400 m. "
        "Lower the opening or raise the ceiling.",
    ]


def test_a_door_too_high_for_a_wall_that_stops_at_flat_ceilings(rooms):
    # Bath and Hall: 2.400 and 12.5 of board, less two plates of 45: 2.3225; 2.250 and a lintel of 120
    place = rooms.cell("Openings", "D12", "Height", 2.25)
    assert problems_of(rooms) == [
        f"Openings!{place}: D12 with its lintel or head trimmer reaches 2.370 m; expected at most 2.323 m, the "
        "underside of the top plates there. Lower it, or raise the ceiling of a room beside it."
    ]


def test_a_door_row_with_a_side_and_rooms(rooms):
    place = rooms.cell("Openings", "D11", "Side", "low")
    assert problems_of(rooms) == [
        f"Openings!{place}: side 'low' for a door between rooms; expected blank where two rooms are given."
    ]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        ("Other room", None, "Other room is blank; expected two rooms, or none for an external wall."),
        ("Room", None, "Room is blank; expected two rooms, or none for an external wall."),
        ("Kind", "window", "a window between two rooms; expected door, sliding door or opening."),
        ("Sill", 0.9, "a sill at 0.9 m between two rooms; expected 0."),
        (
            "Kind",
            "door",
            "Unit type is blank; expected a name from the column Materials, Material, or the kind opening.",
        ),
    ],
)
def test_a_door_row_that_is_no_door_between_rooms(rooms, title, value, message):
    place = rooms.cell("Openings", "D11", title, value)
    if "Unit type" in message:
        place = rooms.cell("Openings", "D11", "Unit type", None)
    assert problems_of(rooms) == [f"Openings!{place}: {message}"]


# --- ceilings and bulkheads ---


def test_a_flat_ceiling_without_a_lining(rooms):
    place = rooms.cell("Rooms", "Hall", "Ceiling lining", None)
    assert problems_of(rooms) == [
        f"Rooms!{place}: Hall has a flat ceiling and no ceiling lining; expected a build-up of the part ceiling "
        "lining. The house's own ceiling rakes under the rafters."
    ]


def test_a_flat_ceiling_above_the_rafters(rooms):
    # inside the battens of the low wall, at 0.215: 2.700 + 0.215 x 0.087489 = 2.7188, less 12.5 of board
    place = rooms.cell("Rooms", "Hall", "Flat ceiling at", 2.75)
    assert problems_of(rooms) == [
        f"Rooms!{place}: a flat ceiling at 2.75 m in Hall; expected at most 2.706 m, with its lining below the rafters "
        "at its low side."
    ]


def test_a_flat_ceiling_may_touch_the_rafters(rooms):
    rooms.cell("Rooms", "Hall", "Flat ceiling at", 2.706)
    assert checked(rooms).exit_code == 0


@pytest.mark.parametrize(
    ("title", "value", "found", "room"),
    [
        ("To x", 7.5, "x 0 to 7.5", "x from 0 to 7"),
        ("From y", 3.0, "y 3 to 7.2", "y from 3.6 to 7.2"),
        ("To y", 3.6, "y 3.6 to 3.6", "y from 3.6 to 7.2"),
    ],
)
def test_a_bulkhead_outside_its_room(rooms, title, value, found, room):
    place = rooms.cell("Bulkheads", "Duct", title, value)
    assert problems_of(rooms) == [
        f"Bulkheads!{place}: Duct runs from {found} m; expected within Living, {room} m."
    ]


def test_a_bulkhead_above_the_ceiling(rooms, workbooks):
    # the raked ceiling of the starter lies 47.5 under the rafters, 0.0477 upright: 2.700 + 3.600 x 0.087489 - 0.0477
    place = rooms.cell("Bulkheads", "Duct", "Underside at", 3.0)
    assert problems_of(rooms) == [
        f"Bulkheads!{place}: the underside of Duct at 3 m; expected below the ceiling of Living, 2.967 m there."
    ]


def test_a_bulkhead_above_a_flat_ceiling(rooms):
    for title, value in (("Room", "Hall"), ("From x", 5), ("To x", 6), ("From y", 0), ("To y", 1)):
        rooms.cell("Bulkheads", "Duct", title, value)
    place = rooms.cell("Bulkheads", "Duct", "Underside at", 2.4)
    assert problems_of(rooms) == [
        f"Bulkheads!{place}: the underside of Duct at 2.4 m; expected below the ceiling of Hall, 2.400 m there."
    ]


def test_bulkheads_in_each_other(rooms):
    cells = add_row(
        rooms,
        "Bulkheads",
        Bulkhead="Beam",
        Room="Living",
        From_x=0.5,
        To_x=3,
        From_y=5,
        To_y=5.5,
        Underside_at=2.4,
        Ceiling_lining="Flat",
    )
    assert problems_of(rooms) == [
        f"Bulkheads!{cells['Bulkhead']}: Beam overlaps Duct; expected each place in one bulkhead only."
    ]


def test_a_bulkhead_without_a_lining(rooms):
    place = rooms.cell("Bulkheads", "Duct", "Ceiling lining", None)
    assert problems_of(rooms) == [
        f"Bulkheads!{place}: Duct has no ceiling lining, nor has Living; expected a build-up of the part ceiling "
        "lining."
    ]


# --- build-ups of the inside ---


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        (
            "Thickness",
            None,
            "Thickness of the frame of 'Partition' is blank; expected the depth of its studs.",
        ),
        (
            "Measured by",
            "sheets",
            "no layers measured by 'frame' in 'Partition'; expected exactly one, the framing itself.",
        ),
    ],
)
def test_an_internal_wall_that_cannot_be_framed(rooms, title, value, message):
    place = rooms.cell("Build-ups", "Partition", title, value)
    if title == "Measured by":
        place = rooms.cell("Build-ups", "Partition", "Build-up", "Partition")
    assert problems_of(rooms) == [f"Build-ups!{place}: {message}"]


def test_all_problems_of_the_inside_are_told_at_once(rooms):
    """One of each kind that is looked for when rooms tile the plan: pairs, openings, doors, ceilings, bulkheads."""
    add_row(rooms, "Internal walls", Room="Bath", Other_room="Bedroom", Wall="open")
    rooms.cell("Openings", "W02", "Position", 4.5)
    rooms.cell("Openings", "D11", "Height", 2.8)
    rooms.cell("Rooms", "Hall", "Flat ceiling at", 2.75)
    rooms.cell("Bulkheads", "Duct", "Underside at", 3.0)
    sheets = [line.split("!")[0] for line in problems_of(rooms)]
    # the door reaches into the top plates and above the ceiling of the Hall
    assert sheets == ["Bulkheads", "Internal walls", "Openings", "Openings", "Rooms", "Rooms"]


# --- what would be measured wrongly without a word ---


def test_a_blank_edge_is_one_problem_and_no_gap(rooms):
    place = rooms.cell("Rooms", "Living", "To x", None)
    assert problems_of(rooms) == [f"Rooms!{place}: To x is blank; expected a number in m."]


def test_a_packing_without_thickness(rooms):
    place = rooms.cell("Build-ups", "Two leaves", "Thickness", None)
    assert problems_of(rooms) == [
        f"Build-ups!{place}: Thickness of 'Glass wool batts' before the frame of 'Two leaves' is blank; expected the "
        "depth it takes of the gap between the leaves."
    ]


def test_a_shutter_on_a_door_between_rooms(rooms):
    place = rooms.cell("Openings", "D12", "Shutter", "External shutter, timber slats")
    (line,) = [line for line in problems_of(rooms) if line.startswith(f"Openings!{place}")]
    assert line.endswith("on a door between rooms; expected blank where two rooms are given.")


def test_a_window_head_above_a_flat_ceiling(rooms):
    rooms.cell("Openings", "W01", "Sill", 1.5)
    place = rooms.cell("Openings", "W01", "Height", 0.95)
    assert problems_of(rooms) == [
        f"Openings!{place}: the head of W01 at 2.450 m is above the flat ceiling of Bath; expected at most 2.400 m. "
        "Lower the opening or raise the ceiling."
    ]


def test_hangers_in_a_room_whose_ceiling_rakes(rooms):
    rooms.cell("Build-ups", "Flat", "Measured by", "hangers")
    rooms.cell("Build-ups", "Flat", "Spacing", 900)
    place = rooms.cell("Rooms", "Hall", "Flat ceiling at", None)
    assert (
        f"Rooms!{place}: Hall has a ceiling lining with hangers and no flat ceiling; expected a height for the flat "
        "ceiling, or a lining under the rafters."
    ) in problems_of(rooms)
