"""The check of the filters: every speaker kept to its band, and what nobody told of it."""

import re
from collections.abc import Hashable, Sequence
from dataclasses import replace
from itertools import chain

from calc.answers.figures import listed
from calc.answers.sheet import State
from calc.bridging.mapping import Output
from calc.choosing.checks.alike import alike
from calc.choosing.checks.bands import OpenBands, open_bands
from calc.choosing.checks.kinds import Check, judged
from calc.choosing.installed import Installed, Part
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.crossovers import (
    Assignment,
    SplitQuestion,
    channel_texts,
    own_names,
    split_question,
)
from calc.crossovers.filter_split import FRAGILE
from calc.inputs.declared import replaced
from calc.system.amplifier import NO_FILTERS, Amplifier

_SLOPE = "filter_db_per_octave"
_CORNERS = frozenset({"high_pass_hz", "low_pass_hz"})
FILTERS_NEEDED = "a filter wherever a speaker needs one"
_DSP = ("filters_every_output",)
_OPEN_DSP = "it is not known whether the DSP has a high-pass and a low-pass on every output"


def open_filters() -> tuple[Check, ...]:
    """Return the check of the filters where it is not known what is on which channel."""
    return (Check("filters", FILTERS_NEEDED, "the channel layout is not known", "not known"),)


def filter_check(job: Job, assignment: Assignment, together: Installed) -> Check:
    """Return the check of the filters with the feeds on their outputs.

    Where the amplifier's are not told, usual ones are taken.  They never stand for the high-pass
    that a tweeter or midrange must have: that has to be known.  Where the bands of the speakers
    are not told, usual ones are taken, and what rests on these is no more than likely.

    together : the amplifiers, with usual figures where none are told, and as they were told
    """
    if job.unguarded_rows:
        names = listed([job.speakers[row].name for row in job.unguarded_rows])
        has = f"the lowest safe frequency of {names} is not known"
        return Check("filters", FILTERS_NEEDED, has, "not known", keys=("lowest_hz",))
    depends_on = _depends_on(assignment, together)
    if depends_on not in job.found_filters:
        check = _by_bands(job, assignment, together)
        if check.state not in ("suitable", "likely") and _awaits_dsp(job):
            check = Check("filters", FILTERS_NEEDED, _OPEN_DSP, "not known", keys=_DSP)
        job.found_filters[depends_on] = (check.state, check.has, check.keys)
    state, has, keys = job.found_filters[depends_on]
    return Check("filters", FILTERS_NEEDED, has, state, keys=keys)


def filter_state(job: Job, assignment: Assignment, together: Installed) -> State:
    """Return the state of the check, worked out once for outputs that are alike."""
    return filter_check(job, alike(assignment, together), together).state


def _depends_on(assignment: Assignment, together: Installed) -> tuple[Hashable, ...]:
    """Return all of amplifiers and outputs that the check depends on."""
    return (
        tuple(assignment),
        together.amplifier.own_filters,
        together.told.own_filters,
        together.missing_filters,
    )


def _awaits_dsp(job: Job) -> bool:
    """Tell whether a DSP would do, of which nobody has said what filters it has.

    With one on every output it is all the same which outputs these are, so it is asked once.
    """
    if job.has_dsp_filters is not None:
        return False
    if _DSP not in job.found_filters:
        apart = [[(2 * at + 1,)] if feed.count == 1 else [(2 * at + 1,), (2 * at + 2,)]
                 for at, feed in enumerate(job.feeds)]  # fmt: skip
        bare = Amplifier(name="", filters=NO_FILTERS)
        verdict = split_question(job, apart, bare, has_dsp_filters=True).verdict
        job.found_filters[_DSP] = (verdict.state, "", ())
    return job.found_filters[_DSP][0] != "unsuitable"


def _by_bands(job: Job, assignment: Assignment, together: Installed) -> Check:
    """Return the check, weakened by the bands of speakers that nobody told."""
    check = _filter_check(job, assignment, together)
    bands = open_bands(job)
    if bands is None or check.state == "not known":
        return check
    keys = (*check.keys, *bands.keys)
    if check.state == "unsuitable":
        if _fails_in_every(job, bands, assignment, together):
            return check
        has = f"depends on the speakers’ frequency ranges; with the usual ones, {check.has}"
        return replace(check, state="not known", has=has, keys=keys)
    for other in bands.usual():
        with_other = _filter_check(other, assignment, together)
        if with_other.state not in ("suitable", "likely"):
            has = f"depends on the speakers’ frequency ranges: {with_other.has}"
            return replace(check, state="not known", has=has, keys=keys)
    return replace(check, state="likely", keys=keys)


