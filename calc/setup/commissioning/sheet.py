"""What the answer of `commissioning` says."""

from dataclasses import dataclass

from calc.answers.calculator import Calculator
from calc.answers.figures import THIN_SPACE, quantity, rounded
from calc.answers.sheet import Box, Cell, Column, Figure, Onward, Quantity, Sheet, Table, Verdict
from calc.physics.tones import highest_dbfs
from calc.setup.commissioning.checks import readings_fit_the_steps
from calc.setup.commissioning.inputs import FORM, NUMBER, Inputs, OutputRow
from calc.setup.commissioning.solve import Result, solve
from calc.setup.commissioning.steps import Step, is_open_allowed, number_of
from calc.setup.commissioning.words import PHASES, expected_short, expected_words, words_of
from calc.setup.words import TONES_BURN


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    lines = reading_lines(inputs, result)
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        figures=(
            Figure("Checks", Quantity(len(result.steps))),
            Figure("Good", Quantity(len(result.within))),
            Figure("Out", Quantity(len(result.out))),
        ),
        tables=tuple(_table(phase, lines) for phase in range(len(PHASES))),
        onward=_onward(inputs.outputs),
        cautions=(
            TONES_BURN,
            "Belts and fans catch hands and clothes, and exhaust gas in a garage kills. Keep "
            "clear, run the engine outside, and measure in a parked vehicle only.",
            "Starting current destroys an ammeter that is left in the supply. Take it out before "
            "anything is switched on.",
            "A slipped probe shorts the battery. Use probes with covered tips, and one hand.",
            "A reading that is out means a fault. Stop there and fix it before you go on; these "
            "checks are not an approval.",
        ),
        steps=(
            "Speaker leads: a voice coil has 0.75 to 0.95 of its nominal impedance, plus the "
            "leads; a passive crossover adds up to 0.5 Ω. A capacitor reads open.",
            "Gain: √(power × load) is the ceiling; the target is the starting voltage if there is "
            "one. Each × 10^((tone − boost) ÷ 20); we allow 0.5 dB.",
            "Supply: we allow 0.3 V either way at rest, and 0.7 V less to 0.5 V more with the "
            "engine idling.",
        ),
        unknowns=(
            *(
                (
                    f"Readings of checks that this system does not have are left out: "
                    f"{', '.join(result.left_out)}.",
                )
                if result.left_out
                else ()
            ),
            "Whether each reading was taken at the right place, with a good meter.",
            "What no meter shows: how it sounds, and how it holds up after a year of vibration.",
        ),
        sources=("sign-off-limits", "battery-volts", "meter-limit"),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "steps": [_step_data(at, step, inputs, result) for at, step in enumerate(result.steps, 1)],
        "count": len(result.steps),
        "taken": len(result.findings),
        "within": len(result.within),
        "out": len(result.out),
    }


def _sentence(inputs: Inputs, result: Result) -> str:
    outputs, taken = len(inputs.outputs), len(result.findings)
    count = len(result.steps)
    if not taken:
        return (
            f"{count} checks, {outputs} output{'' if outputs == 1 else 's'}. Print it or type each "
            "reading in."
        )
    if not result.out:
        return f"{taken} of {count} done; all good."
    return f"{taken} of {count} done; {len(result.out)} out."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether every reading was taken, and is as expected."""
    steps = result.steps
    if result.out:
        step = result.out[0]
        return Verdict(
            "unsuitable",
            f"Check {steps.index(step) + 1} is out{_figure_out(step, result)} "
            f"({_meaning(step, inputs, result)}). Fix it before you go on.",
        )
    missing = len(steps) - len(result.findings)
    if missing:
        return Verdict("not known", f"{missing} reading{'' if missing == 1 else 's'} to go.")
    for at, step in enumerate(steps, 1):
        if result.findings[step.key] == "not known":
            return Verdict(
                "not known", f"Check {at} has no limit yet: look it up in the manual and enter it."
            )
    return Verdict("suitable", f"All {len(steps)} checks are good.")


def _figure_out(step: Step, result: Result) -> str:
    """Say what was read, and the limit that it should keep to; a tick has neither."""
    reading, expected = result.readings[step.key], step.expected
    if step.kind == "tick":
        return ""
    if reading == "open":
        return ": open"
    low, high = expected.low, expected.high
    if low is None or low == 0:
        limit = f"limit {quantity(high, step.unit, 3)}"
    elif high is None:
        limit = f"should read {expected_words(step)}"
    else:
        limit = f"should read {rounded(low, 3)} to {quantity(high, step.unit, 3)}"
    return f": {quantity(number_of(reading), step.unit, 3)}, {limit}"


def _meaning(step: Step, inputs: Inputs, result: Result) -> str:
    """Return what a step's reading means; nothing where there is none, or all is well."""
    if step.key not in result.findings:
        return ""
    return words_of(step, inputs).meaning(result.findings[step.key])


