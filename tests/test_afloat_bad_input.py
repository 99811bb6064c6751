"""Bad input about load and flotation: each is named with its value and the reading to look at."""

from __future__ import annotations

import pytest

from rigfit import tasks
from rigfit.errors import RigfitError
from rigfit.plain_afloat import afloat_lines, load_lines
from rigfit.plain_report import report_lines
from rigfit.records.job_reading import parse_job
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text, load_catalogue
from rigfit.rigging.findings import Verdict

STATION = """[[station]]
ahead = "{0} mm"
keel_height = "0 mm"
chine_half = "800 mm"
chine_height = "{2} mm"
sheer_half = "900 mm"
sheer_height = "{1} mm"

"""


def stations(*rows: tuple[float, float, float]) -> tuple[str, str]:
    """Return the change that puts stations (ahead, sheer, chine) into the job."""
    anchor = "# What is carried."
    return anchor, "".join(STATION.format(*row) for row in rows) + anchor


def job_text(*changes: tuple[str, str]) -> str:
    text = demo_job_text(DRILLED_DEMO)
    for old, new in changes:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    return text


def said(*changes: tuple[str, str]) -> tuple[str, set[Verdict]]:
    """Return all that report and tables say of a changed demo, and the verdicts of 503 to 515."""
    job = parse_job(job_text(*changes), "boat.toml", load_catalogue())
    report = tasks.check(job)
    lines = [*report_lines(report, working=True), *afloat_lines(report), *load_lines(report)]
    verdicts = {item.verdict for item in report.findings if 503 <= item.code <= 515}
    return " ".join(" ".join(lines).split()), verdicts


THIN = stations((0, 60, 20), (2600, 60, 20), (5000, 60, 20))

