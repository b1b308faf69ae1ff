"""The PDFs that `run.py print` makes: read back, page by page."""

import shutil
from concurrent.futures import ThreadPoolExecutor

import printing
import pypdfium2
import pytest
from conftest import ROOT

pytestmark = pytest.mark.chromium

HANDOUTS = sorted(path.stem for path in (ROOT / "docs" / "handouts").glob("*.md"))
PAPERS = {"a4": (595, 842), "letter": (612, 792)}
FOOT_PT, HEAD_PT = 57, 51  # what the margins take, at the bottom and at the top
THIRD = 1 / 3
IN_SHORT = ("bridging", *(f"handout-{name}" for name in HANDOUTS if "bridging" in name))
IN_SHORT_BOOK = ("basics", "bridging", "sources")


def printed(*arguments, **more):
    """Print in a thread of its own: the browser of the other tests has this one."""
    with ThreadPoolExecutor(1) as beside:
        beside.submit(printing.print_some, *arguments, **more).result()


@pytest.fixture(scope="module")
def pdfs(site, tmp_path_factory, pytestconfig, is_long):
    out = tmp_path_factory.mktemp("print")
    path = pytestconfig.getoption("--whole-browser-path") or shutil.which("chromium")
    every = printing.pages_to_print()
    printed(
        site,
        path,
        "a4",
        out=out,
        addresses=every if is_long else {name: every[name] for name in IN_SHORT},
        book=printing.book_pages() if is_long else IN_SHORT_BOOK,
    )
    return {path.stem: pypdfium2.PdfDocument(path) for path in out.glob("*.pdf")}


def text_of(document):
    return "".join("".join(page.get_textpage().get_text_range().split()) for page in document)


def filled(page):
    """The share of a page's height between its margins that is written on."""
    text = page.get_textpage()
    _, height = page.get_size()
    lows = [text.get_charbox(at)[1] for at in range(text.count_chars())]
    lowest = min((low for low in lows if low > FOOT_PT), default=height)
    return (height - HEAD_PT - lowest) / (height - HEAD_PT - FOOT_PT)


def test_every_pdf_has_tags_an_outline_and_numbered_pages(pdfs):
    for name, document in pdfs.items():
        assert document.is_tagged(), name
        titles = [entry.title if hasattr(entry, "title") else entry.get_title()
                  for entry in document.get_toc()]  # fmt: skip
        assert titles, name
        for number, page in enumerate(document, start=1):
            text = page.get_textpage().get_text_range()
            assert f"{number} / {len(document)}" in text, name
            assert "Four-Channel Handbook" in text, name


def test_a_handout_is_two_to_four_pages_and_its_key_no_more(pdfs):
    for name in [name for name in pdfs if name.startswith("handout-")]:
        assert len(pdfs[name]) <= 4, name
        assert name.endswith("-key") or len(pdfs[name]) >= 2, name


def test_a_handout_holds_no_answer_and_its_key_does(pdfs):
    handout, key = text_of(pdfs["handout-bridging"]), text_of(pdfs["handout-bridging-key"])
    assert "180W" in key
    assert "180W" not in handout


def test_no_page_before_the_last_is_less_than_a_third_full(pdfs):
    for name, document in pdfs.items():
        if name == printing.BOOK:
            continue  # each part begins a page, and so ends one
        for number, page in enumerate(list(document)[:-1], start=1):
            assert filled(page) >= THIRD, f"{name}, page {number}"


def test_the_book_binds_its_parts_with_links_between_them(pdfs):
    book = pdfs[printing.BOOK]
    whole = text_of(book)
    for heading in ("Thebasics", "Bridgingtwochannels", "Sources"):
        assert heading in whole
    parts = sum(len(pdfs[name]) for name in IN_SHORT_BOOK if name in pdfs)
    assert len(book) > parts
    assert "Four-ChannelHandbook·Bridging" in whole


def test_another_paper_is_another_size(site, tmp_path, pytestconfig):
    path = pytestconfig.getoption("--whole-browser-path") or shutil.which("chromium")
    address = {"checklist": "checklist/"}
    for paper, size in PAPERS.items():
        printed(site, path, paper, out=tmp_path, addresses=address, book=())
        page = pypdfium2.PdfDocument(tmp_path / "checklist.pdf")[0]
        assert tuple(map(round, page.get_size())) == size
