"""The job sheet: the answer of `fit-plan`."""

from dataclasses import replace

from calc.answers.calculator import Answer
from calc.answers.figures import listed, quantity
from calc.answers.sheet import (
    Column,
    Figure,
    Next,
    Quantity,
    Sheet,
    Span,
    Table,
    Verdict,
)
from calc.choosing.candidates import Candidate
from calc.choosing.compared import words_to
from calc.choosing.fit_plan.inputs import Inputs
from calc.choosing.fit_plan.layout_table import (
    asked_words,
    layout_data,
    layout_tables,
    ways_back,
)
from calc.choosing.fit_plan.parts import (
    open_questions,
    part,
    step_marks,
    step_verdict,
    verdict_of,
)
from calc.choosing.fit_plan.solve import Result
from calc.choosing.fit_plan.together import all_judged, later_words, ways_to_sets
from calc.choosing.fit_plan.usual_table import usual_tables
from calc.choosing.judging import next_step
from calc.choosing.layouts.feeds import Job
from calc.choosing.links import choice_link
from calc.choosing.origins import assumed_of, example_figures, example_label
from calc.choosing.plan import Plan
from calc.choosing.words import arranged, ask_data, row_data, ways_data
from calc.choosing.workshop import paper_of
from calc.system.files.shelf_file import notes_on

# The first of what a chapter does not cover belong to its answer; the rest is always the same and
# stands in the chapter.
_FIRST = 2
NO_AMPLIFIER = "No amplifier yet. Enter one, or compare a stock list."


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the plan."""
    if result.plan is None:
        return Verdict("not known", NO_AMPLIFIER)
    return verdict_of(result.plan)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the job sheet."""
    if not result.job.speakers:
        return _nothing_yet(result.job)
    if result.plan is None:
        return _without_amplifier(result.job, only_later=bool(inputs.planned.amplifier))
    sheet = plan_sheet(result.plan, result.job)
    plan = result.plan
    notes = notes_on(inputs.shelf) if result.is_listed else ()
    checks, *tables = sheet.tables
    asked = result.job.system.wishes.layout
    said = [asked_words(result.layouts, asked)] if plan.candidate.layout else []
    # Where nothing may be connected yet, another way may do: without a bridged pair, for one.
    does = plan.may_connect or any(each.candidate.is_recommended for each in result.layouts)
    ways = layout_tables(result.layouts, asked) if does else ()
    return replace(
        sheet,
        sentence=" ".join(filter(None, [*said, sheet.sentence, later_words(result)])),
        paper=None if sheet.paper is None else replace(sheet.paper, ways=ways),
        ways=ways_back(result.layouts, asked),
        onward=(*ways_to_sets(result), *sheet.onward),
        tables=(
            *ways,
            replace(checks, note=" ".join(notes)) if notes else checks,
            *tables,
        ),
        candidates=tuple(all_judged(result)),
        next_step=_next(result, plan.candidate),
        results={
            **sheet.results,
            "notices": list(dict.fromkeys([*plan.notices, *notes])),
            "candidates": [row_data(candidate) for candidate in (*result.candidates, *result.sets)],
            "layouts": [
                layout_data(each, word)
                for each, word in zip(result.layouts, words_to(result.layouts), strict=True)
            ],
        },
    )


def _next(result: Result, best: Candidate | None) -> Next:
    candidates = () if result.is_listed else result.candidates
    is_planned = result.is_planned or result.is_listed
    rows = None if result.is_listed else result.rows
    return next_step(result.job, candidates, best, is_planned=is_planned, rows=rows)


def _nothing_yet(job: Job) -> Sheet:
    return Sheet(
        sentence="Add the speakers first; then add amplifiers to compare.",
        verdict=Verdict("not known", "No speakers yet: add them first."),
        next_step=next_step(job, (), None, is_planned=False),
        results=_no_results(job),
        cautions=_CAUTIONS,
    )


def _no_results(job: Job) -> dict[str, object]:
    return {
        "amplifier": None,
        "verdict": "not-known",
        "checks": [],
        "steps": [],
        "channels": [],
        "near_miss": None,
        "ways": [],
        "tips": [],
        "layouts": [],
        "candidates": [],
        "notices": list(job.notices),
        **_origins(job, None),
    }


def _origins(job: Job, candidate: Candidate | None) -> dict[str, object]:
    """Return what was taken as usual, and what is an example's, as data."""
    given = () if candidate is None else candidate.installed.given
    return {
        "assumed": [taken.data() for taken in assumed_of(job, candidate)],
        "example": job.given.example if example_label(job.given) else None,
        "example_figures": [".".join(map(str, path)) for path in example_figures(job.given, given)],
        "ask": [] if candidate is None else ask_data(candidate),
    }


def _without_amplifier(job: Job, *, only_later: bool) -> Sheet:
    """Write what is wanted while no amplifier is there; for today, if all are for later."""
    needs = [
        f"{feed.name} {quantity(feed.need_w, 'W', 3)} each"
        if feed.need_w is not None
        else f"{feed.name} (rated {quantity(feed.speaker.rated_w, 'W', 3)} RMS each)"
        for feed in job.feeds
    ]
    return Sheet(
        sentence=("Every amplifier here is for later. " if only_later else "")
        + f"Add an amplifier for today. It has to run {listed(needs)}.",
        verdict=Verdict("not known", NO_AMPLIFIER),
        next_step=next_step(job, (), None, is_planned=False),
        results=_no_results(job),
        onward=(choice_link(job.given),),
        cautions=_CAUTIONS,
        unknowns=("Everything that depends on the amplifier.",),
    )


