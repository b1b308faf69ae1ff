"""An amplifier, or several together, with the best layout: what it was held against, its rank."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated

from calc.answers.sheet import STATES, State
from calc.choosing.checks.kinds import Check
from calc.choosing.installed import Installed, Part
from calc.choosing.layouts.arrangements import Layout
from calc.inputs.fields import Number
from calc.system.amplifier import Amplifier
from calc.system.usual import Assumed

ALL_GIVEN_UP = 9  # more than any layout does
_HALF_PRICE = 250.0  # what a price is worth halves here


def _weight(label: str, hint: str) -> Number:
    return Number(
        label,
        low=0,
        high=10,
        presets=(0, 1, 3),
        hint=hint,
        source="our own choice",
        is_plain=True,
    )


@dataclass(frozen=True, kw_only=True)
class Weights:
    """What counts how much in the rank; each share goes from 0 to 1."""

    weight_power: Annotated[
        float, _weight("Power", "The speaker with the least power: its share of its RMS rating.")
    ] = 3.0
    weight_wishes: Annotated[
        float, _weight("Nice-to-haves", "The share of nice-to-haves that are met.")
    ] = 2.0
    weight_room: Annotated[
        float, _weight("Small size", "The share of the mounting space that stays free.")
    ] = 1.0
    weight_draw: Annotated[float, _weight("Low current draw", "Efficiency at rated power.")] = 1.0
    weight_price: Annotated[float, _weight("Low price", "1 at no cost, a half at 250.")] = 0.0


@dataclass(frozen=True)
class Candidate:
    """One amplifier or several installed together, with the best layout and its checks.

    installed : the amplifiers, with usual figures where none are told
    layout : None where the speakers cannot be put on them
    ways : what would make it work, each in a sentence and of a kind, the smallest change first
    taken : the usual figures of the amplifiers that were taken
    """

    installed: Installed
    layout: Layout | None
    checks: tuple[Check, ...]
    score: float = 0.0
    ways: tuple[tuple[str, str], ...] = ()
    taken: tuple[Assumed, ...] = ()

    @property
    def name(self) -> str:
        """The amplifier's name; of several, joined."""
        return self.installed.name

    @property
    def parts(self) -> tuple[Part, ...]:
        """The amplifiers one by one."""
        return self.installed.parts

    @property
    def amplifier(self) -> Amplifier:
        """The amplifier; what several are together."""
        return self.installed.amplifier

    @property
    def given(self) -> Amplifier:
        """The amplifier as it was told; what several are together, as they were told."""
        return self.installed.told

    @property
    def near_miss(self) -> str | None:
        """The smallest change that would make it work, in a sentence; None where none is told."""
        return self.ways[0][0] if self.ways else None

    @cached_property
    def state(self) -> State:
        """The worst of its musts."""
        return state_of(self.checks)

    @property
    def is_recommended(self) -> bool:
        """Whether it can be recommended: by the reader's own figures, or by the usual ones."""
        return self.state in ("suitable", "likely")

    @property
    def given_up(self) -> int:
        """How many things its layout gives up so that the outputs suffice; all without one."""
        return ALL_GIVEN_UP if self.layout is None else self.layout.given_up


def state_of(checks: Iterable[Check]) -> State:
    """Return the verdict that checks come to: the worst of the musts'."""
    states = {check.state for check in checks if check.is_must}
    return next((state for state in STATES if state in states), "suitable")


def power_share(layout: Layout | None) -> float:
    """Return how much of its rating the worst-fed speaker gets for certain [0 … 1].

    A power that is only bounded counts with the least that it may be: else what nobody knows
    would rank before what is known.
    """
    if layout is None:
        return 0.0
    least = [
        (use.power.low or 0.0) * share / feed.speaker.rated_w
        for feed, use, share in layout.shares()
    ]
    job = layout.job
    least += [job.radio_w(feed) / feed.speaker.rated_w for feed in job.on_radio]
    return min((min(1.0, match) for match in least), default=0.0)


def wish_share(checks: Iterable[Check]) -> float:
    """Return the part of the wishes that is met [0 … 1]; 1 when there are none."""
    wishes = [check.state == "suitable" for check in checks if not check.is_must]
    return sum(wishes) / len(wishes) if wishes else 1.0


def price_share(price: float | None) -> float:
    """Return what a price is worth [0 … 1]: 1 for nothing, a half at 250; 0 when not known."""
    return 0.0 if price is None else _HALF_PRICE / (_HALF_PRICE + price)


_RANKED = STATES[::-1]
Rank = tuple[float, ...]


def rank(candidate: Candidate) -> Rank:
    """Return the sort key of a judged amplifier, best first.

    Verdict; then the fewest things given up; then the fewest speakers without their power, so that
    a stronger amplifier never trades its power for something else; then the fewest musts that
    fail, the fewest that are not known, the fewest amplifiers, the score.
    """
    return (_RANKED.index(candidate.state), *_rest(candidate))


def layout_rank(candidate: Candidate) -> Rank:
    """Return the sort key of a judged layout among those of one amplifier, best first.

    As `rank`, only that power comes before what is not known: no speaker is starved so that a
    missing figure plays no part.  An amplifier that is there is left idle only where that spares
    a speaker, or something that would be given up.
    """
    given_up, weak, *rest = _rest(candidate)
    state = candidate.state
    idle = 0 if candidate.layout is None else len(candidate.layout.idle_parts)
    return (state == "unsuitable", given_up, weak, idle, _RANKED.index(state), *rest)


def _rest(candidate: Candidate) -> Rank:
    weak = sum(
        check.state not in ("suitable", "likely") or check.is_weak
        for check in candidate.checks
        if check.kind == "power"
    )
    musts = [check for check in candidate.checks if check.is_must]
    fails = sum(check.state == "unsuitable" for check in musts)
    gaps = sum(check.state == "not known" for check in musts)
    boxes = len(candidate.parts)
    return candidate.given_up, weak, fails, gaps, boxes, -candidate.score


def ranking(candidates: Sequence[Candidate]) -> list[Candidate]:
    """Return the candidates, best first; equals keep the shelf's order."""
    return sorted(candidates, key=rank)
