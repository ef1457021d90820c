"""The sheet Carbon factors: what each material takes by module of EN 15804, its range and how good the data are."""

from __future__ import annotations

from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.source_fields import source_field, standing_field

STANDARDS = ("EN 15804+A1", "EN 15804+A2", "EN 15804", "ISO 14067", "none stated")
# The columns that state the quality of the data, with what their best and worst scores mean.
SCORES = (
    (
        "reliability",
        "Reliability",
        "1 a declaration checked by a third party; 3 an inventory that names its data, or declarations as quoted "
        "elsewhere; 5 a guess",
    ),
    (
        "completeness",
        "Completeness",
        "1 all makers of the market; 3 some of them; 5 one or few, or not known",
    ),
    ("time", "Time", "1 under 3 years old; 2 under 6; 3 under 10; 4 under 15; 5 older, or not known"),
    (
        "geography",
        "Geography",
        "1 the region of the house; 2 its country; 3 another one that makes it alike; 4 another one; 5 not known",
    ),
    (
        "technology",
        "Technology",
        "1 the product itself; 2 its kind; 3 a wider class; 4 another product in its place; 5 one of another material",
    ),
)
_SCALE = "From 1, the best, to 5."

# Modules in the declared unit besides A1-A3, in the order of their columns, before and after the way to the site.
_OF_THE_SOURCE = "blank: by the sheet End of life."
MODULE_FIELDS = (
    ("a5", "A5", "Fixing it besides wastage, for one unit; blank: by the sheet Labour."),
    ("b2", "B2", "Its maintenance in one year, for one unit; blank: none besides renewals."),
    ("b3", "B3", "Its repair in one year, for one unit; blank: not assessed."),
    ("c1", "C1", f"Taking it out, for one unit; {_OF_THE_SOURCE}"),
    ("c2", "C2", f"Carrying it away, for one unit; {_OF_THE_SOURCE}"),
    ("c3", "C3", f"Waste processing, for one unit, stored carbon left out; {_OF_THE_SOURCE}"),
    ("c4", "C4", f"Disposal, for one unit, stored carbon left out; {_OF_THE_SOURCE}"),
    ("d", "D", f"Beyond the life cycle, for one unit; always told apart; {_OF_THE_SOURCE}"),
)


def _in_the_same_unit(name: str, title: str, help: str) -> Field:
    """Return a column in the declared unit of the row."""
    return Field(name=name, title=title, help=help, kind="number", low=-1e5, high=1e5, width=9)


CARBON_FACTORS = Sheet(
    title="Carbon factors",
    layout="table",
    help="Carbon of each material by module, stored biogenic carbon left out, and its way to the site. Every module "
    "is in the unit of the row. Five scores say how good the data are and widen the range where Low and High are "
    "blank; they are a plain judgement of the stated source, not a part of it.",
    key=("material",),
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
            name="a1a3",
            title="A1-A3",
            help="Carbon from raw material to factory gate for one unit.",
            kind="rate",
            unit="kgCO2e",
            unit_in="unit",
            low=-1e4,
            high=1e5,
            required=True,
            width=10,
        ),
        Field(
            name="unit",
            title="Unit",
            help="Declared unit, such as kgCO2e/kg, kgCO2e/m2 or kgCO2e/m3.",
            required=True,
            width=14,
        ),
        _in_the_same_unit("low", "Low", "Low end of the range, in the same unit; both ends or neither."),
        _in_the_same_unit("high", "High", "High end of the range, in the same unit."),
        _in_the_same_unit(
            "land_use",
            "Land use",
            "Land use and its change in A1-A3, in the same unit, not within A1-A3; blank: not assessed.",
        ),
        Field(
            name="biogenic",
            title="Biogenic",
            help="Stored CO2 as the source declares it, in the same unit, negative; blank: from the wood share of the "
            "material, by EN 16449.",
            kind="number",
            low=-1e5,
            high=0,
            width=9,
        ),
        Field(
            name="mode",
            title="Transport",
            help="A row of the Transport sheet; blank: A4 is not assessed.",
            refers_to=("Transport.Mode",),
            width=24,
        ),
        Field(
            name="distance",
            title="Distance",
            help="Way to the site.",
            kind="quantity",
            unit="m",
            shown="km",
            low=0,
            high=3e7,
            width=10,
        ),
        *(_in_the_same_unit(name, title, help) for name, title, help in MODULE_FIELDS),
        Field(
            name="standard",
            title="Standard",
            help="Rules that the source keeps to.",
            kind="choice",
            choices=STANDARDS,
            default="",
            width=14,
        ),
        source_field(),
        Field(name="year", title="Year", help="Year of the data.", default="", width=8),
        Field(name="country", title="Country", help="Where the data is from.", default="", width=16),
        standing_field(),
        *(
            Field(
                name=name,
                title=title,
                help=f"{_SCALE} {scale}.",
                kind="number",
                low=1,
                high=5,
                whole=True,
                width=13,
            )
            for name, title, scale in SCORES
        ),
        Field(
            name="note",
            title="Note",
            help="How the value was derived, proxies and gaps.",
            default="",
            width=60,
        ),
    ),
)
