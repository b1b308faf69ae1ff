"""Input that would grow: small links that hold much, long lists of errors, replies too large."""

import json

import pytest
from hostile_pages import packed
from html_parts import Parts

from calc.__main__ import main
from calc.app import page
from calc.app.contents import CALCULATORS, PAGES, page_of
from calc.app.page import LARGEST_REPLY, respond
from calc.inputs.errors import MOST_ERRORS, FieldError, InputError
from calc.inputs.links import LONGEST_QUERY, MOST_NOTICES, PACKED, opened, prefix

NAME = "coil-wiring"
BEFORE = prefix(NAME, PAGES[page_of(NAME)])


def open_link(query):
    return opened(NAME, CALCULATORS[NAME].form, query, PAGES[page_of(NAME)])


def reply_to(kind, **request):
    return json.loads(respond(json.dumps({"kind": kind, "calculator": NAME, **request})))


IGNORED = f"{BEFORE}{PACKED}={packed('&'.join(['a=b'] * 4999))}"  # 4,999 parts, 4 signs each


def test_a_short_link_that_holds_thousands_of_parts_tells_ten_and_counts_the_rest():
    assert len(IGNORED) < 130
    notices = open_link(IGNORED).notices
    assert len(notices) == MOST_NOTICES + 1
    assert notices[-1] == "And 4989 more."  # 4,999 less the ten that are told
    reply = reply_to("open", query=IGNORED)
    assert reply["kind"] == "answer"
    assert Parts(reply["notices"]).text.count("was ignored") == MOST_NOTICES
    assert "And 4989 more." in Parts(reply["notices"]).text


@pytest.mark.parametrize("number", [1, MOST_NOTICES])
def test_a_few_parts_that_are_ignored_are_all_told(number):
    notices = open_link("&".join([f"{BEFORE}a=b"] * number)).notices
    assert len(notices) == number
    assert all("ignored" in one for one in notices)


def test_a_packed_part_given_again_is_an_error_and_is_not_unpacked():
    query = "&".join([IGNORED] * 100)
    asked = open_link(query)
    assert asked.notices[-1] == "And 4989 more."
    assert len(asked.errors) == 99
    assert all("twice" in one.message for one in asked.errors)
    reply = reply_to("open", query=query)
    assert reply["kind"] == "refused"
    assert len(json.dumps(reply)) < 100_000
    changed = f"{BEFORE}{PACKED}={packed('coil_ohm=8')}"
    assert open_link(f"{changed}&{changed}").texts == {"coil_ohm": "8"}


def test_what_unpacks_to_more_than_a_link_may_hold_is_refused():
    fits = "&".join(["a=b"] * 5000)[:LONGEST_QUERY]
    assert open_link(f"{BEFORE}{PACKED}={packed(fits)}").errors == ()
    (error,) = open_link(f"{BEFORE}{PACKED}={packed('x' * (LONGEST_QUERY + 1))}").errors
    assert "damaged" in error.message


def test_hundreds_of_repeated_keys_in_a_link_tell_a_hundred():
    # 901 times the key, of which 900 are repeats.
    reply = reply_to("open", query="&".join([f"{BEFORE}limit=5"] * 901))
    assert (len(reply["errors"]), reply["more_errors"]) == (100, 800)
    assert "And 890 more." in Parts(reply["html"]).text  # ten of one field are told
    assert "more" not in reply  # would have the page ask for more of an answer


@pytest.mark.parametrize("number", [100, 101, 100_000])
def test_many_unknown_fields_are_counted_and_not_all_told(number, capsys):
    inputs = {f"nix{at}": "1" for at in range(number)}
    reply = reply_to("answer", inputs=inputs)
    assert (len(reply["errors"]), reply["more_errors"]) == (100, number - 100)
    assert len(json.dumps(reply)) < 200_000
    assert main([NAME, *(f"{key}=1" for key in inputs), "--json"]) == 2
    told = json.loads(capsys.readouterr().err)
    assert list(told) == ["errors", "more"]
    assert (len(told["errors"]), told["more"]) == (100, number - 100)
    assert main([NAME, *(f"{key}=1" for key in inputs)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 100 + (number > 100)
    assert (lines[-1] == f"And {number - 100} more.") == (number > 100)


def test_a_long_list_of_one_field_does_not_hide_the_others():
    many = [FieldError("shelf", "", f"{at}") for at in range(500)]
    told = InputError([*many, FieldError("load_ohm", "x", "last"), FieldError("shelf", "", "z")])
    assert len(told.errors) == MOST_ERRORS
    assert told.more == 402  # 502 less the hundred told
    assert [one.message for one in told.errors] == [*map(str, range(99)), "last"]


def test_the_count_of_what_is_left_out_adds_up():
    told = InputError([FieldError(f"f{at}", "", "") for at in range(150)], more=7)
    assert [one.field for one in told.errors] == [f"f{at}" for at in range(100)]
    assert told.more == 57  # 50 here, and seven that were left out before


def test_a_reply_of_more_than_two_megabytes_is_told_and_not_sent(monkeypatch):
    huge = {"kind": "handed-over", "text": "x" * LARGEST_REPLY, "name": "a.txt"}
    monkeypatch.setattr(page, "_handed_over", lambda *_: huge)
    reply = reply_to("hand-over", inputs={}, **{"as": "text"})
    assert list(reply) == ["kind", "text"]
    assert reply["kind"] == "failed"
    assert "larger than 2 MB" in reply["text"]
    fits = {"kind": "handed-over", "text": "x" * (LARGEST_REPLY - 100), "name": "a.txt"}
    monkeypatch.setattr(page, "_handed_over", lambda *_: fits)
    assert reply_to("hand-over", inputs={}, **{"as": "text"}) == fits


def test_kept_inputs_that_make_a_form_too_large_fail_in_words():
    # Each of these signs takes six in the reply.
    kept = {"shelf": "\u00e9" * 900_000}
    request = {"kind": "fill", "calculator": "amplifier-choice", "inputs": kept}
    text = respond(json.dumps(request))
    assert len(text) < LARGEST_REPLY
    assert json.loads(text)["kind"] == "failed"


@pytest.mark.parametrize("kind", ["fill", "open", "answer", "take"])
def test_what_lies_deep_within_itself_fails_in_words(kind):
    deep = '{"a":' * 100_000 + "1" + "}" * 100_000
    for key in ("inputs", "kept", "system"):
        rest = '"query":"","about":0,' + "".join(
            f'"{one}":{{}},' for one in ("inputs", "kept", "system") if one != key
        )
        text = f'{{"kind":"{kind}","calculator":"fit-plan",{rest}"{key}":{deep}}}'
        reply = json.loads(respond(text))
        assert reply["kind"] == "failed"
        assert "too deep" in reply["text"]


@pytest.mark.parametrize("depth", [5, 200])
def test_lists_within_lists_are_refused_as_no_input(depth):
    reply = reply_to("answer", inputs={"drivers": json.loads("[" * depth + "]" * depth)})
    assert reply["kind"] == "refused"
    assert reply["errors"][0]["given"].isprintable()
