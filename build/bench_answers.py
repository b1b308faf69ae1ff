"""Measures how long answers take in the page's Python."""

import json
import statistics
from collections.abc import Iterable, Mapping
from typing import Any

import bench_loads
from bench_lines import TARGETS, line
from playwright.sync_api import Browser, Page
from steps import say

# A reader has put the cursor into a field before anything is typed: the page lets Python practise.
BEFORE_TYPING_MS = 1000
ASK = """async ([texts, before]) => {
    const worker = new Worker(new URL("assets/runtime/worker.js", document.baseURI), {
        type: "module" });
    const times = [];
    await new Promise((resolve) => {
        worker.onmessage = resolve;
        worker.postMessage({ kind: "report" });
    });
    if (before) {
        const example = { ...JSON.parse(texts[0]), inputs: {} };
        worker.postMessage({ kind: "practise", text: JSON.stringify(example) });
        await new Promise((resolve) => setTimeout(resolve, before));
    }
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
    const step = async (inputs, first) => {
        const asked = { kind: "stream", calculator: "amplifier-choice", inputs, first };
        worker.postMessage({ id: 1, text: JSON.stringify(asked) });
        return JSON.parse((await reply()).text).more;
    };
    const begun = performance.now();
    await step(inputs, true);
    const first = performance.now() - begun;
    let steps = 1;
    for (let more = true; more; steps += 1) more = await step(inputs, false);
    const all = performance.now() - begun;
    await step({ ...inputs, power_m: "5" }, true);
    const changed = performance.now() - begun - all;
    worker.terminate();
    return [first, changed, all, steps];
}"""


def _times(
    page: Page, name: str, asked: Iterable[Mapping[str, str]], before_ms: int = 0
) -> list[float]:
    """Return how long each answer takes [ms], in the order in which they are asked.

    before_ms : how long the cursor was in a field before the first; 0: it was in none
    """
    texts = [
        json.dumps({"kind": "answer", "calculator": name, "inputs": inputs}) for inputs in asked
    ]
    times: list[float] = page.evaluate(ASK, [texts, before_ms])
    return times


def report_answers(browser: Browser, address: str) -> None:
    """Print the time of one changed input for each calculator, and of what takes long."""
    page = browser.new_page()
    page.goto(address)
    _report_changes(page)
    _report_long(page)
    _report_shelves(page)
    first, again = _times(page, "coil-wiring", bench_loads.SLOWEST_COILS)
    line(
        "  coil-wiring, four unlike twin-coil drivers",
        f"first {first:.0f}",
        f"then, another limit: {again:.0f}",
    )


def _report_changes(page: Page) -> None:
    from calc.app.contents import CALCULATORS

    say("\nOne changed input, in the browser (ms)")
    for name in CALCULATORS:
        changes = bench_loads.changes(name, 100)
        cold = sorted(_times(page, name, changes))
        # The plan's page lets nothing be practised.
        before = 0 if name == "fit-plan" else BEFORE_TYPING_MS
        times = sorted(_times(page, name, changes, before))
        line(
            f"  {name}",
            f"median {statistics.median(times):.1f}",
            f"p95 {_p95(times):.1f} (without practice {_p95(cold):.1f}), "
            f"target ≤ {TARGETS['input_ms']}",
        )


def _report_long(page: Page) -> None:
    for what, name, asked, target in (
        ("four like twin-coil drivers", "coil-wiring", bench_loads.LIKE_COILS, "coils_ms"),
        (
            "four channels and a full-featured head unit",
            "filter-split",
            bench_loads.full_systems(),
            "split_ms",
        ),
        ("twelve runs", "cable-tree", bench_loads.trees(), "tree_ms"),
        (
            "four amplifiers and three keep-outs",
            "mounting-reach",
            bench_loads.bays(),
            "bays_ms",
        ),
    ):
        times = sorted(_times(page, name, asked))
        line(
            f"  {name}, {what}",
            f"median {statistics.median(times):.0f}",
            f"p95 {_p95(times):.0f}, slowest {times[-1]:.0f}, target ≤ {TARGETS[target]}",
        )


def _report_shelves(page: Page) -> None:
    for what, texts, has_target in (
        ("30", bench_loads.shelf(30), False),
        ("30 four-channels and 5 monos", bench_loads.shelf_of_sets(), True),
        ("500", bench_loads.shelf(500), False),
    ):
        timed: list[Any] = page.evaluate(ASK_IN_STEPS, texts)
        first, changed, whole, steps = timed
        line(
            f"  amplifier-choice, a shelf of {what}",
            f"first verdicts {first:.0f}, of one changed input {changed:.0f}"
            + (f", target ≤ {TARGETS['first_ms']}" if has_target else ""),
            f"all {whole:.0f} in {steps} steps"
            + (f", target ≤ {TARGETS['all_ms']}" if has_target else ""),
        )


def _p95(rising: list[float]) -> float:
    return rising[int(0.95 * len(rising))]
