"""Every sheet and column of the house workbook, declared once."""

from __future__ import annotations

from takeoff.model.bill import BILL_ORDERS
from takeoff.model.house import CUTTING_AIMS, PARTS, SIDES
from takeoff.model.measuring_ways import WAYS
from takeoff.workbook.bill_sheets import BILL_SHEETS, STAGES
from takeoff.workbook.carbon_factors_sheet import CARBON_FACTORS
from takeoff.workbook.fabric_sheets import FABRIC
from takeoff.workbook.factors_sheets import MATERIALS, PRICES, SOURCES
from takeoff.workbook.fields import Field, Sheet, WorkbookLayout, length_field
from takeoff.workbook.inside_sheets import (
    ALLOWANCES,
    BULKHEADS,
    FLOOR_SETTINGS,
    INSIDE_SETTINGS,
    INTERNAL_WALLS,
    ROOMS,
)
from takeoff.workbook.life_cycle_sheets import SERVICE_LIVES
from takeoff.workbook.stock_sheet import STOCK
from takeoff.workbook.study_sheet import EXPOSURE_SETTINGS, STUDY
from takeoff.workbook.timber_sheets import LOAD_SETTINGS

COMPASS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
STATUSES = ("within tables", "engineer to confirm")


PROJECT = Sheet(
    title="Project",
    layout="settings",
    help="The particulars printed in the documents, and the factors workbook that this house uses.",
    start="name",
    fields=(
        Field(name="name", title="name", help="Name of the house or job.", required=True),
        Field(name="description", title="description", help="One line about the house.", default=""),
        Field(name="place", title="place", help="Where it is to be built.", default=""),
        Field(name="practice", title="practice", help="Who designs it.", default=""),
        Field(name="author", title="measured by", help="Who measured and priced it.", default=""),
        Field(name="issue", title="issue", help="Number or letter of this issue.", default=""),
        Field(name="date", title="date", help="Date of this issue.", kind="date", default=""),
        Field(
            name="stage",
            title="stage",
            help="Stage of the design; the range printed with the cost goes with it.",
            kind="choice",
            choices=STAGES,
            required=True,
        ),
        Field(
            name="currency",
            title="currency",
            help="Currency of every price, as it is to be printed (a code, not a sign).",
            required=True,
        ),
        Field(
            name="factors_workbook",
            title="factors workbook",
            help="File name of the factors workbook, in the folder of this workbook.",
            required=True,
        ),
        Field(
            name="exclusions",
            title="exclusions",
            help="What the figures leave out, printed in the documents; separate with semicolons.",
            default="",
        ),
        Field(
            name="bill_order",
            title="bill order",
            help="Sections of the bill: by element, by trade, or both one after the other.",
            kind="choice",
            choices=BILL_ORDERS,
            default="element",
        ),
        Field(
            name="practice_colour",
            title="practice colour",
            help="The one colour of the client paper, as # and six digits or letters from a to f; blank: a neutral "
            "one. One too pale to be read is used for lines and areas only.",
            default="",
        ),
        Field(
            name="logo",
            title="logo",
            help="File name of the practice's logo, PNG or JPEG, in the folder of this workbook.",
            default="",
        ),
        Field(
            name="client_options",
            title="client options",
            help="Up to three options that the client paper shows beside the base; separate with semicolons. Blank: "
            "those that say most.",
            default="",
        ),
    ),
)

