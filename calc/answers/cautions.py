"""The cautions that several chapters share: hazard, consequence, action, in one wording each."""

# 85 dB(A) over 8 hours with 3 dB for each halving: a limit recommended for workplaces (NIOSH).
HEARING = (
    "Loud music damages hearing. At 85 dB(A) the limit is 8 hours a day; halve it for every 3 dB "
    "more."
)
SWITCH_OFF = (
    "Switch the amplifier off before you touch speaker leads. Disconnect the battery negative "
    "before you touch power wiring."
)
BOTH_LIVE = "On many amplifiers one terminal is earthed, on others neither: treat both as live."
# Twenty times: what the rule for seats asks of a seat and its fixings (49 CFR 571.207).
BOLT_DOWN = (
    "Bolt the amplifier down: the fixings must hold twenty times its weight. In a crash a loose "
    "one is thrown forward."
)
DRILLING = (
    "Never drill or screw blind: fuel lines, brake lines and wiring looms run behind sheet metal. "
    "Look at the other side first, and fit a stop to the drill."
)
AIRBAGS = (
    "Airbags and belt pretensioners hold explosive charges, and their wiring runs under and beside "
    "the seats. Disturbed, one can go off, or fail in a crash. Leave their wiring plugged in, and "
    "leave any seat that carries one to a qualified workshop."
)
COVER_POSITIVE = (
    "Cover the positive terminals and leave 20 mm below the lowest seat spring: a spring across "
    "them shorts the battery."
)
SEAT_TRAVEL = (
    "Keep plugs and cables out of a seat’s travel: a seat slid onto a power cable can cut it and "
    "start a fire."
)
# When the battery itself goes back on; the rule for the last clamp of jump leads is another.
RECONNECT = "Before you reconnect the battery, switch everything off and take the main fuse out."
NEGATIVE_LAST = "The battery’s negative comes off first and goes back on last."
JUMP_LEADS = (
    "A battery on charge gives off explosive gas. With jump leads or a charger, make the last "
    "connection away from the battery."
)
OVERRULE = (
    "The amplifier’s manual, the vehicle maker’s rules and local law overrule any result here."
)
NO_APPROVAL = "A result is an estimate for planning, not an approval."
