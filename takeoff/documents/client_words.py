"""Figures and differences as a client reads them: rounded for an early design, in plain words.

Costs go to the nearest 5,000 in total and to the nearest 1,000 where they are parts or differences, carbon to two
significant figures in tonnes. A range is always wide enough to hold the figure that it stands beside.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from takeoff.compare.carbon_allowances import carbon_allowances
from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty import Difference, DrawnFigure, Range, Uncertainty
from takeoff.documents.parity_words import MARK, Missed
from takeoff.documents.wording import MINUS, change, number, percent, significant, to_nearest
from takeoff.model.job import Job

CLOSE = "too close to call"
# A tenth of a tonne and a thousand of the currency are the least that is told.
_LEAST_TONNES = 0.1
_LEAST_MONEY = 1000.0
_IN_TOTAL = to_nearest(5000)
_IN_PART = to_nearest(_LEAST_MONEY)
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
# A space at which no line is broken.
FIRM = "\u00a0"


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A figure or difference in words: the figure itself, and the range it lies in; "" where there is none to tell."""

    lead: str
    range: str

    @property
    def words(self) -> str:
        """Both in one phrase."""
        return f"{self.lead}, {self.range}" if self.range else self.lead

    @property
    def is_close(self) -> bool:
        """Whether it is too close to call."""
        return self.lead == CLOSE


def total_money(amount: float) -> str:
    """Return a total to the nearest 5,000.

    >>> total_money(374894.2)
    '375\u202f000'
    """
    return number(_IN_TOTAL(amount))


def part_money(amount: float) -> str:
    """Return a part or a difference to the nearest 1,000.

    >>> part_money(16469.9)
    '16\u202f000'
    """
    return number(_IN_PART(amount))


def thousands(amount: float) -> str:
    """Return a part in thousands, as charts write it; a minus before what is less.

    >>> thousands(16469.9), thousands(-2634.0)
    ('16', '\u22123')
    """
    return number(_IN_PART(amount) / 1000)


def tonnes(kilograms: float) -> str:
    """Return an amount of carbon in tonnes to two significant figures, and no finer than a hundredth.

    >>> tonnes(16523.3), tonnes(5143.2), tonnes(366.2), tonnes(123456.0), tonnes(-660.9), tonnes(19.0), tonnes(998.0)
    ('17', '5.1', '0.37', '120', '\u22120.66', '0.02', '1.0')
    """
    amount = float(f"{kilograms / 1000:.2g}")
    if abs(amount) < _LEAST_TONNES:
        return number(amount, 2)
    text = significant(abs(amount), 2)
    return f"{MINUS}{text}" if amount < 0 else text


def tonnes_change(kilograms: float) -> str:
    """Return a difference in tonnes with its sign."""
    text = tonnes(kilograms)
    if not any(sign in "123456789" for sign in text):
        return "0"
    return text if text.startswith(MINUS) else f"+{text}"


def thousands_change(amount: float) -> str:
    """Return a difference in thousands with its sign."""
    return change(_IN_PART(amount) / 1000)


def cost_of(job: Job, result: Result, ranges: Uncertainty) -> tuple[float, float, float]:
    """Return the total including tax and the ends of its range, which goes with the stage of the design.

    Where the stage has no accuracy, the range is that of the draws.
    """
    total = result.ladder.total_inc_tax
    accuracy = job.library.accuracy.get(job.project.stage)
    if accuracy is not None:
        return total, total * (1 + accuracy.low), total * (1 + accuracy.high)
    return _held(ranges.option(result.option.name).figures["total_inc_tax"])


def carbon_of(job: Job, result: Result, ranges: Uncertainty) -> tuple[float, float, float]:
    """Return upfront carbon [kgCO2e] and the ends of its range.

    The range reaches from the lower end of the draws to their upper end, or to the figure with the allowances of the
    stage where that is more: what is not drawn yet adds, and never takes away.
    """
    central, low, high = _held(ranges.option(result.option.name).figures["upfront_kgco2e"])
    allowances = carbon_allowances(result.lines, job.library, job.project.stage)
    if allowances is not None:
        high = max(high, central + sum(amount for _, amount in allowances.on(central)))
    return central, low, high


def _held(figures: Range) -> tuple[float, float, float]:
    """Return a central figure and its range, stretched to hold it."""
    return figures.central, min(figures.p10, figures.central), max(figures.p90, figures.central)


def ends_of(difference: Difference) -> tuple[float, float, float]:
    """Return the central difference and its range, stretched to hold it."""
    return _held(difference.range)


def is_close(difference: Difference) -> bool:
    """Return whether the range of a difference spans nought, so that nothing can be said."""
    if difference.verdict == "the same":
        return False
    _, low, high = ends_of(difference)
    return low <= 0 <= high


