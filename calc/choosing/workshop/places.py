"""Where the outputs of a plan are: which amplifier, which of its own channels, which lead."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc.answers.kit import KitLine
from calc.bridging.mapping import Output, Use
from calc.choosing.layouts.channels import Channel, output_names
from calc.choosing.layouts.feed import Feed
from calc.choosing.plan import Plan
from calc.choosing.questions.kit import lead_ends


@dataclass(frozen=True, kw_only=True)
class Place:
    """An output of the plan with its row of the channel table.

    name : of the output, as readings have it
    ends : of its leads, as the kit list has them; two where pairs are joined
    amplifier : its amplifier's name
    own : its channels as they are numbered on that amplifier
    """

    channel: Channel
    feed: Feed
    use: Use
    output: Output
    name: str
    ends: tuple[str, ...]
    amplifier: str
    own: Output

    @property
    def is_subwoofer(self) -> bool:
        """Whether a subwoofer hangs on it."""
        return self.feed.section == "woofer"

    @property
    def has_set(self) -> bool:
        """Whether a set hangs on it that has a crossover of its own."""
        return any(load.kind == "set" for load in self.channel.loads)

    @property
    def has_network(self) -> bool:
        """Whether a passive crossover of the reader's own stands before its speakers."""
        return any(made.box == "passive" for made in self.channel.filters)

    @property
    def is_bridged(self) -> bool:
        """Whether it is a bridged pair."""
        return len(self.output) == 2


def places_of(plan: Plan) -> tuple[Place, ...]:
    """Return every output in the order of the table; none where nothing may be connected."""
    layout = plan.candidate.layout
    if layout is None:
        return ()
    rows = {row.through: row for row in plan.channels}
    found = [
        Place(
            channel=rows[output], feed=feed, use=use, output=output, name=name,
            ends=tuple(lead_ends(feed, use, at)), amplifier=rows[output].amplifier,
            own=own_place(plan, output),
        )
        for feed, _, use in layout.uses
        for at, (name, output) in enumerate(
            zip(output_names(feed, use), use.outputs, strict=True)
        )
        if output in rows
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda each: each.output))


def own_place(plan: Plan, output: Output) -> Output:
    """Return an output as its amplifier numbers it."""
    return plan.candidate.installed.part_of(output).own(output)


def amplifiers_of(plan: Plan) -> tuple[str, ...]:
    """Return the names of the amplifiers of a plan, in their order."""
    return tuple(part.name for part in plan.candidate.parts)


def found[R](plan: Plan, kind: type[R]) -> Iterator[R]:
    """Yield the results of one calculator, known by their class, in the order of the job."""
    for question in plan.questions:
        if isinstance(question.result, kind):
            yield question.result


def kit_lines(plan: Plan) -> tuple[KitLine, ...]:
    """Return what is to be bought; empty where there is no kit list."""
    answers = (question.answer for question in plan.questions)
    return next((answer.sheet.kit for answer in answers if answer and answer.sheet.kit), ())


def kit_missing(plan: Plan) -> list[str]:
    """Return what the kit list still lacks, in words."""
    for question in plan.questions:
        if question.calculator.name == "kit-list" and question.answer is not None:
            lacking = question.answer.sheet.results["missing"]
            return [str(what) for what in lacking] if isinstance(lacking, list) else []
    return []


def spaced(terminal: str) -> str:
    """Write a terminal as it is read: the sign parted from the number.

    >>> spaced("3+"), spaced("1a-")
    ('3\\u202f+', '1a\\u202f−')
    """
    return f"{terminal[:-1]}\u202f{'+' if terminal.endswith('+') else '−'}"


def outputs_text(own: Output) -> str:
    """Write an output's own channels: `1`, or `3 + 4` for a bridged pair."""
    return "\u202f+\u202f".join(map(str, own))
