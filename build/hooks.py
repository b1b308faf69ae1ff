"""The hooks into MkDocs: they add the pages that no file holds, tell the directives which file is
being read, write the sources that a page cites below it, and keep units with their numbers.
"""

import re
from pathlib import Path

from directives import Place, place
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from own_pages import own_pages

from calc.answers.sources import register

# A number never parts from its unit at the end of a line (narrow no-break space).
_UNIT = re.compile(
    r"(?<=\d) (?=(?:Ω|W|V|A|Ah|dB|dB\(A\)|Hz|kHz|mm|mm²|m|h|hours|%|kg|°C)(?![\w=]))"
)


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the pages that are made here: each calculator's own, and the list of them."""
    for path, content in own_pages(Path(config.docs_dir)).items():
        files.append(File.generated(config, path, content=content))
    return files


def on_page_markdown(markdown: str, page: Page, **_: object) -> str:
    """Note the page's file and return its text with units tied to their numbers."""
    # The page's title block is not part of `markdown`; lines count in the whole file.
    place.set(
        Place(
            f"docs/{page.file.src_uri}",
            page.file.content_string,
            root="../" * page.url.count("/"),
            own=str(page.meta.get("calculator", "")),
        )
    )
    return _UNIT.sub("\u202f", _with_sources(_caution_first(markdown), page.file.src_uri))


_CITED = re.compile(r"\[\^([a-z0-9-]+)\](?!:)")


def _with_sources(markdown: str, path: str) -> str:
    """Append the register's entries that a page cites, as footnotes."""
    keys = dict.fromkeys(_CITED.findall(markdown))
    unknown = ", ".join(key for key in keys if key not in register())
    if unknown:
        raise PluginError(f"docs/{path} cites what the register of sources lacks: {unknown}.")
    notes = "".join(f"[^{key}]: {register()[key].words}\n" for key in keys)
    return f"{markdown}\n\n{notes}" if notes else markdown


_CAUTION = re.compile(r'<div class="caution" markdown>\n.*?</div>\n', re.DOTALL)
_AFTER = re.compile(r'<div class="short-answer" markdown>\n.*?</div>\n', re.DOTALL)


def _caution_first(markdown: str) -> str:
    """Repeat a chapter's caution box below its short answer, for paper only: whoever takes
    the first sheet to the car has it.
    """
    box, answer = _CAUTION.search(markdown), _AFTER.search(markdown)
    if not box or not answer:
        return markdown
    first = box.group(0).replace(
        'class="caution"', 'class="caution caution--first" data-search-exclude', 1
    )
    return f"{markdown[: answer.end()]}\n{first}{markdown[answer.end() :]}"
