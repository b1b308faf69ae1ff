"""The drawing of the whole system in the browser: what letters touch, and how large they are."""

import pytest
from conftest import sampled
from hypothesis import given, settings
from test_browser_looks import opened
from wired_lots import LONG_NAMES, PLUGGED, plugged_anyhow, renamed, systems
from wired_systems import ARRANGEMENTS

from calc.answers.markup import markup
from calc.choosing.wired.layout import halves_at, whole_drawings
from calc.renderers.html import drawing

# Letters do not fill the height of their box.  All in the drawing's own units.
TOUCHED = """(svg) => {
    const found = [];
    const trimmed = (text) => {
        const { x, y, width, height } = text.getBBox();
        return { words: text.textContent, left: x, right: x + width,
            top: y + height * 0.16, bottom: y + height * 0.84 };
    };
    const texts = [...svg.querySelectorAll("text")].map(trimmed);
    const { width, height } = svg.viewBox.baseVal;
    const meets = (text, left, right, top, bottom) =>
        left < text.right && text.left < right && top < text.bottom && text.top < bottom;
    const pieces = [];
    for (const wire of svg.querySelectorAll("polyline.wire")) {
        const half = Number(wire.getAttribute("stroke-width") ?? 1.4) / 2;
        const points = wire.getAttribute("points").split(" ").map((p) => p.split(",").map(Number));
        for (let at = 1; at < points.length; at += 1) {
            const xs = [points[at - 1][0], points[at][0]], ys = [points[at - 1][1], points[at][1]];
            pieces.push(["wire", Math.min(...xs) - half, Math.max(...xs) + half,
                Math.min(...ys) - half, Math.max(...ys) + half]);
        }
    }
    for (const box of svg.querySelectorAll("rect")) {
        const { x, y, width, height } = box.getBBox();
        for (const [left, right, top, bottom] of [[x, x + width, y, y], [x, x, y, y + height],
            [x, x + width, y + height, y + height], [x + width, x + width, y, y + height]]) {
            pieces.push(["box", left - 0.7, right + 0.7, top - 0.7, bottom + 0.7]);
        }
    }
    for (const one of svg.querySelectorAll("path, circle")) {
        if (one.getAttribute("r") === "0") continue;
        const { x, y, width, height } = one.getBBox();
        pieces.push([one.localName, x, x + width, y, y + height]);
    }
    for (const text of texts) {
        if (text.left < 0 || text.right > width || text.top < 0 || text.bottom > height) {
            found.push(`outside: ${text.words}`);
        }
        for (const other of texts) {
            if (other !== text && meets(text, other.left, other.right, other.top, other.bottom)) {
                found.push(`text on text: ${text.words} / ${other.words}`);
            }
        }
        for (const [kind, ...edges] of pieces) {
            if (meets(text, ...edges)) found.push(`${kind} through: ${text.words}`);
        }
    }
    return [found, parseFloat(getComputedStyle(svg.querySelector("text")).fontSize),
        svg.getBoundingClientRect().width, width];
}"""
SHOWN = f"""(html) => {{
    const place = document.querySelector("article") ?? document.body;
    place.innerHTML = html;
    return [...place.querySelectorAll("svg")].map({TOUCHED});
}}"""


@pytest.fixture(scope="module")
def blank(browser, served):
    """A page of the handbook with its fonts, in which drawings are put in place of its text."""
    page = opened(browser, served.url + "404.html", viewport={"width": 1280, "height": 900})
    page.evaluate(
        "async () => { await Promise.all(['400', '600'].map((weight) => "
        "document.fonts.load(`${weight} 16px 'Plex Sans'`, 'aΩ'))); }"
    )
    assert page.evaluate("document.fonts.check(\"600 16px 'Plex Sans'\")")
    yield page
    page.context.close()


def looked_at(page, wired):
    """Return what the browser says of the whole drawing and its halves, for phones and paper."""
    whole, halves = whole_drawings(wired)
    every = (whole, *halves, *halves_at(wired, 12.5))
    pictures = [drawing(one, f"d{at}") for at, one in enumerate(every)]
    return page.evaluate(SHOWN, "".join(map(markup, pictures)))


@pytest.mark.parametrize("name", ARRANGEMENTS)
def test_no_letter_is_touched(blank, name):
    sizes = []
    for found, text, shown, natural in looked_at(blank, ARRANGEMENTS[name]):
        assert found == []
        assert abs(shown - natural) < 0.1  # not scaled: 96 px to the inch
        sizes.append(text)
    assert sizes == [12.5, 14, 14, 12.5, 12.5]  # 12 px are 9 point


@pytest.mark.parametrize("name", sampled(LONG_NAMES, LONG_NAMES[::2]))
def test_no_letter_is_touched_however_long_the_names(blank, name):
    for wired in ARRANGEMENTS.values():
        for found, *_ in looked_at(blank, renamed(wired, name)):
            assert found == [], wired.title


@pytest.mark.parametrize("name", sampled(PLUGGED, PLUGGED[2:]))
def test_no_letter_is_touched_however_leads_are_plugged(blank, name):
    for wired in plugged_anyhow(ARRANGEMENTS[name]):
        for found, *_ in looked_at(blank, wired):
            assert found == [], wired.leads


@settings(max_examples=30)
@given(wired=systems())
def test_no_letter_is_touched_in_any_system(blank, wired):
    for found, *_ in looked_at(blank, wired):
        assert found == []


def test_the_halves_fit_a_phone(browser, served):
    page = opened(browser, served.url + "404.html", viewport={"width": 390, "height": 800})
    for wired in ARRANGEMENTS.values():
        (_, _, whole, _), *halves = looked_at(page, wired)
        assert abs(whole - 703) < 0.1
        assert all(width <= 358.1 for _, _, width, _ in halves)
    page.context.close()
