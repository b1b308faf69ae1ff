"""The calculator `commissioning`: the sheet of readings for this system, and their judgement."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import THIN_SPACE, quantity, rounded
from calc.answers.sheet import Box, Cell, Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Choice, Number, Pattern, Readings, Rows, Text, Whole, YesNo
from calc.physics.tones import HIGHEST_HZ, LOWEST_HZ, highest_dbfs
from calc.setup.fields import HIGHEST_BOOST_DB, INVENTED
from calc.setup.steps import (
    MOST_OUTPUTS,
    PHASES,
    Step,
    is_open_allowed,
    judged,
    steps_of,
)
from calc.setup.turning_on import MODE_WORDS

_READING = re.compile(r"-?[0-9]{1,7}(?:[.,][0-9]{1,6})?|open|yes|no")
_PATHS = (
    ("direct", "direct"),
    ("network", "passive network"),
    ("capacitor", "capacitor (tweeter alone)"),
)
_GONE = re.compile(rf"(?:coil|target)_[1-{MOST_OUTPUTS}]_(?:ohm|v)|source_v|clean_v")


def expected_words(step: Step) -> str:
    """Write what a step should read."""
    if step.kind == "tick":
        return "yes"
    expected, unit = step.expected, step.unit
    if not expected.is_known:
        return "not known"
    if step.aim is not None:
        low, high = (rounded(one or 0.0, 3) for one in (expected.low, expected.high))
        return f"{quantity(step.aim, unit)} ({low} to {high})"
    if expected.open_is_right:
        return f"open, or at least {quantity(expected.low, unit, 3)}"
    if expected.low is None or expected.low == 0:
        return f"at most {quantity(expected.high, unit, 3)}"
    return f"{rounded(expected.low, 3)} to {quantity(expected.high, unit, 3)}"


def commissioning(given: Mapping[str, Any]) -> Sheet:
    """Compute `commissioning`."""
    steps = steps_of(given)
    typed = {row["step"]: row["reading"] for row in given["readings"]}
    outcomes = {step.key: judged(step, typed[step.key]) for step in steps if step.key in typed}
    wrong = [step for step in steps if outcomes.get(step.key, (None, ""))[0] is False]
    right = [step for step in steps if outcomes.get(step.key, (None, ""))[0]]
    left_out = [key for key in typed if key not in outcomes]
    return Sheet(
        sentence=_sentence(given, len(steps), len(typed) - len(left_out), len(wrong)),
        verdict=_verdict(steps, typed, outcomes, wrong),
        results={
            "steps": [_result(at, step, typed, outcomes) for at, step in enumerate(steps, 1)],
            "count": len(steps),
            "taken": len(outcomes),
            "within": len(right),
            "out": len(wrong),
        },
        figures=(
            Figure("Steps", Quantity(len(steps))),
            Figure("Within", Quantity(len(right))),
            Figure("Out", Quantity(len(wrong))),
        ),
        tables=_tables(steps, typed, outcomes),
        onward=_onward(given),
        cautions=(
            "Hands and clothes away from belts and fans; the engine runs outside. Not while "
            "driving. Ears: no tone through speakers.",
            "The ammeter is off before anything is turned on, and never in the way of a starting "
            "engine. No reading is worth a short: probes with covered tips, one hand.",
            "A reading that is out: stop there, mend it, then go on. This sheet is no approval.",
        ),
        steps=(
            "Speaker leads: 0.75 to 0.95 of the load, plus the leads; with a passive network up "
            "to 0.5 Ω more for its inductor. A capacitor lets no direct current pass.",
            "Gain: √(power × load) is the ceiling, the starting voltage if there is one the aim; "
            "each × 10^((tone − boost) ÷ 20), within 0.5 dB.",
        ),
        unknowns=(
            *(
                (
                    f"Readings of steps that this system does not have are left out: "
                    f"{', '.join(left_out)}.",
                )
                if left_out
                else ()
            ),
            "Whether a reading was taken where the sheet says, with a meter that tells the truth.",
            "What no meter shows: how it sounds, and how it looks after a year of shaking.",
        ),
        sources=(
            "Bounds of the steps: common practice, no source; from memory where a manual tells "
            "otherwise, the manual wins.",
        ),
    )


def _sentence(given: Mapping[str, Any], count: int, taken: int, wrong: int) -> str:
    outputs = len(given["outputs"])
    start = f"{count} steps for {outputs} output{'' if outputs == 1 else 's'}"
    if not taken:
        return f"{start}: print it, or type each reading into its box."
    if not wrong:
        return f"{start}; {taken} read so far, none of them out."
    return f"{start}; {taken} read so far, {wrong} of them out."


Outcomes = Mapping[str, tuple[bool | None, str]]


def _verdict(
    steps: tuple[Step, ...], typed: Mapping[str, str], outcomes: Outcomes, wrong: list[Step]
) -> Verdict:
    if wrong:
        at = steps.index(wrong[0]) + 1
        meaning = outcomes[wrong[0].key][1]
        return Verdict("unsuitable", f"step {at} is out: {meaning}")
    missing = len(steps) - len(outcomes)
    if missing:
        word = "reading is" if missing == 1 else "readings are"
        return Verdict("not known", f"{missing} {word} missing")
    open_ = [str(at) for at, one in enumerate(steps, 1) if outcomes[one.key][0] is None]
    if open_:
        return Verdict("not known", f"what step {open_[0]} should read is missing")
    return Verdict("suitable", f"all {len(steps)} readings are as expected")


def _result(at: int, step: Step, typed: Mapping[str, str], outcomes: Outcomes) -> dict[str, Any]:
    is_right, meaning = outcomes.get(step.key, (None, ""))
    return {
        "number": at,
        "key": step.key,
        "what": step.what,
        "unit": step.unit,
        "expected_low": step.expected.low,
        "expected_high": step.expected.high,
        "open_is_right": step.expected.open_is_right,
        "reading": typed.get(step.key),
        "verdict": None if is_right is None else "within" if is_right else "out",
        "meaning": meaning,
    }


def _tables(
    steps: tuple[Step, ...], typed: Mapping[str, str], outcomes: Outcomes
) -> tuple[Table, ...]:
    tables = []
    for phase, heading in enumerate(PHASES):
        rows = []
        for at, step in enumerate(steps, 1):
            if step.phase != phase:
                continue
            box = Box(
                step.key,
                f"Reading of step {at}" + (f" in {step.unit}" if step.unit else ""),
                typed.get(step.key, ""),
                ("yes", "no") if step.kind == "tick" else (),
            )
            rows.append(
                (str(at), step.what, expected_words(step), box, _judged_cell(step, outcomes))
            )
        tables.append(
            Table(
                name=f"readings-{phase + 1}",
                caption=heading,
                columns=(
                    Column("Step"),
                    Column("What", wide=True),
                    Column("Expected"),
                    Column("Reading"),
                    Column("Judged", wide=True),
                ),
                rows=tuple(rows),
                stacked=True,
            )
        )
    return tuple(tables)


def _judged_cell(step: Step, outcomes: Outcomes) -> Cell:
    if step.key not in outcomes:
        return ""
    is_right, meaning = outcomes[step.key]
    if is_right is None:
        return Verdict("not known", meaning, "open")
    return Verdict("suitable", "good", "within") if is_right else Verdict(
        "unsuitable", meaning, "out"
    )  # fmt: skip


def _onward(given: Mapping[str, Any]) -> tuple[Onward, ...]:
    ways = []
    tones: dict[tuple[int, float], None] = {}
    for row in given["outputs"]:
        figures = {
            key: f"{row[key]:g}"
            for key in ("power_w", "load_ohm", "tone_hz", "tone_dbfs", "boost_db")
        }
        bridged = "yes" if row["bridged"] else "no"
        ways.append(
            Onward(
                f"The gain of {row['name']}",
                "set-up/",
                "gain-voltage",
                {**figures, "bridged": bridged},
            )
        )
        tones[row["tone_hz"], row["tone_dbfs"]] = None
    ways += [
        Onward(
            f"The tone of {hertz}{THIN_SPACE}Hz at {rounded(level)} dBFS",
            "set-up/",
            "test-tone",
            {"frequency_hz": str(hertz), "tone_dbfs": f"{level:g}"},
        )
        for hertz, level in tones
        if level <= highest_dbfs(hertz)
    ]
    return tuple(ways)


def check_readings(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with readings: no such step, one twice, or not of its kind."""
    needed = (
        "readings", "outputs", "resting_v", "running_v", "drop_v", "loop_mohm", "quiescent_a",
        "source_v", "factory_v", "turned_on_by",
    )  # fmt: skip
    if any(key not in given for key in needed):
        return
    steps = {one.key: (at, one) for at, one in enumerate(steps_of(given), 1)}
    counts = Counter(row["step"] for row in given["readings"])
    for key, count in counts.items():
        if count > 1:
            yield _error(key, f"The step {shown(key)} stands there {count} times. Give it once.")
    for row in given["readings"]:
        key, reading = row["step"], row["reading"]
        if key not in steps:
            if not _GONE.fullmatch(key):
                known = ", ".join(steps)
                yield _error(key, f"There is no step ‘{shown(key)}’. The steps are {known}.")
            continue
        at, step = steps[key]
        is_word = reading in ("yes", "no")
        if step.kind == "tick" and not is_word:
            yield _error(key, f"Step {at}: ‘{shown(reading)}’ is no tick. Give yes or no.")
        elif step.kind != "tick" and (is_word or (reading == "open" and not is_open_allowed(step))):
            open_ = ", or open" if is_open_allowed(step) else ""
            yield _error(
                key,
                f"Step {at}: ‘{shown(reading)}’ is no reading. "
                f"Give a number in {step.unit}{open_}.",
            )


