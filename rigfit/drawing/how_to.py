"""How-to pictures: one small drawing for every reading of a job, which shows how it is taken.

Each is a scene without a sheet, ``FRAME_MM`` large at scale 1, its lower left corner at (0, 0). The
reading is in accent ink, ways not to take it are crossed out, everything else is quiet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType

from rigfit.drawing import how_to_afloat as afloat
from rigfit.drawing import how_to_astern as astern
from rigfit.drawing import how_to_bolts as bolts
from rigfit.drawing import how_to_engine as engine
from rigfit.drawing import how_to_face as face
from rigfit.drawing import how_to_load as load
from rigfit.drawing import how_to_runs as runs
from rigfit.drawing import how_to_side as side
from rigfit.drawing import how_to_steering as steering
from rigfit.drawing import how_to_swing as swing
from rigfit.drawing import how_to_trial as trial
from rigfit.drawing import how_to_underway as underway
from rigfit.drawing import how_to_well as well
from rigfit.drawing.how_to_parts import FRAME_MM, Items, frame
from rigfit.drawing.scene import Scene

__all__ = ["FRAME_MM", "PICTURES", "how_to_scene"]

PICTURES: Mapping[tuple[str, str], Callable[[], Items]] = MappingProxyType(
    {
        ("boat", "length"): engine.boat_length,
        ("boat", "deadrise"): astern.deadrise,
        ("transom", "height_along_face"): side.height_along_face,
        ("transom", "height_square"): side.height_square,
        ("transom", "rake"): side.rake,
        ("transom", "thickness"): side.thickness,
        ("transom", "lowest_bolt"): side.lowest_bolt,
        ("transom", "width_at_top"): astern.width_at_top,
        ("keel_line", "gap_0"): partial(side.keel_gap, 0.0),
        ("keel_line", "gap_150"): partial(side.keel_gap, 150.0),
        ("keel_line", "gap_300"): partial(side.keel_gap, 300.0),
        ("keel_line", "gap_600"): partial(side.keel_gap, 600.0),
        ("keel_line", "gap_900"): partial(side.keel_gap, 900.0),
        ("bracket", "setback"): engine.setback,
        ("bracket", "height"): engine.bracket_height,
        ("bracket", "engine_holes"): astern.bracket_engine_holes,
        ("target", "low"): partial(engine.target_end, upper=False),
        ("target", "high"): partial(engine.target_end, upper=True),
        ("target", "offset"): engine.target_offset,
        ("target", "setback_rise"): engine.setback_rise,
        ("mounting", "upper_holes_below_top"): astern.upper_holes_below_top,
        ("mounting", "bracket_setting"): engine.bracket_setting,
        ("mounting", "off_centre"): astern.off_centre,
        ("hole", "across"): astern.hole_across,
        ("hole", "below_top"): astern.hole_below_top,
        ("hole", "diameter"): astern.hole_diameter,
        ("engine", "mass"): engine.mass,
        ("engine", "leg_stated"): engine.leg_stated,
        ("engine", "leg_measured"): engine.leg_measured,
        ("engine", "max_lift"): engine.max_lift,
        ("engine", "first_row"): astern.first_row,
        ("engine", "row_pitch"): astern.row_pitch,
        ("engine", "upper_spacing"): partial(astern.spacing, upper=True),
        ("engine", "lower_spacing"): partial(astern.spacing, upper=False),
        ("engine", "upper_to_lower"): astern.upper_to_lower,
        ("engine", "cowl_length"): swing.cowl_length,
        ("engine", "cowl_breadth"): swing.cowl_breadth,
        ("engine", "cowl_top_above_seat"): swing.cowl_top_above_seat,
        ("engine", "cowl_front_ahead_of_seat"): swing.cowl_front_ahead_of_seat,
        ("engine", "skeg_below_plate"): swing.skeg_below_plate,
        ("engine", "lock_angle"): steering.lock_angle,
        ("engine", "full_tilt"): swing.full_tilt,
        ("engine", "trim_in"): swing.trim_in,
        ("engine", "tilt_axis_out"): swing.tilt_axis_out,
        ("engine", "tilt_axis_up"): swing.tilt_axis_up,
        ("well", "length"): well.well_length,
        ("well", "width"): well.well_width,
        ("well", "floor_below_top"): well.well_floor_below_top,
        ("well", "front_top"): well.well_front_top,
        ("well", "corner_radius"): well.well_corner_radius,
        ("obstacle", "ahead_from"): partial(well.obstacle_ahead, near=True),
        ("obstacle", "ahead_to"): partial(well.obstacle_ahead, near=False),
        ("obstacle", "above_from"): partial(well.obstacle_above, lower=True),
        ("obstacle", "above_to"): partial(well.obstacle_above, lower=False),
        ("obstacle", "across_from"): partial(well.obstacle_across, port=True),
        ("obstacle", "across_to"): partial(well.obstacle_across, port=False),
        ("steering", "half_travel"): steering.half_travel,
        ("steering", "arm_radius"): steering.arm_radius,
        ("steering", "tube_end"): steering.tube_end,
        ("steering", "beyond_tube"): steering.beyond_tube,
        ("steering", "withdrawal"): steering.withdrawal,
        ("steering", "hose_radius"): steering.hose_radius,
        ("trailer", "heel_above_ground"): well.heel_above_ground,
        ("trailer", "axle_to_transom"): well.axle_to_transom,
        ("trailer", "departure_wanted"): well.departure_wanted,
        ("face", "chine_width"): face.chine_width,
        ("face", "chine_below_top"): face.chine_below_top,
        ("face", "notch_width"): face.notch_width,
        ("face", "notch_depth"): face.notch_depth,
        ("face", "point_a_across"): partial(face.point_across, first=True),
        ("face", "point_a_below"): partial(face.point_below, first=True),
        ("face", "point_b_across"): partial(face.point_across, first=False),
        ("face", "point_b_below"): partial(face.point_below, first=False),
        ("neighbour", "twin_spacing"): face.twin_spacing,
        ("neighbour", "twin_toe"): steering.twin_toe,
        ("neighbour", "kicker_across"): face.kicker_across,
        ("neighbour", "kicker_upper_holes"): face.kicker_upper_holes,
        ("bolting", "length"): bolts.length,
        ("bolting", "flange"): bolts.flange,
        ("bolting", "plate_thickness"): bolts.plate_thickness,
        ("bolting", "plate_width"): partial(bolts.plate_size, across=True),
        ("bolting", "plate_height"): partial(bolts.plate_size, across=False),
        ("printer", "bar_across"): partial(bolts.printer_bar, across=True),
        ("printer", "bar_along"): partial(bolts.printer_bar, across=False),
        ("opening", "across"): face.opening_across,
        ("opening", "below_top"): face.opening_below_top,
        ("opening", "width"): partial(face.opening_size, across=True),
        ("opening", "height"): partial(face.opening_size, across=False),
        ("no_go", "across_from"): partial(face.no_go_across, start=True),
        ("no_go", "across_to"): partial(face.no_go_across, start=False),
        ("no_go", "below_from"): partial(face.no_go_below, start=True),
        ("no_go", "below_to"): partial(face.no_go_below, start=False),
        ("no_go", "corner_radius"): face.corner_radius,
        ("dash", "across"): partial(bolts.dash_place, across=True),
        ("dash", "down"): partial(bolts.dash_place, across=False),
        ("dash", "old_width"): partial(bolts.old_opening, across=True),
        ("dash", "old_height"): partial(bolts.old_opening, across=False),
        ("dash", "new_width"): partial(bolts.new_opening, across=True),
        ("dash", "new_height"): partial(bolts.new_opening, across=False),
        ("dash", "bezel_width"): partial(bolts.rim, across=True),
        ("dash", "bezel_height"): partial(bolts.rim, across=False),
        ("wire", "length"): runs.wire_length,
        ("cable", "leg_a"): runs.leg_a,
        ("cable", "leg_b"): runs.leg_b,
        ("cable", "leg_c"): runs.leg_c,
        ("plate", "max_load"): partial(load.plate, persons=False),
        ("plate", "max_persons_mass"): partial(load.plate, persons=True),
        ("rules", "transom_width"): load.transom_width,
        ("rules", "beam"): load.beam,
        ("rules", "aft_quarter_beam"): load.aft_quarter_beam,
        ("rules", "transom_height"): load.transom_height,
        ("rules", "motorwell_height"): load.motorwell_height,
        ("rules", "boat_weight"): load.boat_weight,
        ("rules", "max_displacement"): load.max_displacement,
        ("rules", "list_test"): load.list_test,
        ("old_engine", "mass"): load.old_engine_mass,
        ("old_engine", "ahead_of_transom"): load.old_engine_ahead,
        ("old_engine", "above_keel"): load.old_engine_up,
        ("mass", "mass"): load.load_mass,
        ("mass", "ahead_of_transom"): load.load_ahead,
        ("mass", "above_keel"): load.load_up,
        ("mass", "across"): load.load_across,
        ("hull", "chine_beam"): afloat.chine_beam,
        ("hull", "sheer_beam"): load.sheer_beam,
        ("hull", "chine_height_aft"): afloat.chine_height_aft,
        ("hull", "deadrise_amidships"): afloat.deadrise_amidships,
        ("hull", "depth_aft"): partial(afloat.depth, "aft"),
        ("hull", "depth_amidships"): partial(afloat.depth, "amidships"),
        ("hull", "depth_bow"): partial(afloat.depth, "bow"),
        ("hull", "mass"): load.hull_mass,
        ("hull", "centre_ahead"): afloat.centre_ahead,
        ("hull", "centre_height"): afloat.centre_height,
        ("hull", "pod_aft"): partial(afloat.pod, "aft"),
        ("hull", "pod_bottom"): partial(afloat.pod, "bottom"),
        ("hull", "pod_height"): partial(afloat.pod, "height"),
        ("afloat", "transom_top"): partial(afloat.above_water, "transom_top"),
        ("afloat", "scupper"): partial(afloat.above_water, "scupper"),
        ("afloat", "well_sill"): partial(afloat.above_water, "well_sill"),
        ("afloat", "amidships"): partial(afloat.freeboard, bow=False),
        ("afloat", "bow"): partial(afloat.freeboard, bow=True),
        ("afloat", "engine_mass"): load.afloat_engine_mass,
        ("mark", "height"): partial(afloat.mark, "height"),
        ("mark", "below_top"): partial(afloat.mark, "below_top"),
        ("mark", "above_water"): partial(afloat.mark, "above_water"),
        ("mark", "ahead"): afloat.mark_ahead,
        ("mark", "across"): partial(afloat.mark, "across"),
        ("station", "ahead"): partial(afloat.station_ahead, table=False),
        ("station", "keel_height"): afloat.station_keel,
        ("station", "chine_half"): partial(afloat.half_breadth, chine=True),
        ("station", "chine_height"): partial(afloat.section_height, chine=True),
        ("station", "sheer_half"): partial(afloat.half_breadth, chine=False),
        ("station", "sheer_height"): partial(afloat.section_height, chine=False),
        ("offset", "ahead"): partial(afloat.station_ahead, table=True),
        ("offset", "height"): partial(afloat.offset_entry, height=True),
        ("offset", "half_breadth"): partial(afloat.offset_entry, height=False),
        ("underway", "mass"): underway.mass,
        ("underway", "centre_ahead"): underway.centre_ahead,
        ("underway", "centre_height"): underway.centre_height,
        ("underway", "plate_angle"): underway.plate_angle,
        ("propeller", "pitch"): underway.pitch,
        ("propeller", "diameter"): underway.diameter,
        ("trial", "plate_height"): trial.plate_height,
        ("trial", "pitch"): trial.pitch,
        ("trial", "diameter"): trial.diameter,
        ("trial", "mass_aboard"): trial.trial_mass,
        ("run", "mass_aboard"): trial.run_mass,
    }
)
"""What draws the picture of a field, by table and field as they are called in a job file."""


def how_to_scene(table: str, field: str) -> Scene | None:
    """Return the picture of how a field's reading is taken, or None where there is none.

    :param table: key of the table in a job file: "transom", "hole", "engine" ...
    :param field: name of the field in it.
    """
    draw = PICTURES.get((table, field))
    if draw is None:
        return None
    title = f"How to measure: {table}, {field.replace('_', ' ')}"
    return Scene(title, (frame(), *draw()))
