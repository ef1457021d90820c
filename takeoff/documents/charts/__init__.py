"""Charts as SVG text, in the type and with the primitives of the drawings.

Parts are labelled on the chart itself and keep their order and colour in every chart; the chosen option
carries the one accent, a mark and bold type, so that nothing is told by colour alone.
"""

from takeoff.documents.charts.colours import GROUPS, PARTS, by_part, grouping_words, part_colours
from takeoff.documents.charts.context_lines import ContextLine
from takeoff.documents.charts.module_bars import ModuleRow, module_bars
from takeoff.documents.charts.over_time import over_time
from takeoff.documents.charts.scatter import scatter, undominated
from takeoff.documents.charts.stacked_bars import stacked_bars
from takeoff.documents.charts.tinted_elevations import tinted_elevations
from takeoff.documents.charts.tornado import TornadoInput, tornado
from takeoff.documents.charts.waterfall import WaterfallStep, waterfall
from takeoff.documents.charts.whisker_bars import WhiskerRow, whisker_bars

__all__ = [
    "GROUPS",
    "PARTS",
    "ContextLine",
    "ModuleRow",
    "TornadoInput",
    "WaterfallStep",
    "WhiskerRow",
    "by_part",
    "grouping_words",
    "module_bars",
    "over_time",
    "part_colours",
    "scatter",
    "stacked_bars",
    "tinted_elevations",
    "tornado",
    "undominated",
    "waterfall",
    "whisker_bars",
]
