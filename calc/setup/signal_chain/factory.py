"""What a factory radio may do to the signal: four questions, and what to do about each.

All of them are trade practice; the vehicle's own data come first.
"""

from dataclasses import dataclass

from calc.setup.signal_chain.inputs import Inputs
from calc.setup.words import ThreeWord


@dataclass(frozen=True, kw_only=True)
class Question:
    """One thing that a factory radio may do.

    key : of the field that asks
    answer : what to do where it does
    test : how to find out where nobody knows
    """

    key: str
    answer: str
    test: str

    def is_answered(self, inputs: Inputs, word: ThreeWord) -> bool:
        """Return whether this word is its answer."""
        return bool(getattr(inputs, self.key) == word)


QUESTIONS = (
    Question(
        key="outputs_float",
        answer="Both leads of each pair are live. Take them pair by pair into a speaker-level "
        "input or a converter with differential inputs, and never join a − to the body or to "
        "another −.",
        test="Whether both speaker leads are live. With the radio on, measure from each lead to "
        "the body: about half the battery voltage on both means yes. Until then assume so.",
    ),
    Question(
        key="bass_folds_back",
        answer="The radio cuts its bass as the volume rises. Set the gains at the volume that will "
        "be used, or add a digital signal processor (DSP) that restores it. Bass boost makes it "
        "worse.",
        test="Whether the radio cuts its bass when loud. Measure 50 Hz and 315 Hz at low and at "
        "high volume: the ratio should stay the same.",
    ),
    Question(
        key="already_filtered",
        answer="Each pair of leads carries only part of the range. Use the pair that carries what "
        "you need, or sum the pairs in a converter or DSP. A second crossover on top adds to the "
        "first.",
        test="Whether the radio filters its outputs. Measure each pair with 50 Hz, 315 Hz and "
        "5 kHz at one volume: all three should read the same.",
    ),
    Question(
        key="checks_its_load",
        answer="The radio mutes an output whose speaker is missing. Leave the speakers connected, "
        "or fit the load resistors that the converter’s maker names.",
        test="Whether the radio checks for its speakers. Unplug one and switch on: a muted pair or "
        "a fault on the display means yes.",
    ),
)


def answers_of(inputs: Inputs) -> tuple[str, ...]:
    """Return what to do about all that the radio is known to do."""
    return tuple(asked.answer for asked in QUESTIONS if asked.is_answered(inputs, "yes"))


def tests_of(inputs: Inputs) -> tuple[str, ...]:
    """Return how to find out what is not known of the radio."""
    return tuple(asked.test for asked in QUESTIONS if asked.is_answered(inputs, "not-known"))