HOUSE = Sheet(
    title="House",
    layout="settings",
    help="The house in a few numbers. Every one of them may be changed by an option.",
    start="length",
    fields=(
        length_field(
            "length", "length", "Along the eaves, to the outside face of the frame.", 3, 40, required=True
        ),
        length_field("span", "span", "Up the slope, to the outside face of the frame.", 2, 15, required=True),
        length_field(
            "low_height",
            "low height",
            "Floor level to the top of the low wall's top plate, at its outside face.",
            2,
            6,
            required=True,
        ),
        Field(
            name="pitch",
            title="pitch",
            help="Slope of the roof.",
            kind="quantity",
            unit="deg",
            shown="deg",
            low=1,
            high=35,
            required=True,
        ),
        Field(
            name="high_side_faces",
            title="high side faces",
            help="The compass point that the high side faces.",
            kind="choice",
            choices=COMPASS,
            required=True,
        ),
        length_field(
            "overhang_low", "overhang low", "Roof beyond the low wall, measured level.", 0, 2.5, default=0.0
        ),
        length_field(
            "overhang_high",
            "overhang high",
            "Roof beyond the high wall, measured level.",
            0,
            2.5,
            default=0.0,
        ),
        length_field("overhang_left", "overhang left", "Roof beyond the left wall.", 0, 2.5, default=0.0),
        length_field("overhang_right", "overhang right", "Roof beyond the right wall.", 0, 2.5, default=0.0),
        length_field(
            "stud_depth", "stud depth", "Depth of the wall studs.", 0.07, 0.4, shown="mm", required=True
        ),
        length_field(
            "stud_thickness",
            "stud thickness",
            "Thickness of studs and plates.",
            0.03,
            0.1,
            shown="mm",
            required=True,
        ),
        length_field(
            "stud_spacing",
            "stud spacing",
            "Centres of the studs; blank: those of the framing practice.",
            0.2,
            1.2,
            shown="mm",
        ),
        length_field(
            "rafter_depth", "rafter depth", "Depth of the rafters.", 0.09, 0.5, shown="mm", required=True
        ),
        length_field(
            "rafter_thickness",
            "rafter thickness",
            "Thickness of the rafters.",
            0.03,
            0.1,
            shown="mm",
            required=True,
        ),
        length_field(
            "rafter_spacing", "rafter spacing", "Centres of the rafters.", 0.2, 1.5, shown="mm", required=True
        ),
        Field(
            name="support_lines",
            title="support lines",
            help="Inner lines that carry rafters: their distances from the outside face of the low wall, "
            "separated by semicolons, or none.",
            kind="positions",
            unit="m",
            shown="m",
            default=(),
        ),
        Field(
            name="framing_practice",
            title="framing practice",
            help="A row of the Framing sheet.",
            kind="choice",
            refers_to=("Framing.Practice",),
            required=True,
        ),
        Field(
            name="palette",
            title="palette",
            help="A row of the Palettes sheet: the cladding of each side.",
            kind="choice",
            refers_to=("Palettes.Palette",),
            required=True,
        ),
        Field(
            name="external_wall",
            title="external wall",
            help="A build-up of the part external wall.",
            part="external wall",
            required=True,
        ),
        Field(name="roof", title="roof", help="A build-up of the part roof.", part="roof", required=True),
        Field(
            name="ceiling",
            title="ceiling",
            help="A build-up of the part ceiling.",
            part="ceiling",
            required=True,
        ),
        Field(name="floor", title="floor", help="A build-up of the part floor.", part="floor", required=True),
        Field(
            name="opening_surround",
            title="opening surround",
            help="A build-up of the part opening surround: flashings, reveals, tape, fixing of each opening.",
            part="opening surround",
            required=True,
        ),
        length_field(
            "cladding_drop", "cladding drop", "Cladding below floor level.", 0, 1.0, shown="mm", default=0.0
        ),
        length_field(
            "outrigger_depth",
            "outrigger depth",
            "Depth of the outriggers at the verges.",
            0.04,
            0.4,
            shown="mm",
            default=0.09,
        ),
        length_field(
            "outrigger_spacing",
            "outrigger spacing",
            "Centres of the outriggers on the slope.",
            0.3,
            1.5,
            shown="mm",
            default=0.9,
        ),
        Field(
            name="rafter_blocking",
            title="rafter blocking",
            help="Blocking between the rafters over both walls and each support line.",
            kind="yes_no",
            default=True,
        ),
        length_field(
            "sheet_overhang",
            "sheet overhang",
            "Roof sheet beyond the low eave, into the gutter, on the slope.",
            0,
            0.15,
            shown="mm",
            default=0.05,
        ),
        Field(
            name="downpipes",
            title="downpipes",
            help="Number of downpipes.",
            kind="number",
            low=0,
            high=12,
            whole=True,
            default=2,
        ),
        length_field(
            "floor_above_ground",
            "floor above ground",
            "Floor level above finished ground.",
            0,
            2,
            shown="mm",
            default=0.2,
        ),
        length_field(
            "topsoil_depth",
            "topsoil depth",
            "Topsoil stripped under the floor.",
            0,
            1,
            shown="mm",
            default=0.15,
        ),
        length_field(
            "edge_beam_width",
            "edge beam width",
            "Width of the slab's edge beams.",
            0,
            1,
            shown="mm",
            default=0.3,
        ),
        length_field(
            "edge_beam_depth",
            "edge beam depth",
            "Depth of the edge beams from the top of the slab.",
            0,
            1.2,
            shown="mm",
            default=0.4,
        ),
        length_field(
            "wall_height_limit",
            "wall height limit",
            "Height over which walls are outside the framing tables you use; higher ones are flagged.",
            2,
            10,
            default=3.0,
        ),
        *INSIDE_SETTINGS,
        *FLOOR_SETTINGS,
        *EXPOSURE_SETTINGS,
        *LOAD_SETTINGS,
        Field(
            name="cutting_aim",
            title="cutting plans aim at",
            help="What the cutting plans buy least of: length (or sheet) bought, its cost, or its carbon.",
            kind="choice",
            choices=CUTTING_AIMS,
            default="least length",
        ),
        Field(
            name="site_activity",
            title="site activity",
            help="A row of the Labour sheet: site energy for each m2 of floor. Blank: not assessed.",
            refers_to=("Labour.Work",),
        ),
    ),
)

