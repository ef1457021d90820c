"""What the build-up of a suspended floor says of its height: the floor over the stumps, and their length."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.model.house import BuildUp, House, Layer
from takeoff.model.library import Material

JOISTS = "floor joists"
BEARERS = "bearers"
# Ways that need the setting-out of the joists.
ON_JOISTS = frozenset({BEARERS, "stumps", "stump length", "pads", "between joists"})
_TAKES_ROOM = frozenset({"area", "sheets"})


def layer_measured_by(build_up: BuildUp, way: str) -> Layer | None:
    """Return the first layer of a build-up that is measured in a way, or None."""
    return next((layer for layer in build_up.layers if layer.measured_by == way), None)


def depth_over_stumps(house: House, build_up: BuildUp, materials: Mapping[str, Material]) -> float:
    """Return the depth from floor level to the underside of the bearers [m].

    Floor level is the top of the build-up: the layers named before the joists lie on them, and joists and
    bearers stand one on the other. A thickness is the layer's, else its material's.
    """
    joists = layer_measured_by(build_up, JOISTS)
    over = build_up.layers[: build_up.layers.index(joists)] if joists else ()
    flooring = sum(_thickness(layer, materials) for layer in over if layer.measured_by in _TAKES_ROOM)
    joist = house.floor_joist_depth if joists else 0.0
    bearer = house.bearer_depth if layer_measured_by(build_up, BEARERS) else 0.0
    return flooring + joist + bearer


def stump_length(house: House, build_up: BuildUp, materials: Mapping[str, Material]) -> float:
    """Return the length of a stump [m], from the underside of the bearer to the top of its pad.

    Source: common practice, no source. A floor 0.75 m above ground, 0.45 m deep, on pads 0.25 m thick whose
    underside is 0.60 m down: 0.75 + 0.60 - 0.25 - 0.45 = 0.65 m.
    """
    over = depth_over_stumps(house, build_up, materials)
    return house.floor_above_ground + house.footing_depth - house.pad_depth - over


def _thickness(layer: Layer, materials: Mapping[str, Material]) -> float:
    """Return the thickness of a layer, else of its material [m]; 0 where neither is known."""
    material = materials.get(layer.material)
    return layer.thickness or (material.thickness if material else None) or 0.0
