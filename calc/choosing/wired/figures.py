"""The figures that stand in the drawing: those of the plan's own results, written short."""

from dataclasses import dataclass
from typing import Any

from calc.answers.figures import quantity
from calc.cabling.kit_list.items import items
from calc.cabling.kit_list.job import Job as KitJob
from calc.cabling.kit_list.lines import Item
from calc.choosing.plan import Plan

OPEN, MEASURE = "size open", "measure"


def _result(plan: Plan, calculator: str) -> Any:  # each calculator has a result of its own
    asked = (one for one in plan.questions if one.calculator.name == calculator)
    return next((one.result for one in asked), None)


def metres(length_m: float | None) -> str:
    """Write a length; one that is missing says what to do."""
    return MEASURE if length_m is None else quantity(length_m, "m")


def sized(size: str | None, length_m: float | None) -> str:
    """Write size and length of a lead."""
    return f"{(size or OPEN).replace(' ', chr(0x202F))}, {metres(length_m)}"


@dataclass(frozen=True)
class Figures:
    """What a plan's results say of its leads.

    fuse_a : the main fuse [A]; None where it is not known
    items : the lines of the kit list
    """

    plan: Plan
    fuse_a: float | None
    items: tuple[Item, ...]
    kit: KitJob | None

    @property
    def fuse(self) -> str:
        """The main fuse as it is written."""
        return "size open" if self.fuse_a is None else quantity(self.fuse_a, "A")

    @property
    def main(self) -> tuple[str, str]:
        """Size and length of the power cable as it is bought."""
        line = self._line("power cable")
        if line is None:
            return OPEN, MEASURE
        clad = self.plan.job.system.leads.material != "copper"
        size = line.kit_size or line.size
        metal = "CCA" if clad else "OFC"
        return (size or OPEN).replace(" ", "\u202f"), f"{metres(line.length_m)}, {metal}"

    @property
    def earth(self) -> str:
        """Size and length of the earth lead."""
        line = self._line("earth cable") or self._line("return cable")
        return _of_line(line)

    @property
    def remote(self) -> str:
        """Size and length of the remote lead."""
        line = self._line("remote turn-on lead")
        return _of_line(line)

    def signal(self, amplifier: str) -> str:
        """Return the length of the signal leads to an amplifier."""
        if self.kit is None:
            return MEASURE
        routes = (*self.kit.of("signal"), *self.kit.of("high-level"))
        found = next((one for one in routes if amplifier in (one.start, one.end)), None)
        return metres(None if found is None else self.kit.bought_m(found.length_m))

    def speaker(self, end: str) -> str:
        """Return size and length of the cable to a speaker, by the name of its end."""
        leads = _result(self.plan, "kit-list")
        found = next((one for one in leads.leads if one.end == end), None) if leads else None
        size = found.size.name if found and found.size else None
        return sized(size, found.length_m if found else None)

    def has(self, start: str) -> bool:
        """Tell whether the kit list has an item whose name begins so."""
        return self._line(start) is not None

    def _line(self, start: str) -> Item | None:
        return next((line for line in self.items if line.item.startswith(start)), None)


def _of_line(line: Item | None) -> str:
    """Write a line of the kit list; without one nothing is known."""
    return sized(None, None) if line is None else sized(line.kit_size or line.size, line.length_m)


def figures_of(plan: Plan) -> Figures:
    """Return what a plan's results say of its leads."""
    cable, kit = _result(plan, "power-cable"), _result(plan, "kit-list")
    return Figures(
        plan,
        cable.fuse.rating_a if cable is not None else None,
        items(kit.job, kit.power, None) if kit is not None else (),
        kit.job if kit is not None else None,
    )
