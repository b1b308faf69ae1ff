"""Gathers the licence texts of what ships in the site into one folder."""

import inspect
import re
import sysconfig
from pathlib import Path

from steps import WEB, Stop

_PYTHON = Path(sysconfig.get_path("purelib"))
_NPM = WEB / "node_modules"

# What is delivered, and a pattern for a file that holds its licence's text.  The runtime's
# npm package has no copy of the MPL, nor has every Python of the PSF licence: both texts are
# taken from packages under the same licence.
TEXTS = (
    (
        "pyodide.txt",
        _PYTHON,
        "pathspec-*.dist-info/licenses/LICENSE",
        "Pyodide 0.29.5, under the Mozilla Public License 2.0. Its source is published by the "
        "Pyodide project.\n\n",
    ),
    (
        "cpython.txt",
        _PYTHON,
        "typing_extensions-*.dist-info/licenses/LICENSE",
        "CPython and its standard library.\n\n",
    ),
    (
        "theme.txt",
        _PYTHON,
        "mkdocs_material-*.dist-info/licenses/LICENSE",
        "Material for MkDocs.\n\n",
    ),
    (
        "icons.txt",
        _PYTHON,
        "material/templates/.icons/material/LICENSE",
        "Material Design Icons.\n\n",
    ),
    ("workbox.txt", _NPM, "workbox-core/LICENSE", "Workbox.\n\n"),
    ("dompurify.txt", _NPM, "dompurify/LICENSE", "DOMPurify.\n\n"),
    (
        "plex.txt",
        _NPM,
        "@ibm/plex-sans/LICENSE.txt",
        "IBM Plex Sans and IBM Plex Mono, subset.\n\n",
    ),
)


def gather(folder: Path) -> None:
    """Write the texts and an index into the folder; stops when one is not found."""
    import qrcodegen

    folder.mkdir(parents=True)
    for name, root, pattern, head in TEXTS:
        files = sorted(root.glob(pattern))
        if not files:
            raise Stop(
                f"The licence text {pattern} was not found: look where the package keeps "
                "it now and mend build/licences.py."
            )
        (folder / name).write_text(head + files[0].read_text(encoding="utf-8"), encoding="utf-8")
    header = inspect.getcomments(qrcodegen) or ""
    if "Permission is hereby granted" not in header:
        raise Stop("The licence of qrcodegen is no longer in its head: mend build/licences.py.")
    lines = [line.lstrip("# ").rstrip() for line in header.splitlines()]
    (folder / "qrcodegen.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (folder / "zstddec.txt").write_text(_of_decoder(), encoding="utf-8")
    names = sorted(file.name for file in folder.iterdir())
    (folder / "index.txt").write_text("\n".join(names) + "\n", encoding="utf-8")


def _of_decoder() -> str:
    """Return the package's licence, and that of the decoder in it, which stands in its text."""
    package = _NPM / "zstddec"
    text = (package / "dist" / "zstddec.mjs").read_text(encoding="utf-8")
    found = re.search(r"/\*\*\n(\* BSD License\n.*?)\*/", text, re.DOTALL)
    if not found:
        raise Stop("The licence of Zstandard’s decoder is elsewhere now: mend build/licences.py.")
    bsd = re.sub(r"^\* ?", "", found[1], flags=re.MULTILINE)
    own = (package / "LICENSE").read_text(encoding="utf-8")
    return f"zstddec.\n\n{own}\n\nZstandard’s decoder in it.\n\n{bsd}"
