"""What the answer of `signal-chain` says."""

from calc.answers.calculator import Calculator, Start
from calc.answers.figures import decimals, quantity
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet, Verdict
from calc.physics.levels import level_db, ratio
from calc.setup.drawings import ladder_drawing
from calc.setup.signal_chain.chain import TOO_WEAK, Chain
from calc.setup.signal_chain.factory import answers_of, tests_of
from calc.setup.signal_chain.inputs import CHECKS, FORM, Inputs
from calc.setup.signal_chain.solve import Result, solve
from calc.setup.words import volts


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    return Sheet(
        sentence=_sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(inputs, result),
        notes=_notes(inputs),
        figures=_figures(result.source_v, result.chain),
        drawings=(_drawing(inputs, result),),
        cautions=_cautions(inputs),
        steps=_steps(inputs, result),
        unknowns=_unknowns(inputs),
        sources=(
            "V = √(P·R) for a sine; levels by 20·lg of the ratio of voltages.",
            "Line outputs of 2 to 5 V, inputs of 0.2 to 5 V, speaker-level inputs up to some 10 to "
            "20 V: from memory.",
        ),
    )


def data(inputs: Inputs, result: Result) -> dict[str, object]:
    """Return the results of the contract."""
    chain = result.chain
    return {
        "notes": list(_notes(inputs)),
        "source_v": result.source_v,
        "input": chain.socket,
        "verdict": chain.state.replace(" ", "-"),
        "adapter": chain.has_adapter,
        "divider_db": chain.divider_db,
        "headroom_db": result.headroom_db,
        "input_v": chain.input_v,
        "gain_reserve_db": chain.reserve_db,
    }


def _notes(inputs: Inputs) -> tuple[str, ...]:
    """Say what the radio asks for; a line output asks for nothing."""
    return answers_of(inputs) if inputs.source_v is None else ()


def _drawing(inputs: Inputs, result: Result) -> Drawing:
    ranges = [("line input", inputs.line)]
    if inputs.source_v is None:
        ranges.append(("high-level input", inputs.high_level))
    return ladder_drawing(
        source_v=result.source_v,
        ranges=[(name, limits.low_v, limits.high_v) for name, limits in ranges],
    )


def _cautions(inputs: Inputs) -> tuple[str, ...]:
    """Return the cautions of speaker leads, where the signal comes from them, or may."""
    if inputs.source_v is not None:
        return (
            "Amplifier and head unit off before an RCA plug is put in or pulled out: a plug that "
            "makes contact at its tip first sends full power to the speakers.",
        )
    return (
        "Speaker leads of a factory unit are seldom tied to earth: their minus is an output "
        "too. Never join it to the body, to another minus, or to a line input’s shield; that "
        "destroys the unit. Use the high-level input or a converter with differential inputs.",
        "Ask before you cut into a factory loom: in some vehicles chimes, parking sensors and "
        "the hands-free call come over the same speakers, and have to be heard.",
        *answers_of(inputs),
    )


