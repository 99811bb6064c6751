"""Checks 801: do the new instruments go into the old dash? One finding for each cut-out."""

from __future__ import annotations

from rigfit.rigging.case import Case
from rigfit.rigging.dash import CutoutFit, Fate, Shape, cover_mm, dash_fits
from rigfit.rigging.findings import Amount, Finding, Limits, Phrase, Verdict, at_best, mm, phrase

COVER_LEAST_MM = 2.0
"""Cover below which the edge of the old opening is likely to show (own estimate)."""


def check_dash(case: Case) -> tuple[Finding, ...]:
    """801: does each rim cover its old opening, and keep clear of its neighbours?"""
    return tuple(_finding(fit) for fit in dash_fits(case.job.dash))


def _finding(fit: CutoutFit) -> Finding:
    fate = fit.fate
    if fate is Fate.CLASH:
        return _clash(fit)
    if fate is Fate.UNKNOWN or fit.cover_mm is None:
        return _unknown(fit)
    limits = Limits(low=COVER_LEAST_MM, outer_low=0.0)
    settle = None
    judged = limits.judge(fit.cover_mm, fit.tolerance_mm)
    verdict = Verdict.TIGHT if fate is Fate.RING else judged
    if fit.is_cut:
        # A hole cannot be made smaller again, and so far only a sheet says how large it must be.
        verdict = at_best(verdict, Verdict.TIGHT)
        settle = phrase("Hold the opening's size against the instrument in hand before cutting.")
    elif verdict is Verdict.TIGHT and fate is Fate.COVERED:
        settle = phrase("Lay the instrument in hand over the opening and look all round.")
    near = fit.clash
    if near is not None and near.gap_mm < near.tolerance_mm:
        verdict = at_best(verdict, Verdict.TIGHT)
    return Finding(
        code=801,
        subject="boat",
        title=f"dash, {fit.name}",
        verdict=verdict,
        sentence=_with_neighbour(_sentence(fit), fit),
        source="dash-cover",
        value=fit.cover_mm,
        low=COVER_LEAST_MM,
        margin=limits.margin(fit.cover_mm),
        tolerance=fit.tolerance_mm,
        needs=("dash.old_width", "dash.new_width", "dash.bezel_width"),
        settle=settle,
        working=_working(fit),
    )


def _sentence(fit: CutoutFit) -> Phrase:
    """Return what is to be done with a cut-out whose sizes are all known."""
    assert fit.new is not None and fit.cover_mm is not None  # noqa: S101
    new, amounts = _size("new", fit.new)
    if fit.ring is not None:
        ring, more = _size("ring", fit.ring)
        text = "The old opening reaches {beyond} past the rim: it needs an adapter ring of at least"
        return phrase(
            f"{text} {ring} outside, with an opening of {new}{_cut_words(fit)}.",
            beyond=mm(-fit.cover_mm), **more, **amounts, **_cut_amounts(fit),
        )  # fmt: skip
    if fit.old is None:
        return phrase(
            f"A new hole of {new} is to be cut; the rim covers its edge by {{cover}}.",
            cover=mm(fit.cover_mm), **amounts,
        )  # fmt: skip
    if fit.enlarge_mm > 0.0:
        return phrase(
            f"The old opening is to be enlarged to {new}, {{more}} further out at most; the rim "
            "covers the old edge by {cover}.",
            more=mm(fit.enlarge_mm), cover=mm(fit.cover_mm), **amounts,
        )  # fmt: skip
    return phrase("The rim covers the old opening by {cover} all round.", cover=mm(fit.cover_mm))


def _cut_words(fit: CutoutFit) -> str:
    return ", and the old opening is to be cut {more} further out in places" if fit.is_cut else ""


def _cut_amounts(fit: CutoutFit) -> dict[str, Amount]:
    return {"more": mm(fit.enlarge_mm)} if fit.is_cut else {}


def _size(name: str, shape: Shape) -> tuple[str, dict[str, Amount]]:
    """Return the words for a size with places for its amounts, and the amounts."""
    if shape.height_mm is None:
        return f"{{{name}}} diameter", {name: mm(shape.width_mm)}
    sizes = {f"{name}_w": mm(shape.width_mm), f"{name}_h": mm(shape.height_mm)}
    return f"{{{name}_w}} by {{{name}_h}}", sizes


def _with_neighbour(said: Phrase, fit: CutoutFit) -> Phrase:
    """Return the sentence with a warning where the nearest rim or edge is within the tolerance."""
    near = fit.clash
    if near is None or near.gap_mm >= near.tolerance_mm:
        return said
    return phrase(
        said.text + " It all but touches {other}: {gap} between them.",
        other=near.with_what, gap=mm(near.gap_mm, signed=near.gap_mm < 0.0), **said.amounts,
    )  # fmt: skip


def _working(fit: CutoutFit) -> tuple[Phrase, ...]:
    """Return how far the instrument can sit off the middle of a larger old opening."""
    if fit.old is None or fit.new is None or fit.is_cut:
        return ()
    play = cover_mm(fit.old, fit.new)
    if play <= 0.0:
        return ()
    return (
        phrase(
            "The instrument has {play} of play each way in the old opening; centre it, or the "
            "cover is less on one side.",
            play=mm(play),
        ),
    )


def _clash(fit: CutoutFit) -> Finding:
    assert fit.clash is not None  # noqa: S101 - the caller looked
    overlap = -fit.clash.gap_mm
    part = "adapter ring" if fit.ring else "rim" if fit.rim else "opening"
    return Finding(
        code=801,
        subject="boat",
        title=f"dash, {fit.name}",
        verdict=Verdict.STOPS,
        sentence=phrase(
            "Its {part} overlaps {other} by {overlap}.",
            part=part, other=fit.clash.with_what, overlap=mm(overlap),
        ),
        source="geometry",
        value=fit.clash.gap_mm,
        low=0.0,
        margin=fit.clash.gap_mm,
        tolerance=fit.clash.tolerance_mm,
        needs=("dash.across", "dash.down", "dash.bezel_width"),
    )  # fmt: skip


def _unknown(fit: CutoutFit) -> Finding:
    """Return the finding on a cut-out whose sizes are missing or contradict each other."""
    if fit.new is None or fit.at_mm is None:
        sentence = phrase("Where it sits or how large an opening it wants is not known.")
        settle = phrase(
            "Measure its middle from the left and upper edges of the dash, and take "
            "the opening from its maker's sheet."
        )
        needs: tuple[str, ...] = ("dash.across", "dash.down", "dash.new_width")
    elif fit.rim is None:
        sentence = phrase("Its rim is not known, so nobody can say whether it covers the opening.")
        settle = phrase("Measure the rim of the new instrument across.")
        needs = ("dash.bezel_width",)
    else:
        sentence = phrase("Its rim is no larger than its opening; one of the two is wrong.")
        settle = phrase("Look at the maker's sheet again, or measure the instrument itself.")
        needs = ("dash.bezel_width", "dash.new_width")
    return Finding(
        code=801,
        subject="boat",
        title=f"dash, {fit.name}",
        verdict=Verdict.UNKNOWN,
        sentence=sentence,
        source="dash-cover",
        needs=needs,
        settle=settle,
    )  # fmt: skip
