"""The job that a system describes: which speakers hang on the same leads, and what they need."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.answers.figures import capital, rounded
from calc.answers.sheet import State
from calc.choosing.installed import MOST_INSTALLED
from calc.choosing.layouts.feed import Feed
from calc.choosing.layouts.sharing import APART, Sharing, given_up, shared, sharings
from calc.choosing.layouts.short_names import short_names
from calc.crossovers.filter_split import FRAGILE
from calc.inputs.declared import values_of
from calc.inputs.errors import shown
from calc.inputs.field_base import Value
from calc.inputs.problems import Problem
from calc.system.amplifier import Amplifier
from calc.system.speakers import HeadFilter, Network, Speaker, SpeakerRow
from calc.system.system import System
from calc.system.usual import FACTORY_W, Assumed, speakers_of, system_of

FilterFound = tuple[State, str, tuple[str, ...]]
"""A verdict on filters, what there is, and what to ask for."""


@dataclass(frozen=True)
class Job:
    """A system with what follows from it.

    given : as it is told; changes of it are tried on this
    sharing : which pairs share an output, or stay on the radio's own power
    """

    given: System
    sharing: Sharing = APART

    @cached_property
    def _completed(self) -> tuple[System, tuple[Assumed, ...]]:
        return system_of(self.given)

    @cached_property
    def _speakers(self) -> tuple[tuple[Speaker, ...], tuple[Assumed, ...]]:
        return speakers_of(self.given.speakers)

    @property
    def system(self) -> System:
        """The system with usual figures where none are told."""
        return self._completed[0]

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """The usual figures that were taken of it."""
        return (*self._speakers[1], *self._completed[1])

    @cached_property
    def values(self) -> Mapping[str, Value]:
        """The figures of the system by the keys of their fields."""
        return values_of(self.system)

    @cached_property
    def speakers(self) -> tuple[Speaker, ...]:
        """The rows of speakers, each with a name and usual figures where none are told.

        Where two pairs are joined, that at the front stands for both.
        """
        if self.sharing.joined is None:
            return self._speakers[0]
        rows = list(self._speakers[0])
        for feed in self.feeds:
            if feed.branches:
                rows[feed.rows[0]] = feed.speaker
        return tuple(rows)

    @cached_property
    def rows_by_name(self) -> Mapping[str, int]:
        """The rows of speakers by their own names, joined or not."""
        return {speaker.name: row for row, speaker in enumerate(self._speakers[0])}

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """The speakers by the outputs that they hang on: the highest band first, then by name.

        So the order of the rows decides nothing, and channels are numbered as a fitter would:
        tweeters before mid-basses, doors before the subwoofer.
        """
        feeds = shared(self._apart, self.sharing)
        short = short_names(
            [feed.name for feed in feeds]
            + [branch.name for feed in feeds for branch in feed.branches]
        )
        return tuple(feed.called(short) for feed in feeds)

    @cached_property
    def _apart(self) -> tuple[Feed, ...]:
        """The feeds with every pair on outputs of its own."""
        speakers, at = self._speakers[0], self.rows_by_name
        above_of = {
            at[network.below]: at[network.above]
            for network in self.system.networks
            if network.above is not None and network.below is not None
        }
        carried = set(above_of.values())
        feeds = []
        for number, lowest in enumerate(speakers):
            if number in carried:
                continue
            rows = [number]
            while rows[-1] in above_of:
                rows.append(above_of[rows[-1]])
            section = "full-range" if len(rows) > 1 else lowest.section
            needs = [speakers[row].need_w for row in rows]
            need = max((watts for watts in needs if watts is not None), default=None)
            speaker = replace(lowest, need_w=need)
            is_rear = "rear" in (speaker.output or speaker.name).lower()
            first = (is_rear, speaker.name)
            feeds.append(
                Feed(rows=tuple(rows), section=section, speaker=speaker, front_first=first)
            )
        return tuple(sorted(feeds, key=lambda feed: (-_order(feed.speaker), feed.name)))

    @cached_property
    def outputs_words(self) -> str:
        """What has to be driven, in words."""
        return ", ".join(
            f"{feed.count} × {feed.name}" + ("" if feed.may_join else " apart")
            if feed.count > 1
            else feed.name
            for feed in self.feeds
        )

    @cached_property
    def _filtered(self) -> frozenset[int]:
        """The rows that have a passive filter to themselves, such as a capacitor."""
        names = (
            network.above or network.below
            for network in self.system.networks
            if network.above is None or network.below is None
        )
        return frozenset(self.rows_by_name[name] for name in names if name is not None)

    @cached_property
    def variants(self) -> "tuple[Job, ...]":
        """The job in every way to share outputs, every pair on its own first."""
        kind = self.system.head_unit.kind
        ways = sharings(self._apart, self._filtered, is_processor=kind == "processor")
        return tuple(replace(self, sharing=sharing) for sharing in ways)

    @property
    def on_radio(self) -> tuple[Feed, ...]:
        """The pairs that stay on the radio's own power."""
        return tuple(feed for feed in self._apart if feed.rows[0] == self.sharing.on_radio)

    def radio_w(self, feed: Feed) -> float:
        """Return the power [W] that the radio itself gives a speaker: its rating's voltage on it.

        A replacement radio is taken as a factory one: 18 W into 4 Ω (common practice, from memory).
        """
        head = self.system.head_unit
        rated_w = head.factory_power_w or float(FACTORY_W.value)
        return min(rated_w * head.factory_ohm / feed.speaker.parallel_ohm, rated_w)

    @property
    def gives_up(self) -> tuple[str, ...]:
        """What is given up by sharing, in words."""
        radio_w = next((self.radio_w(feed) for feed in self.on_radio), None)
        return tuple(given_up(self.sharing, self._apart, radio_w))

    @cached_property
    def found_filters(self) -> dict[Hashable, FilterFound]:
        """What was found of filters, by all that it depends on: amplifiers of a shelf share it."""
        return {}

    @property
    def least_outputs(self) -> int:
        """The fewest outputs that carry all feeds with left and right apart."""
        return sum(feed.least_outputs for feed in self.feeds)

    @cached_property
    def fewest_outputs(self) -> int:
        """The fewest outputs that carry all feeds, where pairs may share or stay on the radio."""
        return min(variant.least_outputs for variant in self.variants)

    def feed_of(self, row: int) -> int:
        """Return the number of the feed that a row of speakers belongs to."""
        return next(at for at, feed in enumerate(self.feeds) if row in feed.rows)

    @property
    def has_delays(self) -> bool:
        """Whether a processor makes up for the distances, all of which are known."""
        return self.system.head_unit.kind == "processor" and all(
            feed.distance_m(self.speakers) is not None for feed in self.feeds
        )

    @property
    def unguarded_rows(self) -> tuple[int, ...]:
        """The rows of speakers that burn out below a frequency that nobody told: of midranges.

        There is no usual one, and without it no high-pass can be chosen.
        """
        return tuple(
            row
            for row, speaker in enumerate(self.speakers)
            if speaker.section in FRAGILE and speaker.lowest_hz is None
        )

    @property
    def source_words(self) -> str:
        """What sends the signal and may filter it, in words."""
        return "DSP" if self.system.head_unit.kind == "processor" else "head unit"

    @property
    def has_dsp_filters(self) -> bool | None:
        """Whether a DSP has a high-pass and a low-pass on every output; None where nobody said.

        Where its filters are listed, these are all that it has.
        """
        head = self.system.head_unit
        if head.kind != "processor" or head.head_filters:
            return False
        return {"yes": True, "no": False}.get(head.filters_every_output or "")

    @property
    def has_place(self) -> bool:
        """Whether anything is told of the space for the amplifier; else it is not judged."""
        bay = self.system.bay
        return any(
            side is not None for side in (bay.bay_width_mm, bay.bay_depth_mm, bay.bay_height_mm)
        )

    @property
    def questions(self) -> tuple[str, ...]:
        """What is to be found out about speakers: how low, and about subwoofers' boxes."""
        questions = []
        for row in self.unguarded_rows:
            name = self.speakers[row].name
            questions.append(f"What is the lowest safe frequency of {name}? See the spec sheet.")
        for speaker in self.speakers:
            if speaker.section != "woofer":
                continue
            name = capital(speaker.name)
            if speaker.enclosure in (None, "not-known"):
                questions.append(
                    f"{name}: is the enclosure sealed or ported? A ported one needs a subsonic "
                    "filter at or below its tuning; until you know, no subsonic filter is set."
                )
            elif speaker.enclosure == "ported" and speaker.tuning_hz is None:
                questions.append(
                    f"{name}: what is the tuning of the ported enclosure? Below it the port no "
                    "longer controls the cone. Until you know, no subsonic filter is set: keep "
                    "the bass boost off."
                )
        return tuple(questions)

    @cached_property
    def notices(self) -> tuple[str, ...]:
        """What plays no part, and is no error."""
        fed = {speaker.output for speaker in self.speakers}
        filters = self.system.head_unit.head_filters
        unused = dict.fromkeys(made.output for made in filters if made.output not in fed)
        dropped = [
            f"{speaker.name}: the tuning was ignored, because the enclosure is not ported."
            for speaker in self.speakers
            if speaker.tuning_hz is not None and speaker.enclosure != "ported"
        ]
        space = "The mounting space was left empty, so it was not checked."
        return (
            *(() if self.has_place else (space,)),
            *(
                f"The head unit’s output “{output}” feeds no speaker here, so its filters were "
                "ignored."
                for output in unused
            ),
            *dropped,
        )


