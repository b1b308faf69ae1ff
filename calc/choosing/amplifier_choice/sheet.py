"""What the answer of `amplifier-choice` holds."""

from collections.abc import Sequence

from calc.answers.figures import listed
from calc.answers.sheet import (
    Cell,
    Column,
    Figure,
    Progress,
    Quantity,
    Sheet,
    State,
    Table,
    Verdict,
)
from calc.choosing.amplifier_choice.inputs import Inputs
from calc.choosing.amplifier_choice.solve import Result
from calc.choosing.amplifier_choice.words import (
    choice_sentence,
    choice_verdict,
    musts,
    so_far_sentence,
)
from calc.choosing.asking import questions_to_seller
from calc.choosing.candidates import Candidate, rank
from calc.choosing.checks.kinds import Check
from calc.choosing.layouts.feeds import Job
from calc.choosing.links import plan_link
from calc.choosing.words import needed_and_has, row_data, why
from calc.system.files.shelf_file import notes_on

_MOST_SHOWN, _BESIDE = 12, 3  # the data has all
_MOST_WAITING, _MOST_SETS_SHOWN = 40, 24
_MISSING = "A missing figure is never a pass: look it up before you buy."
FirstVerdict = tuple[State, Check] | None


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the shelf by its best amplifier."""
    if not inputs.system.speakers:
        return Verdict("not known", "no speaker is given yet.")
    if not result.candidates:
        return Verdict("not known", "no amplifier is given; see below what it must bring.")
    return choice_verdict(result)


def present(inputs: Inputs, result: Result) -> Sheet:
    """Write the answer for candidates that were all judged."""
    if not inputs.system.speakers:
        return _nothing_yet(inputs, result)
    if not result.candidates:
        return _empty_shelf(inputs, result)
    return Sheet(
        sentence=choice_sentence(result),
        verdict=judge(inputs, result),
        results={
            "rows": [row_data(candidate) for candidate in result.candidates],
            "ranking": [candidate.name for candidate in result.ranked],
            "notices": list(notes_on(inputs.shelf)),
        },
        figures=_counts(result.candidates),
        tables=(
            _ranking_table(result.ranked, notes_on(inputs.shelf)),
            *matrix_tables(result.ranked),
        ),
        onward=tuple(
            plan_link(f"The plan with {candidate.name}", inputs.system, candidate.installed.given)
            for candidate in result.ranked[:3]
            if candidate.state != "unsuitable"
        ),
        cautions=(
            "A plan on paper is no approval: the amplifier’s manual, the vehicle maker’s rules "
            "and local law come first.",
            "A figure that the list leaves out was taken as usual, and said so: look it up before "
            "you buy.",
            "Fuse within reach of the battery’s terminal on every positive cable, and never "
            "larger than the cable may carry.",
        ),
        steps=(
            "For each amplifier every wiring of the speakers’ coils, every grouping of its "
            "channels, every choice of outputs, the best split of the filters and the best place "
            "in the bay are tried; its best plan stands here.",
            "Amplifiers are tried together too: a large one with each small one where there is a "
            "subwoofer, two alike, two small ones; of a list of up to six any two.",
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
            "What a stock list leaves out.",
        ),
        sources=(
            "Each check is the verdict of the chapter’s calculator; its sources stand there.",
        ),
    )


def so_far(
    result: Result,
    waiting: Sequence[tuple[str, FirstVerdict]],
    *,
    total: int,
    stopped: bool,
    notes: Sequence[str] = (),
) -> Sheet:
    """Write the answer while some still wait for their full search.

    waiting : their names, each with a first verdict or None
    total : how many amplifiers there are
    stopped : the reader does not wait for the rest
    notes : what the reader of the stock list took for what
    """
    ranked, done = result.ranked[:_MOST_SHOWN], len(result.candidates)
    return Sheet(
        sentence=so_far_sentence(ranked, done, total, stopped=stopped),
        progress=Progress(done, total, is_stopped=stopped),
        results={"ranking": [candidate.name for candidate in ranked]},
        figures=_counts(result.candidates) if done else (),
        tables=(
            *((_ranking_table(ranked),) if ranked else ()),
            _waiting_table(waiting[:_MOST_WAITING], len(waiting), notes),
        ),
        cautions=("These are first verdicts: wait for the rest before you choose.",),
    )


def _counts(candidates: Sequence[Candidate]) -> tuple[Figure, ...]:
    states = (
        ("Suitable", "suitable"), ("Likely", "likely"), ("Not known", "not known"),
        ("Unsuitable", "unsuitable"),
    )  # fmt: skip
    return tuple(
        Figure(label, Quantity(sum(candidate.state == state for candidate in candidates)))
        for label, state in states
    )


def _nothing_yet(inputs: Inputs, result: Result) -> Sheet:
    return Sheet(
        sentence="Add the speakers: then the amplifiers of a stock list can be held against them.",
        verdict=judge(inputs, result),
        results={"rows": [], "ranking": []},
        cautions=(_MISSING,),
    )


def _empty_shelf(inputs: Inputs, result: Result) -> Sheet:
    """Return what an amplifier must bring, while there is none to hold against it."""
    job = Job(inputs.system)
    return Sheet(
        sentence="Put in a stock list: there is no amplifier yet to hold against this system.",
        verdict=judge(inputs, result),
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
                        feed.speaker.rated_w, feed.least_outputs,
                    )
                    for feed in job.feeds
                ),
            ),
            Table(
                caption="And besides",
                columns=(Column("Check"), Column("Needed", wide=True)),
                rows=tuple(musts(job)),
            ),
        ),
        cautions=(_MISSING,),
        unknowns=("Everything that depends on the amplifier.",),
        sources=(
            "A power wish left empty is no must; 0.5 to 1.5 times a rating is usual (common "
            "practice, no source).",
        ),
    )  # fmt: skip


def _waiting_table(
    waiting: Sequence[tuple[str, FirstVerdict]], count: int, notes: Sequence[str]
) -> Table:
    """Return those that wait for their full search, with their first verdicts."""
    rows: list[tuple[Cell, ...]] = []
    for name, first in waiting:
        if first is None:
            rows.append((name, "still checking"))
        else:
            state, check = first
            rows.append((name, Verdict(state, needed_and_has(check))))
    more = f" The first {len(waiting)} of {count} are shown." if count > len(waiting) else ""
    return Table(
        caption="Not searched yet: first verdicts",
        columns=(Column("Amplifier"), Column("Judged", wide=True)),
        rows=tuple(rows),
        note=" ".join([f"A first verdict stands whatever the search finds.{more}", *notes]),
    )


def _ranking_table(ranked: Sequence[Candidate], notes: Sequence[str] = ()) -> Table:
    has_price = any(candidate.amplifier.price is not None for candidate in ranked)
    sets = [candidate for candidate in ranked if len(candidate.parts) > 1]
    left_out = {id(candidate) for candidate in sets[_MOST_SETS_SHOWN:]}
    more = f"{len(left_out)} more sets stand in the data." if left_out else ""
    return Table(
        caption="The stock list, best first",
        columns=(
            Column("Rank"),
            Column("Amplifier"),
            Column("Judged", wide=True),
            Column("Points", decimals=2),
            *((Column("Price"),) if has_price else ()),
        ),
        rows=tuple(
            (
                at,
                candidate.name,
                Verdict(candidate.state, _judged(candidate)),
                candidate.score,
                *((candidate.amplifier.price,) if has_price else ()),
            )
            for at, candidate in enumerate(ranked, start=1)
            if id(candidate) not in left_out
        ),
        marked=0 if ranked and ranked[0].is_recommended else None,
        note=" ".join(
            filter(None, [_ties(ranked), _joined(ranked), more, _unadvised(ranked), *notes]),
        ),
    )  # fmt: skip


def _judged(candidate: Candidate) -> str:
    """Say why, and in one line what would make it work, or what to ask the seller."""
    if candidate.near_miss:
        return f"{why(candidate)} {candidate.near_miss}"
    asks = () if candidate.state == "suitable" else questions_to_seller(candidate)
    return f"{why(candidate)} Ask the seller: {asks[0].words}" if asks else why(candidate)


def _unadvised(ranked: Sequence[Candidate]) -> str:
    """Say so where not all that fail are told what would make them work."""
    failing = [candidate for candidate in ranked if candidate.state == "unsuitable"]
    if all(candidate.ways for candidate in failing):
        return ""
    told = sum(bool(candidate.ways) for candidate in failing)
    return f"What would make it work is worked out for the best {told} of those that fail."


def _joined(ranked: Sequence[Candidate]) -> str:
    """Say what a name with a plus means, where there is one."""
    if all(len(candidate.parts) == 1 for candidate in ranked):
        return ""
    return "Names joined by + are installed together."


def _ties(ranked: Sequence[Candidate]) -> str:
    """Say which of the first rank alike."""
    alike = [candidate.name for candidate in ranked if rank(candidate) == rank(ranked[0])]
    if len(alike) < 2:
        return ""
    return f"{listed(alike)} rank alike; they stand in the order of the list."


def matrix_tables(ranked: Sequence[Candidate]) -> tuple[Table, ...]:
    """Return every check of the best candidates, a few beside one another."""
    best = ranked[:_MOST_SHOWN]
    groups = [best[at : at + _BESIDE] for at in range(0, len(best), _BESIDE)]
    return tuple(
        _matrix(group, f"Every check: {listed([candidate.name for candidate in group])}")
        for group in groups
    )


def _matrix(group: Sequence[Candidate], caption: str) -> Table:
    checks = list(
        dict.fromkeys(
            (check.name, check.is_must) for candidate in group for check in candidate.checks
        )
    )

    def cell(candidate: Candidate, name: str) -> str:
        check = next((check for check in candidate.checks if check.name == name), None)
        if check is None:
            return "not reached"
        if check.state == "unsuitable":
            return f"unsuitable: needs {check.needed}; has {check.has}"
        return check.state

    return Table(
        caption=caption,
        columns=(Column("Check"), *(Column(candidate.name) for candidate in group)),
        rows=tuple(
            (
                name if is_must else f"{name} (a wish)",
                *(cell(candidate, name) for candidate in group),
            )
            for name, is_must in checks
        ),
        cards=True,
    )
