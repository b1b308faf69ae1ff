"""Readings on the plan's own sheet: what `commissioning` says of the same figures, and no more."""

import random
import sys
from dataclasses import replace

import pytest
from choosing_systems import HAZEL, VAN, best_of, planned_of
from conftest import each, sampled
from plan_systems import planned
from test_page_failures import reply

from calc.answers.data import answer_data
from calc.app.contents import CALCULATORS, query_of
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.fit_plan.parts import SHOWN, part, step_verdict
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import SET_UP, plan_of
from calc.choosing.readings import with_readings
from calc.inputs.errors import InputError
from calc.renderers.text import answer_text
from calc.setup.commissioning import COMMISSIONING, ReadingRow
from calc.system import example_van

SEEDS = sampled(range(60), range(10))
TEXTS = {
    field.key: field.write(FIT_PLAN.form.read({})[field.key])
    for field in FIT_PLAN.fields
    if field.key not in ("shelf", "readings")
} | {"amplifier": example_van.AMPLIFIER}


def plan_of_the_van():
    job = Job(VAN.system)
    return plan_of(job, best_of(job, HAZEL))


def answer(readings, **texts):
    return FIT_PLAN.answer({**TEXTS, **texts, "readings": readings})


def some_readings(rng, steps):
    """Readings of some of the steps: right ones and wrong ones, open ones, ticks."""
    rows = []
    for step in steps:
        if rng.random() < 0.4:
            continue
        choices = ["yes", "no"] if step.kind == "tick" else ["0", "12,6", "3.3", "-0.1", "14.2"]
        choices += ["open"] if step.kind == "ohm" else []
        rows.append(ReadingRow(step=step.key, reading=rng.choice(choices)))
    return tuple(rows)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_plan_says_what_the_commissioning_sheet_says_of_the_same_figures(seed):
    made = planned(seed)
    asked = made.asked("commissioning")
    if asked is None or asked.answer is None:
        return
    rows = some_readings(random.Random(f"read {seed}"), asked.result.steps)
    plan = with_readings(made.plan, rows)
    question = next(one for one in plan.questions if one.calculator is COMMISSIONING)
    typed = [[row.step, row.reading] for row in rows]
    alone = CALCULATORS["commissioning"].answer({**asked.texts, "readings": typed})
    assert answer_data(alone) == answer_data(question.answer)
    assert plan.data()["commissioning"]["results"] == alone.sheet.results
    # On the plan's sheet the same boxes, with the same words beside them.
    shown = part(SET_UP, plan.steps[SET_UP], plan)
    tables = alone.sheet.named(*SHOWN["commissioning"].tables)
    assert [table for table in shown.tables if table.name.startswith("readings-")] == list(tables)
    assert alone.sheet.sentence in shown.sentence
    boxes = {cell.key: cell.text for table in tables for *_, cell, _ in table.rows}
    assert {key: text for key, text in boxes.items() if text} == dict(typed)


def test_a_reading_changes_its_own_step_and_nothing_else():
    plan = plan_of_the_van()
    read = with_readings(plan, (ReadingRow(step="rest_v", reading="12.6"),))
    for name, asked in plan.steps.items():
        for before, after in zip(asked, read.steps[name], strict=True):
            assert (after is before) == (before.calculator is not COMMISSIONING)
    assert replace(read, steps=plan.steps) == plan


def test_a_reading_that_is_out_is_the_step_s_and_a_missing_one_makes_nothing_worse():
    plan = plan_of_the_van()

    def state(*rows):
        read = with_readings(plan, tuple(ReadingRow(step=key, reading=text) for key, text in rows))
        return step_verdict(SET_UP, read.steps[SET_UP], read.candidate)

    before = state()
    assert state(("rest_v", "12.6")) == before
    assert state(("rest_v", "11"), ("noise", "yes")).state == "unsuitable"
    assert "battery is low" in state(("rest_v", "11")).reason
    whole = answer("rest_v,11").sheet
    assert whole.marks["8 Set-up"].state == "unsuitable"


@each(
    "readings",
    ["rest_v,yes", "rest_v,open", "noise,3", "no_such_step,1", "rest_v,12;rest_v,13"],
)
def test_what_is_no_reading_of_its_step_is_refused_as_on_the_commissioning_sheet(readings):
    with pytest.raises(InputError) as of_plan:
        answer(readings)
    (asked,) = (one for one in plan_of_the_van().questions if one.calculator is COMMISSIONING)
    with pytest.raises(InputError) as alone:
        COMMISSIONING.answer({**asked.texts, "readings": readings})
    told = [wrong.as_data() for wrong in of_plan.value.errors]
    assert told == [wrong.as_data() for wrong in alone.value.errors]
    assert {wrong["field"] for wrong in told} == {"readings"}


def test_a_shape_that_no_reading_has_is_refused_with_its_row():
    with pytest.raises(InputError) as told:
        answer("rest_v,12.6;idle_v,many")
    assert [(one.field, one.row, one.column) for one in told.value.errors] == [
        ("readings", 2, "reading")
    ]


def test_without_an_amplifier_readings_wait():
    made = answer("rest_v,12.6", amplifier="")
    assert made.sheet.results["amplifier"] is None


def test_readings_are_in_no_link_no_file_and_no_other_system():
    plain, read = answer(""), answer("rest_v,12.6;coil_1_ohm,3.7")
    assert query_of(read) == query_of(plain)
    for write in (FIT_PLAN.write_file, FIT_PLAN.write_brief):
        assert write(read.inputs) == write(plain.inputs)
    assert planned_of({**TEXTS, "readings": "rest_v,12.6"}) == planned_of(TEXTS)
    inputs = {"readings": [["rest_v", "12.6"]]}
    for asked in (
        {"kind": "open", "query": "?alternator_a=77", "kept": inputs},
        {"kind": "open", "query": "", "kept": inputs},
        {"kind": "start", "start": 0, "inputs": inputs},
    ):
        made = reply(calculator="fit-plan", **asked)
        assert made["kind"] == "answer" and 'value="12.6"' not in made["html"]


def test_readings_are_kept_by_the_system_and_the_amplifier_found_for_it():
    def kept_as(**texts):
        return reply(kind="answer", calculator="fit-plan", inputs={**TEXTS, **texts})["kept_as"]

    assert kept_as() == kept_as(readings="rest_v,12.6")
    assert kept_as() != kept_as(alternator_a="77")
    # No link holds a stock list: two of them leave the same one.
    head, *rows = example_van.SHELF.splitlines()
    found = {kept_as(amplifier="", shelf=f"{head}\n{row}") for row in rows[:2]}
    assert len(found) == 2
    made = reply(kind="open", calculator="commissioning", query="?drop_v=0.4", kept={})
    assert made["kept_as"] == made["query"]


def test_boxes_hold_what_was_read_and_are_blank_where_nothing_was():
    lines = answer_text(answer("rest_v,12.55")).splitlines()
    of = {key: next(line for line in lines if words in line) for key, words in (
        ("read", "at the amplifier, all off"), ("blank", "at the amplifier, engine idling"),
    )}  # fmt: skip
    assert "12.55" in of["read"] and "good: in range" in of["read"]
    assert "______" in of["blank"]


def test_typing_readings_does_not_plan_the_job_anew(monkeypatch):
    plans = []
    module = sys.modules["calc.choosing.fit_plan.solve"]  # its package has a function of that name
    monkeypatch.setattr(module, "plan_of", lambda *args: plans.append(args) or plan_of(*args))
    for at in range(5):
        answer(f"rest_v,12.{at}", alternator_a="83")
    assert len(plans) == 1
