"""The calculator `amplifier-choice`: a shelf list held against a whole system."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.figures import listed, rounded
from calc.answers.sheet import Column, Figure, Onward, Progress, Quantity, Sheet, Table, Verdict
from calc.choosing.checks import (
    CABLE,
    FILTERS,
    HEAT,
    PLACE,
    SIGNAL,
    SUPPLY,
    TURN_ON,
    WANTED,
    WISH_OF,
    Check,
)
from calc.choosing.choose import Candidate, Judge, Weights, rank, ranking
from calc.choosing.examples import STARTS, without_amplifier
from calc.choosing.fields import GROUPS, SYSTEM_FIELDS
from calc.choosing.job import Job, check_job
from calc.choosing.near import advised
from calc.choosing.shelf import SHELF
from calc.choosing.stream import Stream
from calc.choosing.system_file import read_system, write_briefly, write_system
from calc.inputs.errors import FieldError
from calc.inputs.fields import Number, Raw

PAGE = "plan/"
_MOST_SHOWN, _BESIDE = 12, 3  # the data has all
_MOST_WAITING = 40
_SYSTEM = tuple(one for one in SYSTEM_FIELDS if one.key != "amplifier")


def _weight(key: str, label: str, default: str, hint: str) -> Number:
    return Number(
        key=f"weight_{key}", label=label, default=default, low=0, high=10,
        presets=(0, 1, 3), hint=hint, source="our own choice",
    )  # fmt: skip


WEIGHTS = (
    _weight("power", "Power", "3", "The share of its rating that the worst-fed speaker gets."),
    _weight("wishes", "Wishes", "2", "The share of the wishes that is met."),
    _weight("room", "Small size", "1", "The share of the bay’s floor that is left."),
    _weight("draw", "Low draw", "1", "Efficiency at rated power."),
    _weight("price", "Low price", "0", "1 for nothing, a half at 250."),
)


def weights_of(given: Mapping[str, Any]) -> Weights:
    """Return the weights as read."""
    return Weights(**{one.key.removeprefix("weight_"): given[one.key] for one in WEIGHTS})


def amplifier_choice(given: Mapping[str, Any]) -> Sheet:
    """Compute `amplifier-choice` with the full search for every amplifier."""
    job, weights = Job(given), weights_of(given)
    found = [advised(Judge(job, one, weights)) for one in given["shelf"] or ()]
    return choice_sheet(found, given)


def choice_sheet(found: Sequence[Candidate], given: Mapping[str, Any]) -> Sheet:
    """Return the answer for candidates that were all judged."""
    if not found:
        return _empty_shelf(Job(given))
    ranked = ranking(found)
    fitting = [one for one in ranked if one.state == "suitable"]
    return Sheet(
        sentence=_sentence(ranked, fitting),
        verdict=_verdict(ranked, fitting),
        results={
            "rows": [row_data(one) for one in found],
            "ranking": [one.name for one in ranked],
        },
        figures=_counts(found),
        tables=(_ranking_table(ranked), *matrix_tables(ranked)),
        onward=tuple(
            Onward(
                f"The plan with {one.name}",
                PAGE,
                "fit-plan",
                _plan_inputs(one, given),
                is_alone=True,
            )
            for one in ranked[:3]
            if one.state != "unsuitable"
        ),
        cautions=(
            "A plan on paper is no approval: the amplifier’s manual, the vehicle maker’s rules "
            "and local law come first.",
            "A missing figure is not known, never a pass: look it up before you buy.",
            "Fuse within reach of the battery’s terminal on every positive cable, and never "
            "larger than the cable may carry.",
        ),
        steps=(
            "For each amplifier every wiring of the speakers’ coils, every grouping of its "
            "channels, every choice of outputs, the best split of the filters and the best place "
            "in the bay are tried; its best plan stands here.",
            "What would make an amplifier fit that fails one or two musts: changes are tried, and "
            "the whole search is made again with each.",
            "A plan is better with fewer musts that fail, the speakers’ powers first, then fewer "
            "that are not known, then more points.",
            "Points: each share from 0 to 1 times its weight. The weights are our own choice and "
            "can be changed.",
            "A power wish left empty is no must; 0.5 to 1.5 times a rating is usual (common "
            "practice, no source).",
        ),
        unknowns=(
            "How an amplifier sounds, how noisy it is, and how long it lasts.",
            "Whether the maker’s figures are right.",
            "What a shelf list leaves out.",
        ),
        sources=(
            "Each check is the verdict of the chapter’s calculator; its sources stand there.",
        ),
    )  # fmt: skip


def _counts(found: Sequence[Candidate]) -> tuple[Figure, ...]:
    states = (
        ("Suitable", "suitable"), ("Not known", "not known"), ("Unsuitable", "unsuitable"),
    )  # fmt: skip
    return tuple(
        Figure(label, Quantity(sum(one.state == state for one in found))) for label, state in states
    )


def _empty_shelf(job: Job) -> Sheet:
    """Return what an amplifier must bring, while there is none to hold against it."""
    return Sheet(
        sentence="Put in a shelf list: there is no amplifier yet to hold against this system.",
        verdict=Verdict("not known", "no amplifier is given; see below what it must bring."),
        results={"rows": [], "ranking": []},
        tables=(
            Table(
                caption="What an amplifier must bring",
                columns=(
                    Column("Speakers"), Column("How many"), Column("Power to reach, each", "W"),
                    Column("Rating, each", "W"), Column("Outputs, at least"),
                ),
                rows=tuple(
                    (
                        feed.name, feed.count, "no must" if feed.need_w is None else feed.need_w,
                        feed.speaker["rated_w"], feed.least_outputs,
                    )
                    for feed in job.feeds
                ),
            ),
            Table(
                caption="And besides",
                columns=(Column("Check"), Column("Needed", wide=True)),
                rows=tuple(_musts(job)),
            ),
        ),
        cautions=("A missing figure is not known, never a pass: look it up before you buy.",),
        unknowns=("Everything that depends on the amplifier.",),
        sources=(
            "A power wish left empty is no must; 0.5 to 1.5 times a rating is usual (common "
            "practice, no source).",
        ),
    )  # fmt: skip


def _musts(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each check that decides, with what is needed, before there is an amplifier."""
    given = job.given
    signal = "an input that takes the head unit’s signal"
    if given["source_v"] is not None:
        signal += f": {rounded(given['source_v'])} V at its line outputs"
    elif given["factory_power_w"] is not None:
        signal += ": its speaker leads, a high-level input"
    yield SIGNAL, signal
    turns_on = "a trigger terminal" if given["trigger_available"] == "yes" else "sensing"
    yield TURN_ON, f"a way to be turned on and off, such as {turns_on}"
    bay = [given[f"bay_{side}_mm"] for side in ("width", "depth", "height")]
    size = "" if None in bay else f" of {' × '.join(rounded(one) for one in bay)} mm"
    yield PLACE, f"room in the bay{size}, plugs, leads and air included"
    yield FILTERS, "what the head unit and passive networks do not make"
    if given["closed"]:
        yield HEAT, "little enough heat for a closed bay, and the air that its manual permits"
    yield CABLE, "its efficiency, idle draw and own fuses, to find cable and fuse by"
    yield SUPPLY, "no more than the alternator has left"
    for name, key in WISH_OF.items():
        if given[key] != "any":
            yield name if given[key] == "must" else f"{name} (a wish)", WANTED[name]


