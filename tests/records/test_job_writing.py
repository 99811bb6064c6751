"""Writing jobs: what is written reads back equal, and a hand-written file keeps its remarks."""

import dataclasses
import errno
import os
import tomllib

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigfit.errors import EntryError, NewerFormatError, OutputError, RigfitError
from rigfit.records import job_update
from rigfit.records.field_values import words_of
from rigfit.records.job_file import (
    demo_job_text,
    job_text,
    new_job_text,
    parse_job,
    read_job,
    save_job,
    schema,
    update_text,
)
from rigfit.records.job_writing import toml_string
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import (
    GROUPS,
    LISTS,
    Candidate,
    Job,
    KeelLine,
    Target,
    Units,
)
from rigfit.rigging.readings import Origin, Reading, specs
from rigfit.units import BASE_UNIT, Kind

CATALOGUE = load_catalogue()
SCHEMA = schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
CLASS = 'engine_class = "medium-40-60"'
SLOW_START = settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)


def parse(text):
    return parse_job(text, "boat.toml", CATALOGUE, engines_needed=False)


# --- jobs of every kind ---------------------------------------------------------------------------

NAMES = st.text(
    alphabet=st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=20
).map(str.strip)


@st.composite
def readings(draw, spec):
    """Draw a reading as the user would have typed it; only base units, so the value is exact."""
    steps = draw(st.integers(0, 1000))
    value = round(spec.low + (spec.high - spec.low) * steps / 1000, 3)
    value = min(max(value, spec.low), spec.high)
    unit = BASE_UNIT[spec.kind]
    own = draw(st.none() | st.integers(0, 40).map(lambda tenths: tenths / 10))
    typed = f"{value!r} {unit}".strip()  # a ratio has no unit
    if own is not None and own <= (spec.high - spec.low) / 2:
        typed = f"{typed} ± {own!r} {unit}".strip()
        return Reading(value, own, spec.origin, typed, True)
    return Reading(value, spec.tolerance, spec.origin, typed, False)


def values(name, spec):
    words = words_of(spec, CATALOGUE)
    if words:
        return st.sampled_from(words)
    if spec.kind is Kind.COUNT:
        return st.none() | st.integers(int(spec.low), int(spec.high))
    if spec.kind is None:
        if name == "engine":
            return st.just("")
        return NAMES.filter(bool) if spec.required else NAMES
    return readings(spec) if spec.required else st.none() | readings(spec)


def records(record):
    return st.builds(record, **{name: values(name, spec) for name, spec in specs(record).items()})


@st.composite
def jobs(draw):
    ids = draw(st.lists(NAMES.filter(bool), min_size=1, max_size=3, unique=True))
    engines = tuple(dataclasses.replace(draw(records(Candidate)), id=key) for key in ids)
    groups = {key: draw(records(record)) for key, _, record in GROUPS}
    chosen = draw(st.sampled_from(["", *ids]))
    groups["mounting"] = dataclasses.replace(groups["mounting"], engine=chosen)
    tables = {
        attribute: tuple(draw(st.lists(records(record), max_size=2)))
        for key, attribute, _, record in LISTS
        if key != "engine"
    }
    return Job(**groups, engines=engines, **tables)


@given(jobs())
@SLOW_START
def test_a_written_job_reads_back_equal(job):
    text = job_text(job, CATALOGUE)
    assert parse(text) == job
    assert not list(VALIDATOR.iter_errors(tomllib.loads(text)))


@given(jobs(), jobs())
@SLOW_START
def test_any_file_can_be_brought_up_to_any_job(old, new):
    assert parse(update_text(job_text(old, CATALOGUE), new, CATALOGUE)) == new


@given(jobs())
@SLOW_START
def test_the_demo_can_be_brought_up_to_any_job(new):
    assert parse(update_text(demo_job_text(), new)) == new


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"])))
def test_any_text_is_one_toml_string(text):
    assert tomllib.loads(f"a = {toml_string(text)}") == {"a": text}


def test_an_inch_mark_is_written_in_single_quotes():
    assert toml_string('20 3/8"') == "'20 3/8\"'"
    assert toml_string("1' 8\"") == '"1\' 8\\""'


# --- the commented file ---------------------------------------------------------------------------


