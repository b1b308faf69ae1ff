"""The calculator `cable-tree`: one trunk with branches, sized for the least conductor."""

from collections.abc import Iterable, Mapping
from typing import Any

from calc.cabling.demand import Demand
from calc.cabling.drawings import tree_drawing
from calc.cabling.fields import (
    CABLE_CAUTIONS,
    CABLE_FIELDS,
    CABLE_GROUP,
    CLAD,
    DEMAND_FIELDS,
    DUTIES,
    DUTY_WORDS,
    FUSES,
    INVENTED,
    MATERIAL_WORDS,
    NO_TABLE,
    PERMITTED,
    RESISTANCE,
    check_idle,
    check_regulated,
    demand_of,
    fuse_current,
    rules_of,
)
from calc.cabling.optimum import Shortfall, least_conductor, shortfalls
from calc.cabling.sizing import Rules
from calc.cabling.tree import Load, NotATree, Plan, Run, Tree, separate
from calc.core.calculator import Calculator
from calc.core.errors import FieldError
from calc.core.fields import Number, Rows, Text
from calc.core.figures import quantity
from calc.core.sheet import Column, Figure, Quantity, Sheet, Table, Verdict

MOST_RUNS = 16  # more take seconds where many lie in series without a load between them
LONGEST_NAME = 24


def place_field(key: str, label: str, default: str) -> Text:
    """Return a field for the name of a place."""
    return Text(key=key, label=label, default=default, longest=LONGEST_NAME)


RUNS = Rows(
    key="runs", label="Runs", row_name="run", most=MOST_RUNS, source=INVENTED,
    default="battery,distribution,4.5;distribution,Hazel 4-50,0.5;distribution,Rowan 4-75,1.2",
    hint="A row for each cable; it starts where another ends, the first at the battery.",
    columns=(
        place_field("from", "from", "distribution"),
        place_field("to", "to", "amplifier"),
        Number(key="length_m", label="length", default="1", low=0, high=100),
    ),
)  # fmt: skip
LOADS = Rows(
    key="loads", label="Loads", row_name="load", most=12, source=INVENTED,
    default="Hazel 4-50,250;Rowan 4-75,370",
    hint="A row for each amplifier: the place it stands at, and its continuous power.",
    columns=(
        place_field("at", "at", "amplifier"),
        Number(key="power_w", label="power", default="250", low=1, high=20_000),
    ),
)  # fmt: skip


def load_of(given: Mapping[str, Any], at: str, power_w: float) -> Load:
    """Return what an amplifier of a power draws at a place."""
    demand = demand_of(given, power_w)
    return Load(at=at, ampere=demand.current(given["duty"]), full_a=fuse_current(given, power_w))


def tree_of(given: Mapping[str, Any]) -> Tree:
    """Return the tree that the read values describe; raises `NotATree`."""
    return Tree(
        runs=tuple(
            Run(start=row["from"], end=row["to"], length_m=row["length_m"]) for row in given["runs"]
        ),
        loads=tuple(load_of(given, row["at"], row["power_w"]) for row in given["loads"]),
    )


def cable_tree(given: Mapping[str, Any]) -> Sheet:
    """Compute `cable-tree`."""
    tree, rules = tree_of(given), rules_of(given)
    plan, apart = least_conductor(tree, rules), separate(tree, rules)
    in_the_way = shortfalls(tree, rules)
    return Sheet(
        sentence=_sentence(given, tree, plan, apart),
        verdict=_verdict(tree, rules, plan, in_the_way),
        results={
            "runs": _run_results(tree, plan),
            "loads": _load_results(given, plan),
            "copper_kg": plan.conductor_kg if plan else None,
            "separate": {
                "runs": _plan_runs(apart) if apart else [],
                "loads": _load_results(given, apart),
                "copper_kg": apart.conductor_kg if apart else None,
            },
            "blocked_by": [_shortfall_words(tree, rules, one) for one in in_the_way],
        },
        figures=_figures(plan, apart),
        drawings=(tree_drawing("Trunk and branches", tree, plan),) if plan else (),
        tables=(
            *((_runs_table("Trunk and branches: least conductor", plan),) if plan else ()),
            *((_loads_table(given, plan, apart),) if plan or apart else ()),
            *(
                (_runs_table("The same with a run of its own for each load", apart),)
                if apart
                else ()
            ),
        ),
        cautions=(
            *_dead_ends(tree),
            *((CLAD,) if given["material"] != "copper" else ()),
            "A branch without a fuse of its own is protected by the one before it. Whoever "
            "later lays a thinner cable there must add a fuse.",
            *CABLE_CAUTIONS,
        ),
        steps=_steps(given, tree, rules, plan),
        unknowns=(
            "Where the places are in the vehicle, and whether a distribution block fits there.",
            "The class of the amplifiers, unless it is given: class AB draws more at part power.",
            "Temperature, bundle and engine space count for every run alike.",
            "Offcuts, sheaths and joints: the mass is that of the positive conductors.",
        ),
        sources=(
            RESISTANCE,
            PERMITTED,
            FUSES,
            DUTIES,
            "Density: 8,890 kg/m³, IEC 60028; copper-clad aluminium by ASTM B566 (from memory).",
        ),
    )


