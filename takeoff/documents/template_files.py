"""Finds the page templates: in the installed package, or beside it in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment

_PACKAGE = Path(__file__).resolve().parent.parent


def template_folder() -> Path:
    """Return the folder of the templates. Raises FileNotFoundError where the installation lacks it."""
    for folder in (_PACKAGE / "templates", _PACKAGE.parent / "templates"):
        if (folder / "comparison.html").is_file():
            return folder
    raise FileNotFoundError("the templates are missing from the installation")


@cache
def environment() -> Environment:
    """Return the template environment; everything that is not marked as safe is escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(template_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
