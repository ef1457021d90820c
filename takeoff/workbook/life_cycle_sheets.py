"""The sheets Service lives, End of life, Spreads and Benchmarks of the factors workbook."""

from __future__ import annotations

from takeoff.model.life_cycle import AREA_BASES, MODULE_SCOPES, RENEWAL_MODULES, ROUTES, SPREADS_OF
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.material_kinds import FAMILIES, WOOD_FAMILIES
from takeoff.workbook.source_fields import source_field, standing_field

# Routes on which stored carbon may stay where it is laid.
KEEPING_ROUTES = ("landfill", "fill", "left in the ground")


def _note(help: str = "Anything worth knowing.") -> Field:
    """Return the column of remarks."""
    return Field(name="note", title="Note", help=help, default="", width=60)


def _years(name: str, title: str, help: str, **more: object) -> Field:
    """Return a number of years."""
    return Field(
        name=name,
        title=title,
        help=help,
        kind="quantity",
        unit="year",
        shown="year",
        low=0.25,
        high=1000,
        width=11,
        **more,  # type: ignore[arg-type]
    )


def _share(name: str, title: str, help: str, low: float, high: float, **more: object) -> Field:
    """Return a share, shown in per cent."""
    return Field(
        name=name,
        title=title,
        help=help,
        kind="quantity",
        unit="share",
        shown="%",
        low=low,
        high=high,
        width=11,
        **more,  # type: ignore[arg-type]
    )


def _per_mass(name: str, title: str, help: str) -> Field:
    """Return carbon for one unit of mass."""
    return Field(
        name=name,
        title=title,
        help=help,
        kind="quantity",
        unit="kgCO2e/kg",
        shown="kgCO2e/t",
        low=-20,
        high=20,
        width=11,
    )


SERVICE_LIVES = Sheet(
    title="Service lives",
    layout="table",
    help="How long each material stays before it is renewed, by exposure to sun and weather; what is inside the house "
    "is sheltered. A layer that its build-up renews with another needs no row unless it lasts less long.",
    optional=True,
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
            name="module",
            title="Renewal",
            help="Where its renewal counts: B2 maintenance, such as a new coat; B3 repair; B4 replacement.",
            kind="choice",
            choices=RENEWAL_MODULES,
            required=True,
            width=10,
        ),
        _years("sheltered", "Sheltered", "Life where it is sheltered, or inside.", required=True),
        _years(
            "moderate",
            "Moderate",
            "Life in moderate exposure, at most as sheltered; blank: the mean of the other two.",
        ),
        _years(
            "exposed",
            "Exposed",
            "Life where it is exposed, at most as in moderate exposure; blank: as sheltered.",
        ),
        _share(
            "low", "Low", "Short end of its range, as a share of the life: 60; both ends or neither.", 0.05, 1
        ),
        _share("high", "High", "Long end of its range, as a share of the life: 140.", 1, 10),
        _share("share", "Share renewed", "How much of it is renewed at a time.", 0.01, 1, default=1.0),
        _share(
            "taking_down",
            "Taking down",
            "Hours of taking down the old, as a share of those of fixing the new.",
            0,
            3,
            default=0.0,
        ),
        source_field(),
        standing_field(),
        _note("Where in the range read it was chosen, proxies and gaps."),
    ),
)

