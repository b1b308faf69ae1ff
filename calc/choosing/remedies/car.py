"""What can be changed in the car: alternator, battery, cable, air, the way in and the way on."""

from collections.abc import Iterator, Sequence

from calc.answers.figures import rounded
from calc.choosing.remedies.case import Aim, Change
from calc.physics.amplifier_draw import Duty
from calc.system.system import System

_SHARES = (0.75, 0.5, 0.25, 0.1)
_LARGER = (1.25, 1.5, 2.0, 3.0)
_ALTERNATORS_A = (70, 90, 110, 120, 140, 150, 180, 200, 250, 320)
_BATTERIES_AH = (70, 80, 95, 110, 150, 200)
_PARKED_DAYS = (28, 21, 14, 10, 7, 5, 3, 2, 1, 0)
_DROPS_V = (0.75, 1.0, 1.5, 2.0)
_QUIETER: tuple[tuple[Duty, str], ...] = (("heavy", "loud music"), ("normal", "normal listening"))


def stronger_supply(aim: Aim) -> Iterator[Change]:
    """Yield a larger alternator, then less that the vehicle itself draws."""
    case, charging = aim.case, aim.case.job.system.charging
    rating_a, vehicle_a = charging.alternator_a or 0.0, charging.vehicle_a or 0.0
    above = [float(ampere) for ampere in _ALTERNATORS_A if ampere > rating_a]
    ampere = aim.first(above, lambda ampere: case.of_car(alternator_a=ampere))
    if ampere is not None:
        changed = case.of_car(alternator_a=ampere)
        yield Change("car", f"with an alternator of {rounded(ampere)} A", changed, ampere / 100)
    for share in _SHARES:
        less_a = float(f"{share * vehicle_a:.2g}")
        if less_a < vehicle_a:
            words = f"if the vehicle itself draws no more than {rounded(less_a)} A"
            yield Change("car", words, case.of_car(vehicle_a=less_a), 5 / share)


def easier_cable(aim: Aim) -> Iterator[Change]:
    """Yield a shorter cable, one for music, a cooler run, a return cable, a larger drop."""
    case, leads = aim.case, aim.case.system.leads
    for metres in _scaled(leads.power_m, _SHARES):
        words = f"with a power cable no longer than {rounded(metres, 3)} m"
        yield Change("car", words, case.of_car(power_m=metres), 1.0)
    if leads.engine_space is not False:
        words = "with the cable routed away from the engine’s heat"
        yield Change("car", words, case.of_car(engine_space=False), 2.0)
    if leads.return_ == "body":
        words = "with an earth cable back to the battery"
        yield Change("car", words, case.of_car(**{"return": "cable"}), 2.5)
    now = case.system.charging.duty
    for at, (duty, spoken) in enumerate(_QUIETER):
        if now == "full" or (now == "heavy" and duty == "normal"):
            words = f"with the cable sized for {spoken} only"
            yield Change("car", words, case.of_car(duty=duty), 3.0 + at)
    for volts in _DROPS_V:
        if volts > leads.max_drop_v:
            words = f"if you accept a voltage drop of {rounded(volts)} V"
            yield Change("car", words, case.of_car(max_drop_v=volts), 4 + volts)
    easy = {"max_drop_v": 2.0, "power_m": 1.0, "earth_m": 0.3, "body_mohm": 0.0,
            "connections_mohm": 0.0, "bundle": 1, "engine_space": False, "conductor_c": 50.0,
            "material": "copper"}  # fmt: skip
    words = (
        "with the battery beside the amplifier: 1 m of copper cable and no more than 2 V of drop"
    )
    yield Change("car", words, case.of_car(**easy), 9.0)


def cooler(aim: Aim) -> Iterator[Change]:
    """Yield a larger bay, then one with free air."""
    case, system = aim.case, aim.case.system
    for area_m2 in _scaled(system.air.area_m2, _LARGER):
        words = f"in a space with {rounded(area_m2, 3)} m² of surface"
        yield Change("place", words, case.of_car(area_m2=area_m2), 1.0)
    yield Change("place", "in a place that is open to the cabin", case.of_car(closed=False), 2.0)


def louder_signal(aim: Aim) -> Iterator[Change]:
    """Yield a line driver that brings what the input needs."""
    case = aim.case
    lows = [part.amplifier.sensitivity_min_v for part in aim.parts]
    least_v = max((low for low in lows if low is not None), default=None)
    if least_v is not None:
        words = f"with a line driver that delivers {rounded(least_v)} V"
        changed = case.of_car(source_v=least_v, factory_power_w=None)
        yield Change("car", words, changed, 1.0)


def turned_on(aim: Aim) -> Iterator[Change]:
    """Yield a remote lead, then what lets a battery stand longer."""
    case, system = aim.case, aim.case.system
    if system.head_unit.trigger_available != "yes":
        words = "with a wire that is live while the head unit is on"
        yield Change("car", words, case.of_car(trigger_available="yes"), 1.0)
    yield from _longer_parked(aim, system)


def _longer_parked(aim: Aim, system: System) -> Iterator[Change]:
    case, now = aim.case, aim.case.job.system
    for hours in _BATTERIES_AH:
        if hours > (now.charging.battery_ah or 0.0):
            words = f"with a battery of {hours} Ah"
            yield Change("car", words, case.of_car(battery_ah=float(hours)), 2.0)
    for days in _PARKED_DAYS:
        if days < system.head_unit.parked_days:
            spoken = (
                "it is driven every day"
                if days < 2
                else (f"it is never parked for more than {days} days")
            )
            yield Change("car", f"if {spoken}", case.of_car(parked_days=float(days)), 3.0)


def _scaled(value: float | None, factors: Sequence[float]) -> list[float]:
    return [] if value is None else [float(f"{value * factor:.3g}") for factor in factors]
