"""From a meter reading back to the wiring: right, another wiring option, or a fault."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from calc.coils.survey import survey_of
from calc.coils.words import wiring_words
from calc.physics.coils import (
    METER_HIGH,
    METER_LOW,
    Circuit,
    Driver,
    in_parallel,
    in_series,
    meter_range,
)

# How readily each kind is believed when several explain the reading, most readily first.
_BELIEF = ("right", "left out", "open", "shorted", "arrangement")


@dataclass(frozen=True)
class Suspect:
    """Something that would explain a reading.

    low_ohm, high_ohm : the reading to expect, leads included [Ω]; None: no reading at all
    """

    kind: str
    what: str
    low_ohm: float | None
    high_ohm: float | None

    def explains(self, reading_ohm: float) -> bool:
        """Tell whether the reading is one that it would bring."""
        return self.order(reading_ohm)[0] is False

    def order(self, reading_ohm: float) -> tuple[object, ...]:
        """Sort key: those that explain the reading first, then by distance from it."""
        belief = _BELIEF.index(self.kind)
        reading = max(reading_ohm, 0.01)
        if self.low_ohm is None or self.high_ohm is None:
            return (not reading_ohm >= OPEN_OHM, belief, 99.0, belief)
        # A short reads what the leads read, and no two touches of a probe are alike.
        slack = TOUCH_OHM if self.low_ohm == self.high_ohm else 0.0
        inside = self.low_ohm - slack <= reading_ohm <= self.high_ohm + slack
        middle = max((self.low_ohm + self.high_ohm) / 2, 0.01)
        distance = round(abs(math.log(reading / middle)), 9)
        return (not inside, belief if inside else 0, distance, belief)


_OF_ONE = re.compile(r"(coil|sub) (\w+) (is .*)")  # a cause that names one of several
TOUCH_OHM = 0.1  # common practice, no source
MOST_OTHERS = 60  # other circuits to tell of
# From here up a meter's reading means that there is no path (64 Ω × 8 coils is the most
# that coils can come to).
OPEN_OHM = 1000.0


def suspects(
    drivers: Sequence[Driver], intended: Circuit, *, reading_ohm: float, lead_ohm: float
) -> list[Suspect]:
    """Return what the reading can mean, likeliest first.

    Of the other circuits, those count whose loads lie nearest to the reading.

    reading_ohm : what the meter shows across the two leads to the amplifier [Ω]
    lead_ohm : the meter leads and the cable to the ends [Ω]
    """
    causes: dict[tuple[str, Fraction | None], list[str]] = {}

    def add(kind: str, load: Fraction | None, what: str) -> None:
        causes.setdefault((kind, load), []).append(what)

    add("right", intended.load, f"it is wired as planned, {intended.notation}")
    coils_ohm = max(reading_ohm - lead_ohm, 0.01) / ((METER_LOW + METER_HIGH) / 2)
    for other in survey_of(tuple(drivers)).nearest(coils_ohm, MOST_OTHERS):
        if other.load != intended.load:
            add("arrangement", other.load, f"it is wired differently, e.g. {_worded(other)}")
    add("shorted", Fraction(0), "the two leads touch (a stray strand, a crushed cable)")
    add("open", None, "a lead or a shared connection is open")
    for coil in intended.coils():
        add(
            "open", _with(intended, [coil.name], None), f"coil {coil.name} is open or not connected"
        )
        add("shorted", _with(intended, [coil.name], Fraction(0)), f"coil {coil.name} is shorted")
    if len(drivers) > 1:
        for number in range(1, len(drivers) + 1):
            coils = [coil.name for coil in intended.coils() if coil.name[0] == str(number)]
            add("left out", _with(intended, coils, None), f"sub {number} is not connected")
            add(
                "left out",
                _without(intended, str(number)),
                f"sub {number} is left out and its neighbours linked",
            )
    return sorted(
        (
            Suspect(kind, _together(what), *_range(load, lead_ohm))
            for (kind, load), what in causes.items()
        ),
        key=lambda suspect: (*suspect.order(reading_ohm), suspect.what),
    )


def _worded(circuit: Circuit) -> str:
    return wiring_words(circuit) or circuit.notation


def _range(load: Fraction | None, lead_ohm: float) -> tuple[float | None, float | None]:
    if load is None:
        return None, None
    low, high = meter_range(load)
    return low + lead_ohm, high + lead_ohm


def _together(what: list[str]) -> str:
    """Say several causes as one, those that differ in a name alone by their names.

    >>> _together(["coil 1a is shorted", "coil 2b is shorted", "sub 2 is not connected"])
    'coil 1a or 2b is shorted, or sub 2 is not connected'
    """
    names: dict[tuple[str, str], list[str]] = {}
    for cause in what:
        found = _OF_ONE.fullmatch(cause)
        noun, name, rest = found.groups() if found else ("", "", cause)
        names.setdefault((noun, rest), []).append(name)
    return ", or ".join(
        f"{noun} {_either(those)} {rest}" if noun else rest for (noun, rest), those in names.items()
    )


def _either(parts: list[str]) -> str:
    return " or ".join([", ".join(parts[:-1]), parts[-1]] if parts[1:] else parts)


def _with(circuit: Circuit, names: Sequence[str], load: Fraction | None) -> Fraction | None:
    """Return the load with some coils' replaced; None stands for an open path."""
    if circuit.kind == "coil":
        return load if circuit.name in names else circuit.load
    loads = [_with(part, names, load) for part in circuit.parts]
    if circuit.kind == "series":
        return (
            None
            if None in loads
            else sum((part for part in loads if part is not None), Fraction(0))
        )
    through = [part for part in loads if part is not None]
    if not through:
        return None
    return Fraction(0) if 0 in through else 1 / sum((1 / part for part in through), Fraction(0))


def _without(circuit: Circuit, driver: str) -> Fraction | None:
    """Return the load when a driver is missing and its neighbours are joined instead."""
    left = _pruned(circuit, driver)
    return left.load if left else None


def _pruned(circuit: Circuit, driver: str) -> Circuit | None:
    if circuit.kind == "coil":
        return None if circuit.name[0] == driver else circuit
    parts = [kept for part in circuit.parts if (kept := _pruned(part, driver)) is not None]
    if len(parts) < 2:
        return parts[0] if parts else None
    return in_series(parts) if circuit.kind == "series" else in_parallel(parts)