def _run_results(tree: Tree, plan: Plan | None) -> list[dict[str, Any]]:
    if plan:
        return _plan_runs(plan)
    return [
        _run_data(run, ampere, None, None, None)
        for run, ampere in zip(tree.runs, tree.currents, strict=True)
    ]


def _run_data(
    run: Run, ampere: float, size: str | None, size_mm2: float | None, fuse_a: float | None
) -> dict[str, Any]:
    return {
        "from": run.start,
        "to": run.end,
        "length_m": run.length_m,
        "current_a": ampere,
        "size": size,
        "size_mm2": size_mm2,
        "fuse_a": fuse_a,
    }


def _plan_runs(plan: Plan) -> list[dict[str, Any]]:
    return [
        _run_data(run, ampere, offer.size.name, offer.size.area_mm2, fuse_a)
        | {"permitted_a": offer.permitted_a}
        for run, ampere, offer, fuse_a in zip(
            plan.runs, plan.currents, plan.offers, plan.fuses_a, strict=True
        )
    ]


def _load_results(given: Mapping[str, Any], plan: Plan | None) -> list[dict[str, Any]]:
    drops = plan.drops_v if plan else [None] * len(given["loads"])
    return [
        {"at": row["at"], "power_w": row["power_w"], "drop_v": drop}
        for row, drop in zip(given["loads"], drops, strict=True)
    ]


def _count(number: int, word: str) -> str:
    return f"{number} {word}" + ("s" if number != 1 else "")


def _sentence(given: Mapping[str, Any], tree: Tree, plan: Plan | None, apart: Plan | None) -> str:
    if plan is None:
        return "No choice of sizes feeds these loads within the rules."
    trunk = ", ".join(
        f"{plan.offers[at].size.words} from {tree.root} to {tree.runs[at].end} behind a fuse of "
        f"{quantity(plan.fuses_a[at], 'A')}"
        for at in tree.trunks[:2]
    )
    fuses = sum(1 for one in plan.fuses_a if one)
    mass = quantity(plan.conductor_kg, "kg", 3)
    beside = ""
    if apart:
        beside = f"; separate runs would take {quantity(apart.conductor_kg, 'kg', 3)}"
    return (
        f"Take {trunk}; in all {_count(fuses, 'fuse')} and {mass} of "
        f"{MATERIAL_WORDS[given['material']].split(',')[0]}{beside}."
    )


def _verdict(tree: Tree, rules: Rules, plan: Plan | None, in_the_way: list[Shortfall]) -> Verdict:
    if plan is None:
        if rules.offers[-1].permitted_a is None:
            return Verdict("not known", f"{NO_TABLE}.")
        return Verdict(
            "unsuitable", "; ".join(_shortfall_words(tree, rules, one) for one in in_the_way) + "."
        )
    worst = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
    return Verdict(
        "suitable",
        f"at most {quantity(plan.drops_v[worst], 'V', 3)} of {quantity(rules.max_drop_v, 'V')} are "
        f"lost, at {tree.loads[worst].at}; every fuse protects what lies behind it.",
    )


def _shortfall_words(tree: Tree, rules: Rules, one: Shortfall) -> str:
    thickest = rules.offers[-1]
    if one.kind == "drop":
        return (
            f"{tree.loads[one.index].at} loses {quantity(one.figure, 'V', 3)} even with "
            f"{thickest.size.words} throughout; shorten the way, permit more, or feed it separately"
        )
    run = tree.runs[one.index]
    if thickest.permitted_a is None:
        return f"{run.start} to {run.end}: no table for this insulation"
    what = "no listed fuse fits" if one.kind == "fuse" else "no size carries them"
    return (
        f"{run.start} to {run.end}: {quantity(one.figure, 'A', 3)} at full power, {what}; "
        "feed the loads by two runs"
    )


def _figures(plan: Plan | None, apart: Plan | None) -> tuple[Figure, ...]:
    if plan is None and apart is None:
        return ()
    return (
        Figure("Conductor, trunk and branches", Quantity(plan and plan.conductor_kg, "kg")),
        Figure("Conductor, separate runs", Quantity(apart and apart.conductor_kg, "kg")),
        Figure("Most lost on the way", Quantity(plan and max(plan.drops_v), "V")),
    )


