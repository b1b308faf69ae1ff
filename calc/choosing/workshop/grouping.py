"""The drawings of the amplifiers' terminals, by the layout of their channels."""

from collections.abc import Iterator
from dataclasses import replace

from calc.answers.sheet import Drawing
from calc.bridging.drawings import grouping_drawing
from calc.choosing.layouts.channels import turned_outputs
from calc.choosing.plan import Plan
from calc.choosing.words import the


def grouping_drawings(plan: Plan) -> Iterator[Drawing]:
    """Yield a drawing of each amplifier of a plan that has a layout, by its own numbers."""
    layout = plan.candidate.layout
    assert layout is not None
    feeds = {output: feed.name for feed, _, use in layout.uses for output in use.outputs}
    turned = turned_outputs(plan.channels)
    parts = layout.installed.parts
    for part in parts:
        drawing = grouping_drawing(
            tuple(part.own(output) for output in layout.plan.grouping if part.has(output)),
            {part.own(output): feed for output, feed in feeds.items() if part.has(output)},
            [part.own(output) for output in turned if part.has(output)],
        )
        yield replace(drawing, title=f"Speaker terminals of {the(part.name)}")
