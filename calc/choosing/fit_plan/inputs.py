"""What `fit-plan` asks."""

from dataclasses import dataclass

from calc.answers.calculator import Group
from calc.choosing.search import Weights
from calc.inputs.declared import fields_of
from calc.system.shelf import Shelf
from calc.system.system import GROUPS, Planned


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """A system with its amplifier, or with a stock list to choose one from."""

    planned: Planned
    shelf: Shelf = None
    weights: Weights


FORM = (
    *GROUPS[:-1],
    Group(GROUPS[-1].heading, ("amplifier", "shelf")),
    Group("What counts in choosing one", tuple(fields_of(Weights))),
)
