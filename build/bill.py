"""Writes the bill of materials: what is delivered, and what it was built with.

The form is CycloneDX 1.6 in JSON.  It has no time and no serial number, which may be left out, so
that the same sources make the same file.  What is delivered is `required`; what builds it is
`excluded`, which is that form's word for parts that do not ship.
"""

import base64
import json
import re
from collections.abc import Iterator, Mapping
from importlib.metadata import PackageNotFoundError, metadata
from pathlib import Path

from steps import ROOT, WEB

NAME = "bill-of-materials.cdx.json"
_PINNED = re.compile(r"^([a-z0-9][\w.-]*)(?:\[[^\]]*\])?==(\S+)", re.MULTILINE | re.IGNORECASE)
# Delivered, with the licence that docs/licences.md names.
_PYTHON = {"mkdocs-material": "MIT", "qrcodegen": "MIT"}
_NPM = {
    "pyodide": "MPL-2.0",
    "dompurify": "(MPL-2.0 OR Apache-2.0)",
    "workbox-core": "MIT",
    "workbox-precaching": "MIT",
    "workbox-routing": "MIT",
    "zstddec": "MIT AND BSD-3-Clause",
    "@ibm/plex-sans": "OFL-1.1",
    "@ibm/plex-mono": "OFL-1.1",
}
_RUNTIME = WEB / "node_modules" / "pyodide" / "pyodide-lock.json"
Component = Mapping[str, object]


def _component(
    purl: str, name: str, version: str, licence: str, delivered: bool
) -> dict[str, object]:
    made: dict[str, object] = {
        "type": "library",
        "bom-ref": purl,
        "name": name,
        "version": version,
        "scope": "required" if delivered else "excluded",
        "purl": purl,
    }
    if licence:
        made["licenses"] = [{"expression": licence}]
    return made


def _of_python() -> Iterator[Component]:
    text = (ROOT / "build" / "requirements.txt").read_text(encoding="utf-8")
    for name, version in _PINNED.findall(text):
        try:
            stated = metadata(name)
        except PackageNotFoundError:  # locked for other systems
            continue
        if stated["Version"] != version:  # locked for an older or a newer Python
            continue
        delivered = name in _PYTHON
        licence = _PYTHON.get(name) or (stated.get_all("License-Expression") or [""])[0]
        yield _component(f"pkg:pypi/{name}@{version}", name, version, licence, delivered)


def _of_npm() -> Iterator[Component]:
    lock = json.loads((WEB / "package-lock.json").read_text(encoding="utf-8"))
    for path, entry in lock["packages"].items():
        if not path:
            continue
        name = path.rpartition("node_modules/")[2]
        version, delivered = entry["version"], name in _NPM
        purl = f"pkg:npm/{name.replace('@', '%40')}@{version}"
        licence = _NPM.get(name) or entry.get("license", "")
        component = _component(purl, name, version, licence, delivered)
        method, _, content = entry["integrity"].partition("-")
        algorithm = {"sha512": "SHA-512", "sha256": "SHA-256", "sha1": "SHA-1"}[method]
        component["hashes"] = [{"alg": algorithm, "content": base64.b64decode(content).hex()}]
        yield component


def _within() -> Iterator[Component]:
    """Yield what lies within those packages and has no entry of its own in a lock file."""
    python = json.loads(_RUNTIME.read_text(encoding="utf-8"))["info"]["python"]
    yield {
        "type": "library",
        "bom-ref": "cpython",
        "name": "CPython",
        "version": python,
        "scope": "required",
        "cpe": f"cpe:2.3:a:python:python:{python}:*:*:*:*:*:*:*",
        "licenses": [{"expression": "Python-2.0.1"}],
    }
    yield {
        "type": "library",
        "bom-ref": "material-design-icons",
        "name": "Material Design Icons",
        "scope": "required",
        "licenses": [{"expression": "Apache-2.0"}],
    }


def bill() -> dict[str, object]:
    """Return the bill of materials."""
    from calc import __version__

    components = {str(one["bom-ref"]): one for one in (*_of_python(), *_of_npm(), *_within())}
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {
            "component": {
                "type": "application",
                "bom-ref": "four-channel-handbook",
                "name": "Four-Channel Handbook",
                "version": __version__,
                "licenses": [{"expression": "MIT"}],
            }
        },
        "components": [components[ref] for ref in sorted(components)],
    }


def write_bill(folder: Path) -> None:
    """Write the bill of materials into a folder."""
    text = json.dumps(bill(), indent=1, ensure_ascii=False) + "\n"
    (folder / NAME).write_text(text, encoding="utf-8")
