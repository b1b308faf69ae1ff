"""The page's Python: wheel, memory image, and the parts of the standard library it needs.

`calc/` is built as a wheel and byte-compiled for the runtime's Python; Node then starts
the runtime, imports everything and saves its memory.  A page that restores this image
starts several times faster than one that imports.  For browsers that cannot restore it,
the same packages and a trimmed standard library are kept for loading the plain way.
"""

import importlib.util
import json
import marshal
import os
import py_compile
import shutil
import sys
import zipfile
from pathlib import Path
from types import CodeType

from exports import pruned, without_unused
from steps import ROOT, WEB, WORK, Stamp, fingerprint, node_command, run, step, venv_program

OUT = WORK / "runtime"
PACKAGES = WORK / "packages"
PYODIDE = WEB / "node_modules" / "pyodide"
PURE_LIBRARIES = ("qrcodegen",)  # single-file modules
_UNCHECKED = py_compile.PycInvalidationMode.UNCHECKED_HASH

# Modules of the runtime's library that a page has no use for, and less in their place.
STAND_INS = ROOT / "build" / "stand_ins"
# The runtime's code without what no page calls; Node loads it from here as well.
CODE = WORK / "runtime-code"
LOADER, LOADED = "pyodide.asm.js", "pyodide.asm.wasm"
# Files of the runtime as the site holds them.  `.bin` files are packed with Zstandard: no host
# takes the ending for a promise to unpack them, the worker does it.
IMAGE, WASM, LIBRARY = "snapshot.bin", "python.wasm.bin", "library.zip"
STANDARD_LIBRARY = WORK / "standard-library.zip"
SAVED = WORK / "saved-memory"  # what a page restores, byte for byte
# Docstrings and columns of tracebacks serve no page, and would be a part of its image.
# With a time for all files, compiled ones hold a hash of their source and no time of their own.
_SPARE = {
    "PYTHONOPTIMIZE": "2",
    "PYTHONNODEBUGRANGES": "1",
    "SOURCE_DATE_EPOCH": "315532800",
}
_PYC_HEAD = 16  # bytes before the code
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
            WEB / "snapshot.mjs",
            WEB / "pack.mjs",
            WEB / "image.mjs",
            WEB / "start.mjs",
            WEB / "worker.mjs",
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
        _compile_libraries()
        drop_lines(PACKAGES)
        _compile_standard_library()
        _trim_code()
        run(
            [*node_command(), WEB / "snapshot.mjs", PACKAGES, OUT, STANDARD_LIBRARY, CODE, SAVED],
            why="The memory image could not be made.",
            cwd=WEB,
        )
        _pack()
        stamp.write()


def build_wheel() -> Path:
    """Build the wheel of `calc/`, byte-compiled for the runtime, and return its path."""
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
        env=_SPARE,
    )
    run(
        [venv_program("pyodide"), "py-compile", "--compression-level", "9", wheels],
        why="The wheel could not be compiled.",
        cwd=WORK,
        env=_SPARE,
    )
    (wheel,) = wheels.glob("*.whl")
    return wheel


