"""The checks that no layout changes: features, signal, turn-on, place and reach."""

from collections.abc import Mapping

from calc.answers.figures import listed, rounded
from calc.answers.sheet import State
from calc.choosing.checks.kinds import REACH, WANTED, WISH_OF, Check, Kind, judged, plain
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.placement import reach_question
from calc.choosing.questions.setup import signal_question, turn_on_question
from calc.placement.mounting_reach import REACH_WORDS, Outcome, Reach
from calc.system.amplifier import Amplifier


def feature_checks(job: Job, amplifier: Amplifier) -> list[Check]:
    """Return the checks of features that are musts or wishes."""
    boost, terminals = amplifier.boost_db, amplifier.terminals
    features: Mapping[Kind, bool | None] = {
        "level control": amplifier.level_control,
        "boost": None if boost is None else boost > 0,
        "cover": amplifier.cover,
        "terminals": None if terminals is None else terminals == "screw",
    }
    checks = []
    for kind, has in features.items():
        wish = job.values[WISH_OF[kind]]
        if wish == "any":
            continue
        state: State = "not known" if has is None else "suitable" if has else "unsuitable"
        words = "not known" if has is None else "yes" if has else "no"
        checks.append(Check(kind, WANTED[kind], words, state, wish == "must"))
    return checks


def signal_check(job: Job, amplifier: Amplifier) -> Check:
    """Return the check of the input levels."""
    needed = "an input that takes the head unit’s signal"
    return judged("signal", needed, signal_question(job, amplifier))


def turn_on_check(job: Job, amplifier: Amplifier) -> Check:
    """Return the check of the ways to turn it on."""
    return judged("turn-on", "a way to be turned on and off", turn_on_question(job, amplifier))


def body_check(job: Job, amplifier: Amplifier) -> Check | None:
    """Return the check that fails because the bare body is larger than the bay."""
    width, depth = job.system.bay.bay_width_mm, job.system.bay.bay_depth_mm
    wide, deep = amplifier.width_mm, amplifier.depth_mm
    if width is None or depth is None or wide is None or deep is None:
        return None
    if min(wide, deep) <= min(width, depth) and max(wide, deep) <= max(width, depth):
        return None
    words = f"{rounded(wide)} × {rounded(deep)} mm"
    most = f"at most {rounded(width)} × {rounded(depth)} mm"
    return Check("place", most, words, "unsuitable")


def place_checks(job: Job, amplifier: Amplifier) -> list[Check]:
    """Return the checks of place and reach."""
    too_large = body_check(job, amplifier)
    if too_large is not None:
        return [too_large]
    question = reach_question(job, amplifier)
    wish = job.system.wishes.controls_in_place
    if question.result is None:
        place = judged("place", "room in the bay", question)
        reach = Check(REACH, WANTED[REACH], "not known", "not known", wish == "must")
        return [place] if wish == "any" else [place, reach]
    design = question.result.design
    feasible = design.feasible
    state: State = "not known"
    if feasible is not None:
        state = "suitable" if feasible else "unsuitable"
    reason = "it stands with all its rooms" if feasible else question.verdict.reason
    needed = "room in the bay, plugs and air included"
    checks = [Check("place", needed, plain(reason), state)]
    if wish != "any":
        checks.append(_reach_check(design, is_must=wish == "must"))
    return checks


def _reach_check(design: Outcome, *, is_must: bool) -> Check:
    """Return the check that the controls are reached with the amplifier in place."""
    feasible = design.feasible
    reached = set(design.reaches) if feasible else set()
    words = {reach: "not known" if reach is None else REACH_WORDS[reach] for reach in reached}
    in_place: State = "not known" if feasible is None else "unsuitable"
    if feasible and reached <= {Reach.IN_PLACE, None}:
        in_place = "suitable"
    elif feasible and not design.reach_is_proven:
        in_place = "not known"
    has = listed(sorted(words[reach] for reach in reached)) or "no place"
    return Check(REACH, WANTED[REACH], has, in_place, is_must)
