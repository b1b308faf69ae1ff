"""The only hook into MkDocs: tells the directives which file is being read, and keeps
units with their numbers.
"""

import re

from directives import Place, place
from mkdocs.structure.pages import Page

# A number never parts from its unit at the end of a line (narrow no-break space).
_UNIT = re.compile(
    r"(?<=\d) (?=(?:Ω|W|V|A|Ah|dB|dB\(A\)|Hz|kHz|mm|mm²|m|h|hours|%|kg|°C)(?![\w=]))"
)


def on_page_markdown(markdown: str, page: Page, **_: object) -> str:
    """Note the page's file and return its text with units tied to their numbers."""
    # The page's title block is not part of `markdown`; lines count in the whole file.
    place.set(Place(f"docs/{page.file.src_uri}", page.file.content_string))
    return _UNIT.sub("\u202f", _caution_first(markdown))


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
