import json
import os
import re
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import jsonschema
import pytest

from rigfit.command_line import run
from rigfit.errors import UsageError
from rigfit.records.profiles import demo_job_text
from rigfit.wording import CAUTIONS
from tests.demo_reports import ENGINES, ROOT

COMMANDS = (
    "app",
    "new",
    "check",
    "heights",
    "holes",
    "swing",
    "underway",
    "draw",
    "template",
    "cut",
    "schema",
    "demo",
)
ESCAPE = "\x1b["
REPORT_KEYS = {"format", "verdict", "plate", "heights", "findings"}
PLATE_KEYS = {"height_mm", "tolerance_mm", "target_low_mm", "target_high_mm", "setback_rise_mm"}
HEIGHT_KEYS = {"row", "lift_mm", "plate_height_mm", "tolerance_mm", "off_target_mm", "verdict"}
FINDING_KEYS = {
    "code", "subject", "verdict", "value", "limit", "unit", "margin", "tolerance", "sentence",
    "source",
}  # fmt: skip


@dataclass
class Said:
    status: int
    out: str
    err: str


@pytest.fixture
def here(tmp_path, monkeypatch):
    """An empty folder to work in, with the demo job in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("NO_COLOR", raising=False)
    (tmp_path / "demo.toml").write_bytes(demo_job_text().encode())
    return tmp_path


@pytest.fixture
def rigfit(here, capsys):
    def call(*arguments):
        status = run(arguments)
        said = capsys.readouterr()
        return Said(status, said.out, said.err)

    return call


def environment(**changes):
    kept = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    return kept | {"PYTHONPATH": str(ROOT)} | changes


def process(folder, *arguments, **changes):
    """Run rigfit as its own process, warnings as errors."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "rigfit", *arguments],
        cwd=folder, env=environment(**changes), capture_output=True, check=False,
    )  # fmt: skip


def edited(*pairs):
    text = demo_job_text()
    for old, new in pairs:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    return text


IN_INCHES = ('lengths = "mm"', 'lengths = "in"')
UNDRILLED = (("row = 2\n", ""), ('upper_holes_below_top = "48 ± 0.2 mm"', ""))
JOBS = {
    "mm": edited(),
    "inch": edited(IN_INCHES),
    "bare": edited(*UNDRILLED),
    "bare-inch": edited(IN_INCHES, *UNDRILLED),
    "bracket": edited(('kind = "none"', 'kind = "plate-stepped"')),
    "bracket-inch": edited(IN_INCHES, ('kind = "none"', 'kind = "plate-stepped"')),
    "long-id": edited(('engine = "B"\n', ""), ('id = "A"', f'id = "{"the-old-one-" * 5}"')),
    "long-name": edited(('name = "the ferry-town advert"', f'name = "{"mist " * 39}"')),
}
"""The demo job as a user might have changed it."""

# ---------------------------------------------------------------- help


@pytest.mark.parametrize(
    ("arguments", "job"), [([], None), (["app"], None), (["app", "my-boat.toml"], "my-boat.toml")]
)
def test_the_window_is_opened_with_its_job(arguments, job):
    opened = []

    def open_window(job):
        opened.append(job)
        return 0

    assert run(arguments, open_window) == 0
    assert opened == [job]


def test_what_keeps_the_window_shut_is_said_in_a_sentence(capsys):
    def open_window(_job):
        raise UsageError("no window can be opened here", cure="use rigfit check")

    assert run([], open_window) == 2
    assert capsys.readouterr().err == ("rigfit: no window can be opened here; use rigfit check.\n")


def test_without_a_screen_the_window_names_the_other_ways(here):
    said = process(here, "app", DISPLAY="", WAYLAND_DISPLAY="")
    assert said.returncode == 2
    words = said.stderr.decode()
    assert words.startswith("rigfit: ")
    assert "rigfit check" in " ".join(words.split())
    assert "Traceback" not in words


