"""The calculator `fit-plan`: the whole job on one sheet."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from calc.bridging.drawings import grouping_drawing
from calc.choosing.amplifier_choice import (
    WEIGHTS,
    from_shelf,
    row_data,
    system_link,
    weights_of,
    why,
)
from calc.choosing.asks import Ask
from calc.choosing.checks import CHANNELS, POWER, WISH_OF
from calc.choosing.choose import Candidate, Judge, ranking
from calc.choosing.examples import STARTS
from calc.choosing.fields import GROUPS, STEPS, SYSTEM_FIELDS
from calc.choosing.job import Job, check_job
from calc.choosing.layout_asks import own_names
from calc.choosing.near import advised
from calc.choosing.plan import ARRANGE, Plan, plan_of
from calc.choosing.shelf import shelf_field
from calc.choosing.system_file import read_system, write_briefly, write_system
from calc.core.calculator import Calculator
from calc.core.figures import listed, quantity, rounded
from calc.core.sheet import (
    Box,
    Column,
    Drawing,
    Figure,
    Onward,
    Part,
    Quantity,
    Sheet,
    Span,
    State,
    Table,
    Verdict,
)

# What each calculator shows on the job sheet: drawings and tables by number.  The rest stands in
# its own chapter, one step away.
_SHOWN: Mapping[str, tuple[tuple[int, ...], tuple[int, ...]]] = {
    "channel-map": ((), ()),
    "bridged-output": ((), ()),
    "coil-wiring": ((0, 1), (1,)),
    "filter-split": ((0, 1), (0, 1)),
    "arrival-delay": ((), (0,)),
    "signal-chain": ((), ()),
    "turn-on": ((0,), ()),
    "mounting-reach": ((0,), (0, 1)),
    "bay-heat": ((), ()),
    "power-cable": ((), ()),
    "kit-list": ((0,), (0,)),
    "supply-budget": ((), (0,)),
    "gain-voltage": ((), ()),
    "commissioning": ((), (0, 1, 2)),
}
# The first of what a chapter cautions and does not know belong to its answer; the rest is always
# the same and stands in the chapter.
_FIRST = 2
NO_AMPLIFIER = "no amplifier is chosen; hold a shelf list against this system, or enter one."


def fit_plan(given: Mapping[str, Any]) -> Sheet:
    """Compute `fit-plan`."""
    job = Job(given)
    rows = given["amplifier"] or given["shelf"] or ()
    if not rows:
        return _without_amplifier(job)
    judged = [advised(Judge(job, one, weights_of(given))) for one in rows]
    candidate = ranking(judged)[0]
    return plan_sheet(plan_of(job, candidate), job)


def _without_amplifier(job: Job) -> Sheet:
    needs = [f"{feed.name} {quantity(feed.need_w, 'W', 3)} each" for feed in job.feeds]
    return Sheet(
        sentence=f"An amplifier is missing; it needs to give {listed(needs)}.",
        verdict=Verdict("not known", NO_AMPLIFIER),
        results={"amplifier": None, "verdict": "not-known", "checks": [], "steps": []},
        onward=(_to_choice(job),),
        cautions=_CAUTIONS,
        unknowns=("Everything that depends on the amplifier.",),
        sources=(
            "Power to reach: half a speaker’s rating where none is given (common practice, no "
            "source).",
        ),
    )


def _to_choice(job: Job) -> Onward:
    return Onward(
        "Hold a shelf list against this system",
        "choose/",
        "amplifier-choice",
        system_link(job.given),
        is_alone=True,
    )


_CAUTIONS = (
    "A plan is an estimate and no approval: the amplifier’s manual, the vehicle maker’s rules and "
    "local law come first.",
    "Take the battery’s negative off first. Leave airbags, belt pretensioners, seat wiring, "
    "orange cables and vehicles with two batteries to those who are licensed for them.",
    "A fuse within reach of the battery’s terminal on every positive cable (common practice: "
    "within 450 mm), never larger than the cable may carry; grommets through metal.",
    "Never drill or screw blind: fuel lines, brake lines and looms lie behind sheet metal. Nothing "
    "may be loose in the cabin.",
    "Each chapter has cautions of its own; read those of the step that you are at.",
)


_NO_PARTS = (
    "The parts of passive networks and the tweeters’ capacitors: they are not in the kit list; see "
    "the step on the band."
)


def plan_sheet(plan: Plan, job: Job) -> Sheet:
    """Return the job sheet of a plan."""
    one = plan.candidate
    answers = [ask.answer for ask in plan.asks if ask.answer is not None]
    return Sheet(
        sentence=_sentence(one),
        verdict=Verdict(one.state, why(one)),
        results={
            "amplifier": one.name,
            "verdict": one.state.replace(" ", "-"),
            "why": why(one),
            "near_miss": one.near_miss,
            "grouping": one.layout.plan.name if one.layout else None,
            "total_power_w": one.layout.total_w if one.layout else None,
            "checks": row_data(one)["checks"],
            "steps": [
                {"step": name, "verdict": step_verdict(name, asks, one).state.replace(" ", "-")}
                for name, asks in plan.steps.items()
            ],
            "open_questions": open_questions(plan),
            **plan.data(),
        },
        figures=_figures(one),
        tables=(_checks_table(one),),
        marks=step_marks(plan),
        parts=tuple(_part(name, asks, plan) for name, asks in plan.steps.items()),
        onward=(_to_choice(job),),
        cautions=tuple(
            dict.fromkeys(
                [*_CAUTIONS, *(line for one in answers for line in one.sheet.cautions[:_FIRST])]
            )
        ),
        steps=(
            "Every wiring of the coils, every grouping of the channels and every choice of outputs "
            "was tried, each with its best split of the filters; the best one is this plan.",
            "Each step is the answer of its chapter’s calculator to the figures of this system; "
            "the data (JSON) has the inputs of each.",
        ),
        unknowns=tuple(
            dict.fromkeys(
                [
                    *open_questions(plan),
                    *(
                        [_NO_PARTS]
                        if job.given["networks"] or job.given["tweeter_capacitor"]
                        else []
                    ),
                    *(
                        ["Which box can delay an output, if any does."]
                        if "arrival-delay" in {ask.calculator.name for ask in plan.asks}
                        else []
                    ),
                    *(line for one in answers for line in one.sheet.unknowns[:_FIRST]),
                ]
            )
        ),
        sources=tuple(dict.fromkeys(line for answer in answers for line in answer.sheet.sources)),
    )


def _sentence(one: Candidate) -> str:
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


def _figures(one: Candidate) -> tuple[Figure, ...]:
    if one.layout is None:
        return ()
    found = []
    for feed, _, use in one.layout.uses:
        value: Quantity | Span = Quantity(use.power.best, "W")
        if use.power.best is None and use.power.low is not None and use.power.high is not None:
            value = Span(use.power.low, use.power.high, "W")
        found.append(Figure(f"{feed.name}, each output", value))
    return (*found, Figure("All outputs, at most", Quantity(one.layout.total_w, "W")))


def _checks_table(one: Candidate) -> Table:
    return Table(
        caption="What it was held against",
        columns=(
            Column("Check"),
            Column("Needed", wide=True),
            Column("Judged", wide=True),
        ),
        rows=tuple(
            (
                check.name if check.is_must else f"{check.name} (a wish)",
                check.needed,
                Verdict(check.state, check.has),
            )
            for check in one.checks
        ),
    )


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
        return Verdict("suitable", "the channels carry it, and every speaker gets its power.")
    return worst


# The step of the form that a step of the plan judges; several may judge one.
_FORM_STEPS: Mapping[str, str] = {
    ARRANGE: "speakers",
    "Wire the coils": "speakers",
    "Split the band": "head_unit",
    "Signal and turn-on": "head_unit",
    "Place": "bay",
    "Cable": "leads",
    "Feed": "supply",
    "Set up": "set_up",
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


def _part(name: str, asks: Sequence[Ask], plan: Plan) -> Part:
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
        own_drawings, own_tables = _SHOWN[ask.calculator.name]
        drawings += [sheet.drawings[at] for at in own_drawings if at < len(sheet.drawings)]
        tables += [_on_paper(sheet.tables[at]) for at in own_tables if at < len(sheet.tables)]
    if name == ARRANGE and plan.candidate.layout is not None:
        told[0] = _sentence(plan.candidate)
        drawings.insert(0, _grouping(plan.candidate))
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
    lines = ["If a box here can delay its outputs:"]
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


def _grouping(one: Candidate) -> Drawing:
    assert one.layout is not None
    feeds = {output: feed.name for feed, _, use in one.layout.uses for output in use.outputs}
    return grouping_drawing(one.layout.plan.grouping, feeds)


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
    for ask in plan.asks:
        about = f" ({ask.whom})" if ask.whom else ""
        judged = ask.calculator.name not in _NOT_JUDGED or ask.answer is None
        if judged and ask.verdict.state == "not known":
            found.append(f"{ask.calculator.title}{about}: {ask.verdict.reason}")
    return found


FIT_PLAN = Calculator(
    name="fit-plan",
    title="Plan of the whole job",
    question="These speakers, this car, this amplifier: how does it all go together, and what do "
    "I need?",
    fields=(*SYSTEM_FIELDS, shelf_field(""), *WEIGHTS),
    groups=(
        *GROUPS[:-1],
        ("9 Amplifier", ("amplifier", "shelf")),
        ("What counts in choosing one", tuple(one.key for one in WEIGHTS)),
    ),
    compute=fit_plan,
    check=check_job,
    files=(read_system, from_shelf),
    write_file=write_system,
    write_brief=write_briefly,
    starts=STARTS,
)
