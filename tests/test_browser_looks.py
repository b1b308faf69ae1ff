"""How pages look: narrow, dark, large type, touch targets, and what axe-core finds."""

import json
import os

import pytest
from conftest import (
    CHAPTERS,
    PICTURES,
    ROOT,
    SITE_PAGES,
    sampled,
    wait_ready,
    wait_sentence,
    wait_until,
)

PAGES = [*SITE_PAGES, "404.html"]
# Chapters with the largest forms, and a page of each other kind; the long run takes all.
LIGHT = ("", "coil-wiring/", "plan/", "commissioning/", "calculators/power-cable/", "404.html")
# Of each kind one, at least.
DARK = ("", "coil-wiring/", "choose/", "checklist/", "calculators/power-cable/")
NARROW = (
    *CHAPTERS,
    "calculators/",
    "calculators/kit-list/",
    "calculators/bridged-output/",
    "404.html",
)
LONGEST = 8000  # pixels that a reader scrolls
# Reference pages, read by their headings, are as long as they have entries.
REFERENCE = ("changes/", "words-of-the-trade/", "sources/")
AXE = ROOT / "build" / "web" / "node_modules" / "axe-core" / "axe.min.js"
# What tells a dark page from a light one, as soon as it is laid out anew.
COLOURS = """() => [document.documentElement, document.body].map((one) => {
    const { color, backgroundColor } = getComputedStyle(one);
    return [color, backgroundColor];
})"""
SHOTS = ROOT / ".work" / "screenshots"


def opened(browser, address, **more):
    """Return a page as it is laid out, whose Python never starts: that would take longer."""
    context = browser.new_context(service_workers="block", **more)
    context.route("**/assets/runtime/**", lambda route: route.abort())
    page = context.new_page()
    page.goto(address)
    return page


def colours(page):
    return page.evaluate(COLOURS)


def darken(page):
    """Have the page laid out anew for a dark screen."""
    before = colours(page)
    page.emulate_media(color_scheme="dark")
    wait_until(page, f"JSON.stringify(({COLOURS})()) !== '{json.dumps(before)}'")


def shoot(page, name):
    """Keep a picture of a page, where pictures are asked for."""
    if PICTURES in os.environ:
        SHOTS.mkdir(parents=True, exist_ok=True)
        page.screenshot(path=SHOTS / f"{name}.png", full_page=True)


@pytest.mark.parametrize("address", sampled(PAGES, [*LIGHT, *DARK]))
def test_axe_finds_nothing(browser, served, address, is_long):
    """One visit, light and then dark: all that differs on a dark page are its colours."""
    context = browser.new_context(
        color_scheme="light",
        viewport={"width": 1280, "height": 900},
        reduced_motion="reduce",
        service_workers="block",
    )
    page = context.new_page()
    page.goto(served.url + address)
    if page.query_selector("[data-calculator]"):
        wait_ready(page)
        page.eval_on_selector_all("details", "all => all.forEach((one) => { one.open = true; })")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = {}
    if is_long or address in LIGHT:
        found["light"] = violations(page, {})
        shoot(page, f"{address.strip('/') or 'start'}-light")
    if is_long or address in DARK:
        darken(page)
        found["dark"] = violations(page, {"runOnly": ["color-contrast"]})
        shoot(page, f"{address.strip('/') or 'start'}-dark")
    context.close()
    assert found
    assert all(one == [] for one in found.values()), found


def violations(page, options):
    found = page.evaluate(
        "options => axe.run(document, options)", {"resultTypes": ["violations"], **options}
    )
    return [
        (one["id"], one["help"], [node["target"] for node in one["nodes"]][:5])
        for one in found["violations"]
    ]


@pytest.fixture(scope="module", params=sampled(PAGES, NARROW))
def narrow(request, browser, served):
    """A page of the site on a phone: one visit for all that is looked at there."""
    page = opened(
        browser,
        served.url + request.param,
        viewport={"width": 320, "height": 800},
        has_touch=True,
    )
    yield page, request.param
    page.context.close()


def test_nothing_sticks_out_of_a_narrow_page(narrow, is_long):
    page, address = narrow
    for width in (390, 320) if is_long else (320,):
        page.set_viewport_size({"width": width, "height": 800})
        if width == 390:
            shoot(page, f"{address.strip('/') or 'start'}-{width}")
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_page_is_no_longer_than_a_reader_scrolls(narrow):
    page, address = narrow
    if address in (*CHAPTERS, "calculators/") and address not in REFERENCE:
        page.set_viewport_size({"width": 1280, "height": 800})
        assert page.evaluate("document.documentElement.scrollHeight") <= LONGEST
        page.set_viewport_size({"width": 320, "height": 800})


