"""The power tree of a plan for the drawing: battery, main run, branches, earths."""

from collections.abc import Sequence

from calc.answers.figures import quantity
from calc.cabling import power_cable
from calc.choosing.plan import Plan
from calc.choosing.power_tree import PowerRun
from calc.choosing.wired.figures import OPEN, metres, sized, written
from calc.choosing.wired.system import GROUND, SUPPLY, Branch, Earth, Power

_WITHIN = "max 450\u202fmm"  # from the battery's terminal; common practice, no source
_TAP_FUSE = "1\u202fA"  # of a relay's own supply, as the kit list has it
_OPEN_FUSE = "?\u202fA"
RELAY = "relay"


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
    tree = plan.power
    has_block = len(amplifiers) + len(later) > 1
    branches = [Branch(end=f"{RELAY}.30", fuse=_TAP_FUSE if has_block else "")] if taps else []
    for at, key in enumerate((*amplifiers, *later)):
        end = f"{RELAY}-{key}.30" if key in relays else f"{key}.{SUPPLY}"
        if has_block:
            run = tree.fed[at].branch if tree is not None else None
            branches.append(_branch(end, run, is_later=key in later))
        else:
            branches.append(Branch(end=end, words="from main fuse"))
    main, fuse = _main(plan)
    return Power(
        battery=_battery(plan),
        fuse=fuse,
        fuse_where=_WITHIN,
        main=main,
        branches=tuple(branches),
        has_block=has_block,
    )


def _branch(end: str, run: PowerRun | None, *, is_later: bool) -> Branch:
    if run is None:
        fuse, words = _OPEN_FUSE, OPEN
    else:
        fuse = "" if run.fuse_a is None else quantity(run.fuse_a, "A")
        words = sized(run.cable.laid, run.length_m)
    return Branch(end=end, fuse="" if is_later else fuse, words=words, is_later=is_later)


def _battery(plan: Plan) -> tuple[str, ...]:
    system = plan.job.system
    battery = system.charging.battery_ah
    under = ("under bonnet,",) if system.leads.engine_space else ()
    return (*under, *((quantity(battery, "Ah"),) if battery is not None else ()))


def _main(plan: Plan) -> tuple[tuple[str, str], str]:
    """Return size and length of the main run, and the main fuse."""
    tree, leads = plan.power, plan.job.system.leads
    size: str | None = None
    length_m, fuse_a = leads.power_m, None
    if tree is not None:
        size, length_m, fuse_a = tree.main.cable.laid, tree.main.length_m, tree.main.fuse_a
    else:
        results = [one.result for one in plan.questions]
        cable = next((one for one in results if isinstance(one, power_cable.Result)), None)
        if cable is not None:
            offer = cable.kit or cable.chosen.offer
            size = None if offer is None else offer.size.name
            fuse_a = cable.fuse.rating_a
    metal = "OFC" if leads.material == "copper" else "CCA"
    fuse = "rating open" if fuse_a is None else quantity(fuse_a, "A")
    return (written(size), f"{metres(length_m)}, {metal}"), fuse


def earths_of(plan: Plan, amplifiers: Sequence[str]) -> tuple[Earth, ...]:
    """Return the earth leads: of several amplifiers to one point, or by cable to the battery."""
    tree, leads = plan.power, plan.job.system.leads
    is_single, by_cable = len(amplifiers) == 1, leads.return_ == "cable"
    made = []
    for at, key in enumerate(amplifiers):
        earth = tree.fed[at].earth if tree is not None else None
        size = _main(plan)[0][0] if is_single else OPEN
        words = f"{size}, {metres(leads.power_m if by_cable else leads.earth_m)}"
        if earth is not None:
            words = sized(earth.cable.laid, earth.length_m)
        elif by_cable and not is_single:
            words = "as its +\u202f12\u202fV"
        point = "" if is_single else "one"
        made.append(Earth(start=f"{key}.{GROUND}", words=words, point=point, by_cable=by_cable))
    return tuple(made)
