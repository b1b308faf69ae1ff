"""Every number of a plan is that of its calculator asked alone, by texts as a form holds them."""

import json

import pytest
from asking import plain
from choosing_systems import best_of, case
from conftest import sampled

from calc.app.contents import CALCULATORS
from calc.choosing.plan import plan_of
from calc.renderers.data import answer_data


@pytest.mark.parametrize("seed", sampled(range(60), range(6)))
def test_every_number_of_a_plan_is_that_of_its_calculator_asked_alone(seed):
    job, amplifier, _ = case(f"plan {seed}")
    plan = plan_of(job, best_of(job, amplifier))
    data = json.loads(json.dumps(plan.data()))
    data.pop("channels")  # made of what the others answer; its own tests hold it
    cable, kit = data.get("power-cable"), data.get("kit-list")
    if kit and kit["results"] and cable["results"]:
        bought = [item for item in kit["results"]["items"] if item["item"] == "power cable"]
        assert all(plain(item["size"]) in plain(cable["results"]["size"]) for item in bought)
    if plan.candidate.layout is not None:
        chosen = plan.candidate.layout.plan
        listed = data["channel-map"]["results"]["groupings"]
        (same,) = [grouping for grouping in listed if grouping["grouping"] == chosen.name]
        for use, other in zip(chosen.uses, same["uses"], strict=True):
            assert other["outputs"] == ["+".join(map(str, output)) for output in use.outputs]
            assert other["power_w"] == use.power.best
            assert other["load_ohm"] == use.load_ohm
    for name, asked in data.items():
        for entry in [asked] if isinstance(asked, dict) else asked:
            is_that_of_its_calculator(CALCULATORS[name], entry)


def is_that_of_its_calculator(calculator, entry):
    """Check what a plan holds of one question against the calculator's answer to its inputs."""
    if entry["results"] is None:
        assert entry["missing"]
        return
    texts = {
        key: calculator.form.by_key[key].write(read_back(calculator, key, value))
        for key, value in entry["inputs"].items()
    }
    texts = {key: text for key, text in texts.items() if text}
    for group in calculator.alternatives:
        texts |= {key: "" for key in group if entry["inputs"][key] is None}
    empty = {key: "" for key, value in entry["inputs"].items() if value in (None, [])}
    again = answer_data(calculator.answer({**empty, **texts}))
    assert json.loads(json.dumps(again["inputs"])) == entry["inputs"]
    assert json.loads(json.dumps(again["results"])) == entry["results"]


def read_back(calculator, key, value):
    """Return a JSON input as the value that the field writes."""
    field = calculator.form.by_key[key]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [
            {
                column.key: tuple(row[column.key].split("+"))
                if column.kind == "choice" and hasattr(column, "words") and row[column.key]
                else row[column.key]
                for column in field.columns
            }
            for row in value
        ]
    return value