# Everything that can be touched, but links within a sentence and what lies in a label.
SMALL_TARGETS = """() => {
    const folded = [...document.querySelectorAll("details:not([open])")];
    for (const one of folded) one.open = true;
    const standsAlone = (link) => {
        for (let inner = link; ; inner = inner.parentElement) {
            const { childNodes, tagName } = inner.parentElement;
            if ([...childNodes].some((one) => one.nodeType === Node.TEXT_NODE
                && one.textContent.trim())) return false;
            if (/^(LI|P|DIV|TD|SECTION|NAV)$/.test(tagName)) return true;
        }
    };
    const how = { visibilityProperty: true, opacityProperty: true };
    const isSeen = (one) => one.checkVisibility(how) && one.getBoundingClientRect().right > 0;
    const touched = "button, input:not([type=hidden], .document__file), select, summary, textarea,"
        + " label.button, label.md-header__button, a[href]:not(.headerlink)";
    const all = [...document.querySelectorAll(touched)]
        .filter((one) => isSeen(one))
        .map((one) => one.closest("label") ?? one)
        .filter((one) => one.tagName !== "A" || standsAlone(one));
    const small = all.filter((one) => one.getBoundingClientRect().height < 43.5)
        .map((one) => one.outerHTML.slice(0, 120));
    for (const one of folded) one.open = false;
    return [all.length, small];
}"""


def test_touch_targets_are_44_pixels_high(narrow):
    page, _ = narrow
    page.set_viewport_size({"width": 390, "height": 800})
    seen, small = page.evaluate(SMALL_TARGETS)
    page.set_viewport_size({"width": 320, "height": 800})
    assert small == []
    assert seen > 1


def small_texts(page):
    """Return how many texts there are, and those that are smaller than they may be."""
    return page.evaluate(
        """() => {
            const small = new Set();
            let seen = 0;
            const content = document.querySelector(".md-content");
            const walk = document.createTreeWalker(content, NodeFilter.SHOW_TEXT);
            while (walk.nextNode()) {
                const parent = walk.currentNode.parentElement;
                if (!walk.currentNode.textContent.trim()) continue;
                if (!parent.getClientRects().length) continue;
                if (parent.closest("sub, sup, title, desc, template, .unit")) continue;
                // A small picture of a drawing is not there to be read.
                if (parent.closest("[aria-hidden=true]:not(svg[role=img] > g)")) continue;
                seen += 1;
                let size = parseFloat(getComputedStyle(parent).fontSize);
                const svg = parent.closest("svg");
                if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
                if (size < 13.9) small.add(`${parent.tagName} ${size} ${parent.textContent}`);
            }
            return [seen, [...small]];
        }"""
    )


def test_no_text_on_a_narrow_screen_is_below_14_pixels(narrow):
    page, _ = narrow
    seen, small = small_texts(page)
    assert seen > 1
    assert small == []


@pytest.mark.full
@pytest.mark.parametrize("address", PAGES)
def test_no_text_on_a_wide_screen_is_below_14_pixels(browser, served, address):
    page = opened(browser, served.url + address, viewport={"width": 1280, "height": 900})
    seen, small = small_texts(page)
    page.context.close()
    assert seen > 1
    assert small == []


def test_large_type_does_not_break_the_page(browser, served):
    # 200 % zoom of a 1280 pixel window leaves 640 CSS pixels.
    page = opened(
        browser,
        served.url + "coil-wiring/",
        viewport={"width": 640, "height": 450},
        device_scale_factor=2,
    )
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.context.close()
    assert wide <= 640


def test_answer_stands_beside_the_form_on_a_wide_page_and_beneath_on_a_narrow_one(browser, served):
    page = opened(browser, served.url + "bridging/", viewport={"width": 1280, "height": 900})

    def places():
        return page.evaluate(
            """() => [".calculator__form", ".calculator__answer"].map((name) => {
                const box = document.querySelector(`#bridged-output ${name}`);
                const { top, left } = box.getBoundingClientRect();
                return [top, left];
            })"""
        )

    (form_top, form_left), (answer_top, answer_left) = places()
    assert abs(form_top - answer_top) < 2
    assert answer_left > form_left + 200
    page.set_viewport_size({"width": 390, "height": 800})
    (form_top, form_left), (answer_top, answer_left) = places()
    assert answer_top > form_top + 200
    assert abs(answer_left - form_left) < 2
    page.context.close()


def test_the_sentence_is_in_sight_after_a_change_on_a_phone(browser, served):
    context = browser.new_context(
        viewport={"width": 390, "height": 700}, has_touch=True, service_workers="block"
    )
    page = context.new_page()
    page.goto(served.url + "bridging/")
    wait_ready(page)
    page.fill("#bridged-output--load_ohm", "8")
    wait_until(
        page,
        "document.querySelector('#bridged-output .status').getBoundingClientRect().height > 20",
    )
    field = page.query_selector("#bridged-output--load_ohm").bounding_box()
    box = page.query_selector("#bridged-output .status").bounding_box()
    context.close()
    assert 0 <= field["y"] < 700
    assert 0 < box["y"] < 700
    assert box["y"] + box["height"] <= 701


def test_drawings_fit_the_sheet_and_keep_9_point_text(page, served):
    page.goto(served.url + "coil-wiring/?coil-wiring.drivers=4")
    wait_sentence(page, "coil-wiring", "2 Ω")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 672, "height": 980})  # A4 less the margins
    sizes = page.eval_on_selector_all(
        ".drawing__picture",
        """all => all.map((svg) => {
            const { width } = svg.getBoundingClientRect();
            return [width, 16 * width / svg.viewBox.baseVal.width];
        })""",
    )
    assert sizes
    for width, text in sizes:
        if not width:
            continue  # in a fold that is closed
        assert width <= 672
        assert text >= 12  # CSS pixels: 9 point
