"""Draws the logo of an invented practice: a plain mark of two tide lines under one slope, as a small PNG picture."""

from __future__ import annotations

import struct
import zlib

_SIDE = 240
# Dots are worked out finer than they are stored, so that edges are smooth.
_FINE = 4
_SHADES = 16
_COLOUR = (0x0F, 0x5E, 0x6B)


def logo_png() -> bytes:
    """Return the logo as the bytes of a PNG file, the same in every run."""
    rows = [_row(y) for y in range(_SIDE)]
    # each row begins with the way it is filtered: 0 for not at all
    packed = zlib.compress(b"".join(b"\x00" + row for row in rows), 9)
    header = struct.pack(">IIBBBBB", _SIDE, _SIDE, 8, 3, 0, 0, 0)
    palette = bytes(
        round(255 + (part - 255) * shade / (_SHADES - 1)) for shade in range(_SHADES) for part in _COLOUR
    )
    chunks = ((b"IHDR", header), (b"PLTE", palette), (b"IDAT", packed), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, body) for kind, body in chunks)


def _chunk(kind: bytes, body: bytes) -> bytes:
    """Return one chunk of a PNG file: length, kind, body and checksum."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def _row(y: int) -> bytes:
    """Return the shades of one row of dots."""
    steps = [(i + 0.5) / _FINE for i in range(_FINE)]
    row = []
    for x in range(_SIDE):
        inside = sum(_is_inked((x + a) / _SIDE, (y + b) / _SIDE) for a in steps for b in steps)
        row.append(round(inside / _FINE**2 * (_SHADES - 1)))
    return bytes(row)


def _is_inked(x: float, y: float) -> bool:
    """Return whether a place of the mark is inked; x goes right and y down, both from 0 to 1."""
    roof = 0.38 - 0.24 * x
    if roof <= y <= roof + 0.13:
        return True
    walls = 0.10 <= x <= 0.22 or 0.78 <= x <= 0.90
    if walls and roof + 0.13 < y <= 0.62:
        return True
    return 0.70 <= y <= 0.78 or (0.86 <= y <= 0.94 and 0.10 <= x <= 0.90)
