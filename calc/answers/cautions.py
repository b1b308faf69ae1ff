"""Cautions that stand in more than one chapter: each is one sentence, the same everywhere."""

# 85 dB(A) over 8 hours with 3 dB for each halving: a limit recommended for workplaces (NIOSH).
HEARING = (
    "Loud music damages hearing. At 85 dB(A) the limit is 8 hours a day; halve it for every 3 dB "
    "more."
)
SWITCH_OFF = (
    "Switch the amplifier off before you touch speaker leads. Before power wiring take the "
    "battery’s negative off first."
)
BOTH_LIVE = "On many amplifiers one terminal is earthed, on others neither: treat both as live."
