"""Writes a set of files into a folder, whole or not at all."""

from __future__ import annotations

import errno
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path


def write_whole(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder so that either all of them are there or none is changed.

    All are first written beside the folder. Files of the same name are kept aside until every new one
    stands in its place, and put back if one can't be placed; other files in the folder are left alone.

    Raises IsADirectoryError where a folder stands in the place of a file, OSError where the folder can't
    be written.
    """
    for name in files:
        if (folder / name).is_dir():
            raise IsADirectoryError(errno.EISDIR, f"{name} is a folder", str(folder / name))
    folder.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=f".{folder.name}-", dir=folder.parent) as scratch:
        fresh, aside = Path(scratch) / "new", Path(scratch) / "old"
        fresh.mkdir()
        aside.mkdir()
        for file, data in files.items():
            (fresh / file).write_bytes(data)
        made = not folder.exists()
        folder.mkdir(exist_ok=True)
        _swap(folder, fresh, aside, list(files), made=made)


def _swap(folder: Path, fresh: Path, aside: Path, names: list[str], *, made: bool) -> None:
    """Put new files in the place of old ones; undo everything at the first failure."""
    placed: list[str] = []
    try:
        for name in names:
            if (folder / name).exists():
                (folder / name).replace(aside / name)
            placed.append(name)
            (fresh / name).replace(folder / name)
    except BaseException:  # an interrupt half way is undone too
        for name in placed:
            if (folder / name).is_file():
                (folder / name).unlink()
            if (aside / name).exists():
                (aside / name).replace(folder / name)
        if made:
            shutil.rmtree(folder, ignore_errors=True)
        raise
