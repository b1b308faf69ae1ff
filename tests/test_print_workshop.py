"""The workshop sheet on paper: its pages counted, A4 and Letter, nothing below 9 point."""

import re

import pypdfium2
import pytest
from conftest import ROOT, sampled, wait_until
from test_browser_workshop import CUSTOMERS, link, opened
from test_print import Squeezed, printed

from calc.__main__ import main
from calc.choosing.fit_plan import FIT_PLAN

pytestmark = pytest.mark.chromium

PAPER = ROOT / ".work" / "paper"
WIDTH_PX = 703  # of the printed area
SIZES = {"A4": (596, 843), "Letter": (612, 792)}
# Pages at most: two for one amplifier, three for more; and one for a kit list that does not fit.
NAMES = sorted(path.stem for path in CUSTOMERS.glob("*.toml"))
IN_SHORT = ("arr-front-with-rear", "arr-three", "unknown-filters")
_LEAST = """() => Math.min(...[...document.querySelectorAll('.workshop *')]
    .filter((part) => part.checkVisibility() && [...part.childNodes].some(
        (node) => node.nodeType === 3 && node.textContent.trim()))
    .map((part) => parseFloat(getComputedStyle(part).fontSize)
        * (part.closest('svg')?.getBoundingClientRect().width
            / (part.closest('svg')?.viewBox?.baseVal.width ?? 1) || 1)))"""


_FOOT = re.compile(r"^Four-ChannelHandbook·Workshopsheet(?:·example,inventedfigures)?\d+/\d+")


def pages_but_for_a_kit_list(texts):
    """How many pages there are; one with nothing but the kit list is not counted."""
    return len(texts) - _FOOT.sub("", texts[-1]).startswith("Kitlist")


def amplifiers(name):
    texts, _ = FIT_PLAN.files[0]((CUSTOMERS / f"{name}.toml").read_text(encoding="utf-8"))
    return FIT_PLAN.answer(texts).sheet.results["amplifier"].count(" + ") + 1


def on(page, name, size, path):
    PAPER.mkdir(parents=True, exist_ok=True)
    file = PAPER / f"workshop-{path}-{name}-{size}.pdf"
    page.pdf(path=file, format=size, prefer_css_page_size=True, print_background=False)
    document = pypdfium2.PdfDocument(file)
    return document, [Squeezed(each.get_textpage().get_text_range()) for each in document]


@pytest.mark.parametrize("name", sampled(NAMES, IN_SHORT))
def test_it_is_two_pages_for_one_amplifier_and_three_for_more_and_can_be_read(page, served, name):
    opened(page, served, link(name))
    most = 2 if amplifiers(name) == 1 else 3
    for size, points in SIZES.items():
        document, texts = on(page, name, size, "page")
        assert tuple(map(round, document[0].get_size())) == points
        assert pages_but_for_a_kit_list(texts) <= most, (size, len(texts))
        for number, text in enumerate(texts, 1):
            assert "Four-Channel Handbook · Workshop sheet" in text
            assert f"{number} / {len(texts)}" in text
        whole = "".join(texts)
        # The sheet alone: neither the form nor the chapter, nor the reasons.
        for left_out in ("I know more", "Checks", "Usual figures", "Print"):
            assert "".join(left_out.split()) not in whole
    page.emulate_media(media="print")
    page.set_viewport_size({"width": WIDTH_PX, "height": 1040})
    assert page.evaluate(_LEAST) >= 12 - 0.01  # px: 9 point


def test_the_reasons_are_printed_where_they_are_asked_for(page, served):
    opened(page, served, link("one-pair"))
    assert "Checks" not in Squeezed("".join(printed(page, "workshop-alone")[1]))
    page.locator(".print-reasons input").check()
    texts = printed(page, "workshop-with-reasons")[1]
    whole = Squeezed("".join(texts))
    assert "Checks" in whole and "Sources" in whole
    assert "Workshop sheet" in texts[0] and len(texts) > 3


def test_what_is_typed_is_printed_and_what_is_not_is_a_line(page, served):
    opened(page, served, link("one-pair"))
    page.locator('[data-blank="customer"]').fill("Ada Moor")
    page.locator('[data-reading="rest_v"]').fill("12.6")
    wait_until(page, "document.querySelector('.workshop__judged .verdict') !== null")
    _, texts = on(page, "one-pair", "A4", "typed")
    assert "Ada Moor" in Squeezed("".join(texts)) and "12.6" in Squeezed("".join(texts))
    page.emulate_media(media="print")
    line = "getComputedStyle(document.querySelector('[data-blank=vehicle]')).borderBottomStyle"
    assert page.evaluate(line) == "solid"


def test_an_example_is_told_in_the_foot_of_every_page(page, served):
    page.goto(f"{served.url}plan/")
    page.get_by_role("button", name="Lantern Van").click()
    page.wait_for_selector(".workshop")
    for text in on(page, "example", "A4", "page")[1]:
        assert "example, invented figures" in text


@pytest.mark.parametrize("name", sampled(NAMES, ("one-pair", "arr-front-with-rear", "arr-three")))
def test_the_document_of_the_command_line_prints_the_same_pages(browser, served, name, capsys):
    assert main(["fit-plan", str(CUSTOMERS / f"{name}.toml"), "--html"]) == 0
    file = PAPER / f"workshop-{name}.html"
    PAPER.mkdir(parents=True, exist_ok=True)
    file.write_text(capsys.readouterr().out, encoding="utf-8")
    context = browser.new_context(offline=True, java_script_enabled=False)
    page = context.new_page()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri())
    most = 2 if amplifiers(name) == 1 else 3
    for size in SIZES:
        _, texts = on(page, name, size, "document")
        assert pages_but_for_a_kit_list(texts) <= most, (size, len(texts))
        assert "Checks" not in Squeezed("".join(texts))
    assert asked == [file.as_uri()]
    # With another face than the handbook's the words still lie on the paper.
    page.emulate_media(media="print")
    page.set_viewport_size({"width": WIDTH_PX, "height": 1040})
    right = page.evaluate(
        """() => Math.max(...[...document.querySelectorAll(".workshop .drawing__picture text")]
            .filter((one) => one.checkVisibility())
            .map((text) => text.getBoundingClientRect().right))"""
    )
    assert 0.8 * WIDTH_PX < right <= WIDTH_PX + 4  # so much of the margin is printed as well
    context.close()


def test_the_sheet_is_black_on_white_from_a_dark_page(browser, served):
    context = browser.new_context(color_scheme="dark", service_workers="block")
    page = context.new_page()
    opened(page, served, link("arr-front-with-rear"))
    document, _ = on(page, "dark", "A4", "page")
    histogram = document[0].render(scale=0.5).to_pil().convert("L").histogram()
    context.close()
    assert sum(histogram[230:]) / sum(histogram) > 0.8