def test_no_arguments_print_the_help(rigfit):
    said = rigfit()
    assert said.status == 0
    assert "rigfit check my-boat.toml" in said.out
    assert said.err == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_a_command_has_an_example(command, rigfit, capsys):
    with pytest.raises(SystemExit) as end:
        rigfit(command, "--help")
    text = capsys.readouterr().out
    assert end.value.code == 0
    assert re.search(rf"^example:\n  rigfit {command}\b", text, re.MULTILINE)
    assert max(map(len, text.splitlines())) <= 80


@pytest.mark.parametrize("command", COMMANDS)
def test_the_first_help_names_every_command(command, rigfit):
    assert re.search(rf"^    {command} +\w", rigfit().out, re.MULTILINE)


def test_every_example_in_the_first_help_runs(rigfit):
    examples = re.findall(r"^  rigfit (\S.+?)(?:  .*)?$", rigfit().out, re.MULTILINE)
    examples = [line for line in examples if not line.startswith("open")]
    assert len(examples) == 11
    # A new job stops nothing yet, but has no leg to make a template for.
    done = {line: rigfit(*line.split()).status for line in examples}
    assert done.pop("template my-boat.toml out") == 2
    assert set(done.values()) == {0}


# ---------------------------------------------------------------- text


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize(
    "command", ["check", "check --working", "check --all", "check --engine D", "heights", "holes"]
)
def test_no_line_is_wider_than_80(name, command, rigfit, here):
    (here / "demo.toml").write_text(JOBS[name], encoding="utf-8")
    verb, *options = command.split()
    lines = rigfit(verb, "demo.toml", *options).out.splitlines()
    assert len(lines) > 5
    assert [line for line in lines if len(line) > 80] == []


def test_no_line_of_the_demo_is_wider_than_80(rigfit, here):
    lines = rigfit("demo", "out").out.splitlines()
    # A path is never broken, however long.
    rest = [line for line in lines if str(here) not in line]
    assert len(rest) >= len(lines) - 1
    assert [line for line in rest if len(line) > 80] == []


def test_a_new_job_prints_within_80(rigfit):
    rigfit("new", "sandpiper.toml")
    lines = rigfit("check", "sandpiper.toml", "--working").out.splitlines()
    assert any("unknown" in line for line in lines)
    assert [line for line in lines if len(line) > 80] == []


@pytest.mark.parametrize("name", ["mm", "inch"])
def test_the_mounted_row_is_marked(name, rigfit, here):
    (here / "demo.toml").write_text(JOBS[name], encoding="utf-8")
    marked = [line for line in rigfit("heights", "demo.toml").out.splitlines() if line[:1] == ">"]
    assert len(marked) == 1
    assert marked[0].split()[1] == "2"


def test_each_verdict_stands_as_sign_and_word(rigfit):
    text = rigfit("check", "demo.toml", "--all").out
    assert all(said in text for said in ("? unknown", "= fits", "! stops", "~ tight"))


def test_the_other_engines_are_named(rigfit):
    assert "Other engines in the job: A, C, D." in rigfit("check", "demo.toml").out


@pytest.mark.parametrize("command", ["check", "check --all"])
def test_all_cautions_are_printed(command, rigfit):
    verb, *options = command.split()
    text = " ".join(rigfit(verb, "demo.toml", *options).out.split())
    assert [caution for caution in CAUTIONS if caution not in text] == []


# ---------------------------------------------------------------- exit status


@pytest.mark.parametrize(("engine", "status"), [("A", 0), ("B", 0), ("C", 1), ("D", 0)])
@pytest.mark.parametrize("command", ["check", "heights"])
def test_the_status_tells_whether_something_stops(engine, status, command, rigfit):
    assert rigfit(command, "demo.toml", "--engine", engine).status == status


def test_a_template_for_an_engine_that_stops_warns(rigfit):
    said = rigfit("template", "demo.toml", "out", "--engine", "C")
    assert said.status == 1
    assert "Do not drill yet" in said.out