def test_a_new_file_explains_every_field_once():
    text = new_job_text("Dunlin")
    flat = " ".join(line.removeprefix("#").strip() for line in text.splitlines())
    for *_, record in (*GROUPS, *LISTS):
        for name, spec in specs(record).items():
            label = f"{spec.label[0].upper()}{spec.label[1:]}."
            assert label in flat
            assert " ".join(spec.how.split()) in flat
            assert f"{name} = " in text
            assert not spec.tolerance or f"± {spec.tolerance:g} {BASE_UNIT[spec.kind]}" in flat
    assert max(map(len, text.splitlines())) <= 100


def test_a_new_file_lists_the_words_and_leaves_what_is_needed_open():
    text = new_job_text("Dunlin")
    assert "planing-vee" in text
    assert '\nhull_kind = ""\n' in text
    assert '\nheight_along_face = ""\n' in text
    assert '\n# thickness = "45 mm"\n' in text
    assert "\n# row = 2\n" in text
    read = parse(text)
    assert read.boat.name == "Dunlin"
    assert [engine.id for engine in read.engines] == ["A"]
    assert read.transom.height_along_face is None


def test_every_remark_of_a_new_file_opens_to_a_readable_entry():
    lines = new_job_text("Dunlin").splitlines()
    opened = [line[2:] if " = " in line and line.startswith("# ") else line for line in lines]
    tables = {f"# [[{key}]]" for key, *_ in LISTS}
    opened = [line.removeprefix("# ") if line in tables else line for line in opened]
    opened = [line for line in opened if not line.startswith('  rake = "13°"')]
    text = "\n".join(line.replace('engine = "B"', 'engine = "A"') for line in opened)
    read = parse(text.replace('hull_kind = ""', 'hull_kind = "planing-vee"'))
    assert read.engines[0].leg_measured.value == 516.0
    assert read.mounting.row == 2
    assert read.holes[0].across.value == -163.5
    assert [len(getattr(read, attribute)) for _, attribute, _, _ in LISTS] == [1] * len(LISTS)


@pytest.mark.parametrize("name", ["a\nb", "n" * 201])
def test_an_impossible_boat_name_is_refused(name):
    with pytest.raises(EntryError):
        new_job_text(name)


def test_without_engines_the_file_shows_how_to_add_one():
    text = job_text(Job())
    assert "\n# [[engine]]\n" in text
    assert parse(text) == Job()


def test_only_the_first_table_of_a_list_explains_itself():
    text = job_text(parse(demo_job_text()))
    assert text.count("# Distance from the centreline.") == 1
    assert text.count("[[hole]]") == 5  # four, and one in the heading


def test_a_reading_nobody_typed_is_written_with_its_unit():
    job = Job(transom=dataclasses.replace(Job().transom, rake=Reading(13.25, 0.5)))
    assert 'rake = "13.25 ± 0.5 deg"' in job_text(job)
    assert parse(job_text(job)).transom.rake.value == 13.25


def test_a_change_of_the_bare_unit_does_not_change_what_was_measured():
    old = parse("format = 1\n[transom]\nthickness = 45\nheight_along_face = '20 3/8 in'\n")
    new = dataclasses.replace(old, units=Units(entries="inch"))
    for text in (job_text(new), update_text(job_text(old), new)):
        read = parse(text)
        assert read.units.entries == "inch"
        assert read.transom.thickness.value == 45.0
        assert read.transom.height_along_face.typed == "20 3/8 in"


# --- changing a file by hand-written remarks ------------------------------------------------------

HAND = """\
format = 1   # mine

# measured in the rain
[transom]
rake = "13°"   # twice
   height_along_face = 518
# thickness = "45 mm"

[boat]
name = 'Dunlin'

# the cheap one
[[engine]]
id = "A"
engine_class = "medium-75-115"

# the good one
[[engine]]
id = "B"
engine_class = "medium-40-60"   # sure
mass = "112 kg"

# lowest hole
[[hole]]
across = 1
below_top = 48
diameter = 12
"""


def changed(text, **groups):
    old = parse(text)
    parts = {
        key: dataclasses.replace(getattr(old, key), **values)
        if isinstance(values, dict)
        else values
        for key, values in groups.items()
    }
    return update_text(text, dataclasses.replace(old, **parts))


def test_nothing_changed_nothing_touched():
    assert update_text(HAND, parse(HAND)) == HAND


def test_one_entry_changed_is_one_line_changed():
    text = changed(HAND, transom={"rake": Reading(14.0, 1.0, typed="14°")})
    assert text == HAND.replace('rake = "13°"   # twice', 'rake = "14°"   # twice')


