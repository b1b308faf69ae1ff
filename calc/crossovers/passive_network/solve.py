"""A passive network as it is bought and built, and how it then behaves."""

import math
from dataclasses import dataclass, replace

from calc.crossovers.passive_network.inputs import Inputs
from calc.physics.circuit import Inductor, Measured, Network, Resistor, TwoPole, network
from calc.physics.filter_sums import grid_hz
from calc.physics.filters import HALF_POWER_DB, HALF_VOLTAGE_DB, falling_hz, level_db
from calc.physics.ladder import Component, components
from calc.physics.levels import voltage
from calc.physics.pads import Levelling, Pad, level_pad, levelling
from calc.physics.preferred_values import nearest
from calc.physics.ripple import least_between

WORKSHOP_FACTOR = 1.25
_PER_OCTAVE = 6


@dataclass(frozen=True, kw_only=True)
class Result:
    """A network with exact parts into the plain load, and as it would be built.

    exact, bought : the ladder's parts, of exact and of preferred values
    nominal, built : of the parts bought: into the plain load, and with all that belongs to it
        into the driver as given
    pad, levelled : of preferred values; None where there is none
    corner_hz, built_corner_hz : where the level of `nominal` and of `built` has fallen to the
        corner's [Hz]; None where it never does
    passband_db : the level of `built` in its band [dB]
    least_load_ohm, least_load_hz : the lowest load on the amplifier within hearing [Ω], and where
        it is [Hz]
    """

    exact: tuple[Component, ...]
    bought: tuple[Component, ...]
    nominal: Network
    built: Network
    pad: Pad | None
    levelled: Levelling | None
    corner_hz: float | None
    built_corner_hz: float | None
    passband_db: float
    least_load_ohm: float
    least_load_hz: float


def solve(inputs: Inputs) -> Result:
    """Work out the parts, and what comes of them."""
    exact = components(
        kind=inputs.side,
        family=inputs.family,
        order=inputs.order,
        frequency_hz=inputs.frequency_hz,
        ohm=inputs.ohm,
    )
    bought = tuple(replace(part, value=nearest(part.value, inputs.series)) for part in exact)
    wire_ohm = inputs.inductor_ohm or 0.0
    pad, levelled = _pad(inputs), _levelled(inputs)
    nominal = network(bought, Resistor(inputs.ohm), inductor_ohm=wire_ohm)
    built = network(bought, _driver(inputs), inductor_ohm=wire_ohm, pad=pad, levelled=levelled)
    least_ohm, least_hz = _least_load(built)
    return Result(
        exact=exact,
        bought=bought,
        nominal=nominal,
        built=built,
        pad=pad,
        levelled=levelled,
        corner_hz=_corner_hz(inputs, nominal),
        built_corner_hz=_corner_hz(inputs, built),
        passband_db=_passband_db(inputs, built),
        least_load_ohm=least_ohm,
        least_load_hz=least_hz,
    )


def _pad(inputs: Inputs) -> Pad | None:
    wanted = level_pad(ohm=inputs.ohm, loss_db=inputs.pad_db)
    if wanted.shunt_ohm is None:  # a loss too small for any resistor is none
        return None
    return Pad(
        series_ohm=nearest(wanted.series_ohm, "E24"), shunt_ohm=nearest(wanted.shunt_ohm, "E24")
    )


def _levelled(inputs: Inputs) -> Levelling | None:
    if inputs.levelling == "none":
        return None
    exact = levelling_of(inputs, 1.0 if inputs.levelling == "exact" else WORKSHOP_FACTOR)
    return Levelling(ohm=nearest(exact.ohm, "E24"), farad=nearest(exact.farad, inputs.series))


def levelling_of(inputs: Inputs, factor: float) -> Levelling:
    """Return the levelling network of a form, exact; the driver's coil must be known.

    factor : of the form: 1 for the exact one, `WORKSHOP_FACTOR`
    """
    assert inputs.coil_ohm is not None and inputs.coil_h is not None  # checked with the fields
    return levelling(
        coil_resistance_ohm=inputs.coil_ohm, coil_inductance_h=inputs.coil_h, factor=factor
    )


def _driver(inputs: Inputs) -> TwoPole:
    if inputs.impedance:
        points = ((point.frequency_hz, point.ohm, point.phase_deg) for point in inputs.impedance)
        return Measured(tuple(points))
    if inputs.coil_ohm is None:
        return Resistor(inputs.ohm)
    if inputs.coil_h is None:
        return Resistor(inputs.coil_ohm)
    return Inductor(inputs.coil_h, inputs.coil_ohm)


def _corner_hz(inputs: Inputs, circuit: Network) -> float | None:
    """Return where the level has fallen, from that in the band, to the corner's [Hz]."""
    fallen = HALF_VOLTAGE_DB if inputs.family == "linkwitz-riley" else HALF_POWER_DB
    aim, way = inputs.frequency_hz, 50 if inputs.side == "high-pass" else 1 / 50
    return falling_hz(
        lambda frequency: level_db(circuit.response(frequency)),
        _passband_db(inputs, circuit) + fallen,
        inside_hz=aim * way,
        outside_hz=aim / way,
    )


def _passband_db(inputs: Inputs, circuit: Network) -> float:
    """Return the level [dB] ten octaves inside the band."""
    way = 1024 if inputs.side == "high-pass" else 1 / 1024
    return level_db(circuit.response(inputs.frequency_hz * way))


def _least_load(circuit: Network) -> tuple[float, float]:
    """Return the lowest load on the amplifier [Ω] within hearing, and its frequency [Hz]."""

    def load(frequency: float) -> float:
        return abs(circuit.input_impedance(frequency))

    grid = grid_hz(per_octave=_PER_OCTAVE)
    loads = [load(frequency) for frequency in grid]
    at = min(range(len(grid)), key=lambda at: loads[at])
    left, right = grid[max(at - 1, 0)], grid[min(at + 1, len(grid) - 1)]
    between = least_between(load, left, right)
    return min((loads[at], grid[at]), (load(between), between))


@dataclass(frozen=True, kw_only=True)
class Stress:
    """What a part must stand: a capacitor a peak voltage, a resistor heat, a coil its current."""

    name: str
    current_a: float
    peak_v: float | None = None
    heat_w: float | None = None


def stresses(circuit: Network, *, power_w: float, ohm: float) -> list[Stress]:
    """Return what each part must stand at the worst frequency within hearing.

    power_w : of a sine into the load [W]
    ohm : the load [Ω]
    """
    volts = voltage(power_w=power_w, load_ohm=ohm)
    flows = [(hz, circuit.currents(hz)) for hz in grid_hz(per_octave=_PER_OCTAVE)]
    parts = []
    for branch in circuit.branches:
        if branch.name == "driver":
            continue
        name, impedance = branch.name, branch.part.impedance
        most = max(abs(current[name]) for _, current in flows) * volts
        peak_v = heat_w = None
        if name[0] == "C":
            across = max(abs(current[name] * impedance(hz)) for hz, current in flows)
            peak_v = across * volts * math.sqrt(2)
        elif name[0] == "R":
            heat_w = most**2 * impedance(1000.0).real
        parts.append(Stress(name=name, current_a=most, peak_v=peak_v, heat_w=heat_w))
    return parts
