"""CPython and the page's Python give the same bytes, for good inputs and for bad ones."""

import json
import random

import pytest
from conftest import wait_ready, wait_sentence, wait_until
from inputs import invalid_inputs, valid_inputs

from calc.app.contents import CALCULATORS
from calc.app.page import respond

VALID, INVALID = 4, 3
FEW_OF_MANY = {"amplifier-choice": 2, "fit-plan": 2}  # they take long in the page
# How many times as many the long run takes; of those that take a second or more each.
LONG, LONG_OF_SLOW = 240, 24

_ASK = """async (texts) => {
    // One for all: what a worker answered before must not show in what it answers next.
    globalThis.asked ??= new Worker(new URL("assets/runtime/worker.js", document.baseURI), {
        type: "module",
    });
    const worker = globalThis.asked;
    const replies = [];
    await new Promise((resolve, reject) => {
        worker.onmessage = ({ data }) => {
            if (data.kind === "reply") replies[data.id] = data.text;
            else reject(new Error(JSON.stringify(data)));
            if (replies.filter((text) => text !== undefined).length === texts.length) resolve();
        };
        texts.forEach((text, id) => worker.postMessage({ id, text }));
    });
    return replies;
}"""


def times(name, is_long):
    """Return how many times as many inputs are asked as in a short run."""
    if not is_long:
        return 1
    return LONG_OF_SLOW if name in FEW_OF_MANY else LONG


def valid_of(name, is_long):
    """Return how many valid inputs are asked."""
    if name in FEW_OF_MANY and not is_long:
        return VALID // 2
    return VALID * times(name, is_long)


def requests_for(name, is_long):
    calculator = CALCULATORS[name]
    # With these words none of the first plans and choices takes long.
    rng = random.Random(f"{name} on a page")
    inputs = [valid_inputs(calculator, rng) for _ in range(valid_of(name, is_long))]
    inputs += [invalid_inputs(calculator, rng) for _ in range(INVALID * times(name, is_long))]
    texts = [
        json.dumps({"kind": "answer", "calculator": name, "inputs": given}) for given in inputs
    ]
    hand_overs = [
        json.dumps({"kind": "hand-over", "calculator": name, "inputs": given, "as": shape})
        for given in inputs[: 10 if is_long else 2]
        for shape in ("text", "csv")
    ]
    opens = [
        json.dumps({"kind": "open", "calculator": name, "query": f"?{name}.zzz=1&{name}.{key}=1"})
        for key in list(calculator.form.by_key)[: None if is_long else FEW_OF_MANY.get(name, 4)]
    ]
    return texts, hand_overs + opens


@pytest.fixture(scope="module")
def asked(browser, served):
    """A page whose worker is asked all that this module asks."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.goto(served.url)
    yield page
    context.close()


@pytest.mark.parametrize("name", list(CALCULATORS))
def test_answers_are_the_same_bytes_in_the_page(asked, name, is_long):
    answers, others = requests_for(name, is_long)
    replies = asked.evaluate(_ASK, answers + others)
    kinds = []
    for text, reply in zip(answers + others, replies, strict=True):
        assert reply == respond(text), text
        kinds.append(json.loads(reply)["kind"])
    valid = valid_of(name, is_long)
    assert set(kinds[:valid]) == {"answer"}
    assert set(kinds[valid : len(answers)]) == {"refused"}


def test_plain_loading_gives_the_same_answers(context, served):
    context.watch.excused.append("memory image did not load")
    context.watch.excused.append("404")
    context.watch.excused.append("ERR_FAILED")
    context.route("**/snapshot.bin", lambda route: route.abort())
    page = context.new_page()
    page.goto(served.url + "bridging/")
    assert wait_ready(page) == "plain"
    page.fill("#bridged-output--load_ohm", "8")
    wait_sentence(page, "bridged-output", "about 100 W")


@pytest.mark.full
def test_a_broken_image_falls_back_to_plain_loading(context, served):
    context.watch.excused.append("memory image did not load")
    context.route("**/snapshot.bin", lambda route: route.fulfill(body=b"not an image"))
    page = context.new_page()
    page.goto(served.url + "coil-wiring/")
    assert wait_ready(page) == "plain"


def test_usual_start_is_from_the_image(page, served):
    page.goto(served.url + "coil-wiring/")
    assert wait_ready(page) == "image"


def test_a_runtime_that_cannot_load_leaves_a_readable_page(context, served):
    context.watch.excused += ["ERR_FAILED", "memory image did not load", "Failed to load"]
    context.route("**/python.wasm.bin", lambda route: route.abort())
    page = context.new_page()
    page.goto(served.url + "bridging/")
    page.wait_for_selector("html[data-python=failed]")
    told = page.inner_text("#bridged-output .status")
    assert told.startswith("The calculator could not be started")
    assert "can still be read" in told
    assert "150" in page.inner_text("#bridged-output .answer .sentence")
    page.fill("#bridged-output--load_ohm", "8")
    word = "document.querySelector('#bridged-output [type=submit]').textContent"
    wait_until(page, f"{word} === 'Work it out'")
