"""Issue folders read back as bills, and what is said of one that can't be."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.compare.movement import bill_of
from takeoff.compare.uncertainty import draw
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.results_json import FORMAT as WRITTEN
from takeoff.documents.results_json import results_json
from takeoff.workbook.issue_folder import FORMAT, IssueFolderError, UnknownOptionError, read_issue_folder


@pytest.fixture(scope="module")
def results(job):
    """The base, and an option whose name begins like a formula."""
    named = replace(job.options[1], name="=All timber")
    changed = replace(job, options=(job.base, named), study=replace(job.study, draws=100))
    return changed, [evaluate(changed, option, planned=False) for option in changed.options]


@pytest.fixture(scope="module")
def issued(results, tmp_path_factory) -> Path:
    changed, both = results
    folder = tmp_path_factory.mktemp("issue")
    (folder / "quantities.csv").write_text(quantities_csv(both), encoding="utf-8")
    (folder / "results.json").write_text(results_json(changed, both, draw(changed, both)), encoding="utf-8")
    return folder


@pytest.fixture
def spoilt(issued, tmp_path) -> Callable[..., Path]:
    """Return a maker of copies with the text of one file changed."""

    def make(file: str, change: Callable[[str], str]) -> Path:
        for name in ("quantities.csv", "results.json"):
            shutil.copy(issued / name, tmp_path / name)
        path = tmp_path / file
        path.write_text(change(path.read_text(encoding="utf-8")), encoding="utf-8")
        return tmp_path

    return make


def of_json(change: Callable[[dict[str, Any]], object]) -> Callable[[str], str]:
    """Return a change of a text that is made to its data."""

    def changed(text: str) -> str:
        data = json.loads(text)
        change(data)
        return json.dumps(data)

    return changed


def test_the_format_that_is_written_is_the_one_that_is_read():
    assert FORMAT == WRITTEN


@pytest.mark.parametrize("place", [0, 1])
def test_an_issue_read_back_is_the_bill_it_was_written_from(results, issued, place):
    changed, both = results
    read = read_issue_folder(issued, both[place].option.name)
    made = bill_of(changed, both[place], source=str(issued))
    assert replace(read, lines=(), ladder=()) == replace(made, lines=(), ladder=())
    assert [step.name for step in read.ladder] == [step.name for step in made.ladder]
    assert [step.of_allowances for step in read.ladder] == [step.of_allowances for step in made.ladder]
    assert [step.amount for step in read.ladder] == [step.amount for step in made.ladder]
    assert len(read.lines) == len(made.lines)
    for own, other in zip(read.lines, made.lines, strict=True):
        texts = ("id", "element", "trade", "kind", "item", "location", "unit", "overridden")
        assert [getattr(own, key) for key in texts] == [getattr(other, key) for key in texts]
        for key in ("net", "material", "labour", "plant", "stated", "upfront", "life_cycle"):
            value, expected = getattr(own, key), getattr(other, key)
            # 15 digits are written; a rate with its sundries is the sum of two numbers of them
            assert value == (None if expected is None else pytest.approx(expected, rel=1e-14)), (own.id, key)


def test_the_base_is_read_where_no_option_is_named_and_case_makes_no_difference(results, issued):
    assert read_issue_folder(issued).option == results[1][0].option.name
    assert read_issue_folder(issued, " =ALL timber").option == "=All timber"


def test_an_option_that_the_issue_does_not_have(issued):
    with pytest.raises(
        UnknownOptionError, match=r"^There is no option 'Straw' in .*\. Options: .+, =All timber\.$"
    ):
        read_issue_folder(issued, "Straw")


@pytest.mark.parametrize("name", ["quantities.csv", "results.json"])
def test_a_file_that_is_missing(issued, tmp_path, name):
    other = {"quantities.csv": "results.json", "results.json": "quantities.csv"}[name]
    shutil.copy(issued / other, tmp_path / other)
    with pytest.raises(IssueFolderError, match=rf"has no {name}: name a folder that takeoff issue wrote\.$"):
        read_issue_folder(tmp_path)


def without_rates(text: str) -> str:
    return text.replace("rate_material", "rate_of_material", 1)


def cheaper(data: dict[str, Any]) -> None:
    data["options"][0]["totals"]["total_inc_tax"] -= 1.0


@pytest.mark.parametrize(
    ("file", "change", "message"),
    [
        ("results.json", lambda text: text[:400], r"results\.json can't be read as JSON: .+\.$"),
        ("results.json", lambda text: "[]", r"results\.json has no format number"),
        (
            "results.json",
            of_json(lambda d: d.update(format=4)),
            r"was issued by an earlier version, without the ",
        ),
        (
            "results.json",
            of_json(lambda d: d.update(format=99)),
            r"has the format 99, and .* by a later version\.$",
        ),
        ("results.json", of_json(lambda d: d.pop("study")), r"results\.json has no study that can be read"),
        ("results.json", of_json(lambda d: d.update(options=[])), r"results\.json has no options\.$"),
        (
            "results.json",
            of_json(cheaper),
            r"The money of '.+' in .+ does not add up to its total in results\.json",
        ),
        ("quantities.csv", without_rates, r"was issued by an earlier version, without the rates in parts"),
        ("quantities.csv", lambda text: text.replace(",a5_site,", ",site,", 1), r"has no column a5_site\.$"),
        (
            "quantities.csv",
            lambda text: text.replace(",13.104,", ",13 104,", 1),
            r"line 2: net is '13 104', which ",
        ),
        ("quantities.csv", lambda text: text.replace(",13.104,", ",,", 1), r"line 2: net is blank\.$"),
        (
            "quantities.csv",
            lambda text: text + text.splitlines()[1],
            r"SB\.concrete-25-mpa stands there already\.$",
        ),
        ("quantities.csv", lambda text: "", r"has no column option\.$"),
    ],
)
def test_a_broken_issue_is_one_sentence(spoilt, file, change, message):
    with pytest.raises(IssueFolderError, match=message) as found:
        read_issue_folder(spoilt(file, change))
    assert "\n" not in str(found.value)


def test_a_list_that_is_no_text(issued, tmp_path):
    shutil.copy(issued / "results.json", tmp_path / "results.json")
    (tmp_path / "quantities.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(IssueFolderError, match=r"quantities\.csv is no text in UTF-8\.$"):
        read_issue_folder(tmp_path)
