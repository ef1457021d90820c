"""The starter's carbon over the whole life: nothing is left without a life or an end, and values are those read."""

from __future__ import annotations

import pytest

from takeoff.model.life_cycle import SPREADS_OF

WOOD = ("softwood", "hardwood", "engineered wood", "wood board")


def test_everything_that_is_built_in_has_a_life_of_its_own_or_that_of_its_layer(job):
    lives = job.library.lives
    for build_up in job.design.build_ups.values():
        by_number = {layer.number: layer for layer in build_up.layers}
        for layer in build_up.layers:
            if job.library.materials[layer.material].family == "work only":
                continue
            host = by_number.get(layer.renewed_with or 0)
            assert layer.material in lives or (host is not None and host.material in lives), (
                build_up.name,
                layer.material,
            )
    for opening in job.design.openings:
        assert opening.unit_type in lives
        assert opening.shutter is None or opening.shutter in lives


def test_every_family_with_materials_has_an_end_in_the_usual_scenario(job):
    families = {m.family for m in job.library.materials.values()} - {"work only"}
    assert {family for scenario, family in job.library.end_of_life if scenario == "usual"} >= families


def test_the_other_scenarios_are_those_of_wood(job):
    others = {scenario for scenario, _ in job.library.end_of_life} - {"usual"}
    assert others == {
        "wood reused",
        "wood to landfill, little decay",
        "wood to landfill, IPCC decay",
        "wood burnt for energy",
    }
    for scenario in others:
        assert tuple(family for named, family in job.library.end_of_life if named == scenario) == WOOD


def test_ends_of_wood_are_those_read(job):
    ends = job.library.end_of_life
    # Ximenes et al. 2018, abstract: 0.7 to 1.6 % of the carbon of particleboard and MDF, 2.8 % of hardwood panels
    assert ends["wood to landfill, little decay", "wood board"].released == pytest.approx(0.016)
    assert ends["wood to landfill, little decay", "hardwood"].released == pytest.approx(0.028)
    # default of the IPCC, quoted by O'Dwyer et al.
    assert ends["wood to landfill, IPCC decay", "softwood"].released == 0.5
    # Defra 2011: burning wood, net of the energy it spares, -817.02 kgCO2e/t
    burnt = ends["wood burnt for energy", "softwood"]
    assert burnt.c3 is not None
    assert burnt.d is not None
    assert burnt.c3 + burnt.d == pytest.approx(-0.81702)
    # Inventory of Carbon and Energy 2.0: sawn softwood 0.20 kgCO2e/kg
    assert ends["wood reused", "softwood"].d == pytest.approx(-0.20)


@pytest.mark.parametrize(
    ("family", "kg_a_tonne"), [("gypsum", 71.95), ("plastic", 34.08), ("plastic foam", 34.08)]
)
def test_landfill_of_defra_2011(job, family, kg_a_tonne):
    # UK conversion factors 2011, waste table: plasterboard and plastics to landfill
    assert job.library.end_of_life["usual", family].c4 == pytest.approx(kg_a_tonne / 1000)


@pytest.mark.parametrize(
    ("material", "years"),
    [
        # BCIS 2006: timber frame, pitched roof of timber, joists, foundations, steel sheet on pitched roofs
        ("Softwood framing, structural", 69),
        ("Softwood rafters, structural", 84),
        ("Softwood floor joists, structural", 90),
        ("Concrete 25 MPa", 110),
        ("Profiled steel roof sheet 0.42, colour coated", 37),
        # declarations ETE-20190128 and S-P-06650
        ("Fibre-cement panel 9, prefinished", 50),
        ("Plasterboard 12.5", 50),
    ],
)
def test_lives_as_read(job, material, years):
    life = job.library.lives[material]
    assert (life.exposed, life.module) == (years, "B4")


@pytest.mark.parametrize(
    ("material", "shortest", "mean", "longest"),
    [
        # Ritter 2011: double-glazed windows of timber and aluminium
        ("Window unit, timber frame, double glazed", 15, 32, 57),
        ("Window unit, aluminium frame, double glazed", 24, 44, 71),
        # Mayer, Building LifePlans: treated whitewood, painted; cedar or oak; repainting
        ("Weatherboard, treated softwood 180 x 19", 20, 25, 30),
        ("Shiplap board, durable hardwood 135 x 20", 40, 50, 60),
        ("Exterior paint, water-based", 2, 3, 5),
    ],
)
def test_lives_by_exposure_lie_in_the_range_read(job, material, shortest, mean, longest):
    life = job.library.lives[material]
    assert shortest <= life.exposed < life.moderate == mean < life.sheltered <= longest


def test_coats_are_maintenance_and_all_else_replacement(job):
    for name, life in job.library.lives.items():
        assert life.module == ("B2" if job.library.materials[name].item_class == "coatings" else "B4"), name


def test_every_kind_of_input_has_a_spread(job):
    assert {of for of, _ in job.library.spreads} == set(SPREADS_OF)
    for of in (
        "labour constant",
        "gang rate",
        "transport",
        "site work",
        "maintenance",
        "service life",
        "end of life",
    ):
        assert (of, "all") in job.library.spreads
    classes = {m.item_class for m in job.library.materials.values()}
    assert {name for of, name in job.library.spreads if of == "quantity"} == classes
    assert {name for of, name in job.library.spreads if of == "price basis"} == {
        "quote",
        "price book",
        "guess",
        "invented",
    }


def test_the_spread_of_transport_is_that_of_its_variance(job):
    # Weidema et al. 2013, table 10.3: variance of the logarithm 0.12 for transport; 95 % interval exp(2 x 0.12 ** 0.5)
    spread = job.library.spreads["transport", "all"]
    assert 1 + spread.high == pytest.approx(2.718281828 ** (2 * 0.12**0.5), abs=0.005)
    assert (1 + spread.low) * (1 + spread.high) == pytest.approx(1)


def test_every_factor_has_its_scores(job):
    for name, factor in job.library.carbon.items():
        assert factor.scores is not None, name
        # 2011 and older is old by now; the houses stand where no British factory delivers
        if factor.source == "ICE2":
            assert (factor.scores.time, factor.scores.geography) == (5, 4)
        if "Proxy" in factor.note:
            assert factor.scores.technology >= 4


def test_figures_from_memory_are_not_called_read(job):
    for benchmark in job.library.benchmarks:
        if benchmark.source in ("LETI", "RIBA", "BOVERKET"):
            assert benchmark.standing == "from memory"
    for row in job.library.end_of_life.values():
        if row.source in ("RICS17", "memory"):
            assert row.standing == "from memory"
    for life in job.library.lives.values():
        if life.source in ("RICS17", "memory", "common"):
            assert life.standing == "from memory"


def test_statistics_of_the_european_database_name_its_licence(job):
    assert "CC BY-SA 4.0" in job.library.sources["ECB22"].licence
    timber = next(b for b in job.library.benchmarks if b.name == "Single-family houses, timber frame, Europe")
    # our own median and quartiles of 34 buildings of the database
    assert (timber.value, timber.low, timber.high) == (453, 421, 578)
    assert (timber.modules, timber.area_basis) == ("A-C", "gross, outside of cladding")
