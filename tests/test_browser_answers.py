"""The calculators in a real browser: first paint, live answers, links, errors, keyboard."""

import json

import pytest
from conftest import open_card, sampled, wait_ready, wait_sentence, wait_until

from calc.app.contents import CALCULATORS, PAGES, page_of
from calc.inputs.links import own_page
from calc.renderers.html import answer_html

LOAD = "#bridged-output--load_ohm"


def sentence(page, calculator):
    text = page.inner_text(f"#{calculator} .answer .sentence")
    return text.replace("\u202f", " ")


def word(calculator):
    """Return the script that reads the word on a calculator's button."""
    return f"document.querySelector('#{calculator} [type=submit]').textContent"


def test_first_paint_holds_the_worked_example_without_javascript(browser, served):
    """Or, where a page opens empty, what to begin with."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for address, names in PAGES.items():
        page.goto(served.url + address)
        for name in names:
            text = page.text_content(f"#{name} .answer .sentence")
            calculator = CALCULATORS[name]
            assert text == calculator.answer(calculator.opens).sheet.sentence
            assert "needs JavaScript" in page.text_content(f"#{name} noscript")
    context.close()


def test_a_link_opened_without_javascript_shows_the_example(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    assert "150 W" in sentence(page, "bridged-output")
    context.close()


def test_prerendered_answer_is_what_the_command_line_prints(served, site):
    """In the chapter; on the calculator's own page the ways on lead from there."""
    for name, calculator in CALCULATORS.items():
        answer = calculator.answer(calculator.opens)
        start = f'<div class="answer" id="{name}--answer" tabindex="-1">'
        for address, root in ((page_of(name), "../"), (own_page(name), "../../")):
            html = (site / address / "index.html").read_text(encoding="utf-8")
            assert f"{start}{answer_html(answer, root)}</div>" in html


def test_a_changed_figure_changes_the_answer(page, served):
    page.goto(served.url + "bridging/")
    page.fill(LOAD, "8")
    wait_sentence(page, "bridged-output", "Bridged into 8 Ω, the pair gives about 100 W")
    assert page.inner_text("#bridged-output .status").startswith("Bridged into 8")


def test_decimal_comma_is_understood(page, served):
    page.goto(served.url + "bridging/")
    page.fill(LOAD, " 4,0 ")
    page.fill("#bridged-output--power_4ohm_w", "62,5")
    wait_sentence(page, "bridged-output", "about 150 W")
    assert "power_4ohm_w=62.5" in wait_until(
        page, "location.search.includes('power_4ohm_w') && location.search"
    )


def test_preset_sets_the_field(page, served):
    page.goto(served.url + "bridging/")
    page.click('#bridged-output [data-field="load_ohm"] .preset >> text="8"')
    wait_sentence(page, "bridged-output", "about 100 W")


def test_the_newest_input_wins(page, served):
    page.goto(served.url + "coil-wiring/")
    wait_ready(page)
    page.evaluate(
        """() => {
            const field = document.querySelector("#coil-wiring--coil_ohm");
            const answer = document.querySelector("#coil-wiring .answer");
            window.seen = [];
            new MutationObserver(() =>
                window.seen.push(answer.querySelector(".sentence").textContent)
            ).observe(answer, { childList: true });
            for (const ohm of ["1", "2", "8", "16", "3"]) {
                field.value = ohm;
                field.form.requestSubmit();
            }
        }"""
    )
    # The worker answers one after the other: with the newest, nothing is under way any more.
    wait_until(page, "window.seen.at(-1)?.includes('3\u202fΩ')")
    wait_until(page, f"{word('coil-wiring')} === 'Work it out'")
    seen = page.evaluate("window.seen")
    assert "3 Ω" in seen[-1].replace("\u202f", " ")
    # At most the first request, which was under way, and the newest are ever shown.
    assert len(seen) <= 2


