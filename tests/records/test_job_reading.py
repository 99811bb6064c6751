"""Reading jobs: what is read, and one clear sentence for everything that is not."""

import errno
import os
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import (
    EntryError,
    JobError,
    JobFileError,
    NewerFormatError,
    RigfitError,
)
from rigfit.records import job_reading
from rigfit.records.job_file import (
    LARGEST_BYTES,
    decode_job,
    demo_job_text,
    job_problems,
    parse_job,
    read_job,
)
from rigfit.records.profiles import load_catalogue
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin, Reading

CATALOGUE = load_catalogue()
ENGINE = '[[engine]]\nid = "A"\nengine_class = "medium-75-115"\n'
HOLE = "[[hole]]\nacross = 100\nbelow_top = 48\ndiameter = 13.5\n"


def job(body="", *, engine=ENGINE):
    return f"format = 1\n{body}\n{engine}"


def parse(text):
    return parse_job(text, "boat.toml", CATALOGUE)


def assert_one_sentence(error):
    sentence = str(error)
    assert sentence.isprintable()
    assert sentence.endswith(".")
    assert len(sentence) < 700


# --- what is read ---------------------------------------------------------------------------------


def test_the_smallest_job_has_every_default():
    read = parse(job())
    assert read == Job(engines=read.engines)
    assert read.engines[0].id == "A"


@pytest.mark.parametrize(
    ("entries", "typed", "value", "tolerance", "text", "own"),
    [
        ("metric", "518", 518.0, 3.0, "518", False),
        ("metric", "518.5", 518.5, 3.0, "518.5", False),
        ("metric", '"518 mm"', 518.0, 3.0, "518 mm", False),
        ("metric", '"51.8 cm ± 2 mm"', 518.0, 2.0, "51.8 cm ± 2 mm", True),
        ("metric", '"20 3/8 in"', 517.525, 3.0, "20 3/8 in", False),
        ("metric", "'20 3/8\" ± 1/8\"'", 517.525, 3.175, '20 3/8" ± 1/8"', True),
        ("inch", "20.375", 517.525, 3.0, "20.375", False),
        ("inch", '"20 3/8"', 517.525, 3.0, "20 3/8", False),
        ("inch", '"518 mm"', 518.0, 3.0, "518 mm", False),
        ("metric", '"518 ± 0"', 518.0, 0.0, "518 ± 0", True),
    ],
)
def test_entries_with_and_without_units(entries, typed, value, tolerance, text, own):
    read = parse(job(f'[units]\nentries = "{entries}"\n[transom]\nheight_along_face = {typed}'))
    assert read.transom.height_along_face == Reading(
        pytest.approx(value), pytest.approx(tolerance), Origin.MEASURED, text, own
    )


def test_units_below_the_entries_still_count():
    read = parse(
        'format = 1\n[transom]\nrake = 12\nthickness = 2\n[units]\nentries = "inch"\n' + ENGINE
    )
    assert read.transom.thickness.value == pytest.approx(50.8)


def test_the_origin_is_that_of_the_field():
    read = parse(
        job("[target]\nlow = 3\n[boat]\nlength = 5200", engine=ENGINE + 'leg_stated = "20 in"')
    )
    assert read.target.low.origin is Origin.CHOSEN
    assert read.boat.length.origin is Origin.MEASURED
    assert read.engines[0].leg_stated == Reading(508.0, 0.0, Origin.STATED, "20 in", False)


@pytest.mark.parametrize("typed", ["2", '"2"', "2.0"])
def test_a_row_is_a_whole_number(typed):
    row = parse(job(f"[mounting]\nrow = {typed}")).mounting.row
    assert row == 2
    assert type(row) is int


@pytest.mark.parametrize("blank", ['""', '"  "', "''"])
def test_a_blank_entry_is_not_filled_in(blank):
    read = parse(
        job(f"[transom]\nrake = {blank}\n[boat]\nhull_kind = {blank}\n[bracket]\nkind = {blank}")
    )
    assert read.transom.rake is None
    assert read.boat.hull_kind == ""
    assert read.bracket.kind == "none"


def test_text_loses_the_spaces_round_it():
    assert parse(job('[boat]\nname = "  Dunlin "')).boat.name == "Dunlin"


def test_brackets_know_none_and_own():
    assert parse(job('[bracket]\nkind = "none"')).bracket.kind == "none"
    assert parse(job('[bracket]\nkind = "own"')).bracket.kind == "own"


