"""A passive network as it is bought and built, and how it then behaves."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from calc.physics.circuit import Inductor, Measured, Network, Resistor, TwoPole, network
from calc.physics.filter_sums import grid_hz
from calc.physics.filters import HALF_POWER_DB, HALF_VOLTAGE_DB, falling_hz, level_db
from calc.physics.ladder import Component, components
from calc.physics.pads import Levelling, Pad, level_pad, levelling
from calc.physics.preferred_values import nearest
from calc.physics.ripple import least_between

WORKSHOP_FACTOR = 1.25
_PER_OCTAVE = 6


@dataclass(frozen=True)
class Design:
    """A network with exact parts into the plain load, and as it would be built."""

    exact: tuple[Component, ...]
    bought: tuple[Component, ...]
    ideal: Network
    nominal: Network
    built: Network
    pad: Pad | None
    levelled: Levelling | None


def design_of(given: Mapping[str, Any]) -> Design:
    """Return the network that the fields of `passive-network` describe."""
    parts = components(
        kind=given["side"],
        family=given["family"],
        order=given["order"],
        frequency_hz=given["frequency_hz"],
        ohm=given["ohm"],
    )
    bought = tuple(replace(one, value=nearest(one.value, given["series"])) for one in parts)
    wire_ohm = given["inductor_ohm"] or 0.0
    pad = None
    wanted = level_pad(ohm=given["ohm"], loss_db=given["pad_db"])
    if wanted.shunt_ohm is not None:  # a loss too small for any resistor is none
        pad = Pad(
            series_ohm=nearest(wanted.series_ohm, "E24"),
            shunt_ohm=nearest(wanted.shunt_ohm, "E24"),
        )
    levelled = None
    if given["levelling"] != "none":
        levelled = levelling(
            coil_resistance_ohm=given["coil_ohm"],
            coil_inductance_h=given["coil_mh"] / 1000,
            factor=1.0 if given["levelling"] == "exact" else WORKSHOP_FACTOR,
        )
        levelled = Levelling(
            ohm=nearest(levelled.ohm, "E24"), farad=nearest(levelled.farad, given["series"])
        )
    plain = Resistor(given["ohm"])
    return Design(
        exact=parts,
        bought=bought,
        ideal=network(parts, plain),
        nominal=network(bought, plain, inductor_ohm=wire_ohm),
        built=network(bought, _driver(given), inductor_ohm=wire_ohm, pad=pad, levelled=levelled),
        pad=pad,
        levelled=levelled,
    )


def _driver(given: Mapping[str, Any]) -> TwoPole:
    if given["impedance"]:
        points = ((one["frequency_hz"], one["ohm"], one["phase_deg"]) for one in given["impedance"])
        return Measured(tuple(points))
    if given["coil_ohm"] is None:
        return Resistor(given["ohm"])
    if given["coil_mh"] is None:
        return Resistor(given["coil_ohm"])
    return Inductor(given["coil_mh"] / 1000, given["coil_ohm"])


def corner_hz(given: Mapping[str, Any], circuit: Network) -> float | None:
    """Return where the level has fallen, from that in the band, to the corner's [Hz]."""
    fallen = HALF_VOLTAGE_DB if given["family"] == "linkwitz-riley" else HALF_POWER_DB
    aim, way = given["frequency_hz"], 50 if given["side"] == "high-pass" else 1 / 50
    return falling_hz(
        lambda frequency: level_db(circuit.response(frequency)),
        passband_db(given, circuit) + fallen,
        aim * way,
        aim / way,
    )


def passband_db(given: Mapping[str, Any], circuit: Network) -> float:
    """Return the level [dB] ten octaves inside the band."""
    way = 1024 if given["side"] == "high-pass" else 1 / 1024
    return level_db(circuit.response(given["frequency_hz"] * way))


def least_load(circuit: Network) -> tuple[float, float]:
    """Return the lowest load on the amplifier [Ω] within hearing, and its frequency [Hz]."""

    def load(frequency: float) -> float:
        return abs(circuit.input_impedance(frequency))

    grid = grid_hz(per_octave=_PER_OCTAVE)
    loads = [load(one) for one in grid]
    at = min(range(len(grid)), key=lambda at: loads[at])
    left, right = grid[max(at - 1, 0)], grid[min(at + 1, len(grid) - 1)]
    found = least_between(load, left, right)
    return min((loads[at], grid[at]), (load(found), found))
