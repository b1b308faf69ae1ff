"""Measures start-up, sizes and answers, side by side in one run; asserts nothing.

Each kind of start is opened in a fresh browser profile, the kinds taking turns, so that a
busy machine slows them all alike.  Read the ratios; the milliseconds are this machine's.
"""

import argparse
import shutil
import sys
import time

from bench_answers import report_answers
from bench_journey import report_journey
from bench_lighthouse import report_lighthouse
from bench_lines import TARGETS, line
from bench_starts import CountingHandler, report_bytes, report_starts, stock_folder
from playwright.sync_api import sync_playwright
from serve import serving
from site_build import build_site
from steps import ROOT, WORK

sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

HOUSE = WORK / "bench"


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(allow_abbrev=False)
    parser.add_argument("--chromium", required=True)
    parser.add_argument("--runs", type=int, default=7)
    options = parser.parse_args()
    build_s = _clean_build()
    stock_folder(HOUSE)
    with serving(HOUSE, CountingHandler) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=options.chromium,
            args=[
                "--no-sandbox",
                "--disable-background-networking",
                "--disable-gpu",
                "--disable-component-update",
            ],
        )
        report_starts(browser, address, options.runs)
        report_bytes(browser, address)
        report_answers(browser, address)
        report_journey(browser, address)
        browser.close()
        report_lighthouse(address, options.chromium)
    line("clean build (set-up apart)", f"{build_s:.1f} s", f"target ≤ {TARGETS['build_s']} s")
    return 0


def _clean_build() -> float:
    """Build from nothing but the set-up, in the place that is then served."""
    for name in ("runtime", "runtime-made", "packages", "wheel", "fonts", "bench", "bench-made"):
        path = WORK / name
        shutil.rmtree(path, ignore_errors=True)
        path.unlink(missing_ok=True)
    begun = time.monotonic()
    build_site(HOUSE, "http://127.0.0.1:1/")
    return time.monotonic() - begun


if __name__ == "__main__":
    sys.exit(main())