OPENINGS = Sheet(
    title="Openings",
    layout="table",
    help="Windows and doors of the external walls, and doors between rooms. Width and height are those of the "
    "structural opening.",
    key=("mark",),
    start="mark",
    fields=(
        Field(name="mark", title="Mark", help="Mark of the opening, unique.", required=True, width=8),
        Field(
            name="side",
            title="Side",
            help="External wall it stands in: low, high, left, right or a compass point. Blank for a door "
            "between two rooms.",
            kind="choice",
            choices=(*SIDES, *COMPASS),
            width=9,
        ),
        Field(
            name="kind",
            title="Kind",
            help="What it is; an opening stands between two rooms and has no leaf.",
            kind="choice",
            choices=("window", "sliding door", "door", "opening"),
            required=True,
            width=14,
        ),
        length_field("width", "Width", "Width of the structural opening.", 0.2, 8, required=True, width=9),
        length_field("height", "Height", "Height of the structural opening.", 0.2, 4, required=True, width=9),
        length_field("sill", "Sill", "Floor level to the sill; 0 for doors.", 0, 5, required=True, width=9),
        length_field(
            "position",
            "Position",
            "From the left end of the wall seen from outside to the left jamb. Between rooms: x or y of the "
            "nearer jamb, as on the sheet Rooms; blank: in the middle of what they share.",
            0,
            40,
            width=10,
        ),
        Field(
            name="number",
            title="Number",
            help="Units coupled in this opening: fixing is counted for each.",
            kind="number",
            low=1,
            high=20,
            whole=True,
            default=1,
            width=9,
        ),
        Field(
            name="unit_type",
            title="Unit type",
            help="A row of the Materials sheet: the window or door unit. Blank for an opening between rooms.",
            refers_to=("Materials.Material",),
            width=34,
        ),
        Field(
            name="shutter",
            title="Shutter",
            help="A row of the Materials sheet, or blank for none.",
            refers_to=("Materials.Material",),
            width=26,
        ),
        *(
            Field(
                name=name,
                title=title,
                help=f"For a door between two rooms: the {which} of them. Blank in an external wall.",
                refers_to=("Rooms.Room",),
                width=18,
            )
            for name, title, which in (("room", "Room", "one"), ("other_room", "Other room", "other"))
        ),
    ),
)

