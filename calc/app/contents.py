"""What the chapters offer: pages with their calculators, tables and drawings, by name.

A calculator `power-cable` of the chapter `cabling` is `POWER_CABLE` in `calc.cabling.power_cable`;
it is imported when it is asked for, so that the command line loads only the chapter that it needs.
"""

from collections.abc import Callable, Iterator, Mapping
from importlib import import_module
from types import MappingProxyType
from typing import TypeVar

from calc.answers.calculator import Answer, AnyCalculator
from calc.answers.sheet import Drawing, Table
from calc.inputs import links

Thing = TypeVar("Thing")

# A page's address below the site's root: its chapter, and the calculators that stand on it.
_PAGES: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "bridging/": ("bridging", ("bridged-output", "channel-map")),
    "coil-wiring/": ("coils", ("coil-wiring", "meter-check")),
    "crossovers/": (
        "crossovers",
        (
            "filter-split",
            "crossover-sum",
            "filter-response",
            "passive-network",
            "level-pad",
            "arrival-delay",
        ),
    ),
    "cables/": (
        "cabling",
        (
            "power-cable",
            "cable-tree",
            "wire-facts",
            "speaker-lead",
            "supply-budget",
            "kit-list",
        ),
    ),
    "cable-chart/": ("cabling", ("cable-chart",)),
    "mounting/": ("placement", ("mounting-reach", "bay-heat")),
    "footprint/": ("placement", ("footprint",)),
    "set-up/": (
        "setup",
        ("gain-voltage", "test-tone", "signal-chain", "turn-on", "boost-cost"),
    ),
    "commissioning/": ("setup", ("commissioning",)),
    "choose/": ("choosing", ("amplifier-choice",)),
    "plan/": ("choosing", ("fit-plan",)),
    "exercises/": ("exercises", ("exercises",)),
}
PAGES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {page: names for page, (_, names) in _PAGES.items()}
)
_CHAPTERS = {name: chapter for chapter, names in _PAGES.values() for name in names}


class _Calculators(Mapping[str, AnyCalculator]):
    """The calculators by name, each imported when it is asked for."""

    def __getitem__(self, name: str) -> AnyCalculator:
        module = name.replace("-", "_")
        chapter = import_module(f"calc.{_CHAPTERS[name]}.{module}")
        calculator: AnyCalculator = getattr(chapter, module.upper())
        return calculator

    def __iter__(self) -> Iterator[str]:
        return iter(_CHAPTERS)

    def __len__(self) -> int:
        return len(_CHAPTERS)

    def __contains__(self, name: object) -> bool:
        return name in _CHAPTERS


class _Made(Mapping[str, Callable[..., Thing]]):
    """Functions of chapters by the names that a page calls them by, imported when asked for."""

    def __init__(self, module: str, names: Mapping[str, tuple[str, ...]]) -> None:
        self._module = module
        self._chapters = {name: chapter for chapter, group in names.items() for name in group}

    def __getitem__(self, name: str) -> Callable[..., Thing]:
        module = import_module(f"calc.{self._chapters[name]}.{self._module}")
        function: Callable[..., Thing] = getattr(module, name.replace("-", "_"))
        return function

    def __iter__(self) -> Iterator[str]:
        return iter(self._chapters)

    def __len__(self) -> int:
        return len(self._chapters)


CALCULATORS: Mapping[str, AnyCalculator] = _Calculators()
TABLES: Mapping[str, Callable[..., Table]] = _Made(
    "tables",
    {
        "bridging": ("bridged-limits", "typical-bridged-power", "four-groupings"),
        "coils": ("standard-combinations", "how-to-wire"),
        "crossovers": (
            "corner-by-size",
            "corner-by-resonance",
            "octave-levels",
            "summing-rules",
            "part-values",
            "delay-by-distance",
            "filter-readings",
        ),
        "cabling": (
            "metric-sizes",
            "awg-sizes",
            "fuse-ratings",
            "duty-currents",
            "cost-of-cladding",
            "speaker-lengths",
        ),
        "placement": ("bend-rooms", "crash-pulls"),
        "setup": (
            "gain-targets",
            "tone-levels",
            "section-tones",
            "boost-multiples",
            "speaker-level-volts",
            "clipped-powers",
        ),
        "choosing": ("system-fields", "shelf-columns", "usual-figures"),
    },
)
DRAWINGS: Mapping[str, Callable[..., Drawing]] = _Made(
    "drawings",
    {
        "bridging": ("four-channel-grouping", "half-load", "terminal-panel"),
        "coils": ("circuit", "terminals", "bare-terminals"),
        "crossovers": ("slopes", "families", "like-sum"),
        "cabling": ("power-circuit",),
        "placement": ("survey-grid", "side-clearances"),
        "setup": ("clipped-sine", "sine-levels", "one-circuit"),
        "choosing": ("whole-system",),
    },
)


def page_of(name: str) -> str:
    """Return the address of the chapter, or page in the contents, that holds a calculator."""
    return next(page for page, names in PAGES.items() if name in names)


def is_alone(name: str) -> bool:
    """Tell whether a page in the contents holds this calculator and no other."""
    return len(PAGES[page_of(name)]) == 1


def query_of(answer: Answer) -> str:
    """Return the query part of the answer's link, without the question mark."""
    return links.short("", answer.changed)


def link_of(answer: Answer) -> str:
    """Return the answer's link below the site's root: to the calculator's own page.

    >>> link_of(CALCULATORS["bridged-output"].answer({"load_ohm": "8"}))
    'calculators/bridged-output/?load_ohm=8'
    """
    query = query_of(answer)
    page = links.own_page(answer.calculator.name)
    return f"{page}?{query}" if query else page


def chapter_link_of(answer: Answer) -> str:
    """Return the link, below the site's root, that opens the answer's figures in its chapter.

    >>> chapter_link_of(CALCULATORS["bridged-output"].answer({"load_ohm": "8"}))
    'bridging/?bridged-output.load_ohm=8#bridged-output'
    """
    name = answer.calculator.name
    page = page_of(name)
    query = links.query(name, answer.changed, PAGES[page])
    return f"{page}?{query}#{name}" if query else f"{page}#{name}"
