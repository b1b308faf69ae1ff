"""The whole plan: every chapter asked in the order of the job."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.choosing import amplifier_asks, demand_asks, layout_asks, plan_asks
from calc.choosing.asks import Ask
from calc.choosing.choose import Candidate
from calc.choosing.job import Job
from calc.core.data import answer_data

# Asked once in a plan; the others once for each feed that they are about, as a list.
ONCE = (
    "channel-map", "filter-split", "arrival-delay", "signal-chain", "turn-on", "mounting-reach",
    "bay-heat", "power-cable", "kit-list", "supply-budget", "commissioning",
)  # fmt: skip


ARRANGE = "Arrange"


@dataclass(frozen=True)
class Plan:
    """A candidate with all that was asked, by the heading of the step."""

    candidate: Candidate
    steps: Mapping[str, tuple[Ask, ...]]

    @property
    def asks(self) -> tuple[Ask, ...]:
        """All that was asked, in the order of the job."""
        return tuple(one for asks in self.steps.values() for one in asks)

    def data(self) -> dict[str, Any]:
        """Return inputs and results of every calculator under its name.

        Of one that is asked more than once, a list with whom each is about.  Where something is
        missing, `inputs` and `results` are None and `missing` says what.
        """
        found: dict[str, Any] = {}
        for ask in self.asks:
            name = ask.calculator.name
            if name in ONCE:
                found[name] = _data(ask)
            else:
                found.setdefault(name, []).append({"about": ask.whom, **_data(ask)})
        return found


def _data(ask: Ask) -> dict[str, Any]:
    if ask.answer is None:
        missing = list(ask.missing) or [ask.verdict.reason]
        return {"inputs": None, "results": None, "missing": missing}
    whole = answer_data(ask.answer)
    return {"inputs": whole["inputs"], "results": whole["results"], "missing": []}


def plan_of(job: Job, candidate: Candidate) -> Plan:
    """Ask every chapter about the candidate's layout."""
    amplifier, layout = candidate.amplifier, candidate.layout
    turn_on = amplifier_asks.turn_on(job, amplifier)
    steps: dict[str, tuple[Ask, ...]] = {}
    if layout is not None:
        steps[ARRANGE] = (
            layout_asks.channel_map(layout, amplifier),
            *layout_asks.bridged_outputs(layout, amplifier),
        )
        coils = tuple(layout_asks.coil_wirings(layout))
        if coils:
            steps["Wire the coils"] = coils
        split = layout_asks.filter_split(job, layout.assignment, amplifier)
        delays = plan_asks.delays(job)
        steps["Split the band"] = (split,) if delays is None else (split, delays)
    signal = amplifier_asks.signal(job, amplifier)
    steps["Signal and turn-on"] = (signal, turn_on)
    steps["Place"] = (amplifier_asks.mounting(job, amplifier),)
    if layout is not None:
        total = layout.total_w
        if job.given["closed"]:  # how much air an open bay exchanges is not estimated
            steps["Place"] += (demand_asks.bay_heat(job, total, amplifier),)
        cable = demand_asks.power_cable(job, total, amplifier)
        steps["Cable"] = (
            cable,
            plan_asks.kit_list(
                layout,
                amplifier,
                cable,
                turned_on_by=_turned_on_by(turn_on),
                is_high_level=_is_high_level(signal),
            ),
        )
        steps["Feed"] = (demand_asks.supply_budget(job, total, amplifier),)
        steps["Set up"] = (
            *plan_asks.gains(layout, amplifier),
            plan_asks.commissioning(layout, amplifier, _turned_on_by(turn_on)),
        )
    return Plan(candidate, steps)


def _is_high_level(signal: Ask) -> bool:
    """Tell whether the signal comes from the head unit's speaker leads."""
    return signal.answer is not None and signal.answer.sheet.results["input"] == "high-level"


def _turned_on_by(turn_on: Ask) -> str | None:
    """Return the way that it is turned on; None when it is not known."""
    return turn_on.answer.sheet.results["best"] if turn_on.answer else None
