"""The parts of the job sheet: of each chapter what a plan shows, asked for by name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calc.answers.figures import capital, listed, quantity, rounded
from calc.answers.sheet import STATES, Drawing, Part, Table, Verdict
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import WISH_OF, Check, Kind
from calc.choosing.fit_plan.channel_table import channel_table, level_words
from calc.choosing.fit_plan.own_channels import own_drawing, own_table, split_sentence
from calc.choosing.plan import (
    ARRANGE,
    CABLE,
    COILS,
    FEED,
    PLACE,
    SET_UP,
    SIGNAL,
    SPLIT,
    TITLES,
    AnyQuestion,
    Plan,
)
from calc.choosing.questions.crossovers import own_names
from calc.choosing.words import arranged, why
from calc.choosing.workshop.grouping import grouping_drawings
from calc.system.system import STEPS


@dataclass(frozen=True)
class Shown:
    """The names of the drawings and tables of a chapter that the job sheet shows."""

    drawings: tuple[str, ...] = ()
    tables: tuple[str, ...] = ()


# The rest stands in its own chapter, one step away; a test tells what is left out on purpose.
SHOWN: Mapping[str, Shown] = {
    "channel-map": Shown(),
    "bridged-output": Shown(),
    "coil-wiring": Shown(("circuit", "terminals"), ("joins",)),
    "filter-split": Shown(
        ("path", "bands"),
        ("missing", "settings-head-unit", "settings-amplifier", "settings-passive", "polarity"),
    ),
    "arrival-delay": Shown((), ("delays",)),
    "signal-chain": Shown(),
    "turn-on": Shown(("turn-on",)),
    "mounting-reach": Shown(("plan",), ("placements", "sides")),
    "bay-heat": Shown(),
    "power-cable": Shown(),
    "cable-tree": Shown((), ("runs", "loads")),
    "kit-list": Shown(("tree",), ("kit",)),
    "supply-budget": Shown((), ("duties",)),
    "gain-voltage": Shown(),
    "commissioning": Shown((), ("readings-1", "readings-2", "readings-3")),
}


# Their verdicts are not the step's: the checks judge the powers (a strong amplifier is turned
# down), and readings that have not been taken yet make no plan worse.
_NOT_JUDGED = ("channel-map", "commissioning")
# What a step's calculators cannot tell alone: what is usual, and what is a line to settle.
_CHECKED: Mapping[str, tuple[str, ...]] = {ARRANGE: ("channels", "power"), SPLIT: ("filters",)}


def _is_judged(question: AnyQuestion) -> bool:
    """Tell whether a question's verdict is its step's; a reading that is out always is."""
    if question.calculator.name == "commissioning":
        return question.result is not None and bool(question.result.out)
    return question.calculator.name not in _NOT_JUDGED


# A check knows what its calculator does not: what may be usual, and what is a line to settle.
_CHECK_OF: Mapping[str, Kind] = {
    "filter-split": "filters",
    "signal-chain": "signal",
    "turn-on": "turn-on",
    "mounting-reach": "place",
    "bay-heat": "heat",
    "power-cable": "cable",
}


def _of_question(question: AnyQuestion, candidate: Candidate) -> Verdict:
    """Return a calculator's verdict, or that of the check made of it where they differ."""
    name, verdict = question.calculator.name, question.verdict
    if name == "kit-list" and verdict.state == "not known" and question.answer is not None:
        return Verdict("likely", f"{verdict.reason.rstrip('.')}: settle it before you order.")
    for check in candidate.checks:
        if check.kind == _CHECK_OF.get(name) and check.state != verdict.state:
            if question.answer is None and check.state == "likely":
                return Verdict(
                    "likely", f"{_of_check(check).reason}; still to measure: {_gap(question)}"
                )
            return _of_check(check)
    return verdict


def _gap(question: AnyQuestion) -> str:
    """Say what a calculator still needs, which a check took as usual."""
    return listed([label[0].lower() + label[1:] for label in question.missing])


def _of_check(check: Check) -> Verdict:
    """Say a check: what is needed only where that is not what there is."""
    if check.state in ("suitable", "likely"):
        return Verdict(check.state, f"{check.title}: {check.has}")
    return Verdict(check.state, f"{check.title}: needs {check.needed}; has {check.has}")