def _runs_table(caption: str, plan: Plan) -> Table:
    return Table(
        caption=caption,
        columns=(
            Column("From"),
            Column("To"),
            Column("Length", "m"),
            Column("Current", "A"),
            Column("Size"),
            Column("May carry", "A"),
            Column("Fuse at its start"),
        ),
        rows=tuple(
            (
                run.start,
                run.end,
                Quantity(run.length_m),
                Quantity(ampere),
                offer.size.words,
                Quantity(offer.permitted_a),
                quantity(fuse_a, "A") if fuse_a else "the one before",
            )
            for run, ampere, offer, fuse_a in zip(
                plan.runs, plan.currents, plan.offers, plan.fuses_a, strict=True
            )
        ),
    )


def _loads_table(given: Mapping[str, Any], plan: Plan | None, apart: Plan | None) -> Table:
    drops = [one.drops_v if one else [None] * len(given["loads"]) for one in (plan, apart)]
    return Table(
        caption=f"What each load loses at {DUTY_WORDS[given['duty']]}",
        columns=(
            Column("At"),
            Column("Power", "W"),
            Column("Trunk and branches", "V", decimals=2),
            Column("Separate runs", "V", decimals=2),
        ),
        rows=tuple(
            (row["at"], Quantity(row["power_w"]), Quantity(one), Quantity(other))
            for row, one, other in zip(given["loads"], *drops, strict=True)
        ),
    )


def _dead_ends(tree: Tree) -> tuple[str, ...]:
    feeding = {at for path in tree.paths for at in path}
    idle = [run.end for at, run in enumerate(tree.runs) if at not in feeding]
    if not idle:
        return ()
    return (
        f"No load hangs on the run to {', '.join(idle)}: it is sized for nothing but its fuse. "
        "Give the load, or leave the run away.",
    )


def _steps(
    given: Mapping[str, Any], tree: Tree, rules: Rules, plan: Plan | None
) -> tuple[str, ...]:
    demand: Demand = demand_of(given, sum(row["power_w"] for row in given["loads"]), 0.0)
    steps = [
        f"All loads together draw {quantity(demand.full_a, 'A')} at full power and "
        f"{quantity(tree.total_a, 'A')} at {DUTY_WORDS[given['duty']]}; each run carries the sum "
        "of what hangs on it.",
        "Each run takes a size that may carry the smallest listed fuse for its own full current; "
        "that does not depend on other runs.",
        "Then the permitted drop is spent along the ways: of all choices of standard sizes that "
        "keep every load’s drop, the one with the least conductor is taken (an exact search).",
        "A fuse sits at the battery, and wherever a cable may carry less than the fuse before "
        "it lets through.",
    ]
    if plan is not None:
        far = max(range(len(plan.drops_v)), key=lambda at: plan.drops_v[at])
        parts = " + ".join(
            quantity(
                rules.run_drop(
                    plan.offers[at], ampere=plan.currents[at], length_m=plan.runs[at].length_m
                ),
                "V",
                3,
            )
            for at in tree.paths[far]
        )
        steps.append(
            f"{tree.loads[far].at}: {parts} along the way, and "
            f"{quantity(rules.body_drop(tree.total_a), 'V', 3)} in the body = "
            f"{quantity(plan.drops_v[far], 'V', 3)}."
        )
    return tuple(steps)


def check(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with inputs together."""
    errors = [*check_regulated(given)]
    labels = {one.key: one.label for one in (RUNS, LOADS)}
    loads = given.get("loads")
    if loads:
        errors += check_idle(given, min(row["power_w"] for row in loads))
    if given.get("runs") and loads:
        runs = tuple(
            Run(start=row["from"], end=row["to"], length_m=row["length_m"]) for row in given["runs"]
        )
        try:
            Tree(runs=runs, loads=tuple(Load(at=row["at"], ampere=0, full_a=0) for row in loads))
        except NotATree as wrong:
            errors.append(FieldError(wrong.field, "", f"{labels[wrong.field]}: {wrong}"))
    return errors


# Twelve runs: a trunk, a chain of blocks and loads on all of them.
_HEAVIEST = {
    "runs": ";".join(
        [
            "battery,a,3", "a,b,1.1", "b,c,0.9", "c,d,1.3", "d,e,0.7", "e,f,1.7",
            "a,1,0.5", "b,2,0.8", "c,3,0.6", "d,4,1.2", "e,5,0.4", "f,6,0.9",
        ]
    ),
    "loads": "1,120;2,90;3,210;4,75;5,160;6,140",
    "max_drop_v": "0.7",
    "sizes": "awg",
}  # fmt: skip

CABLE_TREE = Calculator(
    name="cable-tree",
    title="Trunk and branches",
    question="One big cable to the back and branches there, or a run for each amplifier?",
    fields=(RUNS, LOADS, *DEMAND_FIELDS, *CABLE_FIELDS),
    groups=(
        ("The runs", ("runs", "loads")),
        (
            "The amplifiers",
            (
                "efficiency_percent",
                "supply_v",
                "duty",
                "amplifier_class",
                "idle_w",
                "regulated_min_v",
            ),
        ),
        CABLE_GROUP,
    ),
    compute=cable_tree,
    check=check,
    heaviest=_HEAVIEST,
)
