"""Words: findings and numbers as sentences in the units a job asks for, and as plain data."""

from __future__ import annotations

from functools import partial
from typing import Any, cast

from rigfit.rigging.afloat import Trouble
from rigfit.rigging.afloat_summary import MarkSummary, summary_of
from rigfit.rigging.bolting import bolt_to_buy, grip_of, layers_of, missing, stack_needs
from rigfit.rigging.checks_load import is_begun, load_limits
from rigfit.rigging.findings import Amount, Finding, Phrase, Verdict
from rigfit.rigging.hole_fit import FittedHole, HoleRelation
from rigfit.rigging.job import Units
from rigfit.rigging.margins import FloatTest
from rigfit.rigging.masses import growth, masses_after, masses_before
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.planing import Planing
from rigfit.rigging.report import REPORT_FORMAT, EngineReport
from rigfit.rigging.swing_summary import HeightSwing, setback_swings, swing_summary
from rigfit.rigging.tolerance import Estimate
from rigfit.rigging.underway import Lacking, PlateAt, underway_of
from rigfit.runs_data import runs_data
from rigfit.sources import cite
from rigfit.trial_data import trial_data
from rigfit.units import BASE_UNIT, Kind, Shown, show

MARKS: dict[Verdict, str] = {
    Verdict.FITS: "=",
    Verdict.TIGHT: "~",
    Verdict.UNKNOWN: "?",
    Verdict.STOPS: "!",
}
"""A sign for each verdict, beside its word: never colour alone."""

CAUTIONS: tuple[str, ...] = (
    "The engine maker's and boat builder's instructions, the capacity plate and local law come "
    "first.",
    "Measure twice, have a second person check, and check the height afloat before sealing.",
    "An engine weighs 50 to 300 kg: use a rated hoist, keep clear below it, chock the trailer.",
    "Wet or soft transom: stop and have it looked at; no height or bolt mends it.",
)
"""Printed on every output."""


def shown(units: Units) -> Shown:
    """Return how results are shown from a job's unit settings."""
    return Shown(cast(Any, units.lengths), cast(Any, units.speeds))


def say(words: Phrase, style: Shown) -> str:
    """Return a phrase with its amounts in the chosen units."""
    return words.text.format_map({key: _amount(item, style) for key, item in words.amounts.items()})


def _amount(item: Amount | str, style: Shown) -> str:
    if isinstance(item, str):
        return item
    return show(item.value, item.kind, style, signed=item.signed)


def number(value: float | None, kind: Kind, style: Shown, *, signed: bool = False) -> str:
    """Return a number with unit, or a dash where it is missing."""
    return "-" if value is None else show(value, kind, style, signed=signed)


def share_words(finding: Finding) -> str:
    """Return a finding that is a share of its limit in words; "" for any other.

    "28 % of the limit", "29 times the limit".
    """
    if finding.kind is not Kind.RATIO or finding.high != 1.0 or finding.value is None:
        return ""
    if finding.value < 2.0:
        return f"{100.0 * finding.value:.0f} % of the limit"
    return f"{finding.value:.3g} times the limit"


def verdict_line(report: EngineReport) -> str:
    """Return the overall verdict as one sentence."""
    verdict = report.verdict
    count = sum(1 for finding in report.findings if finding.verdict is verdict)
    one = count == 1
    things = f"{count} finding{'' if one else 's'}"
    return {
        Verdict.FITS: "Everything that was checked fits, by more than its tolerance.",
        Verdict.TIGHT: f"Nothing stops it; {things} tight or not confirmed by tape.",
        Verdict.UNKNOWN: f"Not to be decided yet: {things} {'waits' if one else 'wait'} for a "
        "measurement.",
        Verdict.STOPS: f"Do not: {things} {'stops' if one else 'stop'} it.",
    }[verdict]


def finding_data(finding: Finding, style: Shown) -> dict[str, object]:
    """Return one finding as data; numbers in the base unit named under ``unit``."""
    return {
        "code": finding.code,
        "subject": finding.subject,
        "title": finding.title,
        "verdict": finding.verdict.value,
        "value": _rounded(finding.value),
        "limit": _rounded(finding.limit),
        "low": _rounded(finding.low),
        "high": _rounded(finding.high),
        "unit": BASE_UNIT[finding.kind],
        "margin": _rounded(finding.margin),
        "tolerance": _rounded(finding.tolerance),
        "sentence": say(finding.sentence, style),
        "source": cite(finding.source),
        "needs": list(finding.needs),
        "settle": say(finding.settle, style) if finding.settle else "",
        "working": [say(line, style) for line in finding.working],
    }