def step_verdict(name: str, asked: Sequence[AnyQuestion], candidate: Candidate) -> Verdict:
    """Return the verdict of a step: the worst of its calculators' and checks'."""
    verdicts = [_of_question(question, candidate) for question in asked if _is_judged(question)]
    verdicts += [
        _of_check(check) for check in candidate.checks if check.kind in _CHECKED.get(name, ())
    ]
    worst = _worst(verdicts)
    if name == ARRANGE and worst.state == "suitable":
        weak = [check.feed for check in candidate.checks if check.is_weak]
        if weak:
            reason = (
                f"every load is allowed, but {listed(weak)} get less than half of their rating."
            )
            return Verdict("suitable", reason)
        return Verdict("suitable", "every load is allowed, and every speaker gets enough power.")
    return worst


# The step of the form that a step of the plan judges; several may judge one.
_FORM_STEPS: Mapping[str, str] = {
    ARRANGE: "speakers",
    COILS: "speakers",
    SPLIT: "head_unit",
    SIGNAL: "head_unit",
    PLACE: "bay",
    CABLE: "leads",
    FEED: "supply",
    SET_UP: "set_up",
}


def step_marks(plan: Plan) -> dict[str, Verdict]:
    """Return a verdict for each step of the form: the worst of what judges it."""
    marks: dict[str, list[Verdict]] = {step.name: [] for step in STEPS}
    for name, asked in plan.steps.items():
        rest = [question for question in asked if question.calculator.name != "bay-heat"]
        if rest:  # of a closed space whose size nobody told, heat alone is asked
            marks[_FORM_STEPS[name]].append(step_verdict(name, rest, plan.candidate))
        marks["air"] += [
            _of_question(question, plan.candidate) for question in asked if question not in rest
        ]
    for check in plan.candidate.checks:
        if check.kind in WISH_OF and check.is_must:
            marks["wishes"].append(_of_check(check))
    marks["amplifier"].append(Verdict(plan.candidate.state, why(plan.candidate)))
    return {step.heading: _worst(marks[step.name]) for step in STEPS if marks[step.name]}


def _worst(verdicts: Sequence[Verdict]) -> Verdict:
    return min(verdicts, key=lambda verdict: STATES.index(verdict.state))


def part(name: str, asked: Sequence[AnyQuestion], plan: Plan) -> Part:
    """Return a step with what its calculators show."""
    drawings: list[Drawing] = []
    tables: list[Table] = []
    sentences: list[str] = []
    for question in asked:
        sentences += _sentences(question, plan)
        if question.answer is not None:
            drawings += _drawings(question, plan)
            tables += _tables(question, plan)
    if name == ARRANGE and not plan.may_connect:
        sentences = [plan.stop]
    elif name == ARRANGE and plan.candidate.layout is not None:
        sentences.insert(0, arranged(plan.candidate))
        drawings[:0] = grouping_drawings(plan)
        if plan.channels:
            tables.insert(0, channel_table(plan.channels, plan.job.source_words))
            sentences += level_words(plan)
        sentences += plan.tips
    if name == SPLIT:
        open_ones = plan.candidate.layout.job.questions if plan.candidate.layout else ()
        stop = [] if plan.may_connect else [plan.stop]
        sentences = [*stop, *sentences, *open_ones, *plan.notices]
    return Part(
        title=TITLES[name],
        verdict=step_verdict(name, asked, plan.candidate),
        sentence=" ".join(sentences),
        drawings=tuple(drawings),
        tables=tuple(tables),
    )


def _sentences(question: AnyQuestion, plan: Plan) -> list[str]:
    """Return what a step says of a question: its answer in words, and what belongs to it."""
    if question.answer is None:
        return [f"{_title(question)}: {question.verdict.reason}"]
    sheet, name = question.answer.sheet, question.calculator.name
    about = f"{capital(question.about)}: " if question.about else ""
    said = f"{about}{sheet.sentence}"
    if name == "channel-map":  # the plan's own sentence says it
        return [*sheet.notes]
    is_own = _has_several(plan) or plan.job.has_dsp_filters
    if name == "filter-split" and is_own and plan.may_connect:
        said = split_sentence(plan)
    before = _of_delays(plan) if name == "arrival-delay" else []
    after = _whose(plan) if name == "filter-split" else []
    after += _whole_run(plan) if name == "power-cable" else []
    return [*before, said, *after, *sheet.notes]


