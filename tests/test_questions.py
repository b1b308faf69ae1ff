"""What a plan asks: no figure is left to what a form shows first, and what is wrong is told short.

A form shows invented figures (`example`) and figures to start from (`start`) so that it has an
answer before anything is typed; a plan that took one would judge somebody's car by it.
"""

import pytest
from choosing_systems import best_of, case
from conftest import sampled

from calc.app.contents import CALCULATORS
from calc.cabling.supply_budget import SUPPLY_BUDGET
from calc.choosing.exchange import asked, further_questions
from calc.choosing.plan import plan_of
from calc.choosing.questions.question import Question, worked_out
from calc.inputs.errors import InputError
from calc.inputs.problems import Problem

# Of each calculator the fields that no figure of a plan may stand for: they are left to the form
# where they play no part, or are the reader's own to give.
NO_PART = {
    "turn-on": {"battery_ah"},
    "passive-network": {"impedance", "power_w"},
    "speaker-lead": {"power_w"},
    "mounting-reach": {"amplifiers"},
    "bay-heat": {"area_m2"},
    "meter-check": {"reading_ohm"},
}


def shown_first(calculator):
    """Return the keys of the fields with a figure that the form only shows first."""
    return [
        field.key
        for field in calculator.fields
        if field.example is not None or field.start is not None
    ]


def shown_figures(calculator):
    """Return every figure that the form only shows first, as if a plan had worked it out."""
    fields = calculator.form.by_key
    return worked_out(
        "worked out",
        **{key: fields[key].read(fields[key].default) for key in shown_first(calculator)},
    )


@pytest.mark.parametrize("name", sorted(asked()))
def test_a_question_without_a_required_figure_is_refused_at_once(name):
    """One after another is left out, invented figures and figures to start from alike."""
    calculator = CALCULATORS[name]
    figures = shown_figures(calculator)
    assert figures
    Question(calculator=calculator, figures=figures)
    for key in figures:
        rest = {other: known for other, known in figures.items() if other != key}
        with pytest.raises(LookupError, match=rf"{name}: nothing gives {key}$"):
            Question(calculator=calculator, figures=rest)


def test_a_question_with_a_figure_that_nobody_asks_for_is_refused_at_once():
    figures = shown_figures(SUPPLY_BUDGET) | worked_out("worked out", colour=3.0)
    with pytest.raises(LookupError, match="colour"):
        Question(calculator=SUPPLY_BUDGET, figures=figures)


@pytest.mark.parametrize("seed", sampled(range(60), range(8)))
def test_no_question_of_a_plan_takes_what_a_form_only_shows_first(seed):
    """Each field has the plan's own figure, or its usual value, or plays no part on purpose."""
    job, amplifier, _ = case(f"questions {seed}")
    plan = plan_of(job, best_of(job, amplifier))
    for question in (*plan.questions, *further_questions(job, plan)):
        calculator = question.calculator
        assert set(question.no_part) <= NO_PART.get(calculator.name, set()), calculator.name
        left = set(shown_first(calculator)) - question.figures.keys()
        assert left <= set(question.no_part), (calculator.name, left)
        for key, value in (question.values or {}).items():
            if key not in question.figures and key not in question.no_part:
                assert value == calculator.usual[key], (calculator.name, key)


def test_a_figure_that_is_not_known_is_missing_and_not_the_form_s():
    """The alternator of the form is invented: without one's own there is no answer."""
    figures = shown_figures(SUPPLY_BUDGET)
    assert Question(calculator=SUPPLY_BUDGET, figures=figures).answer is not None
    unknown = figures | worked_out("worked out", alternator_a=None)
    question = Question(calculator=SUPPLY_BUDGET, figures=unknown)
    label = SUPPLY_BUDGET.form.by_key["alternator_a"].label
    assert question.missing == (label,)
    assert (question.values, question.inputs, question.result, question.answer) == (None,) * 4
    assert question.verdict.state == "not known" and label.lower() in question.verdict.reason


# ---- what is wrong with a figure

# 200 W at 80 % take 250 W, and loud music a third of that: with more than the other two thirds
# drawn without a signal, music would take more than full power.
TYPED, ROUNDED = "170.12345", "170"


def test_what_is_wrong_with_a_worked_out_figure_is_told_rounded_and_with_a_typed_one_exactly():
    figures = shown_figures(SUPPLY_BUDGET) | worked_out(
        "worked out", total_power_w=200.0, efficiency_percent=80.0, idle_w=float(TYPED)
    )
    question = Question(calculator=SUPPLY_BUDGET, figures=figures)
    assert question.verdict.state == "not known" and question.answer is None
    with pytest.raises(InputError) as caught:
        SUPPLY_BUDGET.answer({"total_power_w": "200", "efficiency_percent": "80", "idle_w": TYPED})
    (error,) = caught.value.errors
    assert (error.field, error.given) == ("idle_w", TYPED)
    assert f"{TYPED}\u202fW" in error.message
    assert question.verdict.reason == error.message.replace(TYPED, ROUNDED)


def test_a_problem_has_its_figure_in_full_and_rounded():
    problem = Problem(field="drop_v", given=2 / 3, words="{given} V are too much.")
    assert problem.error("Drop").message == f"Drop: {2 / 3!r} V are too much."
    assert problem.error("Drop").given == repr(2 / 3)
    assert problem.rounded_words("Drop") == "Drop: 0.667 V are too much."
    as_typed = Problem(field="drop_v", given="0.66666", words="{given} V are too much.")
    assert as_typed.rounded_words("Drop") == as_typed.error("Drop").message