def test_holes_and_engines_keep_their_order():
    text = job(HOLE + HOLE.replace("100", "-100"), engine=ENGINE + ENGINE.replace('"A"', '"B"'))
    read = parse(text)
    assert [hole.across.value for hole in read.holes] == [100.0, -100.0]
    assert [engine.id for engine in read.engines] == ["A", "B"]


def test_inline_tables_are_tables_too():
    read = parse(
        'format=1\nboat={name="Dunlin"}\nengine=[{id="A",engine_class="clamp"}]'.replace(
            "clamp", "portable-2-6"
        )
    )
    assert read.boat.name == "Dunlin"


def test_the_demo_is_read():
    demo = parse(demo_job_text())
    assert demo.boat.name == "Dunlin"
    assert [engine.id for engine in demo.engines] == ["A", "B", "C", "D"]
    assert demo.mounting.engine == "B"
    assert len(demo.holes) == 4


# --- the file -------------------------------------------------------------------------------------


def test_read_job_reads_a_file_with_a_byte_order_mark_and_any_line_end(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_bytes(b"\xef\xbb\xbf" + job("[transom]\nrake = 13").replace("\n", "\r\n").encode())
    assert read_job(path, CATALOGUE).transom.rake.value == 13.0
    assert read_job(str(path), CATALOGUE) == read_job(path, CATALOGUE)


def test_a_text_with_a_byte_order_mark_is_read_as_well():
    assert parse("\ufeff" + job()) == parse(job())


def test_a_missing_file(tmp_path):
    with pytest.raises(JobFileError, match=r"boat\.toml: there is no such file; .*rigfit new"):
        read_job(tmp_path / "boat.toml", CATALOGUE)


def test_a_folder(tmp_path):
    with pytest.raises(JobFileError, match="it is a folder; give the name of a job file"):
        read_job(tmp_path, CATALOGUE)


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
def test_a_pipe_does_not_hang(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(JobFileError, match="device or pipe"):
        read_job(tmp_path / "pipe", CATALOGUE)


def test_a_large_file_is_refused_before_it_is_read(tmp_path, monkeypatch):
    path = tmp_path / "boat.toml"
    with path.open("wb") as stream:
        stream.truncate(LARGEST_BYTES + 1)
    monkeypatch.setattr(Path, "open", lambda *args: pytest.fail("it was opened"))
    with pytest.raises(JobFileError, match=r"2\.0 MB; a job has at most 2 MB"):
        read_job(path, CATALOGUE)


@pytest.mark.parametrize(
    ("number", "words"), [(errno.EACCES, "not permitted"), (errno.EIO, "cannot be read")]
)
def test_a_file_that_cannot_be_opened(tmp_path, monkeypatch, number, words):
    path = tmp_path / "boat.toml"
    path.write_text(job())

    def refuse(*args):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(JobFileError, match=words):
        read_job(path, CATALOGUE)


@pytest.mark.parametrize("name", ["a\0b", "n" * 4000, "a\nb", "\x1b[31mred", "half\udc80"])
def test_impossible_names_end_in_one_printable_sentence(tmp_path, name):
    with pytest.raises(JobFileError) as caught:
        read_job(tmp_path / name, CATALOGUE)
    assert_one_sentence(caught.value)
    str(caught.value).encode("utf-8")


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\xff\xfef\x00", "UTF-16; save it as UTF-8"),
        (b"\xfe\xff\x00f", "UTF-16; save it as UTF-8"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "this is not a text file"),
        (b'format = 1\n[boat]\nname = "D\xfcnlin"', "line 3 is not in UTF-8"),
    ],
)
def test_bytes_that_are_no_text(data, words):
    with pytest.raises(JobFileError, match=words):
        decode_job(data, "boat.toml")


# --- bad texts: what stands in the file, and words the sentence must have -------------------------

