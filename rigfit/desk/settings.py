"""What the form remembers from one day to the next, and about one person only."""

from __future__ import annotations

import dataclasses
import json
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from rigfit.records.plain_words import shown_path
from rigfit.records.saving import make_folder, write_whole
from rigfit.rigging.job import Units
from rigfit.rigging.readings import specs

FOLDER_VARIABLE = "RIGFIT_SETTINGS_DIR"
"""Environment variable naming another folder for settings and unsaved boats."""

FILE_NAME = "settings.json"
MOST_RECENT = 10
THEMES = ("system", "light", "dark")
SCALE_LOW, SCALE_HIGH = 100, 300

_LARGEST_BYTES = 1_000_000
_SMALLEST_WINDOW, _LARGEST_WINDOW = 200, 20_000
_UNITS = {name: spec.choices for name, spec in specs(Units).items()}


@dataclass(frozen=True, slots=True)
class Settings:
    """Choices of the person at the screen; nothing here alters a result.

    :param theme: one of ``THEMES``.
    :param entries: units of a new boat's numbers without one, "metric" or "inch".
    :param lengths: how a new boat's lengths are shown, "mm" or "in".
    :param speeds: how a new boat's speeds are shown, "kn", "km/h" or "mph".
    :param scale: size of the form in percent of what the screen asks for, 100 to 300.
    :param recent: job files opened last, newest first, at most ``MOST_RECENT``; full paths.
    :param last_file: the job file that was open at the end; "" for none.
    :param window: width and height of the window in pixels; (0, 0) when never closed yet.
    :param plain_corners: True to draw corners without the round font glyphs.
    """

    theme: str = "system"
    entries: str = "metric"
    lengths: str = "mm"
    speeds: str = "kn"
    scale: int = 100
    recent: tuple[str, ...] = ()
    last_file: str = ""
    window: tuple[int, int] = (0, 0)
    plain_corners: bool = False

    def with_recent(self, path: str | os.PathLike[str]) -> Settings:
        """Return the settings with a file as the newest of the recent ones, and the last one."""
        newest = str(Path(path).absolute())  # links stay as the user named them
        others = [item for item in self.recent if _key(item) != _key(newest)]
        return replace(self, recent=(newest, *others)[:MOST_RECENT], last_file=newest)

    def without_recent(self, path: str | os.PathLike[str]) -> Settings:
        """Return the settings without a file among the recent ones."""
        gone = _key(os.fspath(path))
        kept = tuple(item for item in self.recent if _key(item) != gone)
        return replace(self, recent=kept)


@dataclass(frozen=True, slots=True)
class Recent:
    """A recent file: where it is, and whether it is still there."""

    path: Path
    is_there: bool


def settings_folder() -> Path:
    """Return the folder of the settings file and of unsaved new boats; it may not exist yet."""
    given = os.environ.get(FOLDER_VARIABLE)
    if given:
        return Path(given)
    import platformdirs  # slow to load, and needed only by the form

    return platformdirs.user_config_path("rigfit", appauthor=False)


def load_settings(folder: Path | None = None) -> tuple[Settings, str]:
    """Return the settings, and a sentence when something in their file was not understood.

    What is not understood gets its default; unknown names are passed over. Never raises.

    :param folder: where to look; ``settings_folder()`` when None.
    """
    path = (folder or settings_folder()) / FILE_NAME
    try:
        with path.open("rb") as stream:
            data = json.loads(stream.read(_LARGEST_BYTES).decode("utf-8"))
    except FileNotFoundError:
        return Settings(), ""
    except (OSError, ValueError, RecursionError):  # bad text and bad JSON are ValueErrors
        return Settings(), _trouble(path, "cannot be read")
    if not isinstance(data, dict):
        return Settings(), _trouble(path, "cannot be read")
    good, bad = {}, []
    for name, check in _CHECKS.items():
        if name in data:
            value = _listed(data[name])
            if check(value):
                good[name] = value
            else:
                bad.append(name)
    words = f"has no usable value for {', '.join(bad)}"
    return Settings(**good), _trouble(path, words) if bad else ""


def save_settings(settings: Settings, folder: Path | None = None) -> None:
    """Write the settings, whole or not at all.

    :param folder: where to; ``settings_folder()`` when None. It is made when needed.
    :raises OutputError: when it cannot be written.
    """
    target = folder or settings_folder()
    text = json.dumps(dataclasses.asdict(settings), indent=2) + "\n"
    make_folder(target)
    write_whole(target / FILE_NAME, text.encode("utf-8"))


def recent_files(settings: Settings) -> tuple[Recent, ...]:
    """Return the recent files, newest first, each with whether it is still there."""
    return tuple(Recent(Path(item), _is_there(item)) for item in settings.recent)


def _is_there(path: str) -> bool:
    try:
        return Path(path).is_file()
    except (OSError, ValueError):  # a disk that is gone, a name no disk can have
        return False


def _key(path: str) -> str:
    return os.path.normcase(Path(path).absolute())


def _trouble(path: Path, what: str) -> str:
    return f"The settings file {shown_path(path)} {what}; usual settings are taken instead."


def _listed(value: object) -> Any:
    return tuple(value) if isinstance(value, list) else value


def _one_of(words: tuple[str, ...]) -> Callable[[Any], bool]:
    return lambda value: isinstance(value, str) and value in words


def _is_whole(value: object, low: int, high: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and low <= value <= high


def _is_recent(value: object) -> bool:
    if not isinstance(value, tuple) or len(value) > MOST_RECENT:
        return False
    return all(isinstance(item, str) and item for item in value)


def _is_window(value: object) -> bool:
    if value == (0, 0):
        return True
    return (
        isinstance(value, tuple)
        and len(value) == 2
        and all(_is_whole(item, _SMALLEST_WINDOW, _LARGEST_WINDOW) for item in value)
    )


_CHECKS: dict[str, Callable[[Any], bool]] = {
    "theme": _one_of(THEMES),
    **{name: _one_of(choices) for name, choices in _UNITS.items()},
    "scale": lambda value: _is_whole(value, SCALE_LOW, SCALE_HIGH),
    "recent": _is_recent,
    "last_file": lambda value: isinstance(value, str),
    "window": _is_window,
    "plain_corners": lambda value: isinstance(value, bool),
}
