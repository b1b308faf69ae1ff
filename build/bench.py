"""Measures start-up, sizes and answers, side by side in one run; asserts nothing.

Each kind of start is opened in a fresh browser profile, the kinds taking turns, so that a
busy machine slows them all alike.  Read the ratios; the milliseconds are this machine's.
"""

import argparse
import json
import random
import shutil
import statistics
import sys
import threading
import time
from collections.abc import Iterable
from pathlib import Path

from serve import Server, server
from site_build import build_site
from steps import ROOT, WEB, WORK, say

sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

HOUSE = WORK / "bench"
TARGETS = {
    "cold": 0.30,
    "copy_mb": 9.0,
    "input_ms": 50,
    "coils_ms": 300,
    "split_ms": 300,
    "tree_ms": 300,
    "bays_ms": 500,
    "build_s": 60,
    "first_ms": 1000,
    "all_ms": 15_000,
}

STOCK = """<!doctype html><meta charset="utf-8"><title>stock</title>
<body><script type="module" src="stock.js"></script>"""
STOCK_JS = """
import { loadPyodide } from "./pyodide.mjs";
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


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--chromium", required=True)
    parser.add_argument("--runs", type=int, default=7)
    options = parser.parse_args()
    build_s = _clean_build()
    _stock_folder()
    running = server(HOUSE, 0)
    threading.Thread(target=running.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{running.server_address[1]}/"
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=options.chromium,
            args=[
                "--no-sandbox",
                "--disable-background-networking",
                "--disable-gpu",
                "--disable-component-update",
            ],
        )
        _report_starts(browser, address, options.runs)
        _report_bytes(browser, running, address)
        _report_answers(browser, address)
        browser.close()
    _line("clean build (set-up apart)", f"{build_s:.1f} s", f"target ≤ {TARGETS['build_s']} s")
    return 0


def _line(what: str, figure: str, note: str = "") -> None:
    say(f"{what:<58} {figure:>22}   {note}".rstrip())


def _clean_build() -> float:
    """Build from nothing but the set-up, in the place that is then served."""
    for name in ("runtime", "runtime-made", "packages", "wheel", "fonts", "bench", "bench-made"):
        path = WORK / name
        shutil.rmtree(path, ignore_errors=True)
        path.unlink(missing_ok=True)
    begun = time.monotonic()
    build_site(HOUSE, "http://127.0.0.1:1/")
    return time.monotonic() - begun


def _stock_folder() -> None:
    stock = HOUSE / "stock"
    stock.mkdir()
    for name in (
        "pyodide.mjs",
        "pyodide.asm.js",
        "pyodide.asm.wasm",
        "python_stdlib.zip",
        "pyodide-lock.json",
    ):
        shutil.copy(WEB / "node_modules" / "pyodide" / name, stock / name)
    (wheel,) = (WORK / "wheel").glob("*.whl")
    shutil.copy(wheel, stock / "handbook.whl")
    import zipfile

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


def _until(page: object, script: str, pause_ms: int = 50) -> None:
    end = time.monotonic() + 60
    while not page.evaluate(script):
        if time.monotonic() > end:
            raise TimeoutError(script)
        page.wait_for_timeout(pause_ms)


def _opened(page: object, address: str) -> float:
    """Return the time [ms] from opening an address to its first computed answer."""
    page.add_init_script(NOTE_ANSWER)
    # A new window starts a renderer of its own for the browser's frame, which takes a core
    # for a second; a reader's window is open already.
    page.wait_for_timeout(WINDOW_MS)
    page.goto(address, wait_until="commit")
    _until(page, "window.whenAnswered", pause_ms=100)
    return page.evaluate("window.whenAnswered")


def _report_starts(browser: object, address: str, runs: int) -> None:
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
        _line(f"  {kind}", f"median {statistics.median(values):.0f}", f"spread {spread}")
    ratio = statistics.median(times["ours cold"]) / statistics.median(times["stock"])
    _line("  ours cold ÷ stock", f"{ratio:.2f}", f"target ≤ {TARGETS['cold']:.2f}")
    back = statistics.median(times["ours on return"]) / statistics.median(times["stock"])
    _line("  ours on return ÷ stock", f"{back:.2f}")


def _report_bytes(browser: object, running: Server, address: str) -> None:
    """Bytes of bodies as transferred, counted by the server's own sizes."""
    say("\nBytes transferred")
    sizes = {"first answer": 0, "offline copy": 0}
    counted: list[int] = []
    handler = running.RequestHandlerClass.func
    original = handler._send

    def send(self: object, status: object, target: Path, with_body: bool) -> None:
        before = self.wfile
        self.wfile = _Counting(before, counted)
        original(self, status, target, with_body)
        self.wfile = before

    handler._send = send
    try:
        context = browser.new_context(service_workers="block")
        page = context.new_page()
        _opened(page, address + "bridging/?bridged-output.load_ohm=8")
        sizes["first answer"] = sum(counted)
        context.close()
        counted.clear()
        context = browser.new_context()
        page = context.new_page()
        page.goto(address + "cautions/")
        _until(page, "document.querySelector('.offline-word')?.textContent.startsWith('Saved')")
        sizes["offline copy"] = sum(counted)
        context.close()
    finally:
        handler._send = original
    _line("  for the first answer, no cache", f"{sizes['first answer'] / 1e6:.2f} MB")
    _line(
        "  for the whole offline copy, the opened page included",
        f"{sizes['offline copy'] / 1e6:.2f} MB",
        f"target ≤ {TARGETS['copy_mb']} MB",
    )