def _sentence(inputs: Inputs, result: Result) -> str:
    source, chain = result.source_v, result.chain
    if source is None:
        return (
            "What the source brings is not known: without it nothing can be said. Measure it, or "
            "take it from the head unit’s data."
        )
    brings = f"The source brings up to {volts(source)}"
    if chain.socket == "none":
        least = volts(inputs.sensitivity_min_v)
        return (
            f"{brings}; the amplifier asks for {least} even with its gain fully up: this "
            "source does not drive it to full power."
        )
    name = "the line input" if chain.socket == "line" else "the high-level input"
    if not chain.has_adapter:
        return f"{brings}, and {name} takes it as it is."
    lower = chain.divider_db or 0.0
    if inputs.source_v is None and chain.socket == "line":
        more = f" that lowers it by {decimals(lower, 1)} dB" if lower else ""
        return f"{brings} over speaker leads: into {name} through an adapter{more}."
    return (
        f"Not straight in: {brings[0].lower()}{brings[1:]}, more than {name} takes; something that "
        f"lowers it by {decimals(lower, 1)} dB comes between."
    )


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether source and amplifier go together, and with what between."""
    source, chain = result.source_v, result.chain
    if source is None:
        return Verdict("not known", "the voltage of the source is missing")
    if chain is TOO_WEAK:
        share = 100 * (source / inputs.sensitivity_min_v) ** 2
        return Verdict(
            "unsuitable",
            f"{volts(source)} reaches {quantity(share, '%', 3)} of the power at most; "
            "a line driver before the amplifier would mend it",
        )
    assert chain.used is not None and chain.used.high_v is not None
    if chain.state == "not known":
        return Verdict(
            "not known", "the least voltage at the high-level input for full power is missing"
        )
    limit = volts(chain.used.high_v)
    if chain.has_adapter:
        # What lowers a line output is an attenuator; speaker leads need a converter.
        is_line = inputs.source_v is not None
        between = "an attenuator in the signal lead" if is_line else "a line-output converter"
        more = ", the source brings more" if chain.divider_db else ""
        return Verdict("suitable", f"with {between}: the input takes {limit}{more}")
    least = "" if chain.used.low_v is None else f"{volts(chain.used.low_v)} to "
    return Verdict("suitable", f"{volts(source)} lies within {least}{limit}")


def _figures(source: float | None, chain: Chain) -> tuple[Figure, ...]:
    if source is None:
        return ()
    figures = [Figure("The source brings", Quantity(source, "V"))]
    if chain.divider_db:
        figures.append(Figure("To be lowered by", Quantity(chain.divider_db, "dB"), 1))
    if chain.reserve_db is not None:
        figures.append(Figure("The gain’s reserve", Quantity(chain.reserve_db, "dB"), 1))
    return tuple(figures)


def _steps(inputs: Inputs, result: Result) -> tuple[str, ...]:
    source, chain = result.source_v, result.chain
    steps = []
    if source is not None and result.over_leads:
        factory, ohm = quantity(inputs.factory_power_w, "W"), quantity(inputs.factory_ohm, "Ω")
        steps.append(f"Speaker leads: √({factory} × {ohm}) = {volts(source)}.")
    if source is not None and chain.used is not None and chain.used.high_v is not None:
        lowered = ""
        if chain.divider_db:
            lowered = f"; lowered to {quantity(100 * ratio(-chain.divider_db), '%', 3)}"
        steps.append(
            f"Room: 20·lg({volts(chain.used.high_v)} ÷ {volts(source)}) = "
            f"{decimals(level_db(chain.used.high_v / source), 1)} dB{lowered}."
        )
    if chain.reserve_db is not None and chain.used is not None:
        assert chain.input_v is not None and chain.used.low_v is not None
        steps.append(
            f"Reserve: {volts(chain.input_v)} arrive, {volts(chain.used.low_v)} are needed with "
            f"the gain fully up: {decimals(chain.reserve_db, 1)} dB."
        )
    return tuple(steps)


def _unknowns(inputs: Inputs) -> tuple[str, ...]:
    unknowns = [
        "Whether the stated power of a factory unit is true: “maximum” figures are two to four "
        "times what comes out undistorted. Measure its leads with a tone, speakers on.",
    ]
    if inputs.source_v is None and inputs.high_level_max_v is None:
        unknowns.append("What the high-level input takes: if there is one, look into the manual.")
    if inputs.source_v is not None:
        unknowns.append("At which volume the head unit’s line output begins to clip.")
    else:
        unknowns += tests_of(inputs)
    return tuple(unknowns)


SIGNAL_CHAIN = Calculator(
    name="signal-chain",
    title="Does the signal suit",
    question="Can I connect this radio to this amplifier, and how?",
    inputs=Inputs,
    groups=FORM,
    checks=CHECKS,
    alternatives=(("source_v",), ("factory_power_w",)),
    none_is_allowed=True,
    solve=solve,
    judge=judge,
    present=present,
    starts=(
        Start("Line outputs, 4 V", {"source_v": "4", "factory_power_w": ""}),
        Start("Factory unit, 18 W a channel", {"factory_power_w": "18", "source_v": ""}),
    ),
)  # fmt: skip