def option_data(option: HeightOption) -> dict[str, object]:
    """Return one height option as data, mm."""
    plate = option.plate
    return {
        "row": option.row,
        "bracket_setting_mm": _rounded(option.setting_mm),
        "lift_mm": _rounded(option.lift.value),
        "plate_height_mm": _rounded(plate.value if plate else None),
        "tolerance_mm": _rounded(plate.tolerance if plate else None),
        "off_target_mm": _rounded(option.off_target_mm),
        "verdict": option.verdict.value,
        "reason": option.reason,
    }


def heights_data(report: EngineReport) -> list[dict[str, object]]:
    """Return all height options of a report as data."""
    return [option_data(option) for option in report.options]


def plate_data(report: EngineReport) -> dict[str, object]:
    """Return the plate at the mounted height, and its target, as data in mm."""
    mounted, band = report.mounted, report.case.band
    plate = mounted.plate if mounted else None
    return {
        "row": mounted.row if mounted else None,
        "row_is_chosen": report.is_chosen,
        "height_mm": _rounded(plate.value if plate else None),
        "tolerance_mm": _rounded(plate.tolerance if plate else None),
        "target_low_mm": _rounded(band.low_mm if band else None),
        "target_high_mm": _rounded(band.high_mm if band else None),
        "setback_rise_mm": _rounded(report.case.rise.mid_mm),
    }


def report_data(report: EngineReport) -> dict[str, object]:
    """Return a whole report as data, the layout of ``rigfit check --json``."""
    job = report.case.job
    style = shown(job.units)
    return {
        "format": REPORT_FORMAT,
        "boat": job.boat.name,
        "engine": report.case.candidate.id,
        "verdict": report.verdict.value,
        "plate": plate_data(report),
        "heights": heights_data(report),
        "plate_ranges": [
            {
                "leg": entry.name,
                "leg_mm": _rounded(entry.leg_mm),
                "low_mm": _rounded(entry.low_mm),
                "high_mm": _rounded(entry.high_mm),
                "verdict": entry.verdict.value,
            }
            for entry in report.ranges
        ],
        "drilling": drilling_data(report),
        "holes": holes_data(report),
        "reuse": reuse_data(report),
        "bolts": bolts_data(report),
        "runs": runs_data(report),
        "load": load_data(report),
        "afloat": afloat_data(report),
        "swing": swing_data(report),
        "underway": underway_data(report),
        "trial": trial_data(report, partial(say, style=style)),
        "not_looked_at": list(report.not_looked_at),
        "findings": [finding_data(finding, style) for finding in report.findings],
        "cautions": list(CAUTIONS),
    }


def drilling_data(report: EngineReport) -> list[dict[str, object]]:
    """Return where a bare transom may be drilled, as data in mm."""
    return [
        {
            "choice": choice.label,
            "upper_holes_below_top_mm": _rounded(choice.upper_below_top_mm),
            "row": choice.row,
            "plate_height_mm": _rounded(choice.plate_mm),
            "rows_below": choice.rows_below,
            "rows_above": choice.rows_above,
            "lower_holes_below_top_mm": _rounded(choice.lower_below_top_mm),
            "verdict": choice.verdict.value,
            "reason": choice.reason,
        }
        for choice in report.drilling
    ]


def holes_data(report: EngineReport) -> dict[str, object]:
    """Return the new holes with what each is to its neighbours, and what is to be filled, in mm."""
    fit = report.holes
    if fit is None:
        return {"new": [], "to_fill": [], "inside": [], "faults": []}
    return {
        "new": [_hole_data(item) for item in fit.holes],
        "to_fill": [item.name for item in fit.to_fill],
        "inside": [
            {
                "hole": item.feature.name,
                "place": item.place,
                "what": fit.footprint.label,
                "clear_mm": _rounded(item.clear_mm),
                "drift_mm": _rounded(item.drift_mm),
                "verdict": item.verdict.value,
            }
            for item in (fit.exits if fit.places else ())
        ],
        "faults": list(fit.faults),
    }


def _hole_data(item: FittedHole) -> dict[str, object]:
    feature = item.hole.feature
    return {
        "name": feature.name,
        "across_mm": _rounded(feature.across_mm),
        "below_top_mm": _rounded(feature.below_top_mm),
        "diameter_mm": _rounded(feature.diameter_mm),
        "served_by": item.reuse.neighbour if item.reuse else None,
        "verdict": item.verdict.value,
        "against": [_relation_data(relation) for relation in item.relations],
    }


