"""Where the outputs of a plan are: which amplifier, which of its own channels, which lead."""

from dataclasses import dataclass

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
    def with_crossover(self) -> tuple[str, ...]:
        """The speakers on it that a passive crossover stands before: of two pairs maybe one."""
        if self.feed.branches:
            return tuple(load.speaker for load in self.channel.loads if load.kind == "set")
        return (self.feed.name,) if self.has_set or self.has_network else ()

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
