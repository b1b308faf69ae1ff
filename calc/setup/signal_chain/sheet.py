"""What the answer of `signal-chain` says."""

from calc.answers.calculator import Calculator, Start
from calc.answers.figures import THIN_SPACE, decimals, quantity, rounded
from calc.answers.sheet import Drawing, Figure, Quantity, Sheet, Verdict
from calc.physics.levels import level_db, ratio
from calc.setup.drawings import ladder_drawing
from calc.setup.signal_chain.chain import TOO_WEAK, Chain
from calc.setup.signal_chain.factory import QUESTIONS, answers_of, tests_of
from calc.setup.signal_chain.inputs import CHECKS, FORM, Inputs
from calc.setup.signal_chain.solve import Result, solve
from calc.setup.words import volts

_INPUT_WORDS = {"line": "RCA input", "high-level": "speaker-level input"}
_PLUGGED = {
    "line": "plug it straight into the RCA inputs",
    "high-level": "connect them straight to the speaker-level (high-level) inputs",
}
_BOTH_LEADS_LIVE = (
    "On a radio’s speaker output the − is live too. Joined to the body, to another − or to an RCA "
    "shield it destroys the radio: use a speaker-level input or a converter with differential "
    "inputs."
)
_CHIMES = (
    "In some vehicles warning chimes, parking sensors and the hands-free call use the same "
    "speakers. Find out before you cut into a factory loom: they have to stay audible."
)


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
        sources=("line-levels", "radio-power", "radio-outputs"),
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
    """Say what the radio needs; an RCA output needs nothing."""
    return answers_of(inputs) if inputs.source_v is None else ()


def _drawing(inputs: Inputs, result: Result) -> Drawing:
    ranges = [("RCA input", inputs.line)]
    if inputs.source_v is None:
        ranges.append(("speaker-level input", inputs.high_level))
    return ladder_drawing(
        source_v=result.source_v,
        source="speaker leads" if result.over_leads else "head unit",
        ranges=[(name, limits.low_v, limits.high_v) for name, limits in ranges],
    )


def _cautions(inputs: Inputs) -> tuple[str, ...]:
    """Return the cautions of speaker leads, where the signal comes from them, or may."""
    if inputs.source_v is not None:
        return (
            "An RCA plug that makes contact at its tip first sends full power to the speakers. "
            "Switch the amplifier and the head unit off before you plug or unplug one.",
        )
    answers = answers_of(inputs)
    # Five at most: with all four answers the first of them says the same.
    live = () if len(answers) == len(QUESTIONS) else (_BOTH_LEADS_LIVE,)
    return (*live, _CHIMES, *answers)


def _arrives(inputs: Inputs, source: float) -> str:
    of = "The head unit puts out" if inputs.source_v is not None else "The speaker leads carry"
    return f"{of} up to {volts(source)}"


def _sentence(inputs: Inputs, result: Result) -> str:
    source, chain = result.source_v, result.chain
    if source is None:
        return (
            "The signal is not known yet. Measure what the head unit puts out, or look it up on "
            "its spec sheet."
        )
    arrives = _arrives(inputs, source)
    if chain.socket == "none":
        return (
            f"Too weak: {arrives[0].lower()}{arrives[1:]}, and this amplifier needs "
            f"{volts(inputs.sensitivity_min_v)} with the gain fully up. Add a line driver."
        )
    name = _INPUT_WORDS[chain.socket or "line"]
    if chain.state == "not known":
        return f"{arrives}. The {name} can take that; whether it is enough is not known."
    if not chain.has_adapter:
        return f"{arrives}; {_PLUGGED[chain.socket or 'line']}."
    drop = f"{decimals(chain.divider_db or 0.0, 1)}{THIN_SPACE}dB"
    too_much = f"{volts(source)} is too much for the {name}"
    if result.needs_converter:
        if not chain.divider_db:
            return "Use a line-output converter between the speaker leads and the RCA input."
        return f"Use a line-output converter that drops {drop}: {too_much}."
    return f"Fit an attenuator that drops {drop} in the {_lead(inputs)} leads: {too_much}."


def _lead(inputs: Inputs) -> str:
    return "speaker" if inputs.source_v is None else "RCA"


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Say whether source and amplifier go together, and with what between."""
    source, chain = result.source_v, result.chain
    if source is None:
        return Verdict(
            "not known",
            "Enter the head unit’s RCA output voltage, or the power at its speaker leads. Both "
            "are on its spec sheet.",
        )
    if chain is TOO_WEAK:
        share = 100 * (source / inputs.sensitivity_min_v) ** 2
        return Verdict(
            "unsuitable",
            f"{volts(source)} gives {quantity(share, '%', 3)} of the power at most. Fit a line "
            "driver ahead of the amplifier.",
        )
    assert chain.used is not None and chain.used.high_v is not None
    if chain.state == "not known":
        return Verdict(
            "not known",
            "Look up in the manual how many volts the speaker-level input needs for full power, "
            "and enter them.",
        )
    limit = volts(chain.used.high_v)
    if chain.has_adapter:
        # What lowers a signal is an attenuator; from speaker leads to RCA plugs a converter.
        is_converted = result.needs_converter
        between = "a line-output converter" if is_converted else "an attenuator"
        return Verdict("suitable", f"With {between}: the input takes up to {limit}.")
    if chain.used.low_v is None:
        return Verdict("suitable", f"{volts(source)} is inside the {limit} limit.")
    span = f"{rounded(chain.used.low_v)} to {limit}"
    return Verdict("suitable", f"{volts(source)} is inside the {span} range.")


def _figures(source: float | None, chain: Chain) -> tuple[Figure, ...]:
    if source is None:
        return ()
    figures = [Figure("Highest signal voltage", Quantity(source, "V"))]
    if chain.divider_db:
        figures.append(Figure("Drop it by", Quantity(chain.divider_db, "dB"), 1))
    if chain.reserve_db is not None:
        figures.append(Figure("Gain headroom", Quantity(chain.reserve_db, "dB"), 1))
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
            lowered = f"; dropped to {quantity(100 * ratio(-chain.divider_db), '%', 3)}"
        steps.append(
            f"Input headroom: 20·lg({volts(chain.used.high_v)} ÷ {volts(source)}) = "
            f"{decimals(level_db(chain.used.high_v / source), 1)} dB{lowered}."
        )
    if chain.reserve_db is not None and chain.used is not None:
        assert chain.input_v is not None and chain.used.low_v is not None
        steps.append(
            f"Gain headroom: {volts(chain.input_v)} arrives, {volts(chain.used.low_v)} is needed "
            f"with the gain fully up: 20·lg of the ratio = {decimals(chain.reserve_db, 1)} dB."
        )
    return tuple(steps)


def _unknowns(inputs: Inputs) -> tuple[str, ...]:
    unknowns = []
    if inputs.source_v is not None:
        unknowns.append("At which volume the head unit’s RCA output starts to clip.")
        return tuple(unknowns)
    unknowns.append(
        "Whether the stated power of the radio is true: “max” is not RMS. Measure the speaker "
        "leads with a tone, speakers connected."
    )
    if inputs.high_level_max_v is None:
        unknowns.append(
            "What the speaker-level input takes. If the amplifier has one, see its manual."
        )
    unknowns += tests_of(inputs)
    return tuple(unknowns)


SIGNAL_CHAIN = Calculator(
    name="signal-chain",
    title="Will the signals match?",
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
        Start("RCA outputs, 4 V", {"source_v": "4", "factory_power_w": ""}),
        Start("Factory radio, 18 W a channel", {"factory_power_w": "18", "source_v": ""}),
    ),
)  # fmt: skip
