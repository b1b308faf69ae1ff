"""What `signal-chain` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.answers.figures import rounded
from calc.inputs.fields import Number
from calc.inputs.problems import Problem
from calc.parts.output import INVENTED
from calc.setup.signal_chain.chain import Range
from calc.setup.words import ThreeWord, three_valued


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A source with a line output or with speaker leads, and the amplifier's inputs."""

    source_v: Annotated[
        float | None,
        Number(
            "Line output",
            low=0.01,
            high=50,
            example=4.0,
            presets=(2, 4, 5),
            source=INVENTED,
            hint="RMS, the most that is undistorted.",
        ),
    ] = None
    factory_power_w: Annotated[
        float | None,
        Number(
            "Or speaker leads: power",
            low=0.1,
            high=1000,
            hint="Continuous power per channel of a factory unit, or of an "
            "amplifier before this one. A radio alone: some 15 to 20 W (from memory).",
        ),
    ] = None
    factory_ohm: Annotated[
        float,
        Number("Load that this power is stated for", low=0.5, high=32, presets=(2, 4, 8)),
    ] = 4.0
    sensitivity_min_v: Annotated[
        float,
        Number(
            "Line input, gain fully up",
            low=0.001,
            high=50,
            example=0.2,
            source=INVENTED,
            hint="The least voltage that still brings full power.",
        ),
    ]
    sensitivity_max_v: Annotated[
        float,
        Number(
            "Line input, gain fully down",
            low=0.01,
            high=100,
            example=5.0,
            source=INVENTED,
            hint="The most it takes.",
        ),
    ]
    high_level_min_v: Annotated[
        float | None,
        Number("High-level input, gain fully up", low=0.01, high=100, example=1.0, source=INVENTED),
    ] = None
    high_level_max_v: Annotated[
        float | None,
        Number(
            "High-level input, gain fully down", low=0.1, high=200, example=12.0, source=INVENTED
        ),
    ] = None
    outputs_float: Annotated[
        ThreeWord,
        three_valued(
            "Radio’s speaker leads float",
            hint="Both leads of a pair are live; neither is tied to earth. So with nearly all "
            "radios.",
        ),
    ] = "not-known"
    bass_folds_back: Annotated[
        ThreeWord,
        three_valued(
            "Radio cuts its bass when loud",
            hint="Many factory radios do, to spare small speakers.",
        ),
    ] = "not-known"
    already_filtered: Annotated[
        ThreeWord,
        three_valued(
            "Radio filters its outputs already",
            hint="With a tweeter pair or a factory subwoofer each pair gets its own band.",
        ),
    ] = "not-known"
    checks_its_load: Annotated[
        ThreeWord,
        three_valued(
            "Radio checks for its speakers",
            hint="It mutes or reports a fault when a speaker is missing.",
        ),
    ] = "not-known"

    @property
    def line(self) -> Range:
        """The range of the line input."""
        return Range(low_v=self.sensitivity_min_v, high_v=self.sensitivity_max_v)

    @property
    def high_level(self) -> Range:
        """The range of the high-level input."""
        return Range(low_v=self.high_level_min_v, high_v=self.high_level_max_v)


def line_input_is_in_order(
    *, sensitivity_min_v: float, sensitivity_max_v: float
) -> Iterator[Problem]:
    """Yield what is wrong with a line input whose least lies above its most."""
    if sensitivity_min_v >= sensitivity_max_v:
        yield _not_below("sensitivity_min_v", "line input", sensitivity_min_v, sensitivity_max_v)


def high_level_input_is_in_order(
    *, high_level_min_v: float | None, high_level_max_v: float | None
) -> Iterator[Problem]:
    """Yield what is wrong with a high-level input whose least lies above its most."""
    least, most = high_level_min_v, high_level_max_v
    if least is not None and most is not None and least >= most:
        yield _not_below("high_level_min_v", "high-level input", least, most)


def _not_below(field: str, socket: str, least_v: float, most_v: float) -> Problem:
    return Problem(
        field=field,
        given=rounded(least_v),
        words=f"The {socket}’s least voltage, {{given}} V, is not below its most, "
        f"{rounded(most_v)} V. Give the lower one first.",
        names_field=True,
    )


CHECKS = (line_input_is_in_order, high_level_input_is_in_order)
FORM = (
    Group("The source", ("source_v", "factory_power_w"), more=("factory_ohm",)),
    Group(
        "The factory radio",
        (),
        more=("outputs_float", "bass_folds_back", "already_filtered", "checks_its_load"),
    ),
    Group(
        "The amplifier’s inputs",
        ("sensitivity_min_v", "sensitivity_max_v", "high_level_min_v", "high_level_max_v"),
    ),
)