def _drawings(question: AnyQuestion, plan: Plan) -> list[Drawing]:
    """Return the drawings of a question that its step shows."""
    shown = _shown(question.calculator.name, may_connect=plan.may_connect).drawings
    drawings = question.answer.sheet.drawn(*shown) if question.answer else ()
    if not _has_several(plan):
        return list(drawings)
    return [own_drawing(each, plan) if each.name == "path" else each for each in drawings]


def _tables(question: AnyQuestion, plan: Plan) -> list[Table]:
    """Return the tables of a question that its step shows."""
    shown = _shown(question.calculator.name, may_connect=plan.may_connect).tables
    tables = question.answer.sheet.named(*shown) if question.answer else ()
    is_of_split = question.calculator.name == "filter-split" and _has_several(plan)
    return [own_table(table, plan) if is_of_split else table for table in tables]


def _has_several(plan: Plan) -> bool:
    return not plan.candidate.installed.is_single


# Of a split that leaves something unprotected: what is missing, and nothing that could be set.
_WHERE_STOPPED = Shown((), ("missing",))


def _shown(calculator: str, *, may_connect: bool) -> Shown:
    is_stopped = calculator == "filter-split" and not may_connect
    return _WHERE_STOPPED if is_stopped else SHOWN[calculator]


def _whose(plan: Plan) -> list[str]:
    """Say whose the sections are, where drawings and tables do not tell it by their words."""
    layout = plan.candidate.layout
    if layout is None:
        return []
    names = own_names(layout.job, layout.assignment)
    lines = [
        f"‘{word}’ means {name}" for word, name in names if word not in name and name not in word
    ]
    return [f"Below, {listed(lines)}."] if lines else []


def _title(question: AnyQuestion) -> str:
    """Return the heading of a question's calculator, to be followed by a colon."""
    return question.calculator.title.rstrip("?")


def _whole_run(plan: Plan) -> list[str]:
    """Say what the length of the power cable's own answer is made of."""
    leads = plan.job.system.leads
    if leads.power_m is None or leads.earth_m is None:
        return []
    return [
        f"That length is {quantity(leads.power_m, 'm', 3)} from the battery plus "
        f"{quantity(leads.earth_m, 'm', 3)} of earth lead, with "
        f"{rounded(leads.slack_percent)}\u202f% slack."
    ]


def _of_delays(plan: Plan) -> list[str]:
    """Say what the delays hold for: a box that can make them, and outputs with two speakers."""
    layout = plan.candidate.layout
    if layout is None:
        return ["If the head unit can delay its outputs:"]
    can_delay = layout.job.has_delays
    lines = ["In the DSP:" if can_delay else "If the head unit can delay its outputs:"]
    for feed in layout.job.feeds:
        rows = [layout.job.speakers[row] for row in reversed(feed.rows)]
        known = [speaker for speaker in rows if speaker.distance_m is not None]
        if len(rows) > 1 and known:
            names = listed([speaker.name for speaker in rows])
            far = quantity(known[0].distance_m, "m")
            lines.append(
                f"({capital(names)} share an output: measure to the {known[0].name}, {far}.)"
            )
    return lines


def verdict_of(plan: Plan) -> Verdict:
    """Return the verdict of a plan: its candidate's, with the steps that nothing has settled."""
    candidate = plan.candidate
    open_steps = [
        TITLES[name][:1].lower() + TITLES[name][1:]
        for name, asked in plan.steps.items()
        if candidate.is_recommended and step_verdict(name, asked, candidate).state == "not known"
    ]
    if not open_steps:
        return Verdict(candidate.state, why(candidate))
    reason = why(candidate).rstrip(".")
    return Verdict(candidate.state, f"{reason}; still open: {listed(open_steps)}.")


def open_questions(plan: Plan) -> list[str]:
    """Return what is still to be found out, in the order of the job."""
    questions = []
    layout = plan.candidate.layout
    if layout is not None and layout.spread != (1.0, 1.0):
        questions.append(
            "Whether the amplifier’s supply is regulated, or the voltage it is rated at: the "
            "powers here are those of an unregulated one; the true ones are "
            f"{rounded(layout.spread[0], 3)} to {rounded(layout.spread[1], 3)} times that."
        )
    questions += layout.job.questions if layout is not None else ()
    for question in plan.questions:
        about = f" ({question.about})" if question.about else ""
        is_judged = question.calculator.name not in _NOT_JUDGED or question.answer is None
        if is_judged and question.verdict.state == "not known":
            questions.append(f"{_title(question)}{about}: {question.verdict.reason}")
    return questions