def speakers_go_together(
    *,
    speakers: tuple[SpeakerRow, ...],
    networks: tuple[Network, ...],
    head_filters: tuple[HeadFilter, ...],
) -> Iterator[Problem]:
    """Yield what is wrong with the rows of a system together."""
    completed, _ = speakers_of(speakers)
    names = [speaker.name for speaker in completed]
    for at, name in enumerate(names):
        if name in names[:at]:
            yield _wrong(
                "speakers",
                at + 1,
                name,
                (
                    f"Row {at + 1}: there are two speakers called ‘{shown(name)}’. Give each its "
                    "own name."
                ),
            )
    for at, speaker in enumerate(completed, start=1):
        if speaker.need_w is not None and speaker.need_w > speaker.rated_w:
            yield _wrong(
                "speakers",
                at,
                speaker.name,
                f"Row {at}: the power to reach, {rounded(speaker.need_w)} W, is above the "
                f"rating, {rounded(speaker.rated_w)} W. Enter {rounded(speaker.rated_w)} W or "
                "less, or leave it empty.",
            )
        if speaker.coils * speaker.count > 32:
            words = (
                f"Row {at}: more than 32 voice coils. Enter fewer speakers, or split them "
                "into two rows."
            )
            yield _wrong("speakers", at, speaker.name, words)
    if completed:  # without any, what stands between them waits for them
        yield from _wrong_networks(networks, completed)


