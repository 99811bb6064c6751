"""Which readings make the hull, what stands in for the rest; tolerances against random draws."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest

from rigfit.records.job_reading import parse_job
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.afloat import Flotation, Trouble, _Model, flotation_of
from rigfit.rigging.case import Case
from rigfit.rigging.flotation import Plane, displaced
from rigfit.rigging.hull_fields import Hull, Offset, Station
from rigfit.rigging.hull_readings import (
    ReadingBook,
    form_of,
    measured_sections,
    take_hull,
    transom_top,
)
from rigfit.rigging.readings import Origin
from tests.builders import case_of, reading
from tests.rigging.afloat_jobs import HULL, afloat_case, afloat_job, floated

LEAST = Hull(chine_beam=reading(1650.0, 10.0))

JOB_TEXT = """
format = 1

[boat]
name = "Dunlin"
hull_kind = "planing-vee"
length = "5.2 m"
deadrise = "16°"

[transom]
height_along_face = "518 mm"
rake = "13°"

[hull]
chine_beam = "1.65 m"
depth_bow = "980 mm"

[afloat]
water = "fresh"
transom_top = "300 mm"
bow = "730 mm"
engine_mass = "118 kg"

[[mark]]
name = "port scupper"
kind = "scupper"
above_water = "120 mm"
across = "-600 mm"

