"""The steps of commissioning a system: what is read, what it should be, what it means if not."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from calc.answers.figures import listed, quantity, rounded
from calc.physics.levels import ratio, target
from calc.setup.readings import Expected, coil_resistance, gain_window

MOST_OUTPUTS = 6
Kind = Literal["ohm", "volt", "tick"]

# Common practice, no source, unless said otherwise.
_EARTH_OHM = 0.1
_INSULATION_MOHM = 1.0
_OFFSET_MV = 50.0
_OFF_V = 0.5
_REST_TOLERANCE_V = 0.3
_RUNNING_BELOW_V, _RUNNING_ABOVE_V = 0.7, 0.5
_TRIGGER_BELOW_V, _TRIGGER_ABOVE_V = 1.5, 0.5
_SOURCE_TOLERANCE_DB = 1.0
NOTHING_KNOWN = Expected()
PHASES = (
    "1. Nothing powered: main fuse out, the amplifier’s power plug and the speakers’ leads off it",
    "2. Fuse in, engine off, gains fully down, speakers still off",
    "3. Off again, speakers on, then engine running outside",
)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One reading or one tick.

    kind : `ohm` may read open, `volt` is any other number, `tick` is yes or no
    aim : the value to set, where the reading is set and not only read
    below, above, opened : what a reading there usually means
    """

    key: str
    phase: int
    what: str
    kind: Kind
    unit: str = ""
    expected: Expected = NOTHING_KNOWN
    aim: float | None = None
    below: str = ""
    above: str = ""
    opened: str = ""


def steps_of(given: Mapping[str, Any]) -> tuple[Step, ...]:
    """Return the steps for this system, in their order."""
    outputs = given["outputs"]
    return (
        *_unpowered(outputs),
        *_powered(given),
        *(_gain(at, row) for at, row in enumerate(outputs, 1)),
        *_playing(given),
    )


def _unpowered(outputs: Sequence[Mapping[str, Any]]) -> list[Step]:
    return [
        Step(
            key="earth_ohm", phase=0, kind="ohm", unit="Ω",
            expected=Expected(low=0.0, high=_EARTH_OHM),
            what="Amplifier’s earth lead to the battery’s negative, probes’ own reading taken off",
            below="no resistance is below nought: the probes’ own was taken off twice, or there is "
            "a voltage",
            above="paint under the lug, a loose screw or a thin return",
            opened="the earth lead has no contact at all",
        ),
        Step(
            key="supply_insulation_mohm", phase=0, kind="ohm", unit="MΩ",
            expected=Expected(low=_INSULATION_MOHM, open_is_right=True),
            what="Power cable to the body",
            below="the cable touches the body: find the place before the fuse goes in",
        ),
        *(_coil(at, row) for at, row in enumerate(outputs, 1)),
        Step(
            key="leads_insulation_mohm", phase=0, kind="ohm", unit="MΩ",
            expected=Expected(low=_INSULATION_MOHM, open_is_right=True),
            what="Each speaker lead to the body, the lowest of all",
            below="a lead touches the body: it can destroy the output",
        ),
        _polarity(outputs),
    ]  # fmt: skip


def _polarity(outputs: Sequence[Mapping[str, Any]]) -> Step:
    turned = [row["name"] for row in outputs if row["polarity"] == "reversed"]
    what = (
        "Leads touched for a moment with 1.5 V, + on the + lead: every cone moves out; tweeters "
        "and what is behind a capacitor get no voltage, follow their leads by eye"
    )
    if turned:
        what += f". Joined reversed on purpose, so in, or the + lead on −: {listed(turned)}"
    return Step(
        key="polarity", phase=0, kind="tick", what=what,
        below="+ and − are exchanged at that speaker, or on the way to it",
    )  # fmt: skip


def _coil(at: int, row: Mapping[str, Any]) -> Step:
    what = f"Speaker leads of {row['name']}"
    if row["path"] == "capacitor":
        return Step(
            key=f"coil_{at}_ohm", phase=0, kind="ohm", unit="Ω", what=what,
            expected=Expected(low=1000.0, open_is_right=True),
            below="the capacitor is bridged or missing: nothing keeps the bass from the tweeter",
        )  # fmt: skip
    return Step(
        key=f"coil_{at}_ohm", phase=0, kind="ohm", unit="Ω", what=what,
        expected=coil_resistance(
            load_ohm=row["load_ohm"],
            lead_ohm=row["lead_ohm"],
            has_network=row["path"] == "network",
        ),
        below="less than planned: coils wired otherwise, or a short on the way",
        above="more than planned: coils wired otherwise, or a bad joint",
        opened="a break: a lead, a joint or a coil",
    )  # fmt: skip


