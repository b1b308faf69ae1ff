"""What a factory radio may do to the signal: four questions, and what to do about each.

All of them are common practice, no source; the vehicle's own data come first.
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
        answer="Both leads of a pair are live: take them pair by pair into a high-level input or a "
        "converter with differential inputs. Never join a minus to the body or to another minus.",
        test="Whether the radio’s leads float: measure from each lead to the body, radio on; about "
        "half the battery’s voltage on both means that they do. Until then treat them so.",
    ),
    Question(
        key="bass_folds_back",
        answer="The radio takes bass away as its volume rises: set the gains at the volume that is "
        "used, or put a processor in the way that gives it back. A bass boost makes it worse.",
        test="Whether the radio cuts its bass when loud: play 50 Hz and 315 Hz, measure both at "
        "low and at high volume; the ratio must stay.",
    ),
    Question(
        key="already_filtered",
        answer="Each pair of leads has its own band: take the pair that holds the band needed, or "
        "add the pairs up in a converter or processor that can. A crossover on top of it stacks.",
        test="Whether the radio filters its pairs: measure each pair with 50 Hz, 315 Hz and 5 kHz "
        "at one volume; all three must read alike.",
    ),
    Question(
        key="checks_its_load",
        answer="The radio wants to see its speakers: leave them connected where they stay in use, "
        "or fit the load resistors that the converter’s maker names.",
        test="Whether the radio checks its load: take one speaker off and switch it on; a muted "
        "pair or a fault on its display means that it does.",
    ),
)


def answers_of(inputs: Inputs) -> tuple[str, ...]:
    """Return what to do about all that the radio is known to do."""
    return tuple(asked.answer for asked in QUESTIONS if asked.is_answered(inputs, "yes"))


def tests_of(inputs: Inputs) -> tuple[str, ...]:
    """Return how to find out what is not known of the radio."""
    return tuple(asked.test for asked in QUESTIONS if asked.is_answered(inputs, "not-known"))
