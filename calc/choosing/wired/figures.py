"""The figures that stand in the drawing: those of the plan's own results, written short.

Lengths are as they are laid; what is bought, with its slack, stands in the kit list.
"""

from dataclasses import dataclass
from typing import Any

from calc.answers.figures import quantity
from calc.cabling.kit_list.items import items
from calc.cabling.kit_list.job import Job as KitJob
from calc.cabling.kit_list.lines import Item
from calc.cabling.kit_list.rows import Route, RouteWord
from calc.choosing.plan import Plan

OPEN, MEASURE = "size open", "measure"
_CLAD, _COPPER = "CCA", "OFC"


def metres(length_m: float | None) -> str:
    """Write a length; one that is missing says what to do."""
    return MEASURE if length_m is None else quantity(length_m, "m")


def sized(size: str | None, length_m: float | None) -> str:
    """Write size and length of a lead."""
    return f"{(size or OPEN).replace(' ', chr(0x202F))}, {metres(length_m)}"


@dataclass(frozen=True)
class Figures:
    """What a plan's results say of its leads.

    items : the lines of the kit list
    kit : the job as the kit list sees it; None where that cannot be told
    sizes : of the cable to each speaker, by its end
    """

    plan: Plan
    items: tuple[Item, ...]
    kit: KitJob | None
    sizes: dict[str, str]

    @property
    def metal(self) -> str:
        """What the power cable is made of."""
        return _COPPER if self.plan.job.system.leads.material == "copper" else _CLAD

    @property
    def remote_size(self) -> str | None:
        """The size of the remote lead."""
        return next((one.size for one in self.items if one.item.startswith("remote")), None)

    @property
    def has_relay(self) -> bool:
        """Whether a relay gives the remote signal."""
        return any(one.item.startswith("relay") for one in self.items)

    def remote(self, amplifier: str) -> str:
        """Return size and length of the remote lead to an amplifier."""
        return sized(self.remote_size, self._length("trigger", amplifier))

    def signal(self, amplifier: str) -> str:
        """Return the length of the signal leads to an amplifier."""
        found = self._length("signal", amplifier)
        return metres(self._length("high-level", amplifier) if found is None else found)

    def speaker(self, end: str) -> str:
        """Return size and length of the cable to a speaker, by the name of its end."""
        return sized(self.sizes.get(end), self._length("speaker", end))

    def _length(self, what: RouteWord, place: str) -> float | None:
        """Return the length of a route to or from a place; of any where none names it."""
        routes: tuple[Route, ...] = self.kit.of(what) if self.kit is not None else ()
        named = [one for one in routes if place in (one.start, one.end)]
        if what == "speaker":
            routes = ()
        return next((one.length_m for one in (*named, *routes)), None)


def result_of(plan: Plan, calculator: str, name: str = "") -> Any:  # each has one of its own
    """Return what a calculator found; of one that is asked about each amplifier, about this one."""
    asked = [one for one in plan.questions if one.calculator.name == calculator]
    return next((one.result for one in asked if not one.about or one.about == name), None)


def figures_of(plan: Plan) -> Figures:
    """Return what a plan's results say of its leads."""
    kit = result_of(plan, "kit-list")
    if kit is None:
        return Figures(plan, (), None, {})
    sizes = {lead.end: lead.size.name for lead in kit.leads if lead.size is not None}
    return Figures(plan, items(kit.job, kit.power, None), kit.job, sizes)
