"""rigfit: does this outboard fit this boat?

Measurements in; verdicts with margins, a height table, drawings and drilling templates out. The
names below are what a script may rely on; everything else may move.
"""

from rigfit.version import VERSION as __version__  # noqa: N811 - the name packaging expects

__all__ = ["__version__"]
