"""Reads a picture file whole: PNG or JPEG, its size, and whether it is damaged."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

from takeoff.model.picture import PictureFile

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
# Markers of a JPEG file that begin a frame and so hold its size; three of that row are tables.
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
# More than a letterhead ever needs: documents are sent by e-mail [bytes]. Common practice, no source.
LARGEST = 5_000_000


class PictureError(ValueError):
    """A picture that can't be used; the message says why."""


def read_picture(path: Path) -> PictureFile:
    """Return a picture with its bytes. Raises PictureError with what is wrong with it."""
    try:
        data = path.read_bytes()
    except FileNotFoundError as error:
        raise PictureError("there is no such file") from error
    except OSError as error:
        raise PictureError(f"the file can't be read: {error.strerror or error}") from error
    if len(data) > LARGEST:
        raise PictureError(f"the file has {len(data) / 1e6:.1f} MB, more than {LARGEST / 1e6:g} MB")
    try:
        if data.startswith(_PNG):
            width, height = _png_size(data)
            return PictureFile(name=path.name, kind="png", width=width, height=height, data=data)
        if data.startswith(_JPEG):
            width, height = _jpeg_size(data)
            return PictureFile(name=path.name, kind="jpeg", width=width, height=height, data=data)
    except (struct.error, zlib.error, IndexError) as error:
        raise PictureError("the picture is damaged or cut short") from error
    raise PictureError("the file is neither PNG nor JPEG")


def _png_size(data: bytes) -> tuple[int, int]:
    """Return width and height of a PNG file [dots], every piece of it checked.

    Source: the checksum of each chunk as in ISO/IEC 15948, from memory.
    """
    at, size, packed = len(_PNG), None, b""
    while True:
        length, kind = struct.unpack(">I4s", data[at : at + 8])
        body = data[at + 8 : at + 8 + length]
        (checksum,) = struct.unpack(">I", data[at + 8 + length : at + 12 + length])
        if zlib.crc32(kind + body) != checksum:
            raise PictureError("the picture is damaged or cut short")
        if kind == b"IHDR":
            size = struct.unpack(">II", body[:8])
        elif kind == b"IDAT":
            packed += body
        elif kind == b"IEND":
            break
        at += 12 + length
    if size is None or 0 in size or not zlib.decompress(packed):
        raise PictureError("the picture is damaged or cut short")
    return size[0], size[1]


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """Return width and height of a JPEG file [dots].

    Source: markers as in ISO/IEC 10918-1, from memory.
    """
    if data.rfind(b"\xff\xd9") < 0:
        raise PictureError("the picture is damaged or cut short")
    at = 2
    while data[at] == 0xFF:
        marker = data[at + 1]
        if marker in _FRAMES:
            height, width = struct.unpack(">HH", data[at + 5 : at + 9])
            if width and height:
                return width, height
            break
        (length,) = struct.unpack(">H", data[at + 2 : at + 4])
        at += 2 + length
    raise PictureError("the picture is damaged or cut short")
