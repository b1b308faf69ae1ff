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
    CLAD_KIT,
    KIT,
    RULES_WIN,
    RUN_SOURCES,
    five,
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
        sentence=sentence(inputs, result, speaker_cable(lines).value),
        verdict=judge(inputs, result),
        results=data(result, lines, lacking, note),
        figures=(
            Figure("Fuses", Quantity(sum(fuses) if plan else None)),
            Figure("Power and earth cable", _length(lines, _POWER_CABLES)),
            Figure("Speaker cable", speaker_cable(lines)),
            Figure("Spare on the kit’s RCA leads", Quantity(result.signal.spare_m, "m")),
        ),
        drawings=(tree_drawing("Power cable runs", power.tree, plan),) if power and plan else (),
        tables=(_items_table(inputs, lines),),
        kit=kit_lines(lines),
        cautions=five(
            dead_ends(power.tree) if power else (),
            own_fuses_caution(inputs.draw, power.tree, plan) if power else (),
            (KIT if inputs.cable.material == "copper" else CLAD_KIT, *CABLE_CAUTIONS),
            (
                "A loose crimp burns: buy fuse holders, terminals and blocks made for this cable "
                "size and for the fuse rating.",
            ),
        ),
        steps=steps(inputs),
        unknowns=(
            *((f"Not known yet: {'; '.join(lacking)}.",) if lacking else ()),
            *place_unknown(inputs.cable),
            "How many pairs of RCA leads the kit has, and how good they are.",
            "How many holes the cables go through: at least one grommet for each run from the "
            "battery.",
            "The bolts on the battery and body, and the terminals on the amplifier, block and "
            "speakers: look before you buy terminals.",
            "Which loom adapter fits this vehicle, and what goes under the board.",
            RULES_WIN,
        ),
        sources=(
            *RUN_SOURCES,
            "kit-contents",
            "slack",
            "half-decibel",
            "sub-cable",
            "remote-current",
            "tie-spacing",
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


def speaker_cable(lines: tuple[Item, ...]) -> Quantity:
    """Return the length of all speaker cable; None where one is not known."""
    return _length(lines, ("speaker cable, two-core",))


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
    return f"{line.reason}; minimum {line.size}"


def _items_table(inputs: Inputs, lines: tuple[Item, ...]) -> Table:
    return Table(
        name="kit",
        caption=f"Kit list; lengths with {quantity(inputs.leads.slack_percent, '%')} slack",
        columns=(
            Column("No."),
            Column("Item"),
            Column("Quantity"),
            Column("Size"),
            Column("Length of each", "m", decimals=1),
            Column("Where and what for", wide=True),
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
    title="What to buy",
    question="What do I need to buy for this job, and how much of it?",
    inputs=Inputs,
    groups=FORM,
    order=ORDER,
    checks=CHECKS,
    solve=solve,
    judge=judge,
    present=present,
)
