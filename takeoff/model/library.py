"""What the factors workbook states: materials, prices, stock, labour, transport, ladder, rules.

What it states of carbon over the whole life is in `takeoff.model.life_cycle`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from takeoff.model.bill import BillOrder
from takeoff.model.fabric import ThermalResistance
from takeoff.model.life_cycle import Benchmark, CarbonFactor, EndOfLife, ServiceLife, Spread
from takeoff.model.per_unit import PerUnit
from takeoff.model.picture import PictureFile
from takeoff.model.problem import Origin
from takeoff.model.timber import LoadCase, TimberGrade

# Element codes as they begin an id, in elemental order.
ELEMENTS: dict[str, str] = {
    "SB": "substructure",
    "RF": "roof",
    "EW": "external walls",
    "WN": "windows",
    "ED": "external doors",
    "IW": "internal walls",
    "ID": "internal doors",
    "WF": "wall finishes",
    "FF": "floor finishes",
    "CF": "ceiling finishes",
    "FT": "fitments",
    "SV": "services",
    "SW": "site works",
    "PR": "preliminaries",
}

# In building sequence.
TRADES = (
    "groundworks",
    "concrete",
    "carpentry",
    "roofing",
    "windows and doors",
    "cladding",
    "masonry",
    "insulation and membranes",
    "services",
    "linings",
    "tiling",
    "joinery",
    "flooring",
    "painting",
    "site",
)

# The family of what is not timber in a timber frame.
STEEL = "steel"

SoldBy = Literal[
    "length", "random lengths", "sheet", "cut to length", "roll", "pack", "box", "bag", "pallet", "step"
]
# Sold by what one of them holds.
BY_CONTENTS: tuple[SoldBy, ...] = ("pack", "box", "bag", "pallet", "step")
Joints = Literal["none", "on supports", "anywhere"]

Standing = Literal["read", "second-hand", "derived", "from memory", "invented for the demo"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A material, board, sheet, unit or component as bought. Lengths in m, density in kg/m3.

    `width` and `length` are overall sizes, `cover` is the width that stays visible; `joint` is the
    mortar or panel joint; `mass` is a mass for one m2, m or Nr where density does not give it.
    `wood_share` is the share of the mass that is wood, `moisture` that of the wood by dry mass,
    `carbon_fraction` the carbon in its dry mass. `conductivity` is in W/(m K),
    `u_value` that declared for a window or door [W/(m2 K)], `installation` what its joint with the wall adds [W/(m K)].
    """

    name: str
    description: str
    family: str
    trade: str
    item_class: str
    density: float | None = None
    mass: PerUnit | None = None
    thickness: float | None = None
    width: float | None = None
    cover: float | None = None
    length: float | None = None
    height: float | None = None
    joint: float = 0.0
    lap: float = 0.0
    wastage: float = 0.0
    wastage_base: Literal["net", "delivered"] = "net"
    wood_share: float = 0.0
    moisture: float = 0.12
    carbon_fraction: float = 0.5
    conductivity: float | None = None
    u_value: float | None = None
    installation: float | None = None
    work: str | None = None
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """The price of a material, delivered, ex tax, in the project's currency.

    `low` and `high` are the ends of its range in the same unit, None where the spread of its basis holds.
    """

    material: str
    price: PerUnit
    sundries: float
    wastage_in_price: bool
    basis: str
    date: str
    place: str
    source: str
    low: float | None = None
    high: float | None = None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a material is sold in: lengths, sheets, rolls or packs. Lengths in m.

    `depth` and `thickness` say which section or thickness the row is for, None for any. `lengths` are those
    on sale (shortest and longest of random lengths), `width` that of sheets and rolls, `contents` how much
    of `contents_unit` one pack holds. `price` is None where the Prices sheet holds for all sizes alike.

    `kerf` is lost at each saw cut. Offcuts not shorter than `least_offcut` and, of sheets, not narrower than
    `least_width` are used again. `joints` says where pieces may be joined; `end_lap` is what a joint takes,
    `stagger` the least distance between the end joints of neighbouring courses of sheets. Sheets cut to
    length are made to the next `step` and, over `longest`, in several with end laps.
    """

    material: str
    sold_by: SoldBy
    depth: float | None = None
    thickness: float | None = None
    lengths: tuple[float, ...] = ()
    width: float | None = None
    contents: float | None = None
    contents_unit: str | None = None
    price: PerUnit | None = None
    kerf: float = 0.0
    least_offcut: float = 0.0
    least_width: float = 0.0
    joints: Joints = "none"
    end_lap: float = 0.0
    stagger: float = 0.0
    longest: float | None = None
    step: float = 0.001
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A labour constant: hours of a gang, plant and site carbon for one unit of work fixed.

    `site_carbon` is None where it is not assessed.
    """

    name: str
    gang: str
    hours: PerUnit
    plant: float
    site_carbon: float | None
    source: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gang:
    """A gang and its rate [currency/h], all on-costs in."""

    name: str
    rate: float
    source: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class TransportMode:
    """A way of carrying goods and its factor [kgCO2e/(kg m)]."""

    name: str
    factor: float
    source: str
    standing: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderStep:
    """One step between the measured works and the total including tax.

    `value` is an amount for a sum, a share (0.10) for a percentage, markup, margin or tax, and the
    ratio of two index values for escalation.
    """

    name: str
    kind: Literal["sum", "percentage", "markup", "margin", "index ratio", "tax"]
    value: float
    base: Literal["measured works", "works and sums", "running total"] | None
    note: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasurementRule:
    """How a class of items is measured and billed: one row of the measurement profile.

    `smallest_void` is the largest void within a face that is not deducted [m2], `included` what is deemed
    included. `unit` is what its items are billed in where they can be converted, None: as measured; `rounding` the
    step that the quantity of the bill is rounded to, in the unit billed. `sort_code` orders its items within a
    section of the bill, "" after all that have one.
    """

    item_class: str
    smallest_void: float
    included: str
    unit: str | None = None
    rounding: float = 0.01
    sort_code: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class StageAccuracy:
    """The range that goes with an estimate made at a stage, as shares (-0.15, +0.20).

    The allowances are those added to carbon at that stage, as shares: for what is not designed yet, for
    quantities, and the most for data (that of data with the worst scores); None where none is stated.
    """

    stage: str
    low: float
    high: float
    phase_allowance: float | None = None
    quantity_allowance: float | None = None
    data_allowance: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where values come from."""

    key: str
    title: str
    where: str
    licence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Library:
    """Everything a practice knows of materials, money and carbon."""

    materials: Mapping[str, Material]
    prices: Mapping[str, Price]
    works: Mapping[str, Work]
    gangs: Mapping[str, Gang]
    carbon: Mapping[str, CarbonFactor]
    transport: Mapping[str, TransportMode]
    ladder: tuple[LadderStep, ...]
    measurement: Mapping[str, MeasurementRule]
    accuracy: Mapping[str, StageAccuracy]
    sources: Mapping[str, Source]
    stock: Mapping[str, tuple[Stock, ...]] = field(default_factory=dict)
    lives: Mapping[str, ServiceLife] = field(default_factory=dict)
    end_of_life: Mapping[tuple[str, str], EndOfLife] = field(default_factory=dict)
    spreads: Mapping[tuple[str, str], Spread] = field(default_factory=dict)
    benchmarks: tuple[Benchmark, ...] = ()
    resistances: tuple[ThermalResistance, ...] = ()
    grades: tuple[TimberGrade, ...] = ()
    load_cases: tuple[LoadCase, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """The job's own particulars, printed in the documents.

    `practice_colour` is written as #rrggbb, "" for a neutral one; `client_options` are the options that the client
    paper shows beside the base, () for those that say most.
    """

    name: str
    description: str
    place: str
    practice: str
    author: str
    issue: str
    date: str
    stage: str
    currency: str
    factors_workbook: str
    exclusions: tuple[str, ...] = ()
    bill_order: BillOrder = "element"
    practice_colour: str = ""
    logo: PictureFile | None = None
    client_options: tuple[str, ...] = ()
