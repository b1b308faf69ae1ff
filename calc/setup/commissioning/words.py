"""What each step of commissioning says: what is read, and what a reading that is out means."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answers.figures import listed, quantity, rounded
from calc.setup.commissioning.inputs import Inputs, OutputRow
from calc.setup.commissioning.steps import Finding, Step
from calc.setup.ways import Mode

PHASES = (
    "1. No power: main fuse out, power plug and speaker leads off the amplifier",
    "2. Fuse in, engine off, gains fully down, speakers still off the amplifier",
    "3. Switch off, connect the speakers, then run the engine outside",
)


@dataclass(frozen=True, kw_only=True)
class StepWords:
    """What is read, and what a reading below, above or open there usually means.

    short : what is read in as few words as a line on paper holds
    """

    what: str
    short: str
    below: str = ""
    above: str = ""
    opened: str = ""

    def meaning(self, finding: Finding) -> str:
        """Return what a finding means; nothing where all is well."""
        return {
            "within": "",
            "below": self.below,
            "above": self.above,
            "opened": self.opened,
            "not known": "no limit yet: look it up in the manual",
        }[finding]


_SAME: Mapping[str, StepWords] = {
    "earth_ohm": StepWords(
        short="Earth lead to battery −",
        what="Amplifier’s earth (ground) lead to the battery’s negative, less the reading of the "
        "probes held together",
        below="resistance cannot be below zero: the probes were subtracted twice, or there is a "
        "voltage",
        above="paint under the ring terminal, a loose screw or a thin earth lead",
        opened="the earth lead has no contact at all",
    ),
    "supply_insulation_mohm": StepWords(
        short="Power cable to body",
        what="Power cable to the vehicle body (chassis)",
        below="the cable touches the body: find where before you fit the fuse",
    ),
    "leads_insulation_mohm": StepWords(
        short="Every speaker lead to body",
        what="Each speaker lead to the body; write down the lowest",
        below="a lead touches the body: it can destroy the output",
    ),
    "rest_v": StepWords(
        short="+12 V to GND, all off",
        what="+12 V to earth at the amplifier, all off",
        below="the battery is low, or a joint is bad: compare with the reading at the battery",
        above="just driven, or on a charger: switch the lights on for a minute",
    ),
    "parked_a": StepWords(
        short="Standby drain, locked",
        what="Standby drain some time after locking; take the meter out before you switch anything "
        "on",
        below="the probes are swapped",
        above="the amplifier does not turn off, or something else is connected to its cable",
    ),
    "offset_mv": StepWords(
        short="DC at outputs, the worst",
        what="DC at each output, switched on, no signal; write down the one farthest from zero",
        below="the output or its input is faulty: connect no speakers to it",
        above="the output or its input is faulty: connect no speakers to it",
    ),
    "source_v": StepWords(
        short="AC at head unit’s RCA",
        what="AC at the head unit’s RCA output with the first output’s tone, at the highest "
        "volume that will be used",
        below="the volume is lower than noted, or a tone control cuts",
        above="more than its spec sheet says: check that the amplifier’s input takes it",
    ),
    "clean_v": StepWords(
        short="Radio’s highest clean AC",
        what="Factory radio with the first output’s tone, meter across one pair of its speaker "
        "leads: turn the volume up until the voltage stops following, then two steps back. Note "
        "volume and voltage, and leave it there while you set the gains",
        below="the meter is not on AC",
        above="more than its rated power: it already clips, or the rating is wrong",
    ),
    "idle_v": StepWords(
        short="+12 V to GND, idling",
        what="+12 V to earth at the amplifier, engine idling, no music",
        below="the alternator is idle or not charging: compare with the reading at the battery",
        above="the alternator overcharges: send the vehicle to a workshop",
    ),
    "noise": StepWords(
        short="No whine, no hiss",
        what="No alternator whine that follows the engine, no hiss at the seat",
        below="check first the earth, then the leads, then the gain: see the set-up chapter",
    ),
    "heat": StepWords(
        short="Cool after half an hour",
        what="After half an hour as loud as it will be played: cable, fuse holder and terminals "
        "stay cool, and the amplifier can be touched",
        below="a hot joint is a bad joint: switch off and find it; a hot amplifier needs air",
    ),
    "loose": StepWords(
        short="Nothing loose, covers on",
        what="Nothing loose, covers on, seats move freely, settings and volume noted",
        below="not done yet",
    ),
}
_WITH_THE_ENGINE: Mapping[str, StepWords] = {
    "turns_on": StepWords(
        short="Turns on as the engine starts",
        what="Start the engine: the amplifier turns on, and stays on at idle with the lights on",
        below="the voltage at the amplifier is below its threshold: see the next check",
    ),
    "turns_off": StepWords(
        short="Turns off after the engine",
        what="Engine off: the amplifier turns off after the time in its manual",
        below="the voltage stays up, or it senses something else: it will empty the battery",
    ),
}


def words_of(step: Step, inputs: Inputs) -> StepWords:
    """Return what a step of this system says."""
    way = inputs.turned_on_by
    if step.output is not None:
        row = inputs.outputs[step.output - 1]
        return _gain(row) if step.kind == "volt" else _coil(row)
    if step.key == "polarity":
        return _polarity(inputs.outputs)
    if step.key == "drop_v":
        return _drop(inputs.loop_mohm)
    if step.key in _WITH_THE_ENGINE and way == "supply-sensing":
        return _WITH_THE_ENGINE[step.key]
    return _SAME.get(step.key) or _turning_on(way)[step.key]


def _polarity(outputs: tuple[OutputRow, ...]) -> StepWords:
    turned = [row.name for row in outputs if row.polarity == "reversed"]
    what = (
        "Touch each pair of leads with a 1.5 V cell for a moment, + to +: every cone moves out. "
        "Tweeters, and any speaker behind a capacitor, get no voltage: follow their leads by eye"
    )
    if turned:
        what += f". Reversed on purpose, so the cone moves in (or + is on −): {listed(turned)}"
    return StepWords(
        what=what,
        short="1.5 V cell: cones move out" + (", these in: " + listed(turned) if turned else ""),
        below="+ and − are swapped at that speaker or along its lead",
    )


def _coil(row: OutputRow) -> StepWords:
    what, short = f"Resistance of the speaker leads of {row.name}", f"Leads of {row.name}"
    if row.path == "capacitor":
        return StepWords(
            what=what,
            short=short,
            below="the capacitor is shorted or missing: nothing keeps bass from the tweeter",
        )
    return StepWords(
        what=what,
        short=short,
        below="lower than planned: the voice coils are wired differently, or a lead is shorted",
        above="higher than planned: the voice coils are wired differently, or a bad joint",
        opened="a break: a lead, a joint or a voice coil",
    )


def _turning_on(way: Mode | None) -> Mapping[str, StepWords]:
    """Return the words for the steps that show that it turns on and off, with the engine off."""
    remote = "Remote lead (REM)"
    if way != "trigger":
        remote += " from the relay"
    starts = "Head unit on" if way is None else "Head unit on, soft music"
    return {
        "trigger_on_v": StepWords(
            short="REM, head unit on",
            what=f"{remote}, head unit on",
            below="the wrong lead, or too much is connected to it",
            above="more than the battery has: check the meter’s range",
        ),
        "trigger_off_v": StepWords(
            short="REM, head unit off",
            what=f"{remote}, head unit off",
            below="the probes are swapped",
            above="this lead stays live: the amplifier will empty the battery",
        ),
        "turns_on": StepWords(
            short="Turns on with music, stays on",
            what=f"{starts}: the amplifier turns on, and stays on in a quiet passage",
            below="no signal reaches it, or too little: see how it turns on",
        ),
        "turns_off": StepWords(
            short="Turns off with the head unit",
            what="Head unit off: the amplifier turns off after the time in its manual",
            below="what it senses stays on: it will empty the battery",
        ),
    }


def _gain(row: OutputRow) -> StepWords:
    across = "across its two bridged terminals, " if row.bridged else ""
    boost = ", boost off" if row.boost_db else ""
    limit = ""
    if row.aim_v < row.ceiling_v:
        limit = f"; never above {quantity(row.ceiling_v, 'V', 3)}"
    return StepWords(
        what=f"Gain of {row.name}: {across}{quantity(row.tone_hz, 'Hz')} at "
        f"{quantity(row.tone_dbfs, 'dBFS')}{boost}{limit}",
        short=f"AC {row.name}, {quantity(row.tone_hz, 'Hz')}",
        below="too quiet: turn up, if the head unit is at its noted volume",
        above="louder than the others: turn down" if limit else "it will clip: turn down",
    )


def _drop(loop_mohm: float | None) -> StepWords:
    by_clamp = ""
    if loop_mohm is not None:
        by_clamp = (
            f" (with a clamp meter: no more than 0.1 V plus {quantity(loop_mohm, 'mV', 3)} for "
            "each ampere)"
        )
    return StepWords(
        what="Voltage drop: battery less amplifier, + and − together, at the loudest bass that "
        "will be used" + by_clamp,
        short="Drop, + and −, loudest bass",
        below="the two readings are swapped",
        above="a bad joint, or thinner cable than planned: measure section by section",
    )


def expected_words(step: Step) -> str:
    """Write what a step should read."""
    if step.kind == "tick":
        return "yes"
    expected, unit = step.expected, step.unit
    if not expected.is_known:
        return "not known"
    if step.aim is not None:
        low, high = (rounded(bound or 0.0, 3) for bound in (expected.low, expected.high))
        return f"{quantity(step.aim, unit)} ({low} to {high})"
    if expected.open_is_right:
        return f"open, or at least {quantity(expected.low, unit, 3)}"
    if expected.low is None or expected.low == 0:
        return f"at most {quantity(expected.high, unit, 3)}"
    return f"{rounded(expected.low, 3)} to {quantity(expected.high, unit, 3)}"


def expected_short(step: Step) -> str:
    """Write what a step should read, as a narrow column holds it.

    >>> from calc.physics.readings import Expected
    >>> between = Expected(low=1, high=2)
    >>> expected_short(Step(key="a_v", phase=0, kind="volt", unit="V", expected=between))
    '1–2\\u202fV'
    """
    expected, unit = step.expected, step.unit
    low, high = expected.low, expected.high
    if step.kind == "tick" or not expected.is_known:
        return expected_words(step)
    if step.aim is not None and step.output is not None:  # set to it, not only read
        return quantity(step.aim, unit)
    if expected.open_is_right:
        return f"over {quantity(low, unit, 3)}"
    if low is None or low == 0:
        return f"up to {quantity(high, unit, 3)}"
    if high is not None and low == -high:
        return f"±{quantity(high, unit, 3)}"
    between = " to " if low < 0 else "–"
    return f"{rounded(low, 3)}{between}{quantity(high, unit, 3)}"
