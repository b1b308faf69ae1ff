"""Links: what they hold, that they open to the same values, and what they do not fall for."""

import json
import random
import re
from dataclasses import dataclass
from itertools import product
from typing import Annotated
from urllib.parse import parse_qsl, quote

import pytest
from conftest import each, sampled
from html_parts import Parts
from hypothesis import given as for_all
from hypothesis import strategies as st
from inputs import blamed_together, invalid_inputs, valid_inputs
from payloads import PAYLOADS

from calc.answers.calculator import Calculator, Group
from calc.answers.sheet import Sheet
from calc.app.contents import CALCULATORS, PAGES, chapter_link_of, link_of, page_of, query_of
from calc.app.page import respond
from calc.inputs import declared, links
from calc.inputs.errors import InputError
from calc.inputs.fields import Document, Number, Text
from calc.inputs.form import Form

BRIDGED = CALCULATORS["bridged-output"]
COILS = CALCULATORS["coil-wiring"]
METER = CALCULATORS["meter-check"]


@dataclass(frozen=True, kw_only=True)
class TagInputs:
    name: Annotated[str, Text("Name")] = "Lantern"
    length_m: Annotated[float, Number("Length", low=-1e25, high=1e25)] = 1.0
    note: Annotated[str | None, Text("Note")] = None


TAG = Calculator(
    name="tag",
    title="Tag",
    question="Which?",
    inputs=TagInputs,
    groups=(Group("All", ("name", "length_m", "note")),),
    solve=lambda inputs: inputs,
    present=lambda inputs, _: Sheet(sentence=inputs.name, results=declared.values_of(inputs)),
)
PRINTABLE = st.text(
    st.characters(exclude_categories=["C", "Z"], exclude_characters=",;"), min_size=1, max_size=60
)

every_calculator = pytest.mark.parametrize(
    "calculator", CALCULATORS.values(), ids=list(CALCULATORS)
)
both_pages = pytest.mark.parametrize(
    "on_page", [(BRIDGED.name,), PAGES["bridging/"]], ids=["alone", "of two"]
)


def opened(calculator, query, **more):
    request = {"kind": "open", "calculator": calculator.name, "query": query, **more}
    return json.loads(respond(json.dumps(request)))


def taken_apart(calculator, query, on_page):
    return links.opened(calculator.name, calculator.form, query, on_page)


def values_of(calculator, query):
    on_page = PAGES[page_of(calculator.name)]
    return calculator.form.read(taken_apart(calculator, query, on_page).texts)


def query_for(calculator, given):
    values = calculator.form.read(given)
    on_page = PAGES[page_of(calculator.name)]
    return links.query(calculator.name, calculator.form.write(values), on_page)


@every_calculator
def test_the_example_s_link_is_the_bare_page(calculator):
    """Or that of the empty form, where the page opens with one."""
    answer = calculator.answer(calculator.opens)
    assert link_of(answer) == links.own_page(calculator.name)
    assert query_of(answer) == ""
    spelled = {one.key: calculator.opens.get(one.key, one.default) for one in calculator.fields}
    assert link_of(calculator.answer(spelled)) == links.own_page(calculator.name)


@each("name", ["fit-plan", "amplifier-choice"])
def test_the_link_of_the_example_says_that_it_is_one(name):
    """The page opens empty: the example is in the link with its name, and with the version."""
    calculator = CALCULATORS[name]
    query = query_of(calculator.answer({}))
    held = dict(parse_qsl(query))
    assert held["v"] == "2" and held["example"] == "lantern-van"
    assert opened(calculator, query)["kind"] == "answer"


def test_a_link_is_the_own_page_and_the_keys_that_differ_in_field_order():
    given = {"supply_v": "13,8", "regulated": "no", "power_2ohm_w": "", "load_ohm": " 8.0 "}
    assert link_of(BRIDGED.answer(given)) == (
        "calculators/bridged-output/?load_ohm=8&power_2ohm_w=&supply_v=13.8"
    )
    assert chapter_link_of(BRIDGED.answer(given)) == (
        "bridging/?bridged-output.load_ohm=8&bridged-output.power_2ohm_w="
        "&bridged-output.supply_v=13.8#bridged-output"
    )
    assert link_of(COILS.answer({"drivers": [["2", "4,0"], ["1", "8"]], "bridged": "yes"})) == (
        "calculators/coil-wiring/?drivers=2,4;1,8&bridged=yes"
    )