class ChoiceStream(Stream):
    """The choice in steps, each with a sheet."""

    def sheet(self, *, stopped: bool = False) -> Sheet:
        """Return the answer as far as it is known; the last one is the whole answer.

        stopped : the reader does not wait for the rest
        """
        if self.done:
            return choice_sheet(self.candidates, self.given)
        ranked = ranking(self.candidates)[:_MOST_SHOWN]
        waiting = [
            (judge.amplifier["name"], first)
            for at, (judge, first) in enumerate(zip(self.judges, self.firsts, strict=True))
            if at not in self.found
        ]
        return Sheet(
            sentence=_so_far(ranked, len(self.found), len(self.judges), stopped=stopped),
            progress=Progress(len(self.found), len(self.judges), is_stopped=stopped),
            results={"ranking": [one.name for one in ranked]},
            figures=_counts(self.candidates) if self.found else (),
            tables=(
                *((_ranking_table(ranked),) if ranked else ()),
                _waiting_table(waiting[:_MOST_WAITING], len(waiting)),
            ),
            cautions=("These are first verdicts: wait for the rest before you choose.",),
        )


def choice_stream(given: Mapping[str, Any]) -> ChoiceStream:
    """Return the choice to be worked out in steps."""
    return ChoiceStream(given, weights_of(given))


