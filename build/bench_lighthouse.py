"""Asks Lighthouse for its marks of five kinds of pages, as on a phone of middling speed."""

import json
from collections.abc import Mapping
from typing import Any

from bench_lines import TARGETS, line
from environment import LIGHTHOUSE
from steps import WORK, Stop, node_command, run, say

PAGES: Mapping[str, str] = {
    "start": "",
    "chapter": "bridging/",
    "plan": "plan/",
    "calculator": "calculators/power-cable/",
    "reference": "sources/",
}
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
_SHIFT = "cumulative-layout-shift"


def report_lighthouse(address: str, chromium: str) -> None:
    """Print each page's marks, of 100, and how far its parts moved while it loaded."""
    say(f"\nLighthouse, mobile profile: {', '.join(CATEGORIES)} (target ≥ {TARGETS['marks']})")
    for kind, path in PAGES.items():
        try:
            report = _asked(address + path, chromium)
        except Stop:  # it misses a page's start now and then
            report = _asked(address + path, chromium)
        marks = [report["categories"][name]["score"] for name in CATEGORIES]
        shift = report["audits"][_SHIFT]["numericValue"]
        figures = "  ".join("–" if mark is None else f"{100 * mark:.0f}" for mark in marks)
        line(f"  {kind} (/{path})", figures, f"layout shift {shift:.3f}")
        for name in CATEGORIES[1:]:
            for audit in report["categories"][name]["auditRefs"]:
                told = report["audits"][audit["id"]]
                if audit["weight"] and told["score"] is not None and told["score"] < 1:
                    say(f"    {name}: {told['title']}")


def _asked(url: str, chromium: str) -> dict[str, Any]:
    place = WORK / "lighthouse.json"
    cli = LIGHTHOUSE / "node_modules" / "lighthouse" / "cli" / "index.js"
    run(
        [
            *node_command(),
            cli,
            url,
            "--quiet",
            "--output=json",
            f"--output-path={place}",
            f"--only-categories={','.join(CATEGORIES)}",
            "--no-enable-error-reporting",
            "--chrome-flags=--headless=new --no-sandbox --disable-gpu",
        ],
        why="Lighthouse could not look at a page.",
        env={"CHROME_PATH": chromium},
    )
    return dict(json.loads(place.read_text(encoding="utf-8")))
