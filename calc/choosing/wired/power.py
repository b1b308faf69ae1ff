"""The power tree of a plan for the drawing: battery, main run, branches, earths."""

from collections.abc import Sequence
from typing import Protocol

from calc.answers.figures import quantity
from calc.choosing.plan import Plan
from calc.choosing.wired.figures import OPEN, Figures, metres, result_of, sized
from calc.choosing.wired.system import GROUND, SUPPLY, Branch, Earth, Power

_WITHIN = "max 450\u202fmm"  # from the battery's terminal; common practice, no source
_TAP_FUSE = "1\u202fA"  # of a relay's own supply, as the kit list has it
RELAY = "relay"


class _Cable(Protocol):
    @property
    def laid(self) -> str | None: ...


class _Run(Protocol):
    @property
    def cable(self) -> _Cable: ...
    @property
    def length_m(self) -> float | None: ...
    @property
    def fuse_a(self) -> float | None: ...


class _EarthLead(Protocol):
    @property
    def cable(self) -> _Cable: ...
    @property
    def length_m(self) -> float | None: ...


class _Fed(Protocol):
    @property
    def is_later(self) -> bool: ...
    @property
    def branch(self) -> _Run | None: ...
    @property
    def earth(self) -> _EarthLead | None: ...


class _Tree(Protocol):
    @property
    def main(self) -> _Run: ...
    @property
    def fed(self) -> Sequence[_Fed]: ...


def _tree(plan: Plan) -> _Tree | None:
    return getattr(plan, "power", None)


def power_of(
    plan: Plan,
    amplifiers: Sequence[str],
    later: Sequence[str],
    relays: Sequence[str],
    *,
    taps: bool,
) -> Power:
    """Return the power tree.

    amplifiers, later : the keys of those that are put in now and later, in their order
    relays : the keys of the amplifiers whose supply a relay switches
    taps : the relay of the remote lead takes its own supply here
    """
    tree = _tree(plan)
    has_block = len(amplifiers) + len(later) > 1
    runs = [fed.branch for fed in tree.fed] if tree is not None else []
    branches = [Branch(end=f"{RELAY}.30", fuse=_TAP_FUSE if has_block else "")] if taps else []
    for at, key in enumerate((*amplifiers, *later)):
        run = runs[at] if at < len(runs) else None
        end = f"{RELAY}-{key}.30" if key in relays else f"{key}.{SUPPLY}"
        is_later = key in later
        if not has_block:
            branches.append(Branch(end=end, words="from main fuse"))
        elif run is None:
            fuse = "" if is_later else "?\u202fA"
            branches.append(Branch(end=end, fuse=fuse, words=OPEN, is_later=is_later))
        else:
            fuse = "" if is_later or run.fuse_a is None else quantity(run.fuse_a, "A")
            words = sized(run.cable.laid, run.length_m)
            branches.append(Branch(end=end, fuse=fuse, words=words, is_later=is_later))
    main, fuse = _main(plan, tree)
    return Power(
        battery=_battery(plan),
        fuse=fuse,
        fuse_where=_WITHIN,
        main=main,
        branches=tuple(branches),
        has_block=has_block,
    )


def _battery(plan: Plan) -> tuple[str, ...]:
    system = plan.job.system
    battery = system.charging.battery_ah
    under = ("under bonnet,",) if system.leads.engine_space else ()
    return (*under, *((quantity(battery, "Ah"),) if battery is not None else ()))


def _main(plan: Plan, tree: _Tree | None) -> tuple[tuple[str, str], str]:
    """Return size and length of the main run, and the main fuse."""
    metal = Figures(plan, (), None, {}).metal
    if tree is not None:
        size, length_m, fuse_a = tree.main.cable.laid, tree.main.length_m, tree.main.fuse_a
    else:
        cable = result_of(plan, "power-cable")
        kit = None if cable is None else cable.kit or cable.chosen.offer
        size = None if kit is None else kit.size.name
        length_m = plan.job.system.leads.power_m
        fuse_a = None if cable is None else cable.fuse.rating_a
    fuse = "rating open" if fuse_a is None else quantity(fuse_a, "A")
    return ((size or OPEN).replace(" ", "\u202f"), f"{metres(length_m)}, {metal}"), fuse


def earths_of(plan: Plan, amplifiers: Sequence[str]) -> tuple[Earth, ...]:
    """Return the earth leads: of several amplifiers to one point, or by cable to the battery."""
    tree, leads = _tree(plan), plan.job.system.leads
    main = _main(plan, tree)[0][0]
    made = []
    for at, key in enumerate(amplifiers):
        earth = tree.fed[at].earth if tree is not None else None
        if earth is not None:
            words = sized(earth.cable.laid, earth.length_m)
        elif leads.return_ == "cable":
            words = main if len(amplifiers) == 1 else "as its +\u202f12\u202fV"
        else:
            size = main if len(amplifiers) == 1 else OPEN
            words = f"{size}, {metres(leads.earth_m)}"
        by_cable = leads.return_ == "cable"
        point = "one" if len(amplifiers) > 1 else ""
        made.append(Earth(start=f"{key}.{GROUND}", words=words, point=point, by_cable=by_cable))
    return tuple(made)
