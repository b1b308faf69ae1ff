"""Hostile texts that a field accepts: every renderer passes them on as text."""

import csv
import io
import json
import random
from dataclasses import dataclass
from typing import Annotated
from xml.etree.ElementTree import Element

import pytest
from conftest import each, sampled
from html_parts import Parts
from inputs import valid_inputs
from payloads import PAYLOADS

from calc.answers import sheet as parts
from calc.answers.calculator import Calculator, Group
from calc.answers.markup import markup
from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.inputs.errors import InputError
from calc.inputs.fields import Number, Text
from calc.inputs.rows import Rows
from calc.renderers.data import answer_csv, answer_json
from calc.renderers.html import answer_html
from calc.renderers.html_card import card
from calc.renderers.html_form import form
from calc.renderers.text import answer_text

every_name = pytest.mark.parametrize("name", list(CALCULATORS))


@dataclass(frozen=True, kw_only=True)
class EchoRun:
    to: Annotated[str, Text("end")] = "Door"
    length_m: Annotated[float, Number("length", low=0, high=20)] = 1.0


@dataclass(frozen=True, kw_only=True)
class EchoInputs:
    name: Annotated[str, Text("Name", longest=60)] = "plain"
    runs: Annotated[tuple[EchoRun, ...], Rows("Runs", row_name="run")] = (EchoRun(),)


def echo(inputs, _):
    name = inputs.name
    table = parts.Table(
        caption=name,
        columns=(parts.Column(name, name), parts.Column("n")),
        note=name,
        rows=((name, -1.5), (parts.Verdict("suitable", name), parts.Quantity(None))),
    )
    return parts.Sheet(
        sentence=name,
        verdict=parts.Verdict("not known", name),
        results={"name": name, "n": -1},
        figures=(parts.Figure(name, parts.Quantity(1.0, name)),),
        drawings=(parts.Drawing(name, name, Element("svg")),),
        tables=(table,),
        cautions=(name,),
        steps=(name,),
        unknowns=(name,),
        sources=("hearing",),
    )


ECHO = Calculator(
    name="echo",
    title="Echo",
    question="What?",
    inputs=EchoInputs,
    groups=(Group("All", ("name", "runs")),),
    solve=lambda _: None,
    present=echo,
)


def accepted(payload):
    try:
        return ECHO.answer({"name": payload, "runs": [[payload, "2"]]})
    except InputError:
        return None


ACCEPTED = tuple(payload for payload in PAYLOADS if accepted(payload))


def cells_of(text):
    return [cell for row in csv.reader(io.StringIO(text, newline=""), strict=True) for cell in row]


def is_formula(cell):
    try:
        float(cell)
    except ValueError:
        return cell[:1] in tuple("=+-@\t\r\n")
    return False


def test_many_payloads_are_texts_that_a_name_may_have():
    assert len(ACCEPTED) > 20
    assert {"=1+1", "<svg onload=alert(1)>", "../../../../etc/passwd"} <= set(ACCEPTED)


@each("payload", ACCEPTED)
def test_an_accepted_text_stays_text_in_every_rendering(payload):
    answer, plain = accepted(payload), ECHO.answer({})
    for render in (
        answer_html,
        lambda one: markup(card(one)),
        lambda one: markup(
            form(ECHO, {"name": one.inputs["name"], "runs": [[one.inputs["name"], "2"]]})
        ),
    ):
        made, model = Parts(render(answer)), Parts(render(plain))
        assert [tag for tag, _ in made.elements] == [tag for tag, _ in model.elements]
        assert [sorted(one) for _, one in made.elements] == [
            sorted(one) for _, one in model.elements
        ]
        assert made.wrong == model.wrong == []
        assert payload in made.text or payload in made.values("value")
    assert json.loads(answer_json(answer))["results"]["name"] == payload
    assert payload in answer_text(answer)
    cells = cells_of(answer_csv(answer))
    assert not [cell for cell in cells if is_formula(cell)]
    assert {payload, "'" + payload} & set(cells)


@every_name
@pytest.mark.parametrize("seed", sampled(range(10), range(5)))
def test_no_cell_of_a_table_for_a_spreadsheet_is_a_formula(name, seed):
    given = valid_inputs(CALCULATORS[name], random.Random(f"csv {name} {seed}"))
    request = {"kind": "hand-over", "calculator": name, "inputs": given, "as": "csv"}
    text = json.loads(respond(json.dumps(request)))["text"]
    cells = cells_of(text)
    assert [cell for cell in cells if is_formula(cell)] == []
    assert all(cell.replace("\u202f", "").isprintable() for cell in cells)
    assert text.count("\n") == text.count("\r\n") > 5
