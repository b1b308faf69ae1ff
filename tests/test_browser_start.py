"""The start of a plan on a telephone: how many answers and taps it takes, and what covers what."""

import pytest
from bench_journey import MOST_ANSWERS, MOST_TAPS, MOST_TO_SHEET, WINDOW, to_sheet, to_verdicts
from conftest import SITE_PAGES, wait_ready, wait_until, watched

VERDICTS = {"suitable", "likely", "unsuitable", "not known"}


@pytest.fixture(scope="module")
def telephone(browser, served):
    """A browser as a telephone has it: small, and touched."""
    yield from watched(browser, served, "block", viewport=WINDOW, has_touch=True)


@pytest.fixture
def plan(telephone, served):
    """The empty page of the plan."""
    page = telephone.new_page()
    page.goto(f"{served.url}plan/")
    page.evaluate("localStorage.clear()")
    page.reload()
    wait_ready(page)
    yield page
    page.close()


def test_two_amplifiers_are_judged_within_a_minutes_answers(plan):
    walk = to_verdicts(plan)
    assert set(walk.states) <= VERDICTS and len(walk.states) == 2
    assert walk.answers <= MOST_ANSWERS and walk.taps <= MOST_TAPS
    to_sheet(walk)
    assert walk.answers <= MOST_TO_SHEET
    assert plan.locator(".answer .verdict--not-known").count() == 0
