"""`python -m calc`: the command line."""

import sys

if sys.version_info < (3, 11):
    sys.exit(
        "The calculators need Python 3.11 or newer: run the same command with python3.13, "
        "for example."
    )

from calc.app.command_line import main, run

__all__ = ["main"]

if __name__ == "__main__":
    sys.exit(run())
