"""Measures how long a page takes to its first answer, and what it transfers.

Stock Pyodide with the same package stands beside it in the folder that is served.
"""

import shutil
import statistics
import sys
import time
import zipfile
from http import HTTPStatus
from io import BufferedIOBase
from pathlib import Path
from typing import Any, ClassVar

from bench_lines import TARGETS, line
from playwright.sync_api import Browser, Page
from serve import Handler
from steps import WEB, WORK, Stop, run, say, venv_program

RUNTIME = (3, 13)  # the Python of the stock page
STOCK = """<!doctype html><meta charset="utf-8"><title>stock</title>
<body><script type="module" src="stock.js"></script>"""
STOCK_JS = """
// The handbook's host wants every script's address vouched for.
trustedTypes.createPolicy("default", { createScriptURL: (address) => address });
const worker = new Worker("stock-worker.js", { type: "module" });
worker.onmessage = ({ data }) => {
  window.answered = data;
  document.body.append("answered");
};
"""
STOCK_WORKER = """
import { loadPyodide } from "./pyodide.mjs";
const wheels = ["handbook.whl", "qrcodegen.zip"];
const python = await loadPyodide({ indexURL: new URL("./", import.meta.url).href });
for (const wheel of wheels) {
  const buffer = await (await fetch(wheel)).arrayBuffer();
  python.unpackArchive(buffer, "zip", {
    extractDir: python.runPython("import site; site.getsitepackages()[0]") });
}
const text = JSON.stringify({ kind: "answer", calculator: "bridged-output", inputs: {} });
python.globals.set("text", text);
self.postMessage(python.runPython("from calc.app.page import respond\\nrespond(text)"));
"""
WASM = """<!doctype html><meta charset="utf-8"><title>wasm</title>
<body><script type="module" src="wasm.js"></script>"""
WASM_JS = """
const module = await WebAssembly.compileStreaming(fetch("pyodide.asm.wasm"));
window.answered = String(module);
document.body.append("compiled");
"""


def _compiled_wheel() -> Path:
    """Compile the wheel as is usual, with the byte code of the Python at hand."""
    if sys.version_info[:2] != RUNTIME:
        raise Stop("the stock page’s wheel must be compiled by Python 3.13: run bench with it.")
    folder = WORK / "bench-wheel"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    (wheel,) = (WORK / "wheel").glob("*.whl")
    shutil.copy(wheel, folder)
    run(
        [venv_program("pyodide"), "py-compile", "--compression-level", "9", folder],
        why="The wheel could not be compiled.",
        cwd=WORK,
        env={"PYTHONOPTIMIZE": "2", "PYTHONNODEBUGRANGES": "1"},
    )
    (compiled,) = folder.glob("*.whl")
    return compiled


def stock_folder(house: Path) -> None:
    """Put stock Pyodide with the package, and the bare compiler, into a folder of the site."""
    stock = house / "stock"
    stock.mkdir()
    for name in (
        "pyodide.mjs",
        "pyodide.asm.js",
        "pyodide.asm.wasm",
        "python_stdlib.zip",
        "pyodide-lock.json",
    ):
        shutil.copy(WEB / "node_modules" / "pyodide" / name, stock / name)
    shutil.copy(_compiled_wheel(), stock / "handbook.whl")
    with zipfile.ZipFile(stock / "qrcodegen.zip", "w") as archive:
        archive.write(WORK / "packages" / "qrcodegen.pyc", "qrcodegen.pyc")
    for name, text in (
        ("index.html", STOCK),
        ("stock.js", STOCK_JS),
        ("stock-worker.js", STOCK_WORKER),
        ("wasm.html", WASM),
        ("wasm.js", WASM_JS),
    ):
        (stock / name).write_text(text)


# The page notes itself when the first computed answer stands there, counted from the start of
# the navigation; asking it all the time would take the processor from what is measured.
NOTE_ANSWER = """
window.whenAnswered = 0;
const note = () => {
  const told = document.querySelector("#bridged-output .answer .sentence")?.textContent ?? "";
  if (window.answered || told.includes("into 8\u202fΩ")) {
    window.whenAnswered = performance.now();
    observer.disconnect();
  }
};
const observer = new MutationObserver(note);
observer.observe(document, { childList: true, subtree: true });
"""
WINDOW_MS = 2500


