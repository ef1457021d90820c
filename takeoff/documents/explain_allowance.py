"""What an allowance states: its rate or that of its fixing, and the carbon of its product stage."""

from __future__ import annotations

from takeoff.assess.lines import Line as BillLine
from takeoff.documents.explain_parts import Line, cell, cells, metres, precise
from takeoff.documents.explain_renewals import renewed_words
from takeoff.documents.wording import NOT_ASSESSED, number
from takeoff.model.allowance import Allowance
from takeoff.model.life_cycle import MODULES

_NOT_STATED = "the allowance states none"


def stated_rate(line: BillLine, allowance: Allowance, unit: str, places: int) -> Line:
    """Return the rate that an allowance states, for what it allows for or for the fixing of it."""
    is_fixing = line.quantity.id.endswith(".fixing") and line.rate.stated == allowance.fixing
    name, value = ("fixing", allowance.fixing) if is_fixing else ("rate", allowance.rate)
    return Line(
        "stated",
        f"{number(line.rate.stated, places)} {unit}, as the allowance states it",
        cells(cell(allowance.origin, name, f"{name} {precise(value)} {unit}", value)),
    )


def allowance_modules(line: BillLine, allowance: Allowance) -> list[Line]:
    """Return the modules of an allowance: only A1-A3 can be given, and renewals where it states a life."""
    lines = []
    for module in MODULES:
        amount = line.carbon.of(module)
        if amount is None:
            lines.append(Line(module, f"{NOT_ASSESSED}: {_NOT_STATED}"))
            continue
        total = f"{number(amount, 3)} kgCO₂e"
        if module == "A1-A3" and allowance.carbon is not None:
            text = f"{metres(line.quantity.net)} x {precise(allowance.carbon)} = {total}"
            found = cell(allowance.origin, "carbon", f"carbon {precise(allowance.carbon)}", allowance.carbon)
            lines.append(Line(module, text, cells(found)))
        else:
            lines.append(Line(module, f"{renewed_words(line, module)} = {total}"))
    return lines