HALF = "[transom]\nheight_along_face = "
BAD = [
    # the grammar
    ("format = 1\nrake = 13°", ["line 2", "rake = 13°", "quotes"]),
    ("format = 1\nrake = 13 deg", ["line 2", "something follows the value", "quotes"]),
    ("format = 1\nrake = 12,5", ["line 2", "quotes"]),
    ("format = 1\nrake = thirteen", ["line 2", "cannot be read", "quotes"]),
    ("format = 1\nrake 13", ["line 2", "the = between"]),
    ("format = 1\nrake = ", ["line 2", "cannot be read"]),
    ("format = 1\nformat = 1", ["line 2", "the same name is used twice", "one of the two"]),
    ("[boat]\n[boat]", ["line 2", "the same table is written twice"]),
    ('[boat]\nname = "Dunlin\n', ["line 2", "closing quote is missing"]),
    ("[boat]\nname = 'Dunlin", ["closing quote", "end of the file"]),
    ('[boat]\nname = "a\\qb"', ["line 2", "backslash"]),
    ("engine = [1, 2\n", ["] that closes a list"]),
    ("boat = {name = 1\n", ["line 1", "} that closes a table"]),
    ("[boat\n", ["line 1", "] that closes the table's name"]),
    ("= 3", ["line 1", "no # remark"]),
    ("# \x01\n", ["line 1", "cannot be seen"]),
    ('[boat]\nname = "\\ud800"', ["line 2", "breaks the rules of TOML"]),
    ("a = " + "[" * 5000, ["too deeply"]),
    ("a = " + "9" * 9000, ["too many digits"]),
    ("x." * 5000 + "a = 1", ["line 1", "names by dots"]),
    # the format
    ("", ["does not say format = 1", "rigfit new"]),
    ("[boat]\nname = 'Dunlin'", ["does not say format = 1"]),
    ("format = 2", ["format 2", "up to format 1", "newer rigfit"]),
    ("format = 0", ["format is 0, which is not known"]),
    ("format = -1", ["format is -1, which is not known"]),
    ("format = true", ["format is true, which is not known"]),
    ("format = 1.0", ["format is 1.0, which"]),
    ('format = "1"', ['format is "1", which']),
    ("format = []", ["format is a list, which"]),
    ("format = " + "9" * 4000, ["very many digits"]),
    # tables and keys
    (job("[transum]\n"), ['"transum"', 'write "transom"']),
    (job("[zzz]\n"), ['"zzz"', "the tables are units, boat"]),
    (job("rake = 13\n"), ['"rake"', "move it to [transom]"]),
    (job("[transom]\nrack = 13"), ["[transom]", '"rack"', 'write "rake"']),
    (job("[boat]\nrake = 13"), ["[boat]", '"rake"', "belongs to [transom]"]),
    (job("[boat]\nqqqqq = 13"), ["[boat]", '"qqqqq"', "known are name, hull_kind"]),
    (job("", engine=ENGINE + "mas = 3"), ["engine 1", '"A"', '"mas"', '"mass"']),
    (job("boat = 3"), ["[boat]", "boat is a whole number", "write a table [boat]"]),
    (job("[[boat]]\n"), ["boat is a list", "single brackets"]),
    (job(engine="[engine]\nid = 'A'"), ["engine is a table", "[[engine]] in double brackets"]),
    (job(engine="engine = [1]"), ["engine is a list", "double brackets"]),
    (job("hole = 3"), ["[[hole]]", "a whole number"]),
    (job(engine=""), ["no engine", "[[engine]]", 'id = "A"']),
    (job(engine="engine = []"), ["no engine", "[[engine]]"]),
    # types
    (job(f"{HALF}true"), ["height_along_face", "this is true", "a length is wanted"]),
    (job(f"{HALF}[518]"), ["height_along_face", "a list", '"518 mm"']),
    (job(f"{HALF}{{a = 1}}"), ["height_along_face", "a table"]),
    (job(f"{HALF}2024-05-01"), ["height_along_face", "a date"]),
    (job(f"{HALF}10:30:00"), ["height_along_face", "a date or time"]),
    (job(f"{HALF}nan"), ["height_along_face", "nan", "finite"]),
    (job(f"{HALF}inf"), ["height_along_face", "inf", "finite"]),
    (job(f"{HALF}-inf"), ["height_along_face", "-inf"]),
    (job(f"{HALF}{'9' * 300}"), ["height_along_face", "too large"]),
    (job("[boat]\nname = 3"), ["[boat], name", "3 is a whole number", "in quotes"]),
    (job("[boat]\nname = ['a']"), ["[boat], name", "this is a list", "in quotes"]),
    (job(engine="[[engine]]\nid = 1"), ["engine 1, id", "whole number", "quotes"]),
    (job("[mounting]\nrow = true"), ["[mounting], row", "true"]),
    (job("[mounting]\nrow = 2.5"), ["[mounting], row", "2.5", "whole number"]),
    # entries
    (job(f'{HALF}"518 kg"'), ["[transom], height_along_face", "mass", "length"]),
    (job(f'{HALF}"518 nm"'), ["[transom], height_along_face", "nm"]),
    (job(f'{HALF}"tall"'), ["[transom], height_along_face", "tall", "number"]),
    (job(f'{HALF}"518 ± -3"'), ["height_along_face", "negative tolerance"]),
    (job(f'{HALF}"{"5" * 90}"'), ["height_along_face", "90 characters"]),
    # limits
    (job(f"{HALF}95"), ["95 mm", "too small", "200 mm to 1100 mm"]),
    (job(f"{HALF}1100.5"), ["1100.5 mm", "too large", "200 mm to 1100 mm"]),
    (job(f"{HALF}20.375"), ["20.375 mm", "too small", 'write "20.375 in" if']),
    (job(f"{HALF}50.8"), ["50.8 mm", "too small", 'write "50.8 cm" if']),
    (job(f'{HALF}"20.375 ± 0.1"'), ['write "20.375 ± 0.1 in" if']),
    (job(f'{HALF}"95 mm"'), ["too small", "measure again"]),
    (job("[boat]\nlength = 5.2"), ["5.2 mm", 'write "5.2 m" if', "2000 mm to 15000 mm"]),
    (
        job('[units]\nentries = "inch"\n' + f"{HALF}518"),
        ["518 in", "too large", "7.874 in to 43.307 in", 'write "518 mm" if'],
    ),
    (job("[transom]\nrake = 36"), ["[transom], rake", "36 deg", "-10 deg to 35 deg"]),
    (job("[mounting]\nrow = 0"), ["[mounting], row", "0", "1 to 20", "stay inside"]),
    (job(engine=ENGINE + 'mass = "900 kg"'), ["engine 1", "mass", "900 kg", "5 kg to 700 kg"]),
    (job(engine=ENGINE + "power = 900"), ["power", "900 hp", "too large"]),
    (job(f'{HALF}"518 ± 600"'), ["the tolerance", "too large", "at most 450 mm"]),
    # words
    (job('[units]\nentries = "imperial"'), ["[units], entries", '"imperial"', "metric, inch"]),
    (job('[boat]\nhull_kind = "planing-v"'), ["hull_kind", '"planing-v"', '"planing-vee"']),
    (job('[bracket]\nkind = "plate"'), ["[bracket], kind", '"plate"', "none, plate-fixed"]),
    (job("[bracket]\nkind = 3"), ["[bracket], kind", "3 is a whole number"]),
    (
        job(engine='[[engine]]\nid = "A"\nengine_class = "medium-75-100"'),
        ['engine 1 "A", engine_class', '"medium-75-115"'],
    ),
    # names
    (job(f'[boat]\nname = "{"n" * 201}"'), ["[boat], name", "201 characters", "200"]),
    (job('[boat]\nname = "a\\nb"'), ["[boat], name", "U+000A", "one line"]),
    (job('[boat]\nname = "\\u001b[31m"'), ["[boat], name", "U+001B"]),
    # required and together
    (job(engine="[[engine]]\nname = 'x'"), ["engine 1", "id", "not filled in", '"A"']),
    (job(engine="[[engine]]\nid = ''"), ["engine 1, id", "not filled in"]),
    (job(engine="[[engine]]\nid = 'A'"), ["engine_class", "not filled in"]),
    (job(HOLE + HOLE.replace("diameter = 13.5", "")), ["hole 2, diameter", "not filled in"]),
    (job(HOLE + HOLE.replace("100", "9000")), ["hole 2, across", "too large"]),
    (job(engine=ENGINE + ENGINE), ["boat.toml", 'two engines have the id "A"']),
    (job('[mounting]\nengine = "Z"'), ["boat.toml", '"Z" is not in the job', "A"]),
    (job(engine="[[engine]]\n" * 201), ["there are 201", "at most 200"]),
]


