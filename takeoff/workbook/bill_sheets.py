"""The sheets of the quantity surveyor: overrides, queries, what is to take, information, issues."""

from __future__ import annotations

from takeoff.model.bill import OVERRIDDEN_FIGURES
from takeoff.model.library import ELEMENTS
from takeoff.workbook.fields import Field, Sheet

STAGES = ("brief", "sketch", "design development", "tender")
# Units that an item of the bill can have.
ITEM_UNITS = ("m3", "m2", "m", "kg", "Nr", "h", "Item", "kW")
SHARE_UNIT = "%"
# Of a rate the unit may be typed as of the quantity, or with the word before it.
PER = "per "
_A_DATE = "a date, such as 2026-09-01"

OVERRIDES = Sheet(
    title="Overrides",
    layout="table",
    help="Figures that the quantity surveyor puts in the place of measured or built-up ones, each with its reason. "
    "All documents list them. Without rows every figure is as worked out.",
    optional=True,
    start="id",
    fields=(
        Field(
            name="id",
            title="Id",
            help="Id of the item, as takeoff measure and quantities.csv show it.",
            required=True,
            wanted="the id of an item",
            width=30,
        ),
        Field(
            name="figure",
            title="Figure",
            help="quantity: net, and required and ordered with it; rate: for one unit of net, all in; wastage: what "
            "is bought beyond the required quantity.",
            kind="choice",
            choices=OVERRIDDEN_FIGURES,
            required=True,
            width=12,
        ),
        Field(
            name="value",
            title="Value",
            help="The figure that counts; a rate in the project's currency, excluding tax; wastage from 0 to 100 %.",
            kind="number",
            unit_in="unit",
            low=0,
            high=1e7,
            required=True,
            width=12,
        ),
        Field(
            name="unit",
            title="Unit",
            help="That of the item; of a rate with or without per before it; of wastage %.",
            kind="choice",
            choices=(*ITEM_UNITS, *(f"{PER}{unit}" for unit in ITEM_UNITS), SHARE_UNIT),
            required=True,
            width=10,
        ),
        Field(
            name="option",
            title="Option",
            help="Name of the option it is for; one for an option counts before one for all. Blank: all options that "
            "have the item.",
            width=20,
        ),
        Field(
            name="reason",
            title="Reason",
            help="Why; printed wherever the figure is.",
            required=True,
            wanted="why the figure is overridden",
            width=60,
        ),
        Field(name="who", title="Who", help="Who overrides it.", required=True, wanted="a name", width=22),
        Field(
            name="date",
            title="Date",
            help="When.",
            kind="date",
            required=True,
            wanted=_A_DATE,
            width=12,
        ),
    ),
)

QUERIES = Sheet(
    title="Queries",
    layout="table",
    help="Questions on the bill, and their answers once there are any.",
    optional=True,
    key=("reference",),
    start="reference",
    fields=(
        Field(name="reference", title="Reference", help="Number or mark, unique.", required=True, width=12),
        Field(
            name="question",
            title="Question",
            help="What is asked.",
            required=True,
            wanted="a question",
            width=60,
        ),
        Field(name="asked_by", title="Asked by", help="Who asks.", required=True, wanted="a name", width=22),
        Field(
            name="asked_on",
            title="Asked on",
            help="When.",
            kind="date",
            required=True,
            wanted=_A_DATE,
            width=12,
        ),
        Field(name="answer", title="Answer", help="Blank: open.", default="", width=60),
        Field(name="answered_by", title="Answered by", help="Who answers.", default="", width=22),
        Field(name="answered_on", title="Answered on", help="When.", kind="date", default="", width=12),
    ),
)

TO_TAKE = Sheet(
    title="To take",
    layout="table",
    help="What is not measured yet, why not, and who takes it.",
    optional=True,
    key=("item",),
    start="item",
    fields=(
        Field(name="item", title="Item", help="What is to take.", required=True, width=44),
        Field(
            name="element",
            title="Element",
            help="Element it belongs to; blank: none.",
            kind="choice",
            choices=tuple(ELEMENTS.values()),
            default="",
            width=18,
        ),
        Field(
            name="reason",
            title="Reason",
            help="Why it is not measured yet.",
            required=True,
            wanted="why it is not measured yet",
            width=60,
        ),
        Field(name="who", title="Who", help="Who takes it.", default="", width=22),
    ),
)

INFORMATION = Sheet(
    title="Information",
    layout="table",
    help="Drawings and documents that the bill is measured from, with their revisions.",
    optional=True,
    key=("reference", "revision"),
    start="reference",
    fields=(
        Field(
            name="reference",
            title="Reference",
            help="Number of the drawing or document.",
            required=True,
            width=14,
        ),
        Field(name="title", title="Title", help="What it shows.", required=True, wanted="a title", width=50),
        Field(name="revision", title="Revision", help="Letter or number.", default="", width=11),
        Field(name="date", title="Date", help="Of the revision.", kind="date", default="", width=12),
        Field(name="author", title="Author", help="Who made it.", default="", width=30),
        Field(
            name="elements",
            title="Elements",
            help="Elements measured from it, separated by semicolons. Blank: all.",
            default="",
            width=40,
        ),
    ),
)

ISSUES = Sheet(
    title="Issues",
    layout="table",
    help="Every issue of the documents so far, and what changed with it.",
    optional=True,
    key=("issue",),
    start="issue",
    fields=(
        Field(name="issue", title="Issue", help="Number or letter, unique.", required=True, width=9),
        Field(
            name="date",
            title="Date",
            help="Of the issue.",
            kind="date",
            required=True,
            wanted=_A_DATE,
            width=12,
        ),
        Field(
            name="stage",
            title="Stage",
            help="Stage of the design.",
            kind="choice",
            choices=STAGES,
            default="",
            width=20,
        ),
        Field(
            name="changed",
            title="What changed",
            help="Since the issue before it.",
            required=True,
            wanted="what changed",
            width=70,
        ),
        Field(name="who", title="Who", help="Who issued it.", default="", width=22),
    ),
)

BILL_SHEETS = (OVERRIDES, QUERIES, TO_TAKE, INFORMATION, ISSUES)