def _error(key: str, message: str) -> FieldError:
    return FieldError("readings", shown(key), f"Readings: {message}")


OUTPUTS = Rows(
    key="outputs",
    label="Outputs",
    row_name="output",
    default="front left,50,4,no,network,0.12,315,0,0;front right,50,4,no,network,0.14,315,0,0;"
    "woofers,150,4,yes,direct,0.05,50,0,6",
    most=MOST_OUTPUTS,
    hint="Each output in use with its load: a channel, or two bridged ones.",
    source=INVENTED,
    columns=(
        Text(key="name", label="Name", default="output", longest=24, numbered=True),
        Number(key="power_w", label="Power", default="50", low=1, high=5000),
        Number(key="load_ohm", label="Load", default="4", low=0.5, high=32),
        YesNo(key="bridged", label="Bridged", default="no"),
        Choice(key="path", label="What is in the way", default="direct", options=_PATHS),
        Number(key="lead_ohm", label="Leads, out and back", default="0.1", low=0, high=5),
        Whole(key="tone_hz", label="Tone", default="315", low=LOWEST_HZ, high=HIGHEST_HZ),
        Number(key="tone_dbfs", label="Its level", default="0", low=-60, high=0),
        Number(key="boost_db", label="Boost", default="0", low=0, high=HIGHEST_BOOST_DB),
        Number(
            key="start_v", label="Starting voltage", default="", low=0.01, high=500, optional=True
        ),
        Choice(
            key="polarity",
            label="Joined",
            default="normal",
            options=(("normal", "normal"), ("reversed", "reversed")),
        ),
    ),
    added=2,
)
READINGS = Readings(
    key="readings",
    label="Readings",
    default="",
    most=100,
    row_name="reading",
    hint="They are typed into the boxes of the sheet: a number, “open” where the meter shows over "
    "range, yes or no. They stay on this device and are not in the link.",
    columns=(
        Text(key="step", label="Step", default="rest_v", longest=40),
        Pattern(
            key="reading",
            label="Reading",
            default="0",
            is_good=lambda text: _READING.fullmatch(text) is not None,
            notation="a number of at most seven digits, or open, yes, no",
            examples=("12.6", "open", "yes", "no", "-3"),
        ),
    ),
)