def _relation_data(relation: HoleRelation) -> dict[str, object]:
    return {
        "neighbour": relation.neighbour,
        "what": relation.what,
        "relation": relation.relation.value,
        "distance_mm": _rounded(relation.distance_mm),
        "play_mm": _rounded(relation.play_mm),
        "ligament_mm": _rounded(relation.ligament_mm),
        "required_mm": _rounded(relation.required_mm),
        "tolerance_mm": _rounded(relation.tolerance_mm),
        "verdict": relation.verdict.value,
    }


def reuse_data(report: EngineReport) -> list[dict[str, object]]:
    """Return which old holes could serve, as data in mm; old holes by their place in the job."""
    return [
        {
            "upper_holes_below_top_mm": _rounded(choice.upper_below_top_mm),
            "moved_aside_mm": _rounded(choice.shift_mm),
            "row": choice.row,
            "bracket_setting_mm": _rounded(choice.setting_mm),
            "reused": list(choice.reused),
            "broken_into": choice.broken,
            "too_near": choice.too_near,
            "plate_height_mm": _rounded(choice.plate_mm),
            "off_target_mm": _rounded(choice.off_target_mm),
            "verdict": choice.verdict.value,
            "reason": choice.reason,
        }
        for choice in report.reuse
    ]


def bolts_data(report: EngineReport) -> dict[str, object] | None:
    """Return the stack a bolt clamps, its grip and the length to buy; None while not known."""
    case = report.case
    if missing(case, "bolting.bolt", *stack_needs(case)):
        return None
    layers = layers_of(case)
    grip, bought = grip_of(layers), bolt_to_buy(case)
    bolt = case.catalogue.bolt(case.job.bolting.bolt)
    return {
        "bolt": bolt.name,
        "layers": [
            {"name": layer.name, "thickness_mm": _rounded(layer.thickness.value)}
            for layer in layers
        ],
        "grip_mm": _rounded(grip.value),
        "tolerance_mm": _rounded(grip.tolerance),
        "length_to_buy_mm": _rounded(bought),
        "length_to_buy": bolt.length_words(bought) if bought is not None else "",
        "torque_nm": _rounded(case.job.bolting.torque.value) if case.job.bolting.torque else None,
    }


def load_data(report: EngineReport) -> dict[str, object]:
    """Return what is aboard before and after, and every limit, as data in kg and mm."""
    case = report.case
    before, after = masses_before(case), masses_after(case)
    more = growth(case)
    items = (*after.items, *(item for item in before.items if item not in after.items))
    return {
        "masses": [
            {
                "name": item.name,
                "kind": item.kind,
                "mass_kg": _rounded(item.mass.value),
                "origin": item.mass.origin.value,
                "ahead_mm": _rounded(item.ahead.value if item.ahead else None),
                "above_keel_mm": _rounded(item.above.value if item.above else None),
                "across_mm": _rounded(item.across.value),
                "before": item in before.items,
                "after": item in after.items,
            }
            for item in items
        ]
        if is_begun(case)
        else [],
        "missing": list(dict.fromkeys((*before.missing, *after.missing))) if is_begun(case) else [],
        "limits": [
            {
                "name": limit.name,
                "value": _rounded(limit.value),
                "tolerance": _rounded(limit.tolerance),
                "limit": _rounded(limit.limit),
                "unit": BASE_UNIT[limit.kind],
                "verdict": limit.verdict.value,
                "source": cite(limit.source),
            }
            for limit in load_limits(case, after)
        ],
        "engine_heavier_kg": _rounded(more.value if more else None),
    }


