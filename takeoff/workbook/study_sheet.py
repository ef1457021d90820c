"""The sheet Study, and the settings of the house that say how much sun and weather each side takes."""

from __future__ import annotations

from takeoff.model.geometry import COMPASS_POINTS
from takeoff.model.house import SIDES
from takeoff.model.life_cycle import EXPOSURES, LIFE_CYCLE
from takeoff.model.study import COUNTINGS, Study
from takeoff.workbook.fields import Field, Sheet

_USUAL = Study()

# A share typed for a percentage, 0.03 for 3 %, is the likelier the lower the rate.
LEAST_DISCOUNT_RATE = 0.001

EXPOSURE_SETTINGS = (
    Field(
        name="weather_from",
        title="weather from",
        help="The compass point that most sun and weather come from: walls that face it are exposed, those turned away "
        "sheltered. Blank: every wall is moderate.",
        kind="choice",
        choices=COMPASS_POINTS,
    ),
    Field(
        name="site_exposure",
        title="site exposure",
        help="Exposure of the site as a whole: a sheltered one takes a step off every wall, an exposed one adds one.",
        kind="choice",
        choices=EXPOSURES,
        default="moderate",
    ),
    Field(
        name="sheltering_overhang",
        title="sheltering overhang",
        help="An overhang of at least this share of the height of the wall below takes a step off its exposure.",
        kind="quantity",
        unit="share",
        shown="%",
        low=0,
        high=5,
        default=0.2,
    ),
    *(
        Field(
            name=f"exposure_{side}",
            title=f"exposure {side}",
            help=f"Exposure of the {side} side, in place of what the settings above give. Blank: as they give.",
            kind="choice",
            choices=EXPOSURES,
        )
        for side in SIDES
    ),
)

STUDY = Sheet(
    title="Study",
    layout="settings",
    help="How carbon and upkeep over the whole life are counted, the same for every option. The sheet may be left out.",
    optional=True,
    start="period",
    fields=(
        Field(
            name="period",
            title="study period",
            help="Reference study period.",
            kind="quantity",
            unit="year",
            shown="year",
            low=1,
            high=500,
            default=_USUAL.period,
        ),
        Field(
            name="replacements",
            title="replacements",
            help="whole: renewals count as they fall, none at the very end; annualised: period / life - 1.",
            kind="choice",
            choices=COUNTINGS,
            default=_USUAL.replacements,
        ),
        Field(
            name="discount_rate",
            title="discount rate",
            help="For the costs of upkeep, a year, in real terms: 0, or from 0.1 %.",
            kind="quantity",
            unit="share",
            shown="%",
            low=0,
            high=0.25,
            default=_USUAL.discount_rate,
        ),
        Field(
            name="end_of_life",
            title="end of life",
            help="A scenario of the sheet End of life in the factors workbook.",
            refers_to=("End of life.Scenario",),
            default=_USUAL.end_of_life,
        ),
        Field(
            name="modules",
            title="modules",
            help="Modules of EN 15978 added up as life-cycle carbon. D is always told apart.",
            kind="modules",
            default=LIFE_CYCLE,
        ),
        Field(
            name="draws",
            title="draws",
            help="How often the ranges are drawn.",
            kind="number",
            low=1000,
            high=100000,
            whole=True,
            default=_USUAL.draws,
        ),
        Field(
            name="seed",
            title="seed",
            help="Any whole number: the same one draws the same ranges again.",
            kind="number",
            low=0,
            high=1e9,
            whole=True,
            default=_USUAL.seed,
        ),
    ),
)