def _so_far(ranked: Sequence[Candidate], done: int, total: int, *, stopped: bool) -> str:
    fits = bool(ranked) and ranked[0].state == "suitable"
    if stopped:
        best = f"{ranked[0].name} fits best of these" if fits else "none of these is known to fit"
        return f"Stopped after {done} of {total}: {best}."
    if fits:
        return f"{ranked[0].name} fits best so far; still checking."
    return "Still checking; none is known to fit so far."


def _waiting_table(waiting: Sequence[tuple[str, Any]], count: int) -> Table:
    """Return those that wait for their full search, with their first verdicts."""
    rows = []
    for name, first in waiting:
        if first is None:
            rows.append((name, "still checking"))
        else:
            state, check = first
            told = f"{check.name} (needs {check.needed}; has {check.has})"
            rows.append((name, Verdict(state, told)))
    more = f" The first {len(waiting)} of {count} are shown." if count > len(waiting) else ""
    return Table(
        caption="Not searched yet: first verdicts",
        columns=(Column("Amplifier"), Column("Judged", wide=True)),
        rows=tuple(rows),
        note=f"A first verdict stands whatever the search finds.{more}",
    )


def _sentence(ranked: Sequence[Candidate], fitting: Sequence[Candidate]) -> str:
    if fitting:
        others = len(fitting) - 1
        more = f"; {others} more would do" if others else ""
        return f"{fitting[0].name} fits best{more}."
    open_ones = [one.name for one in ranked if one.state == "not known"]
    if open_ones:
        return f"No amplifier is known to fit; {open_ones[0]} may, if a missing figure allows it."
    return "No amplifier on this shelf fits."


def _verdict(ranked: Sequence[Candidate], fitting: Sequence[Candidate]) -> Verdict:
    if fitting:
        return Verdict("suitable", f"{fitting[0].name} meets every must.")
    best = ranked[0]
    return Verdict("not known" if best.state == "not known" else "unsuitable", why(best))


def why(one: Candidate) -> str:
    """Return in one sentence why an amplifier does or does not do."""
    bad = [check for check in one.checks if check.is_must and check.state == "unsuitable"]
    if bad:
        return f"{one.name} fails on {listed([_told(check) for check in bad])}."
    gaps = [check for check in one.checks if check.is_must and check.state == "not known"]
    if gaps:
        told = [f"{check.name} ({check.has})" for check in gaps]
        return f"{one.name} is not known on {listed(told)}."
    missed = [check.name for check in one.checks if check.state != "suitable"]
    if missed:
        return f"{one.name} meets every must; of the wishes it lacks {listed(missed)}."
    return f"{one.name} meets every must and every wish."


def _told(check: Check) -> str:
    return f"{check.name} (needs {check.needed}; has {check.has})"


def row_data(one: Candidate) -> dict[str, Any]:
    """Return a candidate as the contract has it."""
    return {
        "amplifier": one.name,
        "verdict": one.state.replace(" ", "-"),
        "score": one.score,
        "grouping": one.layout.plan.name if one.layout else None,
        "loads_ohm": [use.load_ohm for use in one.layout.plan.uses] if one.layout else None,
        "checks": [
            {
                "check": check.name,
                "needed": check.needed,
                "has": check.has,
                "verdict": check.state.replace(" ", "-"),
                "must": check.is_must,
            }
            for check in one.checks
        ],
        "why": why(one),
        "near_miss": one.near_miss,
    }