@pytest.mark.parametrize(("text", "words"), BAD, ids=[str(index) for index in range(len(BAD))])
def test_a_bad_text_ends_in_one_sentence(text, words):
    with pytest.raises(RigfitError) as caught:
        parse(text)
    sentence = str(caught.value)
    assert sentence.startswith("boat.toml")
    assert_one_sentence(caught.value)
    for word in words:
        assert word in sentence


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("format = 2", NewerFormatError),
        ("format = 0", JobFileError),
        (job("[transom]\nrack = 1"), JobFileError),
        (job("[transom]\nrake = 99"), EntryError),
        (job(engine=ENGINE * 2), JobError),
    ],
)
def test_each_trouble_has_its_own_class(text, kind):
    with pytest.raises(RigfitError) as caught:
        parse(text)
    assert type(caught.value) is kind


def test_limits_are_inclusive():
    for value in (200, 1100):
        assert parse(job(f"{HALF}{value}")).transom.height_along_face.value == value


def test_too_many_holes_are_refused(monkeypatch):
    monkeypatch.setitem(job_reading.MOST_ITEMS, "hole", 2)
    assert len(parse(job(HOLE * 2)).holes) == 2
    with pytest.raises(JobFileError, match=re.escape("[[hole]]: there are 3; at most 2")):
        parse(job(HOLE * 3))


