"""What is said of each amplifier beside the others, and which step is next."""

from collections.abc import Iterable, Sequence

from calc.answers.figures import capital, listed
from calc.answers.sheet import Figure, Judged, Next, Quantity, Span, Verdict
from calc.choosing.asking import questions_about_car, questions_to_seller
from calc.choosing.candidates import Candidate
from calc.choosing.checks.kinds import title_of
from calc.choosing.layouts.feeds import Job
from calc.choosing.words import arranged, fault, given_up_sentence, the, why
from calc.inputs.field_base import Value
from calc.system.usual import Assumed

_MOST_USUAL = 4
# What is told of the usual figures: those that a box or a car would tell.
_TOLD = (
    "channels", "high_pass_hz", "low_pass_hz", "filter_db_per_octave", "source_v",
    "factory_power_w", "sensitivity_max_v", "alternator_a",
)  # fmt: skip


def judged_of(job: Job, candidate: Candidate, *, row: int, is_chosen: bool) -> Judged:
    """Return what is said of one amplifier.

    row : of the form, from 1; 0 for one of a stock list
    """
    return Judged(
        row=row,
        name=candidate.name,
        verdict=Verdict(candidate.state, why(candidate)),
        sentence=_sentence(candidate),
        ask=tuple(
            ask.words if len(candidate.parts) == 1 else f"{ask.amplifier}: {ask.words}"
            for ask in questions_to_seller(candidate)
        ),
        works=tuple(words for words, _ in candidate.ways),
        usual=tuple(_figures((*candidate.taken, *job.assumed))) if candidate.layout else (),
        is_chosen=is_chosen,
    )


def _sentence(candidate: Candidate) -> str:
    musts = [check for check in candidate.checks if check.is_must]
    for state in ("unsuitable", "not known"):
        first = next((check for check in musts if check.state == state), None)
        if first is not None and (state == "unsuitable" or candidate.layout is None):
            return f"{capital(fault(first))}."
    gaps = dict.fromkeys(title_of(check.kind) for check in musts if check.state == "not known")
    sentences = (
        f"Still open: {listed(list(gaps))}." if gaps else "",
        arranged(candidate, with_name=False),
        given_up_sentence(candidate),
    )
    return " ".join(filter(None, sentences))


def _figures(taken: Iterable[Assumed]) -> Iterable[Figure]:
    told = [each for each in taken if each.usual.key in _TOLD and each.usual.value != "off"]
    # What is taken alike of several amplifiers is told once.
    usuals = dict.fromkeys(
        each.usual for each in sorted(told, key=lambda each: _TOLD.index(each.usual.key))
    )
    for usual in list(usuals)[:_MOST_USUAL]:
        value: Value = usual.value
        shown: Quantity | Span
        if isinstance(value, str) and "-" in value:
            low, high = map(float, value.split("-"))
            shown = Span(low, high, usual.unit)
        else:
            shown = Quantity(float(value), usual.unit)
        yield Figure(usual.what, shown)


Rows = Sequence[tuple[int, ...]]


def next_step(
    job: Job,
    candidates: Sequence[Candidate],
    best: Candidate | None,
    *,
    is_planned: bool,
    rows: Rows | None = None,
) -> Next:
    """Return the next step: the first that applies.

    candidates : those in the form, in its order
    best : the one that is planned, or would be
    rows : of each of the candidates the rows of the form, from 1; one each where none are given
    """
    places = [(at,) for at in range(1, len(candidates) + 1)] if rows is None else list(rows)
    if not job.speakers:
        return Next("Add the speakers", field="speakers")
    for candidate, place in zip(candidates, places, strict=True):
        for part in candidate.parts:
            if part.amplifier.power_4ohm_w is None:
                words = f"RMS watts of {part.name}"
                row = place[part.at]
                return Next(words, field="amplifier", row=row, column="power_4ohm_w")
    if best is None:
        return Next("RMS watts of an amplifier", field="amplifier", row=1, column="power_4ohm_w")
    in_form = dict(zip(map(id, candidates), places, strict=True))
    for candidate in (best, *candidates):
        step = _decisive(job, in_form.get(id(candidate)), candidate)
        if step is not None:
            return step
    place = in_form.get(id(best), ())
    if place and not is_planned and best.state != "unsuitable":
        words = f"See the plan with {the(best.name)}"
        return Next(words, field="amplifier", row=place[0], action="choose")
    if not place and not is_planned and len(best.parts) > 1 and best.state != "unsuitable":
        return Next(f"See the plan with {the(best.name)}", field="amplifier", action="choose")
    if place and is_planned:
        for ask in questions_to_seller(best):
            if not ask.in_short:
                continue
            of = "Ask the seller" if len(best.parts) == 1 else ask.amplifier
            words = f"{of}: {ask.in_short}"
            return Next(words, field="amplifier", row=place[ask.at], column=ask.key)
    for ask in questions_about_car(best, job):
        return Next(ask.words, field="kind" if ask.key == "source_v" else ask.key)
    return Next("See the answer", action="answer")


def _decisive(job: Job, place: tuple[int, ...] | None, candidate: Candidate) -> Next | None:
    """Return the way to the one figure behind a *not known*.

    place : the candidate's rows in the form; None of one that does not stand there
    """
    if candidate.state != "not known":
        return None
    for ask in questions_to_seller(candidate):
        if ask.is_decisive and place:
            words = f"{ask.amplifier}: {ask.in_short}"
            return Next(words, field="amplifier", row=place[ask.at], column=ask.key)
    if job.unguarded_rows:  # what burns out comes before the car
        row = job.unguarded_rows[0]
        words = f"{job.speakers[row].name}: safe lowest frequency?"
        return Next(words, field="speakers", row=row + 1, column="lowest_hz")
    for ask in questions_about_car(candidate, job):
        if ask.is_decisive:
            return Next(ask.words, field=ask.key)
    wanted = {key for check in candidate.checks if check.decides for key in check.keys}
    for each in job.assumed:  # the end of a speaker's band
        table, *path = each.path
        if each.usual.key in wanted and table == "speakers" and isinstance(path[0], int):
            words = f"{each.where}: {each.usual.what}?"
            return Next(words, field="speakers", row=path[0] + 1, column=each.usual.key)
    return None
