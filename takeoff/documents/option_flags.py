"""What goes with an option wherever it is told: what to confirm and where its fabric falls short, in few words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.compare.evaluate import Result
from takeoff.compare.flags import CONFIRM, flags_of
from takeoff.compare.parity import shortfalls
from takeoff.documents.parity_words import MARK, amount_words
from takeoff.model.job import Job

# The column of the CSV files that holds them.
FLAGS_COLUMN = (
    "option_flags",
    "what the option asks the engineer to confirm, and where its fabric falls short",
)

FlagTexts = Mapping[str, str]
NO_FLAGS: FlagTexts = {}


def flag_lines(job: Job, result: Result, base: Result) -> list[str]:
    """Return the flags of an option as lines: one for the engineer, one for the fabric, none where there are none."""
    lines = []
    if flags := flags_of(result):
        lines.append(f"{CONFIRM}: {'; '.join(flags)}")
    if missed := shortfalls(job, result, base):
        lines.append(f"{MARK} fabric falls short: {'; '.join(amount_words(each) for each in missed)}")
    return lines


def flag_texts(job: Job, results: Sequence[Result], base: Result) -> FlagTexts:
    """Return the flags of options by name, each in one line."""
    return {result.option.name: ". ".join(flag_lines(job, result, base)) for result in results}
