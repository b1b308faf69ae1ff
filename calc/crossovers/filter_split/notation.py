"""How rows of `filter-split` write channels, corners, factors and orders."""

import re

LOWEST_HZ, HIGHEST_HZ = 10.0, 30_000.0
_NUMBER = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
MOST_CHANNELS = 24  # three amplifiers of eight, numbered through
_ONE = r"(?:[1-9]|1[0-9]|2[0-4])"
_CHANNELS = re.compile(rf"{_ONE}(?:[/+]{_ONE}){{0,7}}")
_STEPS = re.compile(rf"{_NUMBER}(?:/{_NUMBER}){{0,39}}")
_RANGE = re.compile(rf"({_NUMBER})-({_NUMBER})")
_FACTORS = re.compile(rf"{_NUMBER}(?:/{_NUMBER}){{0,3}}")
_ORDERS = re.compile(r"[1-8](?:/[1-8]){0,7}")


def channels_of(text: str) -> frozenset[int]:
    """Return the channels of a text such as `1/2` (one each) or `3+4` (bridged).

    >>> sorted(channels_of("3+4"))
    [3, 4]
    """
    return frozenset(map(int, re.split("[/+]", text)))


def numbers_of(text: str) -> tuple[float, ...]:
    """Return the numbers of a text such as `50/80/100`."""
    return tuple(map(float, text.split("/")))


def range_of(text: str) -> tuple[float, float] | None:
    """Return the ends of a text such as `50-500`; None when it is a list."""
    match = _RANGE.fullmatch(text)
    return (float(match[1]), float(match[2])) if match else None


def are_channels(text: str) -> bool:
    """Tell whether a text names channels."""
    if not _CHANNELS.fullmatch(text) or ("/" in text and "+" in text):
        return False
    channels = re.split("[/+]", text)
    return len(set(channels)) == len(channels) and not ("+" in text and len(channels) != 2)


def are_corners(text: str) -> bool:
    """Tell whether a text gives the corners of a filter: a range, or steps."""
    ends = range_of(text)
    if ends is not None:
        return LOWEST_HZ <= ends[0] < ends[1] <= HIGHEST_HZ
    if not _STEPS.fullmatch(text):
        return False
    steps = numbers_of(text)
    return len(set(steps)) == len(steps) and all(LOWEST_HZ <= step <= HIGHEST_HZ for step in steps)


def are_factors(text: str) -> bool:
    """Tell whether a text gives the factors of a range switch."""
    return bool(_FACTORS.fullmatch(text)) and all(
        0.01 <= factor <= 1000 for factor in numbers_of(text)
    )


def are_orders(text: str) -> bool:
    """Tell whether a text gives orders to choose from."""
    return bool(_ORDERS.fullmatch(text))