def _fails_in_every(
    job: Job, bands: OpenBands, assignment: Assignment, together: Installed
) -> bool:
    """Tell whether no band that speakers may have would do: the same on outputs that are alike."""
    depends_on = ("every band", *_depends_on(alike(assignment, together), together))
    if depends_on not in job.found_filters:
        every = bands.every()
        fails = every is not None and all(_fails(other, assignment, together) for other in every)
        job.found_filters[depends_on] = ("unsuitable" if fails else "not known", "", ())
    return job.found_filters[depends_on][0] == "unsuitable"


def _fails(job: Job, assignment: Assignment, together: Installed) -> bool:
    """Tell whether the check with these bands is *unsuitable*, in fewer searches than it takes.

    What fails with filters at their most fails with any.
    """
    if not together.missing_filters:
        return split_question(job, assignment, together.amplifier).verdict.state == "unsuitable"
    return _is_hopeless(job, assignment, together) and (
        _is_told(together) or guarded_without(job, assignment, together)
    )


def _filter_check(job: Job, assignment: Assignment, together: Installed) -> Check:
    """Return the check of the filters with the speakers' bands as they are, or as is usual."""
    check = judged("filters", FILTERS_NEEDED, split_question(job, assignment, together.amplifier))
    weaker = _weakened(check, job, assignment, together) if together.missing_filters else None
    if weaker is not None:
        return weaker
    # The calculator knows the sections by their kinds; the reader, by the speakers' names.
    whose = [
        f"{word} is {name}"
        for word, name in own_names(job, assignment)
        if word not in name and re.search(rf"\b{re.escape(word)}(?! ?\d)\b", check.has)
    ]
    return replace(check, has=f"{check.has} ({listed(whose)})") if whose else check


def _weakened(check: Check, job: Job, assignment: Assignment, together: Installed) -> Check | None:
    """Return the check where nobody told of some filters; None where that changes nothing."""
    keys = together.missing_filters
    is_guarded = guarded_without(job, assignment, together)
    may_be_final = check.state == "unsuitable" and (is_guarded or _is_told(together))
    is_final = may_be_final and _is_hopeless(job, assignment, together)
    if not is_final and not is_guarded:
        has = "the amplifier’s filters are missing: a tweeter or midrange needs a known high-pass"
        return Check("filters", FILTERS_NEEDED, has, "not known", keys=keys)
    if check.state == "suitable":
        has = f"{check.has}, with the usual filters"
        return replace(check, state="likely", has=has, keys=keys)
    if check.state == "unsuitable" and not is_final:
        has = f"depends on the amplifier’s filters; with the usual ones, {check.has}"
        return replace(check, state="not known", has=has, keys=keys)
    return None


def _is_told(together: Installed) -> bool:
    """Tell whether any corner is told.  Where none is, any may be: that need not be tried."""
    return any(not _CORNERS.issubset(part.given.own_filters.missing) for part in together.parts)


def guarded_without(job: Job, assignment: Assignment, together: Installed) -> bool:
    """Tell whether no tweeter or midrange needs a filter of the amplifier that nobody told of."""
    if not together.missing_filters:
        return True
    if not any(speaker.section in FRAGILE for speaker in job.speakers):
        return True
    return _is_guarded(split_question(job, assignment, together.told))


def may_be_guarded(job: Job, assignment: Assignment, together: Installed) -> bool:
    """Tell whether filters that nobody told of may protect every tweeter and midrange."""
    return _is_guarded(split_question(job, assignment, _at_best(assignment, together)))


def _is_guarded(question: SplitQuestion) -> bool:
    return question.result is not None and all(
        section.is_protected
        for section in question.result.sections
        if section.section.kind in FRAGILE
    )


def _is_hopeless(job: Job, assignment: Assignment, together: Installed) -> bool:
    """Tell whether no filters that nobody told of would do, with those that are told."""
    question = split_question(job, assignment, _at_best(assignment, together))
    return question.verdict.state == "unsuitable"


def _at_best(assignment: Assignment, together: Installed) -> Amplifier:
    """Return the amplifiers with the most that their filters may be where nobody told."""
    outputs = list(chain(*assignment))
    best = [
        replaced(part.amplifier, _most(outputs, part)) if part.given.own_filters.missing
        else part.amplifier
        for part in together.parts
    ]  # fmt: skip
    return together.joined(best)


def _most(outputs: Sequence[Output], part: Part) -> dict[str, str]:
    """Return the most that may stand in an amplifier's columns that are not told."""
    missing = part.given.own_filters.missing
    if not _CORNERS.issubset(missing):
        most = dict.fromkeys(missing, "10-30000")
        return {**most, **({"filter_db_per_octave": "6/12/18/24"} if _SLOPE in missing else {})}
    # A filter for each pair of channels alone; which family it is of decides nothing.
    rows = [
        f"{channels.replace('+', '/')} {kind} 10-30000 1 butterworth 1/2/3/4 - yes"
        for channels in channel_texts([part.own(output) for output in outputs if part.has(output)])
        for kind in ("high-pass", "low-pass")
    ]
    return {"filters": " | ".join(rows)}
