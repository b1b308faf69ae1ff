"""The whole plan: every chapter asked in the order of the job."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calc.answers.data import answer_data
from calc.answers.figures import listed
from calc.choosing.candidates import Candidate
from calc.choosing.checks.filters import guarded_without, may_be_guarded
from calc.choosing.installed import Part
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.balance import Balance, balance_of
from calc.choosing.layouts.channels import Channel, channels_of, turned_outputs
from calc.choosing.layouts.feeds import Job
from calc.choosing.origins import assumed_of, example_figures, origin, usual_settings
from calc.choosing.power_tree import PowerTree, tree_of
from calc.choosing.questions.bridging import bridged_questions, map_question
from calc.choosing.questions.cabling import set_supply_question
from calc.choosing.questions.coils import coil_questions
from calc.choosing.questions.crossovers import SplitQuestion, delay_question, split_question
from calc.choosing.questions.kit import Fitted, kit_question
from calc.choosing.questions.placement import heat_question, reach_question
from calc.choosing.questions.power import power_question
from calc.choosing.questions.question import Question
from calc.choosing.questions.sets import TreeLoad, later_load
from calc.choosing.questions.setup import (
    gain_questions,
    sheet_question,
    signal_question,
    turn_on_question,
)
from calc.choosing.words import the
from calc.crossovers.filter_split import FRAGILE
from calc.system.amplifier import Amplifier
from calc.system.usual import Origin

ARRANGE, COILS, SPLIT, SIGNAL, PLACE, CABLE, FEED, SET_UP = (
    "Arrange", "Wire the coils", "Split the band", "Signal and turn-on", "Place", "Cable", "Feed",
    "Set up",
)  # fmt: skip
# What a reader sees of a step; its name is its word in the data.
TITLES: Mapping[str, str] = {
    ARRANGE: "Channels",
    COILS: "Voice coils",
    SPLIT: "Crossovers",
    SIGNAL: "Signal and turn-on",
    PLACE: "Mounting",
    CABLE: "Power cable",
    FEED: "Alternator and battery",
    SET_UP: "Set-up",
}
_NO_SHEET = "Until then this plan gives no wiring, no gains and no workshop sheet."
UNPROTECTED = (
    "Stop: no high-pass is known to protect every tweeter and midrange. Ask the seller for the "
    f"filter range of {{}} before you connect anything. {_NO_SHEET}"
)
UNPROTECTED_BY_DSP = (
    "Stop: no high-pass is known to protect every tweeter and midrange. Look up whether the DSP "
    f"has a high-pass and a low-pass on every output before you connect anything. {_NO_SHEET}"
)
UNTOLD = (
    "Stop: the lowest safe frequency of {} is not known, so no high-pass can be chosen. Look it up "
    "on the spec sheet before you connect anything. " + _NO_SHEET
)
UNREACHED = (
    "Stop: none of the {} filters protects every tweeter and midrange. Look up the lowest "
    "safe frequency of each, and use an amplifier or processor whose high-pass goes that high. "
    + _NO_SHEET
)
UNBRIDGED = (
    "Stop: this layout needs two channels bridged, and whether this amplifier can be bridged is "
    "not known. Look for a bridged power on the box, or bridge marks at the terminals. "
    f"{_NO_SHEET}"
)
IN_ONE = (
    "Stop: there are too few outputs, so the left and right of a pair would share one and play in "
    f"mono. Choose another layout or add an amplifier. {_NO_SHEET}"
)


AnyQuestion = Question[Any, Any]


@dataclass(frozen=True)
class Plan:
    """A candidate with all that was asked, by the heading of the step.

    channels : the channel table; empty where it must not be connected yet
    balance : the gains' voltages; None without a layout
    stop : why nothing may be connected yet, in words: an active tweeter or midrange without a
        high-pass that is known to protect it, or a bridged pair that may be none; else empty
    split : the question about the filters; None without a layout
    notices : what plays no part, and is no error
    later : amplifiers planned for later
    tips : what would do better though it works, each in a sentence
    power : from the battery to every amplifier; None where no size of cable can be told
    """

    job: Job
    candidate: Candidate
    steps: Mapping[str, tuple[AnyQuestion, ...]]
    channels: tuple[Channel, ...] = ()
    balance: Balance | None = None
    stop: str = ""
    split: SplitQuestion | None = None
    notices: tuple[str, ...] = ()
    later: tuple[Amplifier, ...] = ()
    power: PowerTree | None = None
    tips: tuple[str, ...] = ()

    @property
    def may_connect(self) -> bool:
        """Whether there is a sheet to connect by."""
        return not self.stop

    @property
    def questions(self) -> tuple[AnyQuestion, ...]:
        """All that was asked, in the order of the job."""
        return tuple(question for asked in self.steps.values() for question in asked)

    def asks(self, calculator: str) -> bool:
        """Tell whether a calculator was asked."""
        return any(question.calculator.name == calculator for question in self.questions)

    def data(self) -> dict[str, object]:
        """Return inputs and results of every calculator under its name.

        Of one that is asked more than once, a list with what each is about.  Where something is
        missing, `inputs` and `results` are None and `missing` says what.
        """
        by_name: dict[str, Any] = {"channels": [channel.data() for channel in self.channels]}
        for question in self.questions:
            name = question.calculator.name
            data = {**_data(question), "origins": self.origins(question)}
            if not question.about:
                by_name[name] = data
            else:
                by_name.setdefault(name, []).append({"about": question.about, **data})
        return by_name

    def origins(self, question: AnyQuestion) -> dict[str, Origin]:
        """Return where the figures of a question are from that are not the reader's own."""
        job, candidate = self.job, self.candidate
        taken = (taken.path for taken in assumed_of(job, candidate))
        assumed = frozenset((*taken, *usual_settings(job.given)))
        examples = frozenset(example_figures(job.given, candidate.installed.given))
        every = {
            key: origin(known.path, assumed, examples) for key, known in question.figures.items()
        }
        return {key: where for key, where in every.items() if where != "yours"}