COMMISSIONING = Calculator(
    name="commissioning",
    title="The commissioning sheet",
    question="It is all wired. What do I measure, in which order, and what should it say?",
    fields=(
        OUTPUTS,
        Number(
            key="resting_v", label="Battery at rest", default="12.6", low=6, high=32,
            source="lead-acid, full, from memory",
        ),
        Number(
            key="running_v", label="With the engine running", default="14.2", low=6, high=34,
            source="common practice, no source", hint="Smart charging may lower it for a while.",
        ),
        Number(
            key="drop_v", label="Drop permitted, both ways", default="0.5", low=0.01, high=5,
            source="common practice, no source",
            hint="Of the cable as bought at full power, and 0.1 V for fuse and joints.",
        ),
        Number(
            key="loop_mohm", label="Power cable, earth and body together", default="", low=0.01,
            high=1000, optional=True, more=True, hint="As planned; for a reading by clamp meter.",
        ),
        Number(
            key="quiescent_a", label="Drawn while parked, by the manual", default="0.02", low=0,
            high=5, optional=True, source=INVENTED,
        ),
        Number(
            key="source_v", label="Head unit’s line output", default="4", low=0.01, high=50,
            optional=True, source=INVENTED, hint="At the highest volume that you will use.",
        ),
        Number(
            key="factory_v", label="Or factory radio: volts at its speaker leads", default="",
            low=0.1, high=200, optional=True,
            hint="√(power × load), by its rating. Its highest clean volume is found first.",
        ),
        Choice(
            key="turned_on_by", label="Turned on by", default="trigger", optional=True,
            options=tuple(MODE_WORDS.items()), hint="What is tried depends on it.",
        ),
        READINGS,
    ),
    groups=(
        ("The system", ("outputs", "turned_on_by")),
        ("Supply", ("resting_v", "running_v", "drop_v", "quiescent_a", "loop_mohm")),
        ("Signal", ("source_v", "factory_v")),
        ("What was read", ("readings",)),
    ),
    check=check_readings,
    compute=commissioning,
)  # fmt: skip
