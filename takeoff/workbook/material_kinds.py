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
