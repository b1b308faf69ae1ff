"""What each step of commissioning says: what is read, and what a reading that is out means."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answers.figures import listed, quantity, rounded
from calc.setup.commissioning.inputs import Inputs, OutputRow
from calc.setup.commissioning.steps import Finding, Step
from calc.setup.ways import Mode

PHASES = (
    "1. Nothing powered: main fuse out, the amplifier’s power plug and the speakers’ leads off it",
    "2. Fuse in, engine off, gains fully down, speakers still off",
    "3. Off again, speakers on, then engine running outside",
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
            "not known": "what it should be is not known",
        }[finding]


_SAME: Mapping[str, StepWords] = {
    "earth_ohm": StepWords(
        short="Earth lead to battery −",
        what="Amplifier’s earth lead to the battery’s negative, probes’ own reading taken off",
        below="no resistance is below nought: the probes’ own was taken off twice, or there is "
        "a voltage",
        above="paint under the lug, a loose screw or a thin return",
        opened="the earth lead has no contact at all",
    ),
    "supply_insulation_mohm": StepWords(
        short="Power cable to body",
        what="Power cable to the body",
        below="the cable touches the body: find the place before the fuse goes in",
    ),
    "leads_insulation_mohm": StepWords(
        short="Every speaker lead to body",
        what="Each speaker lead to the body, the lowest of all",
        below="a lead touches the body: it can destroy the output",
    ),
    "rest_v": StepWords(
        short="+12 V to GND, all off",
        what="At the amplifier, all off",
        below="the battery is low, or a joint is bad: compare at the battery",
        above="just driven or on a charger: switch the lights on for a minute",
    ),
    "parked_a": StepWords(
        short="Current after locking",
        what="Current some time after locking (meter off before anything is on)",
        below="the probes are exchanged",
        above="it does not turn off, or something else hangs on its cable",
    ),
    "offset_mv": StepWords(
        short="DC at outputs, the worst",
        what="DC at each output, on, no signal: the one farthest from nought",
        below="the output or what feeds it is faulty: no speakers on it",
        above="the output or what feeds it is faulty: no speakers on it",
    ),
    "source_v": StepWords(
        short="AC at head unit’s output",
        what="Head unit’s output, first output’s tone, at the highest volume you will use",
        below="a volume lower than noted, or a tone control cuts",
        above="it brings more than its data say: does the input take it?",
    ),
    "clean_v": StepWords(
        short="Radio’s highest clean AC",
        what="Factory radio, first output’s tone, meter across one pair of its speaker leads: turn "
        "its volume up until the voltage stops following, go two steps back; note volume and "
        "voltage, and leave it there for the gains",
        below="the probes are exchanged",
        above="more than its rating brings: it clips already, or the rating is another",
    ),
    "idle_v": StepWords(
        short="+12 V to GND, idling",
        what="At the amplifier, engine idling, no music",
        below="the alternator rests or does not charge: compare at the battery",
        above="the alternator charges too high: to a workshop",
    ),
    "noise": StepWords(
        short="No whine, no hiss",
        what="No whine that follows the engine, no hiss at the seat",
        below="first the earth, then the leads, then the gain: see the chapter",
    ),
    "heat": StepWords(
        short="Cool after half an hour",
        what="After half an hour as loud as you will use it: cable, fuse holder and terminals "
        "stay cool, the amplifier can be touched",
        below="a hot joint is a bad joint: off, find it; a hot amplifier needs air",
    ),
    "loose": StepWords(
        short="Nothing loose, covers on",
        what="Nothing loose; covers on; seats move; settings and volume noted",
        below="not yet done",
    ),
}
_WITH_THE_ENGINE: Mapping[str, StepWords] = {
    "turns_on": StepWords(
        short="Turns on as the engine starts",
        what="Engine started: the amplifier turns on, and stays on at idle with lights on",
        below="the voltage at the amplifier is lower than it senses: see the next step",
    ),
    "turns_off": StepWords(
        short="Turns off after the engine",
        what="Engine off: the amplifier turns off after the minutes that its manual tells",
        below="the voltage stays up, or it senses something else: it would empty the battery",
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
        "Leads touched for a moment with 1.5 V, + on the + lead: every cone moves out; tweeters "
        "and what is behind a capacitor get no voltage, follow their leads by eye"
    )
    short = "1.5 V cell: cones move out"
    if turned:
        short += f", in: {listed(turned)}"
        what += f". Joined reversed on purpose, so in, or the + lead on −: {listed(turned)}"
    return StepWords(
        what=what,
        short="1.5 V cell: cones move out" + (", these in: " + listed(turned) if turned else ""),
        below="+ and − are exchanged at that speaker, or on the way to it",
    )


def _coil(row: OutputRow) -> StepWords:
    what, short = f"Speaker leads of {row.name}", f"Leads of {row.name}"
    if row.path == "capacitor":
        return StepWords(
            what=what,
            short=short,
            below="the capacitor is bridged or missing: nothing keeps the bass from the tweeter",
        )
    return StepWords(
        what=what,
        short=short,
        below="less than planned: coils wired otherwise, or a short on the way",
        above="more than planned: coils wired otherwise, or a bad joint",
        opened="a break: a lead, a joint or a coil",
    )


def _turning_on(way: Mode | None) -> Mapping[str, StepWords]:
    """Return the words for the steps that show that it turns on and off, with the engine off."""
    trigger = "Trigger" if way == "trigger" else "Trigger, from the added relay"
    starts = "Head unit on" if way is None else "Head unit on, soft music"
    return {
        "trigger_on_v": StepWords(
            short="REM, head unit on",
            what=f"{trigger}, head unit on",
            below="not the trigger wire, or more hangs on it than it feeds",
            above="more than the battery has: the meter’s range",
        ),
        "trigger_off_v": StepWords(
            short="REM, head unit off",
            what=f"{trigger}, head unit off",
            below="the probes are exchanged",
            above="this wire stays live: the amplifier would empty the battery",
        ),
        "turns_on": StepWords(
            short="Turns on with music, stays on",
            what=f"{starts}: the amplifier turns on, and stays on in a quiet passage",
            below="no signal reaches it, or less than it senses: see how it turns on",
        ),
        "turns_off": StepWords(
            short="Turns off with the head unit",
            what="Head unit off: the amplifier turns off after the minutes that its manual tells",
            below="what it senses stays: it would empty the battery",
        ),
    }


def _gain(row: OutputRow) -> StepWords:
    across = "across its two bridged terminals, " if row.bridged else ""
    boost = ", boost out" if row.boost_db else ""
    limit = ""
    if row.aim_v < row.ceiling_v:
        limit = f"; the ceiling is {quantity(row.ceiling_v, 'V', 3)}"
    return StepWords(
        what=f"Gain of {row.name}: {across}{quantity(row.tone_hz, 'Hz')} at "
        f"{rounded(row.tone_dbfs)} dBFS{boost}{limit}",
        short=f"AC {row.name}, {quantity(row.tone_hz, 'Hz')}",
        below="it would play too softly: turn up, if the head unit is at its volume",
        above="too loud beside the others: turn down" if limit else "it will clip: turn down",
    )


def _drop(loop_mohm: float | None) -> StepWords:
    by_clamp = ""
    if loop_mohm is not None:
        by_clamp = (
            f" (with a clamp meter: at most 0.1 V and {quantity(loop_mohm, 'mV', 3)} for each "
            "ampere)"
        )
    return StepWords(
        what="Battery less amplifier, + and − together, at the loudest bass you will use"
        + by_clamp,
        short="Drop, + and −, loudest bass",
        below="the probes are exchanged",
        above="a bad joint, or thinner cable than planned: measure piece by piece",
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
