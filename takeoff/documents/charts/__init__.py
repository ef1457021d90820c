"""Charts as SVG text, in the type and with the primitives of the drawings.

Parts are labelled on the chart itself and keep their order and colour in every chart; the chosen option
carries the one accent, a mark and bold type, so that nothing is told by colour alone.
"""

from takeoff.documents.charts.colours import GROUPS, PARTS, by_part, grouping_words, part_colours
from takeoff.documents.charts.scatter import scatter, undominated
from takeoff.documents.charts.stacked_bars import stacked_bars

__all__ = [
    "GROUPS",
    "PARTS",
    "by_part",
    "grouping_words",
    "part_colours",
    "scatter",
    "stacked_bars",
    "undominated",
]