def test_a_remark_is_opened_where_it_stands():
    text = changed(HAND, transom={"thickness": Reading(44.0, 1.0, typed="44 mm")})
    assert text == HAND.replace('# thickness = "45 mm"', 'thickness = "44 mm"')


def test_an_entry_without_a_remark_follows_the_last_of_its_table():
    text = changed(HAND, boat={"hull_kind": "planing-vee"})
    assert text == HAND.replace(
        "name = 'Dunlin'\n", "name = 'Dunlin'\nhull_kind = \"planing-vee\"\n"
    )


def test_an_entry_taken_back_is_left_empty_with_its_remark():
    text = changed(HAND, transom={"rake": None})
    assert text == HAND.replace('"13°"   # twice', '""   # twice')


def test_a_new_table_comes_at_the_end():
    text = changed(HAND, target={"low": Reading(3.0, 0.0, Origin.CHOSEN, "3 mm")})
    assert text.startswith(HAND)
    assert '[target]\nlow = "3 mm"' in text


def test_an_engine_is_changed_in_its_own_table():
    engines = parse(HAND).engines
    better = dataclasses.replace(engines[1], mass=Reading(115.0, 2.0, typed="115 kg"))
    assert changed(HAND, engines=(engines[0], better)) == HAND.replace("112 kg", "115 kg")


def test_an_engine_leaves_with_its_remarks():
    engines = parse(HAND).engines
    start, stop = HAND.index("# the cheap one"), HAND.index("# the good one")
    assert changed(HAND, engines=engines[1:]) == HAND[:start] + HAND[stop:]


def test_an_engine_is_added_after_the_others():
    added = Candidate(id="C", engine_class="medium-40-60")
    text = changed(HAND, engines=(*parse(HAND).engines, added))
    new = '[[engine]]\nid = "C"\nengine_class = "medium-40-60"\n\n'
    assert text == HAND.replace("# lowest hole", f"{new}# lowest hole")


def test_another_engine_does_not_inherit_the_remarks_of_the_one_before():
    other = Candidate(id="C", engine_class="medium-40-60")
    text = changed(HAND, engines=(parse(HAND).engines[0], other))
    assert "# the good one" not in text
    assert "# the cheap one" in text


def test_engines_in_another_order_take_their_remarks_of_the_file_along_or_lose_them():
    engines = parse(HAND).engines
    text = changed(HAND, engines=engines[::-1])
    assert parse(text).engines == engines[::-1]
    for engine, remark in (("A", "# the cheap one"), ("B", "# the good one")):
        if remark in text:
            after = text[text.index(remark) :]
            assert after.split('id = "')[1].startswith(engine)


def test_holes_come_and_go():
    hole = parse(HAND).holes[0]
    moved = dataclasses.replace(hole, across=Reading(-2.0, 1.0, typed="-2"))
    assert parse(changed(HAND, holes=(moved, hole))).holes == (moved, hole)
    assert changed(HAND, holes=(moved,)) == HAND.replace("across = 1", 'across = "-2"')
    none = changed(HAND, holes=())
    assert "[[hole]]" not in none
    assert "# lowest hole" not in none
    assert parse(changed(none, holes=(hole,))).holes == (hole,)


def test_windows_line_ends_stay():
    text = HAND.replace("\n", "\r\n")
    added = changed(text, boat={"hull_kind": "pontoon"}, target={"low": Reading(1.0, typed="1")})
    assert added.count("\n") == added.count("\r\n")


@pytest.mark.parametrize(
    "text",
    [
        f'format = 1\nboat = {{name = "Dunlin"}}\nengine = [{{id = "A", {CLASS}}}]\n',
        f'format = 1\nboat.name = "Dunlin"\n[[engine]]\nid = "A"\n{CLASS}',
        f'format = 1\n["boat"]\n"name" = "Dunlin"\n[["engine"]]\nid="A"\n{CLASS}\n',
    ],
)
def test_other_ways_to_write_a_table_are_brought_up_to_the_job(text):
    engines = (*parse(text).engines, Candidate(id="B", engine_class="medium-40-60"))
    gaps = KeelLine(gap_0=Reading(1.0, 1.0, typed="1"))
    job = dataclasses.replace(parse(text), engines=engines, keel_line=gaps, target=Target())
    job = dataclasses.replace(job, boat=dataclasses.replace(job.boat, name="Dunlin II"))
    assert parse(update_text(text, job)) == job


