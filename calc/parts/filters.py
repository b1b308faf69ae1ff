"""What is asked of a filter: family, order and corner."""

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
        "Frequencies of the table",
        hint="Parted by semicolons; third-octave frequencies to begin with.",
        source="ISO 266",
        each=Number("Frequency", key="point_hz", default="1000", low=1, high=100_000),
    ),
]


def family_field(label: str = "Family", **changes: Any) -> Choice:
    """Return the field of a filter's family."""
    options = tuple((family, FAMILY_WORDS[family]) for family in FAMILIES)
    return Choice(label, options=options, **changes)


def order_field(label: str = "Order", **changes: Any) -> Whole:
    """Return the field of a filter's order."""
    return Whole(
        label,
        low=1,
        high=MOST_ORDER,
        presets=(1, 2, 3, 4),
        hint="Each order is 6 dB per octave: 2 is “12 dB”, 4 is “24 dB”.",
        **changes,
    )


def corner_field(label: str = "Corner frequency", **changes: Any) -> Number:
    """Return the field of a corner frequency [Hz]."""
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
    words = f"{FAMILY_WORDS[family]} filters have order {', '.join(orders[:-1])} or {orders[-1]}."
    yield Problem(field=key, given=order, words=words)