_CAUTIONS = (
    "A plan is an estimate, not an approval: the amplifier’s manual, the vehicle maker’s rules "
    "and local law come first.",
    "Disconnect the battery’s negative first. Leave airbags, belt pretensioners, seat wiring, "
    "orange cables and vehicles with two batteries to a licensed workshop.",
    "Fit a fuse within 450 mm of the battery in every positive cable, no larger than the "
    "cable’s current rating, and a grommet in every hole: a shorted cable without a fuse burns.",
    "Look behind every panel before you drill: fuel lines, brake lines and looms run there. "
    "Bolt the amplifier down: in a crash a loose one is thrown forward.",
)


def plan_sheet(plan: Plan, job: Job) -> Sheet:
    """Return the job sheet of a plan."""
    candidate = plan.candidate
    answers = [question.answer for question in plan.questions if question.answer is not None]
    return Sheet(
        sentence=_sentence(plan),
        verdict=verdict_of(plan),
        results=_data(plan, job),
        figures=_figures(candidate) if plan.may_connect else (),
        tables=(_checks_table(candidate), *usual_tables(job, candidate)),
        marks=step_marks(plan),
        parts=tuple(part(name, asked, plan) for name, asked in plan.steps.items()),
        onward=(choice_link(job.given),),
        cautions=tuple(
            dict.fromkeys(
                [
                    *_of_example(job),
                    *_CAUTIONS,
                    *(line for answer in answers for line in _of_signal(answer)),
                ]
            )
        ),
        steps=(
            "We try every wiring of the voice coils and every channel layout, each with its "
            "best crossover settings, and plan the best one.",
            "Each step comes from its chapter’s calculator, run with the figures of this "
            "system. The data (JSON) holds the inputs of each.",
        ),
        unknowns=tuple(
            dict.fromkeys(
                [
                    *open_questions(plan),
                    *(
                        ["Which component can delay an output, if any."]
                        if plan.asks("arrival-delay") and not job.has_delays
                        else []
                    ),
                    *(line for answer in answers for line in _unknowns(answer)),
                ]
            )
        ),
        sources=tuple(
            dict.fromkeys(
                [
                    *(["usual-figures"] if assumed_of(job, candidate) else []),
                    *(line for answer in answers for line in answer.sheet.sources),
                ]
            )
        ),
        paper=paper_of(plan),
        kit=next((answer.sheet.kit for answer in answers if answer.sheet.kit), ()),
    )


def _data(plan: Plan, job: Job) -> dict[str, object]:
    """Return the plan as data."""
    candidate = plan.candidate
    layout = candidate.layout
    return {
        "amplifier": candidate.name,
        "verdict": candidate.state.replace(" ", "-"),
        "why": verdict_of(plan).reason,
        "may_connect": plan.may_connect,
        "notices": [*job.notices, *candidate.amplifier.filter_notices],
        "near_miss": candidate.near_miss,
        "ways": ways_data(candidate),
        "tips": list(plan.tips),
        "grouping": layout.name if layout else None,
        "total_power_w": layout.total_w if layout else None,
        "checks": row_data(candidate)["checks"],
        "steps": [
            {
                "step": name,
                "verdict": step_verdict(name, asked, candidate).state.replace(" ", "-"),
            }
            for name, asked in plan.steps.items()
        ],
        "open_questions": open_questions(plan),
        **_origins(job, candidate),
        **plan.data(),
    }


def _unknowns(answer: Answer) -> tuple[str, ...]:
    """Return what an answer does not know; of the signal all, for a radio has to be asked."""
    every = answer.sheet.unknowns
    return every if answer.calculator.name == "signal-chain" else every[:_FIRST]


def _of_signal(answer: Answer) -> tuple[str, ...]:
    """Return the caution on how this job's signal arrives; the others suit every job."""
    return answer.sheet.cautions[:1] if answer.calculator.name == "signal-chain" else ()


def _sentence(plan: Plan) -> str:
    return plan.stop or arranged(plan.candidate)


def _of_example(job: Job) -> tuple[str, ...]:
    """Say that figures of an example still stand."""
    label = example_label(job.given)
    if not label:
        return ()
    return (
        f"This is an example, not your car: some figures are those of the “{label}”, and they "
        "are invented. Enter your own before you buy or connect anything.",
    )


def _figures(candidate: Candidate) -> tuple[Figure, ...]:
    layout = candidate.layout
    if layout is None:
        return ()
    figures = []
    for feed, _, use in layout.uses:
        value: Quantity | Span = Quantity(use.power.best, "W")
        if use.power.best is None and use.power.low is not None and use.power.high is not None:
            value = Span(use.power.low, use.power.high, "W")
        figures.append(Figure(f"{feed.name}, each output", value))
    return (*figures, Figure("All outputs together", Quantity(layout.total_w, "W")))


def _checks_table(candidate: Candidate) -> Table:
    return Table(
        caption="Checks",
        columns=(
            Column("Check"),
            Column("Needed", wide=True),
            Column("Result", wide=True),
        ),
        rows=tuple(
            (
                check.title if check.is_must else f"{check.title} (nice-to-have)",
                check.needed,
                Verdict(check.state, check.has),
            )
            for check in candidate.checks
        ),
    )
