"""The sheets and settings of the inside of the house: rooms, internal walls, floor frame, allowances."""

from __future__ import annotations

from takeoff.model.allowance import BASES, SUM_KINDS
from takeoff.model.house import OPEN
from takeoff.model.library import ELEMENTS, TRADES
from takeoff.workbook.fields import Field, Sheet, length_field
from takeoff.workbook.source_fields import STANDINGS

INSIDE_SETTINGS = (
    Field(
        name="internal_wall",
        title="internal wall",
        part="internal wall",
        help="A build-up of the part internal wall: every wall between two rooms, unless a rule below or the "
        "sheet Internal walls says otherwise. Needed where there is more than one room.",
    ),
    Field(
        name="wet_wall",
        title="wet wall",
        part="internal wall",
        help="A build-up of the part internal wall: walls with a wet room on either side. Blank: as the others.",
    ),
    Field(
        name="separate_dwellings",
        title="separate dwellings",
        help="Whether rooms of different dwellings (a column of the sheet Rooms) are parted by a party wall. "
        "Whether a unit is a dwelling of its own is the certifier's call.",
        kind="yes_no",
        default=False,
    ),
    Field(
        name="party_wall",
        title="party wall",
        part="party wall",
        help="A build-up of the part party wall; needed where dwellings are separate.",
    ),
    Field(
        name="internal_surround",
        title="internal surround",
        part="opening surround",
        help="A build-up of the part opening surround for doors between rooms: jamb linings, architraves. "
        "Blank: none.",
    ),
)

FLOOR_SETTINGS = (
    length_field(
        "floor_joist_depth",
        "floor joist depth",
        "Depth of the joists of a suspended floor.",
        0.09,
        0.5,
        shown="mm",
        default=0.24,
    ),
    length_field(
        "floor_joist_thickness",
        "floor joist thickness",
        "Thickness of the joists.",
        0.03,
        0.1,
        shown="mm",
        default=0.045,
    ),
    length_field(
        "floor_joist_spacing",
        "floor joist spacing",
        "Centres of the joists along the eaves.",
        0.2,
        1.2,
        shown="mm",
        default=0.45,
    ),
    length_field(
        "bearer_depth", "bearer depth", "Depth of the bearers.", 0.07, 0.5, shown="mm", default=0.19
    ),
    length_field(
        "bearer_thickness",
        "bearer thickness",
        "Thickness of the bearers.",
        0.03,
        0.3,
        shown="mm",
        default=0.09,
    ),
    length_field(
        "bearer_spacing",
        "bearer spacing",
        "Greatest distance between bearers, which run along the eaves.",
        0.6,
        6,
        shown="mm",
        default=1.8,
    ),
    length_field(
        "stump_spacing",
        "stump spacing",
        "Greatest distance between stumps or piers along a bearer.",
        0.6,
        6,
        shown="mm",
        default=1.8,
    ),
    length_field(
        "pad_width", "pad width", "Width of the square pad under a stump.", 0, 1.5, shown="mm", default=0.4
    ),
    length_field(
        "pad_depth", "pad depth", "Thickness of the pad under a stump.", 0, 1, shown="mm", default=0.25
    ),
    length_field(
        "footing_depth",
        "footing depth",
        "Underside of the pads below finished ground.",
        0,
        3,
        shown="mm",
        default=0.6,
    ),
    length_field(
        "longest_length",
        "longest length",
        "Longest timber on sale: longer floor joists and bearers are joined over a support.",
        2.4,
        13,
        default=6.0,
    ),
)

ROOMS = Sheet(
    title="Rooms",
    layout="table",
    help="Rectangles that tile the plan: to the outside face of the frame, and to the middle of internal "
    "walls. x runs along the eaves from the left side, y up the slope from the low side. Without rows the "
    "house is measured as one room with the linings of its build-ups, without internal walls.",
    optional=True,
    key=("name",),
    start="name",
    fields=(
        Field(name="name", title="Room", help="Name of the room, unique.", required=True, width=20),
        Field(
            name="dwelling",
            title="Dwelling",
            help="Name of the dwelling or unit it belongs to; blank: the house.",
            default="",
            width=14,
        ),
        length_field("from_x", "From x", "Left edge, from the left side.", 0, 40, required=True, width=9),
        length_field("to_x", "To x", "Right edge, from the left side.", 0, 40, required=True, width=9),
        length_field("from_y", "From y", "Lower edge, from the low side.", 0, 15, required=True, width=9),
        length_field("to_y", "To y", "Upper edge, from the low side.", 0, 15, required=True, width=9),
        Field(
            name="wall_lining",
            title="Wall lining",
            help="A build-up of the part wall lining on all its walls; blank: the linings of the walls' own "
            "build-ups.",
            part="wall lining",
            width=28,
        ),
        Field(
            name="ceiling_lining",
            title="Ceiling lining",
            help="A build-up of the part ceiling lining; blank: that of the house's ceiling.",
            part="ceiling lining",
            width=28,
        ),
        Field(
            name="floor_finish",
            title="Floor finish",
            help="A build-up of the part floor finish; blank: none.",
            part="floor finish",
            width=28,
        ),
        Field(
            name="wet",
            title="Wet",
            help="Whether it is a wet room: its walls are those of the setting wet wall.",
            kind="yes_no",
            default=False,
            width=7,
        ),
        length_field(
            "flat_ceiling",
            "Flat ceiling at",
            "Height of a flat ceiling above floor level; blank: the ceiling rakes under the roof.",
            1.8,
            5,
            width=14,
        ),
    ),
)

