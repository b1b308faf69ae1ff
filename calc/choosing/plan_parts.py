"""The parts of the job sheet: of each chapter what a plan shows, asked for by name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Box, Drawing, Part, State, Table, Verdict
from calc.bridging.drawings import grouping_drawing
from calc.choosing.amplifier_choice import why
from calc.choosing.asks import Ask
from calc.choosing.channel_sheet import channel_table, level_words
from calc.choosing.checks import CHANNELS, POWER, WISH_OF
from calc.choosing.choose import Candidate
from calc.choosing.fields import STEPS
from calc.choosing.layout_asks import own_names
from calc.choosing.plan import ARRANGE, CABLE, COILS, FEED, PLACE, SET_UP, SIGNAL, SPLIT, Plan


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
    "kit-list": Shown(("tree",), ("kit",)),
    "supply-budget": Shown((), ("duties",)),
    "gain-voltage": Shown(),
    "commissioning": Shown((), ("readings-1", "readings-2", "readings-3")),
}


def arranged(one: Candidate) -> str:
    """Say in one sentence which speakers are on which channels, at what power."""
    if one.layout is None:
        return f"{one.name} carries no layout of these speakers."
    told = []
    for feed, _, use in one.layout.uses:
        outputs = listed(["+".join(map(str, output)) for output in use.outputs])
        power = "" if use.power.best is None else f", {quantity(use.power.best, 'W', 3)}"
        each = " each" if len(use.outputs) > 1 and power else ""
        how = " bridged" if len(use.outputs[0]) == 2 else ""
        told.append(f"{feed.name} on {outputs}{how}{power}{each}")
    return f"{one.name}: {'; '.join(told)}."


# Their verdicts are not the step's: the checks judge the powers (a strong amplifier is turned
# down), and readings are taken later.
_NOT_JUDGED = ("channel-map", "commissioning")


def step_verdict(name: str, asks: Sequence[Ask], one: Candidate) -> Verdict:
    """Return the verdict of a step: the worst of its calculators' and checks'."""
    verdicts = [ask.verdict for ask in asks if ask.calculator.name not in _NOT_JUDGED]
    if name == ARRANGE:
        verdicts += [
            Verdict(check.state, f"{check.name}: needs {check.needed}, has {check.has}")
            for check in one.checks
            if check.name == CHANNELS or check.name.startswith(POWER)
        ]
    worst = _worst(verdicts)
    if name == ARRANGE and worst.state == "suitable":
        weak = [check.name for check in one.checks if check.is_weak]
        if weak:
            told = f"the channels carry it; less than half of the rating: {listed(weak)}."
            return Verdict("suitable", told)
        return Verdict("suitable", "the channels carry it, and every speaker gets its power.")
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
    found: dict[str, list[Verdict]] = {step.name: [] for step in STEPS}
    for name, asks in plan.steps.items():
        rest = [ask for ask in asks if ask.calculator.name != "bay-heat"]
        found[_FORM_STEPS[name]].append(step_verdict(name, rest, plan.candidate))
        found["air"] += [ask.verdict for ask in asks if ask.calculator.name == "bay-heat"]
    for check in plan.candidate.checks:
        if check.name in WISH_OF and check.is_must:
            told = f"{check.name}: needs {check.needed}, has {check.has}"
            found["wishes"].append(Verdict(check.state, told))
    found["amplifier"].append(Verdict(plan.candidate.state, why(plan.candidate)))
    return {step.heading: _worst(found[step.name]) for step in STEPS if found[step.name]}


def _worst(verdicts: Sequence[Verdict]) -> Verdict:
    order: tuple[State, ...] = ("unsuitable", "not known", "suitable")
    return min(verdicts, key=lambda one: order.index(one.state))


def part(name: str, asks: Sequence[Ask], plan: Plan) -> Part:
    """Return a step with what its calculators show."""
    drawings: list[Drawing] = []
    tables: list[Table] = []
    told = []
    for ask in asks:
        if ask.answer is None:
            told.append(f"{ask.calculator.title}: {ask.verdict.reason}")
            continue
        sheet = ask.answer.sheet
        about = f"{ask.whom[0].upper()}{ask.whom[1:]}: " if ask.whom else ""
        if ask.calculator.name == "arrival-delay":
            told += _of_delays(plan)
        told.append(f"{about}{sheet.sentence}")
        if ask.calculator.name == "filter-split":
            told += _whose(plan)
        told += sheet.results.get("notes", ())
        shown = SHOWN[ask.calculator.name]
        drawings += sheet.drawn(*shown.drawings)
        tables += [_on_paper(table) for table in sheet.named(*shown.tables)]
    if name == ARRANGE and plan.candidate.layout is not None:
        told[0] = arranged(plan.candidate)
        if plan.may_connect:
            drawings.insert(0, _grouping(plan))
        if plan.channels:
            tables.insert(0, channel_table(plan.channels))
            told += level_words(plan)
    if name == SPLIT:
        asked = plan.candidate.layout.job.questions if plan.candidate.layout else ()
        told = [*([] if plan.may_connect else [plan.stop]), *told, *asked, *plan.notices]
    return Part(
        title=name,
        verdict=step_verdict(name, asks, plan.candidate),
        sentence=" ".join(told),
        drawings=tuple(drawings),
        tables=tuple(tables),
    )


def _whose(plan: Plan) -> list[str]:
    """Say whose the sections are, where drawings and tables do not tell it by their words."""
    layout = plan.candidate.layout
    if layout is None:
        return []
    names = own_names(layout.job, layout.assignment)
    if all(word in own for word, own in names):
        return []
    lines = [f"{word} is {own}" for word, own in names if word != own]
    return [f"Below, {listed(lines)}."] if lines else []


def _of_delays(plan: Plan) -> list[str]:
    """Say what the delays hold for: a box that can make them, and outputs with two speakers."""
    layout = plan.candidate.layout
    can_delay = layout is not None and layout.job.has_delays
    lines = ["In the processor:" if can_delay else "If a box here can delay its outputs:"]
    for feed in layout.job.feeds if layout else ():
        rows = [layout.job.speakers[row] for row in reversed(feed.rows)]
        known = [row for row in rows if row["distance_m"] is not None]
        if len(rows) > 1 and known:
            names = listed([row["name"] for row in rows])
            far = quantity(known[0]["distance_m"], "m")
            lines.append(f"({names} share an output: the {far} of {known[0]['name']} count.)")
    return lines


def _on_paper(table: Table) -> Table:
    """Return a table with its boxes blank: readings are typed on the commissioning sheet."""
    rows = tuple(tuple("" if isinstance(cell, Box) else cell for cell in row) for row in table.rows)
    return replace(table, rows=rows)


def _grouping(plan: Plan) -> Drawing:
    layout = plan.candidate.layout
    assert layout is not None
    feeds = {output: feed.name for feed, _, use in layout.uses for output in use.outputs}
    turned = [one.output for one in plan.channels if one.polarity == "reversed"]
    return grouping_drawing(
        layout.plan.grouping,
        feeds,
        [output for output in feeds if "+".join(map(str, output)) in turned],
    )


def verdict_of(plan: Plan) -> Verdict:
    """Return the verdict of a plan: its candidate's, with the steps that nothing has settled."""
    one = plan.candidate
    if one.state != "suitable":
        return Verdict(one.state, why(one))
    open_steps = [
        name.lower()
        for name, asks in plan.steps.items()
        if step_verdict(name, asks, one).state == "not known"
    ]
    if not open_steps:
        return Verdict(one.state, why(one))
    told = why(one).rstrip(".")
    return Verdict(one.state, f"{told}, as far as is known; still open: {listed(open_steps)}.")


def open_questions(plan: Plan) -> list[str]:
    """Return what is still to be found out, in the order of the job."""
    found = []
    layout = plan.candidate.layout
    if layout is not None and layout.spread != (1.0, 1.0):
        found.append(
            "Whether its supply is regulated, or at what voltage it is rated: powers are shown as "
            f"of an unregulated one, and may be {rounded(layout.spread[0], 3)} to "
            f"{rounded(layout.spread[1], 3)} times that"
        )
    found += layout.job.questions if layout is not None else ()
    for ask in plan.asks:
        about = f" ({ask.whom})" if ask.whom else ""
        judged = ask.calculator.name not in _NOT_JUDGED or ask.answer is None
        if judged and ask.verdict.state == "not known":
            found.append(f"{ask.calculator.title}{about}: {ask.verdict.reason}")
    return found
