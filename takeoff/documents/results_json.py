"""results.json: every figure of every option, for other programs."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from takeoff.assess.allowances import AssessedAllowance
from takeoff.assess.totals import Totals
from takeoff.compare.cautions import GENERAL, cautions_of
from takeoff.compare.evaluate import Result
from takeoff.compare.figures import differences, figures_of
from takeoff.compare.parity import shortfalls
from takeoff.compare.savings import Savings, savings
from takeoff.compare.uncertainty import Uncertainty
from takeoff.cutting.order_plan import OrderItem, OrderPlan
from takeoff.documents.fabric_json import fabric_data, fabric_settings_data
from takeoff.documents.life_cycle_json import life_cycle_data, module_amounts, study_data
from takeoff.documents.members_json import members_data
from takeoff.documents.option_flags import flag_lines
from takeoff.documents.order_figures import plan_figures
from takeoff.documents.order_words import by_the_metre, sold_by
from takeoff.documents.overrides_shown import overrides_data
from takeoff.documents.parity_words import parity_cautions
from takeoff.documents.ranges_json import ranges_data
from takeoff.documents.savings_section import savings_data
from takeoff.measure.inside import RoomFigures
from takeoff.model.geometry import compass_of
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.model.wall_runs import WallRun

FORMAT = 5


def results_data(
    job: Job, results: Sequence[Result], ranges: Uncertainty, saved: Savings | None = None
) -> dict[str, Any]:
    """Return all results as plain data. Units stand in the keys, or in the guide's page on results.json.

    `saved` are the savings of the job, found here where they are not given.
    """
    base = results[0]
    project = job.project
    return {
        "format": FORMAT,
        "project": {
            "name": project.name,
            "description": project.description,
            "place": project.place,
            "issue": project.issue,
            "date": project.date,
            "stage": project.stage,
            "currency": project.currency,
            "exclusions": list(project.exclusions),
        },
        "study": study_data(job),
        "fabric_settings": fabric_settings_data(job),
        "cautions": [caution.text for caution in GENERAL],
        "options": [_option(job, result, base) for result in results],
        "ranges": ranges_data(ranges),
        "savings": savings_data(saved or savings(job, results, ranges)),
    }


def results_json(
    job: Job, results: Sequence[Result], ranges: Uncertainty, saved: Savings | None = None
) -> str:
    """Return results.json as text."""
    return json.dumps(results_data(job, results, ranges, saved), indent=2, ensure_ascii=False) + "\n"


def _option(job: Job, result: Result, base: Result) -> dict[str, Any]:
    """Return one option."""
    areas = result.measured.areas
    accuracy = job.library.accuracy.get(job.project.stage)
    total = result.ladder.total_inc_tax
    return {
        "name": result.option.name,
        "description": result.option.description,
        "is_base": result is base,
        "changed_settings": [{"setting": name, "value": value} for name, value in result.option.shown],
        "areas": {
            "outside_floor_m2": areas.outside,
            "inside_floor_m2": areas.inside,
            "rooms_floor_m2": areas.rooms,
            "wall_gross_m2": areas.wall_gross,
            "wall_gross_by_side_m2": dict(areas.wall_by_side),
            "openings_m2": areas.openings,
            "openings_by_side_m2": dict(areas.openings_by_side),
            "roof_slope_m2": areas.roof_slope,
            "roof_plan_m2": areas.roof_plan,
        },
        "lengths": {"slope_m": areas.slope_length, "high_wall_height_m": areas.high_height},
        "volumes": {"enclosed_m3": areas.enclosed_volume, "air_m3": areas.air_volume},
        "rooms": [_room(figures) for figures in result.measured.inside.rooms if figures.room.name],
        "internal_walls": [_wall(run) for run in result.measured.inside.runs],
        "faces": {side: compass_of(result.design.house, side) for side in SIDES},
        "framing": {
            "practice": result.design.practice.name,
            "stud_spacing_m": result.design.stud_spacing,
            "fraction_by_wall": {f.side: f.framing_fraction for f in result.measured.wall_frames},
            "roof_fraction": result.measured.roof_frame.framing_fraction,
        },
        "totals": figures_of(result),
        "difference_from_base": differences(result, base),
        "cost_range": None
        if accuracy is None
        else {
            "stage": accuracy.stage,
            "low": total * (1 + accuracy.low),
            "high": total * (1 + accuracy.high),
        },
        "cost_ladder": [
            {"step": rung.name, "of": rung.words, "amount": rung.amount, "running_total": rung.running}
            for rung in result.ladder.rungs
        ],
        "by_element": {name: _totals(totals) for name, totals in result.by_element.items()},
        "by_trade": {name: _totals(totals) for name, totals in result.by_trade.items()},
        "orders": [_order(plan) for plan in result.plans],
        "by_allowance": _by_allowance(result),
        "life_cycle": life_cycle_data(job, result),
        "fabric": fabric_data(result, shortfalls(job, result, base)),
        "members": members_data(result),
        "flags": flag_lines(job, result, base),
        "overrides": overrides_data(result),
        "allowances": [_allowance(each) for each in result.allowances],
        "covers": {"rooms": bool(result.design.rooms), "allowances": bool(result.allowances)},
        "coverage": {
            "carbon_share_of_mass": result.totals.carbon_cover_mass,
            "carbon_share_of_cost": result.totals.carbon_cover_cost,
            "carbon_not_assessed": list(result.totals.not_assessed),
            "a4_not_assessed": list(result.totals.a4_not_assessed),
            "not_priced": list(result.totals.not_priced),
            "mass_not_known": list(result.totals.mass_not_known),
        },
        "cautions": [
            {"about": c.about, "text": c.text}
            for c in (*cautions_of(result), *parity_cautions(shortfalls(job, result, base)))
        ],
    }


def _order(plan: OrderPlan) -> dict[str, Any]:
    """Return the plan of one order; how it is cut stands in the cutting list."""
    return {
        "number": plan.number,
        "name": plan.name,
        "material": plan.material,
        "unit": plan.unit,
        "basis": plan.basis,
        "rule": plan.rule,
        "ids": list(plan.items_of),
        **plan_figures(plan),
        "bought": [_bought(plan, item) for item in plan.items],
        "too_long": [
            {"id": piece.item, "mark": piece.mark, "length_m": piece.length, "longest_m": piece.longest}
            for piece in plan.too_long
        ],
        "notes": list(plan.notes),
        "offcuts": [
            {
                "length_m": offcut.length,
                "width_m": offcut.width,
                "count": offcut.count,
                "serves": offcut.serves,
            }
            for offcut in plan.offcuts
        ],
    }


def _bought(plan: OrderPlan, item: OrderItem) -> dict[str, Any]:
    """Return so many of one thing bought."""
    return {
        "sold_by": sold_by(plan, item),
        "length_m": item.length,
        "width_m": item.width,
        "contents": item.stock.contents,
        "contents_unit": item.stock.contents_unit,
        "count": item.count,
        "count_unit": "m" if by_the_metre(item) else "Nr",
        "amount": item.amount,
    }


def _by_allowance(result: Result) -> dict[str, float | None]:
    """Return what the wastage allowances alone would give; a module that nothing assesses is null."""
    totals, ladder = result.by_allowance.totals, result.by_allowance.ladder
    return {
        "total_inc_tax": ladder.total_inc_tax,
        "measured_works": ladder.measured_works,
        "upfront_kgco2e": totals.upfront_assessed,
        "a5_wastage_kgco2e": totals.a5_wastage,
        "mass_wastage_kg": totals.mass_wastage,
    }


def _allowance(assessed: AssessedAllowance) -> dict[str, Any]:
    """Return one allowance; carbon and mass that are not given are null."""
    allowance, line, fixing = assessed.allowance, assessed.line, assessed.fixing
    return {
        "id": line.quantity.id,
        "name": allowance.name,
        "kind": allowance.kind,
        "element": allowance.element,
        "trade": allowance.trade,
        "measured_by": allowance.basis,
        "quantity": line.quantity.net,
        "rate": line.rate.total,
        "cost": line.cost,
        "fixing_cost": fixing.cost if fixing else 0.0,
        "mass_kg": line.mass,
        "a1a3_kgco2e": line.carbon.a1a3,
        "source": allowance.source,
        "standing": allowance.standing,
        "note": allowance.note,
    }


def _totals(totals: Totals) -> dict[str, float | None]:
    """Return the totals of an element or trade; a module that nothing assesses is null, so is an unknown mass."""
    return {
        "cost": totals.cost,
        "mass_kg": totals.known_mass,
        "upfront_kgco2e": totals.upfront_assessed,
        **module_amounts(totals),
        "stored_kgco2": totals.stored,
        "upkeep_before_ladder": totals.upkeep,
    }


def _room(figures: RoomFigures) -> dict[str, Any]:
    """Return one room."""
    room = figures.room
    return {
        "name": room.name,
        "dwelling": room.dwelling,
        "floor_m2": figures.floor,
        "wall_length_m": figures.wall_length,
        "walls_gross_m2": figures.walls,
        "ceiling_m2": figures.ceiling,
        "lowest_ceiling_m": figures.lowest,
        "highest_ceiling_m": figures.highest,
        "air_m3": figures.volume,
        "wall_lining": room.wall_lining,
        "ceiling_lining": room.ceiling_lining,
        "floor_finish": room.floor_finish,
        "wet": room.wet,
    }


def _wall(run: WallRun) -> dict[str, Any]:
    """Return one internal wall."""
    return {
        "mark": run.mark,
        "between": sorted({name for edge in run.edges for name in (edge.before, edge.after)}),
        "build_up": run.build_up,
        "party": run.party,
        "loadbearing": run.loadbearing,
        "along": "eaves" if run.axis == "x" else "slope",
        "length_m": run.length,
    }
