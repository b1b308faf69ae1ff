"""What the tests of arrangements read of a plan: by the contract's names, nothing of the search."""

import json
from functools import cache

import pytest
from choosing_systems import WEIGHTS
from conftest import ROOT

from calc.app.contents import CALCULATORS
from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import plan_of
from calc.choosing.power_tree import tree_of
from calc.choosing.questions.power import power_question
from calc.choosing.questions.sets import TreeLoad
from calc.choosing.search import Judge

FOLDER = ROOT / "tests" / "customers"
NAMES = sorted(path.stem for path in FOLDER.glob("arr-*.toml"))


def text_of(name, **changes):
    """Return a customer's file with lines of it changed."""
    text = (FOLDER / f"arr-{name}.toml").read_text(encoding="utf-8")
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    return text


def speakers(name, section="full-range", count=2, rated_w=60):
    """Return the lines of a system file that tell speakers of 4 Ω."""
    return (
        f'[[speakers]]\nname = "{name}"\nsection = "{section}"\ncount = {count}\n'
        f"coil_ohm = 4\nrated_w = {rated_w}\n"
    )


def sheet_of_text(text):
    """Return the plan's sheet for a system file's text, as the command line reads it."""
    calculator = CALCULATORS["fit-plan"]
    given, wrong = calculator.files[0](text)
    assert wrong == [], wrong
    return calculator.answer(given).sheet


def plan_of_text(text):
    """Return the plan of a system file's text, by the search alone."""
    calculator = CALCULATORS["fit-plan"]
    planned = calculator.build(calculator.form.read(*calculator.files[0](text))).planned
    job = Job(planned.system)
    return plan_of(job, Judge(job, planned.amplifier, WEIGHTS).best())


def judged_text(text):
    """Return the verdict and the channel table of a system file's text, by the search alone."""
    plan = plan_of_text(text)
    best = plan.candidate
    return {
        "verdict": best.state.replace(" ", "-"),
        "why": [(check.name, check.has) for check in best.checks if check.state == "unsuitable"],
        "channels": [channel.data() for channel in plan.channels],
    }


@cache
def sheet(name):
    return sheet_of_text(text_of(name))


def results(name):
    return sheet(name).results


def changed(name, **changes):
    return sheet_of_text(text_of(name, **changes)).results


def words(sheet_):
    """Return everything that a sheet says, as one text with plain spaces."""
    said = [sheet_.sentence, sheet_.verdict.reason if sheet_.verdict else "", *sheet_.cautions]
    for part in sheet_.parts:
        said += [part.title, part.sentence or ""]
        said += [str(cell) for table in part.tables for row in table.rows for cell in row]
    said.append(json.dumps(sheet_.results, ensure_ascii=False, default=str))
    return " ".join(said).replace("\u00a0", " ").replace("\u202f", " ")


def wired(found):
    """Return who hangs where: (amplifier, output) → [(speaker, side, load in Ω, W), …]."""
    return {
        (row["amplifier"], row["output"]): sorted(
            (one["speaker"], row["side"], round(one["load_ohm"], 3), round(one["power_w"], 1))
            for one in row["loads"]
        )
        for row in found["channels"]
    }


def outputs(found):
    """Return what every output gives: (amplifier, output) → (load in Ω, W)."""
    return {
        (row["amplifier"], row["output"]): (round(row["load_ohm"], 3), round(row["power_w"], 2))
        for row in found["channels"]
    }


def row_of(found, amplifier, output):
    (row,) = [
        one
        for one in found["channels"]
        if one["amplifier"] == amplifier and one["output"] == output
    ]
    return row


def holds(row, **expected):
    for key, value in expected.items():
        found = row[key]
        if isinstance(value, float):
            assert found == pytest.approx(value, rel=0.005), (key, found)
        else:
            assert found == value, (key, found)


def is_good(found):
    assert found["verdict"] in ("suitable", "likely"), found["why"]
    assert found["may_connect"]


@cache
def tree(name):
    """Return the power tree of a customer's amplifiers, each with the power of its own outputs.

    One that is planned for later has nothing on it yet: it counts with all its channels at 4 Ω.
    """
    calculator = CALCULATORS["fit-plan"]
    planned = calculator.build(calculator.form.read(*calculator.files[0](text_of(name)))).planned
    loads = []
    for amplifier in planned.amplifier:
        rows = [row for row in results(name)["channels"] if row["amplifier"] == amplifier.name]
        is_later = amplifier.role == "later"
        watts = sum(row["power_w"] for row in rows)
        if is_later:
            watts = amplifier.channels * amplifier.power_4ohm_w
        loads.append(TreeLoad(amplifier=amplifier, total_w=watts, is_later=is_later))
    job = Job(planned.system)
    return tree_of(job, loads, power_question(job, loads))
