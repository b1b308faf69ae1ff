"""What cannot be made is told as such and why, and never as if it were there."""

import json
from dataclasses import replace

import pytest
from choosing_systems import long_system
from conftest import sampled, wait_ready, wait_until

from calc.app import page as pages
from calc.app.contents import CALCULATORS, PAGES
from calc.app.page import respond
from calc.inputs.links import query
from calc.renderers.qr import LONGEST
from calc.setup.test_tone import sheet


def reply(**request):
    return json.loads(respond(json.dumps(request)))


def test_a_link_too_long_for_a_code_is_a_failure_of_its_own_kind():
    link = "https://example.org/" + "x" * LONGEST
    assert reply(kind="qr", calculator="bridged-output", link=link) == {
        "kind": "failed",
        "text": "The QR code was not made: the link is longer than 2683 characters.",
    }


@pytest.mark.parametrize(
    ("error", "why"),
    [
        (ValueError("the tone has no end"), "the tone has no end"),
        (MemoryError(), "there is not enough memory"),
    ],
)
def test_a_sound_that_cannot_be_made_says_why(monkeypatch, error, why):
    def wav(**_):
        raise error

    monkeypatch.setattr(sheet, "tone_wav", wav)
    made = reply(kind="sound", calculator="test-tone", inputs={})
    assert made == {"kind": "failed", "text": f"The sound was not made: {why}."}


@pytest.mark.parametrize(
    ("shape", "what"), [("text", "text"), ("json", "file"), ("csv", "file"), ("file", "file")]
)
def test_a_file_that_cannot_be_made_says_why(monkeypatch, shape, what):
    def write(*_):
        raise MemoryError

    for name, (_, ending) in pages.HAND_OVERS.items():
        monkeypatch.setitem(pages.HAND_OVERS, name, (write, ending))
    spoilt = replace(CALCULATORS["fit-plan"], write_file=write)
    monkeypatch.setattr(pages, "CALCULATORS", {**CALCULATORS, "fit-plan": spoilt})
    made = reply(kind="hand-over", calculator="fit-plan", inputs={}, **{"as": shape})
    text = f"The {what} was not made: there is not enough memory."
    assert made == {"kind": "failed", "text": text}


def status(page, name):
    return page.inner_text(f"#{name} .status")


def test_the_page_says_that_no_code_was_made_and_why(page, served):
    plan = CALCULATORS["fit-plan"]
    values = plan.form.read(long_system())
    page.goto(f"{served.url}plan/?{query('fit-plan', plan.form.write(values), PAGES['plan/'])}")
    wait_ready(page)
    wait_until(page, "document.querySelector('#fit-plan .status').textContent !== ''")
    page.click("#fit-plan [data-hand-over=qr]")  # of the link, which a code does hold
    page.wait_for_selector("#fit-plan .qr svg")
    page.click("#fit-plan [data-hand-over=qr-file]")
    wait_until(page, "document.querySelector('#fit-plan .status').textContent.includes('not made')")
    assert status(page, "fit-plan") == (
        "The QR code was not made: the file is longer than 2683 characters."
    )
    assert not page.is_visible("#fit-plan .qr")


ANSWER_WITH = """([kind, message]) => {
    // What the worker says to each request of this kind; and all that the live region says.
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (data, ...rest) {
        if (!data.text?.includes(`"kind":"${kind}"`)) return post.call(this, data, ...rest);
        this.onmessage({ data: { ...message, id: data.id } });
    };
    for (const status of window.said ? [] : document.querySelectorAll(".status")) {
        new MutationObserver(() => window.said.push(status.textContent))
            .observe(status, { childList: true });
    }
    window.said = [];
}"""

FAILED = {"kind": "failed", "text": "The thing was not made: a reason."}
FAILS = {"kind": "reply", "text": json.dumps(FAILED)}
BREAKS = {"kind": "broken", "reason": "Traceback: …\nValueError: a reason\n"}
REFUSED = {"kind": "refused", "errors": [], "more_errors": 0, "html": ""}
REFUSES = {"kind": "reply", "text": json.dumps(REFUSED)}


BUTTONS = [
    ("calculators/test-tone/", "test-tone", "[data-sound=play]", "sound", "sound"),
    ("calculators/test-tone/", "test-tone", "[data-sound=save]", "sound", "sound"),
    ("bridging/", "bridged-output", "[data-hand-over=csv]", "hand-over", "file"),
    ("bridging/", "bridged-output", "[data-hand-over=json]", "hand-over", "file"),
    ("bridging/", "bridged-output", "[data-hand-over=text]", "hand-over", "text"),
    ("bridging/", "bridged-output", "[data-hand-over=qr]", "qr", "QR code"),
    ("plan/", "fit-plan", "[data-hand-over=file]", "hand-over", "file"),
    ("plan/", "fit-plan", "[data-hand-over=qr-file]", "qr-file", "QR code"),
]


@pytest.mark.parametrize(
    ("address", "name", "button", "kind", "what"), sampled(BUTTONS, BUTTONS[::2])
)
def test_the_page_says_what_was_not_made(page, served, address, name, button, kind, what):
    saved = []
    page.on("download", lambda download: saved.append(download))
    page.goto(served.url + address)
    wait_ready(page)
    mend = "was played" if kind == "sound" else "was taken"
    for message, sentence in (
        (FAILS, FAILED["text"]),
        (BREAKS, f"The {what} was not made: an error in the calculator (ValueError: a reason)."),
        (REFUSES, f"Correct the inputs first; nothing {mend}."),
    ):
        page.evaluate(ANSWER_WITH, [kind, message])
        page.click(f"#{name} {button}")
        wait_until(page, "window.said.length > 0")
        page.wait_for_timeout(50)
        assert page.evaluate("window.said") == [sentence]
    assert page.locator(".sound-bar").count() == 0
    assert page.query_selector(f"#{name} .qr svg") is None
    assert saved == []


REFUSALS = {
    "answered with nothing": "async () => undefined",
    "forbidden": "async () => { throw new DOMException('insecure', 'SecurityError'); }",
    "broken off": "async () => { throw new TypeError('An unknown error occurred at x.'); }",
}


@pytest.mark.parametrize("way", REFUSALS)
def test_why_nothing_is_saved_for_offline_use_is_said_in_our_own_words(page, served, way):
    page.add_init_script(f"ServiceWorkerContainer.prototype.register = {REFUSALS[way]};")
    page.goto(served.url + "sources/")
    told = "document.querySelector('.offline-word').textContent"
    wait_until(page, f"{told}.startsWith('Not saved')")
    is_broken_off = way == "broken off"
    why = "saving was interrupted" if is_broken_off else "this browser or address does not allow it"
    end = "." if way == "answered with nothing" else ". It is tried again by itself."
    assert page.evaluate(told) == f"Not saved for offline use: {why}{end}"
