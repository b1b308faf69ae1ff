"""The usual figures that a plan rests on, as a table of the job sheet."""

from calc.answers.sheet import Column, Table
from calc.choosing.candidates import Candidate
from calc.choosing.layouts.feeds import Job
from calc.choosing.origins import assumed_of
from calc.choosing.usual_words import range_words, value_words
from calc.system.usual import Assumed


def usual_tables(job: Job, candidate: Candidate) -> tuple[Table, ...]:
    """Return the table of usual figures; none where every figure is the reader's."""
    taken = assumed_of(job, candidate)
    if not taken:
        return ()
    return (
        Table(
            name="assumed",
            caption="Usual figures used where you gave none",
            columns=(
                Column("Part", wide=True),
                Column("Figure", wide=True),
                Column("Used"),
                Column("Usual range"),
            ),
            # A side with nothing on it is not worth a line.
            rows=tuple(_row(each) for each in taken if each.usual.value != ()),
            note="Enter your own where you know them.",
            cards=True,
        ),
    )


def _row(taken: Assumed) -> tuple[str, str, str, str]:
    usual = taken.usual
    return (taken.where, usual.what, value_words(usual), range_words(usual))
