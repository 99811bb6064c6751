"""The shipped profiles make sense, and a broken one is named by file, profile and key."""

import dataclasses
import itertools
import shutil

import pytest

from rigfit.errors import ProfileError
from rigfit.records import profiles
from rigfit.records.profiles import (
    DRILLED_DEMO,
    demo_job_text,
    load_catalogue,
    profiles_folder,
    read_catalogue,
)
from rigfit.rigging.bracket import Arms
from rigfit.rigging.job import Candidate
from rigfit.rigging.outboard import LEG_CLASSES
from rigfit.rigging.readings import specs
from rigfit.sources import SOURCES

CATALOGUE = load_catalogue()
ENGINES = list(CATALOGUE.engine_classes.values())
PATTERNS = list(CATALOGUE.hole_patterns.values())
HULLS = list(CATALOGUE.hull_kinds.values())
BRACKETS = list(CATALOGUE.brackets.values())
EVERY = [*ENGINES, *PATTERNS, *HULLS, *BRACKETS]


def named(items):
    return pytest.mark.parametrize("item", items, ids=[item.id for item in items])


@named(EVERY)
def test_names_sources_and_notes_are_there(item):
    assert item.name
    assert item.source in SOURCES
    assert item.name.isprintable()
    assert "\n" not in item.note


def test_ids_are_the_keys_of_their_family():
    for family in dataclasses.fields(CATALOGUE):
        for key, item in getattr(CATALOGUE, family.name).items():
            assert item.id == key


# --- engine classes -------------------------------------------------------------------------------


@named(ENGINES)
def test_legs_are_nominal_and_ascending(item):
    nominal = [leg.nominal_mm for leg in LEG_CLASSES]
    assert item.legs_mm
    assert all(leg in nominal for leg in item.legs_mm)
    assert list(item.legs_mm) == sorted(set(item.legs_mm))


@named(ENGINES)
def test_pairs_are_in_order(item):
    assert 0 < item.power_low_kw < item.power_high_kw
    assert 0 < item.mass_low_kg < item.mass_high_kg
    assert 3000 < item.wot_low_rpm < item.wot_high_rpm < 7000
    assert item.trim_in_deg < 0 < item.trim_out_deg < item.tilt_deg < 90


@named(ENGINES)
def test_angles_gears_and_axis_are_of_a_possible_size(item):
    assert 25 <= item.steering_lock_deg <= 45
    assert 10 <= item.leg_rake_deg <= 16
    assert 1.5 <= item.gear_ratio <= 2.5
    assert -60 <= item.axis_out_mm <= 20
    assert 0 < item.axis_up_mm <= 100
    assert item.axis_tolerance_mm >= 20


@named(ENGINES)
def test_pattern_exists(item):
    assert item.pattern in CATALOGUE.hole_patterns


@named(ENGINES)
def test_silhouettes_hang_together(item):
    sizes = item.sizes
    assert all(value > 0 for value in dataclasses.astuple(sizes))
    # The propeller turns clear below the plate and above the tip of the skeg.
    assert sizes.propeller_diameter / 2 < sizes.shaft_below_plate
    assert sizes.shaft_below_plate + sizes.propeller_diameter / 2 < sizes.skeg_below_plate
    assert sizes.gearcase_diameter < sizes.propeller_diameter / 2
    # The leg stands on the plate, and the gearcase reaches from ahead of the leg to the propeller.
    fore, aft = (sizes.leg_aft + sign * sizes.leg_breadth / 2 for sign in (-1, 1))
    assert sizes.plate_aft - sizes.plate_length < fore < aft < sizes.plate_aft
    assert sizes.propeller_aft - sizes.gearcase_length < fore
    assert aft < sizes.propeller_aft < sizes.plate_aft
    # The cowl covers the leg.
    assert sizes.cowl_length - sizes.cowl_forward > aft


def test_a_stronger_class_of_one_kind_is_not_smaller():
    four_strokes = [item for item in ENGINES if not item.id.startswith("two-stroke")]
    for weaker, stronger in itertools.pairwise(four_strokes):
        assert stronger.power_high_kw > weaker.power_high_kw
        assert stronger.mass_high_kg >= weaker.mass_high_kg
        assert stronger.sizes.cowl_length > weaker.sizes.cowl_length
        assert stronger.sizes.propeller_diameter > weaker.sizes.propeller_diameter


def test_an_older_two_stroke_is_lighter_than_the_four_stroke_of_its_power():
    older = CATALOGUE.engine_class("two-stroke-75-115")
    newer = CATALOGUE.engine_class("medium-75-115")
    assert older.power_high_kw == newer.power_high_kw
    assert older.mass_high_kg < newer.mass_high_kg


