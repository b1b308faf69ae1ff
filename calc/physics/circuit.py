"""A network of two-pole parts, solved by nodal analysis, with the driver as it really is."""

import cmath
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from calc.physics.ladder import Component
from calc.physics.pads import Levelling, Pad

SOURCE, EARTH = "in", "0"


class TwoPole(Protocol):
    """Whatever has an impedance."""

    def impedance(self, frequency_hz: float) -> complex:
        """Return the impedance [Ω] at a frequency [Hz]."""


@dataclass(frozen=True)
class Resistor:
    """A resistance [Ω]."""

    ohm: float

    def impedance(self, frequency_hz: float) -> complex:
        """Return the resistance [Ω], the same at every frequency [Hz]."""
        return complex(self.ohm)


@dataclass(frozen=True)
class Inductor:
    """An inductance [H] with the resistance [Ω] of its wire."""

    henry: float
    ohm: float = 0.0

    def impedance(self, frequency_hz: float) -> complex:
        """Return R + jωL [Ω] at a frequency [Hz]."""
        return complex(self.ohm, 2 * math.pi * frequency_hz * self.henry)


@dataclass(frozen=True)
class Capacitor:
    """A capacitance [F]."""

    farad: float

    def impedance(self, frequency_hz: float) -> complex:
        """Return −j/(ωC) [Ω] at a frequency [Hz]."""
        return complex(0, -1 / (2 * math.pi * frequency_hz * self.farad))


@dataclass(frozen=True)
class Measured:
    """An impedance from measured points.

    points : (frequency [Hz], size [Ω], phase [°]), frequencies rising

    Between points the logarithm of the size and the phase run straight over the logarithm
    of frequency; beyond the ends the end's value is held.
    """

    points: tuple[tuple[float, float, float], ...]

    def __post_init__(self) -> None:
        frequencies = [point[0] for point in self.points]
        if not frequencies or sorted(set(frequencies)) != frequencies:
            raise ValueError("frequencies of impedance points rise")

    def impedance(self, frequency_hz: float) -> complex:
        """Return the impedance [Ω] at a frequency [Hz], between the points as told above."""
        size, phase = self.points[-1][1:]
        if frequency_hz <= self.points[0][0]:
            size, phase = self.points[0][1:]
        for (f_1, z_1, p_1), (f_2, z_2, p_2) in zip(self.points, self.points[1:], strict=False):
            if f_1 <= frequency_hz < f_2:
                part = math.log(frequency_hz / f_1) / math.log(f_2 / f_1)
                size = z_1 * (z_2 / z_1) ** part
                phase = p_1 + (p_2 - p_1) * part
        return cmath.rect(size, math.radians(phase))


@dataclass(frozen=True)
class Branch:
    """A part between two nodes, in the direction in which its current is counted."""

    name: str
    part: TwoPole
    start: str
    end: str
    place: Literal["series", "shunt"]


@dataclass(frozen=True)
class Network:
    """Branches between the nodes `in` (held at 1 V), `0` (the return) and others.

    `out` is the node of the driver's + terminal.
    """

    branches: tuple[Branch, ...]
    out: str

    def voltages(self, frequency_hz: float) -> Mapping[str, complex]:
        """Return the voltage [V] of every node for 1 V at the input, at a frequency [Hz].

        Kirchhoff's current law at every free node: Σ Y (V − V_other) = 0.
        """
        ends = {end for branch in self.branches for end in (branch.start, branch.end)}
        free = sorted(ends - {SOURCE, EARTH})
        index = {node: at for at, node in enumerate(free)}
        matrix = [[0j] * len(free) for _ in free]
        right = [0j] * len(free)
        for branch in self.branches:
            admittance = 1 / branch.part.impedance(frequency_hz)
            ends_in_turn = ((branch.start, branch.end), (branch.end, branch.start))
            for node, other in ends_in_turn:
                if node not in index:
                    continue
                matrix[index[node]][index[node]] += admittance
                if other in index:
                    matrix[index[node]][index[other]] -= admittance
                elif other == SOURCE:
                    right[index[node]] += admittance
        solved = dict(zip(free, _solved(matrix, right), strict=True))
        return {**solved, SOURCE: 1 + 0j, EARTH: 0j}

    def response(self, frequency_hz: float) -> complex:
        """Return the driver's voltage over the input's [1] at a frequency [Hz]."""
        return self.voltages(frequency_hz)[self.out]

    def currents(self, frequency_hz: float) -> Mapping[str, complex]:
        """Return each branch's current [A] for 1 V at the input, at a frequency [Hz]."""
        at = self.voltages(frequency_hz)
        return {
            branch.name: (at[branch.start] - at[branch.end]) / branch.part.impedance(frequency_hz)
            for branch in self.branches
        }

    def input_impedance(self, frequency_hz: float) -> complex:
        """Return what the amplifier sees [Ω] at a frequency [Hz]."""
        currents = self.currents(frequency_hz)
        drawn = sum(currents[branch.name] for branch in self.branches if branch.start == SOURCE)
        return 1 / drawn


def _solved(matrix: list[list[complex]], right: list[complex]) -> list[complex]:
    """Solve a small system by Gaussian elimination with pivots."""
    size = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for at in range(size):
        pivot = max(range(at, size), key=lambda row: abs(rows[row][at]))
        rows[at], rows[pivot] = rows[pivot], rows[at]
        for row in rows[at + 1 :]:
            factor = row[at] / rows[at][at]
            for column in range(at, size + 1):
                row[column] -= factor * rows[at][column]
    solution = [0j] * size
    for at in reversed(range(size)):
        known = sum(rows[at][column] * solution[column] for column in range(at + 1, size))
        solution[at] = (rows[at][size] - known) / rows[at][at]
    return solution


def network(
    ladder: Sequence[Component],
    driver: TwoPole,
    *,
    inductor_ohm: float = 0.0,
    pad: Pad | None = None,
    levelled: Levelling | None = None,
) -> Network:
    """Return the whole circuit: ladder, then level pad, then levelling network and driver.

    inductor_ohm : resistance of every inductor's wire [Ω]

    >>> from calc.physics.ladder import components
    >>> parts = components(
    ...     kind="low-pass", family="butterworth", order=2, frequency_hz=1000, ohm=8)
    >>> round(abs(network(parts, Resistor(8.0)).response(1000.0)), 4)
    0.7071
    """
    branches = []
    node = SOURCE
    counts = {"L": 0, "C": 0}
    for component in ladder:
        letter = "L" if component.part == "inductor" else "C"
        counts[letter] += 1
        name = f"{letter}{counts[letter]}"
        part: TwoPole = (
            Inductor(component.value, inductor_ohm) if letter == "L" else Capacitor(component.value)
        )
        if component.place == "series":
            branches.append(Branch(name, part, node, f"n{component.position}", "series"))
            node = f"n{component.position}"
        else:
            branches.append(Branch(name, part, node, EARTH, "shunt"))
    if pad is not None and pad.series_ohm > 0:
        branches.append(Branch("R1", Resistor(pad.series_ohm), node, "pad", "series"))
        node = "pad"
    if pad is not None and pad.shunt_ohm is not None:
        branches.append(Branch("R2", Resistor(pad.shunt_ohm), node, EARTH, "shunt"))
    if levelled is not None:
        branches.append(Branch("R3", Resistor(levelled.ohm), node, "z", "shunt"))
        branches.append(Branch("C0", Capacitor(levelled.farad), "z", EARTH, "shunt"))
    branches.append(Branch("driver", driver, node, EARTH, "shunt"))
    return Network(tuple(branches), node)