def _ranking_table(ranked: Sequence[Candidate]) -> Table:
    prices = [one.amplifier["price"] for one in ranked]
    has_price = any(price is not None for price in prices)
    return Table(
        caption="The shelf, best first",
        columns=(
            Column("Rank"),
            Column("Amplifier"),
            Column("Judged", wide=True),
            Column("Points", decimals=2),
            *((Column("Price"),) if has_price else ()),
        ),
        rows=tuple(
            (
                at, one.name, Verdict(one.state, _judged(one)), one.score,
                *((price,) if has_price else ()),
            )
            for at, (one, price) in enumerate(zip(ranked, prices, strict=True), start=1)
        ),
        marked=0 if ranked and ranked[0].state == "suitable" else None,
        note=_ties(ranked),
    )  # fmt: skip


def _judged(one: Candidate) -> str:
    return f"{why(one)} {one.near_miss}" if one.near_miss else why(one)


def _ties(ranked: Sequence[Candidate]) -> str:
    """Say which of the first rank alike."""
    alike = [one.name for one in ranked if rank(one) == rank(ranked[0])]
    if len(alike) < 2:
        return ""
    return f"{listed(alike)} rank alike; they stand in the order of the list."


def matrix_tables(ranked: Sequence[Candidate]) -> tuple[Table, ...]:
    """Return every check of the best candidates, a few beside one another."""
    best = ranked[:_MOST_SHOWN]
    groups = [best[at : at + _BESIDE] for at in range(0, len(best), _BESIDE)]
    return tuple(
        _matrix(group, f"Every check: {listed([one.name for one in group])}")
        for at, group in enumerate(groups)
    )


def _matrix(group: Sequence[Candidate], caption: str) -> Table:
    checks = list(
        dict.fromkeys((check.name, check.is_must) for one in group for check in one.checks)
    )

    def cell(one: Candidate, name: str) -> str:
        found = next((check for check in one.checks if check.name == name), None)
        if found is None:
            return "not reached"
        if found.state == "unsuitable":
            return f"unsuitable: needs {found.needed}; has {found.has}"
        return found.state

    return Table(
        caption=caption,
        columns=(Column("Check"), *(Column(one.name) for one in group)),
        rows=tuple(
            (name if is_must else f"{name} (a wish)", *(cell(one, name) for one in group))
            for name, is_must in checks
        ),
        cards=True,
    )


def system_link(given: Mapping[str, Any]) -> dict[str, str]:
    """Return a system without its amplifier as a link holds it: what differs from the defaults."""
    return {
        field.key: field.write(given[field.key])
        for field in _SYSTEM
        if given[field.key] != field.read(field.default)
    }


def _plan_inputs(one: Candidate, given: Mapping[str, Any]) -> dict[str, str]:
    """Return the system with this amplifier as a link to its plan."""
    return {**system_link(given), "amplifier": SYSTEM_FIELDS[-1].write((one.amplifier,))}


def from_system(text: str) -> tuple[Mapping[str, Raw], Sequence[FieldError]]:
    """Read a system file for the choice: its own amplifier plays no part."""
    given, errors = read_system(text)
    return {key: raw for key, raw in given.items() if key != "amplifier"}, errors


def from_shelf(text: str) -> tuple[Mapping[str, Raw], Sequence[FieldError]]:
    """Take a shelf list as it is; the field reads it."""
    return {"shelf": text}, ()


AMPLIFIER_CHOICE = Calculator(
    name="amplifier-choice",
    title="Which amplifier",
    question="Which amplifier on this shelf does for these speakers in this car, and why not the "
    "others?",
    fields=(SHELF, *WEIGHTS, *_SYSTEM),
    groups=(
        ("The shelf", ("shelf",)),
        ("What counts", tuple(one.key for one in WEIGHTS)),
        *((heading, keys) for heading, keys in GROUPS if keys != ("amplifier",)),
    ),
    compute=amplifier_choice,
    check=check_job,
    files=(from_system, from_shelf),
    write_file=write_system,
    write_brief=write_briefly,
    stream=choice_stream,
    starts=tuple(map(without_amplifier, STARTS)),
)
