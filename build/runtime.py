"""The page's Python: wheel, memory image, and the parts of the standard library it needs.

`calc/` is built as a wheel; Node then starts the runtime, which compiles all that an answer
imports, and once more, imports it all and saves its memory.  A page that restores this image
starts several times faster than one that imports.  For browsers that cannot restore it,
the same packages and a trimmed standard library are kept for loading the plain way.
"""

import importlib.util
import os
import shutil
import sys
import zipfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from exports import pruned, without_unused
from steps import ROOT, WEB, WORK, Stamp, fingerprint, node_command, run, step, venv_program

OUT = WORK / "runtime"
PACKAGES = WORK / "packages"
PYODIDE = WEB / "node_modules" / "pyodide"
PURE_LIBRARIES = ("qrcodegen",)  # single-file modules

# Modules of the runtime's library that a page has no use for, and less in their place.
STAND_INS = ROOT / "build" / "stand_ins"
# The runtime's code without what no page calls; Node loads it from here as well.
CODE = WORK / "runtime-code"
LOADER, LOADED = "pyodide.asm.js", "pyodide.asm.wasm"
# Of WebAssembly, those that the code is written with; with more, other ones would be written.
FEATURES = ("bulk-memory", "exception-handling", "nontrapping-float-to-int", "reference-types")
# Files of the runtime as the site holds them.  `.bin` files are packed with Zstandard: no host
# takes the ending for a promise to unpack them, the worker does it.
IMAGE, WASM, LIBRARY = "snapshot.bin", "python.wasm.bin", "library.zip"
RAW_IMAGE = "snapshot.raw"
STANDARD_LIBRARY = WORK / "standard-library.zip"
LIBRARY_FILES = WORK / "standard-library"  # what is in it
SAVED = WORK / "saved-memory"  # what a page restores, byte for byte
_CODE_LOG = WORK / "log-code.txt"  # of what is done with the code beside other work
_WHEN = (1980, 1, 1, 0, 0, 0)  # of every file in an archive, to make the same bytes each time


def build_runtime() -> None:
    """Make `.work/runtime`, unless it is already made from these sources."""
    stamp = Stamp(
        WORK / "runtime-made",
        fingerprint(
            ROOT / "calc",
            ROOT / "shared" / "published",
            ROOT / "pyproject.toml",
            ROOT / "build" / "requirements.txt",
            WEB / "package-lock.json",
            WEB / "compile.mjs",
            WEB / "settled.mjs",
            WEB / "snapshot.mjs",
            WEB / "pack.mjs",
            WEB / "image.mjs",
            WEB / "start.mjs",
            WEB / "worker.mjs",
            ROOT / "build" / "byte_code.py",
            ROOT / "build" / "exports.py",
            STAND_INS,
            ROOT / "build" / "runtime.py",
        ),
    )
    if stamp.is_fresh():
        return
    with step("Building the Python that runs inside the page"):
        stamp.clear()
        for folder in (OUT, PACKAGES, CODE):
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir(parents=True)
        _unpack(build_wheel(), PACKAGES)
        for name in PURE_LIBRARIES:
            shutil.copy(_source(name), PACKAGES)
        with ThreadPoolExecutor() as beside:
            code = beside.submit(_trim_code)
            _compile()
            code.result()
            packed = beside.submit(_pack, CODE / LOADED, WASM, _CODE_LOG)
            run(
                [
                    *(*node_command(), WEB / "snapshot.mjs"),
                    *(PACKAGES, OUT, STANDARD_LIBRARY, CODE, SAVED),
                ],
                why="The memory image could not be made.",
                cwd=WEB,
            )
            packed.result()
        _pack(OUT / RAW_IMAGE, IMAGE)
        (OUT / RAW_IMAGE).unlink()
        shutil.copy(CODE / LOADER, OUT)
        _zip(OUT / LIBRARY, LIBRARY_FILES, PACKAGES)
        stamp.write()


