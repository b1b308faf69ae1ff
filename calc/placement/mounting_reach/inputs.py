"""What `mounting-reach` asks."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from calc.answers.calculator import Group
from calc.answers.figures import listed
from calc.inputs.declared import fields_of
from calc.inputs.errors import shown
from calc.inputs.fields import Number, Numbers, Text
from calc.inputs.problems import Problem, verbatim
from calc.inputs.rows import Rows
from calc.parts.bay import BayEdges, BaySize, Entry, FaceRooms, KeepOut, LeadKind
from calc.parts.body import LONGEST_NAME, Body, Name
from calc.physics.floor_plan import LEADS, Amplifier
from calc.placement.placing import MOST
from calc.placement.runs import Leg, NotARoute, runs

_MOST_KEEP_OUTS, _MOST_WAY_POINTS = 6, 16


@dataclass(frozen=True, kw_only=True)
class AmplifierRow:
    """An amplifier that is to go into the mounting space."""

    name: Name
    body: Body

    @property
    def amplifier(self) -> Amplifier:
        """It, as the plan knows it."""
        return self.body.named(self.name)


@dataclass(frozen=True, kw_only=True)
class WayPoint:
    """A stretch of a cable route to the mounting space."""

    lead: LeadKind
    start: Annotated[
        str, Text("from", as_key="from", start="start", longest=LONGEST_NAME, numbered=True)
    ]
    end: Annotated[str, Text("to", as_key="to", start="end", longest=LONGEST_NAME, numbered=True)]
    length_m: Annotated[float, Number("length", low=0.01, high=100, start=1.0)]

    @property
    def leg(self) -> Leg:
        """It, as whole runs are made of it."""
        return Leg(self.lead, self.start, self.end, self.length_m)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The mounting space, one or two choices of amplifiers for it, and the leads."""

    size: BaySize
    edges: BayEdges
    keep_outs: Annotated[
        tuple[KeepOut, ...],
        Rows(
            "Obstacles",
            row_name="obstacle",
            most=_MOST_KEEP_OUTS,
            ordered=True,
            example="360,340,90,80",
            hint="Brackets, bolts, looms, ducts. Measure from the front left corner of the space "
            "to that of the obstacle, then its size.",
        ),
    ] = ()
    amplifiers: Annotated[
        tuple[AmplifierRow, ...],
        Rows(
            "Amplifiers",
            row_name="amplifier",
            most=MOST,
            ordered=True,
            example="Hazel 4-50,260,180,52,signal+controls,none,power+speaker,none,none;"
            "Linden 4-100 compact,210,110,46,none,signal+controls,none,power+speaker,none",
            hint="Without plugs, and what is on each side with its front towards you: signal for "
            "RCA inputs, fins for heatsink fins or a fan.",
        ),
    ]
    other_amplifiers: Annotated[
        tuple[AmplifierRow, ...],
        Rows(
            "Compare with",
            row_name="amplifier",
            most=MOST,
            ordered=True,
            hint="Another choice for the same space, for example two compact amplifiers instead of "
            "one large one.",
        ),
    ] = ()
    masses_kg: Annotated[
        tuple[float, ...] | None,
        Numbers(
            "Weight of each amplifier",
            most=MOST,
            each=Number("weight", key="mass_kg", default="3", low=0.05, high=50),
            hint="In kg, on the spec sheet. In the order of the amplifiers, separated by ‘;’.",
        ),
    ] = None
    rooms: FaceRooms
    entries: Annotated[
        tuple[Entry, ...],
        Rows(
            "Where leads come in",
            row_name="entry",
            most=len(LEADS),
            example="power,0,420;speaker,0,420;signal,800,0",
            hint="Where the power cable, the speaker cables and the RCA leads come into the space. "
            "The plan keeps them short.",
        ),
    ] = ()
    way_points: Annotated[
        tuple[WayPoint, ...],
        Rows(
            "Cable routes to the space",
            row_name="stretch",
            most=_MOST_WAY_POINTS,
            ordered=True,
            example="power,battery,sill,1.2;power,sill,load floor,1.8;"
            "signal,head unit,tunnel,1.2;signal,tunnel,load floor,4.3;"
            "speaker,load floor,sill,1.4;speaker,sill,left door,2.3;"
            "speaker,sill,right door,3.6;speaker,load floor,subs,1.2",
            hint="Measure stretch by stretch along the route, round every corner. Stretches of "
            "the same lead join up where the names match.",
        ),
    ] = ()
    slack_percent: Annotated[
        float,
        Number(
            "Slack", low=0, high=100, source="slack", hint="Added to every run when you buy cable."
        ),
    ] = 10.0
    board_mm: Annotated[
        float,
        Number(
            "Board thickness, false floor",
            low=0,
            high=50,
            source="false-floor",
            hint="One board under the amplifiers, one above.",
        ),
    ] = 12.0

    @property
    def slack(self) -> float:
        """What is added to every run, as a share."""
        return self.slack_percent / 100