[[engine]]
id = "A"
engine_class = "medium-75-115"
mass = "165 kg"
"""


def book_of(case: Case) -> ReadingBook:
    book = ReadingBook()
    take_hull(book, case)
    return book


def values_of(book: ReadingBook) -> dict[str, float]:
    return {key: item.value for key, item in book.readings.items()}


def test_beam_length_and_deadrise_are_enough_for_a_hull() -> None:
    case = afloat_case(hull=LEAST)
    form = form_of(case.job, values_of(book_of(case)))
    assert displaced(form, Plane(250.0)).litres > 300.0


def test_what_stands_in_has_a_spread_and_is_no_measurement() -> None:
    book = book_of(afloat_case(hull=LEAST))
    for key, item in book.readings.items():
        if key not in book.entered:
            assert not item.origin.is_firm, key
            assert item.tolerance > 0.0, key


def test_what_was_entered_is_used_as_entered() -> None:
    book = book_of(afloat_case())
    for name in ("chine_beam", "sheer_beam", "depth_aft", "depth_bow"):
        assert book.readings[f"hull.{name}"] is getattr(HULL, name)
        assert f"hull.{name}" in book.entered


def test_the_width_between_the_chine_corners_counts_aft() -> None:
    case = afloat_case(face__chine_width=reading(1500.0, 3.0))
    form = form_of(case.job, values_of(book_of(case)))
    assert form.sections[0][1][0] == pytest.approx(750.0)


def test_deadrise_gives_the_chine_and_the_chine_gives_the_deadrise() -> None:
    by_angle = afloat_case(hull=replace(LEAST, chine_height_aft=None))
    form = form_of(by_angle.job, values_of(book_of(by_angle)))
    half, rise = form.sections[0][1]
    assert rise == pytest.approx(half * math.tan(math.radians(16.0)))
    by_rise = afloat_case(hull=replace(LEAST, chine_height_aft=reading(240.0)), boat__deadrise=None)
    book = book_of(by_rise)
    amidships = book.readings["hull.deadrise_amidships"]
    assert amidships.origin is Origin.CLASS
    assert amidships.value == pytest.approx(math.degrees(math.atan2(240.0, 825.0)) + 3.0)


def test_the_form_ahead_adds_little_to_what_is_anchored() -> None:
    least = floated(hull=replace(LEAST, depth_bow=HULL.depth_bow))
    assert floated().stern_mm is not None
    assert least.stern_mm is not None
    assert least.stern_mm.tolerance > floated().stern_mm.tolerance
    assert least.stern_mm.value == pytest.approx(
        floated().stern_mm.value, abs=least.stern_mm.tolerance
    )


def test_the_transom_top_leans_with_its_rake() -> None:
    x, z = transom_top({"transom.height_along_face": 500.0, "transom.rake": 90.0 - 53.130102})
    assert (x, z) == pytest.approx((-300.0, 400.0), abs=1e-4)


def test_rows_of_offsets_are_gathered_by_station_from_the_bottom_up() -> None:
    rows = tuple(
        Offset(reading(x), reading(z), reading(y))
        for x, z, y in ((0, 400, 900), (1000, 0, 0), (0, 0, 0), (1000, 400, 850), (0, 200, 700))
    )
    assert measured_sections(rows, ()) == [
        (0, ((0, 0), (700, 200), (900, 400))),
        (1000, ((0, 0), (850, 400))),
    ]


def test_offsets_lead_over_stations() -> None:
    station = Station(*(reading(value) for value in (0.0, 0.0, 800.0, 200.0, 900.0, 600.0)))
    offset = Offset(reading(0.0), reading(0.0), reading(5.0))
    assert measured_sections((), (station,)) == [
        (0.0, ((0.0, 0.0), (800.0, 200.0), (900.0, 600.0)))
    ]
    assert measured_sections((offset,), (station,)) == [(0.0, ((5.0, 0.0),))]


def test_a_job_file_holds_all_of_it() -> None:
    job = parse_job(JOB_TEXT, "dunlin.toml", load_catalogue())
    assert job.afloat.water == "fresh"
    assert job.marks[0].kind == "scupper"
    found = flotation_of(Case(job, load_catalogue(), job.engines[0]))
    assert isinstance(found, Flotation)
    assert found.density_kg_l == 1.0
    assert found.marks[-1].name == "port scupper"
    assert found.marks[-1].before == pytest.approx(120.0)
    assert found.marks[-1].after.value < 120.0


def test_tolerances_agree_with_random_draws_of_all_readings() -> None:
    """Every reading drawn from its rectangle: the spread of the answers is what is reported."""
    case = case_of(afloat_job())
    model = _Model(case)
    found = floated()
    draw = random.Random(3)  # noqa: S311 - no secret hangs on it
    answers: dict[str, list[float]] = {}
    for _ in range(600):
        values = {
            key: item.value + draw.uniform(-1.0, 1.0) * item.tolerance
            for key, item in model.book.readings.items()
        }
        for name, value in model.outputs(values | {"level": 0.0}, found.after.plane).items():
            answers.setdefault(name, []).append(value)
    assert found.stern_mm is not None
    assert found.trim_change_deg is not None
    scupper = next(item.after for item in found.marks if item.name == "scupper")
    for name, estimate in (
        ("stern", found.stern_mm),
        ("trim", found.trim_change_deg),
        ("height scupper", scupper),
    ):
        drawn = answers[name]
        mean = math.fsum(drawn) / len(drawn)
        spread = 2.0 * math.sqrt(math.fsum((x - mean) ** 2 for x in drawn) / (len(drawn) - 1))
        assert estimate.value == pytest.approx(mean, abs=0.1 * estimate.tolerance)
        assert estimate.tolerance == pytest.approx(spread, rel=0.12)


def test_a_last_section_at_the_very_stem_is_no_error_for_the_tolerance_of_the_length() -> None:
    """The length is moved by its tolerance; the last section does not move with it."""
    stations = tuple(
        Station(
            ahead=reading(ahead, 0.0), keel_height=reading(0.0, 5.0),
            chine_half=reading(half, 10.0), chine_height=reading(180.0, 5.0),
            sheer_half=reading(half + 100.0, 10.0), sheer_height=reading(600.0, 10.0),
        )
        for ahead, half in ((0.0, 800.0), (2600.0, 850.0), (5200.0, 100.0))
    )  # fmt: skip
    found = flotation_of(afloat_case(stations=stations, boat__length=reading(5200.0, 20.0)))
    assert isinstance(found, Flotation)
    beyond = flotation_of(afloat_case(stations=stations, boat__length=reading(5000.0, 20.0)))
    assert isinstance(beyond, Trouble)
    assert "the hull is 5000 mm long" in beyond.sentence.amounts["why"]
