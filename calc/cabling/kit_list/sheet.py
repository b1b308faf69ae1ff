"""What the answer of `kit-list` holds."""

from dataclasses import asdict

from calc.answers.calculator import Calculator
from calc.answers.figures import quantity
from calc.answers.sheet import Column, Figure, Quantity, Sheet, Table
from calc.cabling.kit_list.checks import CHECKS
from calc.cabling.kit_list.inputs import FORM, ORDER, Inputs
from calc.cabling.kit_list.items import items
from calc.cabling.kit_list.lines import Item, kit_lines, line_data
from calc.cabling.kit_list.solve import Result, solve
from calc.cabling.kit_list.words import judge, missing, sentence, steps
from calc.cabling.tree_drawing import tree_drawing
from calc.cabling.tree_words import dead_ends, main_fuse_note, own_fuses_caution
from calc.cabling.words import (
    CABLE_CAUTIONS,
    CLAD,
    DUTIES,
    FUSES,
    KIT_FUSE,
    KIT_METAL,
    LEAST_SIZE,
    PERMITTED,
    RESISTANCE,
    place_unknown,
)

_POWER_CABLES = ("power cable", "return cable", "earth cable")


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer."""
    job, power = result.job, result.power
    plan = power.plan if power else None
    note = _note(inputs, result)
    lacking, lines = missing(job), items(job, power, note)
    fuses = [line.quantity or 0 for line in lines if line.item == "fuse"]
    return Sheet(
        sentence=sentence(inputs, result),
        verdict=judge(inputs, result),
        results=data(result, lines, lacking, note),
        figures=(
            Figure("Fuses", Quantity(sum(fuses) if plan else None)),
            Figure("Power and earth cable", _length(lines, _POWER_CABLES)),
            Figure("Speaker lead", _length(lines, ("speaker lead, two conductors",))),
            Figure("Kit’s signal lead, to spare", Quantity(result.signal.spare_m, "m")),
        ),
        drawings=(tree_drawing("The power runs", power.tree, plan),) if power and plan else (),
        tables=(_items_table(inputs, lines),),
        kit=kit_lines(lines),
        cautions=(
            *((f"Not known yet: {'; '.join(lacking)}.",) if lacking else ()),
            *(dead_ends(power.tree) if power else ()),
            *(own_fuses_caution(inputs.draw, power.tree, plan) if power else ()),
            *((CLAD,) if inputs.cable.material != "copper" else (KIT_METAL,)),
            KIT_FUSE,
            "Fuse holders, terminals and blocks must be made for the cable’s size and for the "
            "fuse’s current; a loose crimp burns.",
            *CABLE_CAUTIONS,
        ),
        steps=steps(inputs),
        unknowns=(
            *place_unknown(inputs.cable),
            "How many pairs of signal leads the kit holds, and what they are worth.",
            "How many holes the routes pass: one grommet for each run from the battery at least.",
            "The bolts of battery and body, and the terminals of amplifier, block and speakers: "
            "look before you buy terminals.",
            "Which loom adapter this vehicle takes, and what the board needs beneath it.",
        ),
        sources=(
            RESISTANCE,
            PERMITTED,
            LEAST_SIZE,
            FUSES,
            DUTIES,
            "Cable kits bring signal leads of 5 m as a rule, and a fuse of 60 A; earth leads of "
            "0.5 m; 5 % of a subwoofer’s power: common practice, no source.",
            "A head unit’s remote terminal gives 0.3 A, an amplifier’s takes 10 to 50 mA: common "
            "practice, from memory.",
        ),
    )


def data(
    result: Result, lines: tuple[Item, ...], lacking: list[str], note: str | None
) -> dict[str, object]:
    """Return the results of the contract."""
    return {
        "items": [
            line_data(line, numbered)
            for line, numbered in zip(lines, kit_lines(lines), strict=True)
        ],
        "kit_signal": asdict(result.signal),
        "missing": lacking,
        "drops": _drops(result),
        "speaker_leads": [
            {
                "to": lead.end,
                "size": lead.size and lead.size.name,
                "size_mm2": lead.size and lead.size.area_mm2,
                "length_m": lead.length_m,
                "ohm": lead.ohm,
            }
            for lead in result.leads
        ],
        "fuse_note": note,
    }


def _note(inputs: Inputs, result: Result) -> str | None:
    """Say what the main fuse follows; None where no size is told."""
    power = result.power
    if power is None or power.plan is None:
        return None
    return main_fuse_note(inputs, power.tree, power.main_fuse)


def _length(lines: tuple[Item, ...], words: tuple[str, ...]) -> Quantity:
    """Return the length of all leads of these kinds; None where one is not known."""
    lengths = [
        None if line.length_m is None or line.quantity is None else line.quantity * line.length_m
        for line in lines
        if line.item in words
    ]
    known = [length_m for length_m in lengths if length_m is not None]
    return Quantity(sum(known) if len(known) == len(lengths) else None, "m")


def _drops(result: Result) -> list[dict[str, object]]:
    """Return what each amplifier loses on its way: with the least sizes, and with those bought."""
    power = result.power
    lost: dict[str, dict[str, object]] = {}
    if power is not None and power.plan is not None:
        full = power.kit.full_drops_v or (None,) * len(power.tree.loads)
        for load, drop_v, kit_drop_v in zip(
            power.tree.loads, power.plan.drops_v, full, strict=True
        ):
            lost[load.at] = {"drop_v": drop_v, "kit_drop_v": kit_drop_v}
    nothing = {"drop_v": None, "kit_drop_v": None}
    return [
        {"amplifier": amplifier.name, **lost.get(amplifier.name, nothing)}
        for amplifier in result.job.amplifiers
    ]


def _why(line: Item) -> str:
    """Say why a line is needed; of cable bought in another size also the least that does."""
    if line.kit_size is None or line.kit_size == line.size:
        return line.reason
    return f"{line.reason}; at least {line.size}"


def _items_table(inputs: Inputs, lines: tuple[Item, ...]) -> Table:
    return Table(
        name="kit",
        caption=f"Kit list; lengths with {quantity(inputs.leads.slack_percent, '%')} slack",
        columns=(
            Column("No."),
            Column("Item"),
            Column("How many"),
            Column("Size"),
            Column("Each", "m", decimals=1),
            Column("Why", wide=True),
            Column("Price"),
        ),
        rows=tuple(
            (
                numbered.number,
                line.item,
                "not known" if line.quantity is None else line.quantity,
                numbered.size or "not known",
                "–" if line.length_m is None else Quantity(line.length_m),
                _why(line),
                numbered,
            )
            for line, numbered in zip(lines, kit_lines(lines), strict=True)
        ),
    )


KIT_LIST = Calculator(
    name="kit-list",
    title="Kit list",
    question="What do I need to buy for this job, how much of it, and why?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)
