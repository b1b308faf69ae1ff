"""The fields that several calculators of this chapter share, and their words."""

from calc.answers.figures import quantity
from calc.inputs.fields import Choice, Number

INVENTED = "the Lantern Van, invented"
HIGHEST_BOOST_DB = 24.0
THREE_WORDS = (("yes", "yes"), ("no", "no"), ("not-known", "not known"))


def power_field(default: str, label: str = "Power of the output", hint: str = "") -> Number:
    """Return the field for the continuous power of an output."""
    return Number(
        key="power_w", label=label, default=default, low=1, high=5000, source=INVENTED,
        hint=hint or "Continuous, into this load. Of a bridged output, the bridged power.",
    )  # fmt: skip


def load_field(default: str = "4") -> Number:
    """Return the field for the load of an output."""
    return Number(
        key="load_ohm", label="Load", default=default, low=0.5, high=32, presets=(2, 4, 8),
        source=INVENTED, hint="What this power is stated for, and what will hang on the output.",
    )  # fmt: skip


def three_valued(key: str, label: str, default: str, hint: str = "", more: bool = False) -> Choice:
    """Return a field for yes, no or not known."""
    return Choice(
        key=key, label=label, default=default, options=THREE_WORDS, hint=hint, more=more,
        source=INVENTED,
    )  # fmt: skip


def truth(word: str) -> bool | None:
    """Return the value of a word of such a field.

    >>> truth("yes"), truth("no"), truth("not-known")
    (True, False, None)
    """
    return {"yes": True, "no": False}.get(word)


def word_of(value: bool | None) -> str:
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
