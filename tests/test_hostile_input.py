"""Hostile input: refused in words, on every way in, and never taken for markup or a formula."""

import functools
import json
from urllib.parse import quote

import pytest
from conftest import each
from html_parts import Parts
from inputs import beside, blamed_together
from payloads import PAYLOADS, tried

from calc.app.contents import CALCULATORS, PAGES, page_of
from calc.app.page import respond
from calc.inputs.errors import shown
from calc.inputs.field_base import Refused
from calc.inputs.fields import Document, Number, Text
from calc.inputs.links import LONGEST_QUERY, prefix
from calc.inputs.rows import Rows

NAMES = list(CALCULATORS)
# The limits of a link's length are told elsewhere; here the whole form is filled at once.
SENT = tuple(payload[:400] for payload in PAYLOADS)
every_name = pytest.mark.parametrize("name", NAMES)
every_payload = each("payload", SENT)
some_payloads = each("payload", SENT, one_in=5)  # all of them in the long run
# Where fields take turns as well, by threes: so that each field has its share of payloads.
fewer_payloads = each("payload", SENT, one_in=6)


def reply_to(kind, name, **request):
    text = respond(json.dumps({"kind": kind, "calculator": name, **request}))
    assert text.isascii()
    return json.loads(text)


def key_in_link(name, key):
    """Return a field's key as the link of its page has it."""
    calculator = CALCULATORS[name]
    return prefix(calculator.name, PAGES[page_of(calculator.name)]) + key


