"""A footprint on paper is as large as it says: measured in the PDF that Chromium alone prints."""

import ctypes
from collections import defaultdict

import pypdfium2.raw as pdfium
import pytest
from conftest import wait_ready, wait_sentence
from test_print import printed

pytestmark = pytest.mark.chromium

POINT_MM = 25.4 / 72
NEAR_MM = 0.3
BODY_MM = 0.6  # the stroke that only the body's edges have


def strokes(sheet):
    """Yield for each path of a page its stroke's width and its straight pieces, in mm on paper."""
    for one in sheet.get_objects(max_depth=8):
        if one.type != pdfium.FPDF_PAGEOBJ_PATH:
            continue
        a, b, c, d, e, f = one.get_matrix().get()
        width, x, y = ctypes.c_float(), ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPageObj_GetStrokeWidth(one, width)
        pieces, last = [], None
        for at in range(pdfium.FPDFPath_CountSegments(one)):
            part = pdfium.FPDFPath_GetPathSegment(one, at)
            pdfium.FPDFPathSegment_GetPoint(part, x, y)
            here = (
                (a * x.value + c * y.value + e) * POINT_MM,
                (b * x.value + d * y.value + f) * POINT_MM,
            )
            if last and pdfium.FPDFPathSegment_GetType(part) == pdfium.FPDF_SEGMENT_LINETO:
                pieces.append((last, here))
            last = here
        yield width.value, pieces


def length(piece):
    (x, y), (to_x, to_y) = piece
    return ((to_x - x) ** 2 + (to_y - y) ** 2) ** 0.5


def is_level(piece):
    return abs(piece[0][1] - piece[1][1]) < 0.01


def rules(sheet):
    """The lengths of a page's rules: a level line with a tick every 10 mm."""
    return [
        length(pieces[0])
        for _, pieces in strokes(sheet)
        if len(pieces) == 12 and is_level(pieces[0]) and not any(map(is_level, pieces[1:]))
    ]


def edges(sheet):
    """The body's edges on a page: (length, level or not)."""
    found = defaultdict(list)
    for width, pieces in strokes(sheet):
        if width == pytest.approx(BODY_MM):
            for piece in pieces:
                found["level" if is_level(piece) else "upright"].append(length(piece))
    return found


def on_paper(page, served, query, words):
    page.goto(f"{served.url}footprint/?{query}")
    wait_ready(page)
    wait_sentence(page, "footprint", words)
    return printed(page, "footprint-measured")


ONE_SHEET = "width_mm=150&depth_mm=93.5&back=none"
# As large as a sheet may be.
FULL = "width_mm=174&depth_mm=222&front=none&back=none"


@pytest.mark.parametrize(
    ("query", "words", "width", "depth"),
    [(ONE_SHEET, "150 × 213.5 mm", 150, 93.5), (FULL, "174 × 222 mm", 174, 222)],
    ids=["one sheet", "a full sheet"],
)
def test_a_body_on_one_sheet_is_in_true_size(page, served, query, words, width, depth):
    document, texts = on_paper(page, served, query, words)
    (at,) = (at for at, sheet in enumerate(document) if rules(sheet))
    assert rules(document[at]) == [pytest.approx(100, abs=NEAR_MM)]
    found = edges(document[at])
    assert found["level"] == [pytest.approx(width, abs=NEAR_MM)] * 2
    assert found["upright"] == [pytest.approx(depth, abs=NEAR_MM)] * 2
    assert "Hazel 4-50" in texts[at] and "front" in texts[at]
    wide, high = document[at].get_size()
    for _, pieces in strokes(document[at]):
        for piece in pieces if len(pieces) in (4, 12) else []:
            for x, y in piece:
                assert 0 < x < wide * POINT_MM and 0 < y < high * POINT_MM


def test_every_sheet_has_its_page_its_rule_and_its_part_of_the_body(page, served):
    document, texts = on_paper(page, served, "", "4 sheets")
    pages = [at for at, sheet in enumerate(document) if rules(sheet)]
    assert len(pages) == 4
    total = defaultdict(float)
    for at, place in zip(
        pages,
        ("1: 1 from the left, 1 from the front", "2: 2 from the left, 1 from the front",
         "3: 1 from the left, 2 from the front", "4: 2 from the left, 2 from the front"),
        strict=True,
    ):  # fmt: skip
        assert rules(document[at]) == [pytest.approx(100, abs=NEAR_MM)]
        assert f"sheet {place}" in texts[at] and "This rule must measure 100 mm" in texts[at]
        found = edges(document[at])
        for way, lengths in found.items():
            total[way] += sum(lengths)
        # Half of the width on each; of the depth 60 mm in front of the cut, 120 mm behind it.
        assert found["level"] == [pytest.approx(130, abs=NEAR_MM)]
        front = "1 from the front" in place
        assert found["upright"] == [pytest.approx(60 if front else 120, abs=NEAR_MM)]
    assert total == {"level": pytest.approx(2 * 260, abs=1), "upright": pytest.approx(360, abs=1)}


def test_nothing_else_stands_on_a_sheet_s_page(page, served):
    document, texts = on_paper(page, served, "", "4 sheets")
    for at, sheet in enumerate(document):
        if rules(sheet):
            assert "Rooms at the faces" not in texts[at]
            assert "Measure the printed rule" not in texts[at]
