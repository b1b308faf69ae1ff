"""Why a way of turning on works, does not, or is open."""

from calc.answers.figures import capital, listed
from calc.setup.ways import Mode, Senses, Vehicle, opposite


def reason_of(mode: Mode, vehicle: Vehicle, senses: Senses) -> str:
    """Return the reason why a way works, does not, or is open, in a sentence."""
    if mode == "trigger":
        return (
            _reason_of_parts(
                (
                    senses.trigger,
                    "this amplifier has no remote terminal",
                    "whether the amplifier has a remote terminal",
                ),
                (
                    vehicle.has_trigger,
                    "this head unit has no remote turn-on lead",
                    "whether the head unit has a remote turn-on lead",
                ),
            )
            or "The head unit switches it on and off."
        )
    if mode == "signal-sensing":
        return (
            _reason_of_parts(
                (
                    senses.signal,
                    "this amplifier has no signal sensing",
                    "whether the amplifier has signal sensing",
                ),
                (
                    vehicle.has_speaker_signal,
                    "no speaker leads go to the amplifier",
                    "whether speaker leads go to the amplifier",
                ),
            )
            or "It turns on with the signal on the speaker leads, and switches off a little late."
        )
    if mode == "supply-sensing":
        if senses.supply is False:  # decides by itself, whatever the engine does
            return "This amplifier has no voltage sensing."
        return (
            _reason_of_parts(
                (
                    senses.supply,
                    "this amplifier has no voltage sensing",
                    "whether the amplifier has voltage sensing",
                ),
                (
                    opposite(vehicle.stops_engine),
                    "the engine stops at every halt, and the music with it",
                    "whether the engine stops at a halt",
                ),
            )
            or "It turns on when the engine runs, and plays only then."
        )
    return _reason_of_ignition(vehicle, senses)


def _reason_of_ignition(vehicle: Vehicle, senses: Senses) -> str:
    """Say how a feed that goes off with the ignition turns it on; this way always exists."""
    if senses.trigger is False:
        sentence = (
            "This amplifier has no remote terminal: use a relay rated for the main fuse to switch "
            "its supply. A feed that goes off with the ignition, fused at 1 A, works the relay."
        )
    else:
        sentence = (
            "A feed that is live with the key at accessory and through an engine restart, fused at "
            "1 A where it is tapped, switches the remote terminal through a relay."
        )
    if vehicle.has_button is not False:
        sentence += (
            " With a start button, circuits stay live for a while or wake up by themselves: the "
            "feed must be live when on, dead when off, and still dead after 30 min."
        )
    if senses.trigger is None:
        sentence += " Look for the remote terminal first; nearly every amplifier has one."
    return sentence


def _reason_of_parts(*parts: tuple[bool | None, str, str]) -> str:
    """Return what stands against it; else what is missing; else nothing."""
    against = [contrary for holds, contrary, _ in parts if holds is False]
    missing = [figure for holds, _, figure in parts if holds is None]
    if against:
        sentence = "; ".join(against)
        return f"{capital(sentence)}."
    return f"Find out {listed(missing)}." if missing else ""
