"""The job that a system describes: which speakers hang on the same leads, and what they need."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from calc.core.errors import FieldError, shown
from calc.core.figures import rounded

Row = Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class Feed:
    """Speakers that hang on the same outputs: a row, or two with a passive network between.

    rows : the speakers' rows by number, the lowest band first; the first one's load, rating and
        sensitivity are those that the amplifier sees, the power to reach is the highest wished for
    section : the word of `channel-map`
    """

    rows: tuple[int, ...]
    section: str
    speaker: Row

    @property
    def name(self) -> str:
        """The name of its lowest speakers."""
        return self.speaker["name"]

    @property
    def count(self) -> int:
        """How many speakers of the lowest band."""
        return self.speaker["count"]

    @property
    def need_w(self) -> float | None:
        """The power [W] that one speaker must reach; None where none is wished for."""
        return self.speaker["need_w"]

    @property
    def may_join(self) -> bool:
        """Whether left and right may be one: below some 100 Hz one hardly hears from where."""
        return self.section == "woofer"

    @property
    def least_outputs(self) -> int:
        """The fewest outputs that keep left and right apart."""
        return 1 if self.may_join or self.count == 1 else 2

    def distance_m(self, speakers: Sequence[Row]) -> float | None:
        """Return how far it is [m]: of its highest band, by which one hears where it comes from.

        None where no distance is given.  Common practice, no source.
        """
        own = [speakers[row]["distance_m"] for row in reversed(self.rows)]
        return next((one for one in own if one is not None), None)


@dataclass(frozen=True)
class Job:
    """A system as read."""

    given: Mapping[str, Any]

    @property
    def speakers(self) -> Sequence[Row]:
        """The rows of speakers."""
        return self.given["speakers"]

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """The speakers by the outputs that they hang on: the highest band first, then by name.

        So the order of the rows decides nothing, and channels are numbered as a fitter would:
        tweeters before mid-basses, doors before the subwoofer.
        """
        at = {row["name"]: number for number, row in enumerate(self.speakers)}
        above_of = {
            at[one["below"]]: at[one["above"]]
            for one in self.given["networks"]
            if one["above"] is not None and one["below"] is not None
        }
        carried = set(above_of.values())
        found = []
        for number, row in enumerate(self.speakers):
            if number in carried:
                continue
            rows = [number]
            while rows[-1] in above_of:
                rows.append(above_of[rows[-1]])
            section = "full-range" if len(rows) > 1 else row["section"]
            needs = [self.speakers[at]["need_w"] for at in rows]
            need = max((one for one in needs if one is not None), default=None)
            speaker = {**row, "need_w": need}
            found.append(Feed(rows=tuple(rows), section=section, speaker=speaker))
        return tuple(sorted(found, key=lambda one: (-_order(one.speaker), one.name)))

    def feed_of(self, row: int) -> int:
        """Return the number of the feed that a row of speakers belongs to."""
        return next(at for at, feed in enumerate(self.feeds) if row in feed.rows)

    @property
    def has_delays(self) -> bool:
        """Whether a processor makes up for the distances, all of which are known."""
        return self.given["kind"] == "processor" and all(
            feed.distance_m(self.speakers) is not None for feed in self.feeds
        )

    @property
    def questions(self) -> tuple[str, ...]:
        """What is to be found out about the subwoofers' boxes."""
        found = []
        for row in self.speakers:
            if row["section"] != "woofer":
                continue
            if row["enclosure"] in (None, "not-known"):
                found.append(
                    f"Is the box of {row['name']} sealed or ported? A ported one wants a subsonic "
                    "filter at or below its tuning; until that is known none is set."
                )
            elif row["enclosure"] == "ported" and row["tuning_hz"] is None:
                found.append(
                    f"The tuning of the ported box of {row['name']}: below it the port no longer "
                    "controls the cone. Until it is known no subsonic filter is set: keep bass "
                    "boost off."
                )
        return tuple(found)

    @cached_property
    def notices(self) -> tuple[str, ...]:
        """What plays no part, and is no error."""
        fed = {row["output"] for row in self.speakers}
        unused = dict.fromkeys(
            row["output"] for row in self.given["head_filters"] if row["output"] not in fed
        )
        dropped = [
            f"{row['name']}: a tuning belongs to a ported box; it plays no part."
            for row in self.speakers
            if row["tuning_hz"] is not None and row["enclosure"] != "ported"
        ]
        return (
            *(
                f"The head unit’s output “{one}” feeds no speaker here: its filters play no part."
                for one in unused
            ),
            *dropped,
        )