@pytest.mark.parametrize("options", [["--all"], ["--all", "--json"], ["--engine", "C", "--json"]])
def test_one_engine_that_stops_decides_the_status(options, rigfit):
    assert rigfit("check", "demo.toml", *options).status == 1


# ---------------------------------------------------------------- data


def test_the_report_as_data_has_the_documented_keys(rigfit):
    data = json.loads(rigfit("check", "demo.toml", "--json").out)
    assert data.keys() >= REPORT_KEYS
    assert data["plate"].keys() >= PLATE_KEYS
    assert data["format"] == 1


@pytest.mark.parametrize(
    ("part", "keys"), [("heights", HEIGHT_KEYS), ("findings", FINDING_KEYS)], ids=["heights", "f"]
)
@pytest.mark.parametrize("engine", ENGINES)
def test_each_entry_of_the_data_has_the_documented_keys(part, keys, engine, rigfit):
    data = json.loads(rigfit("check", "demo.toml", "--engine", engine, "--json").out)
    assert len(data[part]) >= 4
    assert all(entry.keys() >= keys for entry in data[part])
    assert len({frozenset(entry) for entry in data[part]}) == 1


def test_data_are_in_millimetres_whatever_the_job_shows(rigfit, here):
    plain = json.loads(rigfit("check", "demo.toml", "--json").out)
    (here / "demo.toml").write_text(JOBS["inch"], encoding="utf-8")
    inch = json.loads(rigfit("check", "demo.toml", "--json").out)
    assert (inch["plate"], inch["heights"]) == (plain["plate"], plain["heights"])
    assert inch["findings"] != plain["findings"]


def test_all_engines_as_data(rigfit):
    data = json.loads(rigfit("check", "demo.toml", "--all", "--json").out)
    assert [entry["engine"] for entry in data] == list(ENGINES)
    assert [entry["verdict"] for entry in data] == ["unknown", "fits", "stops", "tight"]


def test_heights_as_data_are_those_of_the_report(rigfit):
    heights = json.loads(rigfit("heights", "demo.toml", "--json").out)
    report = json.loads(rigfit("check", "demo.toml", "--json").out)
    shared = ("format", "engine", "plate", "heights", "drilling")
    assert heights == {key: report[key] for key in shared}


def test_the_text_and_the_data_agree_on_the_plate(rigfit):
    data = json.loads(rigfit("heights", "demo.toml", "--json").out)
    row = next(
        line.split() for line in rigfit("heights", "demo.toml").out.splitlines() if line[:1] == ">"
    )
    assert float(row[3]) == pytest.approx(data["plate"]["height_mm"], abs=0.5)
    assert float(row[4]) == pytest.approx(data["plate"]["tolerance_mm"], abs=0.05)


@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "cp1252"])
@pytest.mark.parametrize("command", ["schema", "check demo.toml --json"])
def test_data_are_whole_in_any_encoding_of_the_output(encoding, command, here):
    done = process(here, *command.split(), PYTHONIOENCODING=encoding)
    plain = process(here, *command.split(), PYTHONIOENCODING="utf-8")
    assert json.loads(done.stdout) == json.loads(plain.stdout)


# ---------------------------------------------------------------- schema


def test_the_schema_accepts_the_demo_job(rigfit):
    schema = json.loads(rigfit("schema").out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(tomllib.loads(demo_job_text()), schema)


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('rake = "13° ± 0.5°"', 'raek = "13°"', "transom"),
        ('hull_kind = "planing-vee"', 'hull_kind = "bathtub"', "hull_kind"),
        ("gap_150 = 1", "gap_150 = true", "gap_150"),
        ("format = 1", "format = 2", "format"),
    ],
)
def test_the_schema_refuses_a_slip(old, new, where, rigfit):
    schema = json.loads(rigfit("schema").out)
    with pytest.raises(jsonschema.ValidationError) as slip:
        jsonschema.validate(tomllib.loads(edited((old, new))), schema)
    assert where in slip.value.absolute_path