END_OF_LIFE = Sheet(
    title="End of life",
    layout="table",
    help="What becomes of each family of materials, by scenario; the sheet Study of the house names one. A family that "
    "a scenario does not list goes by the rows of the scenario usual. Blank modules are not assessed.",
    optional=True,
    key=("scenario", "family"),
    start="scenario",
    fields=(
        Field(
            name="scenario",
            title="Scenario",
            help="Name of the scenario; usual is the one that the others fall back on.",
            required=True,
            width=30,
        ),
        Field(
            name="family",
            title="Family",
            help="Family of materials it is for.",
            kind="choice",
            choices=FAMILIES,
            required=True,
            width=18,
        ),
        Field(
            name="route",
            title="Route",
            help="Where most of it goes.",
            kind="choice",
            choices=ROUTES,
            required=True,
            width=18,
        ),
        _per_mass("c1", "C1", "Taking the building down."),
        Field(
            name="mode",
            title="Transport",
            help="A row of the Transport sheet, for C2.",
            refers_to=("Transport.Mode",),
            width=24,
        ),
        Field(
            name="distance",
            title="Distance",
            help="Way to where it goes, for C2.",
            kind="quantity",
            unit="m",
            shown="km",
            low=0,
            high=3e7,
            width=10,
        ),
        _per_mass("c3", "C3", "Sorting, crushing, burning; stored carbon left out."),
        _per_mass("c4", "C4", "Disposal; stored carbon and its methane left out."),
        _per_mass("d", "D", "Beyond the life cycle: what it spares elsewhere, negative. Always told apart."),
        _share(
            "released",
            "Released",
            "Share of the stored carbon that leaves the system or goes back to the air: 100 but in a landfill or in "
            "the ground, where it is what decays. To be filled in for a landfill of "
            f"{', '.join(WOOD_FAMILIES[:-1])} or {WOOD_FAMILIES[-1]}.",
            0,
            1,
            default=1.0,
        ),
        _share(
            "methane",
            "Methane",
            "Share of the carbon released that leaves as methane, after collection and oxidation.",
            0,
            1,
            default=0.0,
        ),
        source_field(),
        standing_field(),
        _note(),
    ),
)

SPREADS = Sheet(
    title="Spreads",
    layout="table",
    help="The range of each kind of input that states none itself, for the ranges of the totals and the comparison of "
    "options. The row of a name comes before that of all.",
    optional=True,
    key=("of", "name"),
    start="of",
    fields=(
        Field(
            name="of",
            title="Of",
            help="Kind of input.",
            kind="choice",
            choices=SPREADS_OF,
            required=True,
            width=18,
        ),
        Field(
            name="name",
            title="Name",
            help="Which of them: a basis of prices, a row of the sheets Labour, Gangs or Transport, an item class, a "
            "kind of allowance, a row of Labour for site work, a material for maintenance and service lives, a family "
            "for the end of life; or all (lives of allowances too).",
            required=True,
            width=28,
        ),
        _share("low", "Low", "Low end, a negative share.", -0.95, 0, required=True),
        _share("high", "High", "High end.", 0, 10, required=True),
        source_field(),
        standing_field(),
        _note(),
    ),
)

BENCHMARKS = Sheet(
    title="Benchmarks",
    layout="table",
    help="Published figures to stand beside those of the house, each with what it covers. They are no target.",
    optional=True,
    key=("name",),
    start="name",
    fields=(
        Field(name="name", title="Benchmark", help="Name, unique.", required=True, width=38),
        *(
            Field(
                name=name,
                title=title,
                help=help,
                kind="quantity",
                unit="kgCO2e/m2",
                shown="kgCO2e/m2",
                low=0,
                high=1e4,
                required=name == "value",
                width=11,
            )
            for name, title, help in (
                ("value", "Value", "The figure."),
                ("low", "Low", "Low end of its range; both ends or neither."),
                ("high", "High", "High end of its range."),
            )
        ),
        Field(
            name="modules",
            title="Modules",
            help="Modules it covers.",
            kind="choice",
            choices=MODULE_SCOPES,
            required=True,
            width=11,
        ),
        Field(
            name="area_basis",
            title="Area basis",
            help="Floor area it is for each m2 of.",
            kind="choice",
            choices=AREA_BASES,
            required=True,
            width=26,
        ),
        _years(
            "study_period",
            "Study period",
            "Years it covers; blank where its modules stop at A5, or where it mixes periods: then it is never drawn.",
        ),
        Field(
            name="covers", title="Covers", help="Parts, kind and number of buildings.", default="", width=48
        ),
        Field(name="version", title="Version", help="Version or date of the source.", default="", width=22),
        source_field(),
        standing_field(),
        _note(),
    ),
)
