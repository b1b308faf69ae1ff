"""Sets of amplifiers on one power tree, and what the rules ask of their cables, written again."""

from itertools import product

from cable_systems import OHM_KM, at_most, permitted_of, rating_of

from calc.cabling.sizing import Rules
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.layouts.feeds import Job
from calc.choosing.power_tree import tree_of
from calc.choosing.questions.power import power_question
from calc.choosing.questions.sets import TreeLoad
from calc.inputs.declared import replaced
from calc.system.amplifier import Amplifier
from calc.system.files.system_file import empty_system

EMPTY = FIT_PLAN.build(FIT_PLAN.form.read(empty_system())).planned.system
NEAR = {"power_m": 4.0, "branch_m": 0.5, "earth_m": 0.5, "engine_space": False}
USUAL = {"d": 80, "ab": 55, None: 50}  # % at rated power
WARM = 1 + 0.00393 * 30


def job_of(**leads):
    return Job(replaced(EMPTY, {**NEAR, **leads}))


def load(name, watts, kind="d", *, later=False, **told):
    amplifier = Amplifier(name=name, amplifier_class=kind, **told)
    return TreeLoad(amplifier=amplifier, total_w=watts, is_later=later)


def asked(job, *loads):
    """The question, and the tree that its answer gives."""
    question = power_question(job, loads)
    return question, tree_of(job, loads, question)


def current_of(one):
    """ΣP/(η·V) of one amplifier at 14.4 V, with its own efficiency or that of its class."""
    percent = one.amplifier.efficiency_percent or USUAL[one.amplifier.amplifier_class]
    return one.total_w / (percent / 100 * 14.4)


def least_volumes(loads, *, power_m, branch_m, earth_m, limit_v=0.5):
    """Every choice of listed sizes that keeps the rules, as (mm²·m, areas), the least first."""
    currents = [current_of(one) for one in loads]
    total = sum(currents)
    lengths = [1.1 * power_m, *(1.1 * (branch_m + earth_m) for _ in loads)]
    through = [total, *currents]
    fuses = [rating_of(ampere) for ampere in through]
    rules = Rules()
    fitting = [
        [area for area in OHM_KM["metric"] if at_most(max(ampere, fuse), permitted_of(area, rules))]
        for ampere, fuse in zip(through, fuses, strict=True)
    ]
    found = []
    for areas in product(*fitting):
        lost = [
            ampere * OHM_KM["metric"][area] / 1000 * WARM * length
            for ampere, area, length in zip(through, areas, lengths, strict=True)
        ]
        if at_most(0.002 * total + lost[0] + max(lost[1:]), limit_v):
            volume = sum(area * length for area, length in zip(areas, lengths, strict=True))
            found.append((volume, areas))
    return sorted(found)


def volume_of(tree, *, power_m, branch_m, earth_m):
    """The conductor of a tree, earths included [mm²·m]."""
    areas = [run.cable.size_mm2 for run in (tree.main, *tree.branches)]
    lengths = [1.1 * power_m, *(1.1 * (branch_m + earth_m) for _ in tree.branches)]
    return sum(area * length for area, length in zip(areas, lengths, strict=True))
