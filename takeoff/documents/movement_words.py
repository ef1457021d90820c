"""How a movement between two issues is worded, on the screen and in the sheet."""

from __future__ import annotations

from takeoff.compare.line_movement import LineMovement, Measure, Reason, known_amount
from takeoff.compare.movement import Movement
from takeoff.documents.wording import unit_text
from takeoff.model.life_cycle import module_words

AS_MEASURED, OVERRIDDEN = "as measured", "overridden"
UNCHANGED = "unchanged"

REASON_WORDS: dict[Reason, str] = {
    "quantity": "the net quantity: the house, its measuring or its build-ups changed",
    "material rate": "material for one unit with its sundries: price, conversion, laps, or wastage as it is bought",
    "labour rate": "labour for one unit: the labour constant or the rate of the gang",
    "plant rate": "plant for one unit",
    "stated rate": "a rate stated whole, that of an allowance",
    "carbon of one unit": "kgCO2e for one unit: factor, transport, wastage as it is bought, lives, end of life",
    "override": "the quantity surveyor put a figure in the place of another in one bill or both; all that such a line "
    "moved by",
    "added": "a line of the new bill only, or the new unit of a line whose unit changed",
    "omitted": "a line of the old bill only, or the old unit of a line whose unit changed",
    "ladder": "the steps of the cost ladder, whether their settings changed or what they are taken of",
}
MOVEMENT_WORDS: dict[str, str] = {
    "Quantity movement": "(new net - old net) x old rate; in carbon x kgCO2e for one unit of the old net",
    "Rate movement": "(new rate - old rate) x new net; in carbon the difference of kgCO2e for one unit x new net",
    "Added": "new net x new rate of a line that only the new bill has",
    "Omitted": "less old net x old rate of a line that only the old bill has",
    "Ladder effect": "what a step of the cost ladder comes to in the new bill less what it came to in the old one",
    "Difference": "all of these together: the new amount less the old one, nothing left over",
}


def measure_title(movement: Movement, measure: Measure) -> str:
    """Return what a measure is called, with its unit."""
    if measure == "money":
        return f"Money, {movement.new.currency}"
    if measure == "upfront":
        return f"Upfront carbon A1-A5, {unit_text('kgCO2e')}"
    counted = tuple(module for module in movement.new.modules if module != "D")
    return f"Life-cycle carbon {module_words(counted)}, {unit_text('kgCO2e')}"


def reason_text(line: LineMovement) -> str:
    """Return why a line moved."""
    return ", ".join(line.reasons) or UNCHANGED


def one_sided_text(line: LineMovement, measure: Measure) -> str:
    """Return which bill alone assesses the carbon of a line that both have, "" where both or neither do."""
    if not line.one_sided(measure) or line.old is None:
        return ""
    return f"assessed in the {'new' if known_amount(line.old, measure) is None else 'old'} bill only"


def notes(movement: Movement) -> list[str]:
    """Return what has to be known to read a movement: carbon that one bill leaves out, study periods that differ."""
    found = []
    names: dict[Measure, str] = {"upfront": "Upfront carbon", "life cycle": "Life-cycle carbon"}
    for measure, name in names.items():
        ids = movement.one_sided(measure)
        if ids:
            found.append(
                f"{name} is assessed in one bill only, and counts as nothing in the other: {', '.join(ids)}."
            )
    old, new = movement.old.period, movement.new.period
    if old != new:
        found.append(f"The study periods differ: {old:g} years in the old bill, {new:g} in the new one.")
    return found