CASES = {
    "hull that cannot float": (
        (
            ('transom_top = "308 ± 5 mm"', ""),
            ('bow = "738 ± 5 mm"', ""),
            (
                'depth_bow = "990 ± 10 mm"',
                'depth_bow = "990 mm"\nmass = "9900 kg"\ncentre_ahead = 2200',
            ),
        ),
        ("hull cannot float", "when awash", "Look at beam, depth and the masses"),
    ),
    "no freeboard left to carry anything": (
        (THIN, ('transom_top = "308 ± 5 mm"', "transom_top = 470"), ('bow = "738 ± 5 mm"', "")),
        ("comes to no rest within 25 degrees", "awash she displaces", "Look at the masses"),
    ),
    "crew of 400 kg in a 3 m boat": (
        (
            ('mass = "160 kg"\npersons = 2', 'mass = "400 kg"'),
            ('length = "5.2 m"', "length = 3000"),
        ),
        ("400 kg", "of people in a boat of 3000 mm is hard to believe", "Check the reading"),
    ),
    "crew too heavy for its number": (
        (('mass = "160 kg"', 'mass = "900 kg"'),),
        ("two hands: 900 kg", "450 kg a person"),
    ),
    "negative freeboard": (
        (('transom_top = "308 ± 5 mm"', 'transom_top = "-40 mm"'),),
        ("water stands 40 mm over the transom top", "Look at that reading again"),
    ),
    "the stem under water": (
        (('bow = "738 ± 5 mm"', 'bow = "-50 mm"'),),
        ("water stands 50 mm over the stem head",),
    ),
    "stations out of order": (
        (stations((0, 600, 200), (3000, 600, 200), (2000, 600, 200), (5000, 700, 200)),),
        ("section 3 stands 2000 mm ahead", "before it 3000 mm", "Put the sections in order"),
    ),
    "too few stations": (
        (stations((0, 600, 200), (3000, 600, 200)),),
        ("there are 2 sections (three at least)", "Measure one at the transom"),
    ),
    "a station past the stem": (
        (stations((0, 600, 200), (3000, 600, 200), (7000, 600, 200)),),
        ("last section stands 7000 mm", "the hull is 5200 mm long"),
    ),
    "a sheer under the keel": (
        (stations((0, 600, 200), (2000, -10, 200), (5000, 700, 200)),),
        ("the sheer of section 2 is not above its bottom", "Look at the heights"),
    ),
    "a station's chine above its sheer": (
        (stations((0, 600, 200), (2000, 600, 800), (5000, 700, 200)),),
        ("heights of section 2 fall from 800 to 600 mm", "between keel and sheer"),
    ),
    "chine above the sheer": (
        (('depth_amidships = "720 ± 5 mm"', 'depth_amidships = "200 mm"'),),
        ("the chine", "is not between keel and sheer", "Look again at the depths"),
    ),
    "a mass outside the hull": (
        (('ahead_of_transom = "1.5 m"', 'ahead_of_transom = "9 m"'),),
        ("new battery, which goes aboard, stands 9000 mm ahead", "outside the hull of 5200 mm"),
    ),
    "a mass that stays, beyond the bow": (
        (('ahead_of_transom = "4.6 m"', 'ahead_of_transom = "9 m"'),),
        ("anchor and chain is placed 9000 mm ahead", "beyond the bow of a boat of 5200 mm"),
    ),
    "heights on no level water": (
        (('bow = "738 ± 5 mm"', 'bow = "738 ± 5 mm"\namidships = "300 mm"'),),
        ("do not lie on one level water", "Look at it, and at the depths"),
    ),
    "an old engine as heavy as the boat": (
        (
            ('engine_mass = "118 ± 2 kg"\nfuel', 'engine_mass = "640 kg"\nfuel'),
            ('mass = "118 ± 2 kg"\nnumber', 'mass = "640 kg"\nnumber'),
            ('transom_top = "308 ± 5 mm"', "transom_top = 360"),
        ),
        ("less than what is taken out of her", "mass of what came off"),
    ),
    "more listed aboard than she displaces": (
        (('mass = "14 kg"', 'mass = "900 kg"'),),
        ("the bare boat would weigh", "what is listed as aboard"),
    ),
    "the whole hull above the water": (
        (('transom_top = "308 ± 5 mm"', "transom_top = 900"), ('bow = "738 ± 5 mm"', "bow = 1300")),
        ("the whole hull is above the water", "Look at the heights above the water"),
    ),
    "a centre of gravity too high": (
        (('depth_bow = "990 ± 10 mm"', 'depth_bow = "990 mm"\ncentre_height = "2.5 m"'),),
        ("would not stay upright", "metacentric height", "Look at the height of the centre"),
    ),
    "an engine nobody knows": (
        (('engine_mass = "118 ± 2 kg"\nfuel', 'engine = "Z"\nfuel'),),
        ('hung on her then is named "Z"', "known are B and none"),
    ),
    "a plate of 0 hp": (
        (('max_power = "90 hp"', "max_power = 0"),),
        ("entered as 0, which no outboard meets", "Read the plate again"),
    ),
    "persons heavier than the load": (
        (('max_persons_mass = "400 kg"', 'max_persons_mass = "900 kg"'),),
        ("mass of persons, 900 kg, is above its total load, 640 kg",),
    ),
    "catamaran": (
        (('hull_kind = "planing-vee"', 'hull_kind = "catamaran"'),),
        ("more than one hull", "Float her with the test mass"),
    ),
}


@pytest.mark.parametrize(("changes", "words"), CASES.values(), ids=CASES)
def test_it_is_named_with_the_reading_to_check(changes, words) -> None:
    text, verdicts = said(*changes)
    for part in words:
        assert part in text
    assert verdicts & {Verdict.UNKNOWN, Verdict.TIGHT, Verdict.STOPS}


def test_heights_that_disagree_make_no_mark_fit() -> None:
    job = parse_job(job_text(*CASES["heights on no level water"][0]), "b.toml", load_catalogue())
    of_marks = [item for item in tasks.check(job).findings if item.code in (511, 512, 513)]
    assert of_marks
    assert all(item.verdict is not Verdict.FITS for item in of_marks)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('max_load = "640 kg"', 'max_load = "640 mm"'), ("max_load", "length, not mass", "kg")),
        (('country = "US"', 'country = "FR"'), ("country", '"FR" is not known', "other")),
        (('level = "50 %"', 'level = "150 %"'), ("level", "150 %")),
        (('volume = "90 L"', 'volume = "-5 L"'), ("volume", "-5 L")),
        (('people = 0', 'people = "two"'), ("people", "two")),
        (('kind = "sole"', 'kind = "soul"'), ("kind", "soul", "sole")),
    ],
    ids=lambda value: str(value[1])[:16],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_with_field_value_and_what_is_allowed(change, words) -> None:
    with pytest.raises(RigfitError) as caught:
        parse_job(job_text(change), "boat.toml", load_catalogue())
    for part in words:
        assert part in str(caught.value)
