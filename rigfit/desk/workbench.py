"""The workbench: the boat being worked on, what is shown of it, and everybody who watches. No Tk.

Panels call its methods and listen; they never call each other. After every change listeners are
told what kind of change it was, in the order they began to listen.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Flag, auto
from pathlib import Path

from rigfit.desk.actions import Context
from rigfit.desk.document import Document, Saved
from rigfit.desk.form_state import Address, Derived, Draft, derive
from rigfit.desk.history import History
from rigfit.desk.recovery import Recoverable
from rigfit.desk.row_names import counted_rows, row_name, runs_of
from rigfit.desk.settings import Settings
from rigfit.desk.swing_scrub import STEERED, lock_deg, tilt_range, within
from rigfit.errors import OutputError, RigfitError, UsageError
from rigfit.records.profiles import demo_job_text
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.hole_reuse import ReuseChoice
from rigfit.rigging.mounting_options import HeightOption
from rigfit.rigging.readings import Reading
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown
from rigfit.wording import shown

SPEEDS, CHOSEN = Address("units", "speeds"), Address("mounting", "engine")
UPPER_HOLES = Address("mounting", "upper_holes_below_top")
OFF_CENTRE = Address("mounting", "off_centre")
MOST_GHOSTS = 3
SAME_MM = 0.05
"""Places nearer to each other than this are written alike."""


class Change(Flag):
    """What a change touched.

    ``TEXTS`` something typed or chosen; ``ENGINES`` an engine or hole came, went or was renamed;
    ``ENGINE`` another engine is shown; ``BOAT`` another boat; ``LOOK`` tilt, ghosts or kind of
    picture; ``FOCUS`` another field has the keyboard; ``GOTO`` a field is to be brought into sight
    and given the keyboard; ``SAVED`` file or saved mark; ``SETTINGS`` the person's own choices;
    ``FINDINGS`` the findings and clearances that were put off are there.
    """

    TEXTS = auto()
    ENGINES = auto()
    ENGINE = auto()
    BOAT = auto()
    LOOK = auto()
    FOCUS = auto()
    GOTO = auto()
    SAVED = auto()
    SETTINGS = auto()
    FINDINGS = auto()


REPORT = Change.TEXTS | Change.ENGINES | Change.ENGINE | Change.BOAT
"""Changes after which everything worked out may be another."""

Listener = Callable[[Change], None]

HeightKey = tuple[int, float]
"""A height by its bolt row and bracket setting, mm; it outlives the numbers of one report."""


def height_key(option: HeightOption) -> HeightKey:
    """Return by what a height is known from one report to the next."""
    return option.row, option.setting_mm


@dataclass(frozen=True, slots=True)
class Look:
    """How the boat is shown; no part of the job.

    :param picture: one of ``toolbar.PICTURES``, "profile" at first.
    :param tilt_deg: how far the drawn engine is tilted up, + propeller up; 0 is plate level.
    :param steer_deg: how far it is turned in the swing from above, + propeller to starboard.
    :param ghosts: heights drawn besides, at most ``MOST_GHOSTS``.
    """

    picture: str = "profile"
    tilt_deg: float = 0.0
    steer_deg: float = 0.0
    ghosts: tuple[HeightKey, ...] = ()


class Workbench:
    """One boat in the form. All methods belong to the main thread.

    :param catalogue: the profiles a job may name.
    :param settings: the person's own choices, as they were loaded.
    :param folder: where unsaved new boats are kept; the settings folder's own when None.
    """

    def __init__(
        self, catalogue: Catalogue, settings: Settings, folder: Path | None = None
    ) -> None:
        self.catalogue = catalogue
        self.settings = settings
        self.document = Document(catalogue, folder)
        self.history: History[Draft] = History(Draft())
        self.has_boat = False
        self.engine_index = 0
        self.look = Look()
        self.focus: Address | None = None
        self.wanted: Address | None = None
        self.is_busy = False
        self.on_wait: Callable[[], None] | None = None
        """Called when slow findings were put off: it has ``catch_up`` called soon. While it is
        None nothing is put off."""
        self._renaming: tuple[int, bool] | None = None
        self._its_runs: tuple[Address, tuple[int, ...]] | None = None
        self._listeners: list[Listener] = []
        self.derived: Derived = derive(Draft(), catalogue)

    # -- watching --------------------------------------------------------------------------

    def listen(self, listener: Listener) -> None:
        """Have a function called with every ``Change`` from now on."""
        self._listeners.append(listener)

    def tell(self, change: Change) -> None:
        """Tell every listener of a change."""
        for listener in tuple(self._listeners):
            listener(change)

    # -- what there is ---------------------------------------------------------------------

    @property
    def draft(self) -> Draft:
        """Everything typed."""
        return self.history.current

    @property
    def report(self) -> EngineReport | None:
        """The report on the shown engine; None while there is none, ``trouble`` says why."""
        return None if self._wrong_engine else self.derived.report

    @property
    def trouble(self) -> str:
        """Why there is no report, or what is wrong with the job as a whole; "" for nothing."""
        return self._wrong_engine or self.derived.trouble

    @property
    def _wrong_engine(self) -> str:
        """Why the shown engine cannot be told from others by its id, "" when it can."""
        address = Address("engine", "id", self.engine_index)
        if not self.draft.engines or address in self.derived.messages:
            return self.derived.messages.get(address, "")
        return self.derived.missing.get(address, "")

    @property
    def style(self) -> Shown:
        """How lengths and speeds are shown."""
        return shown(self.derived.job.units)

    @property
    def is_saved(self) -> bool:
        """True while nothing differs from the last save."""
        return self.history.is_saved

    @property
    def boat_name(self) -> str:
        """The boat's name as typed, or what it is called without one."""
        return self.draft.text(Address("boat", "name")).strip() or "Unnamed boat"

    @property
    def options(self) -> tuple[HeightOption, ...]:
        """Every height of the shown engine, lowest first; empty without a report."""
        return self.report.options if self.report else ()

    def option_of(self, key: HeightKey) -> HeightOption | None:
        """Return the height known by a key, None where the shown engine has none such."""
        return next((item for item in self.options if height_key(item) == key), None)

    def context(self) -> Context:
        """Return what decides which actions can be done now."""
        return Context(
            is_saved=self.is_saved,
            has_file=self.document.path is not None,
            can_undo=self.history.can_undo,
            can_redo=self.history.can_redo,
            engines=len(self.draft.engines),
            recent=len(self.settings.recent),
            has_report=self.has_boat and self.report is not None,
            can_raise=self._beside(1) is not None,
            can_lower=self._beside(-1) is not None,
            can_steer=self.report is not None and self.look.picture == STEERED,
            can_play=self.report is not None and self.look.picture in ("swing", STEERED),
            is_busy=self.is_busy,
        )

    # -- typing ----------------------------------------------------------------------------

    def type(self, address: Address, text: str) -> None:
        """Take over the text of a field as it is being typed; one field's edits are one step.

        The choice of an engine follows its id, key by key.
        """
        new, change = self.draft.with_text(address, text), Change.TEXTS
        if (address.table, address.field) == ("engine", "id"):
            new, change = self._renamed(new, address, text), Change.TEXTS | Change.ENGINES
        elif (address.table, address.field) == ("trial", "id"):
            new = self._with_its_runs(new, address, text)
        self._apply(new, address.spec.label, change, merge=address, may_wait=True)

    def commit(self, address: Address, text: str) -> None:
        """Take over the text of a field that is left."""
        self.type(address, text)
        self._renaming = self._its_runs = None

    def catch_up(self) -> None:
        """Work out the findings that were put off while somebody typed, if any were."""
        if self.derived.waits:
            self.derived = self.derived.completed()
            self.tell(Change.FINDINGS)

    def _renamed(self, new: Draft, address: Address, text: str) -> Draft:
        """Return a draft whose chosen engine follows the id being typed."""
        if self._renaming is None or self._renaming[0] != address.index:
            ids, chosen = self.draft.engine_ids, new.text(CHOSEN).strip()
            is_chosen = bool(chosen) and ids[address.index] == chosen and ids.count(chosen) == 1
            self._renaming = address.index, is_chosen
        return new.with_text(CHOSEN, text.strip()) if self._renaming[1] else new

    def _with_its_runs(self, new: Draft, address: Address, text: str) -> Draft:
        """Return a draft in which the runs of a trial name it by the id being typed."""
        if self._its_runs is None or self._its_runs[0] != address:
            self._its_runs = address, runs_of(self.draft, address.index)
        for row in self._its_runs[1]:
            new = new.with_text(Address("run", "trial", row), text.strip())
        return new

    def set_focus(self, address: Address | None) -> None:
        """Say which field has the keyboard; None for none."""
        if address != self.focus:
            self.focus, self._renaming, self._its_runs = address, None, None
            self.tell(Change.FOCUS)

    def go_to(self, address: Address) -> None:
        """Bring a field into sight and give it the keyboard; another engine is shown for it."""
        if address.table == "engine":
            self.show_engine(address.index)
        self.wanted = address
        self.tell(Change.GOTO)

    # -- engines and holes -----------------------------------------------------------------

    def show_engine(self, index: int) -> None:
        """Show another engine of the boat, by its place."""
        count = len(self.draft.engines)
        index = min(max(index, 0), max(count - 1, 0))
        if index != self.engine_index:
            self.engine_index = index
            self.look = replace(self.look, ghosts=())
            self._derive()
            self.tell(Change.ENGINE)

    def show_beside(self, by: int) -> None:
        """Show the engine ``by`` places further on, round and round."""
        count = len(self.draft.engines)
        if count:
            self.show_engine((self.engine_index + by) % count)

    def add_engine(self) -> None:
        """Add an empty engine and show it."""
        self._set_engines(self.draft.add_engine(), "a new engine", len(self.draft.engines))

    def duplicate_engine(self) -> None:
        """Add a copy of the shown engine and show it."""
        at = self.engine_index
        self._set_engines(self.draft.duplicate_engine(at), "a copy of the engine", at + 1)

    def remove_engine(self) -> None:
        """Take out the shown engine; undo brings it back."""
        at = self.engine_index
        self._set_engines(self.draft.remove_engine(at), "the engine taken out", max(at - 1, 0))

    def add_row(self, table: str, **texts: str) -> None:
        """Add a row to a repeated table ("hole"), the last; texts by field."""
        self._apply(self.draft.add_row(table, **texts), f"a new {row_name(table)}", Change.ENGINES)

    def add_rows(self, table: str, rows: Sequence[Mapping[str, str]]) -> None:
        """Add rows to a repeated table, the last, as one step; each has its texts by field."""
        draft = self.draft
        for texts in rows:
            draft = draft.add_row(table, **texts)
        self._apply(draft, f"{counted_rows(table, len(rows))} more", Change.ENGINES)

    def take(self, draft: Draft, label: str) -> None:
        """Take over another draft as one step: rows of several tables, many fields at once."""
        self._apply(draft, label, Change.ENGINES)

    def remove_row(self, table: str, index: int) -> None:
        """Take a row out of a repeated table; undo brings it back."""
        self._its_runs = None  # they may stand elsewhere now
        label = f"the {row_name(table)} taken out"
        self._apply(self.draft.remove_row(table, index), label, Change.ENGINES)

    def _set_engines(self, draft: Draft, label: str, shown_index: int) -> None:
        self.engine_index = shown_index
        self.look = replace(self.look, ghosts=())
        self._apply(draft, label, Change.ENGINES | Change.ENGINE)

    # -- heights ---------------------------------------------------------------------------

    def choose(self, option: HeightOption) -> None:
        """Decide on the shown engine at a height."""
        draft = self.draft.choose(self.derived.engine_id, option.row, option.setting_mm)
        self._apply(draft, "the height of the engine", Change.TEXTS)

    def choose_reuse(self, choice: ReuseChoice) -> None:
        """Decide on the shown engine where old holes serve it, as one step.

        Where the engine hangs then follows from the holes its bolts go through, so it is known as
        well as the worst of these was measured. A reading that says the place already stays.
        """
        self._apply(self._with_reuse(choice), "the old holes that are used again", Change.TEXTS)

    def is_chosen_reuse(self, choice: ReuseChoice) -> bool:
        """True when the engine hangs there already."""
        return self._with_reuse(choice) == self.draft

    def _with_reuse(self, choice: ReuseChoice) -> Draft:
        job = self.derived.job
        draft = self.draft.choose(self.derived.engine_id, choice.row, choice.setting_mm)
        reused = [job.holes[number - 1] for number in choice.reused if number <= len(job.holes)]
        off = job.mounting.off_centre
        across = choice.shift_mm + (off.value if off else 0.0)
        draft = _placed(
            draft, UPPER_HOLES, choice.upper_below_top_mm, job.mounting.upper_holes_below_top,
            [hole.below_top for hole in reused],
        )  # fmt: skip
        if abs(choice.shift_mm) < SAME_MM:
            return draft
        return _placed(draft, OFF_CENTRE, across, off, [hole.across for hole in reused])

    def step_height(self, by: int) -> None:
        """Decide on the possible height ``by`` places above the mounted one, if there is one."""
        option = self._beside(by)
        if option is not None:
            self.choose(option)

    def _beside(self, by: int) -> HeightOption | None:
        possible = [option for option in self.options if option.is_possible]
        mounted = self.report.mounted if self.report else None
        if mounted not in possible:
            return None
        at = possible.index(mounted) + by
        return possible[at] if 0 <= at < len(possible) else None

    def toggle_ghost(self, key: HeightKey) -> None:
        """Draw a height besides, or stop drawing it; the oldest makes room for a fourth."""
        ghosts = self.look.ghosts
        if key in ghosts:
            ghosts = tuple(item for item in ghosts if item != key)
        else:
            ghosts = (*ghosts, key)[-MOST_GHOSTS:]
        self.set_look(replace(self.look, ghosts=ghosts))

    def set_tilt(self, tilt_deg: float) -> None:
        """Tilt the drawn engine; kept within its travel, in a swing from fully in to fully up."""
        self.set_look(replace(self.look, tilt_deg=self._possible_tilt(tilt_deg)))

    def set_steer(self, steer_deg: float) -> None:
        """Turn the engine drawn from above; kept within its lock, + is propeller to starboard."""
        lock = lock_deg(self.report) if self.report else 0.0
        self.set_look(replace(self.look, steer_deg=within(steer_deg, (-lock, lock))))

    def set_picture(self, picture: str) -> None:
        """Draw another picture: by its word in ``Look.picture``.

        A swing shows tilts that the profile does not; the engine is brought back within its own.
        """
        look = replace(self.look, picture=picture)
        tilt = within(look.tilt_deg, tilt_range(self.report, picture)) if self.report else 0.0
        self.set_look(replace(look, tilt_deg=tilt))

    def _possible_tilt(self, tilt_deg: float) -> float:
        ends = tilt_range(self.report, self.look.picture) if self.report else (0.0, 0.0)
        return within(tilt_deg, ends)

    def set_look(self, look: Look) -> None:
        """Show the boat in another way."""
        if look != self.look:
            self.look = look
            self.tell(Change.LOOK)

    def put(self, address: Address, text: str, label: str) -> None:
        """Put a text into a field as a step of its own, as if it were typed.

        :param label: what undo calls it.
        """
        self._apply(self.draft.with_text(address, text), label, Change.TEXTS)

    # -- undo ------------------------------------------------------------------------------

    def undo(self) -> str:
        """Take the last change back; return what it was, "" for nothing."""
        label = self.history.undo_label
        self._restore(self.history.undo())
        return label

    def redo(self) -> str:
        """Do again what was taken back; return what it was, "" for nothing."""
        label = self.history.redo_label
        self._restore(self.history.redo())
        return label

    def _restore(self, draft: Draft) -> None:
        self._renaming = self._its_runs = None
        self.engine_index = min(self.engine_index, max(len(draft.engines) - 1, 0))
        self._derive()
        self.tell(Change.TEXTS | Change.ENGINES | Change.SAVED)

    # -- units and settings ----------------------------------------------------------------

    def set_units(self, **chosen: str) -> None:
        """Change ``lengths``, ``speeds`` or ``entries`` of this boat and of boats begun later."""
        draft = self.draft
        for name, word in chosen.items():
            draft = draft.with_text(Address("units", name), word)
        self.set_settings(**chosen)
        if self.has_boat:
            self._apply(draft, "the units", Change.TEXTS)

    def set_settings(self, **changes: object) -> None:
        """Change the person's own choices, by the names of ``Settings``."""
        new = replace(self.settings, **changes)  # type: ignore[arg-type] # names and types are Settings' own
        if new != self.settings:
            self.settings = new
            self.tell(Change.SETTINGS)

    # -- files -----------------------------------------------------------------------------

    def begin(self) -> None:
        """Leave this boat and start a new one."""
        kept = self.settings
        self.document.close()
        draft = Draft.new(entries=kept.entries, lengths=kept.lengths)
        draft = draft.with_text(SPEEDS, kept.speeds)
        self.document.begin(draft)
        self._start(History(draft))

    def begin_demo(self) -> None:
        """Leave this boat and show the demo, as a new boat without a file."""
        from rigfit.records.job_file import parse_job

        draft = Draft.from_job(parse_job(demo_job_text(), "dunlin.toml", self.catalogue))
        self.document.close()
        self.document.begin(draft)
        self._start(History(draft))

    def open(self, path: str | os.PathLike[str]) -> None:
        """Leave this boat and open a job file.

        :raises RigfitError: when it cannot be read; the boat in the form stays.
        """
        other = Document(self.catalogue, self.document.folder)
        draft = other.open(path)
        self.document.close()
        self.document = other
        self._start(History(draft))
        self._remember(Path(path))

    def reload(self) -> None:
        """Read the boat's file again, as one step that can be taken back.

        :raises RigfitError: when it cannot be read; the boat in the form stays.
        """
        if self.document.path is None:
            raise UsageError("this boat has no file yet", cure="save it under a name")
        other = Document(self.catalogue, self.document.folder)
        draft = other.open(self.document.path)
        self.document.close(discard=True)
        self.document = other
        self.history.apply(draft, "the file as it is on the disk")
        self.history.mark_saved()
        self._restore(draft)

    def recover(self, item: Recoverable) -> None:
        """Leave this boat and take up unsaved work; undo goes back to what its file says.

        :raises JobFileError: when it cannot be read; the boat in the form stays.
        """
        other = Document(self.catalogue, self.document.folder)
        work = other.recover(item)
        base = work
        if item.file is not None:
            with contextlib.suppress(RigfitError):  # without its file the work is all there is
                base = Document(self.catalogue, self.document.folder).open(item.file)
        if base == work:  # it still has to be saved
            base = Draft.new()
        self.document.close()
        self.document = other
        history = History(base)
        history.apply(work, "unsaved work taken up")
        self._start(history)
        if item.file is not None:
            self._remember(item.file)

    def save(self, *, overwrite: bool = False) -> Saved:
        """Write the boat to its file; errors as ``Document.save``."""
        saved = self.document.save(self.draft, overwrite=overwrite)
        return self._after_saving(saved)

    def save_as(self, path: str | os.PathLike[str]) -> Saved:
        """Write the boat to another file; errors as ``Document.save_as``."""
        return self._after_saving(self.document.save_as(self.draft, path))

    def autosave(self) -> None:
        """Keep unsaved work on the disk; raises ``OutputError`` when it cannot be kept."""
        if self.has_boat:
            self.document.autosave(self.draft)

    def close(self, *, discard: bool = False) -> None:
        """Leave the boat; its unsaved work is removed from the disk."""
        if self.has_boat:
            self.document.close(discard=discard)

    def _after_saving(self, saved: Saved) -> Saved:
        self.history.mark_saved()
        self._remember(saved.path)
        self.tell(Change.SAVED)
        return saved

    def _remember(self, path: Path) -> None:
        new = self.settings.with_recent(path)
        self.set_settings(recent=new.recent, last_file=new.last_file)

    def _start(self, history: History[Draft]) -> None:
        self.history, self.has_boat = history, True
        self.look, self.focus = Look(), None
        # The chosen engine is the one to look at first.
        chosen = self.draft.text(CHOSEN).strip()
        self.engine_index = max(self.draft.engine_index(chosen), 0)
        self._derive()
        self.tell(Change.BOAT | Change.SAVED)

    # -- one way for every change ----------------------------------------------------------

    def _apply(
        self, new: Draft, label: str, change: Change, merge: Address | None = None,
        *, may_wait: bool = False,
    ) -> None:  # fmt: skip
        if new == self.draft:
            return
        self.history.apply(new, label, merge)
        self._derive(may_wait=may_wait)
        self.tell(change)

    def _derive(self, *, may_wait: bool = False) -> None:
        ids = self.draft.engine_ids
        wanted = ids[self.engine_index] if self.engine_index < len(ids) else ""
        before = self.derived.report if may_wait and self.on_wait is not None else None
        self.derived = derive(self.draft, self.catalogue, wanted, before)
        if self.derived.waits and self.on_wait is not None:
            self.on_wait()


def _placed(
    draft: Draft, address: Address, value_mm: float, now: Reading | None,
    holes: Sequence[Reading | None],
) -> Draft:  # fmt: skip
    """Return the draft with a place in a field, as certain as the holes it is taken from."""
    if now is not None and abs(now.value - value_mm) < SAME_MM:
        return draft
    spread = max((hole.tolerance for hole in holes if hole is not None), default=0.0)
    text = f"{round(value_mm, 2) + 0.0:.10g} mm"
    if spread and spread != address.spec.tolerance:
        text += f" ± {spread:.3g} mm"
    return draft.with_text(address, text)


def keep_settings(settings: Settings, folder: Path | None = None) -> str:
    """Write the settings; return a sentence where that was not possible, else ""."""
    from rigfit.desk.settings import save_settings

    try:
        save_settings(settings, folder)
    except OutputError as error:
        return f"Your choices could not be kept for the next time: {error.sentence()}"
    return ""
