"""The hooks into MkDocs: they add the pages that no file holds, tell the directives which file is
being read, write the sources that a page cites below it, and keep units with their numbers.
"""

import re
from pathlib import Path

import glossary
from directives import Place, place
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from own_pages import own_pages
from printing import names_of, printed
from prose_figures import held_by_sums, held_numbers, unheld

from calc.answers.sources import STATUSES, register

# A number never parts from its unit at the end of a line (narrow no-break space).
_UNIT = re.compile(
    r"(?<=\d) (?=(?:Ω|W|V|A|Ah|dB|dB\(A\)|Hz|kHz|mm|mm²|m|h|hours|%|kg|°C)(?![\w=]))"
)


# Where a page's own text leaves room for what is made of data.
_HERE = "<!-- here -->"
SOURCES = "sources.md"
# Pages whose figures are the register's own, a licence's or those of an older edition.
_UNCHECKED = frozenset({SOURCES, "licences.md", "changes.md", "using.md"})


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the pages that are made here: each calculator's own, and the list of them."""
    for path, content in own_pages(Path(config.docs_dir)).items():
        files.append(File.generated(config, path, content=content))
    return files


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, **_: object) -> str:
    """Note the page's file; return its text with what data make, units tied to numbers."""
    # The page's title block is not part of `markdown`; lines count in the whole file.
    place.set(
        Place(
            f"docs/{page.file.src_uri}",
            page.file.content_string,
            root="../" * page.url.count("/"),
            own=str(page.meta.get("calculator", "")),
        )
    )
    path = page.file.src_uri
    if path == glossary.PAGE:
        markdown = markdown.replace(_HERE, glossary.page_text(_titles(config)))
    if path == SOURCES:
        markdown = markdown.replace(_HERE, _register_text())
    return _UNIT.sub("\u202f", _with_sources(markdown, path)) + _for_a_class(path)


_HANDOUTS = Path(__file__).resolve().parents[1] / "docs" / "handouts"
# What a trainer teaches from: these can be shown as slides.
_CHAPTERS = frozenset(
    f"{name}.md"
    for name in ("basics", "bridging", "coil-wiring", "crossovers", "cables", "mounting", "set-up")
)


def _for_a_class(path: str) -> str:
    """Return links to a page's slides, and to its PDFs where they were made (`run.py print`)."""
    made, up = printed(), place.get().root
    links = ['<a href="#lesson-1">lesson view</a>'] if path in _CHAPTERS else []
    name = path.removesuffix(".md")
    has_handout = (_HANDOUTS / path).is_file()
    if has_handout:
        links += [
            f'<a href="{up}handouts/{name}/">class handout</a>',
            f'<a href="{up}handouts/{name}-key/">answer key</a>',
            f'<a href="{up}exercises/?chapter={name}">exercises</a>',
        ]
    links += [
        f'<a href="{up}print/{name}.pdf">{title} (PDF)</a>'
        for name, title in names_of(path)
        if name in made
    ]
    words = "For a class" if path in _CHAPTERS or has_handout else "On paper"
    return f'\n\n<p class="pdf-links">{words}: {", ".join(links)}.</p>\n' if links else ""


_CITED = re.compile(r"\[\^([a-z0-9-]+)\](?!:)")


def _with_sources(markdown: str, path: str) -> str:
    """Append the register's entries that a page cites, as footnotes."""
    keys = dict.fromkeys(_CITED.findall(markdown))
    unknown = ", ".join(key for key in keys if key not in register())
    if unknown:
        raise PluginError(f"docs/{path} cites what the register of sources lacks: {unknown}.")
    notes = "".join(f"[^{key}]: {register()[key].words}\n" for key in keys)
    return f"{markdown}\n\n{notes}" if notes else markdown


def _titles(config: MkDocsConfig) -> dict[str, str]:
    """Return the pages' names in the navigation by their files."""
    return {file: name for entry in config.nav or () for name, file in entry.items()}


def _register_text() -> str:
    """Return the register as Markdown: a part for each status, an entry for each source."""
    parts: dict[str, list[str]] = {}
    for source in register().values():
        reference = f"{source.reference}. " if source.reference else ""
        checked = f" *Checked by* `{source.test}`." if source.test else ""
        parts.setdefault(source.status, []).append(
            f'<b id="{source.key}">{source.key}</b>\n'
            f":   {reference}{source.holds[0].upper()}{source.holds[1:]}. "
            f"*Rests on it:* {source.rests}.{checked}\n"
        )
    return "\n".join(
        f"## {status.capitalize()}\n\n{glossary.in_columns(parts[status])}\n"
        for status in STATUSES
        if status in parts
    )


def on_page_content(html: str, page: Page, **_: object) -> None:
    """Note the figures of the page's own words, and what holds them."""
    here = place.get()
    if page.file.src_uri in _UNCHECKED or not here.made:
        return
    cited = [register()[key].holds for key in _CITED.findall(here.text) if key in register()]
    _texts[here.path], _held[here.path] = (
        here.text,
        held_numbers([*here.made, *cited]) | held_by_sums(here.text),
    )


_texts: dict[str, str] = {}
_held: dict[str, set[float]] = {}


def on_post_build(**_: object) -> None:
    """Stop where a figure of a page's own words is held by nothing; tell of all pages at once.

    What holds a handout's figures may stand in its key, so that no pupil reads the answers.
    """
    loose = {}
    for path, text in _texts.items():
        of_key = _held.get(f"{path.removesuffix('.md')}-key.md", set())
        if figures := unheld(text, _held[path] | of_key):
            loose[path] = figures
    if loose:
        raise PluginError(
            "No example, table or source holds these figures: "
            + "; ".join(f"{path}: {', '.join(figures)}" for path, figures in loose.items())
        )
