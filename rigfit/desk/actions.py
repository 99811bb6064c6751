"""Everything the form can do, as one closed table: name, label, sentence, keys, condition.

Menus, buttons, key bindings and the page of keys all read this table. What an action does is the
window's business; it binds by name.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Context:
    """What decides which actions can be done now.

    :param is_saved: nothing was changed since the last save.
    :param has_file: the boat has a file.
    :param can_undo: there is a step to take back.
    :param can_redo: there is a step to do again.
    :param engines: number of engines in the form.
    :param recent: number of recent files.
    :param has_report: there is a report on the shown engine.
    :param can_raise: there is a height above the shown one.
    :param can_lower: there is a height below the shown one.
    :param can_steer: the drawn engine is one that can be turned.
    :param can_play: the engine is drawn as it swings.
    :param is_busy: long work is going on.
    """

    is_saved: bool = True
    has_file: bool = False
    can_undo: bool = False
    can_redo: bool = False
    engines: int = 0
    recent: int = 0
    has_report: bool = False
    can_raise: bool = False
    can_lower: bool = False
    can_steer: bool = False
    can_play: bool = False
    is_busy: bool = False


Condition = Callable[[Context], bool]


def _always(_context: Context) -> bool:
    return True


def _has_report(context: Context) -> bool:
    return context.has_report


def _can_export(context: Context) -> bool:
    return context.has_report and not context.is_busy


@dataclass(frozen=True, slots=True)
class Action:
    """One thing the form can do.

    :param name: by which the window binds it.
    :param label: in menus and on buttons.
    :param sentence: what it does, for tips and the page of keys.
    :param keys: key combinations, the one to show first: "Control-s", "Control-Shift-z", "F1".
    :param enabled: whether it can be done now.
    """

    name: str
    label: str
    sentence: str
    keys: tuple[str, ...] = ()
    enabled: Condition = _always


# The keys keep clear of those that edit text in a field: Control with a, b, c, d, e, f, h, k, t,
# v, x and the arrows.
_TABLE: tuple[Action, ...] = (
    # The boat
    Action("new", "New boat", "Start a boat with empty fields.", ("Control-n",)),
    Action("open", "Open...", "Open a job file.", ("Control-o",)),
    Action(
        "open-recent",
        "Open recent",
        "Open one of the job files used last.",
        ("Control-Shift-o",),
        lambda context: context.recent > 0,
    ),
    Action("demo", "Open the demo boat", "Open the invented tender Dunlin, to try things on."),
    Action(
        "save",
        "Save",
        "Write the boat to its file; remarks in the file stay.",
        ("Control-s",),
        lambda context: not (context.is_saved and context.has_file),
    ),
    Action("save-as", "Save as...", "Write the boat to another file.", ("Control-Shift-s",)),
    Action("quit", "Quit", "Close rigfit; it asks about work not saved.", ("Control-q",)),
    # Editing
    Action(
        "undo",
        "Undo",
        "Take back the last change.",
        ("Control-z",),
        lambda context: context.can_undo,
    ),
    Action(
        "redo",
        "Redo",
        "Do again what was taken back.",
        ("Control-Shift-z", "Control-y"),
        lambda context: context.can_redo,
    ),
    Action("add-engine", "Add an engine", "Add an empty engine.", ("Control-Shift-n",)),
    Action(
        "duplicate-engine",
        "Duplicate the engine",
        "Add a copy of the shown engine under an id of its own.",
        ("Control-Shift-d",),
        lambda context: context.engines > 0,
    ),
    Action(
        "remove-engine",
        "Remove the engine",
        "Take the shown engine out; undo brings it back.",
        ("Control-Shift-BackSpace",),
        lambda context: context.engines > 0,
    ),
    Action(
        "next-engine",
        "Next engine",
        "Show the next engine of the boat.",
        ("Control-Next",),
        lambda context: context.engines > 1,
    ),
    Action(
        "previous-engine",
        "Previous engine",
        "Show the engine before.",
        ("Control-Prior",),
        lambda context: context.engines > 1,
    ),
    # The engine on the transom
    Action(
        "raise",
        "One row up",
        "Raise the engine by one bolt row or bracket step.",
        ("Alt-Up",),
        lambda context: context.can_raise,
    ),
    Action(
        "lower",
        "One row down",
        "Lower the engine by one bolt row or bracket step.",
        ("Alt-Down",),
        lambda context: context.can_lower,
    ),
    Action("tilt-up", "Tilt up", "Tilt the drawn engine up.", ("Alt-Prior",), _has_report),
    Action("tilt-down", "Tilt down", "Tilt the drawn engine down.", ("Alt-Next",), _has_report),
    Action(
        "steer-port",
        "Propeller to port",
        "Steer the engine in the swing from above: its propeller to port.",
        ("Alt-Left",),
        lambda context: context.can_steer,
    ),
    Action(
        "steer-starboard",
        "Propeller to starboard",
        "Steer the engine in the swing from above: its propeller to starboard.",
        ("Alt-Right",),
        lambda context: context.can_steer,
    ),
    Action(
        "play",
        "Play the swing",
        "Tilt or steer the drawn engine to and fro; again, or anything else, stops it.",
        ("F6",),
        lambda context: context.can_play,
    ),
    # Looking
    Action("go-measurements", "Measurements", "Go to the fields to fill in.", ("F2",)),
    Action("go-drawing", "Drawing", "Go to the drawing.", ("F3",)),
    Action("go-findings", "Findings", "Go to the findings, worst first.", ("F4",)),
    Action("go-heights", "Heights", "Go to the table of heights.", ("F5",)),
    Action("go-runs", "Runs", "Go to the runs of the sea trials.", ("F7",)),
    Action(
        "import-runs",
        "Paste or import runs...",
        "Take runs from a spreadsheet or CSV file, or speeds from a GPX or NMEA 0183 track.",
        ("Control-Shift-i",),
    ),
    Action("view-profile", "Side profile", "Draw boat and engine from the side.", ("Control-1",)),
    Action(
        "view-template",
        "Drilling template",
        "Draw the holes in the transom, seen from astern.",
        ("Control-2",),
        _has_report,
    ),
    Action(
        "view-face",
        "Face from astern",
        "Draw the transom's face with all holes, seen from astern.",
        ("Control-3",),
        _has_report,
    ),
    Action(
        "view-face-inside",
        "Face from inside",
        "Draw the transom's face as it is seen from inside: mirrored.",
        ("Control-4",),
        _has_report,
    ),
    Action(
        "view-section",
        "Bolt section",
        "Draw a section through the transom at one bolt.",
        ("Control-5",),
        _has_report,
    ),
    Action(
        "view-dash",
        "Dash",
        "Draw the cut-outs of the dash at true scale.",
        ("Control-6",),
        _has_report,
    ),
    Action(
        "view-swing",
        "Swing from the side",
        "Draw the engine tilting among what is round it.",
        ("Control-7",),
        _has_report,
    ),
    Action(
        "view-swing-plan",
        "Swing from above",
        "Draw the engine steering in its well.",
        ("Control-8",),
        _has_report,
    ),
    Action(
        "view-swing-worst",
        "Worst place",
        "Draw the tilt and steering at which the engine is nearest to anything.",
        ("Control-9",),
        _has_report,
    ),
    Action(
        "view-afloat",
        "Afloat, before and after",
        "Draw the hull with the water now and afterwards, and the heights that are left.",
        ("Control-l",),
        _has_report,
    ),
    Action(
        "view-scupper-curve",
        "Scuppers against mass",
        "Draw how scuppers and openings come down to the water under more mass at the transom.",
        ("Control-Shift-l",),
        _has_report,
    ),
    Action(
        "view-underway",
        "Under way",
        "Draw plate and water behind the transom at speed, and her trim and resistance.",
        ("Control-u",),
        _has_report,
    ),
    Action(
        "view-trial",
        "Sea trial",
        "Draw speed, slip and fuel of the sea trials against engine speed.",
        ("Control-Shift-u",),
        _has_report,
    ),
    Action(
        "zoom-in",
        "Zoom in",
        "Enlarge the drawing.",
        ("Control-plus", "Control-equal", "Control-KP_Add"),
    ),
    Action(
        "zoom-out",
        "Zoom out",
        "Make the drawing smaller.",
        ("Control-minus", "Control-KP_Subtract"),
    ),
    Action("zoom-fit", "Fit the drawing", "Show the whole drawing.", ("Control-0",)),
    # Giving away
    Action(
        "export-drawing",
        "Export the drawing...",
        "Write the side profile as PDF, SVG, PNG or DXF.",
        ("Control-Shift-p",),
        _can_export,
    ),
    Action(
        "export-view",
        "Save what is shown...",
        "Write the drawing as it stands on the screen, as PNG, SVG, PDF or DXF.",
        ("Control-Shift-v",),
        _can_export,
    ),
    Action(
        "export-face",
        "Export the face...",
        "Write the transom's face as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-section",
        "Export the bolt section...",
        "Write the section at one bolt as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-swing",
        "Export the swing...",
        "Write the swing of the engine as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-afloat",
        "Export the boat afloat...",
        "Write the hull with the water before and after as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-curve",
        "Export scuppers against mass...",
        "Write the heights above the water against added mass as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-underway",
        "Export under way...",
        "Write plate and water at speed as PDF, SVG, PNG or DXF.",
        (),
        _can_export,
    ),
    Action(
        "export-trial",
        "Export the sea trial...",
        "Write the curves of the sea trials, or the form for the next one, to print and fill in.",
        (),
        _can_export,
    ),
    Action(
        "export-plates",
        "Export plates and dash...",
        "Write backing plates, setback plates and dash cut-outs as DXF, true scale.",
        (),
        _can_export,
    ),
    Action(
        "export-template",
        "Export the template...",
        "Write the drilling template at true scale: as DXF to cut, or as sheets of paper.",
        ("Control-Shift-t",),
        _can_export,
    ),
    Action(
        "export-report",
        "Export the report...",
        "Write the report with all working as text and as data.",
        ("Control-Shift-r",),
        _can_export,
    ),
    Action(
        "copy-heights",
        "Copy the heights",
        "Copy the table of heights as text.",
        ("Control-Shift-c",),
        _has_report,
    ),
    Action(
        "text-report",
        "Report as plain text",
        "Show every input and finding as text, for copying and for screen readers.",
        ("Control-r",),
        _has_report,
    ),
    Action(
        "cancel",
        "Cancel",
        "Stop the long work going on.",
        ("Escape",),
        lambda context: context.is_busy,
    ),
    # The form itself
    Action("menu", "Menu", "Open the menu of everything the form can do.", ("F10",)),
    Action("keys", "Keys", "Show the keys for everything.", ("F1",)),
    Action("theme", "Light or dark", "Change between light and dark.", ("F9",)),
    Action("units", "Millimetres or inches", "Show lengths in mm or in inches.", ("F8",)),
    Action("larger", "Larger", "Make everything in the form larger.", ("F12",)),
    Action("smaller", "Smaller", "Make everything in the form smaller.", ("F11",)),
)

ACTIONS: Mapping[str, Action] = MappingProxyType({action.name: action for action in _TABLE})
"""Every action by its name, in the order of the menus; another name raises ``KeyError``."""

_SHOWN = {
    "Control": "Ctrl",
    "Prior": "Page Up",
    "Next": "Page Down",
    "BackSpace": "Backspace",
    "Escape": "Esc",
    "equal": "Equals",
    "KP_Add": "Keypad Plus",
    "KP_Subtract": "Keypad Minus",
}
_SHOWN_ON_MAC = {**_SHOWN, "Control": "Command", "Alt": "Option"}


def shown_keys(action: Action, platform: str = sys.platform) -> str:
    """Return the first key combination of an action as a person reads it; "" for none.

    :param platform: as ``sys.platform``; on "darwin" Control is Command.
    """
    return _shown(action.keys[0], platform) if action.keys else ""


def _shown(keys: str, platform: str) -> str:
    words = _SHOWN_ON_MAC if platform == "darwin" else _SHOWN
    return "+".join(words.get(part, part.upper()[:1] + part[1:]) for part in keys.split("-"))


def tip_of(name: str) -> str:
    """Return what a button says of an action when the pointer rests on it: label and keys."""
    action = ACTIONS[name]
    label, keys = action.label.rstrip("."), shown_keys(action)
    return f"{label} ({keys})" if keys else label


def tk_sequences(action: Action, platform: str = sys.platform) -> tuple[str, ...]:
    """Return the event sequences to bind for an action, as Tk writes them.

    :param platform: as ``sys.platform``; on "darwin" Control is Command and Alt is Option.
    """
    return tuple(name for keys in action.keys for name in _sequences(keys, platform))


def _sequences(keys: str, platform: str) -> tuple[str, ...]:
    *modifiers, key = keys.split("-")
    if platform == "darwin":
        modifiers = [{"Control": "Command", "Alt": "Option"}.get(name, name) for name in modifiers]
    # A letter arrives as a capital with Shift or with Caps Lock, and as a small one with both.
    # "Key" is said because a digit alone would mean a mouse button.
    letters = (key, key.upper()) if re.fullmatch(r"[a-z]", key) else (key,)
    return tuple(f"<{'-'.join([*modifiers, 'Key', letter])}>" for letter in letters)


def keys_page(platform: str = sys.platform) -> tuple[tuple[str, str, str], ...]:
    """Return keys, label and sentence of every action that has keys, in the order of the menus."""
    return tuple(
        (" or ".join(_shown(keys, platform) for keys in action.keys), action.label, action.sentence)
        for action in ACTIONS.values()
        if action.keys
    )
