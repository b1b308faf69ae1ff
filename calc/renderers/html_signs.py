"""Small signs with a shape of their own, told apart without colour."""

from xml.etree.ElementTree import Element

from calc.answers.markup import element
from calc.answers.sheet import Verdict

_TICK = "M7 12.5l3.5 3.5L17 8.5"
# Each verdict has a shape of its own: disc with tick, square with cross, diamond with dash.
_SHAPES = {
    "suitable": ("M12 2a10 10 0 1 0 0 20 10 10 0 0 0 0-20z", _TICK),
    "unsuitable": ("M3 3h18v18H3z", "M8 8l8 8M16 8l-8 8"),
    "not known": ("M12 1l11 11-11 11L1 12z", "M8 12h8"),
}


def sign(outline: str, stroke: str) -> Element:
    """Draw a small filled sign with a stroke cut into it."""
    return _drawn(
        element("path", d=outline, class_="sign__shape"),
        element("path", d=stroke, class_="sign__stroke"),
    )


def _drawn(*shapes: Element) -> Element:
    return element(
        "svg", *shapes, class_="sign", viewBox="0 0 24 24", aria_hidden="true", focusable="false"
    )


def state_sign(state: str) -> Element:
    """Draw the sign of a verdict; *likely* is a dotted ring, for usual figures have dots."""
    if state == "likely":
        return _drawn(
            element("circle", cx="12", cy="12", r="10", class_="sign__ring"),
            element("path", d=_TICK, class_="sign__line"),
        )
    return sign(*_SHAPES[state])


def verdict_class(judged: Verdict) -> str:
    """Return the classes of a verdict's element."""
    return f"verdict verdict--{judged.state.replace(' ', '-')}"
