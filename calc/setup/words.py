"""Words that several calculators of this chapter share: yes, no or not known; volts."""

from typing import Literal

from calc.answers.figures import quantity
from calc.inputs.fields import Choice
from calc.parts.output import INVENTED

# Cautions of several calculators of this chapter.
TONES_BURN = (
    "A steady tone burns out a tweeter in seconds, and hurts ears. Disconnect the speakers before "
    "you play one."
)
EXHAUST = (
    "Tones run the battery down, and exhaust gas in a garage kills. Run the engine outside, or use "
    "a charger."
)

ThreeWord = Literal["yes", "no", "not-known"]
THREE_WORDS = (("yes", "yes"), ("no", "no"), ("not-known", "not known"))


def three_valued(label: str, example: ThreeWord | None = None, hint: str = "") -> Choice:
    """Return a field for yes, no or not known."""
    return Choice(label, example=example, options=THREE_WORDS, hint=hint, source=INVENTED)


def truth(word: ThreeWord) -> bool | None:
    """Return the value of a word of such a field.

    >>> truth("yes"), truth("no"), truth("not-known")
    (True, False, None)
    """
    return {"yes": True, "no": False}.get(word)


def word_of(value: bool | None) -> ThreeWord:
    """Return the word of a value.

    >>> word_of(True), word_of(None)
    ('yes', 'not-known')
    """
    return "not-known" if value is None else "yes" if value else "no"


def volts(value: float) -> str:
    """Write a voltage as a meter shows it.

    >>> volts(15.4919)
    '15.5\\u202fV'
    """
    return quantity(value, "V")