def _powered(given: Mapping[str, Any]) -> list[Step]:
    rest = given["resting_v"]
    found = [
        Step(
            key="rest_v", phase=1, kind="volt", unit="V", what="At the amplifier, all off",
            expected=Expected(low=rest - _REST_TOLERANCE_V, high=rest + _REST_TOLERANCE_V),
            below="the battery is low, or a joint is bad: compare at the battery",
            above="just driven or on a charger: switch the lights on for a minute",
        ),
        *_turning_on(given["turned_on_by"], rest),
        Step(
            key="parked_a", phase=1, kind="volt", unit="A",
            what="Current some time after locking (meter off before anything is on)",
            expected=NOTHING_KNOWN
            if given["quiescent_a"] is None
            else Expected(low=0.0, high=given["quiescent_a"]),
            below="the probes are exchanged",
            above="it does not turn off, or something else hangs on its cable",
        ),
        Step(
            key="offset_mv", phase=1, kind="volt", unit="mV",
            what="DC at each output, on, no signal: the one farthest from nought",
            expected=Expected(low=-_OFFSET_MV, high=_OFFSET_MV),
            below="the output or what feeds it is faulty: no speakers on it",
            above="the output or what feeds it is faulty: no speakers on it",
        ),
    ]  # fmt: skip
    if given["factory_v"] is not None:
        found.append(_clean_volume(given["factory_v"]))
    if given["source_v"] is not None:
        aim = given["source_v"] * ratio(given["outputs"][0]["tone_dbfs"])
        found.append(
            Step(
                key="source_v", phase=1, kind="volt", unit="V", aim=aim,
                what="Head unit’s output, first output’s tone, at the highest volume you will use",
                expected=Expected(
                    low=aim * ratio(-_SOURCE_TOLERANCE_DB), high=aim * ratio(_SOURCE_TOLERANCE_DB)
                ),
                below="a volume lower than noted, or a tone control cuts",
                above="it brings more than its data say: does the input take it?",
            )
        )  # fmt: skip
    return found


def _clean_volume(factory_v: float) -> Step:
    return Step(
        key="clean_v", phase=1, kind="volt", unit="V",
        what="Factory radio, first output’s tone, meter across one pair of its speaker leads: turn "
        "its volume up until the voltage stops following, go two steps back; note volume and "
        "voltage, and leave it there for the gains",
        expected=Expected(low=0.0, high=factory_v * ratio(_SOURCE_TOLERANCE_DB)),
        below="the probes are exchanged",
        above="more than its rating brings: it clips already, or the rating is another",
    )  # fmt: skip


def _turning_on(way: str | None, rest_v: float) -> list[Step]:
    """Return the steps that show that it turns on and off, with the engine off.

    Sensing the running engine's voltage is tried later, with the engine running.
    """
    if way == "supply-sensing":
        return []
    if way in ("trigger", "relay-added"):
        what = "Trigger" if way == "trigger" else "Trigger, from the added relay"
        return [
            Step(
                key="trigger_on_v", phase=1, kind="volt", unit="V", what=f"{what}, head unit on",
                expected=Expected(low=rest_v - _TRIGGER_BELOW_V, high=rest_v + _TRIGGER_ABOVE_V),
                below="not the trigger wire, or more hangs on it than it feeds",
                above="more than the battery has: the meter’s range",
            ),
            Step(
                key="trigger_off_v", phase=1, kind="volt", unit="V", what=f"{what}, head unit off",
                expected=Expected(low=-_OFF_V, high=_OFF_V),
                below="the probes are exchanged",
                above="this wire stays live: the amplifier would empty the battery",
            ),
        ]  # fmt: skip
    starts = "Head unit on" if way is None else "Head unit on, soft music"
    return [
        Step(
            key="turns_on", phase=1, kind="tick",
            what=f"{starts}: the amplifier turns on, and stays on in a quiet passage",
            below="no signal reaches it, or less than it senses: see how it turns on",
        ),
        Step(
            key="turns_off", phase=1, kind="tick",
            what="Head unit off: the amplifier turns off after the minutes that its manual tells",
            below="what it senses stays: it would empty the battery",
        ),
    ]  # fmt: skip


def _with_the_engine(way: str | None) -> list[Step]:
    if way != "supply-sensing":
        return []
    return [
        Step(
            key="turns_on", phase=2, kind="tick",
            what="Engine started: the amplifier turns on, and stays on at idle with lights on",
            below="the voltage at the amplifier is lower than it senses: see the next step",
        ),
        Step(
            key="turns_off", phase=2, kind="tick",
            what="Engine off: the amplifier turns off after the minutes that its manual tells",
            below="the voltage stays up, or it senses something else: it would empty the battery",
        ),
    ]  # fmt: skip