def _data(question: AnyQuestion) -> dict[str, object]:
    if question.answer is None:
        missing = list(question.missing) or [question.verdict.reason]
        return {"inputs": None, "results": None, "missing": missing}
    whole = answer_data(question.answer)
    return {"inputs": whole["inputs"], "results": whole["results"], "missing": []}


def plan_of(job: Job, candidate: Candidate, later: tuple[Amplifier, ...] = ()) -> Plan:
    """Ask every chapter about the candidate's layout.

    later : amplifiers for which the main run, its holder and the block are sized already
    """
    if candidate.layout is None:
        asked: list[AnyQuestion] = []
        for part in candidate.parts:
            asked.append(_about(candidate, part, signal_question(job, part.amplifier)))
            asked.append(_about(candidate, part, turn_on_question(job, part.amplifier)))
        bodies = [part.amplifier for part in candidate.parts]
        place = {PLACE: (reach_question(job, bodies),)} if job.has_place else {}
        return Plan(job, candidate, {SIGNAL: tuple(asked), **place})
    return _Planner(candidate.layout.job, candidate, candidate.layout, later).plan()


def _about(candidate: Candidate, part: Part, question: AnyQuestion) -> AnyQuestion:
    """Return a question about an amplifier, told apart where there are several."""
    is_single = candidate.installed.is_single
    return question if is_single else question.of_part(part.name, part.at)


