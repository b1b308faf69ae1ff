"""Fields and words that the calculators of this chapter share."""

from collections.abc import Mapping
from typing import Any

from calc.answers import cautions
from calc.answers.figures import THIN_SPACE, exact, quantity
from calc.answers.sheet import Column, Quantity
from calc.inputs.errors import FieldError
from calc.inputs.fields import Choice, Field, Number, Numbers, Whole
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import MOST_ORDER, Family, Filter, Kind, has_order

INVENTED = "invented, the Lantern Van"
FAMILY_WORDS = {
    "butterworth": "Butterworth",
    "linkwitz-riley": "Linkwitz–Riley",
    "bessel": "Bessel",
}
FAMILIES = tuple(FAMILY_WORDS.items())
# Our own limit: Butterworth filters of even order rise by 3.01 dB, and are in use.
MOST_RIPPLE_DB = 3.1
KIND_WORDS = {"high-pass": "high-pass", "low-pass": "low-pass"}
SOURCES = (
    "Filter families: Butterworth 1930; Linkwitz 1976 (a squared Butterworth); Bessel "
    "(Thomson 1949), here with −3 dB at the corner.",
    "Frequencies of lines and tables: ISO 266.",
)
DRIVERS_DIFFER = (
    "How the loudspeakers themselves change level and phase: the curves show the filters "
    "alone. Where a driver’s own roll-off lies near a corner, both add."
)
TEST_TONE = (
    "Never send a test tone or music to a tweeter before its high-pass is in place and "
    "checked: one wrong setting destroys it within seconds."
)
HEARING = cautions.HEARING

POINTS = Numbers(
    key="points_hz",
    label="Frequencies of the table",
    default=";".join(exact(float(one)) for one in THIRD_OCTAVES_HZ),
    hint="Parted by semicolons; third-octave frequencies to begin with.",
    source="ISO 266",
    each=Number(key="point_hz", label="Frequency", default="1000", low=1, high=100_000),
    more=True,
)
FREQUENCY_COLUMN = Column("Frequency", "Hz")


def family_field(key: str, default: str, label: str = "Family", **more: Any) -> Choice:
    """Return a field for a filter's family."""
    return Choice(key=key, label=label, default=default, options=FAMILIES, **more)


def order_field(key: str, default: str, label: str = "Order", **more: Any) -> Whole:
    """Return a field for a filter's order."""
    return Whole(
        key=key, label=label, default=default, low=1, high=MOST_ORDER, presets=(1, 2, 3, 4),
        hint="Each order is 6 dB per octave: 2 is “12 dB”, 4 is “24 dB”.", **more,
    )  # fmt: skip


def frequency_field(key: str, default: str, label: str, **more: Any) -> Number:
    """Return a field for a corner frequency."""
    return Number(key=key, label=label, default=default, low=10, high=30_000, **more)


def check_order(
    given: Mapping[str, Any], family: Field, order: Field, most: int = MOST_ORDER
) -> tuple[FieldError, ...]:
    """Return what is wrong with a family and an order together."""
    name, wanted = given.get(family.key), given.get(order.key)
    if name is None or wanted is None or (has_order(name, wanted) and wanted <= most):
        return ()
    have = [str(one) for one in range(1, most + 1) if has_order(name, one)]
    orders = ", ".join(have[:-1]) + f" or {have[-1]}"
    message = f"{order.label}: {FAMILY_WORDS[name]} filters have order {orders}."
    return (FieldError(order.key, str(wanted), message),)


def slope_words(order: int) -> str:
    """Return an order as the trade says it."""
    return f"{6 * order}{THIN_SPACE}dB per octave"


def filter_words(one: Filter) -> str:
    """Return a filter in words."""
    return (
        f"{FAMILY_WORDS[one.family]} {one.kind} at {quantity(one.frequency_hz, 'Hz')}, "
        f"{slope_words(one.order)}"
    )


def filter_of(kind: Kind, family: Family, order: int, frequency_hz: float) -> Filter:
    """Return a filter."""
    return Filter(kind=kind, family=family, order=order, frequency_hz=frequency_hz)


def level_cell(level_db: float | None) -> Quantity | str:
    """Return a level as a table shows it; what is wholly cancelled has none."""
    return "none" if level_db is None else Quantity(level_db)
