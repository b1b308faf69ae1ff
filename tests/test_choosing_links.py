"""A system in a link and in a code: packed, opened alike, and read by a general decoder."""

import json
import re
import zlib
from base64 import urlsafe_b64encode

import pytest
import zxingcpp
from choosing_systems import long_system, planned_of
from conftest import ROOT
from PIL import Image, ImageDraw

from calc.app.contents import CALCULATORS, link_of
from calc.app.page import respond
from calc.choosing.fit_plan import FIT_PLAN
from calc.inputs import links
from calc.inputs.errors import InputError
from calc.system.files.system_file import read_system

SYSTEMS = sorted((ROOT / "shared" / "systems").glob("*.toml"))
PAGE = ("fit-plan",)


def text_of(path):
    return path.read_text(encoding="utf-8")


def opened(query):
    return links.opened("fit-plan", FIT_PLAN.form, query, PAGE)


def test_a_long_link_is_packed_and_opens_alike():
    form = FIT_PLAN.form
    values = form.read(long_system())
    query = links.query("fit-plan", form.write(values), PAGE)
    assert query.startswith("packed=") and len(query) < 2000
    link = opened(query)
    assert not link.errors and not link.notices
    assert form.read(link.texts) == values


def test_a_packed_link_is_not_believed():
    bomb = urlsafe_b64encode(zlib.compress(b"a" * 50_000_000, 9)).decode()
    good = urlsafe_b64encode(zlib.compress(b"alternator_a=<b>&colour=red", 9)).decode()
    for text in ("", "x", "!!!!", "ä", "A" * 3000, bomb, good[:-8]):
        assert [error.field for error in opened(f"packed={text}").errors] == ["link"]
    link = opened(f"packed={good}&alternator_a=90")
    assert [error.field for error in link.errors] == ["alternator_a"]  # given twice
    assert "colour" in link.notices[0]
    link = opened(f"packed={good}")
    with pytest.raises(InputError, match="is not a number"):
        FIT_PLAN.form.read(link.texts, link.errors)


# ---- codes


def decoded(svg):
    """Return what a general decoder reads off a code's squares, drawn four pixels wide."""
    size = int(re.search(r'viewBox="0 0 (\d+) ', svg)[1])
    image = Image.new("L", (4 * size, 4 * size), 255)
    draw = ImageDraw.Draw(image)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", svg):
        draw.rectangle((4 * int(x), 4 * int(y), 4 * int(x) + 3, 4 * int(y) + 3), fill=0)
    (code,) = zxingcpp.read_barcodes(image)
    return code.text


@pytest.mark.parametrize("path", SYSTEMS, ids=lambda path: path.stem)
def test_the_code_of_a_file_is_read_by_a_general_decoder_into_the_same_system(path):
    texts, _ = read_system(text_of(path))
    asked = {"kind": "qr-file", "calculator": "fit-plan", "inputs": texts}
    reply = json.loads(respond(json.dumps(asked)))
    again, wrong = read_system(decoded(reply["text"]))
    assert wrong == [] and planned_of(again) == planned_of(texts)


def test_the_code_of_a_system_s_link_is_read_by_a_general_decoder():
    texts, _ = read_system(text_of(SYSTEMS[1]))
    address = "https://example.org/" + link_of(CALCULATORS["fit-plan"].answer(texts))
    asked = {"kind": "qr", "calculator": "fit-plan", "link": address}
    assert decoded(json.loads(respond(json.dumps(asked)))["text"]) == address


def test_a_file_that_no_code_holds_is_told_in_words():
    asked = {"kind": "qr-file", "calculator": "fit-plan", "inputs": long_system()}
    reply = json.loads(respond(json.dumps(asked)))
    # A reply of its own kind: nothing was handed over.
    assert reply == {
        "kind": "failed",
        "text": "The QR code was not made: the file is longer than 2683 characters.",
    }
