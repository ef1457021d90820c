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
    (folder / "b.txt").write_text("kept")
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
    assert (folder / "b.txt").read_text() == "kept"


def test_a_failure_leaves_no_new_folder(tmp_path):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "replace", lambda self, target: (_ for _ in ()).throw(PermissionError("no")))
        with pytest.raises(PermissionError):
            write_whole(tmp_path / "issue", {"a.txt": b"new"})
    assert list(tmp_path.iterdir()) == []


def test_a_folder_is_made_with_its_parents(tmp_path):
    write_whole(tmp_path / "a" / "b", {"c.txt": b"there"})
    assert (tmp_path / "a" / "b" / "c.txt").read_bytes() == b"there"
    assert [p.name for p in (tmp_path / "a").iterdir()] == ["b"]


def test_nothing_is_left_where_the_folder_can_not_be_made(tmp_path):
    (tmp_path / "issue").write_text("a file")
    with pytest.raises(FileExistsError):
        write_whole(tmp_path / "issue", {"a.txt": b"new"})
    assert {p.name: p.read_text() for p in tmp_path.iterdir()} == {"issue": "a file"}


def test_a_failure_at_the_last_file_takes_the_new_ones_away_again(tmp_path):
    folder = tmp_path / "issue"
    folder.mkdir()
    (folder / "c.txt").write_text("old")
    real = Path.replace

    def refuse(self: Path, target: Path) -> Path:
        if self.name == "c.txt" and self.parent.name == "new":
            raise PermissionError("no")
        return real(self, target)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Path, "replace", refuse)
        with pytest.raises(PermissionError):
            write_whole(folder, {"a.txt": b"new", "b.txt": b"new", "c.txt": b"new"})
    assert {p.name: p.read_text() for p in folder.iterdir()} == {"c.txt": "old"}
    assert [p.name for p in tmp_path.iterdir()] == ["issue"]


def test_a_folder_is_never_replaced_by_a_file(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("mine")
    with pytest.raises(OSError, match="mine"):
        write_whole(tmp_path, {"mine": b"new"})
    assert (tmp_path / "mine" / "letter.txt").read_text() == "mine"