def _unpack(wheel: Path, target: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            if ".dist-info/" not in name:
                archive.extract(name, target)


def _compile_libraries() -> None:
    for name in PURE_LIBRARIES:
        spec = importlib.util.find_spec(name)
        assert spec is not None and spec.origin is not None, name
        # Checked by hash and not by time, the compiled file is the same each time.
        py_compile.compile(
            spec.origin,
            cfile=str(PACKAGES / f"{name}.pyc"),
            dfile=f"{name}.py",
            doraise=True,
            optimize=2,
            invalidation_mode=_UNCHECKED,
        )


def _compile_standard_library() -> None:
    """Compile the runtime's standard library the same way: a fifth of the image was its words."""
    folder = WORK / "standard-library"
    shutil.rmtree(folder, ignore_errors=True)
    with zipfile.ZipFile(PYODIDE / "python_stdlib.zip") as whole:
        whole.extractall(folder)
    shutil.rmtree(folder / "asyncio")
    shutil.copytree(STAND_INS, folder, dirs_exist_ok=True)
    compiling = ["-m", "compileall", "-qq", "-b", "--invalidation-mode", "unchecked-hash", "."]
    run(
        [venv_program("python"), *compiling],
        why="The runtime’s standard library could not be compiled.",
        cwd=folder,
        env=_SPARE,
    )
    drop_lines(folder)
    with zipfile.ZipFile(STANDARD_LIBRARY, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(folder.rglob("*")):
            if file.is_file() and file.suffix != ".py":
                name = zipfile.ZipInfo(file.relative_to(folder).as_posix(), _WHEN)
                archive.writestr(name, file.read_bytes(), zipfile.ZIP_DEFLATED)
    shutil.rmtree(folder)


def drop_lines(folder: Path) -> None:
    """Take numbers of lines and long names out of compiled files: only tracebacks show them.

    They were a tenth of the image.  What goes wrong in a page goes wrong in the same way outside
    it, where they are.
    """
    for file in folder.rglob("*.pyc"):
        data = file.read_bytes()
        code = marshal.loads(data[_PYC_HEAD:])
        file.write_bytes(data[:_PYC_HEAD] + marshal.dumps(_without_lines(code)))


def _without_lines(code: CodeType) -> CodeType:
    constants = tuple(
        _without_lines(constant) if isinstance(constant, CodeType) else constant
        for constant in code.co_consts
    )
    return code.replace(co_linetable=b"", co_qualname=code.co_name, co_consts=constants)


def _trim_code() -> None:
    """Leave out the exports that nobody calls: their table takes a page a tenth of a second."""
    own = [(WEB / name).read_text(encoding="utf-8") for name in ("worker.mjs", "image.mjs")]
    others = [(PYODIDE / "pyodide.mjs").read_text(encoding="utf-8"), *own]
    loader = without_unused((PYODIDE / LOADER).read_text(encoding="utf-8"), others)
    (CODE / LOADER).write_text(loader, encoding="utf-8")
    (CODE / LOADED).write_bytes(pruned((PYODIDE / LOADED).read_bytes(), [loader, *others]))


def _pack() -> None:
    image = OUT / "snapshot.raw"
    for raw, packed in ((image, IMAGE), (CODE / LOADED, WASM)):
        run(
            [*node_command(), WEB / "pack.mjs", raw, OUT / packed],
            why="The runtime’s files could not be packed.",
        )
    image.unlink()
    shutil.copy(CODE / LOADER, OUT)
    modules = json.loads((OUT / "modules.json").read_text())
    (OUT / "modules.json").unlink()
    _pack_library(modules)


def _pack_library(modules: list[str]) -> None:
    """Keep only those parts of the runtime's standard library that loading touches, and
    put the packages beside them.
    """
    wanted = {name.replace(".", "/") for name in modules}
    with (
        zipfile.ZipFile(STANDARD_LIBRARY) as whole,
        zipfile.ZipFile(OUT / LIBRARY, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as kept,
    ):
        for name in sorted(whole.namelist()):
            stem = name.removesuffix(".pyc").removesuffix(".py").removesuffix("/__init__")
            if not name.endswith("/") and stem in wanted:
                kept.writestr(zipfile.ZipInfo(name, _WHEN), whole.read(name), zipfile.ZIP_DEFLATED)
        for file in sorted(PACKAGES.rglob("*")):
            if file.is_file():
                name = file.relative_to(PACKAGES).as_posix()
                kept.writestr(zipfile.ZipInfo(name, _WHEN), file.read_bytes(), zipfile.ZIP_DEFLATED)


if __name__ == "__main__":
    os.chdir(ROOT)
    build_runtime()
    sys.exit(0)