def test_the_schema_accepts_a_new_job(rigfit, here):
    rigfit("new", "sandpiper.toml")
    schema = json.loads(rigfit("schema").out)
    job = tomllib.loads((here / "sandpiper.toml").read_text(encoding="utf-8"))
    assert list(jsonschema.Draft202012Validator(schema).iter_errors(job)) == []


# ---------------------------------------------------------------- new


def test_a_new_job_can_be_checked(rigfit, here):
    made = rigfit("new", "my-boat.toml", "--name", "Sandpiper")
    said = rigfit("check", "my-boat.toml")
    assert (made.status, said.status) == (0, 0)
    assert said.out.startswith("Sandpiper: engine A")


def test_a_new_job_is_named_after_its_file(rigfit):
    rigfit("new", "sandpiper.toml")
    assert rigfit("check", "sandpiper.toml").out.startswith("sandpiper: engine A")


@pytest.mark.parametrize("name", ['"', "\\", "ß ø €", "a'b\"c", "[x]"])
def test_a_new_job_keeps_any_name(name, rigfit, here):
    assert rigfit("new", "x.toml", "--name", name).status == 0
    job = tomllib.loads((here / "x.toml").read_text(encoding="utf-8"))
    assert job["boat"]["name"] == name


def test_new_leaves_an_existing_file(rigfit, here):
    said = rigfit("new", "demo.toml")
    assert said.status == 2
    assert "demo.toml exists already" in said.err
    assert (here / "demo.toml").read_bytes() == demo_job_text().encode()


def test_new_leaves_a_folder(rigfit, here):
    (here / "boats").mkdir()
    said = rigfit("new", "boats")
    assert (said.status, said.out) == (2, "")
    assert "boats exists already" in said.err


# ---------------------------------------------------------------- outputs


@pytest.mark.parametrize(
    ("ending", "start"),
    [("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF-"), ("dxf", b"  0\r\nSECTION")],
)
def test_draw_writes_what_the_ending_says(ending, start, rigfit, here):
    said = rigfit("draw", "demo.toml", f"side.{ending}")
    assert (said.status, said.err) == (0, "")
    assert (here / f"side.{ending}").read_bytes().startswith(start)


def test_the_date_and_the_paper_are_printed(rigfit, here):
    rigfit("draw", "demo.toml", "side.dxf", "--paper", "Tabloid", "--date", "14 March")
    text = (here / "side.dxf").read_text(encoding="ascii")
    assert "Tabloid" in text
    assert "14 March" in text


def test_a_dark_sheet_differs(rigfit, here):
    rigfit("draw", "demo.toml", "a.svg")
    rigfit("draw", "demo.toml", "b.svg", "--dark")
    assert (here / "a.svg").read_bytes() != (here / "b.svg").read_bytes()


def test_the_template_says_how_to_prove_the_scale(rigfit, here):
    said = rigfit("template", "demo.toml", "out")
    assert said.status == 0
    assert "Measure the 100 mm square" in said.out
    assert {path.name for path in (here / "out").iterdir()} == {
        "dunlin-B-template.dxf",
        "dunlin-B-cut.dxf",
    }


@pytest.mark.parametrize(
    ("typed", "millimetres"), [("52 mm", "52"), ("60", "60"), ("2 1/2 in", "63.5"), ("6cm", "60")]
)
def test_the_upper_holes_can_be_moved(typed, millimetres, rigfit, here):
    said = rigfit("template", "demo.toml", "out", "--below-top", typed)
    # Anywhere but at 48 mm the new holes break into the old ones; the template shows where.
    assert said.status == 1
    assert "Do not drill yet" in said.out
    text = (here / "out" / "dunlin-B-template.dxf").read_text(encoding="ascii")
    assert f"upper port: 163.5 to port, {millimetres} below the top" in text


