"""Drawings of the whole job for the chapters."""

from dataclasses import replace

from calc.answers.drawing import number
from calc.answers.markup import element
from calc.answers.sheet import Drawing
from calc.choosing.fit_plan import FIT_PLAN

_LARGER = 1.12  # than on the workshop sheet, for its text to be read in a page's column


def whole_system() -> Drawing:
    """Return the Lantern Van's whole system, wire by wire, as its plan draws it."""
    paper = FIT_PLAN.answer({}).sheet.paper
    if paper is None or paper.whole is None:
        raise ValueError("the example’s plan has no drawing of the whole system")
    svg = paper.whole.svg
    grown = element("svg", list(svg), **{key.replace("-", "_"): text for key, text in svg.items()})
    for side in ("width", "height"):
        grown.set(side, number(float(svg.get(side, "0")) * _LARGER))
    return replace(paper.whole, svg=grown)
