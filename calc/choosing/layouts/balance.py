"""The two voltages of every output, and how loud each section then plays on paper."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc.bridging.mapping import Use
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.wirings import Wiring
from calc.physics.levels import level_at_db, level_db, starting_volts, voltage


@dataclass(frozen=True, kw_only=True)
class Volts:
    """What the gain of a feed's outputs is set to [V]; None where its power is not known.

    ceiling_v : no further: what the output brings cleanly, or its speakers are rated for
    start_v : with which the sections above the subwoofer play equally loud; a subwoofer starts at
        its ceiling and is then set by ear
    level_db : level at 1 m with the starting voltage, all outputs of a subwoofer together [dB]
    """

    ceiling_v: float | None
    start_v: float | None
    level_db: float | None


@dataclass(frozen=True)
class Balance:
    """The voltages of a layout's feeds, in their order."""

    layout: Layout
    volts: tuple[Volts, ...]

    def row_levels_db(self) -> dict[int, float]:
        """Return the level of every row of speakers against the loudest [dB], at most 0.

        Empty where a voltage is not known: nothing is then drawn with levels.
        """
        levels: dict[int, float] = {}
        for (feed, wiring, use), volts in zip(self.layout.uses, self.volts, strict=True):
            if volts.start_v is None:
                return {}
            for row in feed.rows:
                sensitivity = sensitivity_of(feed, wiring, use)
                if row != feed.rows[0]:
                    speaker = self.layout.job.speakers[row]
                    sensitivity = speaker.sensitivity_db + _alike_db(use, feed)
                levels[row] = level_at_db(volts=volts.start_v, sensitivity_db=sensitivity)
        loudest = max(levels.values(), default=0.0)
        return {row: max(level - loudest, -60.0) for row, level in levels.items()}

    @property
    def subwoofer_db(self) -> float | None:
        """By how much the subwoofers stand above what plays over them [dB], on paper.

        None without a subwoofer, without anything above it, or where a voltage is not known.
        """
        pairs = list(zip(self.layout.uses, self.volts, strict=True))
        subs = [volts.level_db for (feed, _, _), volts in pairs if feed.section == "woofer"]
        others = [volts.level_db for (feed, _, _), volts in pairs if feed.section != "woofer"]
        known = [level for level in (*subs, *others) if level is not None]
        if not subs or not others or len(known) < len(pairs):
            return None
        return max(known[: len(subs)]) - max(known[len(subs) :])


def set_power(layout: Layout, feed: Feed, wiring: Wiring, use: Use) -> float | None:
    """Return the power [W] that an output is set for at most: its own, or its speakers' rating.

    Where only bounds are known, the lower one: the voltage must not ask for more than there is.
    """
    if use.power.low is None:
        return None
    return min(use.power.low * layout.spread[0], rated_power(feed, wiring, use))


def rated_power(feed: Feed, wiring: Wiring, use: Use) -> float:
    """Return the power [W] that all speakers on an output are rated for together."""
    return feed.speaker.rated_w * wiring.drivers * use.per_output


def sensitivity_of(feed: Feed, wiring: Wiring, use: Use) -> float:
    """Return the level [dB] at 2.83 V and 1 m of all that hangs on one output.

    Of a subwoofer, of all its outputs together: they play the same.  Left and right do not.
    """
    return wiring.section(feed).sensitivity_db + _alike_db(use, feed)


def _alike_db(use: Use, feed: Feed) -> float:
    """Return what several alike add [dB]: speakers on one output, and a subwoofer's outputs.

    n sources in step give n times the pressure; in series each gets the n-th part of the voltage.
    """
    count = 1 if use.in_series else use.per_output
    if feed.section == "woofer":
        count *= len(use.outputs)
    return level_db(count)


def balance_of(layout: Layout) -> Balance:
    """Return the voltages of every feed of a layout.

    The section above the subwoofer that reaches least at its ceiling stays there; the louder ones
    are turned down to it.  Distances are not counted.
    """
    ceilings = [
        None if power is None else voltage(power_w=power, load_ohm=use.load_ohm)
        for power, (_, _, use) in zip(_powers(layout), layout.uses, strict=True)
    ]
    starts = dict(_starts(layout, ceilings))
    voltages = []
    for at, (feed, wiring, use) in enumerate(layout.uses):
        start = starts.get(at, ceilings[at])
        level = None
        if start is not None:
            sensitivity = sensitivity_of(feed, wiring, use)
            level = level_at_db(volts=start, sensitivity_db=sensitivity)
        voltages.append(Volts(ceiling_v=ceilings[at], start_v=start, level_db=level))
    return Balance(layout, tuple(voltages))


def _powers(layout: Layout) -> list[float | None]:
    return [set_power(layout, feed, wiring, use) for feed, wiring, use in layout.uses]


def _starts(layout: Layout, ceilings: list[float | None]) -> Iterator[tuple[int, float]]:
    """Yield the starting voltage of each feed above the subwoofer whose ceiling is known."""
    known = [
        (at, ceiling, sensitivity_of(feed, wiring, use))
        for at, ((feed, wiring, use), ceiling) in enumerate(zip(layout.uses, ceilings, strict=True))
        if feed.section != "woofer" and ceiling is not None
    ]
    if known:
        starts = starting_volts(
            ceilings_v=[ceiling for _, ceiling, _ in known],
            sensitivities_db=[sensitivity for _, _, sensitivity in known],
        )
        yield from ((at, start) for (at, _, _), start in zip(known, starts, strict=True))