def test_a_bare_number_of_an_inch_job_is_inches(rigfit, here):
    job = edited(
        ('entries = "metric"', 'entries = "inch"'),
        *((f"gap_{place} = 1", f'gap_{place} = "1 mm"') for place in (150, 300, 600)),
    )
    (here / "demo.toml").write_text(job, encoding="utf-8")
    assert rigfit("template", "demo.toml", "out", "--below-top", "2").status == 1
    text = (here / "out" / "dunlin-B-template.dxf").read_text(encoding="ascii")
    assert "50.8 below the top" in text


def test_the_demo_writes_what_it_lists(rigfit, here):
    said = rigfit("demo", "out")
    listed = set(re.findall(r"^((?:dunlin)\S+)  ", said.out, re.MULTILINE))
    assert said.status == 0
    assert listed == {path.name for path in (here / "out").iterdir()}
    assert len(listed) == 28


# ---------------------------------------------------------------- the terminal


def test_there_are_no_colours_in_a_pipe(here):
    done = process(here, "check", "demo.toml", TERM="xterm")
    assert (done.returncode, done.stderr) == (0, b"")
    assert ESCAPE.encode() not in done.stdout
    assert "FITS" in done.stdout.decode()


def on_terminal(folder, *arguments, **changes):
    """Return what a process writes when its output is a terminal."""
    pty = pytest.importorskip("pty", reason="this system has no pseudo-terminals")
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "rigfit", *arguments],
        cwd=folder, env=environment(**changes), stdout=theirs, stderr=theirs,
    ) as running:  # fmt: skip
        os.close(theirs)
        parts = []
        try:
            while part := os.read(ours, 65536):
                parts.append(part)
        except OSError:  # a terminal whose other end is closed reports a fault, not an end
            pass
        os.close(ours)
        running.wait()
    return b"".join(parts).decode()


@pytest.mark.parametrize("command", ["check", "heights", "check --all"])
def test_a_terminal_gets_colours(command, here):
    verb, *options = command.split()
    text = on_terminal(here, verb, "demo.toml", *options, TERM="xterm")
    assert f"{ESCAPE}32m" in text
    assert text.count(ESCAPE) == 2 * text.count(f"{ESCAPE}0m")