def test_an_engine_may_be_missing_while_a_job_is_begun():
    text = job("[transom]\nrake = 13", engine="")
    assert parse_job(text, "x", CATALOGUE, engines_needed=False).transom.rake.value == 13.0


def test_all_problems_are_listed():
    text = job("[transom]\nrack = 1\nrake = 99\n[boat]\nname = 3", engine=ENGINE + "mass = 9000")
    sentences = [str(error) for error in job_problems(text, "boat.toml", CATALOGUE)]
    assert len(sentences) == 4
    for words in ("[boat], name", '"rack"', "[transom], rake", 'engine 1 "A", mass'):
        assert sum(words in sentence for sentence in sentences) == 1


def test_a_good_job_has_no_problems_and_a_broken_file_has_one():
    assert job_problems(job(), "boat.toml", CATALOGUE) == ()
    assert len(job_problems("rake = 13°", "boat.toml", CATALOGUE)) == 1
    assert len(job_problems("format = 9", "boat.toml", CATALOGUE)) == 1
    assert len(job_problems(job(engine=ENGINE * 2), "boat.toml", CATALOGUE)) == 1


def test_a_file_full_of_problems_stops_being_read():
    text = job("[boat]\n" + "".join(f"k{index} = 1\n" for index in range(5000)))
    assert len(job_problems(text, "boat.toml", CATALOGUE)) == job_reading.MOST_PROBLEMS


# --- never a traceback ----------------------------------------------------------------------------

SNIPPETS = st.lists(
    st.sampled_from(
        [
            *(
                "format = 1",
                "[boat]",
                "[transom]",
                "[[engine]]",
                "[[hole]]",
                "[mounting]",
                "[engine]",
            ),
            *(
                'id = "A"',
                'engine_class = "medium-75-115"',
                "rake = 13",
                'rake = "13°"',
                "rake = nan",
            ),
            *("across = -1", "below_top = 48", "diameter = 13", "row = 3", 'row = "x"', "name = 1"),
            *('name = "\\u0000"', "a.b = 1", "= =", "]", '"""', "format = 9", "engine = []", "# x"),
        ]
    ),
    max_size=12,
).map("\n".join)


def only_a_sentence(data):
    try:
        text = decode_job(data, "boat.toml")
        assert isinstance(parse(text), Job)
    except RigfitError as error:
        assert_one_sentence(error)


@given(st.binary(max_size=200))
@settings(max_examples=300)
def test_any_bytes(data):
    only_a_sentence(data)


@given(st.text(max_size=120))
def test_any_text(text):
    only_a_sentence(text.encode("utf-8", "surrogatepass"))


@given(SNIPPETS)
@settings(max_examples=300)
def test_any_heap_of_lines(text):
    only_a_sentence(text.encode())


@given(st.data())
def test_the_demo_with_one_bite_out_of_it(data):
    whole = demo_job_text().encode()
    start = data.draw(st.integers(0, len(whole)))
    stop = data.draw(st.integers(start, min(len(whole), start + 40)))
    only_a_sentence(whole[:start] + data.draw(st.binary(max_size=4)) + whole[stop:])


@given(st.text(max_size=60), st.sampled_from(["rake", "thickness"]))
def test_any_entry(typed, key):
    escaped = "".join(f"\\U{ord(char):08X}" for char in typed if not 0xD800 <= ord(char) < 0xE000)
    only_a_sentence(job(f'[transom]\n{key} = "{escaped}"').encode())
