"""Pages made at the build, without a file in docs/: one for each calculator, and their list."""

import json
import re
from collections.abc import Mapping
from pathlib import Path

from calc.answers.calculator import AnyCalculator
from calc.app.contents import CALCULATORS, PAGES, is_alone, page_of
from calc.inputs.links import own_page
from calc.renderers.html_card import title_id

LIST = "calculators/index.md"
_BOOST = 2  # in the search: whoever asks for a calculator finds it before what is said of it
_HEADING = re.compile(r"^# +(.+?)(?: *\{.*\})?$", re.MULTILINE)


def own_pages(docs: Path) -> dict[str, str]:
    """Return the Markdown of the pages by their paths below docs/."""
    headings = {page: _heading_of(docs, page) for page in PAGES}
    pages = {f"{own_page(name).rstrip('/')}.md": _page(name, headings) for name in CALCULATORS}
    return {LIST: _list(headings), **pages}


def _chapter_file(page: str) -> str:
    """Return the path below docs/ of a page in the contents."""
    return f"{page.rstrip('/')}.md"


def _heading_of(docs: Path, page: str) -> str:
    heading = _HEADING.search((docs / _chapter_file(page)).read_text(encoding="utf-8"))
    if not heading:
        raise ValueError(f"docs/{_chapter_file(page)} has no heading")
    return heading[1]


def _page(name: str, headings: Mapping[str, str]) -> str:
    """Return the page of one calculator: form and answer, then the way back to its chapter.

    One that has a page in the contents to itself is found there: here it only answers to its
    address, and the search leaves it out.
    """
    calculator, page = CALCULATORS[name], page_of(name)
    heading, file = headings[page], _chapter_file(page)
    search = {"exclude": True} if is_alone(name) else {"boost": _BOOST}
    way = "In the handbook" if is_alone(name) else "How it works, and what to watch for"
    meta = {
        "title": calculator.title,
        "description": calculator.question,
        "search": search,
        "calculator": name,
        "chapter": page.rstrip("/"),
        # A form in parts needs no more width than the page of the plan has.
        "hide": [] if calculator.parts else ["navigation"],
    }
    return f"""{_head(meta)}
# {calculator.title} {{ #{title_id(name)} }}

``` calculator
{name}
```

{way}: [{heading}](../{file}){{ .to-chapter }} · [All calculators](index.md){{ .to-chapter }}
"""


def _list(headings: Mapping[str, str]) -> str:
    """Return the page that lists all calculators, each with its question, by chapter."""
    lines = [
        _head({"title": "Calculators", "description": "Every calculator, on a page of its own."}),
        "# Calculators",
        "Each has a page of its own. Its figures go with its link.",
    ]
    for page, names in PAGES.items():
        lines.append(f"## {headings[page]}")
        lines += [_line(CALCULATORS[name]) for name in names]
    return "\n\n".join(lines) + "\n"


def _line(calculator: AnyCalculator) -> str:
    return f"**[{calculator.title}]({calculator.name}.md)**<br>\n{calculator.question}"


def _head(meta: Mapping[str, object]) -> str:
    # JSON is YAML: whatever a title holds needs no quoting of its own.
    return "\n".join(
        ("---", *(f"{key}: {json.dumps(value)}" for key, value in meta.items()), "---")
    )
