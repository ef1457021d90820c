"""A folder of files is written whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from takeoff.documents.folder import write_whole


def test_files_are_written_and_others_kept(tmp_path):
    folder = tmp_path / "issue"
    folder.mkdir()
    (folder / "a.txt").write_text("old")
    (folder / "letter.txt").write_text("mine")
    write_whole(folder, {"a.txt": b"new", "b.txt": b"too"})
    assert {p.name: p.read_text() for p in folder.iterdir()} == {
        "a.txt": "new",
        "b.txt": "too",
        "letter.txt": "mine",
    }
    assert [p.name for p in tmp_path.iterdir()] == ["issue"]


def test_a_failure_half_way_puts_everything_back(tmp_path):
    folder = tmp_path / "issue"
    folder.mkdir()
    (folder / "a.txt").write_text("old")
    # a folder with something in it can't be replaced by a file
    (folder / "b.txt").mkdir()
    (folder / "b.txt" / "kept").write_text("kept")
    real = Path.replace

    def refuse(self: Path, target: Path) -> Path:
        if self.name == "b.txt" and self.parent.name == "new":
            raise PermissionError("no")
        return real(self, target)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "replace", refuse)
        with pytest.raises(PermissionError):
            write_whole(folder, {"a.txt": b"new", "b.txt": b"too"})
    assert (folder / "a.txt").read_text() == "old"
    assert (folder / "b.txt" / "kept").read_text() == "kept"


def test_a_failure_leaves_no_new_folder(tmp_path):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "replace", lambda self, target: (_ for _ in ()).throw(PermissionError("no")))
        with pytest.raises(PermissionError):
            write_whole(tmp_path / "issue", {"a.txt": b"new"})
    assert list(tmp_path.iterdir()) == []
