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
from calc.choosing.words import fault, row_data, the, why
from calc.system.files.shelf_file import notes_on

_MOST_SHOWN, _BESIDE = 12, 3  # the data has all
_MOST_WAITING, _MOST_SETS_SHOWN = 40, 24
_MISSING = "A missing figure never counts in an amplifier’s favour: look it up before you buy."
FirstVerdict = tuple[State, Check] | None


def judge(inputs: Inputs, result: Result) -> Verdict:
    """Judge the shelf by its best amplifier."""
    if not inputs.system.speakers:
        return Verdict("not known", "No speakers yet: add them first.")
    if not result.candidates:
        return Verdict(
            "not known",
            "No amplifier yet. Add a stock list; the table below shows what an amplifier needs.",
        )
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
            plan_link(f"Plan with {the(candidate.name)}", inputs.system, candidate.installed.given)
            for candidate in result.ranked[:3]
            if candidate.state != "unsuitable"
        ),
        cautions=(
            "A plan is an estimate, not an approval: the amplifier’s manual, the vehicle "
            "maker’s rules and local law come first.",
            "Where the list leaves a figure out, the usual one was used and marked: look it up "
            "before you buy.",
            "Fit a fuse near the battery in every positive cable, no larger than the cable’s "
            "current rating: a shorted cable without one burns.",
        ),
        steps=(
            "We try every amplifier with every wiring of the voice coils and every channel "
            "layout, each with its best crossover settings and its best position in the space. "
            "Its best plan is listed.",
            "We also try amplifiers together: a large one with each small one if there is a "
            "sub, two of the same, two small ones. From a list of up to six, we try any two.",
            "For an amplifier that fails one or two must-haves we try single changes and "
            "search again with each.",
            "A plan ranks higher with fewer failed must-haves (power first), then with fewer "
            "unknown ones, then with more points.",
            "Points are the shares (0 to 1) times their weights. The weights are our own "
            "choice; change them in the form.",
            "Each check is the verdict of its chapter’s calculator, which lists its sources.",
            "If the power to reach is left empty, none is required. We flag less than half of "
            "a speaker’s rating and more than one and a half times it.",
        ),
        unknowns=(
            "Sound quality, noise and reliability.",
            "Whether the maker’s figures are true.",
            "Figures that the stock list leaves out.",
        ),
        sources=("usual-figures",),
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
        cautions=("First verdicts only: wait for the rest before you choose.",),
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
        sentence="Add the speakers first; then add a stock list to compare.",
        verdict=judge(inputs, result),
        results={"rows": [], "ranking": []},
        cautions=(_MISSING,),
    )


def _empty_shelf(inputs: Inputs, result: Result) -> Sheet:
    """Return what an amplifier must bring, while there is none to hold against it."""
    job = Job(inputs.system)
    return Sheet(
        sentence="Add a stock list: there is no amplifier yet to compare.",
        verdict=judge(inputs, result),
        results={"rows": [], "ranking": []},
        tables=(
            Table(
                caption="What the amplifier must deliver",
                columns=(
                    Column("Speakers"), Column("How many"), Column("Power to reach, each", "W"),
                    Column("RMS rating, each", "W"), Column("Outputs needed"),
                ),
                rows=tuple(
                    (
                        feed.name, feed.count, "none set" if feed.need_w is None else feed.need_w,
                        feed.speaker.rated_w, feed.least_outputs,
                    )
                    for feed in job.feeds
                ),
            ),
            Table(
                caption="What else it needs",
                columns=(Column("Check"), Column("Needed", wide=True)),
                rows=tuple(musts(job)),
            ),
        ),
        cautions=(_MISSING,),
        unknowns=("Everything that depends on the amplifier.",),
        sources=(
            "Each check is the verdict of its chapter’s calculator, which lists its sources.",
            "If the power to reach is left empty, none is required. We flag less than half of "
            "a speaker’s rating and more than one and a half times it.",
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
            rows.append((name, Verdict(state, fault(check))))
    more = f" Shown: the first {len(waiting)} of {count}." if count > len(waiting) else ""
    return Table(
        caption="Still to be checked",
        columns=(Column("Amplifier"), Column("Result", wide=True)),
        rows=tuple(rows),
        note=" ".join([f"A verdict shown here is final: no layout can change it.{more}", *notes]),
    )


def _ranking_table(ranked: Sequence[Candidate], notes: Sequence[str] = ()) -> Table:
    has_price = any(candidate.amplifier.price is not None for candidate in ranked)
    sets = [candidate for candidate in ranked if len(candidate.parts) > 1]
    left_out = {id(candidate) for candidate in sets[_MOST_SETS_SHOWN:]}
    more = f"{len(left_out)} more sets are in the data." if left_out else ""
    return Table(
        caption="The stock list, best first",
        columns=(
            Column("Rank"),
            Column("Amplifier"),
            Column("Result", wide=True),
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
    return f"What would work is shown for the best {told} of those that fail."


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
    return f"{listed(alike)} rank the same; they are listed in the order of the stock list."


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
            (check.title, check.is_must) for candidate in group for check in candidate.checks
        )
    )

    def cell(candidate: Candidate, name: str) -> str:
        check = next((check for check in candidate.checks if check.title == name), None)
        if check is None:
            return "–"
        if check.state == "unsuitable":
            return f"unsuitable: {fault(check)}"
        return check.state

    return Table(
        caption=caption,
        columns=(Column("Check"), *(Column(candidate.name) for candidate in group)),
        rows=tuple(
            (
                name if is_must else f"{name} (nice-to-have)",
                *(cell(candidate, name) for candidate in group),
            )
            for name, is_must in checks
        ),
        cards=True,
    )
