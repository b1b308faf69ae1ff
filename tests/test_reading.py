"""What is read: the register of sources, the words of the trade, the figures of the prose."""

import re

import glossary
import pytest
from conftest import ROOT
from prose_figures import held_numbers, prose_figures, unheld

from calc.answers.sources import STATUSES, register
from calc.app.contents import CALCULATORS, TABLES

# What a fire, a crash or hearing hangs on.
GRAVE = re.compile(r"fuse|current rating|fire|fixing|crash|airbag|hearing|loud music")


@pytest.mark.parametrize("source", register().values(), ids=register())
def test_an_entry_of_the_register_is_whole(source):
    assert source.status in STATUSES
    assert bool(source.reference) == (source.status != "trade practice")
    assert source.holds and source.rests
    assert not source.holds.endswith(".") and not source.rests.endswith(".")
    assert not source.test or (ROOT / source.test).is_file()
    if source.status == "from memory":
        assert not GRAVE.search(source.rests)


def cited():
    for path in (ROOT / "docs").rglob("*.md"):
        yield from re.findall(r"\[\^([a-z0-9-]+)\]", path.read_text("utf-8"))
    for path in (ROOT / "calc").rglob("*.py"):
        yield from re.findall(r'"([a-z0-9-]+)"', path.read_text("utf-8"))


def test_every_entry_of_the_register_is_cited():
    assert set(register()) <= set(cited())


@pytest.mark.parametrize("name", CALCULATORS)
def test_the_sources_of_an_answer_stand_in_the_register(name):
    assert set(CALCULATORS[name].answer({}).sheet.sources) <= set(register())


# Tables of chapters that arithmetic, Ohm's law and geometry make, and lists of a file's fields.
ARITHMETIC = {
    "bridged-limits", "standard-combinations", "how-to-wire", "gain-targets", "boost-multiples",
    "clipped-powers", "system-fields", "shelf-columns",
}  # fmt: skip
ASKED = {
    "standard-combinations": {"coils": "2"},
    "how-to-wire": {"drivers": "2", "coils": "2"},
}


@pytest.mark.parametrize("name", TABLES)
def test_a_table_of_a_chapter_names_what_it_rests_on(name):
    sources = set(TABLES[name](**ASKED.get(name, {})).sources)
    assert sources <= set(register())
    assert bool(sources) != (name in ARITHMETIC)


@pytest.mark.parametrize("entry", glossary.entries().values(), ids=glossary.entries())
def test_an_entry_of_the_glossary_is_whole(entry):
    page, _, anchor = entry.see.partition("#")
    text = (ROOT / "docs" / page).read_text("utf-8")
    assert not anchor or f"#{anchor} " in text
    assert entry.about.endswith(".") and entry.about.count(". ") <= 1
    assert entry.term not in entry.also


def test_no_two_entries_are_linked_from_one_spelling():
    spellings = [
        spelling.casefold()
        for entry in glossary.entries().values()
        for spelling in set(entry.spellings)
    ]
    assert sorted(spellings) == sorted(set(spellings))


def test_the_first_use_of_a_word_is_linked_and_no_other(site):
    page = (site / "basics" / "index.html").read_text("utf-8")
    links = re.findall(r'<a class="term" href="([^"]+)">([^<]+)</a>', page)
    assert "../words-of-the-trade/#head-unit" in dict(links)
    assert len(links) == len(dict(links))
    for address, _ in links:
        assert f'id="{address.partition("#")[2]}"' in (
            site / "words-of-the-trade" / "index.html"
        ).read_text("utf-8")


def test_a_figure_of_the_prose_that_nothing_holds_is_noticed():
    prose = "It takes 12.5 A to 13 A; a fuse of 30 A.\n\n``` example\nload_ohm=99 V\n```\n"
    assert [value for _, value in prose_figures(prose)] == [12.5, 13, 30]
    assert unheld(prose, held_numbers(["<td>12.49</td>", "fuse_a=30"])) == ["13 A"]
