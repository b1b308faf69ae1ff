"""Calculators on pages of their own, and a chapter's folded cards, in a real browser."""

import pytest
from conftest import (
    OWN_PAGES,
    follow,
    open_card,
    sampled,
    wait_ready,
    wait_sentence,
    wait_until,
)
from test_browser_looks import opened

from calc.app.contents import CALCULATORS, PAGES, chapter_link_of, link_of
from calc.inputs.links import own_page

IN_PARTS = [name for name, calculator in CALCULATORS.items() if calculator.parts]
ASIDE = [name for names in PAGES.values() for name in names[1:]]  # folded in their chapters
IS_OPEN = "(name) => document.getElementById(name).closest('details').open"


def is_open(page, name):
    return page.evaluate(IS_OPEN, name)


def value(page, name, key):
    return page.input_value(f"#{name} [name={key}]")


# ---- a page of its own


PLACES = """() => Object.fromEntries(
    [".calculator__form", ".answer .sentence", ".answer .key-figures", ".field", ".status"].map(
        (part) => {
            const box = document.querySelector(`.own-page ${part}`)?.getBoundingClientRect();
            return [part, box && { top: box.top, bottom: box.bottom, left: box.left }];
        },
    ),
)"""


@pytest.mark.parametrize(
    "name",
    sampled(
        [name for name in CALCULATORS if name not in IN_PARTS],
        ["bridged-output", "power-cable", "mounting-reach", "kit-list"],
    ),
)
def test_answer_and_form_are_on_one_screen_and_the_answer_first_on_a_phone(browser, served, name):
    page = opened(browser, served.url + own_page(name), viewport={"width": 1280, "height": 800})
    places = page.evaluate(PLACES)
    form, sentence, first = (
        places[part] for part in (".calculator__form", ".answer .sentence", ".field")
    )
    assert abs(form["top"] - sentence["top"]) < 40
    assert sentence["left"] > form["left"] + 400
    for part in (".answer .sentence", ".answer .key-figures"):
        if places[part]:
            assert places[part]["bottom"] < 760
    assert first["top"] < 460
    # It stays there while a long form is gone through.
    room = page.evaluate("document.querySelector('.calculator__form').offsetHeight")
    answer = page.evaluate("document.querySelector('.calculator__answer').offsetHeight")
    if room > answer + 300:
        page.evaluate("window.scrollTo(0, 300)")
        assert 0 <= page.evaluate(PLACES)[".answer .sentence"]["top"] < 300
    page.set_viewport_size({"width": 390, "height": 800})
    page.evaluate("window.scrollTo(0, 0)")
    places = page.evaluate(PLACES)
    assert places[".answer .sentence"]["bottom"] < min(800, places[".calculator__form"]["top"])
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.context.close()


def test_on_its_own_page_the_figures_are_in_the_address_without_a_prefix(page, served):
    page.goto(served.url + "calculators/bridged-output/?load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    page.fill("#bridged-output--power_4ohm_w", "60")
    wait_until(page, "location.search === '?load_ohm=8&power_4ohm_w=60'")
    # Beside the form the sentence stands there already.
    assert page.locator("#bridged-output .status").bounding_box()["height"] <= 1
    assert "120 W" in page.text_content("#bridged-output .status").replace("\u202f", " ")


def test_the_way_back_leads_to_the_chapter(page, served):
    page.goto(served.url + "calculators/channel-map/")
    page.click(".own-page .to-chapter >> nth=0")
    page.wait_for_url("**/bridging/")
    page.wait_for_selector("#bridged-output[data-attached]")


# ---- folded cards


def test_what_is_folded_is_attached_when_it_is_opened_and_answers_live(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.wait_for_selector("#bridged-output[data-attached]")
    assert page.query_selector("#channel-map[data-attached]") is None
    assert not page.is_visible("#channel-map form")
    open_card(page, "channel-map")
    page.fill("#channel-map [name=power_4ohm_w]", "60")
    wait_until(page, "location.search === '?channel-map.power_4ohm_w=60'")
    # Both stand in the address, in the page's order.
    page.fill("#bridged-output--load_ohm", "8")
    wait_until(page, "location.search === '?bridged-output.load_ohm=8&channel-map.power_4ohm_w=60'")
    page.reload()
    wait_until(page, IS_OPEN, "channel-map")
    wait_until(page, "document.querySelector('#channel-map [name=power_4ohm_w]').value === '60'")
    wait_sentence(page, "bridged-output", "about 100 W")


def test_an_anchor_opens_the_card_that_it_leads_to(page, served):
    page.goto(served.url + "cables/#cable-tree")
    page.wait_for_selector("#cable-tree[data-attached]")
    assert is_open(page, "cable-tree") and not is_open(page, "wire-facts")
    wait_until(
        page, "Math.abs(document.querySelector('#cable-tree').getBoundingClientRect().top) < 400"
    )
    page.evaluate("location.hash = '#wire-facts'")
    page.wait_for_selector("#wire-facts[data-attached]")


CASES = {
    "kit-list": {"slack_percent": "15"},
    "wire-facts": {"mm2": "16"},
    "crossover-sum": {"high_delay_ms": "2"},
    "gain-voltage": {"power_w": "80"},
    "bay-heat": {"power_w": "180"},
}


@pytest.mark.parametrize("name", sampled(CASES, ["wire-facts", "gain-voltage"]))
def test_an_old_link_opens_the_card_with_its_figures_and_a_new_one_the_own_page(page, served, name):
    answer = CALCULATORS[name].answer(CASES[name])
    said = answer.sheet.sentence.replace("\u202f", " ")
    old = chapter_link_of(answer)
    for link in (old, old.partition("#")[0], link_of(answer)):
        page.goto(served.url + link)
        wait_sentence(page, name, said)
        for key, text in CASES[name].items():
            assert value(page, name, key) == text
        assert page.is_visible(f"#{name} .answer .sentence")
        top = page.evaluate(f"document.querySelector('#{name}').getBoundingClientRect().top")
        assert -20 < top < 800


def test_an_example_of_the_live_calculator_stays_in_the_chapter_and_others_have_their_page(site):
    for address, names in PAGES.items():
        html = (site / address / "index.html").read_text(encoding="utf-8")
        for part in html.split('class="example__link"><a href="')[1:]:
            link = part.partition('"')[0].replace("&amp;", "&")
            live = names[0]
            if not link.startswith("../calculators/"):
                assert link.startswith(f"../{address}") and link.endswith(f"#{live}")
            else:
                assert not link.startswith(f"../{own_page(live)}")


def test_every_card_of_every_chapter_opens_without_an_error(page, served):
    for address, names in PAGES.items():
        if len(names) == 1:
            continue
        page.goto(served.url + address)
        wait_ready(page)
        for name in names[1:]:
            open_card(page, name)
            page.click(f"#{name} form [type=submit]")
            wait_until(page, f"document.querySelector('#{name} .status').textContent !== ''")


def test_every_own_page_answers(page, served, is_long):
    """In the short run its Python goes on from page to page; in the long one each starts it."""
    page.goto(served.url)
    for address in OWN_PAGES:
        if is_long:
            page.goto(served.url + address)
        else:
            follow(page, served.url + address)
        name = address.split("/")[1]
        page.wait_for_selector(f"#{name}[data-attached]")
        wait_ready(page)
        page.click(f"#{name} form [type=submit]")
        wait_until(page, f"document.querySelector('#{name} .status').textContent !== ''")
