"""A chapter on paper: a handout without chrome, with page numbers and a running title.

Printing to a file is Chromium's own: no other engine can be asked for it.
"""

import pypdfium2
import pytest
from conftest import ROOT, sampled, wait_ready, wait_sentence

from calc.app.contents import PAGES

pytestmark = pytest.mark.chromium

PAPER = ROOT / ".work" / "paper"
CHAPTERS = {
    "bridging": "Bridging",
    "coil-wiring": "Coil wiring",
    "crossovers": "Crossovers",
    "cables": "Cables",
    "cable-chart": "Cable chart",
    "mounting": "Mounting",
    "footprint": "Paper template",
    "set-up": "Set-up",
    "commissioning": "Commissioning sheet",
    "bay-survey": "Survey sheet",
    "checklist": "Before you connect the battery",
    "cautions": "Cautions",
    "plan": "Plan a system",
    "choose": "Choose an amplifier",
}


# Of each kind of sheet one; the long run prints all.
IN_SHORT = ("bridging", "crossovers", "cable-chart", "footprint", "commissioning", "plan", "choose")
OF_THE_SCREEN = (
    "Work it out",
    "Copy link",
    "QR code",
    "Back to the example",
    "More inputs",
    "Add a ",
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


def test_a_handout_lists_the_inputs_and_opens_what_is_folded(page, served):
    page.goto(served.url + "bridging/?bridged-output.load_ohm=8")
    wait_sentence(page, "bridged-output", "about 100 W")
    _, texts = printed(page, "bridging-8")
    whole = Squeezed("".join(texts))
    assert "Load on the bridged pair: 8 Ω" in whole
    assert "bridged into 8 Ω expect about 100 W" in whole
    assert "V = √(P·R) = √(100 W × 8 Ω) = 28.3 V" in whole
    assert "Whether this amplifier can be bridged at all" in whole
    # The caution box comes first, the list of sources last.
    assert "Never join a bridged output" in texts[0]
    assert "The Lantern Van and the amplifiers named with it are invented." in texts[-1]


def test_the_answer_key_is_printed_only_when_it_is_open(page, served):
    page.goto(served.url + "bridging/")
    key = "bridged into 4 Ω expect about 180 W"
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