def _step_data(at: int, step: Step, inputs: Inputs, result: Result) -> dict[str, object]:
    finding = result.findings.get(step.key)
    is_open = finding is None or finding == "not known"
    return {
        "number": at,
        "key": step.key,
        "what": words_of(step, inputs).what,
        "unit": step.unit,
        "expected_low": step.expected.low,
        "expected_high": step.expected.high,
        "open_is_right": step.expected.open_is_right,
        "reading": result.readings.get(step.key),
        "verdict": None if is_open else "within" if finding == "within" else "out",
        "meaning": _meaning(step, inputs, result),
    }


@dataclass(frozen=True, kw_only=True)
class ReadingLine:
    """A step as a sheet shows it.

    what, short : what is read, in full and in few words; so is what to expect
    output : the number of the output that it is about; None for one about the whole system
    judged : the verdict on the reading; an empty text where there is none
    """

    number: int
    key: str
    phase: int
    what: str
    short: str
    expect: str
    expect_short: str
    box: Box
    output: int | None
    judged: Cell


def reading_lines(inputs: Inputs, result: Result) -> tuple[ReadingLine, ...]:
    """Return every step with its box, in their order."""
    lines = []
    for at, step in enumerate(result.steps, 1):
        words = words_of(step, inputs)
        lines.append(
            ReadingLine(
                number=at,
                key=step.key,
                phase=step.phase,
                what=words.what,
                short=words.short,
                expect=expected_words(step),
                expect_short=expected_short(step),
                box=_box(at, step, result),
                output=step.output,
                judged=_judged_cell(step, inputs, result),
            )
        )
    return tuple(lines)


def _box(at: int, step: Step, result: Result) -> Box:
    may_be_open = is_open_allowed(step)
    return Box(
        step.key,
        f"Reading of check {at}" + (f" in {step.unit}" if step.unit else ""),
        result.readings.get(step.key, ""),
        ("yes", "no") if step.kind == "tick" else (),
        pattern=f"{NUMBER}|[Oo][Pp][Ee][Nn]|[Oo0]\\.?[Ll]\\.?|∞" if may_be_open else NUMBER,
        unit=step.unit,
        takes_words=may_be_open,
    )


def _table(phase: int, lines: tuple[ReadingLine, ...]) -> Table:
    return Table(
        name=f"readings-{phase + 1}",
        caption=PHASES[phase],
        columns=(
            Column("Check"),
            Column("What to measure", wide=True),
            Column("Should read"),
            Column("Reading"),
            Column("Result", wide=True),
        ),
        rows=tuple(
            (str(line.number), line.what, line.expect, line.box, line.judged)
            for line in lines
            if line.phase == phase
        ),
        stacked=True,
    )


def _judged_cell(step: Step, inputs: Inputs, result: Result) -> Cell:
    if step.key not in result.findings:
        return ""
    finding, meaning = result.findings[step.key], _meaning(step, inputs, result)
    if finding == "not known":
        return Verdict("not known", meaning)
    if finding == "within":
        reading = result.readings[step.key]
        is_number = step.aim is not None and reading != "open"
        at_most = is_number and step.expected.is_at_most(number_of(reading))
        return Verdict("suitable", "at the ceiling" if at_most else "in range", "good")
    return Verdict("unsuitable", meaning, "out")


def _onward(outputs: tuple[OutputRow, ...]) -> tuple[Onward, ...]:
    ways = []
    tones: dict[tuple[int, float], None] = {}
    for row in outputs:
        figures = {
            "power_w": row.power_w,
            "load_ohm": row.load_ohm,
            "tone_hz": row.tone_hz,
            "tone_dbfs": row.tone_dbfs,
            "boost_db": row.boost_db,
        }
        texts = {key: f"{figure:g}" for key, figure in figures.items()}
        ways.append(
            Onward(
                f"Set the gain of {row.name}",
                "gain-voltage",
                {**texts, "bridged": "yes" if row.bridged else "no"},
            )
        )
        tones[row.tone_hz, row.tone_dbfs] = None
    ways += [
        Onward(
            f"Play {hertz}{THIN_SPACE}Hz at {quantity(level, 'dBFS')}",
            "test-tone",
            {"frequency_hz": str(hertz), "tone_dbfs": f"{level:g}"},
        )
        for hertz, level in tones
        if level <= highest_dbfs(hertz)
    ]
    return tuple(ways)


COMMISSIONING = Calculator(
    name="commissioning",
    title="Sign-off checks",
    question="It is all wired. What do I measure, in what order, and what should it read?",
    inputs=Inputs,
    groups=FORM,
    checks=(readings_fit_the_steps,),
    solve=solve,
    judge=judge,
    present=present,
)
