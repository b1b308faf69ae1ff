"""What a plan asks of the chapter on bridging: channels, and what bridged pairs give."""

from calc.bridging import bridged_output, channel_map
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
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
        figures["rated_v"] = Known(CTA_2006_V, "CTA-2006, where the plate is silent")
    if amplifier.regulated is None:
        figures["regulated"] = Known(False, "not known: taken as unregulated")
    return {**figures, "supply_v": from_system(job, "running_v")}


def map_question(layout: Layout, amplifier: Amplifier) -> MapQuestion:
    """Ask for the channels of every section, at the wirings chosen."""
    sections = tuple(
        channel_map.SectionRow(
            section=feed.section,
            load_ohm=wiring.load_ohm,
            rated_w=wiring.section(feed).rated_w,
            sensitivity_db=wiring.section(feed).sensitivity_db,
            speakers=wiring.units,
        )
        for feed, wiring, _ in layout.uses
    )
    fixed = tuple(
        channel_map.FixedOutputs(row=number, outputs=channel_map.outputs_text(use.outputs))
        for number, use in enumerate(layout.plan.uses, start=1)
    )
    return Question(
        calculator=channel_map.CHANNEL_MAP,
        figures={
            "sections": Known(sections, "1 Speakers, with the wiring chosen"),
            "settled": Known(fixed, "worked out: the plan"),
            "channels": from_amplifier(amplifier, "channels"),
            **_plate(layout.job, amplifier),
        },
    )


def bridged_questions(layout: Layout, amplifier: Amplifier) -> list[BridgedQuestion]:
    """Ask for each feed on bridged pairs."""
    return [
        Question(
            calculator=bridged_output.BRIDGED_OUTPUT,
            about=feed.name,
            figures={
                **worked_out("worked out: channel map", load_ohm=use.load_ohm),
                **_plate(layout.job, amplifier),
            },
        )
        for feed, _, use in layout.uses
        if len(use.outputs[0]) == 2
    ]
