"""The calculator `signal-chain`: does the source suit the amplifier's inputs?"""

from collections.abc import Iterable, Mapping
from typing import Any

from calc.answers.calculator import Calculator, Start
from calc.answers.figures import decimals, quantity, rounded
from calc.answers.sheet import Figure, Quantity, Sheet, Verdict
from calc.inputs.errors import FieldError, shown
from calc.inputs.fields import Number
from calc.physics.levels import level_db, ratio, voltage
from calc.setup.chain import TOO_WEAK, UNKNOWN, Chain, Range, from_line, from_speaker_leads
from calc.setup.drawings import ladder_drawing
from calc.setup.factory import QUESTIONS, answers_of, tests_of
from calc.setup.fields import INVENTED, volts


def chain_of(given: Mapping[str, Any]) -> tuple[float | None, Chain]:
    """Return the source's voltage [V], None where it is not known, and the chain."""
    line, high = _ranges(given)
    if given["source_v"] is not None:
        return given["source_v"], from_line(given["source_v"], line)
    if given["factory_power_w"] is not None:
        source = voltage(power_w=given["factory_power_w"], load_ohm=given["factory_ohm"])
        return source, from_speaker_leads(source, line, high)
    return None, UNKNOWN


def _ranges(given: Mapping[str, Any]) -> tuple[Range, Range]:
    return (
        Range(low_v=given["sensitivity_min_v"], high_v=given["sensitivity_max_v"]),
        Range(low_v=given["high_level_min_v"], high_v=given["high_level_max_v"]),
    )


def signal_chain(given: Mapping[str, Any]) -> Sheet:
    """Compute `signal-chain`."""
    source, chain = chain_of(given)
    line, high = _ranges(given)
    headroom = None
    if source is not None and chain.used is not None and chain.used.high_v is not None:
        headroom = level_db(chain.used.high_v / source)
    elif source is not None:
        # No input takes it: the room is still that below the line input's limit.
        headroom = level_db(given["sensitivity_max_v"] / source)
    shown_ranges = [("line input", line.low_v, line.high_v)]
    if given["source_v"] is None:
        shown_ranges.append(("high-level input", high.low_v, high.high_v))
    return Sheet(
        sentence=_sentence(given, source, chain),
        verdict=_verdict(given, source, chain),
        results={
            "notes": list(answers_of(given)) if given["source_v"] is None else [],
            "source_v": source,
            "input": chain.socket,
            "verdict": chain.state.replace(" ", "-"),
            "adapter": chain.has_adapter,
            "divider_db": chain.divider_db,
            "headroom_db": headroom,
            "input_v": chain.input_v,
            "gain_reserve_db": chain.reserve_db,
        },
        figures=_figures(source, chain),
        drawings=(ladder_drawing(source_v=source, ranges=shown_ranges),),
        cautions=_cautions(given),
        steps=_steps(given, source, chain),
        unknowns=_unknowns(given),
        sources=(
            "V = √(P·R) for a sine; levels by 20·lg of the ratio of voltages.",
            "Line outputs of 2 to 5 V, inputs of 0.2 to 5 V, speaker-level inputs up to some 10 to "
            "20 V: from memory.",
        ),
    )


