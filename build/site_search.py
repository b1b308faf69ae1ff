"""What the build changes about the theme's search: its name, what it finds, and when it starts."""

import json
from pathlib import Path

from steps import WEB, Stop


def mend_search(site: Path) -> None:
    """Name the search dialog, leave out of the index what nobody looks for, start it later."""
    _name_search(site)
    _trim_search(site)
    _delay_search(site)


def _name_search(site: Path) -> None:
    """Give the theme's search dialog the name that it lacks for screen readers.

    Nor is its box required: with nothing typed yet it would be called a wrong entry.
    """
    nameless, required = 'data-md-component="search" role="dialog"', '"search-query" required>'
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        if nameless not in text or required not in text:
            raise Stop("The theme’s search looks different now: see _name_search.")
        text = text.replace(nameless, f'{nameless} aria-label="Search"')
        page.write_text(text.replace(required, '"search-query">'), encoding="utf-8")


def _trim_search(site: Path) -> None:
    """Leave out parts of forms and answers, which the search takes for sections without words, and
    a calculator's card in its chapter: it is found once, on its own page.
    """
    from calc.app.contents import CALCULATORS, is_alone, page_of

    cards = {f"{page_of(name)}#{name}--title" for name in CALCULATORS if not is_alone(name)}
    file = site / "search" / "search_index.json"
    index = json.loads(file.read_text(encoding="utf-8"))
    wordless = ("-answer-p", "--part-")
    index["docs"] = [
        part
        for part in index["docs"]
        if part["location"] not in cards and not any(sign in part["location"] for sign in wordless)
    ]
    file.write_text(json.dumps(index, separators=(",", ":")), encoding="utf-8")


def _delay_search(site: Path) -> None:
    """Let the theme's search begin its work after the first answer: see search-later.js."""
    (worker,) = (site / "assets" / "javascripts" / "workers").glob("search.*.js")
    later = (WEB / "search-later.js").read_text(encoding="utf-8")
    (site / "assets" / "search-later.js").write_text(
        later.replace("SEARCH_WORKER", f"javascripts/workers/{worker.name}"), encoding="utf-8"
    )
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        name = f"assets/javascripts/workers/{worker.name}"
        if name not in text:
            raise Stop("The theme starts its search differently now: see _delay_search.")
        page.write_text(text.replace(name, "assets/search-later.js"), encoding="utf-8")