def _problem(field: str, value: object, words: str) -> Problem:
    """Return what is wrong with all that a field was given."""
    text = fields_of(Inputs)[field].write(value)
    return Problem(field=field, given=text, words=verbatim(words))


def _same_names(field: str, rows: tuple[AmplifierRow, ...]) -> Iterator[Problem]:
    names = [row.name for row in rows]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        verb = "is" if len(twice) == 1 else "are"
        words = (
            f"{listed([shown(name) for name in twice])} {verb} there twice. Give each amplifier "
            "its own name."
        )
        yield _problem(field, rows, words)


def names_differ(*, amplifiers: tuple[AmplifierRow, ...]) -> Iterator[Problem]:
    """Yield names that two of the amplifiers have."""
    return _same_names("amplifiers", amplifiers)


def other_names_differ(*, other_amplifiers: tuple[AmplifierRow, ...]) -> Iterator[Problem]:
    """Yield names that two of the other choice have."""
    return _same_names("other_amplifiers", other_amplifiers)


def a_lead_comes_in_once(*, entries: tuple[Entry, ...]) -> Iterator[Problem]:
    """Yield a kind of lead with two points."""
    if len(entries) > len({row.lead for row in entries}):
        words = "One kind of lead comes in twice. Enter one point for each kind."
        yield _problem("entries", entries, words)


def masses_are_those_of_the_amplifiers(
    *, masses_kg: tuple[float, ...] | None, amplifiers: tuple[AmplifierRow, ...]
) -> Iterator[Problem]:
    """Yield masses that are not as many as the amplifiers."""
    if masses_kg and len(masses_kg) != len(amplifiers):
        amount = f"{len(masses_kg)} weight" + ("s" if len(masses_kg) > 1 else "")
        number = f"{len(amplifiers)} amplifier" + ("s" if len(amplifiers) > 1 else "")
        words = f"{amount} for {number}. Enter one for each, or none."
        yield _problem("masses_kg", masses_kg, words)


def ways_lead_somewhere(*, way_points: tuple[WayPoint, ...]) -> Iterator[Problem]:
    """Yield a way that runs in a ring, or doubles."""
    try:
        runs([row.leg for row in way_points], slack=0)
    except NotARoute as wrong:
        yield _problem("way_points", way_points, str(wrong))


CHECKS = (
    names_differ,
    other_names_differ,
    a_lead_comes_in_once,
    masses_are_those_of_the_amplifiers,
    ways_lead_somewhere,
)
FORM = (
    Group("The mounting space", tuple(fields_of(BaySize))),
    Group("Its edges", tuple(fields_of(BayEdges))),
    Group(
        "Obstacles and amplifiers",
        ("keep_outs", "amplifiers"),
        more=("other_amplifiers", "masses_kg", "board_mm"),
    ),
    Group("Clearances", (), more=tuple(fields_of(FaceRooms))),
    Group("Cables and leads", (), more=("entries", "way_points", "slack_percent")),
)