def _cautions(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the cautions of speaker leads, where the signal comes from them, or may."""
    if given["source_v"] is not None:
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
        *answers_of(given),
    )


def _sentence(given: Mapping[str, Any], source: float | None, chain: Chain) -> str:
    if source is None:
        return (
            "What the source brings is not known: without it nothing can be said. Measure it, or "
            "take it from the head unit’s data."
        )
    brings = f"The source brings up to {volts(source)}"
    if chain.socket == "none":
        least = volts(given["sensitivity_min_v"])
        return (
            f"{brings}; the amplifier asks for {least} even with its gain fully up: this "
            "source does not drive it to full power."
        )
    name = "the line input" if chain.socket == "line" else "the high-level input"
    if not chain.has_adapter:
        return f"{brings}, and {name} takes it as it is."
    lower = chain.divider_db or 0.0
    if given["source_v"] is None and chain.socket == "line":
        more = f" that lowers it by {decimals(lower, 1)} dB" if lower else ""
        return f"{brings} over speaker leads: into {name} through an adapter{more}."
    return (
        f"Not straight in: {brings[0].lower()}{brings[1:]}, more than {name} takes; something that "
        f"lowers it by {decimals(lower, 1)} dB comes between."
    )


def _verdict(given: Mapping[str, Any], source: float | None, chain: Chain) -> Verdict:
    if source is None:
        return Verdict("not known", "the voltage of the source is missing")
    if chain is TOO_WEAK:
        share = 100 * (source / given["sensitivity_min_v"]) ** 2
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
        is_line = given["source_v"] is not None
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


def _steps(given: Mapping[str, Any], source: float | None, chain: Chain) -> tuple[str, ...]:
    steps = []
    if given["source_v"] is None and source is not None:
        factory, ohm = given["factory_power_w"], given["factory_ohm"]
        steps.append(
            f"Speaker leads: √({quantity(factory, 'W')} × {quantity(ohm, 'Ω')}) = {volts(source)}."
        )
    if source is not None and chain.used is not None and chain.used.high_v is not None:
        steps.append(
            f"Room: 20·lg({volts(chain.used.high_v)} ÷ {volts(source)}) = "
            f"{decimals(level_db(chain.used.high_v / source), 1)} dB"
            + (f"; lowered to {quantity(100 * ratio(-chain.divider_db), '%', 3)}."
               if chain.divider_db else ".")
        )  # fmt: skip
    if chain.reserve_db is not None and chain.used is not None:
        assert chain.input_v is not None and chain.used.low_v is not None
        steps.append(
            f"Reserve: {volts(chain.input_v)} arrive, {volts(chain.used.low_v)} are needed with "
            f"the gain fully up: {decimals(chain.reserve_db, 1)} dB."
        )
    return tuple(steps)


def _unknowns(given: Mapping[str, Any]) -> tuple[str, ...]:
    told = [
        "Whether the stated power of a factory unit is true: “maximum” figures are two to four "
        "times what comes out undistorted. Measure its leads with a tone, speakers on.",
    ]
    if given["source_v"] is None and given["high_level_max_v"] is None:
        told.append("What the high-level input takes: if there is one, look into the manual.")
    if given["source_v"] is not None:
        told.append("At which volume the head unit’s line output begins to clip.")
    else:
        told += tests_of(given)
    return tuple(told)


def check_ranges(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with a range whose least lies above its most."""
    for low, high, name in (
        ("sensitivity_min_v", "sensitivity_max_v", "line input"),
        ("high_level_min_v", "high_level_max_v", "high-level input"),
    ):
        least, most = given.get(low), given.get(high)
        if least is not None and most is not None and least >= most:
            message = (
                f"The {name}’s least voltage, {rounded(least)} V, is not below its most, "
                f"{rounded(most)} V. Give the lower one first."
            )
            yield FieldError(low, shown(rounded(least)), message)


SIGNAL_CHAIN = Calculator(
    name="signal-chain",
    title="Does the signal suit",
    question="Can I connect this radio to this amplifier, and how?",
    fields=(
        Number(
            key="source_v", label="Line output", default="4", low=0.01, high=50, optional=True,
            presets=(2, 4, 5), source=INVENTED, hint="RMS, the most that is undistorted.",
        ),
        Number(
            key="factory_power_w", label="Or speaker leads: power", default="", low=0.1, high=1000,
            optional=True, hint="Continuous power per channel of a factory unit, or of an "
            "amplifier before this one. A radio alone: some 15 to 20 W (from memory).",
        ),
        Number(
            key="factory_ohm", label="Load that this power is stated for", default="4", low=0.5,
            high=32, presets=(2, 4, 8), more=True,
        ),
        Number(
            key="sensitivity_min_v", label="Line input, gain fully up", default="0.2", low=0.001,
            high=50, source=INVENTED, hint="The least voltage that still brings full power.",
        ),
        Number(
            key="sensitivity_max_v", label="Line input, gain fully down", default="5", low=0.01,
            high=100, source=INVENTED, hint="The most it takes.",
        ),
        Number(
            key="high_level_min_v", label="High-level input, gain fully up", default="1",
            low=0.01, high=100, optional=True, source=INVENTED,
        ),
        Number(
            key="high_level_max_v", label="High-level input, gain fully down", default="12",
            low=0.1, high=200, optional=True, source=INVENTED,
        ),
        *(one.field() for one in QUESTIONS),
    ),
    groups=(
        ("The source", ("source_v", "factory_power_w", "factory_ohm")),
        ("The factory radio", tuple(one.key for one in QUESTIONS)),
        (
            "The amplifier’s inputs",
            ("sensitivity_min_v", "sensitivity_max_v", "high_level_min_v", "high_level_max_v"),
        ),
    ),
    alternatives=(("source_v",), ("factory_power_w",)),
    none_is_allowed=True,
    check=check_ranges,
    compute=signal_chain,
    starts=(
        Start("Line outputs, 4 V", {"source_v": "4", "factory_power_w": ""}),
        Start("Factory unit, 18 W a channel", {"factory_power_w": "18", "source_v": ""}),
    ),
)  # fmt: skip
