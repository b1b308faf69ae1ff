"""How each of several amplifiers draws, where its row tells that and not all of them alike."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Annotated, Protocol

from calc.answers.figures import THIN_SPACE, quantity
from calc.inputs.fields import Choice, Number
from calc.inputs.problems import Problem
from calc.parts.draw import Draw, idle_is_a_part
from calc.physics.amplifier_draw import AmplifierClass, longest_idle_w

OwnEfficiency = Annotated[float | None, Number("efficiency", low=10, high=100, more=True)]
OwnClass = Annotated[
    AmplifierClass | None, Choice("class", options=(("ab", "AB"), ("d", "D")), more=True)
]
OwnIdle = Annotated[float | None, Number("idle power", low=0, high=2000, more=True)]
OwnFuses = Annotated[float | None, Number("own fuses, total", low=0.5, high=1000, more=True)]
OwnLowest = Annotated[
    float | None, Number("lowest supply for full power", low=6, high=32, more=True)
]


class OwnDraw(Protocol):
    """A row that may tell how one of several amplifiers draws; None: as all of them."""

    @property
    def efficiency_percent(self) -> float | None:
        """Its efficiency at rated power [%]."""

    @property
    def amplifier_class(self) -> AmplifierClass | None:
        """Its class."""

    @property
    def idle_w(self) -> float | None:
        """What it draws without a signal [W]."""

    @property
    def regulated_min_v(self) -> float | None:
        """The lowest voltage at which it holds its power [V]."""


def draw_of(draw: Draw, own: OwnDraw) -> Draw:
    """Return how one of several amplifiers draws: as its row tells, else as all of them."""
    return replace(
        draw,
        efficiency_percent=own.efficiency_percent or draw.efficiency_percent,
        amplifier_class=own.amplifier_class or draw.amplifier_class,
        idle_w=draw.idle_w if own.idle_w is None else own.idle_w,
        regulated_min_v=own.regulated_min_v or draw.regulated_min_v,
    )


def idle_is_a_part_of_rows(
    rows: Iterable[tuple[OwnDraw, float]], table: str, idle_w: float, efficiency_percent: float
) -> Iterator[Problem]:
    """Yield what is wrong with idle powers, each beside the power [W] of its amplifier.

    table : the field of the rows
    idle_w, efficiency_percent : of those whose rows tell none
    """
    shared: list[tuple[float, float]] = []
    for number, (row, power_w) in enumerate(rows, start=1):
        percent = row.efficiency_percent or efficiency_percent
        most = longest_idle_w(power_w=power_w, efficiency=percent / 100)
        if row.idle_w is None:
            shared.append((most, power_w))
        elif row.idle_w > most:
            words = (
                f"{{given}}{THIN_SPACE}W at idle is more than this amplifier can waste. "
                f"Enter up to {quantity(most, 'W', 4)} for this power and efficiency."
            )
            yield Problem(field=table, given=row.idle_w, row=number, column="idle_w", words=words)
    if shared:
        most, power_w = min(shared)
        percent = 100 * longest_idle_w(power_w=power_w, efficiency=1) / most
        yield from idle_is_a_part(idle_w=idle_w, efficiency_percent=percent, total_power_w=power_w)


def lowest_voltages_are_below(
    rows: Sequence[OwnDraw], table: str, supply_v: float
) -> Iterator[Problem]:
    """Yield the rows whose lowest voltage is above the supply's [V]."""
    for number, row in enumerate(rows, start=1):
        if row.regulated_min_v is not None and row.regulated_min_v > supply_v:
            yield Problem(
                field=table,
                given=row.regulated_min_v,
                row=number,
                column="regulated_min_v",
                words=f"{{given}}{THIN_SPACE}V is above the battery voltage of "
                f"{quantity(supply_v, 'V')}. Enter less, or leave it empty.",
            )
