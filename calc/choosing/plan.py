"""The whole plan: every chapter asked in the order of the job."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.choosing import (
    amplifier_asks,
    demand_asks,
    kit_asks,
    layout_asks,
    plan_asks,
    setup_asks,
)
from calc.choosing.asks import Ask
from calc.choosing.balance import Balance, balance_of
from calc.choosing.channels import Channel, channels_of
from calc.choosing.choose import Candidate
from calc.choosing.job import Job
from calc.choosing.layouts import Layout, may_bridge
from calc.crossovers.filter_split import FRAGILE
from calc.renderers.data import answer_data

# Asked once in a plan; the others once for each feed that they are about, as a list.
ONCE = (
    "channel-map", "filter-split", "arrival-delay", "signal-chain", "turn-on", "mounting-reach",
    "bay-heat", "power-cable", "kit-list", "supply-budget", "commissioning",
)  # fmt: skip


ARRANGE, COILS, SPLIT, SIGNAL, PLACE, CABLE, FEED, SET_UP = (
    "Arrange", "Wire the coils", "Split the band", "Signal and turn-on", "Place", "Cable", "Feed",
    "Set up",
)  # fmt: skip
UNPROTECTED = (
    "Stop: no high-pass is known to protect every tweeter and midrange. Ask the seller for the "
    "amplifier’s filter range before anything is connected; until then there is no wiring, no gain "
    "and no sheet to connect by."
)
UNBRIDGED = (
    "Stop: this needs a bridged pair, and whether the amplifier may be bridged is not known. Look "
    "for a bridged power on the box, or bridge marks at the terminals; until then there is no "
    "wiring, no gain and no sheet to connect by."
)


@dataclass(frozen=True)
class Plan:
    """A candidate with all that was asked, by the heading of the step.

    channels : the channel table; empty where it must not be connected yet
    balance : the gains' voltages; None without a layout
    stop : why nothing may be connected yet, in words: an active tweeter or midrange without a
        high-pass that is known to protect it, or a bridged pair that may be none; else empty
    notices : what plays no part, and is no error
    """

    candidate: Candidate
    steps: Mapping[str, tuple[Ask, ...]]
    channels: tuple[Channel, ...] = ()
    balance: Balance | None = None
    stop: str = ""
    notices: tuple[str, ...] = ()

    @property
    def may_connect(self) -> bool:
        """Whether there is a sheet to connect by."""
        return not self.stop

    @property
    def asks(self) -> tuple[Ask, ...]:
        """All that was asked, in the order of the job."""
        return tuple(one for asks in self.steps.values() for one in asks)

    def asked(self, calculator: str) -> Ask | None:
        """Return the first question to a calculator; None where it was not asked."""
        return next((one for one in self.asks if one.calculator.name == calculator), None)

    def data(self) -> dict[str, Any]:
        """Return inputs and results of every calculator under its name.

        Of one that is asked more than once, a list with whom each is about.  Where something is
        missing, `inputs` and `results` are None and `missing` says what.
        """
        found: dict[str, Any] = {"channels": [one.data() for one in self.channels]}
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
    if candidate.layout is None:
        amplifier = candidate.amplifier
        signal, turn_on = (
            amplifier_asks.signal(job, amplifier),
            amplifier_asks.turn_on(job, amplifier),
        )
        return Plan(
            candidate,
            {SIGNAL: (signal, turn_on), PLACE: (amplifier_asks.mounting(job, amplifier),)},
        )
    return _Planner(job, candidate.amplifier, candidate.layout).plan(candidate)


class _Planner:
    """Asks the chapters one after the other; what one found goes into the next."""

    def __init__(self, job: Job, amplifier: Mapping[str, Any], layout: Layout) -> None:
        self.job, self.amplifier, self.layout = job, amplifier, layout
        self.balance = balance_of(layout)
        self.signal = amplifier_asks.signal(job, amplifier)
        self.turn_on = amplifier_asks.turn_on(job, amplifier)
        self.delays = plan_asks.delays(job)
        self.split = layout_asks.filter_split(
            job, layout.assignment, amplifier, self.balance.row_levels_db()
        )
        self.stop = _stop(layout, amplifier, self.split)
        self.may_connect = not self.stop
        self.channels = (
            channels_of(
                layout,
                amplifier,
                split=self.split,
                delays_ms=self._delays_ms(),
                balance=self.balance,
                source=self.source,
            )
            if self.may_connect
            else ()
        )

    @property
    def is_high_level(self) -> bool:
        """Whether the signal comes from the head unit's speaker leads into a high-level input."""
        answer = self.signal.answer
        return answer is not None and answer.sheet.results["input"] == "high-level"

    @property
    def needs_converter(self) -> bool:
        """Whether a line-output converter stands between speaker leads and a line input."""
        answer = self.signal.answer
        if answer is None or self.job.given["source_v"] is not None:
            return False
        results = answer.sheet.results
        return results["input"] == "line" and bool(results["adapter"])

    @property
    def source(self) -> str:
        """What carries the signal from the head unit, in words."""
        if self.is_high_level:
            return "speaker leads"
        return "speaker leads by converter" if self.needs_converter else "RCA"

    @property
    def turned_on_by(self) -> str | None:
        """The way that it is turned on; None where it is not known."""
        return self.turn_on.answer.sheet.results["best"] if self.turn_on.answer else None

    @property
    def remote_by(self) -> str | None:
        """The way by which its remote terminal gets its signal; None where it has none."""
        return None if self.switches_supply else self.turned_on_by

    @property
    def switches_supply(self) -> bool:
        """Whether a relay switches the supply, for want of a remote terminal and of sensing."""
        return self.turned_on_by == "relay-added" and self.amplifier["trigger"] is False

    def _delays_ms(self) -> dict[str, float]:
        if not self.job.has_delays or self.delays is None or self.delays.answer is None:
            return {}
        rows = self.delays.answer.sheet.results["sections"]
        return {row["section"]: row["delay_ms"] for row in rows}

    def plan(self, candidate: Candidate) -> Plan:
        """Return the whole plan, in the order of the job."""
        job, amplifier, layout, total = self.job, self.amplifier, self.layout, self.layout.total_w
        steps: dict[str, tuple[Ask, ...]] = {
            ARRANGE: (
                layout_asks.channel_map(layout, amplifier),
                *layout_asks.bridged_outputs(layout, amplifier),
            )
        }
        turned = {
            tuple(map(int, one.output.split("+")))
            for one in self.channels
            if one.polarity == "reversed"
        }
        coils = tuple(layout_asks.coil_wirings(layout, turned))
        if coils and self.may_connect:
            steps[COILS] = coils
        steps[SPLIT] = (self.split,) if self.delays is None else (self.split, self.delays)
        steps[SIGNAL] = (self.signal, self.turn_on)
        steps[PLACE] = (amplifier_asks.mounting(job, amplifier),)
        if job.given["closed"]:  # how much air an open bay exchanges is not estimated
            steps[PLACE] += (demand_asks.bay_heat(job, total, amplifier),)
        cable = demand_asks.power_cable(job, total, amplifier)
        kit = kit_asks.kit_list(
            layout,
            amplifier,
            cable,
            channels=self.channels,
            turned_on_by=self.remote_by,
            switches_supply=self.switches_supply,
            is_high_level=self.is_high_level,
            needs_converter=self.needs_converter,
        )
        steps[CABLE] = (cable, kit)
        steps[FEED] = (demand_asks.supply_budget(job, total, amplifier),)
        if self.may_connect:
            steps[SET_UP] = (
                *setup_asks.gains(layout, self.balance, self.split),
                setup_asks.commissioning(
                    layout,
                    amplifier,
                    self.balance,
                    self.channels,
                    split=self.split,
                    cable=cable,
                    kit=kit,
                    turned_on_by=self.remote_by,
                    is_high_level=self.is_high_level or self.needs_converter,
                ),
            )
        return Plan(candidate, steps, self.channels, self.balance, self.stop, job.notices)


def _stop(layout: Layout, amplifier: Mapping[str, Any], split: Ask) -> str:
    """Say why nothing may be connected yet; nothing where all is well."""
    if split.answer is None:
        kinds = {one["section"] for one in layout.job.speakers}
        return UNPROTECTED if kinds & set(FRAGILE) else ""
    for one in split.answer.sheet.results["sections"]:
        if one["section"] in FRAGILE and not one["protected"]:
            return UNPROTECTED
    return UNBRIDGED if layout.is_bridged and may_bridge(amplifier) is None else ""
