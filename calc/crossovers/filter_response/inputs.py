"""What `filter-response` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from calc.answers.calculator import Group
from calc.answers.figures import rounded
from calc.inputs.fields import Choice
from calc.inputs.problems import Problem
from calc.parts.filters import (
    TABLE_HZ,
    Points,
    corner_field,
    family_field,
    order_field,
    order_problems,
)
from calc.physics.filters import Family, Filter

Passes = Literal["high-pass", "low-pass", "band-pass"]


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A filter, perhaps with a second one on the same edge, and where it is looked at."""

    kind: Annotated[
        Passes,
        Choice(
            "Filter",
            start="high-pass",
            options=(
                ("high-pass", "high-pass"),
                ("low-pass", "low-pass"),
                ("band-pass", "band-pass"),
            ),
            hint="A high-pass (HPF) lets the highs through, a low-pass (LPF) the lows, a band-pass "
            "(BPF) what lies between.",
        ),
    ]
    family: Annotated[Family, family_field(start="butterworth")]
    order: Annotated[int, order_field(start=2)]
    frequency_hz: Annotated[
        float, corner_field("Cut-off frequency", example=80.0, presets=(60, 80, 100, 3000))
    ]
    upper_hz: Annotated[
        float | None,
        corner_field("Upper cut-off frequency", empty="none", hint="Only for a band-pass."),
    ] = None
    second_frequency_hz: Annotated[
        float | None,
        corner_field(
            "Second filter: cut-off frequency",
            empty="none",
            hint="Only if a second filter does the same job, e.g. one in the head unit and one "
            "in the "
            "amplifier.",
        ),
    ] = None
    second_family: Annotated[
        Family | None, family_field("Second filter: filter type", empty="as the first")
    ] = None
    second_order: Annotated[
        int | None, order_field("Second filter: slope (order)", empty="as the first")
    ] = None
    points_hz: Points = TABLE_HZ

    @property
    def filters(self) -> tuple[Filter, ...]:
        """The filters that are described, one after the other."""
        family, order, corner_hz = self.family, self.order, self.frequency_hz
        if self.kind == "band-pass":
            assert self.upper_hz is not None  # see `a_band_has_two_corners`
            return (
                Filter(kind="high-pass", family=family, order=order, frequency_hz=corner_hz),
                Filter(kind="low-pass", family=family, order=order, frequency_hz=self.upper_hz),
            )
        first = Filter(kind=self.kind, family=family, order=order, frequency_hz=corner_hz)
        if self.second_frequency_hz is None:
            return (first,)
        second = Filter(
            kind=self.kind,
            family=self.second_family or family,
            order=self.second_order or order,
            frequency_hz=self.second_frequency_hz,
        )
        return first, second


def order_exists(*, family: Family, order: int) -> Iterator[Problem]:
    """Yield what is wrong with the first filter's order."""
    return order_problems("order", family=family, order=order)


def second_order_exists(
    *,
    second_order: int | None,
    second_family: Family | None = None,
    family: Family | None = None,
) -> Iterator[Problem]:
    """Yield what is wrong with the second filter's order."""
    return order_problems("second_order", family=second_family or family, order=second_order)


def second_family_has_the_order(
    *, second_family: Family | None, second_order: int | None = None, order: int | None = None
) -> Iterator[Problem]:
    """Yield what is wrong where the second filter takes its order from the first."""
    if second_order is None and any(order_problems("order", family=second_family, order=order)):
        words = "this filter type has no such slope. Choose the second filter’s slope."
        yield _of_second("second_order", "", words)


def second_has_a_corner(
    *,
    second_frequency_hz: float | None,
    second_family: Family | None = None,
    second_order: int | None = None,
) -> Iterator[Problem]:
    """Yield what is given of a second filter that is none."""
    if second_frequency_hz is None:
        words = "its cut-off frequency is missing. Enter it, or leave this empty."
        if second_family is not None:
            yield _of_second("second_family", second_family, words)
        if second_order is not None:
            yield _of_second("second_order", second_order, words)


def a_band_has_two_corners(*, kind: Passes, upper_hz: float | None) -> Iterator[Problem]:
    """Yield what a band-pass lacks."""
    if kind == "band-pass" and upper_hz is None:
        yield Problem(field="upper_hz", given="", words="a band-pass needs one. Enter it.")


def a_band_has_width(
    *, kind: Passes, upper_hz: float | None, frequency_hz: float
) -> Iterator[Problem]:
    """Yield what is wrong with a band that ends where it begins, or below."""
    if kind == "band-pass" and upper_hz is not None and upper_hz <= frequency_hz:
        words = (
            "{given} Hz is not above the lower cut-off. "
            f"Enter more than {rounded(frequency_hz)} Hz."
        )
        yield Problem(field="upper_hz", given=rounded(upper_hz), words=words)


def a_band_is_one_filter(*, kind: Passes, second_frequency_hz: float | None) -> Iterator[Problem]:
    """Yield what is wrong with a second filter beside a band-pass."""
    if kind == "band-pass" and second_frequency_hz is not None:
        words = "a band-pass takes no second filter. Leave it empty."
        yield _of_second("second_frequency_hz", rounded(second_frequency_hz), words)


def _of_second(field: str, given: float | str, words: str) -> Problem:
    return Problem(field=field, given=given, words=words, label="Second filter")


CHECKS = (
    order_exists,
    second_order_exists,
    second_family_has_the_order,
    second_has_a_corner,
    a_band_has_two_corners,
    a_band_has_width,
    a_band_is_one_filter,
)
FORM = (
    Group("Filter", ("kind", "family", "order", "frequency_hz", "upper_hz")),
    Group(
        "A second filter doing the same job",
        ("second_frequency_hz", "second_family", "second_order"),
    ),
    Group("Table", (), more=("points_hz",)),
)
