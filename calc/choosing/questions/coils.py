"""What a plan asks of the chapter on coils: how to wire them, and how to check it by a meter."""

from collections.abc import Collection

from calc.bridging.mapping import Output, Use
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.wirings import Wiring
from calc.choosing.questions.question import Known, Question, worked_out
from calc.coils import coil_wiring, meter_check

CoilQuestion = Question[coil_wiring.Inputs, coil_wiring.Result]
MeterQuestion = Question[meter_check.Inputs, meter_check.Result]


def coil_question(
    feed: Feed, wiring: Wiring, use: Use, *, is_reversed: bool = False
) -> CoilQuestion | None:
    """Ask how to wire the coils of each of a feed's outputs; None where there is one coil alone.

    is_reversed : the amplifier's + goes to the speakers' −
    """
    drivers = wiring.drivers * use.per_output
    coils = feed.speaker.coils
    if drivers * coils == 1:
        return None

    def of_speaker(key: str) -> Known:
        words = f"1 Speakers: {feed.name}"
        return Known(getattr(feed.speaker, key), words, ("speakers", feed.rows[0], key))

    return Question(
        calculator=coil_wiring.COIL_WIRING,
        about=feed.name,
        figures={
            "drivers": Known(drivers, "worked out: speakers on one output"),
            "coils_per_driver": of_speaker("coils"),
            "coil_ohm": of_speaker("coil_ohm"),
            **worked_out(
                "worked out: channel map",
                min_load_ohm=use.load_ohm,
                bridged=len(use.outputs[0]) == 2,
            ),
            "reversed": Known(is_reversed, "worked out: crossovers"),
            "power_w": Known(use.power.best, "worked out: channel map"),
        },
    )


def coil_questions(layout: Layout, reversed_outputs: Collection[Output] = ()) -> list[CoilQuestion]:
    """Ask how to wire the coils of each output that has more than one.

    reversed_outputs : those whose speakers are joined reversed
    """
    asked = (
        coil_question(feed, wiring, use, is_reversed=use.outputs[0] in reversed_outputs)
        for feed, wiring, use in layout.uses
    )
    return [question for question in asked if question is not None]


def meter_questions(layout: Layout) -> list[MeterQuestion]:
    """Ask about each circuit of coils that the plan has; the reading is the reader's."""
    questions: list[MeterQuestion] = []
    for wired in coil_questions(layout):
        if wired.result is None:
            continue
        shared = ("drivers", "coils_per_driver", "coil_ohm", "min_load_ohm")
        questions.append(
            Question(
                calculator=meter_check.METER_CHECK,
                about=wired.about,
                figures={
                    "intended": Known(
                        wired.result.shown.circuit.notation, "worked out: coil wiring"
                    ),
                    **{key: wired.figures[key] for key in shared},
                },
                no_part=("reading_ohm",),
            )
        )
    return questions
