"""The calculator `fit-plan`: the whole job on one sheet."""

from collections.abc import Mapping
from typing import Any

from calc.answers.calculator import Answer, Calculator
from calc.answers.figures import listed, quantity
from calc.answers.sheet import (
    Column,
    Figure,
    Onward,
    Quantity,
    Sheet,
    Span,
    Table,
    Verdict,
)
from calc.choosing.amplifier_choice import (
    WEIGHTS,
    from_shelf,
    row_data,
    system_link,
    weights_of,
)
from calc.choosing.choose import Candidate, Judge, ranking
from calc.choosing.examples import STARTS
from calc.choosing.fields import GROUPS, SYSTEM_FIELDS
from calc.choosing.job import Job, check_job
from calc.choosing.near import advised
from calc.choosing.plan import Plan, plan_of
from calc.choosing.plan_parts import (
    arranged,
    open_questions,
    part,
    step_marks,
    step_verdict,
    verdict_of,
)
from calc.choosing.shelf import shelf_field
from calc.choosing.system_file import read_system, write_briefly, write_system

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
    needs = [
        f"{feed.name} {quantity(feed.need_w, 'W', 3)} each"
        if feed.need_w is not None
        else f"{feed.name} (rated {quantity(feed.speaker['rated_w'], 'W', 3)} each)"
        for feed in job.feeds
    ]
    return Sheet(
        sentence=f"An amplifier is missing. It has to feed {listed(needs)}.",
        verdict=Verdict("not known", NO_AMPLIFIER),
        results={
            "amplifier": None,
            "verdict": "not-known",
            "checks": [],
            "steps": [],
            "channels": [],
            "notices": list(job.notices),
        },
        onward=(_to_choice(job),),
        cautions=_CAUTIONS,
        unknowns=("Everything that depends on the amplifier.",),
        sources=(
            "A power wish left empty is no must; 0.5 to 1.5 times a rating is usual (common "
            "practice, no source).",
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


def plan_sheet(plan: Plan, job: Job) -> Sheet:
    """Return the job sheet of a plan."""
    one = plan.candidate
    answers = [ask.answer for ask in plan.asks if ask.answer is not None]
    return Sheet(
        sentence=_sentence(plan),
        verdict=verdict_of(plan),
        results={
            "amplifier": one.name,
            "verdict": one.state.replace(" ", "-"),
            "why": verdict_of(plan).reason,
            "may_connect": plan.may_connect,
            "notices": list(job.notices),
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
        parts=tuple(part(name, asks, plan) for name, asks in plan.steps.items()),
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
                        ["Which box can delay an output, if any does."]
                        if plan.asked("arrival-delay") and not job.has_delays
                        else []
                    ),
                    *(line for one in answers for line in _unknowns(one)),
                ]
            )
        ),
        sources=tuple(dict.fromkeys(line for answer in answers for line in answer.sheet.sources)),
    )


def _unknowns(answer: Answer) -> tuple[str, ...]:
    """Return what an answer does not know; of the signal all, for a radio has to be asked."""
    every = answer.sheet.unknowns
    return every if answer.calculator.name == "signal-chain" else every[:_FIRST]


def _sentence(plan: Plan) -> str:
    return plan.stop or arranged(plan.candidate)


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
