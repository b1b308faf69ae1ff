"""A chapter on paper: a handout without chrome, with page numbers and a running title.

Printing to a file is Chromium's own: no other engine can be asked for it.
"""

import os

import pypdfium2
import pytest
from conftest import PICTURES, ROOT, open_card, sampled, wait_ready, wait_sentence

from calc.app.contents import PAGES

pytestmark = pytest.mark.chromium

PAPER = ROOT / ".work" / "paper"
CHAPTERS = {
    "bridging": "Bridging",
    "coil-wiring": "Voice coils",
    "crossovers": "Crossovers",
    "cables": "Cables",
    "cable-chart": "Cable chart",
    "mounting": "Mounting",
    "footprint": "Paper template",
    "set-up": "Set-up",
    "commissioning": "Sign-off checks",
    "bay-survey": "Survey sheet",
    "checklist": "Before you connect the battery",
    "cautions": "Cautions",
    "plan": "Plan a system",
    "choose": "Choose an amplifier",
}


# Of each kind of sheet one; the long run prints all.
IN_SHORT = ("bridging", "cable-chart", "plan", "choose")
OF_THE_SCREEN = (
    "Work it out",
    "Copy link",
    "QR code",
    "Back to the example",
    "More inputs",
    "Add a row",
    "Saved for offline",
    "Search",
    "Open these figures",
    "Save as a WAV file",
    "Clear all readings",
)


def printed(page, name):
    PAPER.mkdir(parents=True, exist_ok=True)
    path = PAPER / f"{name}.pdf"
    page.pdf(path=path, prefer_css_page_size=True, print_background=False, tagged=True)
    document = pypdfium2.PdfDocument(path)
    texts = [sheet.get_textpage().get_text_range() for sheet in document]
    if PICTURES in os.environ:
        for number, sheet in enumerate(document):
            sheet.render(scale=1.2).to_pil().save(PAPER / f"{name}-{number + 1}.png")
    return document, [Squeezed(text) for text in texts]


class Squeezed(str):
    """A sheet's text without spaces: where these stand in a PDF is a matter of layout."""

    def __new__(cls, text):
        return super().__new__(cls, "".join(text.split()))

    def __contains__(self, part):
        return super().__contains__("".join(part.split()))


@pytest.mark.parametrize("name", sampled(CHAPTERS, IN_SHORT))
def test_every_sheet_has_its_number_its_title_and_no_button(page, served, name):
    page.goto(f"{served.url}{name}/")
    if f"{name}/" in PAGES:
        wait_ready(page)
    document, texts = printed(page, name)
    for number, text in enumerate(texts, start=1):
        assert f"Four-Channel Handbook · {CHAPTERS[name]}" in text
        assert f"{number} / {len(texts)}" in text
    width, height = document[0].get_size()
    assert (round(width), round(height)) == (595, 842)  # A4 in points
    whole = Squeezed("".join(texts))
    assert not [word for word in OF_THE_SCREEN if word in whole]


@pytest.mark.parametrize("name", ["cable-chart", "checklist", "bay-survey", "commissioning"])
def test_what_hangs_on_a_wall_or_goes_to_the_vehicle_is_one_page(page, served, name):
    page.goto(f"{served.url}{name}/")
    document, _ = printed(page, f"{name}-alone")
    assert len(document) == 1


def test_the_commissioning_sheet_of_the_largest_system_is_one_page(page, served):
    rows = ";".join(
        f"output behind the seat {at},100,4,yes,network,0.12,315,-10,6" for at in range(1, 7)
    )
    page.goto(f"{served.url}commissioning/?outputs={rows}")
    wait_sentence(page, "commissioning", "6 outputs")
    document, _ = printed(page, "commissioning-largest")
    assert len(document) == 1


def test_a_handout_lists_the_inputs_and_its_folds_as_they_stand(page, served):
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    working = "V = √(P·R) = √(100 W × 8 Ω) = 28.3 V"
    unknown = "Whether this amplifier can be bridged at all"
    closed = Squeezed("".join(printed(page, "bridging-8-closed")[1]))
    assert "Bridged into 8 Ω, the pair gives about 100 W" in closed
    assert unknown not in closed
    for fold in page.query_selector_all("#bridged-output .answer .fold > summary"):
        fold.click()
    _, texts = printed(page, "bridging-8")
    whole = Squeezed("".join(texts))
    assert "Load on the bridged pair: 8 Ω" in whole
    assert "Bridged into 8 Ω, the pair gives about 100 W" in whole
    assert working in whole
    assert unknown in whole
    # The list of sources comes last.
    assert "Both bridged terminals are live" in whole
    assert "NIOSH" in texts[-1]


def test_a_folded_card_is_printed_as_its_summary_and_an_open_one_whole(page, served):
    page.goto(served.url + "bridging/")
    wait_ready(page)
    said = page.text_content(".calculator-card__said")[:40]
    within = page.text_content("#channel-map .answer caption")[:40]
    folded = Squeezed("".join(printed(page, "bridging-folded")[1]))
    assert said in folded
    assert within not in folded
    open_card(page, "channel-map")
    whole = Squeezed("".join(printed(page, "bridging-open")[1]))
    assert within in whole
    page.click(".calculator-card > summary")
    assert within not in Squeezed("".join(printed(page, "bridging-folded-again")[1]))


def test_a_calculator_s_own_page_is_printed_like_a_sheet_of_its_chapter(page, served):
    page.goto(served.url + "calculators/power-cable/?length_m=4.5")
    wait_sentence(page, "power-cable", "4.5 m")
    _, texts = printed(page, "own-power-cable")
    assert len(texts) <= 3
    title = page.text_content("h1").removesuffix("¶")
    assert title in texts[0] and "4.5 m" in texts[0]
    for text in texts:
        assert "Four-Channel Handbook · Cables" in text
    whole = Squeezed("".join(texts))
    assert not [word for word in (*OF_THE_SCREEN, "All calculators") if word in whole]


def test_the_answer_key_is_printed_only_when_it_is_open(page, served):
    page.goto(served.url + "bridging/")
    key = "Bridged into 4 Ω, the pair gives about 180 W"
    assert key not in Squeezed("".join(printed(page, "no-key")[1]))
    page.click(".answers summary")
    assert key in Squeezed("".join(printed(page, "with-key")[1]))


def test_print_is_black_on_white_also_from_a_dark_page(browser, served):
    context = browser.new_context(color_scheme="dark", service_workers="block")
    page = context.new_page()
    page.goto(served.url + "cautions/")
    document, _ = printed(page, "cautions-dark")
    picture = document[0].render(scale=0.5).to_pil().convert("L")
    context.close()
    histogram = picture.histogram()
    assert sum(histogram[230:]) / sum(histogram) > 0.8
