"""The sheets of the thermal fabric: how it is judged (Fabric), and resistances of surfaces and air layers."""

from __future__ import annotations

from takeoff.model.fabric import RESISTANCE_KINDS, Fabric
from takeoff.workbook.fields import Field, Sheet, length_field
from takeoff.workbook.source_fields import source_field, standing_field

_USUAL = Fabric()
_U_UNIT = "W/(m2 K)"


def _target(name: str, title: str, what: str) -> Field:
    """Return the target U-value of an element."""
    return Field(
        name=name,
        title=title,
        help=f"The highest mean U-value of {what} for an option to count as good enough; blank: none.",
        kind="quantity",
        unit=_U_UNIT,
        shown=_U_UNIT,
        low=0.05,
        high=6,
    )


def _assumed(name: str, title: str, what: str, usual: float) -> Field:
    """Return the share of timber that is usually assumed of an element."""
    return Field(
        name=name,
        title=title,
        help=f"Share of timber usually taken for {what}, to compare with the share measured from the sticks.",
        kind="quantity",
        unit="share",
        shown="%",
        low=0,
        high=0.9,
        default=usual,
    )


FABRIC = Sheet(
    title="Fabric",
    layout="settings",
    help="How good the fabric has to be and how options are compared by it, the same for every option. The sheet may "
    "be left out.",
    optional=True,
    start="target_walls",
    fields=(
        _target("target_walls", "target U, external walls", "the external walls"),
        _target("target_roof", "target U, roof", "the roof with its ceiling"),
        _target("target_floor", "target U, floor", "the ground floor"),
        _target("target_windows", "target U, windows", "windows and sliding doors, installation left out"),
        _target("target_doors", "target U, external doors", "external doors, installation left out"),
        Field(
            name="heat_loss_limit",
            title="heat loss limit",
            help="The most heat loss coefficient of an option, as a share of that of the base; blank: none.",
            kind="quantity",
            unit="share",
            shown="%",
            low=0.5,
            high=2,
        ),
        _assumed("assumed_wall_fraction", "assumed framing, walls", "external walls", 0.15),
        _assumed("assumed_roof_fraction", "assumed framing, roof", "the roof", 0.10),
        _assumed("assumed_floor_fraction", "assumed framing, floor", "a suspended floor", 0.12),
        Field(
            name="ground_conductivity",
            title="ground conductivity",
            help="Thermal conductivity of the ground: 1.5 clay or silt, 2.0 sand or gravel, 3.5 rock (EN ISO 13370, "
            "from memory).",
            kind="quantity",
            unit="W/(m K)",
            shown="W/(m K)",
            low=0.3,
            high=6,
            default=_USUAL.ground_conductivity,
        ),
        Field(
            name="declared_floor",
            title="declared U, floor",
            help="U-value of the ground floor worked out elsewhere, in place of the one worked out here.",
            kind="quantity",
            unit=_U_UNIT,
            shown=_U_UNIT,
            low=0.05,
            high=6,
        ),
        Field(
            name="air_gaps",
            title="air gap level",
            help="Correction of EN ISO 6946 for gaps in the insulation: 0 none, 1 gaps through it, 2 air moving about "
            "it.",
            kind="number",
            low=0,
            high=2,
            whole=True,
            default=_USUAL.air_gaps,
        ),
        Field(
            name="thermal_bridges",
            title="thermal bridges",
            help="What junctions add for each m2 of envelope; blank: not assessed.",
            kind="quantity",
            unit=_U_UNIT,
            shown=_U_UNIT,
            low=0,
            high=0.5,
        ),
        Field(
            name="degree_days",
            title="heating degree days",
            help="Of the place, in a year, for the comparison of heat demand; blank: no comparison.",
            kind="quantity",
            unit="K d",
            shown="K d",
            low=0,
            high=12000,
        ),
        Field(
            name="air_changes",
            title="air changes",
            help="Air of the house renewed by ventilation and leaks, volumes an hour.",
            kind="quantity",
            unit="1/h",
            shown="1/h",
            low=0,
            high=10,
            default=_USUAL.air_changes,
        ),
        Field(
            name="heat_recovery",
            title="heat recovery",
            help="Share of the heat of that air that is recovered.",
            kind="quantity",
            unit="share",
            shown="%",
            low=0,
            high=0.95,
            default=_USUAL.heat_recovery,
        ),
    ),
)

THERMAL_RESISTANCES = Sheet(
    title="Thermal resistances",
    layout="table",
    help="Resistances of surfaces and of still air layers, by the way the heat goes: upwards through a roof, "
    "horizontal through a wall, downwards through a floor. Air layers between two rows are interpolated. Without the "
    "sheet no U-value is worked out.",
    optional=True,
    key=("kind", "thickness"),
    start="kind",
    fields=(
        Field(
            name="kind",
            title="Kind",
            help="What the row is of; outside surfaces are those exposed to wind.",
            kind="choice",
            choices=RESISTANCE_KINDS,
            required=True,
            width=20,
        ),
        length_field(
            "thickness",
            "Thickness",
            "Thickness of the air layer; blank for surfaces.",
            0,
            1,
            shown="mm",
            width=11,
        ),
        *(
            Field(
                name=name,
                title=title,
                help=f"Resistance where heat goes {words}.",
                kind="quantity",
                unit="m2 K/W",
                shown="m2 K/W",
                low=0,
                high=1,
                required=True,
                width=13,
            )
            for name, title, words in (
                ("upwards", "Upwards", "up"),
                ("horizontal", "Horizontal", "level"),
                ("downwards", "Downwards", "down"),
            )
        ),
        source_field(),
        standing_field(),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=50),
    ),
)
