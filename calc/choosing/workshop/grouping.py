"""The drawing of the amplifier's terminals, by the grouping of its channels."""

from calc.answers.sheet import Drawing
from calc.bridging.drawings import grouping_drawing
from calc.choosing.plan import Plan


def grouping(plan: Plan) -> Drawing:
    """Return the drawing of a plan that has a layout."""
    layout = plan.candidate.layout
    assert layout is not None
    feeds = {output: feed.name for feed, _, use in layout.uses for output in use.outputs}
    turned = [channel.output for channel in plan.channels if channel.polarity == "reversed"]
    return grouping_drawing(
        layout.plan.grouping,
        feeds,
        [output for output in feeds if "+".join(map(str, output)) in turned],
    )
