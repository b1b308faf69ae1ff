"""What can be given up: a feature that is a must, and a power that is asked for."""

import math
from collections.abc import Iterable, Iterator, Mapping

from calc.answers.figures import rounded
from calc.choosing.checks.kinds import WISH_OF, Kind
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feed import Feed
from calc.choosing.remedies.case import Aim, Change
from calc.choosing.words import layout_words
from calc.inputs.field_base import Value

_FEATURES: Mapping[Kind, str] = {
    "level control": "a remote level control",
    "boost": "bass boost",
    "cover": "a cover over the controls",
    "terminals": "screw terminals",
    "controls": "controls within reach",
}
_HAS: Mapping[Kind, Mapping[str, Value]] = {
    "level control": {"level_control": True},
    "boost": {"boost_db": 12.0},
    "cover": {"cover": True},
    "terminals": {"terminals": "screw"},
}


def less_wanted(aim: Aim) -> Iterator[Change]:
    """Yield the feature that is no must any more, or an amplifier that has it."""
    case, kind = aim.case, aim.check.kind
    words = _FEATURES[kind]
    yield Change("wish", f"if you can do without {words}", case.of_car(**{WISH_OF[kind]: "any"}))
    if kind in _HAS:
        changed = case
        for part in case.parts:
            changed = changed.of_amplifier(part.at, **_HAS[kind])
        some = "an amplifier that has" if len(case.parts) == 1 else "amplifiers that have"
        yield Change("amplifier", f"with {some} {words}", changed)


def any_layout(aim: Aim) -> Iterator[Change]:
    """Yield the layout that is best, where the reader asked for another one."""
    if aim.case.system.wishes.layout == "best":
        return
    changed = aim.case.of_car(layout="best")
    layout = changed.best.layout
    if layout is not None:
        yield Change("layout", f"with another layout, {layout_words(layout)}", changed)


def less_power(aim: Aim) -> Iterator[Change]:
    """Yield the power that there is instead of the one asked for, or none that is asked for."""
    case, layout = aim.case, aim.plan.layout
    feed = next((feed for feed in _members(case.job.feeds) if feed.name == aim.check.feed), None)
    if feed is None or feed.need_w is None:
        return
    there_w = None if layout is None else _there_w(layout, feed)
    for watts in (there_w, None):
        rows = [
            row
            for row in feed.rows
            if watts is None or (case.job.speakers[row].need_w or 0) > watts
        ]
        changed = case.of_rows({row: {"need_w": watts} for row in rows})
        if changed is None:
            continue
        each = " each" if feed.count > 1 else ""
        words = f"if {rounded(watts or 0.0, 3)} W{each} is enough for {feed.name}"
        if watts is None:
            words = f"if {feed.name} don’t need {rounded(feed.need_w, 3)} W{each}"
        # To miss a few watts is little; to miss most of them is no small change any more.
        far = 8.0 if watts is None else 5 * (1 - watts / feed.need_w)
        yield Change("wish", words, changed, far=far, about=("need", feed.rows))


def _members(feeds: Iterable[Feed]) -> Iterator[Feed]:
    for feed in feeds:
        yield from feed.members


def _there_w(layout: Layout, feed: Feed) -> float | None:
    """Return the power that each speaker of a feed gets for certain [W]; None where that is 0."""
    if any(other.rows == feed.rows for other in layout.job.on_radio):
        return _cut(layout.job.radio_w(feed)) or None
    for other, use, share in layout.shares():
        if other.rows == feed.rows and use.power.low is not None:
            return _cut(layout.spread[0] * use.power.low * share) or None
    return None


def _cut(value: float) -> float:
    """Return a figure with three digits, never rounded up.

    >>> _cut(54.99), _cut(0.0)
    (54.9, 0.0)
    """
    if value <= 0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(value)) - 2)
    return round(math.floor(value / step * (1 + 1e-12)) * step, 9)
