"""Amplifiers of whose plate something is not told: what they may be at most, and what fails anyway.

The figures of the plate are those without which no layout is known: channels, power, lowest load.
"""

from dataclasses import replace

from calc.choosing.checks.filters import filter_check, filter_state
from calc.choosing.checks.kinds import Check
from calc.choosing.installed import Installed, installed
from calc.choosing.layouts.arrangements import layouts
from calc.choosing.layouts.feeds import Job
from calc.inputs.declared import replaced
from calc.inputs.field_base import Value
from calc.system.amplifier import NO_FILTERS, Amplifier

MOST_CHANNELS = 8
# So many layouts are tried in each way to share: all that there are of two four-channels and a
# mono, not all of three with eight channels each or of six groups of woofers with many coils.
MOST_LAYOUTS = 3000
# What stands for a missing figure of the plate so that it rules out no layout.
_EASIEST_W, _EASIEST_OHM = 1.0, 0.5


def loosest(given: Amplifier, *, any_count: bool) -> Amplifier:
    """Return what an amplifier may be at most, for what nobody told of its plate.

    any_count : it may have more channels than usual
    """
    most = dict[str, Value]()
    if given.channels is None and any_count:
        most["channels"] = MOST_CHANNELS
    if given.min_channel_ohm is None:
        most["min_channel_ohm"] = _EASIEST_OHM
    if given.power_2ohm_w is None and given.power_4ohm_w is not None:
        most["power_2ohm_w"] = 2 * given.power_4ohm_w
    return replaced(given, most)


def hopeless_filters(job: Job, together: Installed) -> tuple[Check, ...]:
    """Return the check of the filters where it fails whatever the missing figures are.

    With a figure of the plate missing there is no layout; but where the filters do on no outputs
    at all, none of those figures can mend it.
    """
    if not together.is_single or together.told.own_filters.missing:
        return ()
    likely = together.amplifier
    if likely.channels is None:
        if likely.filters not in (None, NO_FILTERS):
            return ()  # which outputs they are on is not known either
        least = job.fewest_outputs
        likely = replace(likely, channels=least + least % 2)
    easiest = {"power_4ohm_w": _EASIEST_W, "min_channel_ohm": _EASIEST_OHM}
    missing = {key: value for key, value in easiest.items() if getattr(likely, key) is None}
    together = installed(replaced(likely, missing))
    failing = None
    for variant in job.variants:
        for at, layout in enumerate(layouts(variant, together)):
            if at == MOST_LAYOUTS or (
                filter_state(variant, layout.assignment, together) != "unsuitable"
            ):
                return ()
            failing = failing or filter_check(variant, layout.assignment, together)
    return () if failing is None else (failing,)
