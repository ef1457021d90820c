"""The command issue for one reader: that reader's files and no others."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.evaluate import evaluate_all
from takeoff.documents import issue as issuing
from takeoff.documents import side_by_side
from takeoff.documents.issue import issue_files
from takeoff.documents.issue_readers import READERS, files_of
from takeoff.workbook.reading import read_job

ARCHITECT = {"comparison.html", "comparison.pdf", "comparison_appendix.pdf", "results.json"}
QS = {"schedule.xlsx", "bill.csv", "quantities.csv", "order_list.csv", "cutting_list.csv", "results.json"}
CLIENT = {"client.pdf"}


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def house(tmp_path, demo_folder) -> Path:
    for path in (*demo_folder.glob("*.png"), demo_folder / "dune_studio.xlsx", demo_folder / "factors.xlsx"):
        shutil.copy(path, tmp_path / path.name)
    return tmp_path / "dune_studio.xlsx"


@pytest.mark.parametrize(("reader", "files"), [("architect", ARCHITECT), ("qs", QS), ("client", CLIENT)])
def test_a_reader_is_given_these_files(house, tmp_path, reader, files):
    code, out, err = run("issue", house, "--out", tmp_path / "out", "--for", reader)
    assert (code, err) == (0, "")
    assert {path.name for path in (tmp_path / "out").iterdir()} == files
    assert all(name in out for name in files)


def test_all_readers_together_are_given_every_file():
    assert set(files_of(None)) == ARCHITECT | QS | CLIENT
    assert set(READERS) == {"architect", "qs", "client"}


def test_an_issue_for_one_leaves_the_files_of_others_alone(house, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    for name in (*QS, "comparison.html", "client.pdf", "letter.txt"):
        (out / name).write_text(f"old {name}")
    assert run("issue", house, "--out", out, "--for", "client")[0] == 0
    assert (out / "client.pdf").read_bytes().startswith(b"%PDF")
    for name in (*QS, "comparison.html", "letter.txt"):
        assert (out / name).read_text() == f"old {name}"


def test_an_unknown_reader_is_told_in_one_sentence(house, tmp_path):
    code, out, err = run("issue", house, "--out", tmp_path / "out", "--for", "builder")
    assert (code, out) == (2, "")
    assert err == "An issue is for one of architect, qs, client, not for 'builder'.\n"
    assert not (tmp_path / "out").exists()


def test_the_reader_may_be_typed_in_capitals(house, tmp_path):
    assert run("issue", house, "--out", tmp_path / "out", "--for", "QS")[0] == 0
    assert {path.name for path in (tmp_path / "out").iterdir()} == QS


def test_nothing_is_made_for_other_readers(demo_folder, monkeypatch):
    job = read_job(demo_folder / "dune_studio.xlsx")
    results = evaluate_all(job, planned=False)

    def refused(*arguments):
        raise AssertionError("nobody asked for this document")

    for maker in ("comparison_page", "client_page", "page_to_pdf"):
        monkeypatch.setattr(issuing, maker, refused)
    said: list[str] = []
    files, missing = issue_files(job, results, progress=said.append, reader="qs")
    assert (set(files), missing) == (QS, [])
    assert said == ["ranges", "savings", "results", "quantities, orders and bill", "schedule"]


def test_documents_made_side_by_side_are_the_same(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    results = evaluate_all(job, planned=False)
    said: list[str] = []
    alone, _ = issue_files(job, results, progress=lambda text: None, reader="qs")
    beside, missing = issue_files(job, results, progress=said.append, reader="qs", processes=2)
    assert missing == []
    assert list(beside) == list(alone)
    assert beside == alone
    assert sorted(said[2:]) == ["quantities, orders and bill", "results", "schedule"]


def test_an_error_while_a_document_is_made_is_raised(demo_folder, monkeypatch):
    job = read_job(demo_folder / "dune_studio.xlsx")
    results = evaluate_all(job, planned=False)

    def broken(*arguments):
        raise RuntimeError("broken")

    monkeypatch.setattr(issuing, "schedule_workbook", broken)
    with pytest.raises(RuntimeError, match="broken"):
        issue_files(job, results, progress=lambda text: None, reader="qs")


def test_no_process_for_documents_is_no_reason_to_fail(demo_folder, monkeypatch):
    job = read_job(demo_folder / "dune_studio.xlsx")
    results = evaluate_all(job, planned=False)

    def refused(*arguments, **settings):
        raise OSError("no more processes")

    monkeypatch.setattr(side_by_side, "ProcessPoolExecutor", refused)
    files, _ = issue_files(job, results, progress=lambda text: None, reader="qs", processes=2)
    assert set(files) == QS