def amplifiers_go_together(*, amplifier: tuple[Amplifier, ...]) -> Iterator[Problem]:
    """Yield what is wrong with the amplifiers together: at most three are installed."""
    installed = [at for at, each in enumerate(amplifier, start=1) if each.role != "candidate"]
    if len(installed) > MOST_INSTALLED:
        words = (
            f"Row {installed[MOST_INSTALLED]}: no more than {MOST_INSTALLED} amplifiers can be "
            "installed together, later ones included. Set the others to “compared”."
        )
        given = amplifier[installed[MOST_INSTALLED] - 1].name
        yield _wrong("amplifier", installed[MOST_INSTALLED], given, words)


def _wrong_networks(networks: Sequence[Network], speakers: Sequence[Speaker]) -> Iterable[Problem]:
    by_name = {speaker.name: speaker for speaker in speakers}
    used: set[tuple[str, str]] = set()
    for at, network in enumerate(networks, start=1):
        sides = (("above", network.above), ("below", network.below))
        ends = [(side, name) for side, name in sides if name is not None]
        if not ends:
            words = f"Row {at}: no speaker is named. Enter one or two names from the speaker list."
            yield _wrong("networks", at, "", words)
        for end in ends:
            if end[1] not in by_name:
                yield _wrong(
                    "networks",
                    at,
                    end[1],
                    f"Row {at}: there is no speaker called ‘{shown(end[1])}’. Enter a name "
                    "from the speaker list.",
                )
            elif end in used:
                yield _wrong(
                    "networks",
                    at,
                    end[1],
                    (
                        f"Row {at}: ‘{shown(end[1])}’ already has a passive crossover on this "
                        "side. Remove one of the two rows."
                    ),
                )
            used.add(end)
        both = [by_name[name] for _, name in ends if name in by_name]
        if len(both) == 2:
            yield from _wrong_pair(at, both[0], both[1], " – ".join(name for _, name in ends))


def _wrong_pair(at: int, above: Speaker, below: Speaker, where: str) -> Iterator[Problem]:
    if above.name == below.name or _order(above) <= _order(below):
        yield _wrong(
            "networks",
            at,
            where,
            f"Row {at}: the speaker above must play higher than the one below. Swap the two names.",
        )
    elif above.count != below.count or above.output != below.output:
        yield _wrong(
            "networks",
            at,
            where,
            f"Row {at}: the two speakers differ in number or in head-unit output. Enter the "
            "same for both.",
        )


_BANDS = ("woofer", "full-range", "mid-bass", "midrange", "tweeter")


def _order(speaker: Speaker) -> int:
    return _BANDS.index(speaker.section)


def _wrong(key: str, row: int, given: str, words: str) -> Problem:
    return Problem(field=key, given=given, words=words, row=row)
