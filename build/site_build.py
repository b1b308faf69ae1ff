"""Builds the whole site: runtime, pages, fonts, scripts, security policy, offline list.

Run in the virtual environment: `site_build.py --base-path / --out site`.
"""

import argparse
import base64
import hashlib
import json
import logging
import os
import re
import shutil
import sys
from html.parser import HTMLParser
from pathlib import Path

from bill import write_bill
from licences import gather
from printing import made_from, printed
from runtime import OUT as RUNTIME
from runtime import build_runtime
from site_search import mend_search
from steps import (
    ROOT,
    WEB,
    WORK,
    Stamp,
    Stop,
    fingerprint,
    node_command,
    outcome,
    run,
    say,
    step,
)

FONTS = WORK / "fonts"
WORKSHOP_STYLE = "workshop.css"
_PLEX = WEB / "node_modules" / "@ibm"
# (file, family, weight, style): one text face, one face for figures and code.
FACES = (
    ("plex-sans/fonts/complete/woff2/IBMPlexSans-Regular.woff2", "plex-sans-400"),
    ("plex-sans/fonts/complete/woff2/IBMPlexSans-Italic.woff2", "plex-sans-400-italic"),
    ("plex-sans/fonts/complete/woff2/IBMPlexSans-SemiBold.woff2", "plex-sans-600"),
    ("plex-mono/fonts/complete/woff2/IBMPlexMono-Regular.woff2", "plex-mono-400"),
    ("plex-mono/fonts/complete/woff2/IBMPlexMono-SemiBold.woff2", "plex-mono-600"),
)
CHARACTERS = (
    "".join(map(chr, range(0x20, 0x7F)))
    + "".join(map(chr, range(0xA0, 0x100)))
    + "ΑΒΓΔΩαβηλμπρφω–—‘’“”…•′″\u2009\u202f−×·≤≥≈≠→←↑↓√²³½¼°±∞∑✓"
)


def main() -> int:
    """Build as the command line says."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--base-path", default="/")
    parser.add_argument("--port", type=int, default=8000)
    parser.add_argument("--out", type=Path, default=ROOT / "site")
    parser.add_argument("--for-reading", action="store_true", help="with the Python that is there")
    options = parser.parse_args()
    site, address = options.out.resolve(), site_url(options.base_path, options.port)
    return outcome(lambda: build_site(site, address, for_reading=options.for_reading))


def site_url(base_path: str, port: int) -> str:
    """Return the address that the site is built for."""
    path = "/" + base_path.strip("/")
    return os.environ.get("SITE_URL") or f"http://127.0.0.1:{port}{path.rstrip('/')}/"


def build_site(site: Path, address: str, *, for_reading: bool = False) -> None:
    """Build everything, unless it is already built from these sources for this address.

    for_reading : with the page's Python as it is, which may be older than the pages
    """
    if not for_reading or not RUNTIME.exists():
        build_runtime()
    stamp = Stamp(
        WORK / f"{site.name}-made",
        fingerprint(made_from(), address, str(site), repr(sorted(printed()))),
    )
    if stamp.is_fresh() and (site / "sw.js").exists():
        say(f"The handbook is up to date in {_shown(site)}.")
        return
    with step(f"Building the handbook into {_shown(site)}"):
        stamp.clear()
        shutil.rmtree(site, ignore_errors=True)
        _fonts()
        _pages(site, address)
        # It belongs to what the command line prints as well.
        shutil.copy(ROOT / "calc" / "renderers" / WORKSHOP_STYLE, site / "assets")
        shutil.copytree(RUNTIME, site / "assets" / "runtime", dirs_exist_ok=True)
        shutil.copytree(FONTS, site / "assets" / "fonts", dirs_exist_ok=True)
        for path in printed().values():
            (site / "print").mkdir(exist_ok=True)
            shutil.copy(path, site / "print")
        run([*node_command(), "bundle.mjs", site], why="The scripts could not be bundled.", cwd=WEB)
        gather(site / "assets" / "licences")
        write_bill(site / "assets" / "licences")
        _app_manifest(site)
        _drop_unused(site)
        _check_pages(site)
        mend_search(site)
        _squeeze(site)
        _secure(site)
        run(
            [*node_command(), "precache.mjs", site],
            why="The list of files for offline use could not be made.",
            cwd=WEB,
        )
        stamp.write()


def _shown(site: Path) -> str:
    return str(site.relative_to(ROOT)) if site.is_relative_to(ROOT) else str(site)


def _fonts() -> None:
    stamp = Stamp(FONTS / ".made", fingerprint(WEB / "package-lock.json", CHARACTERS, repr(FACES)))
    if stamp.is_fresh():
        return
    from fontTools import subset

    shutil.rmtree(FONTS, ignore_errors=True)
    FONTS.mkdir(parents=True)
    for source, name in FACES:
        options = subset.Options(flavor="woff2", layout_features=["kern", "liga", "tnum", "mark"])
        font = subset.load_font(str(_PLEX / source), options)
        subsetter = subset.Subsetter(options)
        subsetter.populate(text=CHARACTERS)
        subsetter.subset(font)
        subset.save_font(font, str(FONTS / f"{name}.woff2"), options)
    stamp.write()


class _Complaints(logging.Handler):
    """Collects MkDocs' warnings: with any, the build stops."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