def test_a_page_with_a_single_calculator_has_no_prefix():
    assert links.query(BRIDGED.name, {"load_ohm": "8", "regulated": "yes"}, (BRIDGED.name,)) == (
        "load_ohm=8&regulated=yes"
    )
    assert taken_apart(BRIDGED, "?load_ohm=8&regulated=yes", (BRIDGED.name,)).texts == {
        "load_ohm": "8",
        "regulated": "yes",
    }
    other = taken_apart(BRIDGED, "load_ohm=8&coil-wiring.coil_ohm=8", (BRIDGED.name,))
    assert other.texts == {"load_ohm": "8"}
    assert "coil-wiring.coil_ohm" in other.notices[0]


@pytest.mark.parametrize("stray", ["load_ohm=8", "bridged-outputs.load_ohm=8"])
def test_a_part_that_belongs_to_no_calculator_of_the_page_is_told_once(stray):
    first, second = PAGES["bridging/"]
    among = [first, second]
    assert "load_ohm" in opened(CALCULATORS[first], stray, among=among)["notices"]
    assert opened(CALCULATORS[second], stray, among=among)["notices"] == ""


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"load_ohm": "8"}, {"load_ohm": " 8,0 "}),
        ({"load_ohm": "2.50"}, {"load_ohm": "2,5"}),
        ({"load_ohm": "8", "rated_v": "13"}, {"rated_v": "13.0", "load_ohm": "8"}),
        ({}, {"load_ohm": "4", "power_8ohm_w": "", "regulated": "no"}),
        ({"power_2ohm_w": ""}, {"power_2ohm_w": "   "}),
    ],
)
def test_equal_inputs_give_equal_links(one, other):
    assert link_of(BRIDGED.answer(one)) == link_of(BRIDGED.answer(other))


@pytest.mark.parametrize(
    "drivers",
    [
        "2,4;1,8",
        " 2 , 4 ; 1 , 8 ",
        "2.0,4.0;1.0,8.00",
        [["2", "4"], ["1", "8"]],
        [[" 2", "4,0"], ["1,0", " 8 "]],
    ],
)
def test_equal_rows_give_equal_links(drivers):
    assert link_of(COILS.answer({"drivers": drivers})) == (
        "calculators/coil-wiring/?drivers=2,4;1,8"
    )


@every_calculator
def test_a_chapter_s_link_and_that_of_the_own_page_open_to_the_same(calculator):
    """Old links hold the calculator's name before each key; its own page reads them as well."""
    given = valid_inputs(calculator, random.Random(f"both {calculator.name}"))
    answer = calculator.answer(given)
    names = PAGES[page_of(calculator.name)]
    own = opened(calculator, query_of(answer))
    query = links.query(calculator.name, answer.changed, names)
    for reply in (opened(calculator, query, among=list(names)), opened(calculator, query)):
        assert (reply["kind"], reply["notices"]) == ("answer", own["notices"])
        assert (reply["html"], reply["query"]) == (own["html"], own["query"])


@each("among", ["bridging", [], ["nix"], [["bridged-output"]], None, [1, "coil-wiring"]])
def test_what_does_not_name_the_page_s_calculators_stands_for_the_own_page(among):
    reply = opened(BRIDGED, "load_ohm=8&coil-wiring.coil_ohm=8", among=among)
    assert reply["query"] == "load_ohm=8"
    assert "coil-wiring.coil_ohm" in reply["notices"]


def test_a_key_with_and_without_its_prefix_is_given_twice():
    reply = opened(BRIDGED, "load_ohm=8&bridged-output.load_ohm=4")
    assert reply["kind"] == "refused" and reply["errors"][0]["field"] == "load_ohm"


