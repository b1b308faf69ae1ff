"""What amplifiers draw, what bounds it, and which main fuse follows."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.figures import THIN_SPACE, exact, quantity, rounded
from calc.inputs.fields import Choice, Number, Numbers
from calc.inputs.problems import Problem
from calc.physics.amplifier_draw import AmplifierClass, Demand, longest_idle_w
from calc.physics.amplifier_draw import Duty as DutyWord
from calc.physics.main_fuse import MainFuse, main_fuse
from calc.physics.permitted_current import FUSES_A

TotalPower = Annotated[
    float,
    Number(
        "RMS power, all channels together",
        low=1,
        high=20_000,
        example=250.0,
        hint="Add up the RMS (continuous) watts of the channels in use, from the spec sheet; a "
        "bridged "
        "pair counts once, with its bridged power. Not “max” or “peak”.",
    ),
]
SupplyVolts = Annotated[
    float,
    Number("Battery voltage, engine running", low=9, high=32, presets=(12.6, 13.8, 14.4)),
]
Duty = Annotated[
    DutyWord,
    Choice(
        "Size the cable for",
        options=(
            ("full", "full power (test tone)"),
            ("heavy", "loud music (⅓ power)"),
            ("normal", "normal listening (⅛ power)"),
        ),
        hint="How hard it is played. The trade sizes cable for full power; the fuse always is.",
    ),
]


@dataclass(frozen=True, kw_only=True)
class Consumption:
    """What amplifiers take in for what they give out."""

    efficiency_percent: Annotated[
        float,
        Number(
            "Efficiency at rated power",
            low=10,
            high=100,
            presets=(55, 60, 80, 85),
            hint="Class AB 50–60, class D 75–90. Or work it out from the rated current on the spec "
            "sheet: power ÷ (volts × amperes).",
            source="efficiency",
        ),
    ] = 60.0
    amplifier_class: Annotated[
        AmplifierClass | None,
        Choice(
            "Amplifier class",
            options=(("ab", "AB"), ("d", "D")),
            hint="On the spec sheet. Below full power, class AB wastes more than class D.",
        ),
    ] = None
    idle_w: Annotated[
        float,
        Number(
            "Idle power",
            low=0,
            high=2000,
            hint="Idle current on the spec sheet, or measured with no music playing, times the "
            "voltage; per "
            "amplifier where several are listed.",
        ),
    ] = 0.0

    @property
    def efficiency(self) -> float:
        """The efficiency at rated power, share of 1."""
        return self.efficiency_percent / 100

    def demand(self, *, power_w: float, supply_v: float, idle_w: float | None = None) -> Demand:
        """Return what amplifiers of a power [W] draw at a voltage [V].

        idle_w : what they draw without a signal where it is not that of the part [W]
        """
        return Demand(
            power_w=power_w,
            efficiency=self.efficiency,
            supply_v=supply_v,
            amplifier_class=self.amplifier_class,
            idle_w=self.idle_w if idle_w is None else idle_w,
        )


@dataclass(frozen=True, kw_only=True)
class Draw(Consumption):
    """The same, with what a regulated supply, its own fuses and its maker make of it."""

    regulated_min_v: Annotated[
        float | None,
        Number(
            "Lowest supply voltage for full power",
            low=6,
            high=32,
            empty="an unregulated amplifier, or not known",
            hint="Regulated amplifiers only, from the spec sheet: they draw more as the voltage "
            "falls.",
        ),
    ] = None
    amp_fuses_a: Annotated[
        tuple[float, ...] | None,
        Numbers(
            "The amplifier’s own fuses",
            most=16,
            hint="Printed beside the power terminals; put semicolons between: 30;30. Together they "
            "limit what it can draw, and the main fuse.",
            each=Number(key="fuse_a", label="Fuse", default="30", low=0.5, high=1000),
        ),
    ] = None
    maker_fuse_a: Annotated[
        float | None,
        Number(
            "Main fuse, as the maker states it",
            low=1,
            high=500,
            empty="none stated",
            hint="From the manual. It replaces the one we work out; the cable must be rated for "
            "it.",
        ),
    ] = None

    @property
    def by_fuses_a(self) -> float | None:
        """The sum of its own fuses [A]; None where they are not known."""
        return sum(self.amp_fuses_a) if self.amp_fuses_a else None

    def lowest_v(self, supply_v: float) -> float:
        """Return the voltage at which it draws the most [V]."""
        return self.regulated_min_v or supply_v

    def full_current(self, *, power_w: float, supply_v: float) -> float:
        """Return the full-power current that fuse and cable must carry [A].

        A regulated amplifier draws the most at the lowest voltage that it holds out.

        >>> round(Draw(regulated_min_v=11.0).full_current(power_w=250, supply_v=14.4), 2)
        37.88
        """
        return self.demand(power_w=power_w, supply_v=self.lowest_v(supply_v)).full_a

    def main_fuse(self, *, full_a: float, widest_a: float | None) -> MainFuse:
        """Return the main fuse: the maker's, by the power, within its own fuses.

        full_a : the current at full power [A]
        widest_a : the most that a cable on offer may carry [A]; None: not known
        """
        return main_fuse(
            full_a=full_a, own_a=self.by_fuses_a, maker_a=self.maker_fuse_a, widest_a=widest_a
        )


def lowest_regulated_voltage_is_below_the_supply(
    *, regulated_min_v: float | None, supply_v: float
) -> Iterator[Problem]:
    """Yield what is wrong with the lowest regulated voltage."""
    if regulated_min_v is not None and regulated_min_v > supply_v:
        yield Problem(
            field="regulated_min_v",
            given=regulated_min_v,
            words=f"{rounded(regulated_min_v)} is above the battery voltage of "
            f"{quantity(supply_v, 'V')}. Enter less, or leave it empty.",
        )


def own_fuses_are_ratings(*, amp_fuses_a: tuple[float, ...] | None) -> Iterator[Problem]:
    """Yield what is wrong with the amplifier's own fuses: two taken for one, mostly."""
    for rating in amp_fuses_a or ():
        if not rating.is_integer() and rating not in FUSES_A:
            yield Problem(
                field="amp_fuses_a",
                given=rating,
                words=f"no fuse is rated {exact(rating)}{THIN_SPACE}A. Enter ratings such as 7.5 "
                "or 30, with ‘;’ between several.",
            )


def idle_is_a_part(
    *, idle_w: float, efficiency_percent: float, total_power_w: float
) -> Iterator[Problem]:
    """Yield what is wrong with the idle power, beside the power of the amplifiers."""
    most = longest_idle_w(power_w=total_power_w, efficiency=efficiency_percent / 100)
    if idle_w > most:
        yield Problem(
            field="idle_w",
            given=idle_w,
            words=f"{{given}}{THIN_SPACE}W at idle is more than this amplifier can waste. "
            f"Enter up to {quantity(most, 'W', 4)} for this power and efficiency.",
        )
