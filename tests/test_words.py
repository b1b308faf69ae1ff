"""The words that a reader sees are the trade's: those that went do not come back.

Read are the chapters, and every text of `calc` and of the page's scripts that is one at all: more
than one word, and no docstring.  Names, keys and choice values are promises and stay.
"""

import ast
import re

import pytest
from conftest import ROOT

# A word that went, and what is written in its place.
GONE = {
    r"common practice": "a key of the register",
    r"from memory": "a key of the register",
    r"trigger (?:wire|lead)s?": "remote turn-on lead",
    r"twin[- ]coil": "dual-voice-coil (DVC)",
    r"free ends?": "the two leads to the amplifier",
    r"level pads?": "L-pad",
    r"levelling network": "Zobel network",
    r"passive networks?": "passive crossover",
    r"protection capacitor": "tweeter capacitor",
    r"component pairs?": "component set",
    r"signal leads?": "RCA lead",
    r"the trunk|trunks|trunk (?:cable|and)": "main power run",
    r"may carry": "is rated for",
    r"permitted currents?": "current rating",
    r"(?:rating )?plate (?:says|gives)|on the plate|the plate’s": "spec sheet",
    r"groupings?": "channel layout",
    r"in the same sense|wrong way round": "polarity",
    r"as a rule": "usually",
    r"hangs? on": "is connected to",
    r"nought": "zero",
    r"reckoned": "calculated",
    r"parted by": "separated by",
    r"mends": "cures, fixes",
    r"is told|are told|told of": "is shown, flagged",
    r"is proven": "say what is certain",
    r"asks? for (?:each|this|more|a size)": "needs",
    r"the shelf|shelf list|your shelf": "stock list",
    r"musts|a must(?!-)": "must-have",
    r"does it breathe|breathes?": "stays cool enough",
    r"looks? to the (?:left|right|front|back|side)": "faces",
    r"boost out": "boost off",
    r"cut (?:wave|sine)": "clipped",
    r"level control on a lead": "remote level control (bass knob)",
    r"heavy (?:programme|duty)|normal programme": "loud music, normal listening",
    r"duties|duty": "how hard it is played",
    r"vented box": "ported",
    r"ampacity|copper-clad cable": "rating; CCA",
    r"filter edges?": "the tweeter’s high-pass; say which",
    r"is not below": "the margin, as a positive statement",
    r"simply|obviously": "nothing",
}
WORDS = re.compile("|".join(rf"(?P<w{at}>\b(?:{word})\b)" for at, word in enumerate(GONE)), re.I)
# Pages that quote what things are also called, or tell of older editions.
QUOTING = {"words-of-the-trade.md", "changes.md", "licences.md", "sources.md"}
# What people paste, and by which words a spec sheet is read, is theirs.
READING = ("calc/reading/", "calc/system/files/", "calc/answers/sources.py")


def gone(text):
    """The words of a text that went, each with what is written in its place."""
    for hit in WORDS.finditer(text):
        yield f"‘{hit[0]}’, better: {list(GONE.values())[int(hit.lastgroup[1:])]}"


def texts_of(path):
    """The texts of a module with their lines, docstrings left out."""
    tree = ast.parse(path.read_text("utf-8"))
    inner = {
        node.body[0].value
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    loose = {node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and node not in inner | loose
            and " " in node.value.strip()
        ):
            yield node.lineno, node.value


@pytest.mark.parametrize(
    "path",
    [
        path
        for path in sorted((ROOT / "calc").rglob("*.py"))
        if not str(path.relative_to(ROOT)).startswith(READING)
    ],
    ids=lambda path: str(path.relative_to(ROOT / "calc")),
)
def test_a_module_s_texts_are_in_the_trade_s_words(path):
    assert [(line, *gone(text)) for line, text in texts_of(path) if [*gone(text)]] == []


@pytest.mark.parametrize(
    "path",
    [path for path in sorted((ROOT / "docs").rglob("*.md")) if path.name not in QUOTING],
    ids=lambda path: path.name,
)
def test_a_chapter_is_in_the_trade_s_words(path):
    text = re.sub(r"^( *)(`{3,}).*?^\1\2`*\s*$", "", path.read_text("utf-8"), flags=re.M | re.S)
    text = re.sub(r"`[^`\n]*`|\]\([^)]*\)|<[^>]*>|\{[^}\n]*\}", " ", text)
    lines = enumerate(text.split("\n"), start=1)
    assert [(line, *gone(words)) for line, words in lines if [*gone(words)]] == []


@pytest.mark.parametrize(
    "path", sorted((ROOT / "build" / "web").glob("*.mjs")), ids=lambda path: path.name
)
def test_a_script_s_texts_are_in_the_trade_s_words(path):
    text = re.sub(r"/\*.*?\*/|//.*", "", path.read_text("utf-8"), flags=re.S)
    texts = re.findall(r'"([^"\n]* [^"\n]*)"|`([^`]* [^`]*)`', text)
    assert [words for pair in texts for words in pair if [*gone(words)]] == []


def test_a_word_that_went_is_noticed():
    assert [*gone("The trigger wire hangs on it.")] == [
        "‘trigger wire’, better: remote turn-on lead",
        "‘hangs on’, better: is connected to",
    ]
