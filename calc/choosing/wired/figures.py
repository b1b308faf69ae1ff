"""The figures that stand in the drawing: those of the plan's own results, written short.

Lengths are as they are laid; what is bought, with its slack, stands in the kit list.
"""

from dataclasses import dataclass, field

from calc.answers.figures import quantity
from calc.answers.kit import KitLine
from calc.cabling import kit_list
from calc.choosing.plan import Plan
from calc.choosing.questions.power import place_name

OPEN, MEASURE = "size open", "measure"


def metres(length_m: float | None) -> str:
    """Write a length; one that is missing says what to do."""
    return MEASURE if length_m is None else quantity(length_m, "m")


def sized(size: str | None, length_m: float | None) -> str:
    """Write size and length of a lead."""
    return f"{written(size)}, {metres(length_m)}"


def written(size: str | None) -> str:
    """Write a size; one that is missing is open."""
    return (size or OPEN).replace(" ", "\u202f")


@dataclass(frozen=True)
class Figures:
    """What a plan's kit list says of its leads.

    kit : its lines
    sizes : of the cable to each speaker, by its end
    lengths : of each route as it is laid, by what it is and where it goes [m]
    """

    kit: tuple[KitLine, ...] = ()
    sizes: dict[str, str] = field(default_factory=dict)
    lengths: dict[tuple[str, str], float | None] = field(default_factory=dict)

    @property
    def has_relay(self) -> bool:
        """Whether a relay gives the remote signal."""
        return any(line.item.startswith("relay") for line in self.kit)

    def remote(self, amplifier: str) -> str:
        """Return size and length of the remote lead to an amplifier."""
        size = next((line.size for line in self.kit if line.item.startswith("remote")), None)
        return sized(size, self._length("trigger", amplifier))

    def signal(self, amplifier: str) -> str:
        """Return the length of the signal leads to an amplifier."""
        found = self._length("signal", amplifier)
        return metres(self._length("high-level", amplifier) if found is None else found)

    def speaker(self, end: str) -> str:
        """Return size and length of the cable to a speaker, by the name of its end."""
        return sized(self.sizes.get(end), self.lengths.get(("speaker", end)))

    def _length(self, what: str, amplifier: str) -> float | None:
        """Return the length of a route to an amplifier; of any such one where none names it."""
        named = self.lengths.get((what, place_name(amplifier)))
        if named is not None:
            return named
        return next((length for (kind, _), length in self.lengths.items() if kind == what), None)


def figures_of(plan: Plan) -> Figures:
    """Return what a plan's kit list says of its leads."""
    asked = next((one for one in plan.questions if one.calculator is kit_list.KIT_LIST), None)
    if asked is None:
        return Figures()
    rows = asked.figures["routes"].value
    lengths = {(row["what"], row["to"]): row["length_m"] for row in rows or ()}
    result = asked.result
    if not isinstance(result, kit_list.Result) or asked.answer is None:
        return Figures(lengths=lengths)
    sizes = {lead.end: lead.size.name for lead in result.leads if lead.size is not None}
    return Figures(asked.answer.sheet.kit, sizes, lengths)
