"""Words of the trade: their page, and a link from the first use on every other page.

A Markdown extension (`glossary` in mkdocs.yml).  The entries stand in `shared/words/glossary.toml`.
"""

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

from directives import place
from markdown import Markdown
from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor

FILE = Path(__file__).resolve().parents[1] / "shared" / "words" / "glossary.toml"
PAGE = "words-of-the-trade.md"
# A page that is no reading, or that explains the words itself.
_WITHOUT = frozenset(f"docs/{name}" for name in (PAGE, "changes.md", "licences.md", "sources.md"))
_PROSE = frozenset({"p", "li", "dd"})
_CLOSED = frozenset({"a", "code", "h1", "h2", "h3", "h4", "h5", "h6", "table", "summary", "sup"})

_INLINE = frozenset({"strong"})  # what is in italics is quoted
_UNREAD = frozenset({"footnote", "caution__word"})


@dataclass(frozen=True, kw_only=True)
class Entry:
    """A word of the trade.

    also : what else it is called; search finds the entry by it
    match : further spellings that a page links from
    see : where the handbook goes on, as a page of docs/
    """

    key: str
    term: str
    about: str
    see: str
    also: tuple[str, ...] = ()
    match: tuple[str, ...] = ()

    @property
    def spellings(self) -> tuple[str, ...]:
        """What a page links from: the term without its short form, and what matches.

        >>> Entry(key="ohm", term="ohm (Ω)", about="", see="", match=("ohms",)).spellings
        ('ohm', 'ohms')
        """
        return (re.sub(r" \([^)]*\)", "", self.term), *self.match)


@cache
def entries() -> Mapping[str, Entry]:
    """Return all entries by their keys, in the order of the alphabet."""
    tables = tomllib.loads(FILE.read_text(encoding="utf-8"))
    listed = (
        Entry(
            key=key,
            **table | {name: tuple(table[name]) for name in ("also", "match") if name in table},
        )
        for key, table in tables.items()
    )
    return {entry.key: entry for entry in sorted(listed, key=lambda entry: entry.term.casefold())}


def page_text(titles: Mapping[str, str]) -> str:
    """Return the entries as Markdown, a heading for each, so that search finds each by itself.

    titles : of the pages, by their file
    """
    return in_columns(
        f"## {entry.term} {{ #{entry.key} }}\n\n"
        + (f"*Also: {', '.join(entry.also)}.*\n\n" if entry.also else "")
        + f"{entry.about} See [{titles[entry.see.partition('#')[0]]}]({entry.see})."
        for entry in entries().values()
    )


def in_columns(texts: Iterable[str]) -> str:
    """Return entries as Markdown in boxes that stand two beside one another on paper.

    A grid, for columns of text that go over several pages make Chromium draw the rules of
    headings twice, at the foot of the page before as well.
    """
    boxes = "\n\n".join(f'<div markdown="1">\n\n{text}\n\n</div>' for text in texts)
    return f'<div class="entries" markdown="1">\n\n{boxes}\n\n</div>'


class _Links(Treeprocessor):
    """Links the first use of every word on a page to its entry."""

    def run(self, root: Element) -> None:
        here = place.get(None)
        if here is None or here.path in _WITHOUT:
            return
        left = dict(entries())
        for element in list(_prose(root)):
            _link(element, left, here.path)


def _prose(element: Element) -> Iterator[Element]:
    for child in element:
        if child.tag in _CLOSED or _UNREAD & set(child.get("class", "").split()):
            continue
        if child.tag in _PROSE:
            yield child
        yield from _prose(child)


@cache
def _pattern() -> tuple[re.Pattern[str], Mapping[str, str]]:
    keys = {
        spelling.casefold(): entry.key
        for entry in entries().values()
        for spelling in entry.spellings
    }
    words = sorted(keys, key=len, reverse=True)
    return re.compile(rf"(?<![\w-])({'|'.join(map(re.escape, words))})(?![\w-])", re.I), keys


def _link(element: Element, left: dict[str, Entry], path: str) -> None:
    """Link the words that are left in an element's own text, in the order in which it is read."""
    children = list(element)
    before, links = _split(element.text or "", left, path)
    if links:
        element.text = before
        element[:0] = links
    for child in children:
        if child.tag in _INLINE:
            _link(child, left, path)
        before, links = _split(child.tail or "", left, path)
        if links:
            child.tail = before
            at = list(element).index(child) + 1
            element[at:at] = links


def _split(text: str, left: dict[str, Entry], path: str) -> tuple[str, list[Element]]:
    """Return what stands before the first link, and the links with what follows each."""
    pattern, keys = _pattern()
    before, links, end = text, list[Element](), 0
    for hit in pattern.finditer(text):
        key = keys[hit[1].casefold()]
        if key not in left:
            continue
        del left[key]
        if links:
            links[-1].tail = text[end : hit.start()]
        else:
            before = text[: hit.start()]
        links.append(Element("a", {"class": "term", "href": _address(key, path)}))
        links[-1].text, end = hit[1], hit.end()
    if links:
        links[-1].tail = text[end:]
    return before, links


def _address(key: str, path: str) -> str:
    depth = path.count("/") - 1
    return f"{'../' * depth}{PAGE}#{key}"


class GlossaryExtension(Extension):
    """Registers the links; after the inline patterns, before MkDocs turns files into addresses."""

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 — the name is Markdown’s
        """Add the links to what Markdown does with a page."""
        md.treeprocessors.register(_Links(md), "glossary", 12)


def makeExtension(**_: object) -> GlossaryExtension:  # noqa: N802 — the name is Markdown’s
    """Return the extension, as Markdown asks for it."""
    return GlossaryExtension()