def test_powers_leave_no_gap_the_trade_sells_into():
    for hp in (4, 9.9, 15, 25, 30, 40, 50, 60, 80, 90, 100, 115, 150, 200, 225, 250, 300):
        kw = hp * 0.7457
        assert any(item.power_low_kw <= kw + 0.1 <= item.power_high_kw + 0.2 for item in ENGINES)


# --- hole patterns --------------------------------------------------------------------------------


@named([item for item in PATTERNS if item.is_bolted])
def test_rows_step_down_evenly_and_spacings_are_positive(item):
    steps = [b - a for a, b in itertools.pairwise(item.upper_rows_mm)]
    assert len(item.upper_rows_mm) >= 4
    assert max(steps) - min(steps) < 1e-9
    assert steps[0] > 0
    assert item.upper_spacing_mm > item.lower_spacing_mm > 0
    assert item.lower_below_upper_mm > item.upper_rows_mm[-1] - item.upper_rows_mm[0]
    assert item.hole_mm == 13.5
    assert item.bolt


@pytest.mark.parametrize(
    ("key", "upper_in", "lower_in"),
    [("trade-four-bolt", 12.875, 9.875), ("trade-wide", 13.0, 10.0), ("trade-narrow", 12.8, 9.8)],
)
def test_spacings_are_those_quoted_in_inches(key, upper_in, lower_in):
    pattern = CATALOGUE.hole_pattern(key)
    assert pattern.upper_spacing_mm == pytest.approx(upper_in * 25.4, abs=0.05)
    assert pattern.lower_spacing_mm == pytest.approx(lower_in * 25.4, abs=0.05)
    assert pattern.lower_below_upper_mm == pytest.approx(8 * 25.4)
    assert pattern.upper_rows_mm[0] == pytest.approx(2 * 25.4)


def test_row_pitches():
    rows = CATALOGUE.hole_pattern("metric-18").upper_rows_mm
    assert rows[1] - rows[0] == pytest.approx(18.0)
    rows = CATALOGUE.hole_pattern("trade-four-bolt-five-rows").upper_rows_mm
    assert rows[-1] - rows[0] == pytest.approx(3 * 25.4)


def test_what_was_not_found_is_not_invented():
    clamp = CATALOGUE.hole_pattern("clamp")
    assert not clamp.is_bolted
    assert (clamp.upper_spacing_mm, clamp.lower_spacing_mm, clamp.hole_mm) == (0.0, 0.0, 0.0)
    assert CATALOGUE.hole_pattern("medium-slotted").lower_slot_mm > 13.5


# --- hull kinds -----------------------------------------------------------------------------------


@named(HULLS)
def test_bands_are_ordered_or_wholly_left_open(item):
    band = (item.outer_low_mm, item.low_mm, item.high_mm, item.outer_high_mm)
    if item.low_mm is None:
        assert band == (None, None, None, None)
        assert item.source in ("plate-keel-short", "plate-step", "plate-catamaran")
        assert "Write a target into the job" in item.note
    else:
        assert item.outer_low_mm <= item.low_mm < item.high_mm <= item.outer_high_mm
        assert item.outer_source in SOURCES


@named(HULLS)
def test_every_kind_names_its_line_and_says_check_afloat(item):
    assert item.datum
    assert "check afloat" in item.note.casefold()


@pytest.mark.parametrize(
    ("key", "low", "high", "source"),
    [
        ("planing-vee", 0, 25, "plate-planing"),
        ("planing-modern", 20, 50, "plate-modern"),
        ("small-tender", -25, 0, "plate-portable"),
        ("small-rib", -25, 0, "plate-rib"),
        ("pontoon", -25, 0, "plate-pontoon"),
        ("stepped", None, None, "plate-step"),
    ],
)
def test_bands_are_those_of_their_source(key, low, high, source):
    hull = CATALOGUE.hull_kind(key)
    assert (hull.low_mm, hull.high_mm, hull.source) == (low, high, source)


# --- brackets -------------------------------------------------------------------------------------


@named(BRACKETS)
def test_brackets_are_possible(item):
    assert item.setback_mm >= 0
    assert item.travel_mm >= item.step_mm >= 0
    assert item.pattern in CATALOGUE.hole_patterns
    assert isinstance(item.arms, Arms)
    assert "lever" in item.note
    assert item.settings_mm()[-1] <= item.travel_mm + 1e-9


def test_none_is_left_free_and_own_is_there():
    assert "none" not in CATALOGUE.brackets
    assert CATALOGUE.bracket("own").setback_mm == 0.0
    assert CATALOGUE.bracket("pod-level").arms is Arms.LEVEL
    assert CATALOGUE.bracket("plate-stepped").settings_mm() == pytest.approx(
        (0.0, 19.05, 38.1, 57.15, 76.2)
    )


