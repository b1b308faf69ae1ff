"""The search finds every word of the trade by each of its names, also with one letter wrong."""

import glossary
import pytest

ASK = """async ([base, queries]) => {
  const index = await (await fetch(base + "search/search_index.json")).json();
  const worker = new Worker(base + "assets/search-later.js");
  const reply = () => new Promise((resolve) =>
    worker.addEventListener("message", ({ data }) => resolve(data), { once: true }));
  let answer = reply();
  worker.postMessage({ type: 0, data: { ...index, options: { suggest: false } } });
  await answer;
  const found = {};
  for (const query of queries) {
    answer = reply();
    worker.postMessage({ type: 2, data: query });
    found[query] = (await answer).data.items.flat().map(({ location }) => location);
  }
  worker.terminate();
  return found;
}"""
# What the search did not know before it had the words of the trade.
ONCE_LOST = (
    "RCA", "voice coil", "DVC", "dual voice coil", "remote wire", "ground loop", "ported", "DSP",
    "CCA", "OFC", "sub", "L-pad", "time alignment", "crossover frequency", "clearance",
    "enclosure", "heatsink", "chassis", "stereo", "subwoofer", "headroom",
)  # fmt: skip

FIRST = {
    "bridge": "bridged-output",
    "power cable": "power-cable",
    "L-pad": "level-pad",
    "time alignment": "arrival-delay",
    "voice coils": "coil-wiring",
    "gain": "gain-voltage",
}


def misspelt(name):
    """The name with a letter in the middle of its longest word doubled over by another."""
    word = max(name.replace("-", " ").split(), key=len)
    at = len(word) // 2
    return name.replace(word, word[:at] + ("x" if word[at] != "x" else "q") + word[at + 1 :])


@pytest.fixture(scope="module")
def found(served, browser):
    names = [name for entry in glossary.entries().values() for name in (entry.term, *entry.also)]
    wrong = [misspelt(name) for name in names if misspelt(name)]
    page = browser.new_page()
    page.goto(served.url)
    yield page.evaluate(ASK, [served.url, [*names, *wrong, *ONCE_LOST, *FIRST]])
    page.close()


def test_every_entry_is_found_by_each_of_its_names(found):
    for entry in glossary.entries().values():
        for name in (entry.term, *entry.also):
            assert f"words-of-the-trade/#{entry.key}" in found[name], name


def test_an_entry_is_found_with_one_letter_wrong(found):
    for entry in glossary.entries().values():
        for name in (entry.term, *entry.also):
            word = max(name.replace("-", " ").split(), key=len)
            if len(word) >= 3 and word.isalpha():
                assert f"words-of-the-trade/#{entry.key}" in found[misspelt(name)], name


def test_what_was_lost_is_found(found):
    for name in ONCE_LOST:
        assert found[name], name


@pytest.mark.parametrize(("query", "calculator"), FIRST.items())
def test_a_calculator_stands_first(found, query, calculator):
    assert found[query][0].startswith(f"calculators/{calculator}/")
