"""What a fitter with a telephone came across: units typed, questions skipped, things removed."""

from urllib.parse import quote

import pytest
from conftest import wait_until
from test_browser_choosing import change, field, opened, unfold, wait_field

from calc.system.example_van import SHELF

WATTS = ".amplifier >> nth=0 >> [data-cell=power_4ohm_w]"


def begin(page, served):
    """Open the empty plan with a card for speakers."""
    opened(page, served, "plan/")
    page.locator(".add", has_text="Component set").click()


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("50 W", "50"), ("50w", "50"), ("3,5 W", "3,5"), ("50 V", "50 V"), ("50 kW", "50 kW")],
)
def test_a_number_takes_its_own_unit_behind_it_and_no_other(page, served, typed, kept):
    begin(page, served)
    box = page.locator(WATTS)
    box.fill(typed)
    box.blur()
    assert box.input_value() == kept
    if kept == typed:
        wait_until(page, "document.querySelector('[data-cell=power_4ohm_w][aria-invalid=true]')")
    else:
        wait_until(page, f"localStorage.system?.includes('{kept.replace(',', '.')}') "
                         f"|| localStorage.system?.includes('{kept}')")  # fmt: skip


@pytest.mark.parametrize("typed", ["4 ohm", "4Ω", "4 Ohms", "2 x 4 ohm"])
def test_ohms_are_taken_with_the_word_and_stand_once(page, served, typed):
    begin(page, served)
    pair = page.locator(".card[data-row] [data-pair]")
    pair.fill(typed)
    pair.blur()
    held = page.locator(".card[data-row] [data-cell=coil_ohm]")
    assert held.input_value() == "4"
    assert "ohm" not in pair.input_value().lower() and "Ω" not in pair.input_value()


def test_a_question_that_was_left_open_comes_back_last(page, served):
    begin(page, served)
    step = page.locator(".bar__step")
    first = step.inner_text()
    page.locator(".bar__next").click()
    page.locator(":focus").blur()
    wait_until(page, f"document.querySelector('.bar__step').innerText !== {first!r}")
    seen = []
    for _ in range(6):
        seen.append(step.inner_text())
        if seen[-1] == first:
            break
        page.locator(".bar__next").click()
        page.locator(":focus").blur()
    assert first in seen and len(set(seen)) == len(seen) > 1


def wrong_in_more(page, served):
    """Type nonsense into a box that is folded away; return it, and where that is told."""
    begin(page, served)
    unfold(page)
    box = page.locator(".amplifier >> nth=0 >> [data-cell=rated_v]")
    box.fill("nonsense")
    box.blur()
    place = page.locator(".amplifier >> nth=0 >> [data-wrong=rated_v]")
    place.wait_for()
    return box, place


def test_what_is_wrong_in_more_from_its_box_is_told_at_the_box(page, served):
    box, place = wrong_in_more(page, served)
    assert "nonsense" in place.inner_text()
    near = place.bounding_box()["y"] - box.bounding_box()["y"]
    assert abs(near) < 150


def test_all_cards_that_were_removed_come_back_the_last_one_first(page, served):
    begin(page, served)
    page.locator(".add", has_text="Subwoofer").click()
    names = (
        "[...document.querySelectorAll('.card[data-row] .card__name')].map((e) => e.textContent)"
    )
    before = page.evaluate(names)
    assert len(before) == 2
    for _ in before:
        page.locator(".card[data-row] [data-action=drop-card]").first.click()
    assert page.evaluate(names) == []
    for count in (1, 2):
        page.locator("[data-action=undo-drop]").click()
        assert len(page.evaluate(names)) == count
    assert page.evaluate(names) == before
    assert page.locator(".undone").first.is_hidden()


def test_emptying_the_form_keeps_the_stock_list(page, served):
    opened(page, served, "choose/")
    field(page, "shelf").fill(SHELF)
    field(page, "shelf").blur()
    change(page, "alternator_a", "77")
    wait_until(page, "localStorage.system?.includes('Rowan')")
    page.get_by_role("button", name="Empty the form").click()
    wait_field(page, "alternator_a", "")
    assert page.evaluate("Object.keys(JSON.parse(localStorage.system))") == ["shelf"]
    assert "Rowan" in field(page, "shelf").input_value()


def test_whose_a_link_s_figures_are_stands_above_the_form_with_whose_the_list_is(page, served):
    opened(page, served, "plan/")
    change(page, "alternator_a", "77")
    page.evaluate(
        "(shelf) => localStorage.setItem('system',"
        " JSON.stringify({ ...JSON.parse(localStorage.system), shelf }))",
        SHELF,
    )
    opened(page, served, f"choose/?alternator_a={quote('91')}")
    above = page.locator(".aside--above")
    above.filter(has_text="came with a link").filter(has_text="list is your own").wait_for()
    assert above.bounding_box()["y"] < page.locator("form.inputs").bounding_box()["y"]
