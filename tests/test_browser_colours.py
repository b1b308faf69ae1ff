"""Light or dark: as the system has it until the reader chooses, and from the first paint on."""

import pytest
from conftest import wait_until

BUTTON = "[data-colours]"
SCHEME = "document.body.dataset.mdColorScheme"
GROUNDS = {"default": "rgb(251, 250, 246)", "slate": "rgb(20, 24, 27)"}
OTHERS = {"light": ("default", "Dark page"), "dark": ("slate", "Light page")}


def shows(page, colours):
    """Wait until a page has these colours, and its button offers the others."""
    scheme, offer = OTHERS[colours]
    wait_until(page, f"{SCHEME} === '{scheme}'")
    wait_until(page, f"document.querySelector('{BUTTON}').ariaLabel === '{offer}'")
    wait_until(page, f"getComputedStyle(document.body).backgroundColor === '{GROUNDS[scheme]}'")


def test_it_follows_the_system_until_the_reader_chooses(page, served):
    page.goto(served.url + "basics/")
    shows(page, "light")
    page.emulate_media(color_scheme="dark")
    shows(page, "dark")
    page.emulate_media(color_scheme="light")
    shows(page, "light")
    page.click(BUTTON)
    shows(page, "dark")
    page.emulate_media(color_scheme="dark")
    page.click(BUTTON)
    shows(page, "light")
    page.emulate_media(color_scheme="light")
    page.emulate_media(color_scheme="dark")
    shows(page, "light")


def test_a_choice_stays_on_other_pages_after_a_reload_and_in_other_tabs(context, page, served):
    other = context.new_page()
    other.goto(served.url + "sources/")
    page.goto(served.url + "basics/")
    page.click(BUTTON)
    shows(page, "dark")
    shows(other, "dark")
    page.reload()
    shows(page, "dark")
    page.click(".md-footer__link--next")
    page.wait_for_url("**/bridging/")
    shows(page, "dark")
    first = "document.querySelector('meta[name=theme-color]')"
    assert page.evaluate(f"[{first}.content, {first}.media]") == ["#14181b", ""]


@pytest.mark.parametrize("kept", ["dark", "light", "{", "slate", ""])
def test_what_is_painted_first_has_the_colours_already(context, served, kept):
    """Without the page's scripts, which come later, and whatever else the store may hold."""
    context.watch.excused.append("ERR_FAILED")
    context.route("**/*.js", lambda route: route.abort())
    page = context.new_page()
    page.goto(served.url + "sources/")
    page.evaluate("(kept) => localStorage.setItem('colours', kept)", kept)
    page.emulate_media(color_scheme="dark")
    page.reload()
    assert page.evaluate(SCHEME) == ("default" if kept == "light" else "slate")
    assert page.is_hidden(BUTTON)


def test_the_keyboard_reaches_the_button_and_it_says_what_it_does(page, served):
    page.goto(served.url + "sources/")
    shows(page, "light")
    page.get_by_role("button", name="Dark page").focus()
    page.keyboard.press("Enter")
    shows(page, "dark")
    page.keyboard.press("Space")
    shows(page, "light")
    box = page.locator(BUTTON).bounding_box()
    assert min(box["width"], box["height"]) >= 44