BUILD_UPS = Sheet(
    title="Build-ups",
    layout="table",
    help="Layers of every wall, roof, ceiling, floor, cladding, lining and opening surround, outside to "
    "inside. Internal walls: the frame first, then what lies on both faces. Party walls: the packing of the "
    "gap first, then one leaf; the other is the same. A new cladding is a few new rows here.",
    key=("build_up", "layer"),
    start="build_up",
    fields=(
        Field(name="build_up", title="Build-up", help="Name of the build-up.", required=True, width=30),
        Field(
            name="part",
            title="Part",
            help="What it is a build-up of.",
            kind="choice",
            choices=PARTS,
            required=True,
            width=17,
        ),
        Field(
            name="layer",
            title="Layer",
            help="Number of the layer, outside to inside (floors: top to bottom).",
            kind="number",
            low=1,
            high=40,
            whole=True,
            required=True,
            width=7,
        ),
        Field(
            name="material",
            title="Material",
            help="A row of the Materials sheet.",
            refers_to=("Materials.Material",),
            required=True,
            width=36,
        ),
        length_field(
            "thickness",
            "Thickness",
            "Blank: that of the material, or of the frame for insulation between studs.",
            0.0001,
            0.6,
            shown="mm",
            width=11,
        ),
        Field(
            name="measured_by",
            title="Measured by",
            help="How the layer is measured.",
            kind="choice",
            choices=tuple(WAYS),
            required=True,
            width=24,
        ),
        Field(
            name="direction",
            title="Direction",
            help="Run of boards, sheets and battens; on roofs and ceilings horizontal is along the eaves "
            "and vertical up the slope.",
            kind="choice",
            choices=("vertical", "horizontal"),
            width=11,
        ),
        length_field("spacing", "Spacing", "Centres of battens.", 0.1, 2, shown="mm", width=10),
        Field(
            name="rate",
            title="Rate",
            help="Number per m2 (fixings), number of coats, kg per m3 of frame, number per opening, stump or "
            "hanger.",
            kind="number",
            low=0,
            high=500,
            width=8,
        ),
        length_field(
            "bottom",
            "From",
            "Wall layers: height above floor level it begins at; blank: the foot.",
            0,
            6,
            width=8,
        ),
        length_field(
            "top",
            "Up to",
            "Wall layers: height above floor level it ends at; blank: the head.",
            0.02,
            6,
            width=8,
        ),
        Field(
            name="renewed_with",
            title="Renewed with",
            help="Number of the layer of this build-up whose renewal brings this one with it: the boards of their "
            "coats and nails. Its own life, where it has one, begins anew then.",
            kind="number",
            low=1,
            high=40,
            whole=True,
            width=13,
        ),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=44),
    ),
)

PALETTES = Sheet(
    title="Palettes",
    layout="table",
    help="Which cladding build-up goes on which side, and perhaps a band of another one.",
    key=("palette",),
    start="palette",
    fields=(
        Field(name="palette", title="Palette", help="Name of the palette.", required=True, width=26),
        *(
            Field(
                name=side,
                title=side.capitalize(),
                help=f"Cladding build-up of the {side} side.",
                part="cladding",
                required=True,
                width=26,
            )
            for side in SIDES
        ),
        Field(
            name="band",
            title="Band",
            help="Cladding build-up of a horizontal band, or blank.",
            part="cladding",
            width=26,
        ),
        Field(
            name="band_sides",
            title="Band sides",
            help="Sides that have the band, separated by semicolons.",
            kind="sides",
            width=18,
        ),
        length_field("band_from", "Band from", "Foot of the band above floor level.", -1, 6, width=11),
        length_field("band_to", "Band to", "Head of the band above floor level.", -1, 6, width=11),
    ),
)


def _status(name: str, title: str, rule: str) -> Field:
    """Return the status column of one framing rule."""
    return Field(
        name=name,
        title=title,
        help=f"Whether {rule} is within the framing tables you use; it follows the rule into every document.",
        kind="choice",
        choices=STATUSES,
        required=True,
        width=19,
    )