@pytest.mark.parametrize("changes", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_a_terminal_can_be_kept_plain(changes, here):
    text = on_terminal(here, "check", "demo.toml", **({"TERM": "xterm"} | changes))
    assert "FITS" in text
    assert ESCAPE not in text


def test_colours_change_nothing_but_colours(here):
    plain = on_terminal(here, "heights", "demo.toml", TERM="dumb")
    painted = on_terminal(here, "heights", "demo.toml", TERM="xterm")
    assert re.sub(r"\x1b\[[0-9;]*m", "", painted) == plain


@pytest.mark.parametrize(
    "command", ["check demo.toml --working", "heights demo.toml", "schema", "check --help"]
)
def test_a_reader_that_goes_away_is_no_error(command, here):
    read, write = os.pipe()
    os.close(read)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "rigfit", *command.split()],
            cwd=here, env=environment(), stdout=write, stderr=subprocess.PIPE, check=False,
        )  # fmt: skip
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("command", ["check demo.toml --working", "heights demo.toml", "demo out"])
def test_a_terminal_in_ascii_gets_question_marks(command, here):
    done = process(here, *command.split(), PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.isascii()


def test_an_error_in_ascii_is_still_a_sentence(here):
    done = process(here, "check", "gr\u00fcn.toml", PYTHONIOENCODING="ascii", PYTHONUTF8="1")
    assert done.returncode == 2
    assert done.stderr.startswith(b"rigfit: gr?n.toml: there is no such file")


@pytest.mark.parametrize(("engine", "status"), [("B", 0), ("C", 1), ("Q", 2)])
def test_a_process_ends_with_the_status(engine, status, here):
    done = process(here, "check", "demo.toml", "--engine", engine)
    assert done.returncode == status
    assert bool(done.stderr) == (status == 2)


def test_the_version_is_printed(here):
    done = process(here, "--version")
    assert re.fullmatch(rb"rigfit \d+\.\d+\.\d+\r?\n", done.stdout)


# ---------------------------------------------------------------- bad input


def put(text=None, *, data=None, name="demo.toml"):
    def prepare(folder):
        path = folder / name
        if data is not None:
            path.write_bytes(data)
        else:
            path.write_text(text, encoding="utf-8")

    return prepare


def changed(*pairs):
    return put(edited(*pairs))


def sparse(folder):
    with (folder / "demo.toml").open("wb") as stream:
        stream.truncate(50_000_000)


def as_folder(name):
    return lambda folder: (folder / name).mkdir()


def no_job(folder):
    (folder / "demo.toml").unlink()


def nothing(folder):
    pass


def no_engine(folder):
    text = demo_job_text().partition("[[engine]]")[0].replace('engine = "B"\n', "")
    put(text)(folder)


BELOW = ["template", "demo.toml", "out", "--below-top"]
CHECK = ["check", "demo.toml"]
BAD = {
    # name: what is done to the folder, the command, words the sentence must hold
    "missing": (no_job, CHECK, ["demo.toml", "no such file", "rigfit new"]),
    "folder": (as_folder("boats"), ["check", "boats"], ["boats", "folder", "give the name"]),
    "binary": (put(data=bytes(range(256)) * 9), CHECK, ["demo.toml", "not a text file"]),
    "large": (sparse, CHECK, ["demo.toml", "50.0 MB", "at most 2 MB"]),
    "utf-16": (put(data=edited().encode("utf-16")), CHECK, ["UTF-16", "save it as UTF-8"]),
    "utf-16-bare": (put(data=edited().encode("utf-16-le")), CHECK, ["demo.toml", "give the name"]),
    "latin-1": (put(data='rake = "13°"'.encode("latin-1")), CHECK, ["line 1", "save it as UTF-8"]),
    "empty": (put(""), CHECK, ["demo.toml", "format = 1", "rigfit new"]),
    "not-toml": (put("format = 1\nrake 13"), CHECK, ["line 2", "rake 13", "write an entry"]),
    "twice": (
        changed(("gap_150 = 1", "gap_150 = 1\ngap_150 = 2")),
        CHECK,
        ["demo.toml", "gap_150 = 2", "used twice", "keep one"],
    ),
    "nan": (changed(("gap_150 = 1", "gap_150 = nan")), CHECK, ["[keel_line]", "gap_150", "nan"]),
    "inf": (changed(("gap_150 = 1", "gap_150 = inf")), CHECK, ["gap_150", "inf", "finite"]),
    "inf-text": (changed(("gap_150 = 1", 'gap_150 = "inf"')), CHECK, ["gap_150", "inf"]),
    "negative": (
        changed(('"518 ± 3 mm"', '"-518 mm"')),
        CHECK,
        ["[transom]", "height_along_face", "-518 mm", "200 mm to 1100 mm", "measure again"],
    ),
    "rake-80": (changed(('"13° ± 0.5°"', '"80°"')), CHECK, ["rake", "80°", "35", "measure"]),
    "leg-5-m": (
        changed(('leg_measured = "640 mm"', 'leg_measured = "5 m"')),
        CHECK,
        ["engine 3", "leg_measured", "5 m", "900 mm"],
    ),
    "cm-for-mm": (changed(('"640 mm"', "64")), CHECK, ["leg_measured", '"64 cm"']),
    "no-engine": (no_engine, CHECK, ["[[engine]]", "no engine", "add a table"]),
    "unknown-key": (changed(("rake =", "raek =")), CHECK, ["[transom]", "raek", '"rake"']),
    "unknown-table": (changed(("[transom]", "[transon]")), CHECK, ["transon", '"transom"']),
    "newer": (changed(("format = 1", "format = 7")), CHECK, ["format 7", "newer rigfit"]),
    "unknown-class": (
        changed(('"medium-40-60"', '"medium-40-61"')),
        CHECK,
        ["engine_class", "medium-40-61", '"medium-40-60"'],
    ),
    "two-engines-a": (changed(('id = "D"', 'id = "A"')), CHECK, ["demo.toml", '"A"', "its own"]),
    "chosen-engine": (changed(('engine = "B"', 'engine = "Z"')), CHECK, ["Z", "A, B, C, D"]),
    "row": (changed(("row = 2", "row = 9")), CHECK, ["row 9", "1 to 4", "choose a row"]),
    "row-0": (changed(("row = 2", "row = 0")), CHECK, ["row", "0", "1 to 20"]),
    "engine": (nothing, [*CHECK, "--engine", "Q"], ['"Q"', "A, B, C, D", "use one"]),
    "command": (nothing, ["chek", "demo.toml"], ["chek", "check", "rigfit --help"]),
    "option": (nothing, [*CHECK, "--colour"], ["--colour", "--help"]),
    "no-job-named": (nothing, ["check"], ["JOB", "rigfit check --help"]),
    "ending": (nothing, ["draw", "demo.toml", "side.gif"], [".gif", ".svg, .png, .pdf, .dxf"]),
    "no-ending": (nothing, ["draw", "demo.toml", "side"], ["without an ending", "give the file"]),
    "paper": (
        nothing,
        ["draw", "demo.toml", "side.svg", "--paper", "B5"],
        ["B5", "A4, A3, Letter"],
    ),
    "draw-nowhere": (nothing, ["draw", "demo.toml", "no/side.svg"], ["no/side.svg", "make the"]),
    "draw-on-folder": (as_folder("a.svg"), ["draw", "demo.toml", "a.svg"], ["a.svg", "folder"]),
    "release": (nothing, ["template", "demo.toml", "out", "--release", "R14"], ["R14", "R2000"]),
    "below-top": (nothing, [*BELOW, "nonsense"], ["--below-top", "nonsense", "508 mm"]),
    "below-top-far": (nothing, [*BELOW, "2 m"], ["--below-top", "2 m", "20 mm to 400 mm"]),
    "below-top-kg": (nothing, [*BELOW, "50 kg"], ["--below-top", "50 kg"]),
    "below-top-empty": (nothing, [*BELOW, ""], ["--below-top"]),
    "out-is-file": (
        put("mine", name="out"),
        ["template", "demo.toml", "out"],
        ["out", "in the way", "choose another name"],
    ),
    "out-below-file": (
        put("mine", name="out"),
        ["demo", "out/below"],
        ["out/below", "a file, not a folder", "choose another folder"],
    ),
    "stated-leg": (
        nothing,
        ["template", "demo.toml", "out", "--engine", "A"],
        ["engine A", "leg is not measured", "leg_measured"],
    ),
    "clamped": (
        changed(('"medium-75-115"', '"portable-8-20"')),
        ["template", "demo.toml", "out"],
        ["engine B", "clamps on", "trace them"],
    ),
    "undecided": (
        changed(*UNDRILLED),
        ["template", "demo.toml", "out"],
        ["upper_holes_below_top", "rigfit heights"],
    ),
    "new-nowhere": (nothing, ["new", "no/x.toml"], ["no/x.toml", "folder does not exist"]),
    "new-long": (nothing, ["new", f"{'x' * 300}.toml"], ["xxx", "too long", "shorter"]),
    "new-name": (nothing, ["new", "x.toml", "--name", "a\nb"], ["U+000A", "one line"]),
    "job-long": (nothing, ["check", "x" * 300], ["xxx", "too long"]),
}


def snapshot(folder):
    """Return everything in a folder, to see whether a command left it alone."""
    return {
        path.relative_to(folder).as_posix(): (
            None if path.is_dir() or path.stat().st_size > 1e6 else path.read_bytes()
        )
        for path in sorted(folder.rglob("*"))
    }


def sentence(said):
    """Return the one sentence on the error stream, its lines joined."""
    assert said.err.startswith("rigfit: ")
    assert said.err.endswith(".\n")
    return said.err.replace("\n", " ").strip()


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_named_with_its_cure(name, rigfit, here):
    prepare, command, words = BAD[name]
    prepare(here)
    said = rigfit(*command)
    assert said.status == 2
    told = sentence(said)
    assert [word for word in words if word not in told] == []


@pytest.mark.parametrize("name", BAD)
def test_bad_input_prints_nothing_else(name, rigfit, here):
    prepare, command, _ = BAD[name]
    prepare(here)
    said = rigfit(*command)
    assert said.out == ""
    assert len(re.findall(r"^rigfit: ", said.err, re.MULTILINE)) == 1
    # A name that is longer than a line has no place to break; it may follow "rigfit: ".
    lines = said.err.removeprefix("rigfit: ").splitlines()
    assert [line for line in lines if len(line) > 80 and " " in line] == []


@pytest.mark.parametrize("name", BAD)
def test_bad_input_leaves_every_file_alone(name, rigfit, here):
    prepare, command, _ = BAD[name]
    prepare(here)
    (here / "side.svg").write_bytes(b"an older drawing")
    if not (here / "out").exists():
        (here / "out").mkdir()
        (here / "out" / "dunlin-B-cut.dxf").write_bytes(b"an older cut file")
    before = snapshot(here)
    rigfit(*command)
    assert snapshot(here) == before


@pytest.mark.parametrize("name", ["missing", "large", "utf-16", "rake-80", "command", "paper"])
def test_bad_input_to_a_process_leaves_no_trace_of_python(name, here):
    prepare, command, _ = BAD[name]
    prepare(here)
    done = process(here, *command)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"rigfit: ")
    assert b"Traceback" not in done.stderr


