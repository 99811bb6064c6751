"""The sheets by name: which drawings there are, their scenes, and a scene as bytes of each kind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, cast

from rigfit.errors import UsageError
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown
from rigfit.version import VERSION
from rigfit.wording import CAUTIONS, say, shown, verdict_line

if TYPE_CHECKING:
    from rigfit.drawing.profile_sheet import SheetWords
    from rigfit.drawing.scene import Scene

Theme = Literal["light", "dark"]
DRAWING_KINDS = ("svg", "png", "pdf", "dxf")
"""Endings a drawing can be written with."""

SHEETS: Mapping[str, str] = MappingProxyType(
    {
        "profile": "side profile",
        "face": "transom face from astern",
        "face-inside": "transom face from inside",
        "section": "section through a bolt",
        "dash": "dash cut-outs",
        "afloat": "afloat, before and after",
        "scupper-curve": "heights above water against added mass",
        "float-test": "float test, to fill in",
        "trial": "sea trial: speed, slip, fuel",
        "trial-form": "form for the next sea trial",
        "underway": "under way, water and plate",
        "swing": "swing of the engine, from the side",
        "swing-plan": "swing of the engine, from above",
        "swing-worst": "tilt and steering at the worst place",
    }
)
"""What can be drawn, in words."""

PNG_DPI = 150.0


def profile_scene(report: EngineReport, paper: str = "A3", date: str = "") -> Scene:
    """Return the side profile of a report on a sheet; raises ``OutputError`` for a bad paper."""
    return sheet_scene(report, "profile", paper, date)


def sheet_scene(
    report: EngineReport, sheet: str = "profile", paper: str = "A3", date: str = ""
) -> Scene:
    """Return one of ``SHEETS``; the dash is at full size and on no sheet of paper.

    :raises UsageError: for another name.
    :raises NotMeasuredError: when what it shows is not measured or chosen.
    :raises OutputError: for an unknown paper, or one too small.
    """
    from rigfit.drawing.profile_sheet import SheetWords

    if sheet not in SHEETS:
        raise UsageError(
            f'there is no sheet "{sheet[:40]}"',
            allowed="sheets are " + ", ".join(SHEETS),
            cure="choose one of these",
        )
    words = SheetWords(verdict_line(report), CAUTIONS, VERSION, date)
    style = shown(report.case.job.units)
    for draw in (_engine_sheet, _transom_sheet, _water_sheet):
        scene = draw(report, sheet, style, words, paper)
        if scene is not None:
            return scene
    raise UsageError(f'rigfit cannot draw the sheet "{sheet}"')


def _engine_sheet(
    report: EngineReport, sheet: str, style: Shown, words: SheetWords, paper: str
) -> Scene | None:
    """Return a sheet of the engine on the boat: from the side, and its swing."""
    if sheet == "profile":
        from rigfit.drawing.profile_sheet import profile_sheet

        return profile_sheet(report, style, words, paper)
    if sheet in ("swing", "swing-plan", "swing-worst"):
        from rigfit.drawing.swing_sheet import View, swing_sheet

        return swing_sheet(report, style, words, paper, cast("View", sheet))
    return None


def _transom_sheet(
    report: EngineReport, sheet: str, style: Shown, words: SheetWords, paper: str
) -> Scene | None:
    """Return a sheet of what is drilled and cut: transom, bolts, dash."""
    if sheet in ("face", "face-inside"):
        from rigfit.drawing.face_plan import relations_of
        from rigfit.drawing.face_sheet import face_sheet

        side: Literal["outside", "inside"] = "inside" if sheet == "face-inside" else "outside"
        return face_sheet(report, style, words, paper, side, relations_of(report.holes))
    if sheet == "section":
        from rigfit.drawing.bolt_section import bolt_section

        lengths = [say(item.sentence, style) for item in report.findings if item.code == 701]
        return bolt_section(report, style, replace(words, status=" ".join(lengths)), paper)
    if sheet == "dash":
        from rigfit.drawing.dash_view import dash_scene
        from rigfit.rigging.dash import dash_fits

        return dash_scene(dash_fits(report.case.job.dash), style, report.case.job.boat.name)
    return None


def _water_sheet(
    report: EngineReport, sheet: str, style: Shown, words: SheetWords, paper: str
) -> Scene | None:
    """Return a sheet of the boat afloat and under way."""
    if sheet in ("afloat", "scupper-curve"):
        from rigfit.drawing.afloat_sheet import afloat_sheet

        return afloat_sheet(report, style, words, paper, curve_only=sheet == "scupper-curve")
    if sheet == "float-test":
        from rigfit.drawing.float_test_sheet import float_test_sheet

        return float_test_sheet(report, style, words, paper, lambda said: say(said, style))
    if sheet == "trial":
        from rigfit.drawing.trial_sheet import trial_sheet

        return trial_sheet(report, style, words, paper)
    if sheet == "trial-form":
        from rigfit.drawing.trial_form import trial_form_sheet
        from rigfit.plain_trial import one_change

        return trial_form_sheet(report, style, words, paper, one_change(report))
    if sheet == "underway":
        from rigfit.drawing.underway_sheet import underway_sheet

        return underway_sheet(report, style, words, paper)
    return None


def drawing_bytes(scene: Scene, kind: str, theme: Theme = "light") -> bytes:
    """Return a scene in one of ``DRAWING_KINDS``.

    :raises UsageError: for another kind.
    """
    if kind not in DRAWING_KINDS:
        named = f'the ending ".{kind[:20]}"' if kind else "a name without an ending"
        raise UsageError(
            f"rigfit cannot tell what to draw from {named}",
            allowed="drawings end in " + ", ".join(f".{name}" for name in DRAWING_KINDS),
            cure="give the file one of these endings",
        )
    from rigfit.drawing.palette import DARK, LIGHT

    palette = DARK if theme == "dark" else LIGHT
    if kind == "dxf":
        from rigfit.drawing.hidden import without_hidden_lines
        from rigfit.drawing.to_dxf import to_dxf

        return to_dxf(without_hidden_lines(scene))
    if kind == "pdf":
        from rigfit.drawing.to_pdf import to_pdf

        return to_pdf(scene, palette)
    from rigfit.drawing.to_axes import to_png, to_svg

    return to_png(scene, palette, PNG_DPI) if kind == "png" else to_svg(scene, palette)
