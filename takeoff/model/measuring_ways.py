"""The ways a layer of a build-up can be measured, one row each: what it means, where it may stand."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.model.house import Part

_WALL: tuple[Part, ...] = ("external wall",)
_FRAMED: tuple[Part, ...] = ("external wall", "internal wall", "party wall")
_LINED: tuple[Part, ...] = (*_FRAMED, "wall lining")
_FACES: tuple[Part, ...] = (*_LINED, "roof", "ceiling", "ceiling lining", "cladding")
_FLOORS: tuple[Part, ...] = ("floor", "floor finish")


@dataclass(frozen=True, slots=True)
class MeasuringWay:
    """One way of measuring a layer: its name in the workbook, unit, where it may be used, what it needs."""

    name: str
    unit: str
    parts: tuple[Part, ...]
    help: str
    needs_direction: bool = False
    needs_spacing: bool = False
    needs_rate: bool = False
    needs_thickness: bool = False
    material_needs: tuple[str, ...] = ()


WAYS: dict[str, MeasuringWay] = {
    way.name: way
    for way in (
        MeasuringWay("area", "m2", (*_FACES, *_FLOORS), "area of the face, less openings by the void rule"),
        MeasuringWay(
            "boards by cover",
            "m2",
            ("cladding", *_LINED, "ceiling", "ceiling lining", "floor finish"),
            "boards laid by their cover width, each cut to its own length",
            needs_direction=True,
            material_needs=("width", "cover"),
        ),
        MeasuringWay(
            "profiled sheet by cover",
            "m2",
            ("cladding", "roof"),
            "profiled sheets side by side by their cover width, each cut to its own length",
            needs_direction=True,
            material_needs=("cover",),
        ),
        MeasuringWay(
            "panels",
            "m2",
            ("cladding",),
            "flat panels in columns of the panel width with open or trimmed joints",
            material_needs=("width", "length"),
        ),
        MeasuringWay(
            "sheets",
            "m2",
            (*_FACES, *_FLOORS),
            "sheathing or lining sheets: area of the face, less openings by the void rule",
        ),
        MeasuringWay(
            "masonry units",
            "m2",
            ("cladding",),
            "bricks or blocks: area of the face; the number follows from length, height and joint",
            material_needs=("length", "height"),
        ),
        MeasuringWay(
            "mortar",
            "m3",
            ("cladding",),
            "mortar in the joints of the masonry units of the same build-up",
        ),
        MeasuringWay(
            "battens at spacing",
            "m",
            _FACES,
            "battens on centres, each cut to its own length and cut out at openings",
            needs_direction=True,
            needs_spacing=True,
            material_needs=("width", "thickness"),
        ),
        MeasuringWay(
            "membrane with laps",
            "m2",
            (*_FACES, *_FLOORS),
            "wrap, underlay or airtight membrane; required adds the lap of the roll width",
            material_needs=("width",),
        ),
        MeasuringWay(
            "between studs",
            "m2",
            _FRAMED,
            "insulation between the studs: wall frame less openings less the face of every stick",
        ),
        MeasuringWay(
            "between battens",
            "m2",
            ("external wall", "wall lining", "ceiling", "ceiling lining", "cladding"),
            "insulation between the battens of the same build-up: area less the face of the battens",
        ),
        MeasuringWay(
            "between rafters",
            "m2",
            ("roof",),
            "insulation between the rafters: roof over the outline less the face of every stick",
        ),
        MeasuringWay(
            "frame",
            "m",
            (*_FRAMED, "roof"),
            "the framing itself, set out stick by stick; the material is that of studs or rafters. Internal "
            "and party walls: Thickness is the depth of the studs, Spacing their centres if not the house's",
        ),
        MeasuringWay(
            "still air layer",
            "m2",
            (*_LINED, "roof", "ceiling", "ceiling lining", "cladding"),
            "air that stands still between two layers: nothing is measured, it counts for the U-value",
            needs_thickness=True,
        ),
        MeasuringWay(
            "ventilated air layer",
            "m2",
            ("external wall", "roof", "cladding"),
            "air that moves behind a cladding or roof: nothing is measured, what lies outside it does not count for "
            "the U-value. Battens outside the frame with nothing between them count as one",
            needs_thickness=True,
        ),
        MeasuringWay(
            "coats",
            "m2",
            (*_FACES, *_FLOORS),
            "coating: area times the number of coats in the column Rate",
            needs_rate=True,
        ),
        MeasuringWay(
            "number per m2",
            "Nr",
            (*_FACES, *_FLOORS),
            "fixings or ties: area times the number per m2 in the column Rate",
            needs_rate=True,
        ),
        MeasuringWay(
            "mass per m3 of frame",
            "kg",
            (*_FRAMED, "roof", "floor"),
            "nails, straps and brackets: kg per m3 of framing timber in the column Rate",
            needs_rate=True,
        ),
        MeasuringWay(
            "junctions",
            "m",
            _WALL,
            "airtight tape: wall foot, wall head and corners of the inside faces, and round every opening",
        ),
        MeasuringWay("low eave", "m", ("roof",), "length of the low eave (gutter, fascia)"),
        MeasuringWay("high eave", "m", ("roof",), "length of the high eave (fascia, high-side flashing)"),
        MeasuringWay("verges", "m", ("roof",), "length of both verges on the slope (barge capping)"),
        MeasuringWay("eaves and verges", "m", ("roof",), "the whole edge of the roof"),
        MeasuringWay(
            "downpipes", "m", ("roof",), "downpipes: number times height of the low eave above ground"
        ),
        MeasuringWay("soffits", "m2", ("roof",), "underside of the four overhangs on the slope"),
        MeasuringWay(
            "base",
            "m",
            ("cladding", *_LINED),
            "foot of the cladding or lining, less openings that reach it (base trims, skirtings)",
        ),
        MeasuringWay(
            "top edge",
            "m",
            ("cladding", *_LINED),
            "head of the cladding or lining, on the rake where it rakes (cornices, shadow lines)",
        ),
        MeasuringWay(
            "outside corner", "m", ("cladding",), "right-hand end of the elevation, seen from outside"
        ),
        MeasuringWay("around openings", "m", ("cladding",), "jambs, head and sill of every opening"),
        MeasuringWay(
            "ceiling joists",
            "m",
            ("ceiling lining",),
            "joists and ledgers of a flat ceiling, set out stick by stick across the shorter way; depth is the "
            "material's width",
            needs_spacing=True,
            material_needs=("width", "thickness"),
        ),
        MeasuringWay(
            "hangers",
            "Nr",
            ("ceiling lining",),
            "hangers of a flat ceiling between the rafters and the nearest batten of the same build-up, on "
            "centres along each batten",
            needs_spacing=True,
        ),
        MeasuringWay(
            "floor joists", "m", ("floor",), "joists and blocking of a suspended floor, stick by stick"
        ),
        MeasuringWay("bearers", "m", ("floor",), "bearers of a suspended floor, stick by stick"),
        MeasuringWay(
            "stumps", "Nr", ("floor",), "number of stumps or piers under the bearers, times the column Rate"
        ),
        MeasuringWay(
            "stump length", "m", ("floor",), "stumps from the underside of the bearer to the top of their pad"
        ),
        MeasuringWay("pads", "m3", ("floor",), "square pads under the stumps"),
        MeasuringWay(
            "between joists",
            "m2",
            ("floor",),
            "insulation between the joists: outline less the face of joists",
        ),
        MeasuringWay(
            "excavation",
            "m3",
            ("floor",),
            "topsoil strip under the outline, and the trenches of edge beams or the holes of pads",
        ),
        MeasuringWay("poured", "m3", ("floor",), "slab of the stated thickness with its edge beams"),
        MeasuringWay("edge beams", "m", ("floor",), "centre line of the edge beams"),
        MeasuringWay("within edge beams", "m2", ("floor",), "slab area less the edge beams"),
        MeasuringWay("edge form", "m", ("floor",), "outside edge of the slab"),
        MeasuringWay("slab edge", "m2", ("floor",), "outside edge of the slab times the edge beam depth"),
        MeasuringWay("sills", "m", ("opening surround",), "sill of every opening that has one"),
        MeasuringWay("heads", "m", ("opening surround",), "head of every opening"),
        MeasuringWay("jambs", "m", ("opening surround",), "both jambs of every opening"),
        MeasuringWay("perimeter", "m", ("opening surround",), "jambs, head and sill (where there is one)"),
        MeasuringWay(
            "each opening", "Nr", ("opening surround",), "number of openings, times the column Rate"
        ),
    )
}

# Insulation gives way to every stick and opening, however small: no void rule.
NO_VOID_RULE = frozenset({"between studs", "between battens", "between rafters", "between joists"})
