"""The families and item classes of materials, which several sheets choose from."""

from __future__ import annotations

FAMILIES = (
    "softwood",
    "hardwood",
    "engineered wood",
    "wood board",
    "steel",
    "aluminium",
    "clay",
    "cement",
    "gypsum",
    "glass",
    "mineral insulation",
    "plant insulation",
    "plastic foam",
    "plastic",
    "coating",
    "stone and soil",
    "composite",
    "work only",
)
# Those that wood or plants go into, and so stored carbon: composite holds windows and doors.
WOOD_FAMILIES = (
    "softwood",
    "hardwood",
    "engineered wood",
    "wood board",
    "plant insulation",
    "composite",
)
ITEM_CLASSES = (
    "groundworks",
    "concrete",
    "frame",
    "battens",
    "roofing",
    "cladding",
    "sheathing",
    "membranes",
    "insulation",
    "linings",
    "coatings",
    "windows and doors",
    "trims",
    "fixings",
)
