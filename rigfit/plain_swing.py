"""The swing as plain text in 80 columns: every height, a row up and down, trim, gear, trailer."""

from __future__ import annotations

import textwrap

from rigfit.plain_tables import WIDTH, Paint, narrow, no_paint, painted, verdict_cell
from rigfit.rigging.envelope import Basis
from rigfit.rigging.report import EngineReport
from rigfit.rigging.steer import SteeringGear, TwinsGap
from rigfit.rigging.swing_summary import (
    AGAIN,
    HeightSwing,
    SwingSummary,
    setback_swings,
    swing_summary,
)
from rigfit.rigging.tilt_steer import WorstPlace
from rigfit.rigging.trim_and_trailer import TrailerClearance, TrimReserve
from rigfit.units import Kind, Shown, brief, compact, show
from rigfit.wording import number, shown

_BASIS = {
    Basis.CLASS: "Engine sizes typical of the class, not measured: no clearance can read fits.",
    Basis.SIZED: "Only sizes of the hood are measured, so it counts as a full box: safe side.",
    Basis.OUTLINE: "The engine from its drawn outline.",
}


def swing_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return the swing at every height and what goes with it; nothing while nothing is entered."""
    found = swing_summary(report.case, report.options)
    if found is None:
        return []
    style = shown(report.case.job.units)
    lines = [*_table(found, style, paint)]
    parts = [*found.troubles]
    if found.now is not None:
        parts += [_BASIS[found.envelope.basis], _now_words(found.now, style)]
        parts += [_beside_words(found, rows, style) for rows in (1, -1)]
    if found.kick_up is not None and found.kick_up.ahead_mm > 0.0:
        ahead = number(found.kick_up.ahead_mm, Kind.LENGTH, style)
        parts.append(f"Kicking up the engine reaches {ahead} ahead of the transom.")
    parts += [] if found.trim is None else [_trim_words(found.trim)]
    parts += [] if found.gear is None else [_gear_words(found.gear, style)]
    parts += [] if found.trailer is None else [_trailer_words(found.trailer, style)]
    parts += [] if found.twins is None else [_twins_words(found.twins, style)]
    parts += [AGAIN] if found.heights else []
    for part in parts:
        lines += textwrap.wrap(part, WIDTH) if part else []
    return lines if found.heights else ["Swing", *lines]


def _table(found: SwingSummary, style: Shown, paint: Paint) -> list[str]:
    """Return every height, the one looked at marked with >."""
    if not found.heights:
        return []
    settings = any(item.option.setting_mm for item in found.heights)
    rows = []
    for item in found.heights:
        row = [">" if item is found.now else " "]
        row.append(str(item.option.row) if item.option.row else "clamp")
        row += [_short(item.option.setting_mm, style)] if settings else []
        row += [*_tilt_cells(item, style), *_turned_cells(item, style), verdict_cell(item.verdict)]
        rows.append(row)
    headings = ["", "row", *(["setting"] if settings else []), "tilting", "at", "nearest"]
    headings += ["lock to lock", "both", "verdict"]
    right = "lr" + ("r" if settings else "") + "rrlrrl"
    lines = narrow(headings, rows, right, headings.index("nearest"))
    said = (
        f"Swing, {style.lengths}: least clearance, less than 0 where it touches. Tilting straight "
        "ahead, turning lock to lock with the plate level, and both over the whole range."
    )
    return [
        *textwrap.wrap(said, WIDTH),
        *painted(lines, [item.verdict for item in found.heights], paint),
    ]


def setback_lines(report: EngineReport, paint: Paint = no_paint) -> list[str]:
    """Return the swing at the height looked at for usual setbacks, the own one marked with >."""
    found = setback_swings(report.case)
    if not found:
        return []
    style = shown(report.case.job.units)
    own = round(report.case.setback.value, 1)
    rows = [
        [
            ">" if setback == own else " ",
            _short(setback, style),
            *_tilt_cells(item, style),
            *_turned_cells(item, style),
            verdict_cell(item.verdict),
        ]
        for setback, item in found
    ]
    headings = ("", "setback", "tilting", "at", "nearest", "lock to lock", "both", "verdict")
    lines = narrow(headings, rows, "lrrrlrrl", 4)
    return [
        "The same further aft, hung as high as now:",
        *painted(lines, [item.verdict for _, item in found], paint),
    ]


def _tilt_cells(item: HeightSwing, style: Shown) -> list[str]:
    gap = item.tilt
    if gap is None:
        return ["-", "-", "-"]
    at = show(round(gap.touch.angle_deg, 1) + 0.0, Kind.ANGLE, signed=True)
    return [_short(gap.clear_mm, style), at, gap.solid.name]


def _turned_cells(item: HeightSwing, style: Shown) -> list[str]:
    steer, place = item.steer, item.place
    turned = "-" if steer is None else "touch"
    if steer is not None and steer.touch.gap_mm > 0.0:
        turned = _short(steer.touch.gap_mm, style)
    return [turned, "-" if place is None else _short(place.clear_mm, style)]


def _short(value: float, style: Shown) -> str:
    """Return a length for a narrow cell, inches without the millimetres beside them."""
    return brief(compact(value, style))


# ------------------------------------------------------------------------------- sentences


def _now_words(now: HeightSwing, style: Shown) -> str:
    words = []
    if now.tilt is not None and now.tilt.touches:
        at = _angle(now.tilt.touch.angle_deg)
        words.append(f"First contact tilting at {at}, with {now.tilt.solid.name}.")
    elif now.tilt is not None:
        words.append("No contact over the whole tilt.")
    if now.place is not None:
        words.append(f"Worst place of both together: {place_words(now.place, style)}.")
    return " ".join(words)


def place_words(place: WorstPlace, style: Shown) -> str:
    """Return the worst place as part of a sentence: what, how near, at which tilt and turn."""
    gap = number(abs(place.clear_mm), Kind.LENGTH, style)
    pair = f"{place.part} to {place.solid.name}, {gap} clear"
    if place.clear_mm <= 0.0:
        pair = f"{place.part} about {gap} into {place.solid.name}"
    side = "starboard" if place.steer_deg > 0.0 else "port"
    turned = f"propeller {show(round(abs(place.steer_deg), 1), Kind.ANGLE)} to {side}"
    if abs(place.steer_deg) < 0.05:
        turned = "straight ahead"
    return f"{pair}, plate at {_angle(place.tilt_deg)}, {turned}"


def _beside_words(found: SwingSummary, rows: int, style: Shown) -> str:
    other, now = found.beside(rows), found.now
    if other is None or now is None:
        return ""
    which = "One row up" if rows > 0 else "One row down"
    if other.tilt is None or now.tilt is None:
        return f"{which}: {other.verdict.value}."
    change = number(abs(other.change_mm), Kind.LENGTH, style)
    how = "more" if other.change_mm > 0.0 else "less"
    said = f"{which}: tilting {change} {how}" if abs(other.change_mm) >= 0.05 else (
        f"{which}: tilting the same"
    )  # fmt: skip
    if other.tilt.solid.name != now.tilt.solid.name:
        said += f", nearest then {other.tilt.solid.name}"
    if other.place is not None and now.place is not None:
        both = compact(other.place.clear_mm, style)
        said += f"; both together {both} instead of {compact(now.place.clear_mm, style)}"
    return f"{said}; {other.verdict.value}."


def _trim_words(trim: TrimReserve) -> str:
    said = f"Trim on this rake: plate from {_angle(trim.trim_in_deg)} fully in"
    said += f" to {_angle(trim.trim_out_deg)} at the end of running trim; "
    if trim.wedge_deg is None:
        return f"{said}no usual wedge brings it into reserve."
    if trim.wedge_deg == 0.0:
        return f"{said}no wedge needed."
    end = "up" if trim.wedge_deg > 0.0 else "down"
    return f"{said}wedge of {show(abs(trim.wedge_deg), Kind.ANGLE)}, thick end {end}."


def _gear_words(gear: SteeringGear, style: Shown) -> str:
    said = []
    if gear.angle_deg is not None and gear.off_line_mm is not None:
        off = number(gear.off_line_mm, Kind.LENGTH, style)
        said.append(
            f"its travel turns the engine by {show(round(gear.angle_deg, 1), Kind.ANGLE)} each "
            f"way, the arm's end leaving the rod's line by {off}"
        )
    if gear.is_over_wall:
        said.append("the rod passes above the side of the well")
    elif gear.reach_mm is not None:
        reach = number(gear.reach_mm, Kind.LENGTH, style)
        said.append(f"at full travel it reaches {reach} from the engine's middle")
    rooms = (
        ("left beside it", gear.clear_mm), ("left when the rod is drawn out",
                                            gear.withdrawal_clear_mm),
        ("ahead of the hoses", gear.hose_clear_mm),
    )  # fmt: skip
    for name, room in rooms[2:] if gear.is_over_wall else rooms:
        if room is not None:
            said.append(f"{number(room, Kind.LENGTH, style)} {name}")
    return f"Steering gear: {'; '.join(said) or 'not enough is measured'}."


def _trailer_words(trailer: TrailerClearance, style: Shown) -> str:
    words = []
    for name, point in (("fully up", trailer.tilted), ("plate level", trailer.down)):
        ground = number(point.ground_mm, Kind.LENGTH, style)
        slope = show(round(point.departure_deg, 1) + 0.0, Kind.ANGLE)
        words.append(f"{name} {ground} above the ground and a slope of {slope} behind the wheels")
    return f"On the trailer: {'; '.join(words)}. Carry the engine on a support, tilted."


def _twins_words(twins: TwinsGap, style: Shown) -> str:
    spacing = number(twins.spacing_mm, Kind.LENGTH, style)
    tied = number(twins.tied_mm, Kind.LENGTH, style)
    free = number(twins.free_mm, Kind.LENGTH, style)
    bar = "reaches" if twins.tie_bar_reaches else "does not reach"
    toe = f", each toed by {show(twins.toe_deg, Kind.ANGLE)}" if twins.toe_deg else ""
    return (
        f"Twins {spacing} apart{toe}: {tied} between the hoods at full lock when tied, {free} with "
        f"the tie bar off and turned towards each other; a usual adjustable tie bar {bar}."
    )


def _angle(value_deg: float) -> str:
    return show(round(value_deg, 1) + 0.0, Kind.ANGLE, signed=True)
