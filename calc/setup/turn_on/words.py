"""Why a way of turning on works, does not, or is open."""

from calc.answers.figures import listed
from calc.setup.ways import Mode, Senses, Vehicle, opposite


def reason_of(mode: Mode, vehicle: Vehicle, senses: Senses) -> str:
    """Return the reason why a way works, does not, or is open, in a sentence."""
    if mode == "trigger":
        return (
            _reason_of_parts(
                (
                    senses.trigger,
                    "the amplifier has no trigger terminal",
                    "a trigger terminal at the amplifier",
                ),
                (
                    vehicle.has_trigger,
                    "the head unit has no trigger wire",
                    "a trigger wire at the head unit",
                ),
            )
            or "The head unit’s trigger wire turns it on and off with the music."
        )
    if mode == "signal-sensing":
        return (
            _reason_of_parts(
                (
                    senses.signal,
                    "the amplifier does not sense a signal",
                    "signal sensing at the amplifier",
                ),
                (
                    vehicle.has_speaker_signal,
                    "no speaker leads go to the amplifier",
                    "a signal over speaker leads",
                ),
            )
            or "It turns on with the signal on the speaker leads, a little late, and off later."
        )
    if mode == "supply-sensing":
        if senses.supply is False:  # decides by itself, whatever the engine does
            return "This amplifier has no voltage sensing."
        return (
            _reason_of_parts(
                (
                    senses.supply,
                    "the amplifier has no voltage sensing",
                    "supply sensing at the amplifier",
                ),
                (
                    opposite(vehicle.stops_engine),
                    "the engine stops at each halt, and the music with it",
                    "whether the engine stops by itself at a halt",
                ),
            )
            or "It turns on with the running engine’s voltage, and plays only while that runs."
        )
    return _reason_of_ignition(vehicle, senses)


def _reason_of_ignition(vehicle: Vehicle, senses: Senses) -> str:
    """Say how a feed that goes off with the ignition turns it on; this way always exists."""
    if senses.trigger is False:
        sentence = (
            "The amplifier has no remote terminal: a relay rated for the main fuse switches its "
            "supply. A feed that goes off with the ignition, fused at 1 A, works the relay."
        )
    else:
        sentence = (
            "A feed that is live with the key at accessory and stays live through an engine "
            "restart, fused at 1 A where it is tapped, gives the remote signal through a relay."
        )
    if vehicle.has_button is not False:
        sentence += (
            " Behind a start button circuits stay live for a while, or wake by themselves: measure "
            "live when on, dead when off, and dead still after 30 min."
        )
    if senses.trigger is None:
        sentence += " Look for the remote terminal first: nearly every amplifier has one."
    return sentence


def _reason_of_parts(*parts: tuple[bool | None, str, str]) -> str:
    """Return what stands against it; else what is missing; else nothing."""
    against = [contrary for holds, contrary, _ in parts if holds is False]
    missing = [figure for holds, _, figure in parts if holds is None]
    if against:
        sentence = "; ".join(against)
        return f"{sentence[0].upper()}{sentence[1:]}."
    return f"Not known: {listed(missing)}." if missing else ""
