"""rigfit: does this outboard fit this boat?

Measurements in; verdicts with margins, a height table, drawings and drilling templates out. The
names below are what a script may rely on; everything else may move.
"""

__version__ = "0.1.0"