WRITERS = {
    "draw": (["draw", "demo.toml", "side.svg"], "side.svg"),
    "template": (["template", "demo.toml", "out"], "out/dunlin-B-template.dxf"),
    "demo": (["demo", "out"], "out/dunlin.toml"),
    "new": (["new", "boat.toml"], "boat.toml"),
}


@pytest.mark.parametrize("name", WRITERS)
def test_a_folder_closed_to_writing(name, rigfit, here, monkeypatch):
    command, where = WRITERS[name]
    (here / "out").mkdir()
    before, opened = snapshot(here), os.open

    def closed(path, *rest, **more):
        if str(path).endswith(".part"):
            raise PermissionError(13, "Permission denied")
        return opened(path, *rest, **more)

    monkeypatch.setattr("rigfit.records.saving.os.open", closed)
    said = rigfit(*command)
    assert (said.status, said.out) == (2, "")
    assert f"{where}: writing there is not permitted; choose a folder" in sentence(said)
    assert snapshot(here) == before


def test_a_second_file_that_cannot_be_written_leaves_the_first(rigfit, here):
    out = here / "out"
    (out / "dunlin-B-cut.dxf").mkdir(parents=True)
    (out / "dunlin-B-template.dxf").write_bytes(b"an older template")
    said = rigfit("template", "demo.toml", "out")
    assert said.status == 2
    assert (out / "dunlin-B-template.dxf").read_bytes() == b"an older template"


def test_a_problem_found_after_reading_names_the_file(rigfit, here):
    changed(("row = 2", "row = 9"))(here)
    assert "demo.toml" in sentence(rigfit("check", "demo.toml"))


def test_a_long_path_is_named_whole(rigfit, here):
    deep = Path(*["a-folder-of-some-length"] * 5, "boat.toml")
    assert str(deep) in rigfit("check", str(deep)).err


@pytest.mark.parametrize("tree", ["rigfit", "profiles"])
def test_reading_writes_nothing_into_the_installation(tree, rigfit):
    before = {path for path in (ROOT / tree).rglob("*") if "__pycache__" not in path.parts}
    rigfit("check", "demo.toml", "--all")
    after = {path for path in (ROOT / tree).rglob("*") if "__pycache__" not in path.parts}
    assert after == before
