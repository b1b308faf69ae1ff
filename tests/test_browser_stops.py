"""A worker that stopped is noticed and told; the next input starts another, and inputs stay."""

import re

import pytest
from conftest import wait_ready, wait_sentence, wait_until
from test_image import look_in

LOAD = "#bridged-output--load_ohm"

# Keeps every worker in reach, and loses the requests that window.lost asks for: for the page
# they take for ever.
WORKERS = """
    window.workers = [];
    window.lost = () => false;
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (data, ...rest) {
        if (data.kind === "report") window.workers.push(this); // the theme has workers too
        if (!window.lost(data)) post.call(this, data, ...rest);
    };
"""


@pytest.fixture
def page(context):
    page = context.new_page()
    page.add_init_script(WORKERS)
    return page


def status(page, name="bridged-output"):
    return page.inner_text(f"#{name} .status")


def wait_state(page, state):
    wait_until(page, "(state) => document.documentElement.dataset.python === state", state)


def wait_status(page, text, name="bridged-output"):
    script = f"(text) => document.querySelector('#{name} .status').textContent.includes(text)"
    wait_until(page, script, text)


def started(page):
    return page.evaluate("window.workers.length")


def end(page):
    page.evaluate("window.workers.at(-1).terminate()")


def throw(page):
    """Let something in the worker fail outside any request."""
    workers = [one for one in page.workers if one.url.endswith("runtime/worker.js")]
    workers[-1].evaluate("void setTimeout(() => { throw new Error('out of it'); })")


def lose_answers(page):
    page.evaluate("void (window.lost = ({ text }) => text?.includes('\"answer\"'))")


@pytest.mark.parametrize("stop", [end, throw])
def test_a_worker_that_ends_at_work_is_told_and_starts_again_at_the_next_input(page, served, stop):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.fill("#bridged-output--power_4ohm_w", "60")
    wait_until(page, "location.search.includes('power_4ohm_w=60')")
    lose_answers(page)
    page.fill(LOAD, "8")
    wait_status(page, "Working it out")
    stop(page)
    wait_state(page, "stopped")
    wait_status(page, "The calculator stopped (")
    assert "your inputs are kept" in status(page)
    assert page.is_visible("#bridged-output .earlier")
    assert page.inner_text("#bridged-output [type=submit]") == "Work it out"
    assert started(page) == 1
    page.evaluate("void (window.lost = () => false)")
    page.fill(LOAD, "6")
    # 60 W into 4 Ω a channel: bridged into 6 Ω each channel sees 3 Ω.
    wait_sentence(page, "bridged-output", "Bridged into 6 Ω")
    assert page.input_value("#bridged-output--power_4ohm_w") == "60"
    assert started(page) == 2
    assert not page.is_visible("#bridged-output .earlier")


def test_a_worker_that_ends_at_rest_is_told_and_starts_again(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.fill(LOAD, "8")
    wait_sentence(page, "bridged-output", "about 100 W")
    end(page)
    wait_status(page, "The calculator stopped (")
    # A calculator that was asked nothing has nothing to tell.
    assert status(page, "channel-map") == ""
    assert page.input_value(LOAD) == "8"
    page.press(LOAD, "Enter")
    wait_status(page, "Bridged into 8")
    assert started(page) == 2


def test_a_link_that_was_being_opened_is_opened_all_the_same(page, served):
    page.add_init_script('window.lost = (data) => data.text?.includes(\'"kind":"open"\')')
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_ready(page)
    page.evaluate("void (window.lost = () => false)")
    end(page)
    # What was in the link stands nowhere but in the address: it is not left to the next input.
    wait_sentence(page, "bridged-output", "about 100 W")
    assert page.input_value(LOAD) == "8"
    assert started(page) == 2


def test_a_worker_that_stops_time_and_again_is_not_started_for_ever(page, served):
    page.clock.install()
    page.goto(served.url + "bridging/")
    wait_ready(page)
    lose_answers(page)
    for at, load in enumerate(["8", "6"]):
        page.fill(LOAD, load)
        wait_until(page, "(count) => window.workers.length === count", at + 1)
        wait_ready(page)
        wait_status(page, "Working it out")
        end(page)
        wait_until(page, "document.documentElement.dataset.python !== 'ready'")
    wait_state(page, "failed")
    wait_status(page, "it stopped again")
    assert "reload the page" in status(page)
    page.fill(LOAD, "5")
    page.clock.run_for(1000)  # more than a change of the inputs is waited for
    assert started(page) == 2
    assert page.input_value(LOAD) == "5"


def test_an_error_of_python_in_one_request_stops_nothing(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    kinds = page.evaluate(
        """() => new Promise((resolve) => {
            const worker = window.workers[0];
            const kinds = [];
            worker.addEventListener("message", ({ data }) => {
                kinds.push(data.kind);
                if (kinds.length === 2) resolve(kinds);
            });
            const ask = (id, calculator) => worker.postMessage({ id, text: JSON.stringify({
                kind: "answer", calculator, inputs: {} }) });
            ask(1001, "no-such-one");
            ask(1002, "bridged-output");
        })"""
    )
    assert kinds == ["broken", "reply"]


def typed_before_any_practice(page, text):
    """Type without putting the cursor into the field first, as no person does."""
    page.evaluate(
        """([field, text]) => {
            const entry = document.querySelector(field);
            entry.value = text;
            entry.dispatchEvent(new Event("input", { bubbles: true }));
        }""",
        [LOAD, text],
    )


def told_at_work(page):
    typed_before_any_practice(page, "8")
    wait_status(page, "The calculator stopped (")


def seen_in_practice(page):
    page.focus(LOAD)  # nothing is asked for yet, and nothing lost
    wait_state(page, "stopped")


@pytest.mark.parametrize("found", [told_at_work, seen_in_practice])
def test_a_python_that_died_is_replaced(context, page, served, found):
    context.watch.excused += ["yodide", "fatal error"]  # the runtime tells of its end
    look_in(context)
    page.goto(served.url + "bridging/")
    wait_ready(page)
    (worker,) = [one for one in page.workers if one.url.endswith("runtime/worker.js")]
    worker.evaluate("void self.seen.module.HEAPU8.fill(0)")  # now its code runs into a trap
    found(page)
    page.fill(LOAD, "6")
    wait_sentence(page, "bridged-output", "Bridged into 6 Ω")
    assert started(page) == 2


def test_a_worker_of_another_version_is_not_listened_to(context, served, site):
    text = (site / "assets" / "runtime" / "worker.js").read_text(encoding="utf-8")
    (edition,) = re.findall(r'edition:"([0-9a-f]{16})"', text)
    assert edition in (site / "assets" / "page.js").read_text(encoding="utf-8")
    other = text.replace(edition, "0" * 16)
    context.route(
        "**/runtime/worker.js",
        lambda route: route.fulfill(body=other, content_type="text/javascript"),
    )
    page = context.new_page()
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_until(page, "document.documentElement.dataset.python === 'failed'")
    told = page.inner_text("#bridged-output .status")
    assert "of another version than this page: reload the page" in told
    assert "can still be read" in told