@pytest.mark.parametrize("old", ["", "no TOML", "format = 1\nrack = 3", "\x00"])
def test_a_text_that_is_no_job_is_written_anew(old):
    job = parse(demo_job_text())
    assert update_text(old, job) == job_text(job)


def test_an_editor_that_fails_is_noticed(monkeypatch):
    job = dataclasses.replace(parse(HAND), holes=())
    monkeypatch.setattr(job_update, "_edited", lambda *args: "")
    assert update_text(HAND, job) == job_text(job)
    monkeypatch.setattr(job_update, "_edited", lambda *args: HAND)
    assert update_text(HAND, job) == job_text(job)
    monkeypatch.setattr(job_update, "_edited", lambda *args: "no TOML")
    assert update_text(HAND, job) == job_text(job)


def test_the_file_of_a_newer_rigfit_is_not_overwritten(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text("format = 2\n")
    with pytest.raises(NewerFormatError, match=r"boat\.toml"):
        save_job(path, parse(HAND))
    assert path.read_text() == "format = 2\n"


# --- saving ---------------------------------------------------------------------------------------


def test_a_job_is_saved_and_read_again(tmp_path):
    path = tmp_path / "boat.toml"
    job = parse(demo_job_text())
    save_job(path, job)
    assert read_job(path, CATALOGUE) == job
    assert path.read_text(encoding="utf-8") == job_text(job)


def test_saving_over_a_job_keeps_its_remarks(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_text(HAND, encoding="utf-8")
    job = parse(HAND)
    save_job(str(path), dataclasses.replace(job, boat=dataclasses.replace(job.boat, name="Knot")))
    assert path.read_text(encoding="utf-8") == HAND.replace("'Dunlin'", '"Knot"')


def test_what_is_no_text_is_not_overwritten(tmp_path):
    path = tmp_path / "photo.png"
    path.write_bytes(b"\x89PNG\x00")
    with pytest.raises(OutputError, match=r"photo\.png: what stands there is no job file"):
        save_job(path, parse(HAND))
    assert path.read_bytes() == b"\x89PNG\x00"


def test_a_folder_is_not_overwritten(tmp_path):
    with pytest.raises(OutputError, match="it is a folder"):
        save_job(tmp_path, parse(HAND))


def test_a_full_disk_leaves_the_old_job(tmp_path, monkeypatch):
    path = tmp_path / "boat.toml"
    path.write_text(HAND, encoding="utf-8")

    def full(handle):
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="the disk is full"):
        save_job(path, parse(demo_job_text()))
    assert path.read_text(encoding="utf-8") == HAND


def test_an_impossible_name_is_a_sentence(tmp_path):
    with pytest.raises(OutputError, match="no disk accepts"):
        save_job(f"{tmp_path}/a\0b", parse(HAND))


# --- the schema -----------------------------------------------------------------------------------


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("text", [demo_job_text(), new_job_text("Dunlin"), HAND])
def test_files_that_are_read_satisfy_the_schema(text):
    assert [error.message for error in VALIDATOR.iter_errors(tomllib.loads(text))] == []


@pytest.mark.parametrize(
    "text",
    [
        HAND.replace("format = 1", "format = 2"),
        HAND.replace("format = 1", ""),
        HAND.replace("rake", "rack"),
        HAND.replace('"13°"', "true"),
        HAND.replace('"13°"', "[13]"),
        HAND.replace("[boat]", "[boats]"),
        HAND.replace("medium-40-60", "medium-40-61"),
        HAND.replace("diameter = 12", ""),
        HAND.replace('id = "A"', ""),
        HAND.replace("'Dunlin'", "3"),
        HAND.replace("'Dunlin'", f"'{'n' * 201}'"),
        "format = 1\nengine = []",
    ],
)
def test_the_schema_and_the_reader_refuse_the_same_files(text):
    assert list(VALIDATOR.iter_errors(tomllib.loads(text)))
    with pytest.raises(RigfitError):
        parse_job(text, "boat.toml", CATALOGUE)


def test_every_field_is_titled_and_has_an_example_the_reader_takes():
    for key, _, record in GROUPS:
        for name, spec in specs(record).items():
            said = SCHEMA["properties"][key]["properties"][name]
            shown = {item.default for item in dataclasses.fields(record)} - {""}
            assert said["title"] == spec.label
            assert spec.how in said.get("description", "")
            if name != "engine":
                text = f"format = 1\n[{key}]\n{name} = {toml_string(said['examples'][0])}\n"
                assert parse(text) != Job() or said["examples"][0] in shown
