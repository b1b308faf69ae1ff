"""What is asked of a filter: its type (family), its slope (order) and its frequency (corner)."""

from collections.abc import Iterator
from typing import Annotated, Any

from calc.inputs.fields import Choice, Number, Numbers, Whole
from calc.inputs.problems import Problem
from calc.physics.filter_sums import THIRD_OCTAVES_HZ
from calc.physics.filters import FAMILIES, KINDS, MOST_ORDER, Family, has_order

FAMILY_WORDS: dict[Family, str] = {
    "butterworth": "Butterworth",
    "linkwitz-riley": "Linkwitz–Riley",
    "bessel": "Bessel",
}
KIND_OPTIONS = tuple((kind, kind) for kind in KINDS)
TABLE_HZ = tuple(map(float, THIRD_OCTAVES_HZ))

# The frequencies [Hz] of a table.
Points = Annotated[
    tuple[float, ...],
    Numbers(
        "Frequencies in the table",
        hint="Separate them with semicolons. It starts with the third-octave frequencies.",
        source="third-octaves",
        each=Number("Frequency", key="point_hz", default="1000", low=1, high=100_000),
    ),
]


def family_field(label: str = "Filter type", **changes: Any) -> Choice:
    """Return the field of a filter's type."""
    options = tuple((family, FAMILY_WORDS[family]) for family in FAMILIES)
    return Choice(label, options=options, **changes)


def order_field(label: str = "Slope (order)", **changes: Any) -> Whole:
    """Return the field of a filter's order."""
    return Whole(
        label,
        low=1,
        high=MOST_ORDER,
        presets=(1, 2, 3, 4),
        hint="1 is 6 dB/oct, 2 is 12, 3 is 18, 4 is 24.",
        **changes,
    )


def corner_field(label: str = "Crossover frequency", **changes: Any) -> Number:
    """Return the field of a crossover or cut-off frequency [Hz]."""
    return Number(label, low=10, high=30_000, **changes)


def order_problems(
    key: str, *, family: Family | None, order: int | None, most: int = MOST_ORDER
) -> Iterator[Problem]:
    """Yield what is wrong with a family and an order together; nothing where one is not there.

    key : of the order's field
    most : the highest order that there may be
    """
    if family is None or order is None or (has_order(family, order) and order <= most):
        return
    orders = [str(number) for number in range(1, most + 1) if has_order(family, number)]
    words = (
        f"there is no {FAMILY_WORDS[family]} filter of order {order} ({6 * order} dB/oct). Give "
        f"order {', '.join(orders[:-1])} or {orders[-1]}."
    )
    yield Problem(field=key, given=order, words=words)