def _until(page: Page, script: str, pause_ms: int = 50) -> None:
    end = time.monotonic() + 60
    while not page.evaluate(script):
        if time.monotonic() > end:
            raise TimeoutError(script)
        page.wait_for_timeout(pause_ms)


def _opened(page: Page, address: str) -> float:
    """Return the time [ms] from opening an address to its first computed answer."""
    page.add_init_script(NOTE_ANSWER)
    # A new window starts a renderer of its own for the browser's frame, which takes a core
    # for a second; a reader's window is open already.
    page.wait_for_timeout(WINDOW_MS)
    page.goto(address, wait_until="commit")
    _until(page, "window.whenAnswered", pause_ms=100)
    return float(page.evaluate("window.whenAnswered"))


def report_starts(browser: Browser, address: str, runs: int) -> None:
    """Print the times of each kind of start, the kinds taking turns."""
    link = address + "bridging/?bridged-output.load_ohm=8"
    times: dict[str, list[float]] = {"ours cold": [], "ours on return": [], "stock": [], "wasm": []}
    for _ in range(runs):
        for kind in times:
            context = browser.new_context()
            page = context.new_page()
            if kind == "ours on return":
                page.goto(link)
                _until(
                    page, "document.querySelector('.offline-word')?.textContent.startsWith('Saved')"
                )
                page.close()
                page = context.new_page()
            where = {"stock": address + "stock/", "wasm": address + "stock/wasm.html"}
            times[kind].append(_opened(page, where.get(kind, link)))
            context.close()
    say(f"\nOpening a page → first computed answer, {runs} fresh profiles each, in turns (ms)")
    for kind, values in times.items():
        spread = f"{min(values):.0f} – {max(values):.0f}"
        line(f"  {kind}", f"median {statistics.median(values):.0f}", f"spread {spread}")
    ratio = statistics.median(times["ours cold"]) / statistics.median(times["stock"])
    line("  ours cold ÷ stock", f"{ratio:.2f}", f"target ≤ {TARGETS['cold']:.2f}")
    back = statistics.median(times["ours on return"]) / statistics.median(times["stock"])
    line("  ours on return ÷ stock", f"{back:.2f}")


class CountingHandler(Handler):
    """Serves the site and counts the bytes of what it sends, headers included."""

    counted: ClassVar[list[int]] = []

    def send_file(self, status: HTTPStatus, target: Path, with_body: bool) -> None:
        """Send a file through something that counts."""
        before = self.wfile
        self.wfile = _Counting(before, self.counted)
        super().send_file(status, target, with_body)
        self.wfile = before


class _Counting(BufferedIOBase):
    """Counts what goes through a file."""

    def __init__(self, file: BufferedIOBase, counted: list[int]) -> None:
        self._file, self._counted = file, counted

    # The type of what is written has a name from Python 3.12 on.
    def write(self, data: Any) -> int:
        self._counted.append(memoryview(data).nbytes)
        return self._file.write(data)

    def flush(self) -> None:
        self._file.flush()


def report_bytes(browser: Browser, address: str) -> None:
    """Print the bytes of bodies as transferred, counted by the server's own sizes."""
    say("\nBytes transferred")
    CountingHandler.counted.clear()
    context = browser.new_context(service_workers="block")
    _opened(context.new_page(), address + "bridging/?bridged-output.load_ohm=8")
    first_answer = sum(CountingHandler.counted)
    context.close()
    CountingHandler.counted.clear()
    context = browser.new_context()
    page = context.new_page()
    page.goto(address + "cautions/")
    _until(page, "document.querySelector('.offline-word')?.textContent.startsWith('Saved')")
    whole_copy = sum(CountingHandler.counted)
    context.close()
    line("  for the first answer, no cache", f"{first_answer / 1e6:.2f} MB")
    line(
        "  for the whole offline copy, the opened page included",
        f"{whole_copy / 1e6:.2f} MB",
        f"target ≤ {TARGETS['copy_mb']} MB",
    )
