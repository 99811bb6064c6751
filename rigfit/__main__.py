"""Picks the shell: ``rigfit`` and ``python -m rigfit`` both start here."""

from __future__ import annotations

import sys


def main() -> int:
    """Run the command line with the program's own arguments and return the exit status."""
    from rigfit.command_line import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
