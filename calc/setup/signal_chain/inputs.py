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
            "Line-level (RCA) output voltage",
            low=0.01,
            high=50,
            example=4.0,
            presets=(2, 4, 5),
            source=INVENTED,
            hint="On the head unit’s spec sheet as pre-out voltage.",
        ),
    ] = None
    factory_power_w: Annotated[
        float | None,
        Number(
            "Or power at the speaker leads",
            low=0.1,
            high=1000,
            hint="RMS power per channel of the factory radio, or of its amplifier if it has one. "
            "“Max” power is not RMS.",
        ),
    ] = None
    factory_ohm: Annotated[
        float,
        Number(
            "Load for this power",
            low=0.5,
            high=32,
            presets=(2, 4, 8),
            hint="Printed beside the power.",
        ),
    ] = 4.0
    sensitivity_min_v: Annotated[
        float,
        Number(
            "Line-level (RCA) input, gain fully up",
            low=0.001,
            high=50,
            example=0.2,
            source=INVENTED,
            hint="The lower figure of the input sensitivity on the spec sheet.",
        ),
    ]
    sensitivity_max_v: Annotated[
        float,
        Number(
            "Line-level (RCA) input, gain fully down",
            low=0.01,
            high=100,
            example=5.0,
            source=INVENTED,
            hint="The higher figure of the input sensitivity.",
        ),
    ]
    high_level_min_v: Annotated[
        float | None,
        Number(
            "Speaker-level (high-level) input, gain fully up",
            low=0.01,
            high=100,
            example=1.0,
            source=INVENTED,
            hint="The lower figure, if the spec sheet has one.",
        ),
    ] = None
    high_level_max_v: Annotated[
        float | None,
        Number(
            "Speaker-level (high-level) input, gain fully down",
            low=0.1,
            high=200,
            example=12.0,
            source=INVENTED,
            hint="The higher figure, if the spec sheet has one.",
        ),
    ] = None
    outputs_float: Annotated[
        ThreeWord,
        three_valued(
            "Both speaker leads of each pair are live",
            hint="Nearly always: neither lead is earthed.",
        ),
    ] = "not-known"
    bass_folds_back: Annotated[
        ThreeWord,
        three_valued(
            "Radio cuts its bass when loud",
            hint="Many factory radios do, to protect small speakers.",
        ),
    ] = "not-known"
    already_filtered: Annotated[
        ThreeWord,
        three_valued(
            "Radio already filters its outputs",
            hint="Likely if the vehicle has separate tweeter leads or a factory subwoofer.",
        ),
    ] = "not-known"
    checks_its_load: Annotated[
        ThreeWord,
        three_valued(
            "Radio checks for its speakers",
            hint="It mutes, or shows a fault, when a speaker is unplugged.",
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
        yield _not_below("sensitivity_min_v", "RCA input", sensitivity_min_v, sensitivity_max_v)


def high_level_input_is_in_order(
    *, high_level_min_v: float | None, high_level_max_v: float | None
) -> Iterator[Problem]:
    """Yield what is wrong with a high-level input whose least lies above its most."""
    least, most = high_level_min_v, high_level_max_v
    if least is not None and most is not None and least >= most:
        yield _not_below("high_level_min_v", "speaker-level input", least, most)


def _not_below(field: str, socket: str, least_v: float, most_v: float) -> Problem:
    return Problem(
        field=field,
        given=rounded(least_v),
        words=f"The {socket}’s voltage with the gain fully up, {{given}} V, must be lower than "
        f"the one with the gain fully down, {rounded(most_v)} V. Enter the lower one first.",
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
