"""The sheets of structural timber: grades with the sections on sale, and the cases members are checked for."""

from __future__ import annotations

from takeoff.model.timber import CASE_KINDS, MEMBER_USES
from takeoff.workbook.fields import Field, Sheet, length_field
from takeoff.workbook.source_fields import source_field, standing_field


def _load(name: str, title: str, help: str) -> Field:
    """Return a load of the house, for one m2."""
    return Field(
        name=name,
        title=title,
        help=f"{help} Blank: the members it bears on are not checked.",
        kind="quantity",
        unit="Pa",
        shown="kPa",
        low=0,
        high=2e4,
    )


LOAD_SETTINGS = (
    _load("roof_dead", "roof dead load", "Weight of roof and ceiling, for each m2 on the slope."),
    _load("roof_imposed", "roof imposed load", "Snow or upkeep, whichever is more, for each m2 on plan."),
    _load("floor_dead", "floor dead load", "Weight of a suspended floor and what is fixed on it."),
    _load("floor_imposed", "floor imposed load", "People and furniture on a suspended floor."),
    Field(
        name="no_steel",
        title="no steel",
        help="yes: a lintel of steel gives way to the least timber one on sale that would do, if there is one; the "
        "engineer confirms.",
        kind="yes_no",
        default=False,
    ),
)


def _stress(name: str, title: str, help: str) -> Field:
    """Return a strength or modulus."""
    return Field(
        name=name,
        title=title,
        help=help,
        kind="quantity",
        unit="Pa",
        shown="MPa",
        low=1e4,
        high=1e11,
        required=True,
        width=11,
    )


TIMBER_GRADES = Sheet(
    title="Timber grades",
    layout="table",
    help="Structural timber: the sections on sale and what their grade bears. Strengths are characteristic values or "
    "allowable stresses, as the sheet Load cases goes with them. A material takes several rows where depths differ.",
    optional=True,
    start="material",
    fields=(
        Field(
            name="material",
            title="Material",
            help="A row of the Materials sheet.",
            refers_to=("Materials.Material",),
            required=True,
            width=36,
        ),
        Field(
            name="grade", title="Grade", help="Grade or class, with its standard.", required=True, width=18
        ),
        *(
            Field(
                name=name,
                title=title,
                help=help,
                kind="positions",
                unit="m",
                shown="mm",
                low=0.015,
                high=1,
                required=True,
                width=30,
            )
            for name, title, help in (
                ("depths", "Depths", "Depths on sale that the row holds for, separated by semicolons."),
                ("thicknesses", "Thicknesses", "Thicknesses on sale, each with every depth."),
            )
        ),
        _stress("bending", "Bending", "Bending strength."),
        _stress("shear", "Shear", "Shear strength, with any allowance for cracks taken off."),
        _stress("bearing", "Bearing", "Compression strength across the grain."),
        _stress("elasticity", "Elasticity", "Mean modulus of elasticity."),
        Field(
            name="size_factor",
            title="Size factor",
            help="Multiplies the bending strength of these depths.",
            kind="number",
            low=0.5,
            high=2,
            default=1.0,
            width=11,
        ),
        source_field(),
        standing_field(),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=50),
    ),
)

LOAD_CASES = Sheet(
    title="Load cases",
    layout="table",
    help="What rafters, floor joists and lintels are checked for: every row of a kind of member counts. The code of "
    "the place decides on factors and limits.",
    optional=True,
    key=("member", "case"),
    start="member",
    fields=(
        Field(
            name="member",
            title="Member",
            help="Kind of member.",
            kind="choice",
            choices=MEMBER_USES,
            required=True,
            width=14,
        ),
        Field(name="case", title="Case", help="Name of the case.", required=True, width=34),
        Field(
            name="kind",
            title="Checked for",
            help="strength: bending, shear and bearing; deflection: the sag between supports.",
            kind="choice",
            choices=CASE_KINDS,
            required=True,
            width=14,
        ),
        *(
            Field(
                name=name,
                title=title,
                help=f"What the {words} load is multiplied by; in deflection, creep taken in.",
                kind="number",
                low=0,
                high=5,
                required=True,
                width=10,
            )
            for name, title, words in (("dead", "Dead", "dead"), ("imposed", "Imposed", "imposed"))
        ),
        *(
            Field(
                name=name,
                title=title,
                help=f"{help} Left blank in deflection.",
                kind="number",
                low=low,
                high=3,
                default=1.0,
                width=12,
            )
            for name, title, help, low in (
                ("duration", "Duration", "Multiplies the strengths, for how long the load lasts.", 0.1),
                (
                    "load_sharing",
                    "Load sharing",
                    "Multiplies the bending strength, where members share loads.",
                    0.5,
                ),
                ("material_factor", "Material factor", "Divides the strengths.", 0.5),
            )
        ),
        Field(
            name="limit",
            title="Limit, span over",
            help="Deflection is held to the span divided by this, such as 250. Blank in strength.",
            kind="number",
            low=50,
            high=2000,
            width=12,
        ),
        length_field(
            "longest_span",
            "Longest span",
            "Longer spans are outside the scope of the check; blank: none.",
            0.5,
            20,
            width=12,
        ),
        source_field(),
        standing_field(),
        Field(name="note", title="Note", help="Anything worth knowing.", default="", width=50),
    ),
)
