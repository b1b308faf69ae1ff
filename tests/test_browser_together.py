"""Amplifiers together and layouts that are asked for, in the page: taps, keys and what follows."""

import pytest
from bench_journey import WINDOW, Journey
from conftest import wait_ready

LINK = (
    "?v=2&speakers=front,full-range,2,1,4,60,,90,80;rear,full-range,2,1,4,60,,90,80;"
    "sub,woofer,1,1,4,300,,87&kind=replacement&source_v=4&power_m=5&engine_space=yes"
)
FOUR, MONO = ("4", "60", "4"), ("1", "250", "2")
ROLES = "(cells) => cells.map((cell) => cell.value).filter(Boolean)"


@pytest.fixture
def walk(page, served):
    page.set_viewport_size(WINDOW)
    page.goto(f"{served.url}plan/{LINK}#fit-plan")
    wait_ready(page)
    page.locator(".card[data-row]").first.wait_for()
    return Journey(page)


def fill(page, at, figures):
    """Type an amplifier's channels, watts and lowest load into a column."""
    column = page.locator(".amplifier").nth(at)
    for key, text in zip(("channels", "power_4ohm_w", "min_channel_ohm"), figures, strict=True):
        column.locator(f"[data-cell={key}]").fill(text)
    column.locator("[data-cell=min_channel_ohm]").press("Tab")


def roles(page):
    return page.locator("[data-cell=role]").evaluate_all(ROLES)


def press(page, action, at=0):
    """Press a button of the columns by the keyboard."""
    button = page.locator(f"form [data-action={action}]:visible").nth(at)
    button.focus()
    page.keyboard.press("Enter")


def offered(page, at):
    """Return what a column offers."""
    return page.locator(".amplifier").nth(at).locator(".roles button:visible").all_inner_texts()


def test_the_best_together_are_installed_taken_out_and_left_for_later(walk):
    page = walk.page
    fill(page, 0, FOUR)
    fill(page, 1, MONO)
    walk.settle(2)
    assert "Together: Amplifier A + Amplifier B" in page.locator(".together").inner_text()
    assert walk.step == "See the plan with Amplifier A + Amplifier B"
    page.locator(".bar__next").click()
    walk.settle(2, "Amplifier B")
    assert roles(page) == ["planned", "planned"] and page.locator(".together").is_hidden()
    assert page.locator(".your-system__said").inner_text().endswith("Amplifier A, Amplifier B")
    assert page.evaluate("document.activeElement.matches('.answer')")
    assert page.locator(".bar__verdicts").inner_text().startswith("A + B")
    page.locator("[data-action=open-parts]").click()
    assert offered(page, 0) == offered(page, 1) == ["Install it later", "Take it out"]
    press(page, "leave-row", at=1)
    walk.settle(2)
    assert roles(page) == ["planned", "candidate"]
    assert page.evaluate("document.activeElement.dataset.action") == "join-row"
    assert offered(page, 0) == [] and offered(page, 1) == [
        "Install this one too",
        "Install it later",
    ]
    press(page, "put-off-row")
    walk.settle(1)
    assert roles(page) == ["planned", "later"] and walk.states == [walk.states[0]]
    assert page.locator("[data-says-later]:visible").count() == 1
    press(page, "join-row")
    walk.settle(2, "Amplifier B")
    assert roles(page) == ["planned", "planned"]
    # A third is only compared until it is taken in; then there is no room for more.
    page.locator("[data-action=add-column]").click()
    fill(page, 2, MONO)
    walk.settle(3)
    assert roles(page) == ["planned", "planned", "candidate"]
    press(page, "join-row")
    walk.settle(3)
    assert page.locator(".bar__verdicts").inner_text().startswith("A + B + C")
    assert page.locator("form [data-action=join-row]:visible").count() == 0


def test_an_amplifier_that_is_needed_twice_gets_a_second_column(walk):
    page = walk.page
    fill(page, 0, FOUR)
    walk.settle(1)
    press(page, "choose-rows")
    walk.settle(2, "Amplifier B")
    assert roles(page) == ["planned", "planned"]
    watts = page.locator("[data-cell=power_4ohm_w]").evaluate_all(ROLES)
    assert watts == ["60", "60"]


def test_all_columns_can_be_installed_together_in_one_tap(walk):
    page = walk.page
    page.get_by_role("button", name="Change: sub").click()
    page.get_by_role("button", name="Remove: sub").click()
    fill(page, 0, FOUR)
    fill(page, 1, FOUR)
    walk.settle(2)
    button = page.locator("[data-action=join-rows]")
    assert button.inner_text() == "Install both together"
    button.click()
    walk.settle(2)
    assert roles(page) == ["planned", "planned"] and button.is_hidden()


def test_a_layout_is_shown_and_left_again(walk):
    page = walk.page
    fill(page, 0, ("4", "60", "2"))
    walk.settle(1)
    best = page.locator(".answer .sentence").first.inner_text()
    page.locator(".answer [data-action=set-field]").first.click()
    walk.settle(1, "You asked for")
    assert page.locator("[name=layout]").input_value() != "best"
    assert page.evaluate("document.activeElement.matches('.answer')")
    assert page.evaluate("new URLSearchParams(location.search).get('layout')")
    page.locator(".asks button").click()
    walk.settle(1)
    assert page.locator(".answer .sentence").first.inner_text() == best
    assert page.locator("[name=layout]").input_value() == "best"
