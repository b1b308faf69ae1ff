"""Drawings of the whole job for the chapters."""

from calc.answers.sheet import Drawing
from calc.choosing.fit_plan import FIT_PLAN


def whole_system() -> Drawing:
    """Return the Lantern Van's whole system, wire by wire, as its plan draws it."""
    paper = FIT_PLAN.answer({}).sheet.paper
    if paper is None or paper.whole is None:
        raise ValueError("the example’s plan has no drawing of the whole system")
    return paper.whole
