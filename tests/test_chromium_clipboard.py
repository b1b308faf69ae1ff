"""What lands in the clipboard: only Chromium lets it be read without a question to the reader."""

import pytest
from conftest import wait_ready, wait_sentence, wait_until
from test_browser_answers import LOAD, sentence

pytestmark = pytest.mark.chromium


def test_copied_link_opens_the_same_answer(context, served):
    context.grant_permissions(["clipboard-read", "clipboard-write"], origin=served.url)
    page = context.new_page()
    page.goto(served.url + "bridging/")
    page.fill(LOAD, "5.5")
    wait_sentence(page, "bridged-output", "5.5 Ω")
    page.click("#bridged-output [data-hand-over=link]")
    wait_until(
        page, "document.querySelector('#bridged-output .status').textContent === 'Link copied.'"
    )
    link = page.evaluate("navigator.clipboard.readText()")
    assert link == served.url + "calculators/bridged-output/?load_ohm=5.5"
    told = sentence(page, "bridged-output")
    other = context.new_page()
    other.goto(link)
    wait_sentence(other, "bridged-output", told)


def test_answer_can_be_copied_as_text(context, served):
    context.grant_permissions(["clipboard-read", "clipboard-write"], origin=served.url)
    page = context.new_page()
    page.goto(served.url + "coil-wiring/")
    wait_ready(page)
    page.click("#coil-wiring [data-hand-over=text]")
    wait_until(
        page,
        "document.querySelector('#coil-wiring .status').textContent.startsWith('Answer copied')",
    )
    assert "(1a+1b)|(2a+2b)" in page.evaluate("navigator.clipboard.readText()")
