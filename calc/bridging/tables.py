"""Reference tables of the bridging chapter."""

from calc.answers.sheet import Cell, Column, Quantity, Span, Table
from calc.bridging.names import layout_words
from calc.physics.channel_power import Channel, bridged_power, grouping_name, groupings

STABLE_OHMS = (1.0, 2.0, 4.0)
BRIDGED_OHMS = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 16.0)
# Common practice, no source: P₂/P₄ of four-channel amplifiers.
RATIOS = (1.3, 1.5)
POWERS_W = (40.0, 50.0, 60.0, 75.0, 100.0, 125.0, 150.0)


def bridged_limits() -> Table:
    """Return bridged loads, what each channel sees, and which amplifiers can run them."""
    rows: list[tuple[Cell, ...]] = []
    for load in BRIDGED_OHMS:
        permits = (
            "yes" if Channel(power_4ohm_w=1, min_load_ohm=least).takes(load_ohm=load / 2) else "no"
            for least in STABLE_OHMS
        )
        rows.append((Quantity(load), Quantity(load / 2), *permits))
    return Table(
        caption="Bridged loads: which amplifiers can run them",
        columns=(
            Column("Bridged load", "Ω"),
            Column("Each channel sees", "Ω"),
            *(Column(f"{least:g} Ω stable") for least in STABLE_OHMS),
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
        sources=("two-ohm-ratio",),
        caption="Bridged power of amplifiers that are 2 Ω stable",
        columns=(
            Column("RMS per channel at 4 Ω", "W"),
            Column("Bridged into 8 Ω", "W"),
            Column("Bridged into 4 Ω, usual 2 Ω rating", "W"),
            Column("Bridged into 4 Ω, no 2 Ω rating", "W"),
        ),
        rows=tuple(rows),
        note="A usual 2 Ω rating is 1.3 to 1.5 times the 4 Ω one. Without one, the range is no "
        "limit: an amplifier that limits its current can give half of the lower figure.",
    )


_USES = {
    "1|2|3|4": "front and rear speakers; active front speakers (tweeters on 1 and 2, mid-bass on 3 "
    "and 4); one sub each on 3 and 4; with a mono amplifier (monoblock) for the sub",
    "1|2|3+4": "front speakers and a bridged sub",
    "1+2|3|4": "the same, if only channels 1 and 2 have a low-pass filter",
    "1+2|3+4": "two subs, one on each bridged pair; another amplifier for the doors",
}


def four_groupings() -> Table:
    """Return the four layouts of four channels, with the outputs and the use of each."""
    rows = []
    for grouping in groupings(4):
        name = grouping_name(grouping)
        rows.append((layout_words(grouping), len(grouping), _USES[name]))
    return Table(
        sources=("bridge-marks",),
        caption="Four channels: the four layouts",
        columns=(
            Column("Channel layout"),
            Column("Speaker outputs"),
            Column("Use it for"),
        ),
        rows=tuple(rows),
    )
