"""How a number is written: for people (few figures, unit) and for links (exact)."""

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache

THIN_SPACE = "\u202f"  # narrow and no-break, so that a unit never starts a line
MINUS = "\u2212"
UNITS = {
    "ohm": "Ω",
    "mohm": "mΩ",
    "w": "W",
    "v": "V",
    "mv": "mV",
    "a": "A",
    "hz": "Hz",
    "s": "s",
    "ms": "ms",
    "mh": "mH",
    "deg": "°",
    "db": "dB",
    "dbfs": "dBFS",
    "m": "m",
    "mm": "mm",
    "mm2": "mm²",
    "m2": "m²",
    "c": "°C",
    "percent": "%",
    "h": "h",
    "ah": "Ah",
    "kg": "kg",
}


def unit_of(key: str) -> str:
    """Return the unit that the last part of a key names, or an empty string.

    A key that is nothing but a letter or two names something else than a unit.

    >>> unit_of("rated_bridged_w"), unit_of("ohm"), unit_of("channels"), unit_of("h")
    ('W', 'Ω', '', '')
    """
    last = key.rsplit("_", 1)[-1]
    return UNITS.get(last, "") if "_" in key or len(key) > 2 else ""


SHORT = 4  # digits of a figure that is written as it is
_FIGURES = 3  # of one that has more: nobody sets a knob or cuts a cable more finely


@lru_cache(maxsize=64, typed=True)  # thousands of layouts have the same few powers
def rounded(value: float, figures: int | None = None) -> str:
    """Write a number for a sentence, without trailing zeros.

    figures : significant figures; None for as many as a person says.  A figure of up to four
        digits was typed, or came out even, and is written as it is; one of more, which a
        calculation has left behind, is rounded to three.

    The first rounding to twelve figures takes away the last bits, in which two
    platforms' logarithms and powers may differ.

    >>> rounded(15.491933384829668), rounded(150.0), rounded(-0.5), rounded(6910)
    ('15.5', '150', '−0.5', '6910')
    >>> rounded(14.25), rounded(3150.0), rounded(1234.56), rounded(15.491933384829668, 4)
    ('14.25', '3150', '1230', '15.49')
    """
    if isinstance(value, int):
        text = str(value)
    else:
        steady = Decimal(f"{value:.12g}")
        if figures is None and not _is_short(steady):
            figures = _FIGURES
        text = f"{steady if figures is None else Decimal(f'{steady:.{figures}g}'):f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        if text == "-0":
            text = "0"
    return text.replace("-", MINUS)


def _is_short(value: Decimal) -> bool:
    return len(value.normalize().as_tuple().digits) <= SHORT


def decimals(value: float, places: int) -> str:
    """Write a number with a fixed number of decimals, as columns of levels need it.

    Large numbers have fewer, so that no more than four figures are written.

    >>> decimals(-3.0103, 2), decimals(-0.0001, 1), decimals(-449.568, 2), decimals(12345.6, 1)
    ('−3.01', '0.0', '−449.6', '12350')
    """
    steady = Decimal(f"{value:.12g}")
    if steady and steady.adjusted() + 1 + places > 4:
        return rounded(value, 4)
    text = f"{steady:.{places}f}"
    if not text.strip("-0."):
        text = text.removeprefix("-")
    return text.replace("-", MINUS)


def quantity(value: float | None, unit: str = "", figures: int | None = None) -> str:
    """Write a number with its unit for a sentence; a figure that is not there says so.

    >>> quantity(15.4919, "V"), quantity(14.25, "V"), quantity(None, "W")
    ('15.5\\u202fV', '14.25\\u202fV', 'not known')
    """
    if value is None:
        return "not known"
    return rounded(value, figures) + (THIN_SPACE + unit if unit else "")


def listed(parts: Sequence[str]) -> str:
    """Write parts as a list in a sentence.

    >>> listed(["a"]), listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if parts[1:] else parts)


def capital(text: str) -> str:
    """Return a text with a capital at its beginning.

    >>> capital("the sub"), capital("")
    ('The sub', '')
    """
    return f"{text[:1].upper()}{text[1:]}"


def exact(value: float) -> str:
    """Write a number in full for a link: shortest digits, no exponent.

    >>> exact(14.4), exact(4.0), exact(0.00001), exact(100000000000000000000.0)
    ('14.4', '4', '0.00001', '100000000000000000000')
    """
    text = f"{Decimal(repr(value)):f}"
    return text.removesuffix(".0")
