"""Four charts of power and distance, each cell by the function that sizes a single run."""

from dataclasses import dataclass

from calc.cabling.cable_chart.inputs import Inputs
from calc.cabling.sizing import Rules, RunChoice, choose, rules_of, total_drop
from calc.parts.cable_kind import CableKind
from calc.physics.amplifier_draw import Demand
from calc.physics.conductors import Material, System
from calc.physics.permitted_current import smallest_fuse


@dataclass(frozen=True, kw_only=True)
class ChartRow:
    """A power, and what carries it over each distance.

    ampere, full_a : its current at the duty, and at full power [A]
    fuse_a : the smallest listed rating that carries it [A]; None beyond the list
    drops_v : what each cell's size loses [V]; None where there is no size
    """

    power_w: float
    ampere: float
    full_a: float
    fuse_a: float | None
    cells: tuple[RunChoice, ...]
    drops_v: tuple[float | None, ...]


@dataclass(frozen=True, kw_only=True)
class Chart:
    """One metal in the sizes of one system."""

    material: Material
    system: System
    rows: tuple[ChartRow, ...]


@dataclass(frozen=True, kw_only=True)
class Result:
    """The charts, copper first."""

    charts: tuple[Chart, ...]

    @property
    def cells(self) -> list[RunChoice]:
        """Every cell of every chart."""
        return [cell for chart in self.charts for row in chart.rows for cell in row.cells]

    @property
    def offered(self) -> int:
        """How many cells have a size."""
        return sum(1 for cell in self.cells if cell.offer)


def solve(inputs: Inputs) -> Result:
    """Fill the charts."""
    materials: tuple[Material, ...] = ("copper", inputs.clad)
    systems: tuple[System, ...] = ("metric", "awg")
    return Result(
        charts=tuple(
            _chart(inputs, material, system) for material in materials for system in systems
        )
    )


def _chart(inputs: Inputs, material: Material, system: System) -> Chart:
    cable = CableKind(
        material=material,
        sizes=system,
        conductor_c=inputs.conductor_c,
        insulation_c=inputs.limits.insulation_c,
        engine_space=inputs.limits.engine_space,
        engine_c=inputs.limits.engine_c,
        bundle=inputs.limits.bundle,
    )
    rules = rules_of(cable, inputs.way)
    return Chart(
        material=material,
        system=system,
        rows=tuple(_row(inputs, rules, power_w) for power_w in inputs.powers_w),
    )


def _row(inputs: Inputs, rules: Rules, power_w: float) -> ChartRow:
    demand = Demand(
        power_w=power_w,
        efficiency=inputs.efficiency_percent / 100,
        supply_v=inputs.supply_v,
        amplifier_class=inputs.amplifier_class,
    )
    ampere, full_a = demand.current(inputs.duty), demand.full_a
    cells = tuple(
        choose(rules, ampere=ampere, full_a=full_a, length_m=length_m)
        for length_m in inputs.lengths_m
    )
    return ChartRow(
        power_w=power_w,
        ampere=ampere,
        full_a=full_a,
        fuse_a=smallest_fuse(full_a),
        cells=cells,
        drops_v=tuple(
            total_drop(rules, cell.offer, ampere=ampere, length_m=length_m) if cell.offer else None
            for cell, length_m in zip(cells, inputs.lengths_m, strict=True)
        ),
    )