def _pages(site: Path, address: str) -> None:
    os.environ["SITE_URL"] = address
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    sys.path[:0] = [str(ROOT / "build"), str(ROOT)]
    os.chdir(ROOT)
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from pymdownx.superfences import SuperFencesException

    complaints = _Complaints()
    logging.getLogger("mkdocs").addHandler(complaints)
    try:
        config = load_config(str(ROOT / "mkdocs.yml"), site_dir=str(site))
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
    except SuperFencesException as error:
        raise Stop(f"A page cannot be built. {error}") from error
    except Exception as error:
        if not complaints.lines:
            raise
        raise Stop("The pages cannot be built: " + " ".join(complaints.lines)) from error


def _app_manifest(site: Path) -> None:
    manifest = {
        "id": "./",
        "name": "Four-Channel Handbook",
        "short_name": "Four-Channel",
        "description": "Choosing, wiring and setting up four-channel car amplifiers.",
        "lang": "en-GB",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": "#fbfaf6",
        "theme_color": "#fbfaf6",
        "icons": [
            {"src": "assets/icon.svg", "sizes": "any", "type": "image/svg+xml"},
            {"src": "assets/icon-192.png", "sizes": "192x192", "type": "image/png"},
            {
                "src": "assets/icon-512.png",
                "sizes": "512x512",
                "type": "image/png",
                "purpose": "any maskable",
            },
        ],
    }
    (site / "app.webmanifest").write_text(json.dumps(manifest, indent=2))


_AS_IT_STANDS = re.compile(r"(<(pre|textarea|script|style)\b.*?</\2>)", re.DOTALL)
_LINE_END = re.compile(r"[ \t\n]*\n[ \t\n]*")


def _squeeze(site: Path) -> None:
    """Take empty lines and indents out of the pages, a fourteenth of them: they show nowhere."""
    for page in site.rglob("*.html"):
        # Every third part is the name of the element before it.
        parts = _AS_IT_STANDS.split(page.read_text(encoding="utf-8"))
        parts[::3] = [_LINE_END.sub("\n", part) for part in parts[::3]]
        del parts[2::3]
        page.write_text("".join(parts).lstrip(), encoding="utf-8")


def _drop_unused(site: Path) -> None:
    """Take out what no page asks for: source maps, other languages' word stemmers."""
    for file in [*site.rglob("*.map"), *site.glob("sitemap.xml.gz")]:
        file.unlink()
    shutil.rmtree(site / "assets" / "javascripts" / "lunr", ignore_errors=True)
    for file in site.rglob(".made"):
        file.unlink()


