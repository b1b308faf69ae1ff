"""The checks that no layout changes: features, signal, turn-on, place and reach."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from calc.answers.figures import listed, rounded
from calc.answers.sheet import State
from calc.choosing.checks.kinds import REACH, WANTED, WISH_OF, Check, Kind, judged, plain
from calc.choosing.installed import Installed
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.placement import reach_question
from calc.choosing.questions.setup import signal_question, turn_on_question
from calc.inputs.declared import replaced
from calc.placement.mounting_reach import REACH_WORDS, Outcome, Reach
from calc.system.amplifier import Amplifier
from calc.system.usual import FACES, has_usual_lead


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
        words = "look on its box or panel" if has is None else "yes" if has else "none"
        checks.append(Check(kind, WANTED[kind], words, state, wish == "must"))
    return checks


_LINE = ("sensitivity_min_v", "sensitivity_max_v")
_SOURCE = ("source_v", "factory_power_w")


def signal_check(job: Job, amplifier: Amplifier, given: Amplifier) -> Check:
    """Return the check of the input levels.

    There is always a way in, by plugs, by speaker leads or by a converter: what is not known of
    it is a line to settle.  An end of a high-level input that is not told weakens nothing, for
    where it does not suit, a converter does.

    amplifier, given : with usual figures where none are told, and as it was told
    """
    question = signal_question(job, amplifier)
    check = judged("signal", "an input to suit the head unit", question)
    # A high-level input that takes the speaker leads leaves nothing to the line input.
    is_high = question.result is not None and question.result.is_high_level
    keys = [] if is_high else [key for key in _LINE if getattr(given, key) is None]
    if all(getattr(job.given.head_unit, key) is None for key in _SOURCE):
        keys.append("source_v")
    if check.state == "not known" or (keys and check.state != "likely"):
        has = (
            check.has if check.state == "suitable" else (f"{check.has}: settle it before you order")
        )
        return replace(check, state="likely", has=has, keys=tuple(keys))
    return check


def turn_on_check(job: Job, amplifier: Amplifier, given: Amplifier) -> Check:
    """Return the check of the ways to turn it on.

    A fused feed that is live while driving and dead when parked always exists, so that what is
    not known here is a line to settle.

    amplifier, given : with usual figures where none are told, and as it was told
    """
    check = judged("turn-on", "a way to turn it on and off", turn_on_question(job, amplifier))
    keys = ["trigger_available"] if has_usual_lead(job.given) else []
    keys += ["trigger"] if given.trigger is None else []
    if keys and check.state == "suitable":
        has = f"{check.has.rstrip('.')}, with the usual figures"
        return replace(check, state="likely", has=has, keys=tuple(keys))
    if check.state != "not known":
        return check
    return replace(check, state="likely", has=f"{check.has}: settle it before you order")


def body_check(job: Job, amplifier: Amplifier) -> Check | None:
    """Return the check that fails because the bare body is larger than the bay."""
    bay = job.system.bay
    width, depth, height = bay.bay_width_mm, bay.bay_depth_mm, bay.bay_height_mm
    wide, deep, high = amplifier.width_mm, amplifier.depth_mm, amplifier.height_mm
    if height is not None and high is not None and high > height and bay.mounted_on == "floor":
        most = f"no more than {rounded(height)} mm high"
        return Check("place", most, f"{rounded(high)} mm", "unsuitable")
    if width is None or depth is None or wide is None or deep is None:
        return None
    if min(wide, deep) <= min(width, depth) and max(wide, deep) <= max(width, depth):
        return None
    words = f"{rounded(wide)} × {rounded(deep)} mm"
    most = f"no more than {rounded(width)} × {rounded(depth)} mm"
    return Check("place", most, words, "unsuitable")


# Where plugs and controls may be when nobody tells: on two opposite sides, these or those; and
# what bounds every body: none at all, and all on every side.
_TURNED: Mapping[str, tuple[str, ...]] = {
    "front_face": (), "right_face": ("power", "speaker"), "back_face": (),
    "left_face": ("signal", "controls"), "top_face": (),
}  # fmt: skip
_BARE: Mapping[str, tuple[str, ...]] = dict.fromkeys(FACES, ())
_FULL: Mapping[str, tuple[str, ...]] = dict.fromkeys(
    FACES, ("power", "speaker", "signal", "controls", "fins")
)


def place_checks(job: Job, together: Installed) -> list[Check]:
    """Return the checks of place and reach; none where nothing is told of the place.

    together : the amplifiers, with usual figures where none are told, and as they were told
    """
    wish = job.system.wishes.controls_in_place
    if not job.has_place:
        if wish != "must":
            return []
        return [
            Check(
                REACH,
                WANTED[REACH],
                "the size of the mounting space is not known",
                "not known",
                True,
            )
        ]
    for part in together.parts:
        too_large = body_check(job, part.amplifier)
        if too_large is not None:
            return [replace(too_large, about="" if together.is_single else part.name)]
    bodies = [part.amplifier for part in together.parts]
    checks = _placed(job, bodies, wish)
    given = [part.given for part in together.parts]
    is_open = any(face is None for each in given for face in each.faces)
    if is_open and checks[0].state != "not known":
        return _by_usual_faces(job, together, wish, checks)
    return checks


def _by_usual_faces(
    job: Job, together: Installed, wish: str, checks: Sequence[Check]
) -> list[Check]:
    """Weaken checks that rest on usual faces.

    What holds with these is likely, and suitable where it holds with everything on every side;
    what fails fails surely where the same faces turned and a bare body fail too.
    """

    def with_faces(faces: Mapping[str, tuple[str, ...]]) -> list[Check]:
        bodies = [
            replaced(
                part.amplifier,
                {key: faces[key] for key in FACES if getattr(part.given, key) is None},
            )
            for part in together.parts
        ]
        return _placed(job, bodies, wish)

    def all_give(at: int, state: State, *ways: Mapping[str, tuple[str, ...]]) -> bool:
        every = (with_faces(way) for way in ways)
        return all(at < len(found) and found[at].state == state for found in every)

    keys = ("front_face",)
    weakened = []
    for at, check in enumerate(checks):
        if check.state == "suitable":
            if not all_give(at, "suitable", _FULL):
                check = replace(check, state="likely", keys=keys)
        elif check.state == "not known" or not all_give(at, "unsuitable", _TURNED, _BARE):
            has = "depends on which end has the terminals and which the controls"
            check = replace(check, state="not known", has=has, keys=keys)
        weakened.append(check)
    return weakened


def _placed(job: Job, bodies: Sequence[Amplifier], wish: str) -> list[Check]:
    question = reach_question(job, bodies)
    if question.result is None:
        lacking = ("width_mm", "depth_mm", "height_mm")
        keys = tuple(key for key in lacking if any(getattr(body, key) is None for body in bodies))
        place = replace(judged("place", "mounting space", question), keys=keys)
        open_words = "the sizes are not all known"
        reach = Check(REACH, WANTED[REACH], open_words, "not known", wish == "must")
        return [place] if wish == "any" else [place, reach]
    design = question.result.design
    feasible = design.feasible
    state: State = "not known"
    if feasible is not None:
        state = "suitable" if feasible else "unsuitable"
    reason = "it fits, with every clearance" if feasible else question.verdict.reason
    needed = "mounting space, with clearance for plugs and air"
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
