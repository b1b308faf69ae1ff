"""What `crossover-sum` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from calc.answers.calculator import Group
from calc.inputs.fields import Choice, Number
from calc.inputs.problems import Problem
from calc.parts.filters import (
    TABLE_HZ,
    Points,
    corner_field,
    family_field,
    order_field,
    order_problems,
)
from calc.physics.filter_sums import Voice
from calc.physics.filters import Family, Filter

Polarity = Literal["normal", "reversed"]
_CORNERS_HZ = (60, 80, 100, 3000)


def _polarity(label: str, **changes: Any) -> Choice:
    return Choice(
        label,
        options=(("normal", "normal"), ("reversed", "reversed")),
        hint="Reversed: + and − swapped at the speaker.",
        **changes,
    )


@dataclass(frozen=True, kw_only=True)
class LowSection:
    """The section below: its low-pass, and how it is joined."""

    low_family: Annotated[Family, family_field("Lower speaker: filter type", start="butterworth")]
    low_order: Annotated[int, order_field("Lower speaker: slope (order)", start=2)]
    low_frequency_hz: Annotated[
        float, corner_field("Lower speaker: low-pass frequency", example=80.0, presets=_CORNERS_HZ)
    ]
    low_polarity: Annotated[Polarity, _polarity("Lower speaker: polarity", start="normal")]
    low_gain_db: Annotated[float, Number("Lower speaker: level", low=-40, high=20)] = 0.0
    low_delay_ms: Annotated[float, Number("Lower speaker: delay", low=0, high=100)] = 0.0

    @property
    def voice(self) -> Voice:
        """What it plays."""
        made = Filter(
            kind="low-pass",
            family=self.low_family,
            order=self.low_order,
            frequency_hz=self.low_frequency_hz,
        )
        return Voice(
            filters=(made,),
            gain_db=self.low_gain_db,
            is_reversed=self.low_polarity == "reversed",
            delay_s=self.low_delay_ms / 1000,
        )


@dataclass(frozen=True, kw_only=True)
class HighSection:
    """The section above: its high-pass, and how it is joined."""

    high_family: Annotated[Family, family_field("Upper speaker: filter type", start="butterworth")]
    high_order: Annotated[int, order_field("Upper speaker: slope (order)", start=2)]
    high_frequency_hz: Annotated[
        float, corner_field("Upper speaker: high-pass frequency", example=80.0, presets=_CORNERS_HZ)
    ]
    high_polarity: Annotated[Polarity, _polarity("Upper speaker: polarity", start="reversed")]
    high_gain_db: Annotated[float, Number("Upper speaker: level", low=-40, high=20)] = 0.0
    high_delay_ms: Annotated[float, Number("Upper speaker: delay", low=0, high=100)] = 0.0

    @property
    def voice(self) -> Voice:
        """What it plays."""
        made = Filter(
            kind="high-pass",
            family=self.high_family,
            order=self.high_order,
            frequency_hz=self.high_frequency_hz,
        )
        return Voice(
            filters=(made,),
            gain_db=self.high_gain_db,
            is_reversed=self.high_polarity == "reversed",
            delay_s=self.high_delay_ms / 1000,
        )


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """Two sections that meet, and where their sum is looked at."""

    low: LowSection
    high: HighSection
    points_hz: Points = TABLE_HZ


def low_order_exists(*, low_family: Family, low_order: int) -> Iterator[Problem]:
    """Yield what is wrong with the low section's order."""
    return order_problems("low_order", family=low_family, order=low_order)


def high_order_exists(*, high_family: Family, high_order: int) -> Iterator[Problem]:
    """Yield what is wrong with the high section's order."""
    return order_problems("high_order", family=high_family, order=high_order)


CHECKS = (low_order_exists, high_order_exists)
FORM = (
    Group(
        "Lower speaker, e.g. the sub (low-pass)",
        ("low_family", "low_order", "low_frequency_hz", "low_polarity"),
        more=("low_gain_db", "low_delay_ms"),
    ),
    Group(
        "Upper speaker, e.g. the doors (high-pass)",
        ("high_family", "high_order", "high_frequency_hz", "high_polarity"),
        more=("high_gain_db", "high_delay_ms"),
    ),
    Group("Table", (), more=("points_hz",)),
)