# --- reading --------------------------------------------------------------------------------------


def test_examples_in_the_field_descriptions_exist():
    assert specs(Candidate)["engine_class"].example in CATALOGUE.engine_classes


def test_the_catalogue_is_read_once_and_cannot_be_changed():
    assert load_catalogue() is load_catalogue()
    with pytest.raises(TypeError):
        CATALOGUE.hull_kinds["mine"] = HULLS[0]


@pytest.mark.parametrize("name", ["dunlin.toml", DRILLED_DEMO])
def test_the_demos_ship_with_the_profiles(name):
    assert "Dunlin" in demo_job_text(name)


def test_a_wheel_is_served_before_a_checkout(tmp_path, monkeypatch):
    package = tmp_path / "rigfit"
    shutil.copytree(profiles_folder(), package / "_profiles")
    (tmp_path / "profiles").mkdir()
    monkeypatch.setattr(profiles, "_PACKAGE", package)
    assert profiles_folder() == package / "_profiles"
    assert read_catalogue(profiles_folder()) == CATALOGUE
    shutil.rmtree(package)
    assert profiles_folder() == tmp_path / "profiles"
    (tmp_path / "profiles").rmdir()
    with pytest.raises(ProfileError, match="install rigfit again"):
        profiles_folder()


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(profiles_folder(), tmp_path / "profiles")
    return tmp_path / "profiles"


BROKEN = [
    ("hull_kinds", "low_mm = 0.0", "low = 0.0", ["[planing-vee]", '"low"', '"low_mm"']),
    ("hull_kinds", "low_mm = 0.0", 'low_mm = "0"', ["[planing-vee], low_mm", "not a number"]),
    ("hull_kinds", "low_mm = 0.0", "low_mm = true", ["low_mm", "true is not a number"]),
    ("hull_kinds", "low_mm = 0.0", "low_mm = nan", ["low_mm", "not a number"]),
    ("hull_kinds", "low_mm = 0.0", "low_mm = inf", ["low_mm", "not a number"]),
    ("hull_kinds", 'name = "pontoon boat"\n', "", ["[pontoon]", "name is missing"]),
    ("hull_kinds", '"plate-pontoon"', '"plate-ponton"', ["source", '"plate-pontoon"']),
    ("hull_kinds", 'outer_source = "', 'outer_source = "x', ["outer_source", "no source"]),
    ("hull_kinds", "[pontoon]", "[pontoon", ["hull_kinds.toml", "]", "line"]),
    ("hull_kinds", "[pontoon]", '[pontoon]\nid = "x"', ["[pontoon]", "id is given"]),
    ("hull_kinds", "[planing-vee]", "x = 1\n[planing-vee]", ["[x]", "1 is not a table"]),
    ("hole_patterns", "[50.8, 68.8", '["50.8", 68.8', ["[metric-18], upper_rows_mm", '"50.8"']),
    ("hole_patterns", "[50.8, 68.8, 86.8, 104.8]", "50.8", ["not a list of numbers"]),
    ("brackets", 'arms = "level"', 'arms = "up"', ["[pod-level], arms", "square, level"]),
    ("brackets", 'arms = "level"', "arms = 1", ["[pod-level], arms", "square, level"]),
    ("brackets", 'pattern = "trade-four-bolt"', 'pattern = "trade-four"', ["pattern", "four"]),
    ("brackets", "mass_kg = 45.0\n", "", ["[pod-level]", "mass_kg is missing"]),
    ("engine_classes", 'pattern = "clamp"', 'pattern = "clasp"', ["portable-2-6", '"clamp"']),
    ("engine_classes", "cowl_length = 330.0\n", "", ["[portable-2-6], sizes", "cowl_length"]),
    ("engine_classes", "[portable-2-6.sizes]", "[portable-2-6.size]", ["portable-2-6", "sizes"]),
]


@pytest.mark.parametrize(("file", "old", "new", "words"), BROKEN)
def test_a_broken_profile_is_named(folder, file, old, new, words):
    path = folder / f"{file}.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ProfileError) as caught:
        read_catalogue(folder)
    sentence = str(caught.value)
    assert sentence.startswith(f"{file}.toml")
    assert "\n" not in sentence
    for word in words:
        assert word in sentence


@pytest.mark.parametrize("data", [None, b"\xff\xfe\x00"])
def test_a_missing_or_spoilt_file_is_named(folder, data):
    path = folder / "brackets.toml"
    path.unlink() if data is None else path.write_bytes(data)
    with pytest.raises(ProfileError, match=r"brackets\.toml.*install rigfit again"):
        read_catalogue(folder)
