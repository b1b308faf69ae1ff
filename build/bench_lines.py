"""What a measuring run prints: a line for each figure, and what is aimed at."""

from steps import say

TARGETS = {
    "cold": 0.22,
    "copy_mb": 7.5,
    "input_ms": 50,
    "coils_ms": 300,
    "split_ms": 300,
    "tree_ms": 300,
    "bays_ms": 400,
    "build_s": 60,
    "marks": 95,
    "first_ms": 100,
    "all_ms": 8000,
}


def line(what: str, figure: str, note: str = "") -> None:
    """Print a figure beside what it is, with a note."""
    say(f"{what:<58} {figure:>22}   {note}".rstrip())
