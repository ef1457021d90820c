"""A picture that a workbook names, carried as data so that documents read no files."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

PictureKind = Literal["png", "jpeg"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureFile:
    """The bytes of a picture file with its kind and its size in dots."""

    name: str
    kind: PictureKind
    width: int
    height: int
    data: bytes = field(repr=False)
