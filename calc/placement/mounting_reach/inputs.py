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
from calc.parts.bay import PRACTICE, BayEdges, BaySize, Entry, FaceRooms, KeepOut, LeadKind
from calc.parts.body import LONGEST_NAME, Body, Name
from calc.physics.floor_plan import LEADS, Amplifier
from calc.placement.placing import MOST
from calc.placement.runs import Leg, NotARoute, runs

_MOST_KEEP_OUTS, _MOST_WAY_POINTS = 6, 16


@dataclass(frozen=True, kw_only=True)
class AmplifierRow:
    """An amplifier that is to stand in the bay."""

    name: Name
    body: Body

    @property
    def amplifier(self) -> Amplifier:
        """It, as the plan knows it."""
        return self.body.named(self.name)


@dataclass(frozen=True, kw_only=True)
class WayPoint:
    """A stretch of a lead's way to the bay."""

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
    """The bay, one or two choices of amplifiers for it, and the leads."""

    size: BaySize
    edges: BayEdges
    keep_outs: Annotated[
        tuple[KeepOut, ...],
        Rows(
            "In the way",
            row_name="keep-out",
            most=_MOST_KEEP_OUTS,
            ordered=True,
            example="360,340,90,80",
            hint="Brackets, bolts, looms, ducts, what is under the carpet: the corner at the front "
            "left, counted from the bay’s front left corner, and the size.",
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
            hint="The body alone, and what sits on each face as the amplifier lies with its front "
            "to you.",
        ),
    ]
    other_amplifiers: Annotated[
        tuple[AmplifierRow, ...],
        Rows(
            "Against these instead",
            row_name="amplifier",
            most=MOST,
            ordered=True,
            hint="Another choice for the same bay, held beside the first: one large amplifier "
            "against two compact ones.",
        ),
    ] = ()
    masses_kg: Annotated[
        tuple[float, ...] | None,
        Numbers(
            "Masses of the amplifiers",
            most=MOST,
            each=Number("mass", key="mass_kg", default="3", low=0.05, high=50),
            hint="In the order of the amplifiers, parted by ‘;’.",
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
            hint="The point at which each kind of lead comes into the bay. Leads inside it are "
            "kept short.",
        ),
    ] = ()
    way_points: Annotated[
        tuple[WayPoint, ...],
        Rows(
            "Ways to the bay",
            row_name="stretch",
            most=_MOST_WAY_POINTS,
            ordered=True,
            example="power,battery,sill,1.2;power,sill,bay,1.8;signal,head unit,tunnel,1.2;"
            "signal,tunnel,bay,4.3;speaker,bay,sill,1.4;speaker,sill,left door,2.3;"
            "speaker,sill,right door,3.6;speaker,bay,woofers,1.2",
            hint="Stretch by stretch along the way that the lead takes, round every corner. "
            "Stretches with the same lead join where the names are the same.",
        ),
    ] = ()
    slack_percent: Annotated[
        float,
        Number("Slack", low=0, high=100, source=PRACTICE, hint="Added to every run when buying."),
    ] = 10.0
    board_mm: Annotated[
        float,
        Number(
            "Boards of a false floor",
            low=0,
            high=50,
            source=PRACTICE,
            hint="Thickness: one under the amplifiers, one above.",
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
        stand = "stands" if len(twice) == 1 else "stand"
        words = (
            f"{listed([shown(name) for name in twice])} {stand} there twice. Give each a name of "
            "its own."
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
        words = "A kind of lead comes in twice. Give one point for each kind."
        yield _problem("entries", entries, words)


def masses_are_those_of_the_amplifiers(
    *, masses_kg: tuple[float, ...] | None, amplifiers: tuple[AmplifierRow, ...]
) -> Iterator[Problem]:
    """Yield masses that are not as many as the amplifiers."""
    if masses_kg and len(masses_kg) != len(amplifiers):
        words = f"{len(masses_kg)} of them for {len(amplifiers)} amplifiers. Give one for each."
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
    Group("The bay", tuple(fields_of(BaySize))),
    Group("Its edges", tuple(fields_of(BayEdges))),
    Group(
        "The amplifiers, and what is in the way",
        ("keep_outs", "amplifiers"),
        more=("other_amplifiers", "masses_kg", "board_mm"),
    ),
    Group("Rooms at the faces", tuple(fields_of(FaceRooms))),
    Group("The leads", (), more=("entries", "way_points", "slack_percent")),
)