def afloat_data(report: EngineReport) -> dict[str, object] | None:
    """Return how she floats before and after, as data in mm, kg and degrees.

    None while nothing is entered; ``trouble`` says what stands in the way, "" for nothing.
    """
    found = summary_of(report.case)
    if found is None:
        return None
    if isinstance(found, Trouble):
        style = shown(report.case.job.units)
        return {"trouble": f"{say(found.sentence, style)} {say(found.settle, style)}"}
    flotation, first = found.flotation, found.first_wet
    return {
        "trouble": "",
        "read_afloat": flotation.is_anchored,
        "displaces_kg": _rounded(flotation.after.load.mass_kg),
        "heavier_kg": _rounded(flotation.heavier_kg),
        "stern_deeper_mm": _estimate_data(flotation.stern_mm),
        "bow_deeper_mm": _estimate_data(flotation.bow_mm),
        "trim_by_stern_deg": _estimate_data(flotation.trim_change_deg),
        "list_to_starboard_deg": _estimate_data(flotation.list_deg),
        "marks": [_mark_data(item) for item in found.marks],
        "first_wet": first.mark.name if first else None,
        "wanted_rise_mm": _rounded(found.wanted_mm),
        "moves": [
            {
                "name": move.name,
                "mass_kg": _rounded(move.mass_kg),
                "forward_mm": _rounded(move.by_mm),
                "transom_up_mm": _rounded(move.gain_mm),
                "enough": move.is_enough,
            }
            for move in found.moves
        ],
        "enough_moved_1000_mm_forward_kg": _rounded(found.any_kg),
        "undone_by_1000_mm_forward_kg": _rounded(found.undo_kg),
        "float_test": _float_test_data(found.test),
        "pod": None
        if found.pod is None
        else {
            "lifts_kg": _rounded(found.pod.buoyancy_kg),
            "lifts_at_most_kg": _rounded(found.pod.most_kg),
            "carries_kg": _rounded(found.pod.carried_kg),
            "lifts_stern_kgm": _rounded(found.pod.moment_kgm),
        },
        "not_counted": list(flotation.uncounted),
        "doubts": [say(doubt, shown(report.case.job.units)) for doubt in found.doubts],
    }


def _float_test_data(test: FloatTest) -> dict[str, object]:
    names = [name for name, *_ in test.rows]
    return {
        "mass_kg": _rounded(test.test_kg),
        "ahead_mm": _rounded(test.ahead_mm),
        "above_keel_mm": _rounded(test.above_mm),
        "to_starboard_mm": _rounded(test.across_mm),
        "like_the_whole_change": test.is_whole,
        "steps": [
            {
                "mass_kg": _rounded(step.kg),
                "heights": [
                    {"name": name, "expected_mm": _rounded(at), "tolerance_mm": _rounded(spread)}
                    for name, (at, spread) in zip(names, step.heights, strict=True)
                ],
            }
            for step in test.steps
        ],
    }


def _estimate_data(found: Estimate | None) -> dict[str, object] | None:
    if found is None:
        return None
    return {"value": _rounded(found.value), "tolerance": _rounded(found.tolerance)}


def _mark_data(item: MarkSummary) -> dict[str, object]:
    return {
        "name": item.mark.name,
        "kind": item.mark.kind,
        "before_mm": _rounded(item.mark.before),
        "after_mm": _rounded(item.mark.after.value),
        "tolerance_mm": _rounded(item.mark.after.tolerance),
        "wanted_mm": _rounded(item.wanted_mm),
        "wet_under_kg": _rounded(item.wet_kg),
        "one_person_aft_mm": _rounded(item.aft_mm),
        "verdict": item.verdict.value,
    }


def underway_data(report: EngineReport) -> dict[str, object] | None:
    """Return how she should run, as data in mm, degrees, kn, N and kW; None while nothing is
    entered; ``trouble`` says what is lacking or why no planing trim comes out, "" for nothing.
    """
    found = underway_of(report.case)
    if found is None:
        return None
    if isinstance(found, Lacking):
        return {"trouble": f"not without {', '.join(found.words)}", "lacking": list(found.fields)}
    state = found.state
    planes = isinstance(state, Planing)
    return {
        "trouble": "" if isinstance(state, Planing) else state.reason,
        "speed_kn": _rounded(found.speed_kn),
        "speed_is_estimated_top": found.is_top,
        "trim_deg": _estimate_data(found.trim),
        "below_porpoising_deg": _estimate_data(found.margin),
        "state": _planing_data(state) if isinstance(state, Planing) else None,
        "outside_range": list(state.doubts) if isinstance(state, Planing) else [],
        "beyond_porpoising_chart": state.porpoising.beyond if isinstance(state, Planing) else "",
        "top_speed_kn": _estimate_data(found.top),
        "top_speed_trouble": found.top_trouble,
        "crouch_kn": _estimate_data(found.crouch),
        "engine_rpm": _estimate_data(found.rpm),
        "band_rpm": [found.band.low, found.band.high],
        "band_is_of_the_class": found.band_is_class,
        "plates": [_plate_water_data(item) for item in found.plates] if planes else [],
        "reckoned_from": {
            key: {
                "value": _rounded(item.reading.value),
                "tolerance": _rounded(item.reading.tolerance),
                "from": item.words,
                "measured": item.reading.origin.is_firm,
            }
            for key, item in found.given.items()
        },
    }


