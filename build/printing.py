"""Prints the built pages to PDF: chapters, handouts, keys, the whole book.

Run in the virtual environment: `printing.py --chromium PATH --paper a4`.  The PDFs go to
`.work/print`; the next build takes them along as `print/` and links them from their pages.
Chromium makes tags, outline, page numbers and running titles of the pages and `print.css`.
"""

import argparse
import os
import shutil
import sys
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from serve import serving
from steps import ROOT, WORK, Stamp, fingerprint, outcome, say, step

OUT = WORK / "print"
BOOK = "handbook"
PAPERS = ("a4", "letter")
# Pages that are no reading on paper.
_NOT_IN_THE_BOOK = frozenset(
    {"index.md", "calculators/index.md", "using.md", "changes.md", "exercises.md"}
)
# Binds the pages into one, in the browser.
_BIND = (Path(__file__).parent / "binding.js").read_text(encoding="utf-8")


@cache
def made_from() -> str:
    """Return what pages and PDFs are made from, as one hash."""
    folders = (ROOT / name for name in ("calc", "docs", "build", "shared"))
    return fingerprint(*folders, ROOT / "mkdocs.yml")


def _stamp() -> Stamp:
    return Stamp(OUT / ".made", made_from())


def printed() -> Mapping[str, Path]:
    """Return the PDFs by name that were made from these sources; none where others were."""
    if not OUT.exists() or not _stamp().is_fresh():
        return {}
    return {path.stem: path for path in sorted(OUT.glob("*.pdf"))}


def names_of(page: str) -> tuple[tuple[str, str], ...]:
    """Return the names and titles of the PDFs that belong to a page of docs/.

    >>> names_of("bridging.md")[1]
    ('handout-bridging', 'class handout')
    """
    name = page.removesuffix(".md")
    if page == "index.md":
        return ((BOOK, "the whole handbook"),)
    return (
        (name, "this chapter"),
        (f"handout-{name}", "class handout"),
        (f"handout-{name}-key", "answer key"),
    )


def pages_to_print() -> dict[str, str]:
    """Return the addresses to print by the names of their PDFs: the book’s pages and handouts."""
    handouts = sorted((ROOT / "docs" / "handouts").glob("*.md"))
    return {name: f"{name}/" for name in book_pages()} | {
        f"handout-{path.stem}": f"handouts/{path.stem}/" for path in handouts
    }


def book_pages() -> list[str]:
    """Return the names of the book’s pages in the order of the navigation."""
    from mkdocs.config import load_config

    os.environ.setdefault("SITE_URL", "http://127.0.0.1/")
    sys.path[:0] = [str(ROOT / "build"), str(ROOT)]
    nav = load_config(str(ROOT / "mkdocs.yml"))["nav"]
    files = [file for entry in nav for file in entry.values()]
    return [file.removesuffix(".md") for file in files if file not in _NOT_IN_THE_BOOK]


def print_all(site: Path, chromium: str, paper: str) -> None:
    """Print everything from a built site into `.work/print`."""
    shutil.rmtree(OUT, ignore_errors=True)
    print_some(site, chromium, paper, out=OUT, addresses=pages_to_print(), book=book_pages())
    _stamp().write()


def print_some(
    site: Path,
    chromium: str,
    paper: str,
    *,
    out: Path,
    addresses: Mapping[str, str],
    book: Sequence[str],
) -> None:
    """Print pages of a built site into a folder, and some of them bound as a book.

    addresses : below the site’s root, by the names of their PDFs
    book : the names of the book’s pages; none for no book
    """
    from playwright.sync_api import sync_playwright

    out.mkdir(parents=True, exist_ok=True)
    with serving(site) as base, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        # Binding needs a script of ours, which the pages’ policy does not know.
        context = browser.new_context(bypass_csp=True, service_workers="block")
        page = context.new_page()
        size = {"prefer_css_page_size": True} if paper == "a4" else {"format": "Letter"}

        def save(name: str) -> None:
            page.evaluate("document.fonts.ready.then(() => true)")
            page.pdf(path=out / f"{name}.pdf", tagged=True, outline=True, **size)

        for name, address in addresses.items():
            page.goto(base + address)
            save(name)
        if book:
            page.goto(f"{base}cautions/")
            page.evaluate(_BIND, [[f"../{name}/" for name in book]])
            save(BOOK)
        browser.close()


def main() -> int:
    """Print as the command line says."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--chromium", required=True)
    parser.add_argument("--paper", choices=PAPERS, default=PAPERS[0])
    parser.add_argument("--site", type=Path, default=ROOT / "site")
    options = parser.parse_args()

    def work() -> None:
        with step("Printing chapters, handouts, keys and the whole book"):
            print_all(options.site.resolve(), options.chromium, options.paper)
        for name, path in printed().items():
            say(f"  {name}.pdf  {path.stat().st_size // 1024} kB")

    return outcome(work)


if __name__ == "__main__":
    sys.exit(main())