@every_calculator
@pytest.mark.parametrize("seed", sampled(range(40), range(8)))
def test_random_inputs_come_back_from_their_link(calculator, seed):
    rng = random.Random(f"link {calculator.name} {seed}")
    given = valid_inputs(calculator, rng)
    # What is private is in no link: it is left out before the comparison, not after it.
    query = query_for(calculator, given)
    private = {one.key for one in calculator.fields if one.private}
    assert not any(key in query for key in private)
    given = {key: raw for key, raw in given.items() if key not in private}
    values = calculator.form.read(given)
    assert values_of(calculator, query) == values
    assert values_of(calculator, f"?{query}") == values
    on_page = PAGES[page_of(calculator.name)]
    assert query_for(calculator, taken_apart(calculator, query, on_page).texts) == query

    keys = [one.key for one in calculator.fields]
    # Of fields that stand for one another, a default that another has cleared needs no word in
    # the link; with none of them given it does.
    stand_ins = {key for group in calculator.alternatives for key in group}
    if all(values[key] is None for key in stand_ins):
        stand_ins = set()
    differing = [
        key
        for key in keys
        if values[key] != calculator.form.read({})[key]
        and not (values[key] is None and key in stand_ins)
    ]
    held = [key for key, _ in parse_qsl(query, keep_blank_values=True)]
    before = links.prefix(calculator.name, on_page)
    assert held == [f"{before}{key}" for key in differing]

    backwards = dict(reversed(given.items()))
    assert query_for(calculator, backwards) == query
    assert re.fullmatch(r"[A-Za-z0-9_.~,;|:()!*'/%&=-]*", query)


@pytest.mark.parametrize(
    ("name", "seed"),
    sampled(
        list(product(CALCULATORS, range(6))),
        [
            (name, seed)
            for name, calculator in CALCULATORS.items()
            for seed in range(1 if calculator.stream else 2)  # a choice takes seconds
        ],
    ),
)
def test_the_page_s_answer_and_its_link_agree(name, seed):
    calculator = CALCULATORS[name]
    given = valid_inputs(calculator, random.Random(f"open {calculator.name} {seed}"))
    given = {key: raw for key, raw in given.items() if not calculator.form.by_key[key].private}
    request = {"kind": "answer", "calculator": calculator.name, "inputs": given}
    answer = json.loads(respond(json.dumps(request)))
    reply = opened(calculator, answer["query"])
    assert reply["kind"] == "answer"
    unsent = [field.not_sent for field in calculator.fields if isinstance(field, Document)]
    told = Parts(reply["notices"]).text
    assert told in ("", *unsent), "a stock list is in no link, and its lack is told"
    last = reply
    while last.get("more"):  # a long answer goes on step by step
        request = {**request, "kind": "stream", "first": False}
        last = json.loads(respond(json.dumps(request)))
    assert (last["html"], last["query"]) == (answer["html"], answer["query"])


@for_all(
    PRINTABLE,
    st.decimals(-(10**12), 10**12, places=9),
    PRINTABLE | st.just(""),
    st.sampled_from([(TAG.name,), (TAG.name, BRIDGED.name)]),
)
def test_any_text_and_any_number_survive_a_link(name, length, note, on_page):
    given = {"name": name, "length_m": f"{length:f}", "note": note}
    answer = TAG.answer(given)
    text = links.query(TAG.name, answer.changed, on_page)
    assert text.isascii()
    assert not set(text) & set(' "<>#\\^`{}')
    assert TAG.form.read(taken_apart(TAG, text, on_page).texts) == answer.inputs


@pytest.mark.parametrize(
    "number",
    [
        "0.1",
        "-0.1",
        "0.30000000000000004",
        "1000000000000000000000000",
        "0.000001",
        "1234567.125",
        "0.00000000000000000001",
    ],
)
def test_a_number_in_a_link_is_exact_and_has_no_exponent(number):
    answer = TAG.answer({"length_m": number})
    text = links.query(TAG.name, answer.changed, (TAG.name,))
    assert "e" not in text.partition("=")[2].lower()
    assert TAG.form.read(taken_apart(TAG, text, (TAG.name,)).texts)["length_m"] == float(number)


@both_pages
def test_an_unknown_field_is_ignored_with_a_notice_that_names_it(on_page):
    before = links.prefix(BRIDGED.name, on_page)
    query = f"{before}load_ohm=8&{before}old_field_w=99&{before}older=%3Cb%3E"
    result = taken_apart(BRIDGED, query, on_page)
    assert result.texts == {"load_ohm": "8"}
    assert len(result.notices) == 2
    assert "old_field_w" in result.notices[0]
    assert "99" in result.notices[0]
    assert "<b>" in result.notices[1]


