"""Every circuit of the coils, the best ones first."""

from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from calc.coils.coil_wiring.inputs import Inputs
from calc.coils.survey import Arrangement, Survey, survey_of
from calc.physics.coils import not_below


@dataclass(frozen=True, kw_only=True)
class Result:
    """The circuits of the drivers' coils.

    arrangements : the best ones, as many as the limit asks for, best first
    best : the first of them; None where its load is below the output's lowest
    is_reversed : the amplifier's + goes to a circuit's −
    """

    survey: Survey
    arrangements: tuple[Arrangement, ...]
    best: Arrangement | None
    is_reversed: bool

    @property
    def shown(self) -> Arrangement:
        """The best one, or the nearest to what fits."""
        return self.arrangements[0]

    @cached_property
    def nets(self) -> dict[str, list[str]]:
        """The joined terminals of the one that is shown, ``amp+`` and ``amp-`` first."""
        return self.nets_of(self.shown)

    def nets_of(self, arrangement: Arrangement) -> dict[str, list[str]]:
        """Return the joined terminals of an arrangement."""
        return arrangement.circuit.nets(is_reversed=self.is_reversed)


def fits(arrangement: Arrangement, limit_ohm: float) -> bool:
    """Tell whether the load is not below the amplifier's limit."""
    return not_below(arrangement.circuit.load, limit_ohm)


def solve(inputs: Inputs) -> Result:
    """Rank every circuit of the coils."""
    survey = survey_of(inputs.drivers.each)
    arrangements = tuple(islice(survey.ranked(inputs.min_load_ohm), inputs.limit))
    return Result(
        survey=survey,
        arrangements=arrangements,
        best=arrangements[0] if fits(arrangements[0], inputs.min_load_ohm) else None,
        is_reversed=inputs.reversed,
    )