def check_job(given: Mapping[str, Any]) -> Iterable[FieldError]:
    """Return what is wrong with the rows of a system together."""
    if not {"speakers", "networks", "head_filters"} <= given.keys():
        return
    speakers = given["speakers"]
    names = [row["name"] for row in speakers]
    for at, name in enumerate(names):
        if name in names[:at]:
            message = (
                f"Row {at + 1}: there are two ‘{shown(name)}’. Give each row a name of its own."
            )
            yield _wrong("speakers", at + 1, name, message)
    for at, row in enumerate(speakers, start=1):
        if row["need_w"] is not None and row["need_w"] > row["rated_w"]:
            yield _wrong(
                "speakers", at, row["name"],
                f"Row {at}: {rounded(row['need_w'])} W to reach are more than its rating, "
                f"{rounded(row['rated_w'])} W. Give the rating at most.",
            )  # fmt: skip
        if row["coils"] * row["count"] > 32:
            message = f"Row {at}: more than 32 coils. Give fewer."
            yield _wrong("speakers", at, row["name"], message)
    yield from _wrong_networks(given["networks"], speakers)


def _wrong_networks(networks: Sequence[Row], speakers: Sequence[Row]) -> Iterable[FieldError]:
    by_name = {row["name"]: row for row in speakers}
    used: set[tuple[str, str]] = set()
    for at, row in enumerate(networks, start=1):
        ends = [(side, row[side]) for side in ("above", "below") if row[side] is not None]
        where = " – ".join(str(name) for _, name in ends)
        if not ends:
            message = f"Row {at}: no speaker is named. Give one or two names."
            yield _wrong("networks", at, "", message)
        for end in ends:
            if end[1] not in by_name:
                yield _wrong(
                    "networks", at, end[1],
                    f"Row {at}: there is no speaker ‘{shown(end[1])}’. Give a name that stands "
                    "with the speakers.",
                )  # fmt: skip
            elif end in used:
                yield _wrong(
                    "networks", at, end[1],
                    f"Row {at}: ‘{shown(end[1])}’ has a network on this side already. Give one.",
                )  # fmt: skip
            used.add(end)
        both = [by_name[name] for _, name in ends if name in by_name]
        if len(both) < 2:
            continue
        if both[0]["name"] == both[1]["name"] or _order(both[0]) <= _order(both[1]):
            yield _wrong(
                "networks", at, where,
                f"Row {at}: the speaker above must play a higher band than the one below. Give "
                "them the other way round.",
            )  # fmt: skip
        elif both[0]["count"] != both[1]["count"] or both[0]["output"] != both[1]["output"]:
            yield _wrong(
                "networks", at, where,
                f"Row {at}: speakers on one network are as many, and on one head-unit output. "
                "Give both the same.",
            )  # fmt: skip


_BANDS = ("woofer", "full-range", "mid-bass", "midrange", "tweeter")


def _order(row: Row) -> int:
    return _BANDS.index(row["section"])


def _wrong(key: str, row: int, given: object, message: str) -> FieldError:
    labels = {
        "speakers": "Speakers", "networks": "Passive networks",
        "head_filters": "Head unit’s filters",
    }  # fmt: skip
    return FieldError(key, shown(given or ""), f"{labels[key]}: {message}", row=row)
