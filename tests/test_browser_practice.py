"""Python practises when the cursor comes into a field; nobody sees anything of it."""

import json

from conftest import wait_ready, wait_sentence, wait_until

CARD = "bridged-output"
SPY = """window.sent = [];
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message) {
    window.sent.push(message.kind);
    return post.call(this, message);
};"""


def opened(context, served, address):
    context.add_init_script(SPY)
    page = context.new_page()
    page.goto(served.url + address)
    wait_ready(page)
    return page


def times_sent(page, kind):
    return page.evaluate("(kind) => sent.filter((each) => each === kind).length", kind)


def test_it_practises_once_when_the_cursor_comes_into_a_form_and_shows_nothing_of_it(
    context, served
):
    page = opened(context, served, f"calculators/{CARD}/")
    before = page.inner_html(f"#{CARD} .answer")
    assert times_sent(page, "practise") == 0
    page.focus(f"#{CARD} [name=load_ohm]")
    assert times_sent(page, "practise") == 1
    page.focus(f"#{CARD} [name=power_4ohm_w]")
    assert times_sent(page, "practise") == 1
    page.wait_for_timeout(300)  # answers have been made meanwhile
    assert times_sent(page, "request") == 0
    assert page.inner_html(f"#{CARD} .answer") == before
    page.fill(f"#{CARD} [name=load_ohm]", "8")
    wait_sentence(page, CARD, "about 100 W")
    assert times_sent(page, "request") == 1


def test_a_plan_is_not_practised(context, served):
    page = opened(context, served, "plan/")
    page.locator(".add", has_text="Component set").click()
    page.wait_for_selector(":focus[data-asked]")
    assert times_sent(page, "practise") == 0


ASK = """async (texts) => {
    const worker = new Worker(new URL("assets/runtime/worker.js", document.baseURI), {
        type: "module" });
    const replies = [];
    worker.onmessage = ({ data }) => replies.push(data);
    for (const text of texts) worker.postMessage({ kind: "practise", text });
    worker.postMessage({ kind: "request", id: 7, text: texts.at(-1) });
    while (replies.length === 0) await new Promise((resolve) => setTimeout(resolve, 20));
    await new Promise((resolve) => setTimeout(resolve, 300));
    worker.terminate();
    return replies;
}"""


def test_what_is_asked_meanwhile_has_the_only_reply(page, served):
    page.goto(served.url)
    wait_until(page, "typeof document$ === 'object'")
    asked = {"kind": "answer", "calculator": CARD, "inputs": {"load_ohm": "8"}}
    texts = ["no request", json.dumps(asked | {"calculator": "none"}), json.dumps(asked)]
    (reply,) = page.evaluate(ASK, texts)
    assert reply["kind"] == "reply" and reply["id"] == 7
    assert "100" in json.loads(reply["text"])["sentence"]
