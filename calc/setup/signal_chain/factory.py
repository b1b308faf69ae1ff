"""What a factory radio may do to the signal: four questions, and what to do about each.

All of them are common practice, no source; the vehicle's own data come first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.inputs.fields import Choice
from calc.setup.fields import three_valued


@dataclass(frozen=True, kw_only=True)
class Question:
    """One thing that a factory radio may do.

    answer : what to do where it does
    test : how to find out where nobody knows
    """

    key: str
    label: str
    hint: str
    answer: str
    test: str

    def field(self) -> Choice:
        """Return the field that asks."""
        return three_valued(self.key, self.label, "not-known", self.hint, more=True)


QUESTIONS = (
    Question(
        key="outputs_float",
        label="Radio’s speaker leads float",
        hint="Both leads of a pair are live; neither is tied to earth. So with nearly all radios.",
        answer="Both leads of a pair are live: take them pair by pair into a high-level input or a "
        "converter with differential inputs. Never join a minus to the body or to another minus.",
        test="Whether the radio’s leads float: measure from each lead to the body, radio on; about "
        "half the battery’s voltage on both means that they do. Until then treat them so.",
    ),
    Question(
        key="bass_folds_back",
        label="Radio cuts its bass when loud",
        hint="Many factory radios do, to spare small speakers.",
        answer="The radio takes bass away as its volume rises: set the gains at the volume that is "
        "used, or put a processor in the way that gives it back. A bass boost makes it worse.",
        test="Whether the radio cuts its bass when loud: play 50 Hz and 315 Hz, measure both at "
        "low and at high volume; the ratio must stay.",
    ),
    Question(
        key="already_filtered",
        label="Radio filters its outputs already",
        hint="With a tweeter pair or a factory subwoofer each pair gets its own band.",
        answer="Each pair of leads has its own band: take the pair that holds the band needed, or "
        "add the pairs up in a converter or processor that can. A crossover on top of it stacks.",
        test="Whether the radio filters its pairs: measure each pair with 50 Hz, 315 Hz and 5 kHz "
        "at one volume; all three must read alike.",
    ),
    Question(
        key="checks_its_load",
        label="Radio checks for its speakers",
        hint="It mutes or reports a fault when a speaker is missing.",
        answer="The radio wants to see its speakers: leave them connected where they stay in use, "
        "or fit the load resistors that the converter’s maker names.",
        test="Whether the radio checks its load: take one speaker off and switch it on; a muted "
        "pair or a fault on its display means that it does.",
    ),
)


def answers_of(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Return what to do about all that the radio is known to do."""
    return tuple(one.answer for one in QUESTIONS if given[one.key] == "yes")


def tests_of(given: Mapping[str, Any]) -> tuple[str, ...]:
    """Return how to find out what is not known of the radio."""
    return tuple(one.test for one in QUESTIONS if given[one.key] == "not-known")