class _Planner:
    """Asks the chapters one after the other; what one found goes into the next."""

    def __init__(
        self, job: Job, candidate: Candidate, layout: Layout, later: tuple[Amplifier, ...]
    ) -> None:
        self.job, self.candidate, self.layout = job, candidate, layout
        self.later = later
        self.parts = candidate.parts
        self.powers_w = [layout.power_of(part) for part in self.parts]
        self.amplifier = candidate.installed.drawing(self.powers_w)
        self.balance = balance_of(layout)
        self.signals = [signal_question(job, part.amplifier) for part in self.parts]
        self.turn_ons = [turn_on_question(job, part.amplifier) for part in self.parts]
        self.delays = delay_question(job)
        levels = self.balance.row_levels_db()
        self.split = split_question(job, layout.assignment, self.amplifier, levels)
        self.stop = _stop(layout, candidate, self.split)
        self.may_connect = not self.stop
        self.channels: tuple[Channel, ...] = ()
        if self.may_connect:
            self.channels = channels_of(
                layout,
                split=self.split,
                delays_ms=self._delays_ms(),
                balance=self.balance,
                sources=[each.source for each in self.fitted],
            )

    @property
    def remote_by(self) -> str | None:
        """The way by which remote terminals get their signal; None where they have none.

        An amplifier that needs a relay needs it whatever turns on the others; else the remote
        lead comes before all.
        """
        ways = [each.turned_on_by for each in self.fitted]
        way = next((way for way in ("relay-added", "trigger") if way in ways), ways[0])
        return None if way == "relay-added" and self.amplifier.trigger is False else way

    @property
    def loads(self) -> tuple[TreeLoad, ...]:
        """The amplifiers as the power cable sees them."""
        return tuple(each.load for each in self.fitted)

    @property
    def later_loads(self) -> tuple[TreeLoad, ...]:
        """Those that are planned for later."""
        return tuple(map(later_load, self.later))

    @cached_property
    def fitted(self) -> tuple[Fitted, ...]:
        """The amplifiers with what brings their signals and turns them on."""
        signals = [signal.result for signal in self.signals]
        return tuple(
            Fitted(
                part=part,
                total_w=self.powers_w[part.at],
                turned_on_by=turn_on.result.best if turn_on.result else None,
                is_high_level=signal is not None and signal.is_high_level,
                needs_converter=signal is not None and signal.needs_converter,
            )
            for part, signal, turn_on in zip(self.parts, signals, self.turn_ons, strict=True)
        )

    def _delays_ms(self) -> dict[str, float]:
        if not self.job.has_delays or self.delays is None or self.delays.result is None:
            return {}
        return {row.section: row.delay_ms for row in self.delays.result.sections}

    def _each(self, ask: Callable[[Part], Sequence[AnyQuestion]]) -> tuple[AnyQuestion, ...]:
        """Return what is asked about each amplifier, in their order."""
        return tuple(
            _about(self.candidate, part, question) for part in self.parts for question in ask(part)
        )

    def _arrange(self, part: Part) -> Sequence[AnyQuestion]:
        if not self.layout.outputs_of(part):
            return ()
        return (map_question(self.layout, part), *bridged_questions(self.layout, part))

    def plan(self) -> Plan:
        """Return the whole plan, in the order of the job."""
        job, amplifier, layout, total = self.job, self.amplifier, self.layout, self.layout.total_w
        steps: dict[str, tuple[AnyQuestion, ...]] = {ARRANGE: self._each(self._arrange)}
        coils = tuple(coil_questions(layout, turned_outputs(self.channels)))
        if coils and self.may_connect:
            steps[COILS] = coils
        steps[SPLIT] = (self.split,) if self.delays is None else (self.split, self.delays)
        steps[SIGNAL] = self._each(lambda part: (self.signals[part.at], self.turn_ons[part.at]))
        place: tuple[AnyQuestion, ...] = ()
        if job.has_place:
            place = (reach_question(job, [part.amplifier for part in self.parts]),)
        if job.system.air.closed:  # how much air an open bay exchanges is not estimated
            place += (heat_question(job, total, amplifier),)
        if place:
            steps[PLACE] = place
        loads = (*self.loads, *self.later_loads)
        cable = power_question(job, loads)
        power = tree_of(job, loads, cable)
        kit = kit_question(
            layout,
            self.fitted,
            power,
            channels=self.channels,
            later=self.later_loads,
        )
        steps[CABLE] = (cable, kit)
        busy = [each.load for each in self.fitted if each.total_w != 0]
        steps[FEED] = (set_supply_question(job, busy),)
        if self.may_connect:
            sheet = sheet_question(
                layout,
                amplifier,
                self.balance,
                self.channels,
                split=self.split,
                power=power,
                kit=kit,
                turned_on_by=self.remote_by,
                is_high_level=any(
                    each.is_high_level or each.needs_converter for each in self.fitted
                ),
            )
            steps[SET_UP] = (*gain_questions(layout, self.balance, self.split), sheet)
        return Plan(
            job,
            self.candidate,
            steps,
            self.channels,
            self.balance,
            self.stop,
            self.split,
            tuple(self._notices()),
            self.later,
            power,
        )

    def _notices(self) -> Iterator[str]:
        """Yield what plays no part, and is no error."""
        yield from self.job.notices
        for part in self.parts:
            yield from part.amplifier.filter_notices
        for part in self.layout.idle_parts:
            yield f"Nothing is connected to {the(part.name)}: this plan does not need it."


def _stop(layout: Layout, candidate: Candidate, split: SplitQuestion) -> str:
    """Say why nothing may be connected yet; nothing where all is well.

    Usual filters protect nothing: what a tweeter must have has to be known.
    """
    if layout.is_mono:
        return IN_ONE
    if rows := layout.job.unguarded_rows:
        return UNTOLD.format(listed([layout.job.speakers[row].name for row in rows]))
    together = candidate.installed
    is_dsp_open = layout.job.has_dsp_filters is None
    asked = [the(part.name) for part in layout.guarding_parts if part.given.own_filters.missing]
    whose = "the amplifier" if together.is_single else listed(asked)
    unprotected = UNPROTECTED_BY_DSP if is_dsp_open else UNPROTECTED.format(whose)
    unreached = UNREACHED.format("amplifier’s" if together.is_single else "amplifiers’")
    if not guarded_without(layout.job, layout.assignment, together):
        is_open = is_dsp_open or may_be_guarded(layout.job, layout.assignment, together)
        return unprotected if is_open else unreached
    if split.result is None:
        kinds = {speaker.section for speaker in layout.job.speakers}
        return unprotected if kinds & set(FRAGILE) else ""
    for section in split.result.sections:
        if section.section.kind in FRAGILE and not section.is_protected:
            return unprotected if asked or is_dsp_open else unreached
    unknown = any(part.amplifier.may_bridge is None for part in layout.bridged_parts)
    return UNBRIDGED if unknown else ""
