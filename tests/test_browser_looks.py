"""How pages look: narrow, dark, large type, touch targets, and what axe-core finds."""

import pytest
from conftest import ROOT, SITE_PAGES, sampled, wait_ready

from calc.app.contents import PAGES as CHAPTERS

PAGES = [*SITE_PAGES, "404.html"]
# Chapters with the largest forms, and a page of each other kind; the long run takes all.
LIGHT = ("", "coil-wiring/", "plan/", "commissioning/", "404.html")
DARK = ("", "mounting/", "choose/", "checklist/")  # of each kind one, at least
AXE = ROOT / "build" / "web" / "node_modules" / "axe-core" / "axe.min.js"
SHOTS = ROOT / ".work" / "screenshots"


def opened(browser, address, **more):
    """Return a page as it is laid out, whose Python never starts: that would take longer."""
    context = browser.new_context(service_workers="block", **more)
    context.route("**/assets/runtime/**", lambda route: route.abort())
    page = context.new_page()
    page.goto(address)
    return page


def shoot(page, name):
    SHOTS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SHOTS / f"{name}.png", full_page=True)


@pytest.mark.parametrize(
    ("scheme", "address"),
    sampled([("light", address) for address in PAGES], [("light", one) for one in LIGHT])
    + sampled([("dark", address) for address in PAGES], [("dark", one) for one in DARK]),
)
def test_axe_finds_nothing(browser, served, address, scheme):
    context = browser.new_context(
        color_scheme=scheme,
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
    # All that differs on a dark page are its colours.
    rules = ["color-contrast"] if scheme == "dark" else None
    options = {"resultTypes": ["violations"]} | ({"runOnly": rules} if rules else {})
    found = page.evaluate("options => axe.run(document, options)", options)
    told = [
        (one["id"], one["help"], [node["target"] for node in one["nodes"]][:5])
        for one in found["violations"]
    ]
    shoot(page, f"{address.strip('/') or 'start'}-{scheme}")
    context.close()
    assert told == []


@pytest.mark.parametrize("address", PAGES)
@pytest.mark.parametrize("width", sampled([320, 390], [320]))
def test_nothing_sticks_out_of_a_narrow_page(browser, served, address, width):
    page = opened(
        browser, served.url + address, viewport={"width": width, "height": 800}, has_touch=True
    )
    if width == 390:
        shoot(page, f"{address.strip('/') or 'start'}-{width}")
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.context.close()
    assert wide <= width


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


@pytest.mark.parametrize("address", list(CHAPTERS))
def test_touch_targets_are_44_pixels_high(browser, served, address):
    page = opened(
        browser, served.url + address, viewport={"width": 390, "height": 800}, has_touch=True
    )
    page.eval_on_selector_all("details", "all => all.forEach((one) => { one.open = true; })")
    small = page.eval_on_selector_all(
        ".calculator :is(button, input[type=text], select, summary)",
        """all => all.filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5)
            .map((one) => one.outerHTML.slice(0, 120))""",
    )
    page.context.close()
    assert small == []


@pytest.mark.parametrize("address", list(CHAPTERS))
@pytest.mark.parametrize("width", sampled([320, 1280], [320]))
def test_no_text_on_the_screen_is_below_14_pixels(browser, served, address, width):
    page = opened(browser, served.url + address, viewport={"width": width, "height": 900})
    small = page.evaluate(
        """() => {
            const small = new Set();
            const content = document.querySelector(".md-content");
            const walk = document.createTreeWalker(content, NodeFilter.SHOW_TEXT);
            while (walk.nextNode()) {
                const parent = walk.currentNode.parentElement;
                if (!walk.currentNode.textContent.trim()) continue;
                if (!parent.getClientRects().length) continue;
                if (parent.closest("sub, sup, title, desc, template, .unit")) continue;
                let size = parseFloat(getComputedStyle(parent).fontSize);
                const svg = parent.closest("svg");
                if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
                if (size < 13.9) small.add(`${parent.tagName} ${size} ${parent.textContent}`);
            }
            return [...small];
        }"""
    )
    page.context.close()
    assert small == []


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
    for _ in range(2000):
        box = page.query_selector("#bridged-output .status").bounding_box()
        if box and box["height"] > 20:
            break
        page.wait_for_timeout(25)
    field = page.query_selector("#bridged-output--load_ohm").bounding_box()
    box = page.query_selector("#bridged-output .status").bounding_box()
    context.close()
    assert 0 <= field["y"] < 700
    assert 0 < box["y"] < 700
    assert box["y"] + box["height"] <= 701
