"""Generated inputs through the real parser, and through the page."""

import json
import random

import engines
import generated
import pytest
from conftest import wait_ready, wait_sentence

from calc.app.contents import CALCULATORS
from calc.inputs.errors import InputError
from calc.inputs.links import opened

SHORT, LONG = 2000, 100_000
IN_THE_PAGE = 2000  # for each engine
BOUND = 1000  # signs of one sentence; there are no more than a hundred in a reply


def test_a_link_that_nobody_would_write_is_read_or_refused_in_words(is_long):
    rng = random.Random("links")
    read = refused = 0
    for _ in range(LONG if is_long else SHORT):
        name, query = generated.spoilt_link(rng)
        form = CALCULATORS[name].form
        link = opened(name, form, query, (name,))
        told = [error.message for error in link.errors] + list(link.notices)
        try:
            values = form.read(dict(link.texts))
        except InputError as error:
            told += [one.message for one in error.errors]
            refused += 1
        else:
            read += 1
            # What was accepted, and goes into a link, is written so that it is read as the same.
            written = form.write(values)
            again = form.read(written)
            assert {key: again[key] for key in written} == {key: values[key] for key in written}
        for sentence in told:
            assert len(sentence) < BOUND, query
            assert sentence.replace("\u202f", "").isprintable(), query
    assert read > (read + refused) / 10 < refused


# Types one text after the other, as fast as the page answers: the next one once nothing has
# changed for a while.
TYPE = """async (told) => {
    const [name, texts] = JSON.parse(told); // half a pair of surrogates passes in no other way
    const card = document.querySelector(`#${name}`);
    let last = performance.now();
    new MutationObserver(() => { last = performance.now(); }).observe(card, {
        childList: true, subtree: true, characterData: true, attributes: true });
    const pause = () => new Promise((resolve) => setTimeout(resolve, 5));
    let seen = 0;
    for (const [key, text] of texts) {
        const box = card.querySelector(`form [name="${key}"]`);
        if (!box || box.localName === "select") continue;
        if (box.type === "checkbox" || box.type === "radio") continue;
        box.value = text;
        last = performance.now();
        box.dispatchEvent(new Event("input", { bubbles: true }));
        box.dispatchEvent(new Event("change", { bubbles: true }));
        const end = last + 5000;
        while (performance.now() < end) {
            await pause();
            const isBusy = card.classList.contains("calculator--busy");
            if (!isBusy && performance.now() - last > 25) break;
        }
        seen += 1;
    }
    const odd = card.querySelectorAll("script, img, iframe, object, embed, base, [onerror]");
    return [seen, odd.length, document.documentElement.dataset.python, window.gotIn ?? null];
}"""
# Of each chapter some; those that choose among plans take seconds and have tests of their own.
NAMES = ("bridged-output", "power-cable", "level-pad", "gain-voltage", "bay-heat", "arrival-delay",
         "turn-on", "supply-budget")  # fmt: skip


def type_all(page, url, count):
    """Type into calculators; each still answers at the end."""
    rng = random.Random("typed")
    total = 0
    for name in NAMES:
        page.goto(f"{url}calculators/{name}/")
        wait_ready(page)
        typed = [generated.typed(CALCULATORS[name], rng) for _ in range(count // len(NAMES))]
        for at in range(0, len(typed), 50):
            seen, odd, state, got_in = page.evaluate(TYPE, json.dumps([name, typed[at : at + 50]]))
            assert (odd, state, got_in) == (0, "ready", None), (name, typed[at : at + 50])
            total += seen
    assert total > count / 2
    page.goto(f"{url}calculators/bridged-output/?load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")


def test_what_nobody_would_type_leaves_the_page_at_work(page, served, is_long):
    type_all(page, served.url, IN_THE_PAGE if is_long else 80)


@pytest.mark.full
@pytest.mark.parametrize("name", engines.NAMES)
def test_what_nobody_would_type_leaves_other_engines_at_work(name, served):
    with engines.running(name) as page:
        page.driver.set_script_timeout(300)
        type_all(page, served.url, IN_THE_PAGE)