class _Reader(HTMLParser):
    """Collects what the checks look at: inline scripts, calculators, style attributes."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.scripts: list[str] = []
        self.calculators: list[str] = []
        self.styles: list[str] = []
        self._in_script = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = dict(attrs)
        data = attributes.get("type") not in (None, "module", "text/javascript")
        self._in_script = tag == "script" and "src" not in attributes and not data
        if self._in_script:
            self.scripts.append("")
        if "data-calculator" in attributes:
            self.calculators.append(attributes["data-calculator"] or "")
        if "style" in attributes or tag == "style":
            self.styles.append(self.get_starttag_text() or "")

    def handle_data(self, data: str) -> None:
        if self._in_script:
            self.scripts[-1] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._in_script = False


def _read(page: Path) -> _Reader:
    reader = _Reader()
    reader.feed(page.read_text(encoding="utf-8"))
    return reader


def _check_pages(site: Path) -> None:
    """Stop when a page does not hold the calculators that links expect on it."""
    from calc.app.contents import CALCULATORS, PAGES
    from calc.inputs.links import own_page

    for address, names in {**PAGES, **{own_page(name): (name,) for name in CALCULATORS}}.items():
        file = site / address / "index.html"
        held = sorted(_read(file).calculators) if file.exists() else []
        wanted = sorted(names)
        if held != wanted:
            raise Stop(
                f"The page {address} holds the calculators {held}, calc/app/contents.py says "
                f"{wanted}: put the missing directive into docs/ or mend the list."
            )


def policy(hashes: list[str]) -> str:
    """Return the content security policy that pages and hosts give."""
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src 'self' 'wasm-unsafe-eval' {' '.join(hashes)}",
            "style-src 'self'",
            "img-src 'self' data:",
            "font-src 'self'",
            "connect-src 'self'",
            "worker-src 'self'",
            "manifest-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
            "require-trusted-types-for 'script'",
            # The worker's address, our replies (trust.mjs), and whatever else (markup.mjs).
            "trusted-types worker reply look dompurify default",
        )
    )


def _secure(site: Path) -> None:
    """Write the policy into every page and into the hosts' header files."""
    pages = sorted(site.rglob("*.html"))
    scripts: set[str] = set()
    for page in pages:
        reader = _read(page)
        scripts.update(reader.scripts)
        if reader.styles:
            raise Stop(
                f"{page.relative_to(site)} holds an inline style, which the page’s policy "
                f"forbids: {reader.styles[0]}"
            )
    hashes = sorted(
        "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"
        for text in scripts
    )
    rule = policy(hashes)
    meta = f'<meta http-equiv="Content-Security-Policy" content="{rule}">'
    for page in pages:
        text = page.read_text(encoding="utf-8")
        text, changed = re.subn(r"<head>", f"<head>{meta}", text, count=1)
        if not changed:
            raise Stop(f"{page.relative_to(site)} has no head to hold the policy.")
        page.write_text(text, encoding="utf-8")
    _write_headers(site, f"{rule}; frame-ancestors 'none'")


HEADERS = (
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
    ("Cross-Origin-Opener-Policy", "same-origin"),
    ("Permissions-Policy", "camera=(), geolocation=(), microphone=()"),
    ("Cache-Control", "no-cache"),
)


def _write_headers(site: Path, rule: str) -> None:
    """Write headers in the forms that hosts read: see docs/using.md."""
    headers = (("Content-Security-Policy", rule), *HEADERS)
    (site / "_headers").write_text(
        "/*\n" + "".join(f"  {name}: {value}\n" for name, value in headers), encoding="utf-8"
    )
    hosting = site / "hosting"
    hosting.mkdir()
    (hosting / "nginx.conf").write_text(
        "# Inside the location that serves the handbook.\n"
        + "".join(f'add_header {name} "{value}" always;\n' for name, value in headers)
        + "gzip on;\ngzip_types text/css application/javascript application/json "
        "image/svg+xml application/manifest+json;\n",
        encoding="utf-8",
    )
    (hosting / "apache.htaccess").write_text(
        "# In the folder of the handbook, as .htaccess; needs mod_headers.\n"
        + "".join(f'Header always set {name} "{value}"\n' for name, value in headers),
        encoding="utf-8",
    )


if __name__ == "__main__":
    sys.exit(main())
