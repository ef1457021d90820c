"""Claddings side by side: their area, lives and figures against the items they are made of."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from takeoff.assess.renewal import renewal_years
from takeoff.compare.claddings import claddings_of, distinct_claddings
from takeoff.compare.evaluate import evaluate
from takeoff.model.house import SIDES, Band, Option
from takeoff.model.life_cycle import ServiceLife

BOARDS, STEEL = "Timber boards, horizontal", "Profiled steel, vertical"
WEATHERBOARD, PAINT = "Weatherboard, treated softwood 180 x 19", "Exterior paint, water-based"


def life(material: str, sheltered: float, exposed: float, **others) -> ServiceLife:
    row = {"module": "B4", "moderate": (sheltered + exposed) / 2, **others}
    return ServiceLife(material=material, sheltered=sheltered, exposed=exposed, **row)


@pytest.fixture(scope="module")
def boarded(job, bare_house, window):
    """The bare house in boards; the low side stated sheltered, the high side exposed; two openings on the low side."""

    def make(*, band: Band | None = None, **changes):
        design = bare_house(
            exposure_low="sheltered",
            exposure_high="exposed",
            exposure_left="moderate",
            exposure_right="moderate",
            cladding_drop=0.15,
            openings=(window("W1", "low", 2.0, 1.8, 1.2), window("D1", "low", 6.0, 2.4, 2.1, 0.0)),
        )
        palette = replace(design.palette, band=band, **dict.fromkeys(SIDES, BOARDS), **changes)
        design = replace(design, palettes={**design.palettes, palette.name: palette})
        lives = {
            WEATHERBOARD: life(WEATHERBOARD, 40.0, 20.0),
            PAINT: life(PAINT, 8.0, 4.0, module="B2", share=0.67),
        }
        only = Option(name="base", changes={})
        # credits beyond the system, which belong to no figure here
        ends = {key: replace(row, d=-1.0) for key, row in job.library.end_of_life.items()}
        library = replace(job.library, lives=lives, end_of_life=ends)
        plain = replace(job, design=design, options=(only,), library=library)
        return evaluate(plain, only, planned=False)

    return make


def test_each_elevation_has_its_cladding_and_exposure(boarded):
    found = claddings_of(boarded())
    assert [(c.side, c.build_up, c.exposure) for c in found] == [
        ("low", BOARDS, "sheltered"),
        ("high", BOARDS, "exposed"),
        ("left", BOARDS, "moderate"),
        ("right", BOARDS, "moderate"),
    ]


def test_areas_by_hand(boarded):
    """Low 12 x (2.7 + 0.15) less 1.8 x 1.2 and 2.4 x 2.1; high 12 x (2.7 + 7.2 x tan 5 deg + 0.15)."""
    found = {c.side: c.area for c in claddings_of(boarded())}
    assert found["low"] == pytest.approx(34.2 - 2.16 - 5.04)
    rise = 7.2 * math.tan(math.radians(5))
    assert found["high"] == pytest.approx(12 * (2.85 + rise))
    assert found["left"] == pytest.approx(7.2 * (2.85 + rise / 2))
    assert found["right"] == pytest.approx(found["left"])


def test_a_band_parts_the_face(boarded):
    """Steel from 0.9 to 2.1 m: 1.2 m high, less the window from 0.9 up and as much of the door; boards are the rest."""
    plain = {c.side: c.area for c in claddings_of(boarded())}
    band = Band(build_up=STEEL, sides=("low", "high"), bottom=0.9, top=2.1)
    found = {(c.side, c.build_up): c.area for c in claddings_of(boarded(band=band))}
    assert set(found) == {
        ("low", BOARDS),
        ("low", STEEL),
        ("high", BOARDS),
        ("high", STEEL),
        ("left", BOARDS),
        ("right", BOARDS),
    }
    assert found["low", STEEL] == pytest.approx(12 * 1.2 - 1.8 * 1.2 - 2.4 * 1.2)
    assert found["high", STEEL] == pytest.approx(12 * 1.2)
    for side in ("low", "high"):
        assert found[side, BOARDS] + found[side, STEEL] == pytest.approx(plain[side])


def test_lives_and_years_of_the_layers(boarded):
    """60 years. Low: boards at 40, paint every 8 and with them. High: boards at 20 and 40, paint every 4."""
    found = {c.side: {layer.material: layer for layer in c.layers} for c in claddings_of(boarded())}
    low, high = found["low"], found["high"]
    assert (low[WEATHERBOARD].life, low[WEATHERBOARD].years) == (40.0, (40.0,))
    assert low[PAINT].years == (8.0, 16.0, 24.0, 32.0, 40.0, 48.0, 56.0)
    assert low[PAINT].share == 0.67
    assert high[WEATHERBOARD].years == (20.0, 40.0)
    assert high[PAINT].years == tuple(4.0 * n for n in range(1, 15))
    # nails have no life of their own: their host alone renews them
    nails = "Cladding nails, stainless"
    assert (low[nails].life, low[nails].years) == (None, (40.0,))
    assert found["left"][PAINT].years == tuple(year for year, _ in renewal_years(6.0, 60.0, 30.0))


def test_figures_are_those_of_its_items(boarded):
    result = boarded()
    for figures in claddings_of(result):
        lines = [
            line
            for line in result.lines
            if line.quantity.id.startswith(f"EW.CL.{figures.side}.") and line.quantity.built_in is not None
        ]
        # where there are no openings there is no trim round them
        trims = 1 if figures.side == "low" else 0
        assert len(lines) == len(result.design.build_ups[BOARDS].layers) - 1 + trims
        carbon = [line.carbon for line in lines]
        assert figures.cost == pytest.approx(sum(line.cost for line in lines))
        assert figures.upfront == pytest.approx(sum(c.upfront for c in carbon))
        ends = [getattr(c, module) or 0.0 for c in carbon for module in ("c1", "c2", "c3", "c4")]
        assert figures.end == pytest.approx(sum(ends))
        renewed = [(c.b2 or 0.0) + (c.b3 or 0.0) + (c.b4 or 0.0) for c in carbon]
        assert figures.renewal_carbon_whole == pytest.approx(sum(renewed))
        assert figures.upkeep_whole == pytest.approx(
            sum(line.renewal.cost_each * line.renewal.whole for line in lines)
        )


def test_both_ways_of_counting(boarded):
    """High side: 20 and 4 years go into 60, so both agree; low side: 40 does not, so the annualised is less."""
    found = {c.side: c for c in claddings_of(boarded())}
    assert found["high"].upkeep_annualised == pytest.approx(found["high"].upkeep_whole)
    assert found["high"].renewal_carbon_annualised == pytest.approx(found["high"].renewal_carbon_whole)
    assert found["low"].upkeep_annualised < found["low"].upkeep_whole
    assert found["low"].renewal_carbon_annualised < found["low"].renewal_carbon_whole


def test_weather_makes_the_same_boards_dearer_to_keep(boarded):
    per_m2 = {c.side: c.upkeep_whole / c.area for c in claddings_of(boarded())}
    assert per_m2["low"] < per_m2["left"] < per_m2["high"]


def test_a_renewal_that_is_not_assessed_leaves_the_sum_unknown(boarded, job):
    result = boarded()
    bare = tuple(
        replace(line, renewal=replace(line.renewal, carbon_each=None))
        if line.renewal and line.quantity.material == PAINT
        else line
        for line in result.lines
    )
    figures = claddings_of(replace(result, lines=bare))[0]
    assert figures.renewal_carbon_whole is None
    assert figures.upkeep_whole > 0


def test_each_cladding_once_for_each_exposure(boarded):
    result = boarded()
    found = distinct_claddings([result, result])
    assert [(c.build_up, c.exposure) for c in found] == [
        (BOARDS, "sheltered"),
        (BOARDS, "moderate"),
        (BOARDS, "exposed"),
    ]


def test_a_renewal_that_never_falls_due_needs_no_carbon(boarded):
    """As if the paint outlasted the study: nothing of it is counted, so nothing is unknown."""
    result = boarded()
    changed = tuple(
        replace(line, renewal=replace(line.renewal, carbon_each=None, whole=0.0, annualised=0.0))
        if line.renewal and line.quantity.material == PAINT
        else line
        for line in result.lines
    )
    figures = claddings_of(replace(result, lines=changed))[0]
    assert figures.renewal_carbon_whole > 0
    assert figures.renewal_carbon_annualised > 0


def test_of_several_options_the_first_counts(boarded):
    """The second has a steel band, so its boards of a side are fewer; steel it alone has."""
    plain = boarded()
    banded = boarded(band=Band(build_up=STEEL, sides=("low",), bottom=0.9, top=2.1))
    found = {(c.build_up, c.exposure): c for c in distinct_claddings([plain, banded])}
    first = next(c for c in claddings_of(plain) if c.side == "low")
    assert found[BOARDS, "sheltered"] == first
    assert found[STEEL, "sheltered"].area < first.area
