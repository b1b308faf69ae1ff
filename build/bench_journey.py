"""Walks from the empty page to the verdicts and the sheet as somebody with a telephone would, and
counts.

An answer is one figure typed or one choice made; a tap is a touch on a control.  The keyboard's
own keys are neither, such as the one that goes to the next figure.
"""

from dataclasses import dataclass

from bench_lines import line
from playwright.sync_api import Browser, Locator, Page, ViewportSize
from steps import say

WINDOW: ViewportSize = {"width": 390, "height": 844}
MOST_ANSWERS, MOST_TAPS, MOST_TO_SHEET = 12, 25, 25
_DONE = "See the answer"
_MOST_STEPS = 40  # a walk that is longer goes round in a circle

# Looks within the page until the verdicts are those of the form, and the answer is of one name.
_SETTLED = """async ([verdicts, words]) => {
    const isSettled = () => {
        const card = document.querySelector(".plan");
        const told = [...card.querySelectorAll(".result[data-state]")];
        return told.length === verdicts
            && !told.some((each) => each.querySelector(".result__earlier:not([hidden])"))
            && !card.querySelector(".answer--earlier, [aria-invalid=true]")
            && !card.matches(".calculator--busy")
            && card.querySelector(".answer .sentence").textContent.includes(words);
    };
    const end = performance.now() + 60_000;
    // What was typed is sent after a pause; only then can the card be busy with it.
    await new Promise((resolve) => setTimeout(resolve, 350));
    while (!isSettled()) {
        if (performance.now() > end) {
            const card = document.querySelector(".plan");
            const seen = [card.className, ...[".bar", ".status", ".earlier:not([hidden])",
                "[aria-invalid=true]"].map((each) => card.querySelector(each)?.outerHTML)];
            throw new Error(`no verdict of the figures in the form: ${seen.join(" ")}`);
        }
        await new Promise((resolve) => setTimeout(resolve, 20));
    }
}"""


@dataclass
class Journey:
    """A walk over the page, and what it took so far."""

    page: Page
    answers: int = 0
    taps: int = 0

    def tap(self, place: Locator) -> None:
        """Touch a control."""
        place.tap()
        self.taps += 1

    def choose(self, place: Locator) -> None:
        """Touch a choice, which is an answer too."""
        self.tap(place)
        self.answers += 1

    def type(self, text: str) -> None:
        """Type a figure where the focus is, as the telephone's keyboard does."""
        self.page.keyboard.type(text)
        self.answers += 1

    def type_all(self, *figures: str) -> None:
        """Type figures one after the other, with the key that goes on between them."""
        for at, figure in enumerate(figures):
            if at:
                self.page.keyboard.press("Enter")
            self.type(figure)

    def add(self, name: str, *figures: str) -> None:
        """Add a card, and type what it asks for."""
        self.tap(self.page.locator(".add", has_text=name))
        self.type_all(*figures)

    def settle(self, verdicts: int, words: str = "") -> None:
        """Wait until verdicts and answer are of the figures in the form."""
        self.page.evaluate(_SETTLED, [verdicts, words])

    @property
    def states(self) -> list[str]:
        """The verdicts in their columns."""
        found = self.page.locator(".amplifier .result[data-state]").all()
        return [each.get_attribute("data-state") or "" for each in found]

    @property
    def step(self) -> str:
        """The words of the next step."""
        return self.page.locator(".bar__step").inner_text()


def to_verdicts(page: Page) -> Journey:
    """Walk from the empty page to a verdict on each of two amplifiers."""
    walk = Journey(page)
    walk.add("Component set", "4", "70")
    walk.add("Subwoofer", "2 x 2", "300")
    walk.choose(page.locator("[data-field=kind] [data-choose=replacement]"))
    walk.tap(page.locator("[name=power_m]"))
    walk.type("4.5")
    walk.choose(page.locator("[data-field=engine_space] [data-choose=yes]"))
    for at in (0, 1):
        walk.tap(page.locator("[data-cell=power_4ohm_w]").nth(at))
        walk.type_all("60", "180")
    walk.settle(2)
    return walk


# What the reader knows, or finds out, by the control that is gone to.
TOLD = {
    "channels": "4",
    "min_channel_ohm": "2",
    "high_pass_hz": "50-250",
    "low_pass_hz": "50-250",
    "filter_db_per_octave": "12",
    "sensitivity_min_v": "0.2",
    "sensitivity_max_v": "6",
    "alternator_a": "90",
    "vehicle_a": "36",
    "battery_ah": "60",
    "source_v": "2",
}
_FOCUS = "document.activeElement.name || document.activeElement.dataset.cell"


def to_sheet(walk: Journey) -> list[str]:
    """Walk on to the sheet, following the next step until there is none; return the steps."""
    followed: list[str] = []
    following = walk.page.locator(".bar__next")
    while walk.step != _DONE:
        followed.append(walk.step)
        if len(followed) > _MOST_STEPS:
            raise AssertionError(f"no end of next steps: {followed}")
        walk.tap(following)
        if not followed[-1].startswith("See the plan"):
            walk.type(TOLD[walk.page.evaluate(_FOCUS)])
        walk.settle(2, "Amplifier A")
    walk.tap(following)
    return followed


def report_journey(browser: Browser, address: str) -> None:
    """Print what the way to the verdicts and to the sheet takes."""
    say(f"\nFrom the empty page, {WINDOW['width']} px wide")
    with browser.new_context(viewport=WINDOW, has_touch=True) as context:
        page = context.new_page()
        page.goto(f"{address}plan/")
        walk = to_verdicts(page)
        line(
            "  to both verdicts",
            f"{walk.answers} answers, {walk.taps} taps",
            f"target ≤ {MOST_ANSWERS} and {MOST_TAPS}",
        )
        to_sheet(walk)
        line(
            "  to the sheet with nothing left to ask",
            f"{walk.answers} answers, {walk.taps} taps",
            f"target ≤ {MOST_TO_SHEET} answers",
        )