def test_a_newer_input_does_not_wait_for_one_that_takes_long(page, served):
    workers = []
    page.on("worker", lambda worker: workers.append(worker.url))
    # How long work takes depends on the machine: here it would take for ever.
    page.add_init_script(
        """const post = Worker.prototype.postMessage;
        window.held = 0;
        Worker.prototype.postMessage = function (data, ...rest) {
            const isAsked = data.kind === "request" && data.text.includes('"drivers":[[');
            if (window.held < 2 && isAsked) window.held += 1;
            else post.call(this, data, ...rest);
        };"""
    )
    page.goto(served.url + "coil-wiring/")
    open_card(page, "meter-check")
    wait_ready(page)
    # Both calculators have work under way.
    page.evaluate(
        """() => {
            for (const name of ["coil-wiring", "meter-check"]) {
                const form = document.querySelector(`#${name} form`);
                form.querySelector("[data-action=differ]").click();
                const rows = form.querySelector(".rows");
                while (rows.querySelectorAll("tbody tr").length < 4) {
                    rows.querySelector("[data-action=add-row]").click();
                }
                rows.querySelectorAll("[data-cell=coil_ohm]").forEach((cell, at) => {
                    cell.value = String(at + 2);
                });
                if (name === "meter-check") form.querySelector("[name=intended]").value = "0";
                form.requestSubmit();
            }
        }"""
    )
    wait_until(page, "window.held === 2")
    wait_until(page, f"{word('coil-wiring')} === 'Working…'")
    page.click("#coil-wiring [data-action=reset]")
    wait_sentence(page, "coil-wiring", "then the two subs in parallel: 4 Ω")
    wait_until(page, "location.search.includes('meter-check.drivers=2,2;2,3;2,4;2,5')")
    assert len([url for url in workers if url.endswith("runtime/worker.js")]) >= 2


def test_inputs_changed_before_python_is_ready_are_answered_later(page, served):
    page.goto(served.url + "bridging/", wait_until="commit")
    page.wait_for_selector("#bridged-output[data-attached]")
    page.fill(LOAD, "16")
    wait_sentence(page, "bridged-output", "Bridged into 16 Ω")


