"""Plan, elevations, section and details of a design as SVG text, drawn to a true scale in millimetres of paper.

Every function works in metres and goes to paper by one transform (`paper.Paper`); small functions return
SVG elements as text, and `svg.picture` puts them together with a title and a description.
`plan`, `elevation`, `section`, `axonometric`, `massing`, `frame_elevations`,
`frame_roof_plan`, `frame_floor_plan`, `frame_ceiling_plans` and `build_up_details` are for the documents;
`common_scale` gives the scale at which all four elevations fit the same width.
"""

from takeoff.documents.drawings.axonometric import axonometric
from takeoff.documents.drawings.build_up_details import build_up_details
from takeoff.documents.drawings.elevations import common_scale, elevation
from takeoff.documents.drawings.frame_elevation import frame_elevations
from takeoff.documents.drawings.frame_floor_plan import frame_floor_plan
from takeoff.documents.drawings.frame_roof_plan import frame_roof_plan
from takeoff.documents.drawings.framing_ceiling_plans import frame_ceiling_plans
from takeoff.documents.drawings.massing import massing
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
    "frame_ceiling_plans",
    "frame_elevations",
    "frame_floor_plan",
    "frame_roof_plan",
    "massing",
    "plan",
    "section",
]