def _planing_data(state: Planing) -> dict[str, object]:
    return {
        "cv": _rounded(state.cv),
        "mean_wetted_beams": _rounded(state.wetted),
        "wetted_keel_mm": _rounded(state.keel_mm),
        "wetted_chine_mm": _rounded(state.chine_mm),
        "transom_draught_mm": _rounded(state.draught_mm),
        "resistance_n": _rounded(state.resistance_n),
        "effective_power_kw": _rounded(state.power_kw),
        "porpoising_limit_deg": _rounded(state.porpoising.trim_deg),
    }


def _plate_water_data(item: PlateAt) -> dict[str, object]:
    return {
        "row": item.option.row,
        "setting_mm": _rounded(item.option.setting_mm),
        "plate_mm": _rounded(item.place.plate_mm),
        "water_mm": _rounded(item.water.surface_mm),
        "plate_above_water_mm": _rounded(item.water.clear_mm),
        "propeller_tip_under_mm": _rounded(item.water.tip_mm),
        "trade_rule_mm": _rounded(item.water.rule_mm),
        "extrapolated": list(item.water.doubts),
    }


def _rounded(value: float | None) -> float | None:
    """Round to a micrometre, so that data compare alike on every machine; no minus zero."""
    if value is None or value in (float("inf"), float("-inf")):
        return None
    return round(value, 3) + 0.0


def swing_data(report: EngineReport) -> dict[str, object] | None:
    """Return the swing at every height as data, mm and degrees; None while nothing is entered."""
    found = swing_summary(report.case, report.options)
    if found is None:
        return None
    kick, trim, gear, twins = found.kick_up, found.trim, found.gear, found.twins
    trailer = found.trailer
    return {
        "engine_size_from": found.envelope.basis.value,
        "troubles": list(found.troubles),
        "row": found.now.option.row if found.now else None,
        "heights": [_height_swing_data(item) for item in found.heights],
        "reaches_ahead_mm": _rounded(kick.ahead_mm if kick else None),
        "trim_in_deg": _rounded(trim.trim_in_deg if trim else None),
        "trim_out_deg": _rounded(trim.trim_out_deg if trim else None),
        "wedge_deg": _rounded(trim.wedge_deg if trim else None),
        "steering_turns_deg": _rounded(gear.angle_deg if gear else None),
        "steering_clear_mm": _rounded(gear.clear_mm if gear else None),
        "withdrawal_clear_mm": _rounded(gear.withdrawal_clear_mm if gear else None),
        "hose_clear_mm": _rounded(gear.hose_clear_mm if gear else None),
        "trailer_ground_mm": _rounded(trailer.tilted.ground_mm if trailer else None),
        "trailer_departure_deg": _rounded(trailer.tilted.departure_deg if trailer else None),
        "trailer_down_ground_mm": _rounded(trailer.down.ground_mm if trailer else None),
        "twins_tied_mm": _rounded(twins.tied_mm if twins else None),
        "twins_free_mm": _rounded(twins.free_mm if twins else None),
    }


def setbacks_data(report: EngineReport) -> list[dict[str, object]]:
    """Return the swing at the height looked at for usual setbacks, as data in mm and degrees."""
    return [
        {"setback_mm": _rounded(setback), **_height_swing_data(item)}
        for setback, item in setback_swings(report.case)
    ]


def _height_swing_data(item: HeightSwing) -> dict[str, object]:
    tilt, steer, place = item.tilt, item.steer, item.place
    return {
        "row": item.option.row,
        "bracket_setting_mm": _rounded(item.option.setting_mm),
        "tilt_clear_mm": _rounded(tilt.clear_mm if tilt else None),
        "tilt_tolerance_mm": _rounded(tilt.tolerance_mm if tilt else None),
        "tilt_change_mm": _rounded(item.change_mm if tilt else None),
        "tilt_at_deg": _rounded(tilt.touch.angle_deg if tilt else None),
        "tilt_touches": tilt.touches if tilt else None,
        "tilt_nearest": tilt.solid.name if tilt else None,
        "steer_clear_mm": _rounded(steer.touch.gap_mm if steer else None),
        "steer_at_deg": _rounded(steer.touch.angle_deg if steer else None),
        "steer_nearest": steer.solid.name if steer else None,
        "both_clear_mm": _rounded(place.clear_mm if place else None),
        "both_tolerance_mm": _rounded(item.place_tolerance_mm if place else None),
        "both_tilt_deg": _rounded(place.tilt_deg if place else None),
        "both_steer_deg": _rounded(place.steer_deg if place else None),
        "both_part": place.part if place else None,
        "both_nearest": place.solid.name if place else None,
        "verdict": item.verdict.value,
    }
