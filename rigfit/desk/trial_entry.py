"""Runs of sea trials pasted or read from a file: a proposal first, nothing is added by itself.

A table (pasted, or a CSV file) becomes runs. A log of a satellite receiver (GPX or NMEA 0183) puts
speeds into runs that have their time and no speed yet; where there are none, its steady stretches
become runs whose engine speed is still to be filled in. No Tk.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rigfit.desk.draft import FIELDS, Address, Draft
from rigfit.desk.form_state import Derived
from rigfit.desk.plane_pictures import places_of
from rigfit.desk.row_names import counted_rows
from rigfit.desk.worker import Cancelled, Progress, never, silent
from rigfit.errors import EntryError, RigfitError
from rigfit.records.field_values import bare_units, typed_text
from rigfit.records.plain_words import visible
from rigfit.rigging.trial_fields import Run

if TYPE_CHECKING:
    from rigfit.records.track_log import Track
    from rigfit.rigging.steady import Stretch

LARGEST_TABLE = 1_000_000
"""Bytes of a table that are read; the reader of tables refuses more."""

MOST_STRETCHES = 60
"""Stretches of a log that are offered as runs; a trial has a dozen."""


@dataclass(frozen=True, slots=True)
class FileRead:
    """What a file holds: the text of a table, or a track with its steady stretches.

    :param name: of the file, for sentences.
    """

    name: str
    text: str = ""
    track: Track | None = None
    stretches: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True)
class Speeds:
    """Speeds for a run that is there already.

    :param row: which run of the form, from 0.
    :param texts: as they are to be typed, by field.
    """

    row: int
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Found:
    """What would be taken over, and what is said of all that would not.

    :param rows: new runs, as texts by field.
    :param speeds: for runs that are there.
    :param date: day of a track, "" for none; a new trial gets it.
    :param said: what was found, as sentences.
    :param problems: a sentence for everything that cannot be used.
    :param notes: what else to know.
    """

    rows: tuple[Mapping[str, str], ...] = ()
    speeds: tuple[Speeds, ...] = ()
    date: str = ""
    said: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def is_anything(self) -> bool:
        """True where there is something to take over."""
        return bool(self.rows or self.speeds)

    @property
    def button(self) -> str:
        """What taking it over is called."""
        if self.rows:
            return f"Add {counted_rows('run', len(self.rows))}"
        return f"Put speeds into {counted_rows('run', len(self.speeds))}"


# -- reading a file --------------------------------------------------------------------------------


def read_file(path: Path, progress: Progress = silent, cancelled: Cancelled = never) -> FileRead:
    """Return what a file holds; for the worker, as a log may be large.

    :raises EntryError: when it cannot be read, in words.
    """
    from rigfit.records.track_log import SNIFFED, ReadingCancelledError, is_log, read_track

    name = visible(path.name, 60)
    try:
        with path.open("rb") as file:
            start = file.read(SNIFFED)
            file.seek(0)
            if not is_log(start):
                return FileRead(name, _text(file.read(LARGEST_TABLE + 1), name))
            from rigfit.rigging.steady import steady_stretches

            size = path.stat().st_size
            try:
                track = read_track(
                    file, f"the file {name}", size=size, cancelled=cancelled,
                    progress=lambda part: progress(0.9 * part, f"reading {name}"),
                )  # fmt: skip
            except ReadingCancelledError:
                return FileRead(name)
    except RigfitError:
        raise
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "its name cannot be used"
        raise EntryError(
            f"the file {name} cannot be read: {why}", cure="choose another file"
        ) from error
    progress(0.95, "looking for steady stretches")
    stretches = steady_stretches(track.times, track.speeds, track.courses)
    return FileRead(name, track=track, stretches=stretches)


def _text(data: bytes, name: str) -> str:
    if b"\0" in data:
        raise EntryError(
            f"the file {name} is neither a table nor a log",
            allowed="CSV, GPX 1.1, or NMEA 0183 with RMC or VTG",
            cure="save the table as CSV, or the track as GPX",
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:  # as old spreadsheets write it; numbers are the same
        return data.decode("latin-1")


# -- what would be taken over ----------------------------------------------------------------------


def from_text(text: str, entries: str, trial: str) -> Found:
    """Return the runs in the text of a table; never raises for what it holds.

    :param entries: "metric" or "inch", for numbers without a unit.
    :param trial: id of the trial of rows that name none.
    """
    from rigfit.records.trial_paste import parse_runs

    if not text.strip():
        return Found()
    pasted = parse_runs(text, entries, trial)
    rows = tuple(_texts(run, entries) for run in pasted.runs)
    said = (f"{counted_rows('run', len(rows)).capitalize()} can be read.",) if rows else ()
    problems = tuple(_begun(problem.sentence()) for problem in pasted.problems)
    if not rows and not problems:
        problems = ("There is no run below the headings.",)
    return Found(rows, said=said, problems=problems, notes=pasted.notes)


def from_track(read: FileRead, derived: Derived, trial: str) -> Found:
    """Return what a log gives: speeds for the timed runs of a trial, else runs without rpm.

    :param trial: id of the trial.
    """
    from rigfit.rigging.steady import with_speeds

    track = read.track
    if track is None:
        return Found()
    told = track.told
    found = read.stretches
    said = (f"{read.name}: {told[0]}", _stretch_words(found))
    if not found:
        problem = "No speed was held for 20 s; there is nothing to take over."
        return Found(said=said[:1], problems=(problem,), notes=told[1:])
    matched = with_speeds(derived.job, found, trial)
    speeds = tuple(_new_speeds(derived, matched.job.runs))
    notes = (*matched.told, *told[1:])
    if speeds:
        return Found(speeds=speeds, date=_day(found), said=said, notes=notes)
    rows = tuple(_pairs(found, trial))
    more = (f"Only the first {MOST_STRETCHES} are offered.",) if len(rows) > MOST_STRETCHES else ()
    offered = "Each becomes a run; its engine speed is still to be filled in."
    return Found(
        rows[:MOST_STRETCHES], date=_day(found), said=(*said, offered), notes=(*more, *notes)
    )


def _stretch_words(found: Sequence[Stretch]) -> str:
    count = len(found)
    return f"{count} steady stretch{'' if count == 1 else 'es'} of 20 s and more."


def _day(found: Sequence[Stretch]) -> str:
    moment = datetime.datetime.fromtimestamp(found[0].start, datetime.UTC)
    return moment.strftime("%Y-%m-%d")


def _new_speeds(derived: Derived, runs: Sequence[Run]) -> list[Speeds]:
    """Return what is another in some runs than in those of the form."""
    found = []
    for place, old, new in zip(places_of(derived, "run"), derived.job.runs, runs, strict=False):
        texts = {}
        for name in ("speed_there", "speed_back"):
            reading = getattr(new, name)
            if reading is not None and reading != getattr(old, name):
                texts[name] = reading.typed
        if texts:
            found.append(Speeds(place, texts))
    return found


def _pairs(found: Sequence[Stretch], trial: str) -> list[Mapping[str, str]]:
    """Return a run for each stretch, with its way back where there is one."""
    from rigfit.rigging.steady import way_back

    rows: list[Mapping[str, str]] = []
    used: set[float] = set()
    for place, stretch in enumerate(found):
        if stretch.start in used:
            continue
        later = [other for other in found[place + 1 :] if other.start not in used]
        back = way_back(stretch, later)
        texts = {"trial": trial, "time": stretch.clock, "speed_there": _speed(stretch)}
        if back is not None:
            used.add(back.start)
            texts["speed_back"] = _speed(back)
        rows.append(texts)
    return rows


def _speed(stretch: Stretch) -> str:
    from rigfit.rigging.tolerance import half_width

    return f"{stretch.mean:.2f} ± {half_width(stretch.spread):.2f} kn"


def _texts(run: Run, entries: str) -> dict[str, str]:
    bare = bare_units(entries)
    texts = {name: str(typed_text(getattr(run, name), spec, bare)) for name, spec in FIELDS["run"]}
    return {name: text for name, text in texts.items() if text}


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


# -- taking over -----------------------------------------------------------------------------------


def trial_ids(draft: Draft) -> tuple[str, ...]:
    """Return the ids of the trials of the form, those that are filled in, each once."""
    typed = (
        draft.text(Address("trial", "id", at)).strip() for at in range(len(draft.rows("trial")))
    )
    return tuple(dict.fromkeys(text for text in typed if text))


def free_id(draft: Draft) -> str:
    """Return an id for a new trial that none has: T1, T2 ..."""
    taken = set(trial_ids(draft))
    return next(name for at in range(1, len(taken) + 2) if (name := f"T{at}") not in taken)


def taken_over(draft: Draft, found: Found, trial: str) -> Draft:
    """Return the draft with everything found, and the trials that its runs name and it lacks.

    :param trial: the trial that was chosen; one that is not there gets the date found.
    """
    known = set(trial_ids(draft))
    for name in dict.fromkeys(row.get("trial", "") for row in found.rows):
        if name and name not in known:
            dated = {"date": found.date} if name == trial and found.date else {}
            draft = draft.add_row("trial", id=name, **dated)
    for row in found.rows:
        draft = draft.add_row("run", **row)
    for speeds in found.speeds:
        for name, text in speeds.texts.items():
            draft = draft.with_text(Address("run", name, speeds.row), text)
    return draft