class _Counting:
    """Counts what goes through a file, headers included."""

    def __init__(self, file: object, counted: list[int]) -> None:
        self._file, self._counted = file, counted

    def write(self, data: bytes) -> int:
        self._counted.append(len(data))
        return self._file.write(data)

    def __getattr__(self, name: str) -> object:
        return getattr(self._file, name)


ASK = """async (texts) => {
    const worker = new Worker(new URL("assets/runtime/worker.js", document.baseURI), {
        type: "module" });
    const times = [];
    await new Promise((resolve) => {
        worker.onmessage = resolve;
        worker.postMessage({ kind: "report" });
    });
    for (const text of texts) {
        const begun = performance.now();
        await new Promise((resolve) => {
            worker.onmessage = resolve;
            worker.postMessage({ id: 1, text });
        });
        times.push(performance.now() - begun);
    }
    worker.terminate();
    return times;
}"""


# A long answer as the page asks for it: the first step tells a verdict where one is plain.
ASK_IN_STEPS = """async (inputs) => {
    const worker = new Worker(new URL("assets/runtime/worker.js", document.baseURI), {
        type: "module" });
    const reply = () => new Promise((resolve) => {
        worker.onmessage = ({ data }) => resolve(data);
    });
    worker.postMessage({ kind: "report" });
    await reply();
    const begun = performance.now();
    let first, steps = 0;
    for (let more = true; more; steps += 1) {
        const asked = { kind: "stream", calculator: "amplifier-choice", inputs,
            first: steps === 0 };
        worker.postMessage({ id: 1, text: JSON.stringify(asked) });
        more = JSON.parse((await reply()).text).more;
        first ??= performance.now() - begun;
    }
    worker.terminate();
    return [first, performance.now() - begun, steps];
}"""


def _request(name: str, inputs: dict) -> str:
    return json.dumps({"kind": "answer", "calculator": name, "inputs": inputs})


def _report_answers(browser: object, address: str) -> None:
    """Time of one changed input in the page's Python, per calculator."""
    from inputs import valid_inputs

    from calc.app.contents import CALCULATORS

    page = browser.new_page()
    page.goto(address)
    say("\nOne changed input, in the browser (ms)")
    for name, calculator in CALCULATORS.items():
        rng = random.Random(f"bench {name}")
        texts = []
        for _ in range(150):
            given = valid_inputs(calculator, rng)
            key = rng.choice(list(given) or [calculator.fields[0].key])
            # One input differs from the worked example, as when a person changes a figure.
            one = {key: given[key]} if key in given else {}
            try:
                calculator.answer(one)
            except Exception:
                one = {}
            texts.append(_request(name, one))
        times = sorted(page.evaluate(ASK, texts))
        p95 = times[int(0.95 * len(times))]
        _line(
            f"  {name}",
            f"median {statistics.median(times):.1f}",
            f"p95 {p95:.1f}, target ≤ {TARGETS['input_ms']}",
        )
    like = [
        _request("coil-wiring", {"drivers": "4", "coil_ohm": f"{4 + at / 8}"}) for at in range(12)
    ]
    times = sorted(page.evaluate(ASK, like))
    _line(
        "  coil-wiring, four like twin-coil drivers",
        f"median {statistics.median(times):.0f}",
        f"slowest {times[-1]:.0f}, target ≤ {TARGETS['coils_ms']}",
    )
    times = sorted(page.evaluate(ASK, [_request("filter-split", one) for one in _full_systems()]))
    _line(
        "  filter-split, four channels and a full-featured head unit",
        f"median {statistics.median(times):.0f}",
        f"slowest {times[-1]:.0f}, target ≤ {TARGETS['split_ms']}",
    )
    times = sorted(page.evaluate(ASK, [_request("cable-tree", one) for one in _trees()]))
    _line(
        "  cable-tree, twelve runs",
        f"median {statistics.median(times):.0f}",
        f"slowest {times[-1]:.0f}, target ≤ {TARGETS['tree_ms']}",
    )
    times = sorted(page.evaluate(ASK, [_request("mounting-reach", one) for one in _bays()]))
    _line(
        "  mounting-reach, four amplifiers and three keep-outs",
        f"median {statistics.median(times):.0f}",
        f"p95 {times[int(0.95 * len(times))]:.0f}, slowest {times[-1]:.0f}, "
        f"target ≤ {TARGETS['bays_ms']}",
    )
    for count in (30, 500):
        first, whole, steps = page.evaluate(ASK_IN_STEPS, _shelf(count))
        small = count == 30
        _line(
            f"  amplifier-choice, a shelf of {count}",
            f"first verdicts {first:.0f}" + (f", target ≤ {TARGETS['first_ms']}" if small else ""),
            f"all {whole:.0f} in {steps} steps"
            + (f", target ≤ {TARGETS['all_ms']}" if small else ""),
        )
    unlike = [
        _request("coil-wiring", {"drivers": "2,4;2,3;2,2;2,1"}),
        _request("coil-wiring", {"drivers": "2,4;2,3;2,2;2,1", "min_load_ohm": "3"}),
    ]
    times = page.evaluate(ASK, unlike)
    _line(
        "  coil-wiring, four unlike twin-coil drivers",
        f"first {times[0]:.0f}",
        f"then, another limit: {times[1]:.0f}",
    )