def test_an_old_link_still_opens_and_says_what_it_ignored():
    reply = opened(BRIDGED, "?bridged-output.load_ohm=8&bridged-output.old_field_w=99")
    assert reply["kind"] == "answer"
    assert reply["query"] == "load_ohm=8"
    assert "old_field_w" in reply["notices"]


@both_pages
@pytest.mark.parametrize("values", [("8", "8"), ("8", "2"), ("", "8"), ("4", "4")])
def test_a_key_given_twice_is_an_error(on_page, values):
    key = links.prefix(BRIDGED.name, on_page) + "load_ohm"
    query = "&".join(f"{key}={value}" for value in values)
    (error,) = taken_apart(BRIDGED, query, on_page).errors
    assert error.field == "load_ohm"
    assert "entered twice" in error.message


def test_a_key_given_twice_is_refused_on_the_page_which_still_has_its_form():
    reply = opened(BRIDGED, "bridged-output.load_ohm=8&bridged-output.load%5Fohm=2")
    assert reply["kind"] == "refused"
    assert [one["field"] for one in reply["errors"]] == ["load_ohm"]
    assert reply["form"].startswith("<form")


def test_a_key_given_twice_is_told_together_with_the_other_errors():
    reply = opened(
        BRIDGED, "bridged-output.load_ohm=8&bridged-output.load_ohm=2&bridged-output.rated_v=x"
    )
    assert {one["field"] for one in reply["errors"]} == {"load_ohm", "rated_v"}


def test_the_keys_of_the_page_s_other_calculators_are_not_looked_at():
    query = "coil-wiring.coil_ohm=x&coil-wiring.coil_ohm=y&coil-wiring.nix=1&"
    among = list(PAGES["coil-wiring/"])
    reply = opened(METER, query + "meter-check.coil_ohm=8", among=among)
    assert reply["kind"] == "answer"
    assert reply["query"] == "coil_ohm=8"
    assert reply["notices"] == ""


@pytest.mark.parametrize("query", ["", "?", "&", "&&&", "?&", "=", "=4", "utm_source=x", "?#"])
def test_a_link_that_asks_nothing_opens_the_example(query):
    reply = opened(BRIDGED, query)
    assert (reply["kind"], reply["query"]) == ("answer", "")
    assert reply["html"] == opened(BRIDGED, "")["html"]


@both_pages
def test_an_overlong_link_is_an_error_and_a_long_one_is_not(on_page):
    before = links.prefix(BRIDGED.name, on_page)
    longest = f"{before}load_ohm=8&x=".ljust(links.LONGEST_QUERY, "y")
    assert taken_apart(BRIDGED, longest, on_page).texts["load_ohm"] == "8"
    (error,) = taken_apart(BRIDGED, longest + "y", on_page).errors
    assert error.field == "link"
    assert len(error.given) <= 41
    assert str(links.LONGEST_QUERY) in error.message


@every_calculator
@pytest.mark.parametrize("seed", sampled(range(15), range(6)))
def test_a_link_with_wrong_values_is_refused_with_every_one_of_them(calculator, seed):
    given = invalid_inputs(calculator, random.Random(f"bad {calculator.name} {seed}"), True)
    given.pop("no_such_field_w", None)
    wrong = set()
    for key, raw in given.items():
        try:
            Form(calculator.fields).read({key: raw})
        except InputError:
            wrong.add(key)
    before = links.prefix(calculator.name, PAGES[page_of(calculator.name)])
    query = "&".join(
        f"{before}{key}={quote(raw, errors='surrogatepass')}" for key, raw in given.items()
    )
    reply = opened(calculator, query)
    assert reply["kind"] == "refused"
    told = {one["field"] for one in reply["errors"]}
    assert wrong <= told <= wrong | blamed_together(calculator)


@each("payload", PAYLOADS)
def test_a_hostile_key_is_ignored_with_a_notice_or_unseen(payload):
    sent = quote(payload, safe="", errors="surrogatepass")
    if len(sent) > links.LONGEST_QUERY:
        sent = sent[:9000]
    result = taken_apart(BRIDGED, f"bridged-output.{sent}=4&{sent}=4", PAGES["bridging/"])
    assert result.texts == {}
    assert 1 <= len(result.notices) <= 2
    for notice in result.notices:
        assert notice.isprintable()
        assert len(notice) < 600
