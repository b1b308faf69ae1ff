"""What a chapter takes from the system and gives back to it, through the page's own requests."""

import json
from dataclasses import replace

import pytest

from calc.app.contents import CALCULATORS
from calc.app.page import respond
from calc.choosing.exchange import asked, questions_for, read_kept
from calc.choosing.fit_plan import FIT_PLAN


def ask(kind, name, **more):
    return json.loads(respond(json.dumps({"kind": kind, "calculator": name, **more})))


EXAMPLE = {field.key: field.default for field in FIT_PLAN.fields}
BRIDGED = {
    **EXAMPLE,
    "speakers": EXAMPLE["speakers"].replace("subs,woofer,2,2,4", "subs,woofer,2,1,8"),
    "amplifier": EXAMPLE["amplifier"].replace(",4,50,75,,,2,", ",4,50,75,,150,2,"),
    "closed": "yes",
    "area_m2": "0.9",
}


def taken_by(name, system):
    """Return the texts that a calculator takes from a system, of the first that it is asked."""
    return questions_for(name, read_kept(system))[0].texts


@pytest.mark.parametrize("name", sorted(asked()))
def test_a_chapter_s_calculator_takes_the_plan_s_own_inputs(name):
    """The answer is that of the plan, and each figure says where it is from."""
    system = BRIDGED if name in ("bridged-output", "bay-heat") else EXAMPLE
    reply = ask("take", name, system=system, about=0)
    assert reply["kind"] == "answer", reply
    questions = questions_for(name, read_kept(system))
    assert reply["sentence"] == questions[0].answer.sheet.sentence
    labels = CALCULATORS[name].form.by_key
    for key, text in questions[0].texts.items():
        if text:
            assert labels[key].label in reply["notices"].replace("&amp;", "&"), key
    assert len(reply["abouts"]) == len(questions)


@pytest.mark.parametrize(
    ("name", "key", "value", "field", "expected"),
    [
        ("supply-budget", "alternator_a", "88", "alternator_a", "88"),
        ("supply-budget", "efficiency_percent", "71", "amplifier", "71"),
        ("coil-wiring", "coil_ohm", "2", "speakers", "subs,woofer,2,2,2"),
        ("signal-chain", "source_v", "2.5", "source_v", "2.5"),
        ("signal-chain", "sensitivity_max_v", "7", "amplifier", "0.2,7,1,12"),
        ("turn-on", "amp_trigger", "no", "amplifier", "12,no,yes,no,0.02"),
        ("mounting-reach", "bay_width_mm", "700", "bay_width_mm", "700"),
        ("power-cable", "max_drop_v", "0.4", "max_drop_v", "0.4"),
        ("channel-map", "power_4ohm_w", "61", "amplifier", "4,61,75"),
    ],
)
def test_what_is_changed_goes_back_and_ripples(name, key, value, field, expected):
    """The system has the new figure, all others as before, and what is taken next follows."""
    taken = taken_by(name, EXAMPLE)
    reply = ask("give", name, system=EXAMPLE, about=0, inputs={**taken, key: value})
    assert reply["kind"] == "given", reply
    assert expected in reply["system"][field]
    system = {**EXAMPLE, **reply["system"]}
    before, after = read_kept(EXAMPLE).values, read_kept(system).values
    assert [other for other in before if before[other] != after[other]] == [field]
    assert taken_by(name, system)[key] == value
    assert CALCULATORS[name].form.by_key[key].label in reply["text"]


def test_what_the_system_works_out_is_not_given_back():
    taken = taken_by("supply-budget", EXAMPLE)
    changed = {**taken, "total_power_w": "999"}
    reply = ask("give", "supply-budget", system=EXAMPLE, about=0, inputs=changed)
    assert "Not changed" in reply["text"] and reply["system"] == {}
    reply = ask("give", "supply-budget", system=EXAMPLE, about=0, inputs=taken)
    assert "Nothing changed" in reply["text"]