BULKHEADS = Sheet(
    title="Bulkheads",
    layout="table",
    help="Parts of rooms whose ceiling is lowered, for ducts or over a kitchen. Coordinates as on the sheet "
    "Rooms.",
    optional=True,
    key=("name",),
    start="name",
    fields=(
        Field(name="name", title="Bulkhead", help="Name, unique.", required=True, width=20),
        Field(
            name="room",
            title="Room",
            help="The room it is in.",
            refers_to=("Rooms.Room",),
            required=True,
            width=20,
        ),
        length_field("from_x", "From x", "Left edge.", 0, 40, required=True, width=9),
        length_field("to_x", "To x", "Right edge.", 0, 40, required=True, width=9),
        length_field("from_y", "From y", "Lower edge.", 0, 15, required=True, width=9),
        length_field("to_y", "To y", "Upper edge.", 0, 15, required=True, width=9),
        length_field(
            "underside",
            "Underside at",
            "Height of its underside above floor level.",
            1.8,
            5,
            required=True,
            width=13,
        ),
        Field(
            name="ceiling_lining",
            title="Ceiling lining",
            help="A build-up of the part ceiling lining; blank: that of the room.",
            part="ceiling lining",
            width=28,
        ),
    ),
)

INTERNAL_WALLS = Sheet(
    title="Internal walls",
    layout="table",
    help="Pairs of rooms whose wall is not that of the House sheet: another build-up, or none where the rooms "
    "are open to each other.",
    optional=True,
    key=("room", "other_room"),
    start="room",
    fields=(
        Field(
            name="room",
            title="Room",
            help="One of the two rooms.",
            refers_to=("Rooms.Room",),
            required=True,
            width=20,
        ),
        Field(
            name="other_room",
            title="Other room",
            help="The other one.",
            refers_to=("Rooms.Room",),
            required=True,
            width=20,
        ),
        Field(
            name="build_up",
            title="Wall",
            help=f"A build-up of the part internal wall, or {OPEN} for no wall.",
            part="internal wall",
            or_else=OPEN,
            required=True,
            width=34,
        ),
    ),
)

ALLOWANCES = Sheet(
    title="Allowances",
    layout="table",
    help="What is allowed for and not measured from the plan: services, ventilation, heating, kitchen, "
    "sanitary ware, appliances, site works. A provisional sum is supply and work, a prime-cost sum supply "
    "only. Without rows none of it is in the figures.",
    optional=True,
    key=("name",),
    start="name",
    fields=(
        Field(name="name", title="Allowance", help="Name, unique.", required=True, width=34),
        Field(
            name="element",
            title="Element",
            help="Element it belongs to.",
            kind="choice",
            choices=tuple(ELEMENTS.values()),
            required=True,
            width=18,
        ),
        Field(
            name="trade",
            title="Trade",
            help="Trade that does it.",
            kind="choice",
            choices=TRADES,
            required=True,
            width=18,
        ),
        Field(name="description", title="Description", help="What it is for.", default="", width=44),
        Field(
            name="basis",
            title="Measured by",
            help="Unit of the quantity and of the rates. m2 of floor is the floor inside the external walls.",
            kind="choice",
            choices=BASES,
            required=True,
            width=13,
        ),
        Field(
            name="quantity",
            title="Quantity",
            help="How many; blank: 1 Item, or the whole floor.",
            kind="number",
            low=0,
            high=10000,
            width=10,
        ),
        Field(
            name="kind",
            title="Kind",
            help="Firm, provisional sum (supply and work) or prime-cost sum (supply only).",
            kind="choice",
            choices=SUM_KINDS,
            required=True,
            width=16,
        ),
        Field(
            name="rate",
            title="Rate",
            help="For one unit, excluding tax, in the project's currency: supply and work; supply only for a "
            "prime-cost sum.",
            kind="number",
            low=0,
            high=10000000,
            required=True,
            width=11,
        ),
        Field(
            name="fixing",
            title="Fixing",
            help="Builder's work in fixing one unit of a prime-cost sum, excluding tax; measured works.",
            kind="number",
            low=0,
            high=1000000,
            default=0.0,
            width=10,
        ),
        Field(
            name="carbon",
            title="Carbon A1-A3",
            help="kgCO2e for one unit; blank: not assessed.",
            kind="number",
            low=0,
            high=1000000,
            width=13,
        ),
        Field(
            name="mass",
            title="Mass",
            help="kg of one unit; blank: not known.",
            kind="number",
            low=0,
            high=100000,
            width=9,
        ),
        Field(
            name="service_life",
            title="Service life",
            help="After which all of it is renewed; blank: its renewal is not assessed.",
            kind="quantity",
            unit="year",
            shown="year",
            low=1,
            high=500,
            width=12,
        ),
        Field(name="source", title="Source", help="Where rate and carbon come from.", default="", width=22),
        Field(
            name="standing",
            title="Standing",
            help="How the carbon is known.",
            kind="choice",
            choices=STANDINGS,
            default="",
            width=20,
        ),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=44),
    ),
)
