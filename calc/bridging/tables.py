"""Reference tables of the bridging chapter."""

from calc.answers.sheet import Cell, Column, Quantity, Span, Table
from calc.physics.channel_power import Channel, bridged_power, grouping_name, groupings

STABLE_OHMS = (1.0, 2.0, 4.0)
BRIDGED_OHMS = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 16.0)
# Common practice, no source: P₂/P₄ of four-channel amplifiers.
RATIOS = (1.3, 1.5)
POWERS_W = (40.0, 50.0, 60.0, 75.0, 100.0, 125.0, 150.0)


def bridged_limits() -> Table:
    """Return bridged load against channel load, and what channels of each kind permit."""
    rows: list[tuple[Cell, ...]] = []
    for load in BRIDGED_OHMS:
        permits = (
            "permitted"
            if Channel(power_4ohm_w=1, min_load_ohm=least).takes(load_ohm=load / 2)
            else "refused"
            for least in STABLE_OHMS
        )
        rows.append((Quantity(load), Quantity(load / 2), *permits))
    return Table(
        caption="What a bridged load asks of each channel, and who may take it",
        columns=(
            Column("Bridged load", "Ω"),
            Column("Each channel sees", "Ω"),
            *(Column(f"Channels stable to {least:g} Ω") for least in STABLE_OHMS),
        ),
        rows=tuple(rows),
    )


def typical_bridged_power() -> Table:
    """Return the bridged power that usual ratings lead to."""
    rows = []
    for power in POWERS_W:
        low, high = (
            bridged_power(Channel(power_4ohm_w=power, power_2ohm_w=ratio * power), load_ohm=4).best
            for ratio in RATIOS
        )
        at_8 = bridged_power(Channel(power_4ohm_w=power), load_ohm=8).best
        rows.append(
            (Quantity(power), Quantity(at_8), Span(low or 0, high or 0), Span(2 * power, 4 * power))
        )
    return Table(
        caption="Bridged power of two-ohm-stable channels",
        columns=(
            Column("Rated per channel at 4 Ω", "W"),
            Column("Bridged into 8 Ω", "W"),
            Column("Bridged into 4 Ω, 2 Ω rating 1.3 to 1.5 times", "W"),
            Column("Usual into 4 Ω without a 2 Ω rating", "W"),
        ),
        rows=tuple(rows),
        note="Ratio of the 2 Ω to the 4 Ω rating: common practice, no source. Usual is no limit: a "
        "current-limited amplifier can give as little as half of the lower figure.",
    )


_USES = {
    "1|2|3|4": "two pairs of speakers; an active two-way pair (tweeters on 1 and 2, mid-bass "
    "on 3 and 4); a part-active three-way (passive tweeter and midrange on 1 and 2, mid-bass "
    "on 3 and 4); with a separate mono amplifier for a woofer",
    "1|2|3+4": "a pair in front and one bridged woofer",
    "1+2|3|4": "the same, if only channels 1 and 2 have the woofer’s low-pass",
    "1+2|3+4": "two woofers or two strong mono sections; a separate amplifier for the rest",
}


def four_groupings() -> Table:
    """Return the four groupings of four channels, what leaves each, and what it is for."""
    rows = []
    for grouping in groupings(4):
        name = grouping_name(grouping)
        singles = sum(len(output) == 1 for output in grouping)
        rows.append((name, singles, len(grouping) - singles, _USES[name]))
    return Table(
        caption="The four ways to use four channels",
        columns=(
            Column("Grouping", code=True),
            Column("Single outputs"),
            Column("Bridged outputs"),
            Column("Usual for"),
        ),
        rows=tuple(rows),
    )
