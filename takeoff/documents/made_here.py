"""Tells a workbook that this program made from any other, so that no one else's is written over."""

from __future__ import annotations

import zipfile
from datetime import datetime
from pathlib import Path
from xml.etree import ElementTree

# the category among the properties of every workbook that is a document, not an input
MADE_HERE = "Monopitch document"

# the day it is said to be made: the same figures give the same bytes, and an office program that saves it sets another
MADE_ON = datetime(2000, 1, 1)

_CORE = "{http://schemas.openxmlformats.org/package/2006/metadata/core-properties}"
_TERMS = "{http://purl.org/dc/terms/}"


def may_replace(path: Path) -> bool:
    """Return whether a document can be written to a path: nothing is there, or a document as this program made it.

    A house or factors workbook, a document that somebody has saved since and any other file are kept.
    Source: the part docProps/core.xml of ISO/IEC 29500-2, core properties.
    """
    if not path.exists():
        return True
    try:
        with zipfile.ZipFile(path) as package:
            properties = ElementTree.fromstring(package.read("docProps/core.xml"))
    except (OSError, KeyError, zipfile.BadZipFile, ElementTree.ParseError):
        return False
    made = f"{MADE_ON:%Y-%m-%dT%H:%M:%SZ}"
    wanted = {f"{_CORE}category": MADE_HERE, f"{_TERMS}created": made, f"{_TERMS}modified": made}
    return all(properties.findtext(name) == text for name, text in wanted.items())
