"""What must hold between the settings of a house, beyond the limits of each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from takeoff.model.geometry import height_at
from takeoff.model.house import Design
from takeoff.model.library import Material
from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.model.suspended_floor import BEARERS, JOISTS, ON_JOISTS, depth_over_stumps, stump_length

_NOWHERE = Origin()


def design_problems(design: Design, materials: Mapping[str, Material] | None = None) -> list[WorkbookProblem]:
    """Return what is wrong with the settings of a house taken together.

    `materials` give the thickness of flooring whose layer states none; without them it counts as nothing.
    """
    return [
        *_frame_problems(design),
        *_support_problems(design),
        *_slab_problems(design),
        *_joist_layer_problems(design),
        *_stump_problems(design, materials or {}),
        *_band_problems(design),
    ]


def _at(design: Design, setting: str, *, found: str, expected: str, mend: str = "") -> WorkbookProblem:
    """Return a problem located at the value of a setting."""
    origin = design.house.origin.get(setting, _NOWHERE)
    return at(origin, "value", found=found, expected=expected, mend=mend)


def _frame_problems(design: Design) -> Iterator[WorkbookProblem]:
    """Yield problems of the frame: studs closer than they are thick, walls too short, a house too low."""
    house = design.house
    least = 2 * (house.stud_depth + house.stud_thickness)
    if house.span <= least + house.stud_thickness:
        yield _at(
            design,
            "span",
            found=f"{house.span:g} m between frames {house.stud_depth:g} m deep",
            expected=f"more than {least + house.stud_thickness:.3f} m",
        )
    plates = (design.practice.top_plates + design.practice.bottom_plates) * house.stud_thickness
    if house.low_height <= plates + 1.0:
        yield _at(
            design,
            "low_height",
            found=f"a low wall of {house.low_height:g} m with plates of {plates * 1000:.0f} mm",
            expected=f"more than {plates + 1.0:.2f} m",
        )


def _support_problems(design: Design) -> Iterator[WorkbookProblem]:
    """Yield problems of support lines: outside the house, or two at one place."""
    house = design.house
    for line in house.support_lines:
        if not house.stud_depth < line < house.span - house.stud_depth:
            yield _at(
                design,
                "support_lines",
                found=f"a support line at {line:g} m",
                expected=f"between {house.stud_depth:.2f} and {house.span - house.stud_depth:.2f} m",
            )
    if len(set(house.support_lines)) < len(house.support_lines):
        yield _at(design, "support_lines", found="a support line given twice", expected="each line once")


def _slab_problems(design: Design) -> Iterator[WorkbookProblem]:
    """Yield problems of the edge beams: wider than half the slab."""
    house = design.house
    if house.edge_beam_width * 2 >= min(house.length, house.span):
        yield _at(
            design,
            "edge_beam_width",
            found=f"edge beams {house.edge_beam_width:g} m wide",
            expected=f"less than {min(house.length, house.span) / 2:.2f} m, half the slab",
        )


def _joist_layer_problems(design: Design) -> Iterator[WorkbookProblem]:
    """Yield problems of a floor build-up: bearers or stumps without joists, two layers of joists or bearers."""
    build_up = design.build_ups[design.house.floor]
    for way in (JOISTS, BEARERS):
        for second in [layer for layer in build_up.layers if layer.measured_by == way][1:]:
            yield at(
                second.origin,
                "measured_by",
                found=f"a second layer measured by {way!r} in {build_up.name!r}",
                expected="one: the frame is set out once",
            )
    if any(layer.measured_by == JOISTS for layer in build_up.layers):
        return
    for layer in build_up.layers:
        if layer.measured_by in ON_JOISTS:
            yield at(
                layer.origin,
                "measured_by",
                found=f"{layer.measured_by!r} without joists in {build_up.name!r}",
                expected=f"a layer measured by {JOISTS!r} in the same build-up",
            )


def _stump_problems(design: Design, materials: Mapping[str, Material]) -> Iterator[WorkbookProblem]:
    """Yield a problem where the floor lies so low that there is no room for stumps between bearer and pad."""
    house = design.house
    build_up = design.build_ups[house.floor]
    ways = {layer.measured_by for layer in build_up.layers}
    if JOISTS not in ways or not ways & {"stumps", "stump length"}:
        return
    length = stump_length(house, build_up, materials)
    if length > 1e-9:
        return
    yield _at(
        design,
        "floor_above_ground",
        found=f"a floor {house.floor_above_ground:g} m above ground and "
        f"{depth_over_stumps(house, build_up, materials):.3f} m deep with its bearers, on pads "
        f"{house.pad_depth:g} m thick and {house.footing_depth:g} m down: no room for stumps",
        expected=f"more than {house.floor_above_ground - length:.3f} m",
        mend="Raise floor above ground, or footing depth",
    )


def _band_problems(design: Design) -> Iterator[WorkbookProblem]:
    """Yield problems of the band of the palette in force: upside down, or above the lowest wall."""
    band = design.palette.band
    if band is None:
        return
    origin = design.palette.origin
    if band.top <= band.bottom:
        yield at(
            origin,
            "band_to",
            found=f"a band from {band.bottom:g} to {band.top:g} m",
            expected="its head above its foot",
        )
    lowest = height_at(design.house, 0.0)
    if band.top > lowest + 1e-9:
        yield at(
            origin,
            "band_to",
            found=f"a band up to {band.top:g} m",
            expected=f"at most {lowest:.3f} m, the height of the low wall",
        )