def build_wheel() -> Path:
    """Build the wheel of `calc/` and return its path."""
    wheels, source = WORK / "wheel", WORK / "wheel-source"
    for folder in (wheels, source):
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
    shutil.copy(ROOT / "pyproject.toml", source)
    shutil.copytree(ROOT / "calc", source / "calc", ignore=shutil.ignore_patterns("__pycache__"))
    # Where `calc.physics.published` finds them without the checkout.
    shutil.copytree(ROOT / "shared" / "published", source / "calc" / "physics" / "published")
    run(
        [
            venv_program("python"),
            "-c",
            "import sys; from flit_core.buildapi import build_wheel; build_wheel(sys.argv[1])",
            wheels,
        ],
        why="The wheel of calc/ could not be built.",
        cwd=source,
        env={"SOURCE_DATE_EPOCH": "315532800"},
    )
    (wheel,) = wheels.glob("*.whl")
    return wheel


def _unpack(wheel: Path, target: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            if ".dist-info/" not in name:
                archive.extract(name, target)


def _source(name: str) -> Path:
    spec = importlib.util.find_spec(name)
    assert spec is not None and spec.origin is not None, name
    return Path(spec.origin)


def _compile() -> None:
    """Have the runtime compile the packages, and the part of its library that they import."""
    shutil.rmtree(LIBRARY_FILES, ignore_errors=True)
    with zipfile.ZipFile(PYODIDE / "python_stdlib.zip") as whole:
        whole.extractall(LIBRARY_FILES)
    shutil.rmtree(LIBRARY_FILES / "asyncio")
    shutil.copytree(STAND_INS, LIBRARY_FILES, dirs_exist_ok=True)
    _zip(STANDARD_LIBRARY, LIBRARY_FILES)
    run(
        [
            *node_command(),
            WEB / "compile.mjs",
            PACKAGES,
            LIBRARY_FILES,
            STANDARD_LIBRARY,
            PYODIDE,
            ROOT / "build" / "byte_code.py",
        ],
        why="The page’s Python could not compile its files.",
        cwd=WEB,
    )
    for file in LIBRARY_FILES.rglob("*"):
        if file.is_file() and file.suffix != ".pyc":
            file.unlink()
    _zip(STANDARD_LIBRARY, LIBRARY_FILES)


def _zip(archive: Path, *folders: Path) -> None:
    """Pack all files of folders, the same way each time."""
    with zipfile.ZipFile(archive, "w") as made:
        for folder in folders:
            for file in sorted(folder.rglob("*")):
                if file.is_file():
                    name = zipfile.ZipInfo(file.relative_to(folder).as_posix(), _WHEN)
                    made.writestr(name, file.read_bytes(), zipfile.ZIP_DEFLATED, 9)


def _trim_code() -> None:
    """Leave out the exports that nobody calls: their table takes a page a tenth of a second.

    What only they led to goes with them, a quarter of its functions.
    """
    own = [(WEB / name).read_text(encoding="utf-8") for name in ("worker.mjs", "image.mjs")]
    others = [(PYODIDE / "pyodide.mjs").read_text(encoding="utf-8"), *own]
    loader = without_unused((PYODIDE / LOADER).read_text(encoding="utf-8"), others)
    (CODE / LOADER).write_text(loader, encoding="utf-8")
    run(
        [
            *(*node_command(), WEB / "node_modules" / "esbuild" / "bin" / "esbuild"),
            *("--minify", "--allow-overwrite", f"--outfile={CODE / LOADER}", CODE / LOADER),
        ],
        why="The runtime’s loader could not be shortened.",
        log=_CODE_LOG,
    )
    code = CODE / LOADED
    code.write_bytes(pruned((PYODIDE / LOADED).read_bytes(), [loader, *others]))
    run(
        [
            *(*node_command(), WEB / "node_modules" / "binaryen" / "bin" / "wasm-opt"),
            *(f"--enable-{feature}" for feature in FEATURES),
            *("--remove-unused-module-elements", code, "-o", code),
        ],
        why="The runtime’s code could not be shortened.",
        log=_CODE_LOG,
    )


def _pack(raw: Path, name: str, log: Path | None = None) -> None:
    """Pack a file as the page's worker unpacks it."""
    run(
        [*node_command(), WEB / "pack.mjs", raw, OUT / name],
        why="The runtime’s files could not be packed.",
        log=log,
    )


if __name__ == "__main__":
    os.chdir(ROOT)
    build_runtime()
    sys.exit(0)