def _shelf(count: int) -> dict[str, str]:
    """Return the Lantern Van's system with a shelf of random amplifiers."""
    from choosing_systems import random_amplifier

    from calc.system.files.shelf_file import write_shelf

    rng = random.Random("bench shelf")
    return {"shelf": write_shelf(random_amplifier(rng, f"number {at}") for at in range(count))}


def _bays() -> list[dict[str, str]]:
    """Return bays of everyday size, those that are too small included."""
    from mounting_bays import as_inputs, realistic

    return [as_inputs(realistic(random.Random(seed))) for seed in range(60)]


def _trees() -> list[dict[str, str]]:
    """Return trees of twelve runs: a comb, a star, a fork of forks, and chains with one load."""
    comb = [f"n{at},n{at + 1},{1 + at / 7:.2f}" for at in range(6)]
    comb += [f"n{at + 1},load {at},{0.4 + at / 9:.2f}" for at in range(6)]
    fork = [f"n{(at - 1) // 2},n{at},{0.6 + at / 5:.2f}" for at in range(1, 13)]
    star = [f"n0,load {at},{1 + at / 3:.2f}" for at in range(12)]
    # The lengths that took the longest of some two thousand chains.
    chain = [f"n{at},n{at + 1},{0.3 * 1.2**at:.3f}" for at in range(12)]
    found = []
    for sizes in ("metric", "awg"):
        for limit in ("0.35", "0.5", "0.8", "1.4"):
            rules = {"sizes": sizes, "max_drop_v": limit, "body_mohm": "0.5"}
            found += [
                rules | {"runs": ";".join(comb), "loads": _loads(f"load {at}" for at in range(6))},
                rules | {"runs": ";".join(fork), "loads": _loads(f"n{at}" for at in range(6, 13))},
                rules | {"runs": ";".join(star), "loads": _loads(f"load {at}" for at in range(12))},
                rules | {"runs": ";".join(chain), "loads": "n12,120"},
            ]
    full = {"duty": "full", "return": "cable", "sizes": "awg", "runs": ";".join(chain)}
    return [*found, full | {"loads": "n12,69", "max_drop_v": "0.07"}]


def _loads(places: Iterable[str]) -> str:
    return ";".join(f"{place},{90 + 17 * at}" for at, place in enumerate(places))


def _full_systems() -> list[dict[str, str]]:
    """Return four-channel systems whose head unit has every filter, with many steps and slopes."""
    steps = (
        "20/25/32/40/50/63/80/100/125/160/200/250/315/400/500/1000/1250/1600/2000/2500/3150/4000"
    )
    filters = "1/2,high-pass {0};1/2,low-pass {0};3/4,high-pass {0};3/4,low-pass {0}"
    head_unit = filters.format(f"{steps},1,butterworth,1/2/3/4,,yes").replace("pass ", "pass,")
    amplifier = filters.format("50-500,1/10,butterworth,2/4,,yes").replace("pass ", "pass,")
    exclusive = ";".join(
        f"{pair},{kind},50-500,1/10,butterworth,2,{pair[0]},yes"
        for pair in ("1/2", "3/4")
        for kind in ("high-pass", "low-pass")
    )
    sections = (
        ("tweeter,1/2,2500,{0},,,0;mid-bass,3/4,70,{0},4500,,0", ""),
        ("tweeter,1/2,2500,{0},,,0;mid-bass,1/2,70,{0},4500,,0;woofer,3+4,25,{0},120,,0",
         "1/2,3500,butterworth,2,both"),
        ("tweeter,1/2,3000,2,,,0;midrange,1/2,200,{0},6000,,0;mid-bass,3/4,70,{0},300,,0",
         "1/2,5000,butterworth,2,both"),
        ("full-range,1/2,60,{0},,,0;woofer,3+4,30,{0},120,,0", ""),
    )  # fmt: skip
    return [
        {
            "sections": text.format(order),
            "head_unit": head_unit,
            "amplifier": own,
            "passive": passive,
        }
        for text, passive in sections
        for own in (amplifier, exclusive)
        for order in (2, 4)
    ]


if __name__ == "__main__":
    sys.exit(main())