FRAMING = Sheet(
    title="Framing",
    layout="table",
    help="Framing practices. Copy a row to make your own; the status of each rule is printed with it.",
    key=("practice",),
    start="practice",
    fields=(
        Field(
            name="practice", title="Practice", help="Name of the framing practice.", required=True, width=24
        ),
        length_field(
            "stud_spacing",
            "Stud spacing",
            "Used where the House sheet gives no stud spacing.",
            0.2,
            1.2,
            shown="mm",
            required=True,
        ),
        Field(
            name="bottom_plates",
            title="Bottom plates",
            help="Number of bottom plates.",
            kind="number",
            low=1,
            high=3,
            whole=True,
            required=True,
        ),
        Field(
            name="top_plates",
            title="Top plates",
            help="Number of top plates.",
            kind="number",
            low=1,
            high=3,
            whole=True,
            required=True,
        ),
        _status("plates_status", "Plates status", "the number of plates"),
        Field(
            name="corner_studs",
            title="Corner studs",
            help="Extra studs at each corner.",
            kind="number",
            low=0,
            high=4,
            whole=True,
            required=True,
        ),
        _status("corner_status", "Corner status", "the number of corner studs"),
        Field(
            name="junction_studs",
            title="Junction studs",
            help="Extra studs in a wall where an internal wall meets it.",
            kind="number",
            low=0,
            high=4,
            whole=True,
            required=True,
        ),
        _status("junction_status", "Junction status", "the number of junction studs"),
        Field(
            name="jamb_studs",
            title="Jamb studs",
            help="Full-height studs each side of an opening: as the lintel table says, or one.",
            kind="choice",
            choices=("from table", "one full-height stud"),
            required=True,
            width=20,
        ),
        _status("jamb_status", "Jamb status", "the number of jamb studs"),
        Field(
            name="jack_studs_over_lintels",
            title="Jack studs over lintels",
            help="Short studs on the grid between lintel and top plate.",
            kind="yes_no",
            required=True,
        ),
        _status("jack_status", "Jack stud status", "leaving jack studs out"),
        Field(
            name="lintels_in_nonbearing_walls",
            title="Lintels in non-loadbearing walls",
            help="Lintels in walls that carry no rafters; no: a head trimmer of stud section.",
            kind="yes_no",
            required=True,
        ),
        _status("lintel_status", "Lintel status", "leaving lintels out"),
        Field(
            name="openings_on_grid",
            title="Openings on grid",
            help="Openings are moved, by less than half the stud spacing, so that their left jamb studs "
            "stand where grid studs would.",
            kind="yes_no",
            required=True,
        ),
        length_field(
            "nogging_spacing",
            "Nogging spacing",
            "Greatest clear stud height between rows of noggings.",
            0.4,
            4,
            shown="mm",
            required=True,
        ),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=50),
    ),
)

LINTELS = Sheet(
    title="Lintels",
    layout="table",
    help="What carries the load over an opening: the first row that is wide enough for the roof width "
    "carried and for the opening. Indicative sizes; the engineer confirms.",
    start="load_width",
    fields=(
        length_field(
            "load_width",
            "Roof width carried",
            "Greatest roof width carried, measured level; 0 for walls that carry no roof.",
            0,
            15,
            required=True,
        ),
        length_field("opening_width", "Opening width", "Greatest width of opening.", 0.2, 8, required=True),
        Field(
            name="material",
            title="Material",
            help="A row of the Materials sheet.",
            refers_to=("Materials.Material",),
            required=True,
            width=34,
        ),
        length_field("depth", "Depth", "Depth of the lintel.", 0.03, 0.6, shown="mm", required=True),
        length_field("thickness", "Thickness", "Thickness of one ply.", 0.02, 0.2, shown="mm", required=True),
        Field(
            name="plies",
            title="Plies",
            help="Number of plies side by side.",
            kind="number",
            low=1,
            high=4,
            whole=True,
            required=True,
        ),
        Field(
            name="jamb_studs",
            title="Jamb studs",
            help="Full-height studs each side.",
            kind="number",
            low=1,
            high=4,
            whole=True,
            required=True,
        ),
        Field(
            name="studs_under",
            title="Studs under lintel",
            help="Studs under each end of the lintel.",
            kind="number",
            low=0,
            high=3,
            whole=True,
            required=True,
        ),
    ),
)

OPTIONS = Sheet(
    title="Options",
    layout="options",
    help="Settings of the House sheet down the side, options across the top. Blank: as the base. "
    "The first option column is the base.",
)

HOUSE_WORKBOOK = WorkbookLayout(
    title="House workbook",
    sheets=(
        PROJECT,
        HOUSE,
        ROOMS,
        BULKHEADS,
        INTERNAL_WALLS,
        OPENINGS,
        BUILD_UPS,
        PALETTES,
        FRAMING,
        LINTELS,
        OPTIONS,
        STUDY,
        FABRIC,
        ALLOWANCES,
        *BILL_SHEETS,
        MATERIALS.as_optional(),
        PRICES.as_optional(),
        STOCK.as_optional(),
        CARBON_FACTORS.as_optional(),
        SERVICE_LIVES.as_optional(),
        SOURCES.as_optional(),
    ),
)