def test_without_a_system_an_amplifier_or_a_figure_it_is_told_in_words():
    reply = ask("take", "supply-budget", system={**EXAMPLE, "amplifier": ""}, about=0)
    assert reply["kind"] == "told" and "amplifier" in reply["text"]
    reply = ask("take", "bay-heat", system={**BRIDGED, "area_m2": ""}, about=0)
    assert reply["kind"] == "told" and "Outer surface" in reply["text"]
    reply = ask("take", "supply-budget", system={**EXAMPLE, "alternator_a": ""}, about=0)
    assert reply["kind"] == "answer" and "usual" in reply["notices"]
    reply = ask("take", "wire-facts", system=EXAMPLE, about=0)
    assert reply["kind"] == "told"
    for spoilt in ([], 3, "x", {"alternator_a": "<b>"}, {"alternator_a": 3}):
        reply = ask("take", "supply-budget", system=spoilt, about=0)
        assert reply["kind"] == "told" and "cannot be used" in reply["text"]
    reply = ask("give", "supply-budget", system=EXAMPLE, about=0, inputs={"alternator_a": "x"})
    assert reply["kind"] == "refused"


def test_a_link_brings_no_invented_shelf():
    """The sender's list is in no link: the Lantern Van's must not be judged in its place."""

    def opened(query, kept):
        asked = {"kind": "open", "calculator": "amplifier-choice", "query": query, "kept": kept}
        return json.loads(respond(json.dumps(asked)))

    assert "Linden" not in opened("", {})["form"]  # it opens empty
    stranger = opened("?alternator_a=90", {})
    assert stranger["sentence"].startswith("Add a stock list")
    assert "Linden" not in stranger["form"] + stranger["html"]
    reader = opened("?alternator_a=90", {"shelf": "name,channels\nOwn 4,4\n"})
    assert "Own 4" in reader["form"] and "Linden" not in reader["form"]


def test_giving_back_leaves_the_shelf_as_it_was_typed():
    """A list with a column of one's own, and its own order, is nobody's to write anew."""
    shelf = "x_place,name,channels\n3b,Alder,4\n"
    system = {**EXAMPLE, "shelf": shelf}
    taken = taken_by("supply-budget", system)
    changed = {**taken, "alternator_a": "88"}
    reply = ask("give", "supply-budget", system=system, about=0, inputs=changed)
    assert reply["system"] == {"alternator_a": "88"}


def test_a_figure_of_an_amplifier_on_the_shelf_is_not_given_to_the_system():
    shelf = FIT_PLAN.form.by_key["shelf"].write(read_kept(EXAMPLE).amplifiers)
    system = {**EXAMPLE, "amplifier": "", "shelf": shelf}
    taken = taken_by("supply-budget", system)
    reply = ask(
        "give", "supply-budget", system=system, about=0,
        inputs={**taken, "efficiency_percent": "71", "alternator_a": "88"},
    )  # fmt: skip
    assert reply["system"] == {"alternator_a": "88"}
    assert "Not changed" in reply["text"] and "Efficiency" in reply["text"]


def test_a_usual_figure_that_was_taken_is_given_back_only_when_it_is_changed():
    """Without an efficiency the plan takes the usual one; that is not to become the amplifier's."""
    field = FIT_PLAN.form.by_key["amplifier"]
    (amplifier,) = read_kept(EXAMPLE).amplifiers
    unknown = replace(amplifier, efficiency_percent=None)
    system = {**EXAMPLE, "amplifier": field.write((unknown,))}
    taken = taken_by("power-cable", system)
    assert taken["efficiency_percent"] == "80"  # class D
    reply = ask("give", "power-cable", system=system, about=0, inputs={**taken, "duty": "heavy"})
    assert reply["system"] == {"duty": "heavy"}
    reply = ask(
        "give", "power-cable", system=system, about=0, inputs={**taken, "efficiency_percent": "71"}
    )
    (again,) = read_kept({**system, **reply["system"]}).amplifiers
    assert again == replace(amplifier, efficiency_percent=71.0)
