"""The channel table of the workshop sheet: a row for each output, two lines a cell."""

from collections.abc import Mapping, Sequence

from calc.answers.figures import capital, listed, quantity, rounded
from calc.answers.paper import Grid, Line, Strong, Two
from calc.cabling import kit_list
from calc.cabling.kit_list import SpeakerLead
from calc.choosing.layouts.channels import Channel, Filtered
from calc.choosing.places import Place, places_of
from calc.choosing.plan import Plan
from calc.choosing.workshop.lookups import amplifiers_of, found, outputs_text, spaced

_LONGEST = 20  # signs of a name that the column holds on one line


def channel_grid(plan: Plan) -> Grid | None:
    """Return the table; None where nothing may be connected."""
    places = places_of(plan)
    if not places:
        return None
    leads = leads_of(plan)
    has_many = len(amplifiers_of(plan)) > 1
    return Grid(
        caption="Channel table",
        heads=(
            "Output", "Speaker, cable", "Connect at the amplifier", "Head unit", "Load",
            "Filter", "Polarity", "Gain, AC",
        ),
        rows=tuple(
            (
                _output(place, has_many=has_many),
                Two((capital(speaker_words(place)),), _cable(place, leads)),
                Two(_joined(place.channel), _loads(place)),
                Two((_from(place.channel),), _plug(place)),
                Two((quantity(place.channel.load_ohm, "Ω", 3),), _power(place.channel)),
                Two((_corners(place.channel),), _slopes(place.channel.filters)),
                Two((place.channel.polarity,), _delay(place.channel)),
                _gain(place),
            )
            for place in places
        ),
    )  # fmt: skip


def leads_of(plan: Plan) -> Mapping[str, SpeakerLead]:
    """Return the speaker leads as they are bought, by the output that they go to."""
    return {lead.end: lead for kit in found(plan, kit_list.Result) for lead in kit.leads}


def _output(place: Place, *, has_many: bool) -> Two:
    second = place.amplifier if has_many else "bridged" if place.is_bridged else ""
    return Two((Strong(outputs_text(place.own)),), second)


def speaker_words(place: Place) -> str:
    """Say whose output it is, and the side; of speakers on a crossover, that of the lowest band."""
    channel = place.channel
    is_long = len(channel.speaker) > _LONGEST and not place.feed.branches
    name = place.feed.name if is_long else channel.speaker
    return name if channel.side == "both" else f"{name}, {channel.side}"


def _cable(place: Place, leads: Mapping[str, SpeakerLead]) -> str:
    """Say which cable leads there, as long as it is laid: the kit list has its slack.

    Where pairs are joined, each has its own.
    """
    told: dict[str, list[str]] = {}
    for end, member in zip(place.ends, place.feed.members, strict=True):
        lead, length_m = leads.get(end), member.speaker.lead_m
        size = "size open" if lead is None or lead.size is None else lead.size.name
        told.setdefault(size, []).append(
            "measure it" if length_m is None else quantity(length_m, "m", 3)
        )
    return "; ".join(f"{size}, {' + '.join(lengths)}" for size, lengths in told.items())


def _joined(channel: Channel) -> Line:
    """Say which terminal of the speaker goes to which of the amplifier.

    A reversed one changes places here, and says so in its own column.
    """
    if not channel.plus_to:
        return ("coil wiring not known",)
    plus, minus = spaced(channel.plus), spaced(channel.minus)
    if channel.polarity == "reversed":
        plus, minus = minus, plus
    return ("+ on ", Strong(plus), ", − on ", Strong(minus))


def _loads(place: Place) -> str:
    """Say what is connected to it, and how."""
    channel = place.channel
    if not channel.plus_to:
        return "ask before you connect"
    if channel.wiring is not None:
        return _wiring_words(channel.wiring)
    if len(place.feed.branches) > 1:
        words = ["set" if load.kind == "set" else "speaker" for load in channel.loads]
        return f"{listed(words)} in parallel"
    if channel.capacitor_farad is not None:
        return f"{quantity(channel.capacitor_farad * 1e6, 'µF', 3)} in the + lead"
    return "component set" if place.has_set or place.has_network else "one speaker"


def _wiring_words(notation: str) -> str:
    """Say how coils or speakers are joined.

    >>> _wiring_words("1a|1b"), _wiring_words("1a+1b"), _wiring_words("(1a+1b)|(2a+2b)")
    ('coils in parallel', 'coils in series', '(1a+1b)|(2a+2b)')
    """
    ways = {sign for sign in "+|" if sign in notation}
    if len(ways) > 1:
        return notation
    if not ways:
        return "one coil"
    what = "coils" if any(letter.isalpha() for letter in notation) else "speakers"
    return f"{what} in {'series' if ways == {'+'} else 'parallel'}"


def _from(channel: Channel) -> str:
    """Say which output of the head unit feeds it, without the plug."""
    if channel.input.startswith("input"):
        return "any pair" if channel.side == "both" else channel.side
    return channel.input.replace(" RCA", "")


def _plug(place: Place) -> str:
    word = "plug" if len(place.own) == 1 else "plugs"
    return f"{word} {listed(list(map(str, place.own)))}"


def _used_w(channel: Channel) -> float | None:
    """Return the power [W] at the ceiling: what the output is set for, V²/R."""
    return None if channel.ceiling_v is None else channel.ceiling_v**2 / channel.load_ohm


def held_of(channel: Channel) -> float:
    """Return the part of an output's power that it is set for [0 … 1]; 1 where not known."""
    used = _used_w(channel)
    return 1.0 if used is None or not channel.power_w else used / channel.power_w


def _power(channel: Channel) -> str:
    used = _used_w(channel)
    if used is None or channel.power_w is None:
        return "power not known"
    return f"{rounded(used, 3)} of {quantity(channel.power_w, 'W', 3)}"


def _corners(channel: Channel) -> str:
    corners = (("HPF", channel.high_pass_hz), ("LPF", channel.low_pass_hz))
    words = [f"{edge} {quantity(hz, 'Hz')}" for edge, hz in corners if hz is not None]
    return ", ".join(words) or "none"


def _slopes(filters: Sequence[Filtered]) -> str:
    slopes = dict.fromkeys(
        f"{6 * made.order}\u202fdB/oct" for made in filters if made.box != "passive"
    )
    passive = dict.fromkeys(quantity(made.hz, "Hz") for made in filters if made.box == "passive")
    return ", ".join([*slopes, *(f"passive {hz}" for hz in passive)])


def _delay(channel: Channel) -> str:
    if channel.try_both:
        return "try both ways"
    if channel.delay_ms is None:
        return "no delay"
    return f"delay {quantity(channel.delay_ms, 'ms', 3)}"


def _gain(place: Place) -> Two:
    ceiling, start = place.channel.ceiling_v, place.channel.start_v
    if ceiling is None:
        return Two(("not known",), "don’t set it yet")
    second = "then by ear" if place.is_subwoofer else f"start {quantity(start, 'V', 3)}"
    return Two(("ceiling ", Strong(quantity(ceiling, "V", 3))), second)


__all__ = ["channel_grid", "held_of", "leads_of", "speaker_words"]