def test_button_says_what_is_happening(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    words = page.evaluate(
        """() => {
            const button = document.querySelector("#bridged-output [type=submit]");
            const words = [button.textContent];
            document.querySelector("#bridged-output form").requestSubmit();
            return [...words, button.textContent];
        }"""
    )
    assert words == ["Work it out", "Working…"]
    wait_until(page, f"{word('bridged-output')} === 'Work it out'")


def test_a_link_brings_back_every_input(page, served):
    page.goto(served.url + "coil-wiring/?coil-wiring.drivers=2,4;1,8&coil-wiring.min_load_ohm=3.5")
    wait_sentence(page, "coil-wiring", "Ω")
    wait_until(page, "!document.querySelector('#coil-wiring .rows__table').hidden")
    cells = page.eval_on_selector_all(
        "#coil-wiring tbody [data-cell]", "cells => cells.map(cell => cell.value)"
    )
    assert cells == ["2", "4", "1", "8"]
    assert page.input_value("#coil-wiring--min_load_ohm") == "3.5"
    wait_until(
        page, "location.search === '?coil-wiring.drivers=2,4;1,8&coil-wiring.min_load_ohm=3.5'"
    )


def test_reload_and_back_keep_the_inputs(page, served):
    page.goto(served.url + "bridging/")
    page.fill(LOAD, "8")
    wait_sentence(page, "bridged-output", "about 100 W")
    wait_until(page, "location.search.includes('load_ohm=8')")
    page.reload()
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click(".md-nav__link[href$='cautions/']")
    page.wait_for_url("**/cautions/")
    page.go_back()
    wait_sentence(page, "bridged-output", "about 100 W")
    wait_until(page, f"document.querySelector('{LOAD}').value === '8'")


def test_one_worker_serves_the_whole_visit(page, served):
    workers = []
    page.on("worker", lambda worker: workers.append(worker.url))
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.evaluate("window.sameVisit = true")
    page.click(".md-nav__link[href$='coil-wiring/']")
    page.wait_for_url("**/coil-wiring/")
    page.wait_for_selector("#coil-wiring[data-attached]")
    page.fill("#coil-wiring--coil_ohm", "2")
    wait_sentence(page, "coil-wiring", "2 Ω")
    assert page.evaluate("window.sameVisit") is True
    assert [url for url in workers if url.endswith("runtime/worker.js")] == [
        served.url + "assets/runtime/worker.js"
    ]


def test_wrong_input_is_told_beside_the_field_and_in_a_summary(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    before = page.inner_html("#bridged-output .answer")
    page.fill(LOAD, "none")
    page.fill("#bridged-output--power_4ohm_w", "")
    page.press(LOAD, "Enter")
    summary = page.wait_for_selector("#bridged-output .error-summary:not([hidden])")
    wait_until(page, "document.activeElement.classList.contains('error-summary')")
    assert len(summary.query_selector_all("a")) == 2
    told = page.inner_text(f"{LOAD}-error")
    assert told == (
        "Load on the bridged pair: ‘none’ is not a number. Enter a number from 0.25 to 64\u202fΩ."
    )
    assert page.get_attribute(LOAD, "aria-invalid") == "true"
    assert page.inner_html("#bridged-output .answer") == before
    assert page.is_visible("#bridged-output .earlier")
    page.click("#bridged-output .error-summary li:first-child a")
    assert page.evaluate("document.activeElement.id") == "bridged-output--load_ohm"
    page.fill(LOAD, "8")
    page.fill("#bridged-output--power_4ohm_w", "50")
    wait_sentence(page, "bridged-output", "about 100 W")
    assert not page.is_visible("#bridged-output .error-summary")
    assert not page.is_visible("#bridged-output .earlier")
    assert page.get_attribute(LOAD, "aria-invalid") is None


def test_a_link_with_wrong_and_unknown_parts_says_so(page, served):
    page.goto(served.url + "bridging/?bridged-output.load_ohm=<b>x&bridged-output.old_field=3")
    page.wait_for_selector("#bridged-output .error-summary:not([hidden])")
    assert "old_field" in page.inner_text("#bridged-output .notices")
    assert page.input_value(LOAD) == "<b>x"
    assert page.query_selector("#bridged-output .error b") is None


def test_rows_can_be_added_and_removed(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    open_card(page, "channel-map")
    page.click("#channel-map [data-action=add-row]")
    rows = "#channel-map tbody tr"
    assert len(page.query_selector_all("#channel-map .rows tbody tr")) == 3
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == (
        "kind, kind of speaker 3"
    )
    page.click(f"#channel-map .rows {rows.split()[-1]}:nth-child(1) [data-action=remove-row]")
    wait_until(page, "location.search.includes('channel-map.sections=')")
    assert len(page.query_selector_all("#channel-map .rows tbody tr")) == 2
    labels = page.eval_on_selector_all(
        "#channel-map .rows tbody [data-cell=speakers]",
        "cells => cells.map(cell => cell.getAttribute('aria-label'))",
    )
    assert labels == ["how many, kind of speaker 1", "how many, kind of speaker 2"]


def test_drivers_can_differ(page, served):
    page.goto(served.url + "coil-wiring/")
    wait_ready(page)
    page.check("#coil-wiring [data-action=differ]")
    cells = page.query_selector_all("#coil-wiring .rows tbody [data-cell=coil_ohm]")
    assert len(cells) == 2
    cells[1].fill("8")
    wait_until(page, "location.search.includes('coil-wiring.drivers=2,4;2,8')")


def test_reset_brings_the_example_back(page, served):
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click("#bridged-output [data-action=reset]")
    wait_sentence(page, "bridged-output", "about 150 W")
    assert page.input_value(LOAD) == "4"
    wait_until(page, "location.search === ''")


def test_everything_can_be_done_with_the_keyboard(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.focus("#bridged-output--load_ohm")
    page.keyboard.press("Control+A")
    page.keyboard.type("8")
    page.keyboard.press("Enter")
    wait_sentence(page, "bridged-output", "about 100 W")
    seen = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.add(
            page.evaluate(
                "document.activeElement.dataset.handOver ?? document.activeElement.dataset.action"
                " ?? document.activeElement.name ?? document.activeElement.tagName"
            )
        )
    assert seen >= {"power_4ohm_w", "reset", "text", "link", "qr", "print", "json", "csv"}


@pytest.mark.parametrize(
    "name", sampled(CALCULATORS, ["bridged-output", "cable-tree", "commissioning", "fit-plan"])
)
def test_answer_can_be_taken_as_data(page, served, name):
    page.goto(served.url + own_page(name))
    wait_ready(page)
    with page.expect_download() as saved:
        page.click(f"#{name} [data-hand-over=json]")
    data = json.loads(saved.value.path().read_text(encoding="utf-8"))
    assert data["calculator"] == name
    with page.expect_download() as saved:
        page.click(f"#{name} [data-hand-over=csv]")
    assert saved.value.suggested_filename == f"{name}.csv"
    assert saved.value.path().read_text(encoding="utf-8").startswith("input,value,unit")


def test_what_is_shown_after_typing_stays(page, served):
    """Leaving the field to tap a button is not another change of the inputs."""
    page.clock.install()
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.fill(LOAD, "8")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click("#bridged-output [data-hand-over=qr]")
    page.wait_for_selector("#bridged-output .qr svg")
    page.clock.run_for(1000)  # more than a change of the inputs is waited for
    wait_until(page, f"{word('bridged-output')} === 'Work it out'")
    assert page.is_visible("#bridged-output .qr svg")


def test_inputs_stay_with_their_page(page, served):
    """A click on another chapter also leaves the field; its inputs do not travel along."""
    page.clock.install()
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.click(LOAD)
    page.keyboard.press("Control+A")
    page.keyboard.type("8")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click(".md-nav__link[href$='coil-wiring/']")
    page.wait_for_selector("#coil-wiring[data-attached]")
    page.clock.run_for(1000)
    assert page.evaluate("location.pathname + location.search") == "/coil-wiring/"
    page.go_back()
    wait_sentence(page, "bridged-output", "about 100 W")


def test_nothing_is_handed_over_while_inputs_are_refused(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.fill(LOAD, "abc")
    page.wait_for_selector("#bridged-output .error-summary:not([hidden])")
    for kind in ("link", "qr", "text", "json"):
        page.click(f"#bridged-output [data-hand-over={kind}]")
        assert page.inner_text("#bridged-output .status").startswith("Correct the inputs first")
    assert not page.is_visible("#bridged-output .qr")


def test_a_worker_that_does_not_load_is_told(context, served):
    context.watch.excused += ["ERR_FAILED", "Failed to load"]
    context.route("**/runtime/worker.js", lambda route: route.abort())
    page = context.new_page()
    page.goto(served.url + "bridging/")
    page.wait_for_selector("html[data-python=failed]")
    assert page.inner_text("#bridged-output .status").startswith("The calculator could not be")


def test_qr_code_holds_the_link(page, served, tmp_path):
    import zxingcpp
    from PIL import Image

    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.click("#bridged-output [data-hand-over=qr]")
    picture = page.wait_for_selector("#bridged-output .qr svg")
    picture.screenshot(path=tmp_path / "qr.png")
    (code,) = zxingcpp.read_barcodes(Image.open(tmp_path / "qr.png"))
    assert code.text == served.url + "calculators/bridged-output/?load_ohm=8"


def test_example_links_fill_the_calculator(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    # It stands in a fold.
    link = '.example__link a[href$="?bridged-output.load_ohm=8#bridged-output"]'
    page.eval_on_selector(link, "link => link.click()")
    wait_sentence(page, "bridged-output", "about 100 W")
