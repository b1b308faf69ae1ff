"""Which of the powers that a text states are figures of a channel, and which are not."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answers.figures import rounded
from calc.reading.power_found import Power
from calc.reading.record import Notes

_KEYS = {4.0: "power_4ohm_w", 2.0: "power_2ohm_w", 8.0: "power_8ohm_w"}
_BRIDGED_OHM = 4.0
_LARGE_W = 150.0  # of a channel among several at 4 Ω: more than most supplies feed


def settle_powers(notes: Notes, powers: Sequence[Power], channels: int | None) -> int | None:
    """Take the powers that are plain; return the number of channels that they show.

    channels : as the text gives it in so many words; None where it does not
    """
    kept = [power for power in powers if not _refused(notes, power, channels)]
    kept = _without_mixes(notes, kept)
    if channels is None:
        channels = _counted([power for power in kept if not power.mono])
    rms = {_key(power, channels) for power in kept if power.quality == "rms"}
    counted = next(
        (
            power.watts
            for power in kept
            if power.load_ohm == 4
            and not _is_bridged(power, channels)
            and (power.each or (power.count is not None and power.count == channels))
        ),
        None,
    )
    for power in kept:
        key = _key(power, channels)
        if key is None:
            notes.refuse(power.span, f"the handbook has no field for {_named(power)}")
            _follow(notes, power, channels)
            continue
        if power.quality != "rms" and key in rms:
            same = any(
                p.quality == "rms" and _key(p, channels) == key and p.watts == power.watts
                for p in kept
            )
            if not same:
                notes.refuse(power.span, "not called RMS, and another figure is")
            continue
        if _is_bridged(power, channels):
            _bridged(notes, power, channels, kept)
        elif not rms and _is_boasted(power, powers):
            how = f"{power.count} × {rounded(power.watts)} W at {rounded(power.load_ohm or 0)} Ω"
            choice = ("yes, RMS", {key: power.watts})
            notes.ask(power.span, f"{how}, not called RMS: is it the RMS power?", [choice])
        else:
            _plain(notes, power, key, channels, counted)
    _compare(notes)
    return channels


def _is_boasted(power: Power, powers: Sequence[Power]) -> bool:
    """Tell whether a power without the word RMS may be a maximum: large, or of a boasted total."""
    if power.count is None or power.count < 2 or power.quality:
        return False
    whole = power.count * power.watts
    totals = [p.watts for p in powers if p.load_ohm is None and p.count is None and not p.each]
    return power.watts > _LARGE_W or any(abs(whole - watts) < 0.02 * whole for watts in totals)


def _compare(notes: Notes) -> None:
    """Refuse powers at two loads that no amplifier has both of: at half the load at most twice."""
    for low, high in (("power_2ohm_w", "power_4ohm_w"), ("power_4ohm_w", "power_8ohm_w")):
        pair = [notes.of(key) for key in (low, high)]
        if any(len(values) != 1 for values in pair):
            continue
        ratio = float(pair[0][0]) / float(pair[1][0])
        if not 0.85 <= ratio <= 2.2:
            for key in (low, high):
                notes.withdraw(key, "it does not match the power at the other load")


def _key(power: Power, channels: int | None) -> str | None:
    if power.load_ohm is None:
        return None
    if _is_bridged(power, channels):
        return "rated_bridged_w" if power.load_ohm == _BRIDGED_OHM else None
    return _KEYS.get(power.load_ohm)


def _is_bridged(power: Power, channels: int | None) -> bool:
    return power.bridged or (power.mono and channels is not None and channels >= 2)


def _named(power: Power) -> str:
    assert power.load_ohm is not None
    how = "bridged " if power.bridged else ""
    return f"a power {how}at {rounded(power.load_ohm)} Ω"


def _refused(notes: Notes, power: Power, channels: int | None) -> bool:
    """Refuse what is no rating, whatever else the text says."""
    reason = ""
    if power.quality == "max":
        reason = "a maximum, not a rating"
    elif power.total:
        reason = "a total, not the power of a channel"
    elif power.quality == "mixed":
        reason = "it is not clear whether this is RMS or a maximum"
    elif power.doubt:
        reason = power.doubt
    elif power.sub and not power.bridged and channels != 1:
        reason = "belongs to the sub channel, so it was left out"
    elif power.load_ohm is None:
        reason = "a power at an unstated load"
    elif power.stereo and power.bridged:
        reason = "it is not clear whether this is bridged"
    if reason:
        notes.refuse(power.span, reason)
    return bool(reason)


def _without_mixes(notes: Notes, powers: list[Power]) -> list[Power]:
    """Of 4 x 60 W + 1 x 300 W the four stay; of 2 x 60 W + 1 x 180 W nothing does."""
    kept = []
    for power in powers:
        if not power.mixed:
            kept.append(power)
        elif power.count is not None and power.count >= 4:
            kept.append(replace(power, mixed=False))
        else:
            notes.refuse(power.span, "a mix of channels or modes: left out")
    return kept


def _counted(powers: Sequence[Power]) -> int | None:
    """Return how many channels the counts show, where they agree."""
    counts = {
        power.count
        for power in powers
        if power.count is not None and not power.bridged and not power.place
    }
    if len(counts) == 1:
        return counts.pop()
    if len(counts) == 2 and min(counts) == 1 and max(counts) >= 4:
        return max(counts)  # and one of another kind
    if counts and 2 * min(counts) == max(counts) and len(counts) == 2:
        # 4 x 60 W and 2 x 180 W: the smaller number is of pairs, said or not.
        return max(counts)
    return None


def _bridged(notes: Notes, power: Power, channels: int | None, others: Sequence[Power]) -> None:
    too_many = power.count is not None and (
        power.count > 3 if channels is None else 2 * power.count > channels
    )
    if too_many and not (power.count == 1 and channels == 1):
        notes.refuse(power.span, "bridged: more pairs than the amplifier has")
        return
    low, high = 1.2, 4.4
    for other in others:
        if other.bridged or other.load_ohm not in (2.0, 4.0) or other is power:
            continue
        if other.count is None and not other.each:
            continue
        ratio = power.watts / other.watts
        low, high = (0.9, 2.4) if other.load_ohm == 2 else (1.2, 4.4)
        if not low <= ratio <= high:
            notes.refuse(
                power.span,
                f"bridged {rounded(power.watts)} W does not match {rounded(other.watts)} W at "
                f"{rounded(other.load_ohm)} Ω",
            )
            return
    if power.count is None and not _is_pair(power, channels, others):
        notes.ask(
            power.span,
            f"{rounded(power.watts)} W bridged at 4 Ω: of each pair of channels?",
            [("of each pair", {"rated_bridged_w": power.watts})],
        )
        return
    notes.claim("rated_bridged_w", power.watts, power.span, rank=_rank(power))
    _follow(notes, power, channels)


def _is_pair(power: Power, channels: int | None, others: Sequence[Power]) -> bool:
    """Tell whether a bridged power without a count is that of one pair, by the other figures."""
    if channels == 2 or power.each:
        return True
    counted = [p for p in others if not p.bridged and (p.count is not None or p.each)]
    at_two = [other.watts for other in counted if other.load_ohm == 2]
    if at_two:
        return power.watts <= 2.4 * max(at_two)
    # Two pairs together would give six to eight times the power of a channel.
    return any(power.watts <= 4.2 * p.watts for p in counted if p.load_ohm == 4)


def _rank(power: Power) -> int:
    return 1 if power.quality == "rms" else 0


def _follow(notes: Notes, power: Power, channels: int | None) -> None:
    """Take what follows for certain from a bridged load: each channel sees half of it."""
    if not _is_bridged(power, channels) or power.load_ohm is None:
        return
    load = rounded(power.load_ohm)
    notes.claim("may_be_bridged", True, power.span, follows=f"‘bridged at {load} Ω’")
    if power.load_ohm in (2.0, 4.0):
        notes.claim(
            "min_channel_ohm", power.load_ohm / 2, power.span,
            follows=f"‘bridged at {load} Ω’", rank=-1,
        )  # fmt: skip


def _plain(
    notes: Notes, power: Power, key: str, channels: int | None, counted: float | None
) -> None:
    """Take a power that is not bridged, where it is plainly that of one channel."""
    count = power.count
    whole = {key: power.watts}
    watts, load = rounded(power.watts), rounded(power.load_ohm or 0.0)
    if power.mono and channels is None:
        notes.refuse(power.span, "mono: it may or may not mean bridged")
        return
    if count is not None and channels is not None and count > channels:
        notes.refuse(power.span, f"of {count} channels, though there are {channels}")
        return
    if count is not None and channels is not None and count < channels and not power.place:
        if (
            2 * count == channels
            and (counted is None or power.watts > 1.3 * counted)
            and load == "4"
        ):
            notes.ask(
                power.span,
                f"{count} × {watts} W at {load} Ω, of {channels} channels: bridged?",
                [("bridged", {"rated_bridged_w": power.watts}), ("two of them alone", {})],
            )
        else:
            notes.refuse(power.span, f"of {count} channels only, though there are {channels}")
        return
    if count is not None or power.each or channels == 1:
        notes.claim(key, power.watts, power.span, rank=_rank(power))
        return
    if counted is not None and key != "power_4ohm_w":
        ratio = power.watts / counted
        highest = 2.1 if channels is not None and channels >= 4 else 1.8
        if (0.8 <= ratio <= highest) if key == "power_2ohm_w" else (0.4 <= ratio <= 0.75):
            notes.claim(key, power.watts, power.span, rank=_rank(power))
            return
    if counted is not None and key == "power_4ohm_w":
        if power.watts == counted:
            return
        notes.refuse(power.span, "not the figure of a channel that the text gives elsewhere")
        return
    choices: list[tuple[str, dict[str, object]]] = [("of each channel", dict(whole))]
    if channels is not None and channels > 1:
        label = f"of all {channels} together"
        choices.append((label, {key: round(power.watts / channels, 2)}))
    notes.ask(power.span, f"{watts} W at {load} Ω: of each channel, or of all together?", choices)
