"""What a finished plan asks besides: delays; and how it names its outputs."""

from calc.answers.figures import exact
from calc.bridging.mapping import Use
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.fields import LONGEST_NAME
from calc.choosing.job import Feed, Job
from calc.crossovers.arrival_delay import ARRIVAL_DELAY


def delays(job: Job) -> Ask | None:
    """Ask for the delays of the outputs whose distance is known; None for fewer than two.

    Speakers on one output have one delay: that of the highest band, by which one hears where it
    comes from (common practice, no source).
    """
    known = [(feed.name, feed.distance_m(job.speakers)) for feed in job.feeds]
    rows = [{"section": name, "distance_m": exact(far)} for name, far in known if far is not None]
    if len(rows) < 2:
        return None
    text = rows_text(ARRIVAL_DELAY, "sections", rows)
    told = "1 Speakers: distance to the listener; on one output, that of the highest speaker"
    return Ask(calculator=ARRIVAL_DELAY, inputs={"sections": Traced(text, told)})


def output_names(feed: Feed, use: Use) -> list[str]:
    """Name the outputs of a feed: left and right of a pair, by number where there are more."""
    if len(use.outputs) == 1:
        return [feed.name]
    if len(use.outputs) == 2 and feed.section != "woofer":
        return [f"{feed.name[: LONGEST_NAME - 6]} {side}" for side in ("left", "right")]
    return [f"{feed.name[: LONGEST_NAME - 2]} {at}" for at in range(1, len(use.outputs) + 1)]