def _gain(at: int, row: Mapping[str, Any]) -> Step:
    """Return the step that sets a gain: to the starting voltage if there is one, else the ceiling.

    The ceiling is what the output brings cleanly, or the speakers bear; nothing goes beyond it.
    """
    ceiling = target(
        power_w=row["power_w"],
        load_ohm=row["load_ohm"],
        tone_dbfs=row["tone_dbfs"],
        boost_db=row["boost_db"],
    )
    aim = ceiling
    if row["start_v"] is not None:
        aim = min(ceiling, row["start_v"] * ratio(row["tone_dbfs"] - row["boost_db"]))
    across = "across its two bridged terminals, " if row["bridged"] else ""
    boost = ", boost out" if row["boost_db"] else ""
    limit = f"; the ceiling is {quantity(ceiling, 'V', 3)}" if aim < ceiling else ""
    return Step(
        key=f"target_{at}_v", phase=1, kind="volt", unit="V", aim=aim,
        what=f"Gain of {row['name']}: {across}{quantity(row['tone_hz'], 'Hz')} at "
        f"{rounded(row['tone_dbfs'])} dBFS{boost}{limit}",
        expected=gain_window(aim),
        below="it would play too softly: turn up, if the head unit is at its volume",
        above="too loud beside the others: turn down" if limit else "it will clip: turn down",
    )  # fmt: skip


def _playing(given: Mapping[str, Any]) -> list[Step]:
    running = given["running_v"]
    return [
        *_with_the_engine(given["turned_on_by"]),
        Step(
            key="idle_v", phase=2, kind="volt", unit="V",
            what="At the amplifier, engine idling, no music",
            expected=Expected(low=running - _RUNNING_BELOW_V, high=running + _RUNNING_ABOVE_V),
            below="the alternator rests or does not charge: compare at the battery",
            above="the alternator charges too high: to a workshop",
        ),
        Step(
            key="drop_v", phase=2, kind="volt", unit="V",
            what="Battery less amplifier, + and − together, at the loudest bass you will use"
            + _by_clamp(given["loop_mohm"]),
            expected=Expected(low=0.0, high=given["drop_v"]),
            below="the probes are exchanged",
            above="a bad joint, or thinner cable than planned: measure piece by piece",
        ),
        Step(
            key="noise", phase=2, kind="tick",
            what="No whine that follows the engine, no hiss at the seat",
            below="first the earth, then the leads, then the gain: see the chapter",
        ),
        Step(
            key="heat", phase=2, kind="tick",
            what="After half an hour as loud as you will use it: cable, fuse holder and terminals "
            "stay cool, the amplifier can be touched",
            below="a hot joint is a bad joint: off, find it; a hot amplifier needs air",
        ),
        Step(
            key="loose", phase=2, kind="tick",
            what="Nothing loose; covers on; seats move; settings and volume noted",
            below="not yet done",
        ),
    ]  # fmt: skip


def _by_clamp(loop_mohm: float | None) -> str:
    """Say what the drop may be for each ampere that a clamp meter shows."""
    if loop_mohm is None:
        return ""
    return (
        f" (with a clamp meter: at most 0.1 V and {quantity(loop_mohm, 'mV', 3)} for each ampere)"
    )


def is_open_allowed(step: Step) -> bool:
    """Return whether “open” is a reading of this step."""
    return step.kind == "ohm"


def judged(step: Step, reading: str) -> tuple[bool | None, str]:
    """Return whether a reading is as expected, None if that is not known, and what it means.

    reading : a number, `open`, `yes` or `no`, as fits the step

    >>> step = Step(key="a_v", phase=0, what="", kind="volt", expected=Expected(high=1), above="x")
    >>> judged(step, "2"), judged(step, "1")
    ((False, 'x'), (True, ''))
    """
    if step.kind == "tick":
        return (True, "") if reading == "yes" else (False, step.below)
    if reading == "open":
        return (True, "") if step.expected.open_is_right else (False, step.opened)
    if not step.expected.is_known:
        return None, "what it should be is not known"
    place = step.expected.place(number_of(reading))
    return place == "within", {"within": "", "below": step.below, "above": step.above}[place]


def number_of(reading: str) -> float:
    """Return the number of a reading with a point or a comma.

    >>> number_of("12,6")
    12.6
    """
    return float(reading.replace(",", "."))
