"""What a plan asks of the chapter on bridging: channels, and what bridged pairs give."""

from calc.bridging import bridged_output, channel_map
from calc.bridging.mapping import Output, Use
from calc.choosing.installed import Part
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
from calc.choosing.layouts.wirings import Wiring
from calc.choosing.questions.question import Known, Question, worked_out
from calc.choosing.questions.sources import from_amplifier, from_system
from calc.physics.channel_power import CTA_2006_V
from calc.system.amplifier import Amplifier

MapQuestion = Question[channel_map.Inputs, channel_map.Result]
BridgedQuestion = Question[bridged_output.Inputs, bridged_output.Result]

_PLATE = (
    "power_4ohm_w", "power_2ohm_w", "power_8ohm_w", "rated_bridged_w", "min_channel_ohm",
    "regulated_min_v",
)  # fmt: skip


def _plate(job: Job, amplifier: Amplifier) -> dict[str, Known]:
    """Return the figures of the plate and of the supply."""
    figures = {key: from_amplifier(amplifier, key) for key in (*_PLATE, "rated_v", "regulated")}
    if amplifier.rated_v is None:
        figures["rated_v"] = Known(
            CTA_2006_V, "CTA-2006 conditions, where the spec sheet does not say"
        )
    if amplifier.regulated is None:
        figures["regulated"] = Known(False, "not known: treated as unregulated")
    return {**figures, "supply_v": from_system(job, "running_v")}


def map_question(layout: Layout, part: Part) -> MapQuestion:
    """Ask for the channels of every section on an amplifier, at the wirings chosen."""
    uses = [one for one in layout.uses if part.has(one[2].outputs[0])]
    sections = tuple(
        channel_map.SectionRow(
            section=feed.section,
            load_ohm=wiring.load_ohm,
            rated_w=wiring.section(feed).rated_w,
            sensitivity_db=wiring.section(feed).sensitivity_db,
            speakers=_units(wiring, use, part),
        )
        for feed, wiring, use in uses
    )
    fixed = tuple(
        channel_map.FixedOutputs(row=number, outputs=channel_map.outputs_text(_own(use, part)))
        for number, (_, _, use) in enumerate(uses, start=1)
    )
    amplifier = part.amplifier
    return Question(
        calculator=channel_map.CHANNEL_MAP,
        figures={
            "sections": Known(sections, "1 Speakers, with the chosen wiring"),
            "settled": Known(fixed, "worked out: the plan"),
            "channels": from_amplifier(amplifier, "channels"),
            **_plate(layout.job, amplifier),
        },
    )


def _own(use: Use, part: Part) -> tuple[Output, ...]:
    """Return those outputs of a use that are the amplifier's, as it numbers them."""
    return tuple(part.own(output) for output in use.outputs if part.has(output))


def _units(wiring: Wiring, use: Use, part: Part) -> int:
    """Return how many units of a feed hang on the amplifier; on several, that are alike, a part."""
    return wiring.units * len(_own(use, part)) // len(use.outputs)


def bridged_questions(layout: Layout, part: Part) -> list[BridgedQuestion]:
    """Ask for each feed on bridged pairs of an amplifier."""
    return [
        Question(
            calculator=bridged_output.BRIDGED_OUTPUT,
            about=feed.name,
            figures={
                **worked_out("worked out: channel map", load_ohm=use.load_ohm),
                **_plate(layout.job, part.amplifier),
            },
        )
        for feed, _, use in layout.uses
        if len(use.outputs[0]) == 2 and any(part.has(output) for output in use.outputs)
    ]
