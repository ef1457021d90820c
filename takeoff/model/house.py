"""The house as the workbook states it: settings, openings, build-ups, palettes, framing practices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.life_cycle import Exposure
from takeoff.model.problem import Origin

Side = Literal["low", "high", "left", "right"]
SIDES: tuple[Side, ...] = ("low", "high", "left", "right")

Part = Literal[
    "external wall",
    "internal wall",
    "party wall",
    "roof",
    "ceiling",
    "floor",
    "cladding",
    "opening surround",
    "wall lining",
    "ceiling lining",
    "floor finish",
]
PARTS: tuple[Part, ...] = get_args(Part)
# What a build-up may name instead of layers: nothing stands there.
OPEN = "open"
Status = Literal["within tables", "engineer to confirm"]

CuttingAim = Literal["least length", "least cost", "least carbon"]
CUTTING_AIMS: tuple[CuttingAim, ...] = get_args(CuttingAim)


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """The settings of one house. Lengths in m, pitch in degrees, names refer to other sheets.

    `stud_spacing` is None where the framing practice decides it. `longest_length` is that of the longest
    timber on sale, over which floor joists and bearers are joined. `cutting_aim` is what the cutting plans buy
    least of. `weather_from` is the compass point that most sun and weather come from, None where it is not stated;
    `sheltering_overhang` the overhang that shelters the wall below it, as a share of the wall's height; the
    exposures of the sides are None where these decide. Loads are in Pa, that of the roof itself on the slope, what is
    imposed on it on plan; None where they are not stated. `no_steel` puts timber in place of steel lintels.
    """

    length: float
    span: float
    low_height: float
    pitch: float
    high_side_faces: str
    overhang_low: float
    overhang_high: float
    overhang_left: float
    overhang_right: float
    stud_depth: float
    stud_thickness: float
    stud_spacing: float | None
    rafter_depth: float
    rafter_thickness: float
    rafter_spacing: float
    support_lines: tuple[float, ...]
    framing_practice: str
    palette: str
    external_wall: str
    roof: str
    ceiling: str
    floor: str
    opening_surround: str
    cladding_drop: float
    outrigger_depth: float
    outrigger_spacing: float
    rafter_blocking: bool
    sheet_overhang: float
    downpipes: int
    floor_above_ground: float
    topsoil_depth: float
    edge_beam_width: float
    edge_beam_depth: float
    wall_height_limit: float
    internal_wall: str | None = None
    wet_wall: str | None = None
    party_wall: str | None = None
    separate_dwellings: bool = False
    internal_surround: str | None = None
    floor_joist_depth: float = 0.24
    floor_joist_thickness: float = 0.045
    floor_joist_spacing: float = 0.45
    bearer_depth: float = 0.19
    bearer_thickness: float = 0.09
    bearer_spacing: float = 1.8
    stump_spacing: float = 1.8
    pad_width: float = 0.4
    pad_depth: float = 0.25
    footing_depth: float = 0.6
    longest_length: float = 6.0
    cutting_aim: CuttingAim = "least length"
    roof_dead: float | None = None
    roof_imposed: float | None = None
    floor_dead: float | None = None
    floor_imposed: float | None = None
    no_steel: bool = False
    site_activity: str | None = None
    weather_from: str | None = None
    site_exposure: Exposure = "moderate"
    sheltering_overhang: float = 0.2
    exposure_low: Exposure | None = None
    exposure_high: Exposure | None = None
    exposure_left: Exposure | None = None
    exposure_right: Exposure | None = None
    origin: Mapping[str, Origin] = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A window or door: a structural opening in one wall. Lengths in m.

    `position` runs from the left end of the house outline, seen from outside, to the left jamb;
    `number` is the number of units coupled in this one opening.
    """

    mark: str
    side: Side
    kind: Literal["window", "sliding door", "door"]
    width: float
    height: float
    sill: float
    position: float
    number: int
    unit_type: str
    shutter: str | None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    @property
    def area(self) -> float:
        """Area of the structural opening [m2]."""
        return self.width * self.height

    @property
    def head(self) -> float:
        """Height of the head above floor level [m]."""
        return self.sill + self.height

    @property
    def right(self) -> float:
        """Position of the right jamb [m]."""
        return self.position + self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class InternalDoor:
    """A door or opening in the wall between two rooms. Lengths in m.

    `position` is that of its nearer jamb along x or y, in the coordinates of the rooms; None stands for
    the middle of what the two rooms share. `unit_type` is None for an opening without a leaf.
    """

    mark: str
    rooms: tuple[str, str]
    kind: Literal["door", "sliding door", "opening"]
    width: float
    height: float
    position: float | None
    number: int
    unit_type: str | None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    @property
    def area(self) -> float:
        """Area of the structural opening [m2]."""
        return self.width * self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A rectangle of the plan, to the outside face of the frame and the middle of internal walls [m].

    Blank linings are those of the walls' and the house's own build-ups. `flat_ceiling` is the height of a
    flat ceiling above floor level [m], None where the ceiling rakes.
    """

    name: str
    dwelling: str
    from_x: float
    to_x: float
    from_y: float
    to_y: float
    wall_lining: str | None = None
    ceiling_lining: str | None = None
    floor_finish: str | None = None
    wet: bool = False
    flat_ceiling: float | None = None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bulkhead:
    """A part of a room whose ceiling is lowered to a flat underside. Lengths in m."""

    name: str
    room: str
    from_x: float
    to_x: float
    from_y: float
    to_y: float
    underside: float
    ceiling_lining: str | None = None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallChoice:
    """The build-up of the wall between two rooms, `OPEN` where there is none."""

    rooms: tuple[str, str]
    build_up: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a build-up, and how it is measured.

    `thickness` [m] is None where the material or the frame decides it; `spacing` [m] is that of
    battens; `rate` is the number per measured unit (fixings, coats) and 1 where nothing is said.
    `bottom` and `top` [m] bound the layer by height above floor level, None where nothing bounds it.
    `renewed_with` is the number of the layer of the same build-up whose renewal brings this one with it.
    """

    number: int
    material: str
    thickness: float | None
    measured_by: str
    direction: Literal["vertical", "horizontal"] | None
    spacing: float | None
    rate: float
    bottom: float | None = None
    top: float | None = None
    renewed_with: int | None = None
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class BuildUp:
    """A named list of layers, outside to inside."""

    name: str
    part: Part
    layers: tuple[Layer, ...]

    def frame_index(self) -> int | None:
        """Return the place of the frame among the layers, or None where the build-up has none."""
        for index, layer in enumerate(self.layers):
            if layer.measured_by == "frame":
                return index
        return None

    def inside_layers(self) -> tuple[Layer, ...]:
        """Return the layers on the room side of the frame (all of them where there is no frame)."""
        index = self.frame_index()
        return self.layers if index is None else self.layers[index + 1 :]


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A horizontal band of another cladding, between two heights above floor level [m]."""

    build_up: str
    sides: tuple[Side, ...]
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """A cladding build-up for each elevation, and perhaps one for a band."""

    name: str
    low: str
    high: str
    left: str
    right: str
    band: Band | None = None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    def build_up_for(self, side: Side) -> str:
        """Return the name of the cladding build-up of one elevation."""
        return {"low": self.low, "high": self.high, "left": self.left, "right": self.right}[side]


@dataclass(frozen=True, slots=True, kw_only=True)
class FramingPractice:
    """How walls are framed. Lengths in m; each material-saving rule carries its status."""

    name: str
    stud_spacing: float
    bottom_plates: int
    top_plates: int
    plates_status: Status
    corner_studs: int
    corner_status: Status
    junction_studs: int
    junction_status: Status
    jamb_studs: Literal["from table", "one full-height stud"]
    jamb_status: Status
    jack_studs_over_lintels: bool
    jack_status: Status
    lintels_in_nonbearing_walls: bool
    lintel_status: Status
    openings_on_grid: bool
    nogging_spacing: float
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    def rules(self) -> tuple[tuple[str, Status], ...]:
        """Return each rule of the practice in words, with its status."""
        over = "jack studs over lintels" if self.jack_studs_over_lintels else "no jack studs over lintels"
        bare = (
            "lintels in non-loadbearing walls"
            if self.lintels_in_nonbearing_walls
            else "no lintels in non-loadbearing walls"
        )
        return (
            (f"top plates {self.top_plates}, bottom plates {self.bottom_plates}", self.plates_status),
            (f"extra studs at each corner {self.corner_studs}", self.corner_status),
            (f"extra studs at each partition junction {self.junction_studs}", self.junction_status),
            (f"jamb studs: {self.jamb_studs}", self.jamb_status),
            (over, self.jack_status),
            (bare, self.lintel_status),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LintelRow:
    """One row of the lintel table: what carries a given load over openings up to a given width.

    `load_width` is the greatest roof width carried [m], 0 for walls that carry no roof.
    """

    load_width: float
    opening_width: float
    material: str
    depth: float
    thickness: float
    plies: int
    jamb_studs: int
    studs_under: int
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A named change to the house; the first is the base."""

    name: str
    changes: Mapping[str, object]
    description: str = ""
    shown: tuple[tuple[str, str], ...] = ()
    origin: Mapping[str, Origin] = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A house with everything its settings name.

    `chosen_lintels` are those of single openings, by mark, in place of what the lintel table says.
    """

    house: House
    openings: tuple[Opening, ...]
    build_ups: Mapping[str, BuildUp]
    palettes: Mapping[str, Palette]
    practices: Mapping[str, FramingPractice]
    lintels: tuple[LintelRow, ...]
    rooms: tuple[Room, ...] = ()
    bulkheads: tuple[Bulkhead, ...] = ()
    wall_choices: tuple[WallChoice, ...] = ()
    internal_doors: tuple[InternalDoor, ...] = ()
    chosen_lintels: Mapping[str, LintelRow] = field(default_factory=dict)

    @property
    def practice(self) -> FramingPractice:
        """The framing practice in force."""
        return self.practices[self.house.framing_practice]

    @property
    def palette(self) -> Palette:
        """The cladding palette in force."""
        return self.palettes[self.house.palette]

    @property
    def stud_spacing(self) -> float:
        """Stud centres in force [m]: the house's own, else those of the framing practice."""
        return self.house.stud_spacing or self.practice.stud_spacing

    def openings_in(self, side: Side) -> tuple[Opening, ...]:
        """Return the openings of one wall, from left to right seen from outside."""
        return tuple(sorted((o for o in self.openings if o.side == side), key=lambda o: o.position))