def is_noticeably_less(difference: Difference, key: DrawnFigure) -> bool:
    """Return whether a difference in cost or carbon is a saving that can be called, and enough of one to be told."""
    nothing = _Money("") if key == "total_inc_tax" else _Tonnes()
    central = difference.range.central
    return central < 0 and not is_close(difference) and not nothing.is_nothing(central)


def cost_words(difference: Difference, currency: str) -> Told:
    """Return a difference in cost in words."""
    return _told(difference, _Money(currency))


def carbon_words(difference: Difference) -> Told:
    """Return a difference in carbon in words."""
    return _told(difference, _Tonnes())


@dataclass(frozen=True, slots=True)
class _Money:
    """How differences in money are written."""

    currency: str

    def figure(self, amount: float) -> str:
        """Return an amount without its sign."""
        return part_money(abs(amount))

    def is_nothing(self, amount: float) -> bool:
        """Return whether an amount is less than the least that is told."""
        return _IN_PART(amount) == 0

    @property
    def least(self) -> str:
        """The least that is told."""
        return number(_LEAST_MONEY)

    @property
    def unit(self) -> str:
        """The unit."""
        return self.currency


@dataclass(frozen=True, slots=True)
class _Tonnes:
    """How differences in carbon are written."""

    unit: str = "tonnes"

    def figure(self, amount: float) -> str:
        """Return an amount without its sign."""
        return tonnes(abs(amount))

    def is_nothing(self, amount: float) -> bool:
        """Return whether an amount is less than the least that is told."""
        return abs(amount) / 1000 < _LEAST_TONNES

    @property
    def least(self) -> str:
        """The least that is told."""
        return number(_LEAST_TONNES, 1)


def _told(difference: Difference, kind: _Money | _Tonnes) -> Told:
    """Return a difference in words."""
    if difference.verdict == "the same":
        return Told(lead="no difference", range="")
    central, low, high = ends_of(difference)
    unit = f"{FIRM}{kind.unit}"
    if low <= 0 <= high:
        if kind.is_nothing(low) and kind.is_nothing(high):
            return Told(lead=CLOSE, range=f"within {kind.least}{unit} either way")
        less = f"{_at_most(low, kind)}{unit} less"
        more = f"{_at_most(high, kind)} more"
        return Told(lead=CLOSE, range=f"between {less} and {more}")
    way = "less" if central < 0 else "more"
    near, far = sorted((abs(low), abs(high)))
    if kind.is_nothing(far):
        return Told(lead=f"under {kind.least}{unit} {way}", range="")
    lead = (
        f"under {kind.least}{unit} {way}"
        if kind.is_nothing(central)
        else f"about {kind.figure(central)}{unit} {way}"
    )
    if kind.is_nothing(near):
        return Told(lead=lead, range=f"at most {kind.figure(far)}{unit}")
    ends = kind.figure(near), kind.figure(far)
    if ends[0] == ends[1]:
        return Told(lead=lead, range="")
    return Told(lead=lead, range=f"between {ends[0]} and {ends[1]}{unit}")


def _at_most(amount: float, kind: _Money | _Tonnes) -> str:
    """Return one end of a range that spans nought."""
    return f"under {kind.least}" if kind.is_nothing(amount) else kind.figure(amount)


def difference(ranges: Uncertainty, name: str, key: DrawnFigure) -> Difference:
    """Return the difference of an option from the base."""
    return ranges.option(name).differences[key]


def accuracy_words(job: Job) -> str:
    """Return how far the cost may be out at the stage of the design, in words."""
    accuracy = job.library.accuracy.get(job.project.stage)
    if accuracy is None:
        return "not stated for this stage"
    return f"{percent(-accuracy.low, 0)} below to {percent(accuracy.high, 0)} above"


def date_words(text: str) -> str:
    """Return a date in words, or the text as it is where it is none.

    >>> date_words("2026-09-01"), date_words("spring")
    ('1 September 2026', 'spring')
    """
    try:
        day = datetime.date.fromisoformat(text.strip())
    except ValueError:
        return text
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def shortened(text: str, most: int) -> str:
    """Return a text of at most so many signs, cut between words where it is longer.

    >>> shortened("Timber boards on all four sides", 20), shortened("Short", 20)
    ('Timber boards on…', 'Short')
    """
    text = " ".join(text.split())
    if len(text) <= most:
        return text
    cut = text[: most - 1]
    space = cut.rfind(" ")
    return (cut[:space] if space > most // 2 else cut).rstrip(" ,;.") + "…"


def shown_name(name: str, missed: Missed, most: int = 80) -> str:
    """Return the name of an option, cut to so many signs, with the mark where its fabric falls short."""
    return f"{shortened(name, most)} {MARK}" if missed.get(name) else shortened(name, most)


def listed(words: list[str]) -> str:
    """Return words as a list in a sentence.

    >>> listed(["a", "b", "c"]), listed(["a"]), listed([])
    ('a, b and c', 'a', '')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def sentence(text: str) -> str:
    """Return a phrase as a sentence: with a capital and a full stop."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?…" else ".")
