"""Makes the folder edition: the handbook for a memory stick, opened by a double click.

A browser that opens a page from a folder takes no module, no worker and no data file from there,
and shows a list of files where an address ends at a folder.  So the scripts are classic ones, what
they would fetch stands in scripts as well, and every link names its page.
"""

import argparse
import base64
import json
import re
import shutil
import sys
import zipfile
from pathlib import Path

from steps import ROOT, WEB, WORK, Stop, node_command, outcome, run, say, step

NAME = "four-channel-handbook"
OUT = WORK / "folder"
# What only a host, or an installed copy, has a use for.
_LEFT_OUT = (
    "sw.js",
    "_headers",
    "hosting",
    "app.webmanifest",
    "sitemap.xml",
    "404.html",
    "assets/runtime",
    "search/search_index.json",
)
# The plain way of loading Python is for engines that open no folder.
_RUNTIME = ("pyodide.asm.js", "python.wasm.bin", "snapshot.bin")
_LINK = re.compile(r'(?<=\shref=")(?![a-z][a-z0-9+.-]*:|//|#)([^"?#]*)')
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)')
_ONLY_HOSTED = re.compile(
    r'<script data-worker=.*?</script>|<link rel="(?:manifest|canonical|prev|next)"[^>]*>|'
    r'<link rel="preload" as="font"[^>]*>',
    re.DOTALL,
)
_PAGE_SCRIPT = re.compile(r'<script src="([^"]*)assets/page\.js" type="module"></script>')
# The theme's way of showing the next page without a load ends its announcements there.
_INSTANT = '"navigation.instant", '
_THEME_SCRIPT = re.compile(r'(?=<script src="([^"]*)assets/javascripts/bundle\.)')


def named(path: str) -> str:
    """Return a link's path with the name of the page that lies at its end.

    >>> named("../bridging/"), named("../.."), named("../assets/page.css"), named("")
    ('../bridging/index.html', '../../index.html', '../assets/page.css', '')
    """
    if path.rpartition("/")[2] in ("", ".", "..") and path:
        return f"{path.rstrip('/')}/index.html"
    return path


def for_a_folder(page: str) -> str:
    """Return a page as it works from a folder."""
    page = _ONLY_HOSTED.sub("", page)
    page = _LINK.sub(lambda match: named(match[1]), page)
    page, scripts = _PAGE_SCRIPT.subn(r'<script src="\1assets/page.js"></script>', page)
    page, themes = _THEME_SCRIPT.subn(r'<script src="\1assets/folder.js"></script>', page)
    page, policies = _POLICY.subn(lambda match: match[1] + _policy(match[2]), page)
    page = page.replace(_INSTANT, "", instants := page.count(_INSTANT))
    if (scripts, themes, policies, instants) != (1, 1, 1, 1):
        raise Stop("The pages name their scripts differently now: see build/folder.py.")
    return page


def _policy(rule: str) -> str:
    """Return a page's policy for a folder, whose files have no origin of their own."""
    rule = rule.replace("'self'", "file:").replace("font-src file:", "font-src data:")
    rule = rule.replace("script-src file:", "script-src file: blob:")
    return rule.replace("worker-src file:", "worker-src blob:")


def _fonts_in_their_style(assets: Path) -> None:
    """Put the fonts into the style sheet: a page from a folder may not take them from a file."""
    style = assets / "style.css"

    def content(match: re.Match[str]) -> str:
        font = base64.b64encode((assets / match[1]).read_bytes()).decode()
        return f'url("data:font/woff2;base64,{font}")'

    text = re.sub(r'url\("?(fonts/[^")]+)"?\)', content, style.read_text(encoding="utf-8"))
    style.write_text(text, encoding="utf-8")
    shutil.rmtree(assets / "fonts")


def _files_in_scripts(site: Path, folder: Path) -> None:
    """Put what the scripts would fetch into scripts of its own."""
    index = (site / "search" / "search_index.json").read_text(encoding="utf-8")
    (folder / "search").mkdir(exist_ok=True)
    (folder / "search" / "search_index.js").write_text(
        f"var __index = {index};\n", encoding="utf-8"
    )
    runtime = site / "assets" / "runtime"
    files = {name: base64.b64encode((runtime / name).read_bytes()).decode() for name in _RUNTIME}
    place = folder / "assets" / "runtime"
    place.mkdir()
    (place / "files.js").write_text(f"handbookFiles = {json.dumps(files)};\n", encoding="utf-8")


def make(site: Path) -> Path:
    """Make the folder edition of a built site, and return its archive."""
    shutil.rmtree(OUT, ignore_errors=True)
    folder = OUT / NAME
    left_out = {site / name for name in _LEFT_OUT}
    shutil.copytree(
        site,
        folder,
        ignore=lambda where, names: [name for name in names if Path(where) / name in left_out],
    )
    _files_in_scripts(site, folder)
    run(
        [*node_command(), "bundle-folder.mjs", folder],
        why="The scripts of the folder could not be bundled.",
        cwd=WEB,
    )
    _fonts_in_their_style(folder / "assets")
    for page in folder.rglob("*.html"):
        page.write_text(for_a_folder(page.read_text(encoding="utf-8")), encoding="utf-8")
    archive = OUT / f"{NAME}.zip"
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for file in sorted(path for path in folder.rglob("*") if path.is_file()):
            # Without a time: the same handbook makes the same archive.
            entry = zipfile.ZipInfo(f"{NAME}/{file.relative_to(folder).as_posix()}")
            entry.compress_type = zipfile.ZIP_DEFLATED
            packed.writestr(entry, file.read_bytes())
    return archive


def main() -> int:
    """Make it as the command line says."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--site", type=Path, default=ROOT / "site")
    options = parser.parse_args()

    def work() -> None:
        with step("Making the folder edition"):
            archive = make(options.site.resolve())
        say(f"  {archive.relative_to(ROOT)}  {archive.stat().st_size // 1024} kB")
        say(f"  Unpack it anywhere, and open {NAME}/index.html by a double click.")

    return outcome(work)


if __name__ == "__main__":
    sys.exit(main())