def opened(name, payload, extra=""):
    """Open a link that gives the payload to every field."""
    sent = quote(payload, safe="", errors="surrogatepass")
    keys = [key_in_link(name, key) for key in CALCULATORS[name].form.by_key]
    left = LONGEST_QUERY - len(extra) - sum(len(key) + 2 for key in keys)
    sent = sent[: left // len(keys)]
    query = "&".join(f"{key}={sent}" for key in keys) + extra
    return reply_to("open", name, query=query)


def refused_alone(name, inputs):
    """Return the keys whose own field refuses; the others depend on further fields."""
    keys = []
    for one in CALCULATORS[name].fields:
        try:
            one.read(inputs[one.key])
        except Refused:
            keys.append(one.key)
    return keys


def in_cells(name, payload):
    """Return inputs with the payload in each cell of each table, else in the text fields."""
    return {
        one.key: [[payload] * len(one.columns)] * 2 if isinstance(one, Rows) else payload
        for one in CALCULATORS[name].fields
    }


def shapes(reply):
    """Return the tags and the attributes of everything that the page would show."""
    read = [Parts(reply[part]) for part in ("html", "form", "notices") if part in reply]
    assert [one.wrong for one in read] == [[]] * len(read)
    assert all(href.startswith("#") for one in read for href in one.values("href"))
    tags, attributes = set(), set()
    for one in read:
        tags |= one.tags
        attributes |= one.attributes
    return tags, attributes


@functools.cache
def ordinary(name):
    """Return the shapes of replies to nothing worse than an `x`."""
    tags, attributes = shapes(opened(name, "x", f"&{key_in_link(name, 'old')}=x"))
    for reply in (opened(name, "x,x"), reply_to("answer", name, inputs=in_cells(name, "x"))):
        more_tags, more_attributes = shapes(reply)
        tags, attributes = tags | more_tags, attributes | more_attributes
    return tags, attributes


@every_name
def test_an_ordinary_reply_has_nothing_that_runs(name):
    tags, attributes = ordinary(name)
    assert {"form", "input", "li", "a"} <= tags
    assert not tags & {
        "script",
        "style",
        "iframe",
        "object",
        "embed",
        "link",
        "meta",
        "base",
        "img",
        "foreignobject",
        "use",
        "animate",
        "set",
    }
    assert not {one for one in attributes if one.startswith("on")}
    assert not attributes & {"src", "srcdoc", "style", "action", "formaction", "xlink:href"}


@every_name
@some_payloads
def test_a_link_with_the_payload_in_every_field_is_refused(name, payload):
    reply = opened(
        name, payload, f"&{key_in_link(name, 'old')}={quote(payload[:30], errors='replace')}"
    )
    assert reply["kind"] == "refused"
    arrives = payload.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    given = dict.fromkeys(CALCULATORS[name].form.by_key, arrives)
    told = {one["field"] for one in reply["errors"]}
    assert told >= set(refused_alone(name, given))
    assert told - set(refused_alone(name, given)) <= blamed_together(CALCULATORS[name])
    tags, attributes = shapes(reply)
    assert tags <= ordinary(name)[0]
    # Many rows fill a table, whose button then rests.
    assert attributes <= ordinary(name)[1] | {"disabled"}
    for part in ("html", "form", "notices"):
        assert ">" not in payload or payload not in reply[part]


@every_name
@some_payloads
@pytest.mark.parametrize("cells", [False, True], ids=["texts", "cells"])
def test_a_form_with_the_payload_in_every_field_is_refused(name, payload, cells):
    keys = list(CALCULATORS[name].form.by_key)
    inputs = in_cells(name, payload) if cells else dict.fromkeys(keys, payload)
    reply = reply_to("answer", name, inputs=inputs)
    assert reply["kind"] == "refused"
    told = {one["field"] for one in reply["errors"]}
    assert told >= set(refused_alone(name, inputs))
    assert told - set(refused_alone(name, inputs)) <= blamed_together(CALCULATORS[name])
    tags, attributes = shapes(reply)
    assert tags <= ordinary(name)[0]
    assert attributes <= ordinary(name)[1]
    text = Parts(reply["html"]).text
    by_field = [[one for one in reply["errors"] if one["field"] == key] for key in told]
    assert all(one["message"] in text for own in by_field for one in own[:10])
    rest = sum(len(own[10:]) for own in by_field) + reply["more_errors"]
    assert (f"And {rest} more." in text) == (rest > 0)
    assert shown(payload.strip()) in text
    for one in reply["errors"]:
        assert one["given"].isprintable()
        assert one["message"].replace("\u202f", "").isprintable()
    for shape in ("text", "json", "csv"):
        refused = reply_to("hand-over", name, inputs=inputs, **{"as": shape})
        assert refused["errors"] == reply["errors"]


@every_name
@some_payloads
def test_the_form_keeps_the_text_to_be_corrected(name, payload):
    one = next(one for one in CALCULATORS[name].fields if isinstance(one, Number | Text))
    kept = payload.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    sent = quote(payload, safe="", errors="surrogatepass")
    reply = reply_to("open", name, query=f"{key_in_link(name, one.key)}={sent}")
    (value,) = [
        attributes["value"]
        for tag, attributes in Parts(reply["form"]).elements
        if attributes.get("name") == one.key
    ]
    assert value == kept


@every_payload
def test_an_unknown_field_of_that_name_is_an_error_in_a_form_and_a_notice_in_a_link(payload):
    reply = reply_to("answer", "bridged-output", inputs={payload: payload})
    (error,) = reply["errors"]
    assert error["field"] == error["given"] == shown(payload)
    assert shown(payload) in Parts(reply["html"]).text
    sent = quote(payload, safe="", errors="surrogatepass")
    reply = reply_to("open", "bridged-output", query=f"bridged-output.{sent}={sent}")
    assert reply["kind"] == "answer"
    assert Parts(reply["notices"]).tags == {"p"}
    assert not set("<>") & set(payload) or "&lt;" in reply["notices"] or "&gt;" in reply["notices"]


@every_name
@fewer_payloads
def test_each_text_field_alone_refuses_the_payload(name, payload, is_long):
    for one in tried(CALCULATORS[name].fields, SENT.index(payload), is_long):
        quick = beside(CALCULATORS[name], one.key)
        reply = reply_to("answer", name, inputs={**quick, one.key: payload})
        if reply["kind"] == "answer":  # a name may be what it likes; it stays text
            text = one.read(payload)
            assert isinstance(one, Text) and (one.hidden or text in Parts(reply["html"]).text)
            plain = reply_to("answer", name, inputs=quick)["html"]
            assert Parts(reply["html"]).tags == Parts(plain).tags
            continue
        told = [error["field"] for error in reply["errors"]]
        # A table and a file are told cell by cell.
        assert told.count(one.key) == 1 or (isinstance(one, Rows | Document) and one.key in told)
        assert set(told) - {one.key} <= blamed_together(CALCULATORS[name])
        assert Parts(reply["html"]).tags == {"p", "ul", "li", "a"}


@pytest.mark.parametrize(
    ("name", "inputs"),
    [
        ("meter-check", {"reading_ohm": "x", "intended": "<b>"}),
        ("meter-check", {"drivers": "2,4;2,4;2,4;2,4;2,4", "intended": "?"}),
        ("coil-wiring", {"limit": "0", "drivers": "4", "coils_per_driver": "8"}),
    ],
)
def test_what_depends_on_several_fields_is_told_at_once_too(name, inputs):
    told = {one["field"] for one in reply_to("answer", name, inputs=inputs)["errors"]}
    assert told >= set(inputs) - {"coils_per_driver"}


def test_half_a_surrogate_pair_in_a_link_is_refused_and_the_reply_still_arrives():
    reply = reply_to("open", "bridged-output", query="bridged-output.load_ohm=\ud800")
    assert reply["kind"] == "refused"
    assert "\\ud800" in reply["html"]


@pytest.mark.parametrize(
    "inputs",
    [
        None,
        5,
        "x",
        [],
        [["load_ohm", "4"]],
        {"load_ohm": None},
        {"load_ohm": 4},
        {"load_ohm": True},
        {"load_ohm": ["4"]},
        {"load_ohm": [[4]]},
        {"load_ohm": {"a": "4"}},
        {"load_ohm": []},
        {"load_ohm": [[]]},
        {"load_ohm": [["4"]]},
        {"load_ohm": [[["4"]]]},
        {"": "4"},
        {"load_ohm ": "4"},
    ],
)
def test_inputs_of_a_shape_that_no_form_sends_are_refused(inputs):
    for request in ({"kind": "answer"}, {"kind": "hand-over", "as": "csv"}):
        reply = reply_to(request.pop("kind"), "bridged-output", inputs=inputs, **request)
        assert reply["kind"] == "refused"
        assert Parts(reply["html"]).wrong == []


def test_the_key_of_a_value_of_the_wrong_type_is_quoted_printable():
    reply = reply_to("answer", "bridged-output", inputs={"\x00\x1b": 5})
    assert reply["errors"][0]["field"].isprintable()


def test_a_link_of_three_thousand_rows_does_not_make_a_form_of_megabytes():
    reply = reply_to("open", "channel-map", query="channel-map.sections=" + ";" * 3000)
    assert reply["kind"] == "refused"
    assert len(reply["form"]) < 1_000_000


@pytest.mark.parametrize(
    "text",
    [
        "((((((((((1a",
        "1a+",
        "+1a",
        "1a1b",
        "1a|1a|1b|2a|2b",
        "1a|1b|2a",
        "(1a+1b)|(2a+2b))",
        "1a|1b+2a|2b",
        "(1a+1b)(2a+2b)",
        "()",
        ")",
        "9z",
        "1A|1b|2a|2b",
        "16",
        "1000",
        "00000",
        "-1",
        "1.0",
        "1e0",
        "\u0661",
        "\u00b9",
        "1a\u202e|1b",
        "1a–1b",
        "(" * 60,
        "1a|" * 20,
        "x" * 61,
    ],
)
def test_a_circuit_that_cannot_be_read_is_refused(text):
    reply = reply_to("answer", "meter-check", inputs={"intended": text})
    assert [one["field"] for one in reply["errors"]] == ["intended"]
    assert len(reply["errors"][0]["message"]) < 400


@every_payload
def test_any_text_has_a_qr_code_or_a_word_why_not(payload):
    # Half a surrogate pair is no sign, which UTF-8 could hold.
    is_text = not any("\ud800" <= sign <= "\udfff" for sign in payload)
    for text in (payload[:100], payload * 2001, ""):
        reply = reply_to("qr", "bridged-output", link=text)
        if (is_text and len(text) <= 100) or not text:
            assert reply["kind"] == "handed-over"
            assert Parts(reply["text"]).tags == {"svg", "title", "rect", "path"}
            continue
        # Words and no code, and nothing of the link in them.
        why = (
            "is longer than 2683 characters"
            if is_text
            else "holds a character that cannot be written"
        )
        assert reply == {"kind": "failed", "text": f"The QR code was not made: the link {why}."}
