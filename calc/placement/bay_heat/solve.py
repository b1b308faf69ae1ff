"""How warm a closed bay gets."""

from dataclasses import dataclass

from calc.physics.air import FILM_HIGH, FILM_LOW, air_rise, area_for
from calc.physics.amplifier_draw import DUTIES, Duty, amplifier_heat, class_ab_heat
from calc.placement.bay_heat.inputs import Inputs

AB_EFFICIENCY = 0.5  # from memory: the lower end of 50 to 60 %


@dataclass(frozen=True)
class Heat:
    """What the amplifiers give off [W], and as class AB where their class is not known."""

    heat_w: float
    bound_w: float | None

    @property
    def most_w(self) -> float:
        """The bound, or the heat where there is none [W]."""
        return self.heat_w if self.bound_w is None else self.bound_w


@dataclass(frozen=True)
class Rises:
    """How much warmer than the cabin the bay gets [K], by how well it sheds heat."""

    low_k: float
    likely_k: float
    high_k: float


@dataclass(frozen=True)
class DutyHeat:
    """The heat of one duty, and how much warmer it makes the bay, were it closed [K]."""

    duty: Duty
    heat: Heat
    rise_k: float


@dataclass(frozen=True, kw_only=True)
class Result:
    """Heat, and what it makes of a closed bay.

    rises : None for an open bay
    worst_rise_k : with the bound of the heat and the film that sheds least, were it closed [K]
    area_needed_m2 : the surface at which the bay ends at the limit; None for an open bay, and
        where no limit above the cabin's air is given
    duties : at every duty, whatever is asked for
    """

    heat: Heat
    rises: Rises | None
    worst_rise_k: float
    area_needed_m2: float | None
    duties: tuple[DutyHeat, ...]


def solve(inputs: Inputs) -> Result:
    """Work out heat and rise."""
    heat, area, film = _heat(inputs, inputs.duty), inputs.area_m2, inputs.h
    least = min(FILM_LOW, film)
    rises = None
    if inputs.closed:
        rises = Rises(
            *(
                air_rise(heat_w=heat.heat_w, area_m2=area, film=h)
                for h in (max(FILM_HIGH, film), film, least)
            )
        )
    needed = None
    if rises and inputs.limit_c is not None and inputs.limit_c > inputs.cabin_c:
        rise = inputs.limit_c - inputs.cabin_c
        needed = area_for(heat_w=heat.heat_w, rise_k=rise, film=film)
    return Result(
        heat=heat,
        rises=rises,
        worst_rise_k=air_rise(heat_w=heat.most_w, area_m2=area, film=least),
        area_needed_m2=needed,
        duties=tuple(_at(inputs, duty) for duty in DUTIES),
    )


def _at(inputs: Inputs, duty: Duty) -> DutyHeat:
    heat = _heat(inputs, duty)
    rise = air_rise(heat_w=heat.heat_w, area_m2=inputs.area_m2, film=inputs.h)
    return DutyHeat(duty, heat, rise)


def _heat(inputs: Inputs, duty: Duty) -> Heat:
    power, efficiency, idle = inputs.power_w, inputs.efficiency, inputs.idle_w or 0.0
    if inputs.amplifier_class == "ab":
        heat = class_ab_heat(power_w=power, efficiency=efficiency, duty=duty)
        return Heat(max(heat, idle), None)
    steady = amplifier_heat(power_w=power, efficiency=efficiency, duty=duty) + idle
    if inputs.amplifier_class:
        return Heat(steady, None)
    # Not known: class AB at the lower end of its efficiencies is the bound.
    worst = min(efficiency, AB_EFFICIENCY)
    bound = max(class_ab_heat(power_w=power, efficiency=worst, duty=duty), idle)
    return Heat(steady, max(bound, steady))
