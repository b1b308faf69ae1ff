"""What would make a page style itself and lay itself out more often than once as it starts."""

from collections import defaultdict

import pytest
from conftest import SITE_PAGES, follow, wait_ready, wait_until
from html_parts import Parts

LOADS = """window.loads = [];
document.addEventListener("load", ({ target }) => {
    if (target.matches?.("link[rel=stylesheet]")) window.loads.push(target.href);
}, true);"""


def test_each_style_sheet_is_loaded_once_also_by_the_pages_after(context, served):
    context.add_init_script(LOADS)
    page = context.new_page()
    page.goto(served.url + "plan/")
    wait_ready(page)
    first = page.evaluate("window.loads")
    assert len(first) == len(set(first)) == page.evaluate("document.styleSheets.length") >= 3
    # The next pages lie deeper and higher: the theme finds the same style sheets in them.
    for address in ("calculators/power-cable/", "", "bridging/"):
        follow(page, served.url + address)
        wait_until(page, "document.querySelector('.md-content h1') !== null")
        page.wait_for_timeout(200)
        assert page.evaluate("window.loads") == first
        assert page.evaluate("document.styleSheets.length") == len(first)
        assert page.evaluate("getComputedStyle(document.body).fontFamily").startswith('"Plex Sans"')


def test_nothing_is_left_to_be_said_of_scripts_once_the_page_is_there(context, served):
    context.add_init_script(
        """new MutationObserver((all) => {
            for (const { target } of all) {
                if (target !== document.documentElement) continue;
                (window.classes ??= []).push(target.className);
            }
        }).observe(document, { subtree: true, attributes: true, attributeFilter: ["class"] });"""
    )
    page = context.new_page()
    page.goto(served.url + "plan/")
    wait_ready(page)
    assert set(page.evaluate("window.classes")) == {"js js-focus-visible"}


def test_no_fold_with_a_block_of_code_holds_a_long_table(site):
    """The theme asks each block of code for its width: a closed fold is laid out for that."""
    with_code = []
    for address in SITE_PAGES:
        texts = Parts((site / address / "index.html").read_text(encoding="utf-8")).texts
        rows, has_code = defaultdict(set), set()  # by fold: the outermost that a text stands in
        for around, _ in texts:
            elements = {element[0]: id(element) for element in reversed(around)}
            fold = elements.get("details")
            rows[fold].add(elements.get("tr"))
            if {"details", "pre", "code"} <= elements.keys():
                has_code.add(fold)
        with_code += [(address, len(rows[fold])) for fold in has_code]
    assert len(with_code) >= 4
    assert [each for each in with_code if each[1] > 30] == []


# Has the theme announce every page twice.
TWICE = """let real;
Object.defineProperty(window, "document$", {
    get: () => real && { subscribe: (tell) => real.subscribe((x) => { tell(x); tell(x); }) },
    set: (announcing) => { real = announcing; },
});"""


def test_a_page_that_is_announced_twice_as_it_starts_is_listened_to_once(context, served):
    context.add_init_script(TWICE)
    page = context.new_page()
    page.goto(served.url + "plan/")
    wait_ready(page)
    assert page.locator("[data-attached]").count() == 1
    page.click("[data-action=add-card]")  # twice would be two sets of speakers
    assert page.locator("[data-field=speakers] [data-row]").count() == 1


# Holds back the tasks that a page's start consists of, but for as many as are let through.
HELD = """const later = window.setTimeout;
window.held = [];
window.through = Infinity;
window.setTimeout = (task, ...after) => {
    if (after.length > 0 || window.through-- > 0) return later(task, ...after);
    return window.held.push(task);
};"""


@pytest.mark.parametrize("through", [1, 2])
def test_a_page_that_is_left_as_it_starts_is_not_begun_in_the_next_one(context, served, through):
    context.add_init_script(HELD)
    page = context.new_page()
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.evaluate(f"window.through = {through}")
    follow(page, served.url + "plan/?alternator_a=99")
    wait_until(page, "document.querySelector('#fit-plan') !== null && window.held.length > 0")
    page.evaluate("window.left = document.querySelector('#fit-plan'); window.through = Infinity")
    follow(page, served.url + "coil-wiring/?coils=2")
    wait_until(page, "document.querySelector('#coil-wiring[data-attached]') !== null")
    page.evaluate("for (const task of window.held) task()")
    page.fill("#coil-wiring--coil_ohm", "2")
    wait_until(page, "location.search.includes('coil_ohm=2')")
    assert page.evaluate("window.left.dataset.attached === undefined && !window.left.isConnected")
