"""The report: everything rigfit found on one engine, complete when it is made."""

from __future__ import annotations

from dataclasses import dataclass

from rigfit.rigging.case import Case
from rigfit.rigging.drilling import DrillingChoice
from rigfit.rigging.findings import Finding, Verdict, worst
from rigfit.rigging.hole_fit import HoleFit
from rigfit.rigging.hole_reuse import ReuseChoice
from rigfit.rigging.mounting_options import HeightOption, PlateRange

REPORT_FORMAT = 1
"""Number of the layout of reports as data; raised when a key changes its meaning."""


@dataclass(frozen=True, slots=True)
class EngineReport:
    """One engine on the boat.

    :param case: what was checked, with every number resolved.
    :param findings: worst first.
    :param options: every height, lowest engine first.
    :param mounted: the height that is chosen in the job, else the best one; None when there is
        none to be had.
    :param is_chosen: True when the job says which row to use.
    :param ranges: the plate fully down to fully up, for this leg and each leg class.
    :param drilling: where a bare transom may be drilled; empty when it is drilled already.
    :param holes: how the new holes stand to all that is there; None for an engine that clamps on
        and while their height is not decided.
    :param reuse: which old holes could serve, as a trade-off; empty without old holes.
    :param not_looked_at: what nobody entered anything about, in words; no finding says it, so it
        is to be shown beside them.
    """

    case: Case
    findings: tuple[Finding, ...]
    options: tuple[HeightOption, ...]
    mounted: HeightOption | None
    is_chosen: bool
    ranges: tuple[PlateRange, ...]
    drilling: tuple[DrillingChoice, ...]
    holes: HoleFit | None = None
    reuse: tuple[ReuseChoice, ...] = ()
    not_looked_at: tuple[str, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The worst of all findings."""
        return worst(finding.verdict for finding in self.findings)

    def finding(self, code: int) -> Finding:
        """Return the finding with a code; raises ``KeyError`` when that check did not apply."""
        for finding in self.findings:
            if finding.code == code:
                return finding
        raise KeyError(code)
