"""What a build delivers: pages, code, the list of files, licences."""

import json
import os
import re
import subprocess
import sys
import zipfile
from html import escape
from itertools import pairwise

from conftest import ROOT

from calc import __version__
from calc.app.contents import CALCULATORS, PAGES, is_alone, page_of
from calc.inputs.links import own_page


def test_no_page_shows_markdown_that_was_not_rendered(site):
    for page in site.rglob("*.html"):
        text = re.sub(r"<(script|pre|code)\b.*?</\1>", "", page.read_text("utf-8"), flags=re.DOTALL)
        text = re.sub(r"<[^>]*>", "", text)
        assert not re.search(r"\*\*|\]\(|```|\{ ?[.#:]|~\w+~", text), page


def test_no_page_skips_a_level_of_heading(site):
    """Who hears a page goes by them; what is folded or hidden counts as well."""
    for page in site.rglob("*.html"):
        article = page.read_text("utf-8").partition("<article")[2]
        levels = [int(level) for level in re.findall(r"<h([1-6])\b", article)]
        for before, after in pairwise(levels):
            assert after <= before + 1, (page.relative_to(site).as_posix(), levels)


def test_a_page_gets_code_that_its_own_python_compiled(site):
    """Python 3.13 marks its own with 3571, whatever Python builds the handbook."""
    with zipfile.ZipFile(site / "assets" / "runtime" / "library.zip") as archive:
        assert {"calc/app/page.pyc", "json/__init__.pyc"} <= set(archive.namelist())
        assert not [name for name in archive.namelist() if name.endswith(".py")]
        compiled = [name for name in archive.namelist() if name.endswith(".pyc")]
        heads = {archive.read(name)[:8] for name in compiled}
    unchecked = (1).to_bytes(4, "little")
    assert heads == {(3571).to_bytes(2, "little") + b"\r\n" + unchecked}


def test_the_command_line_of_the_wheel_is_that_of_the_checkout(site):
    (wheel,) = (ROOT / ".work" / "wheel").glob("*.whl")
    ask = [sys.executable, "-S", "-m", "calc", "bridged-output", "--json"]
    from_wheel = subprocess.run(
        ask,
        cwd=ROOT / ".work",
        capture_output=True,
        check=True,
        env={**os.environ, "PYTHONPATH": str(wheel)},
    )
    from_checkout = subprocess.run(ask, cwd=ROOT, capture_output=True, check=True)
    assert from_wheel.stdout == from_checkout.stdout


def test_the_site_brings_its_licences(site):
    index = (site / "assets" / "licences" / "index.txt").read_text(encoding="utf-8").split()
    texts = {name: (site / "assets" / "licences" / name).read_text() for name in index}
    assert "Mozilla Public License Version 2.0" in texts["pyodide.txt"]
    assert "PYTHON SOFTWARE FOUNDATION LICENSE" in texts["cpython.txt"]
    assert "SIL OPEN FONT LICENSE" in texts["plex.txt"].upper()
    assert "Permission is hereby granted" in texts["qrcodegen.txt"]


def test_the_bill_of_materials_lists_what_is_delivered_and_what_built_it(site):
    path = site / "assets" / "licences" / "bill-of-materials.cdx.json"
    bill = json.loads(path.read_text(encoding="utf-8"))
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    assert bill["metadata"]["component"]["version"] == __version__
    parts = {one["name"]: one for one in bill["components"]}
    assert len({one["bom-ref"] for one in bill["components"]}) == len(bill["components"])
    licences = (ROOT / "docs" / "licences.md").read_text(encoding="utf-8")
    delivered = {name for name, one in parts.items() if one["scope"] == "required"}
    assert delivered == {
        "pyodide", "CPython", "qrcodegen", "mkdocs-material", "Material Design Icons",
        "dompurify", "zstddec", "workbox-core", "workbox-precaching", "workbox-routing",
        "@ibm/plex-sans", "@ibm/plex-mono",
    }  # fmt: skip
    for name in delivered:
        assert parts[name]["licenses"], name
        if "version" in parts[name] and not name.startswith("@"):
            assert parts[name]["version"].rpartition(".")[0] in licences, name
    builders = ["esbuild", "mkdocs", "flit-core"]
    if sys.version_info >= (3, 12):
        builders.append("pyodide-build")
    for name in builders:
        assert parts[name]["scope"] == "excluded"
    assert all(one["hashes"] for one in bill["components"] if "pkg:npm" in one.get("purl", ""))


def test_every_file_but_the_rare_ones_is_saved_for_offline_use(site):
    worker = (site / "sw.js").read_text(encoding="utf-8")
    bill = "assets/licences/bill-of-materials.cdx.json"
    rare = {"sw.js", "_headers", "assets/icon-512.png", bill}
    for file in site.rglob("*"):
        name = file.relative_to(site).as_posix()
        if file.is_file() and name not in rare and not name.startswith("hosting/"):
            assert f'"{name}"' in worker, name


def test_the_search_knows_a_calculator_by_its_title_and_question_alone(site):
    index = json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))
    entries = {one["location"]: one for one in index["docs"]}
    for calculator in CALCULATORS.values():
        card = f"{page_of(calculator.name)}#{calculator.name}--title"
        own = own_page(calculator.name)
        # It is found once: on its own page, or on that which the contents have of it alone.
        alone = is_alone(calculator.name)
        assert (card in entries, own in entries) == (alone, not alone)
        entry = entries[card if alone else own]
        assert entry["text"].startswith(f"<p>{escape(calculator.question, quote=False)}</p>")
        assert entry["title"] == escape(calculator.title, quote=False)
        assert entry.get("boost") == (None if alone else 2)
    assert not [one for one in index["docs"] if "Work it out" in one["text"]]
    assert len([one for one in index["docs"] if "#fit-plan-" in one["location"]]) == 1


def test_every_calculator_has_a_page_of_its_own_that_leads_back_to_its_chapter(site):
    addresses = (site / "sitemap.xml").read_text(encoding="utf-8")
    for name, calculator in CALCULATORS.items():
        html = (site / own_page(name) / "index.html").read_text(encoding="utf-8")
        assert html.count("data-calculator=") == 1
        assert f'data-calculator="{name}"' in html
        assert f'<h1 id="{name}--title">' in html
        question = escape(calculator.question)
        assert f'<meta name="description" content="{question}">' in html
        content = html[html.index("<article") :]
        assert f'href="../../{page_of(name)}"' in content[content.index("</section>") :]
        assert f"/{own_page(name)}</loc>" in addresses
    listed = (site / "calculators" / "index.html").read_text(encoding="utf-8")
    assert all(f'href="{name}/"' in listed for name in CALCULATORS)


def test_the_first_calculator_of_a_chapter_is_live_and_the_others_are_folded(site):
    for address, names in PAGES.items():
        html = (site / address / "index.html").read_text(encoding="utf-8")
        cards = html.split('<details class="calculator-card">')
        assert len(cards) == len(names)
        assert cards[0].count("data-calculator=") == 1
        for card in cards[1:]:
            summary = card[: card.index("</summary>")]
            name = card.partition('data-calculator="')[2].partition('"')[0]
            calculator = CALCULATORS[name]
            sheet = calculator.answer(calculator.opens).sheet
            assert escape(calculator.title, quote=False) in summary
            assert escape(sheet.sentence, quote=False) in summary
            assert ("<svg" in summary) == bool(sheet.drawings)
            assert f'href="../{own_page(name)}"' in card
