"""Plan, elevations, section and details of a design as SVG text, drawn to a true scale in millimetres of paper.

Every function works in metres and goes to paper by one transform (`paper.Paper`); small functions return
SVG elements as text, and `svg.picture` puts them together with a title and a description.
`plan`, `elevation`, `section`, `axonometric` and `build_up_details` are for the documents; `common_scale` gives the
scale at which all four elevations fit the same width.
"""

from takeoff.documents.drawings.axonometric import axonometric
from takeoff.documents.drawings.build_up_details import build_up_details
from takeoff.documents.drawings.elevations import common_scale, elevation
from takeoff.documents.drawings.paper import Drawing
from takeoff.documents.drawings.plan import plan
from takeoff.documents.drawings.section import section
from takeoff.documents.drawings.svg import Picture

__all__ = [
    "Drawing",
    "Picture",
    "axonometric",
    "build_up_details",
    "common_scale",
    "elevation",
    "plan",
    "section",
]
