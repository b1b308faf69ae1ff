"""What the workshop sheet says in sentences: the system, the verdict, what is given up, asks."""

from collections.abc import Iterator

from calc.answers.figures import capital, listed, quantity
from calc.answers.sheet import Verdict
from calc.choosing.asking import Ask, questions_about_car, questions_to_seller
from calc.choosing.origins import assumed_of, example_label
from calc.choosing.places import Place, places_of
from calc.choosing.plan import Plan
from calc.choosing.usual_words import range_words, value_words
from calc.choosing.words import the, watts_of, why
from calc.choosing.workshop.lookups import amplifiers_of, kit_missing, outputs_text
from calc.choosing.workshop.table import held_of
from calc.system.usual import Assumed

_MOST_USUAL = 2
_MOST_ASKS = 10
# Of the usual figures those that a box, a radio or a look at the car tells.
_FIRST = (
    "source_v", "factory_power_w", "power_2ohm_w", "min_channel_ohm", "high_pass_hz", "low_pass_hz",
    "lowest_hz", "alternator_a", "engine_c", "channels", "sensitivity_max_v",
)  # fmt: skip
_STANDING = "Workshop sheet"


def title_of(plan: Plan) -> str:
    """Return the system in trade words: which speakers on which amplifier."""
    layout = plan.candidate.layout
    if layout is None:
        names = [feed.name for feed in plan.job.feeds]
        return f"{_STANDING}: {listed(names)} on {listed(list(amplifiers_of(plan)))}"
    places = places_of(plan)
    if not places:
        names = [feed.name for feed, _, _ in layout.uses]
        return f"{_STANDING}: {listed(names)} on {listed(list(amplifiers_of(plan)))}"
    parts = []
    for amplifier in amplifiers_of(plan):
        own = dict.fromkeys(
            f"{place.feed.name} bridged" if place.is_bridged else place.feed.name
            for place in places
            if place.amplifier == amplifier
        )
        if own:
            parts.append(f"{listed(list(own))} on {amplifier}")
    return f"{_STANDING}: {'; '.join(parts)}"


def say_of(plan: Plan) -> str:
    """Return one sentence to be read aloud: which speakers on which outputs, at what power."""
    places = places_of(plan)
    if plan.stop or not places:
        name = capital(the(plan.candidate.name))
        return plan.stop or f"{name} cannot run these speakers in any layout."
    names = amplifiers_of(plan)
    parts = []
    for amplifier in names:
        by_feed: dict[str, list[Place]] = {}
        for place in places:
            if place.amplifier == amplifier:
                by_feed.setdefault(place.feed.name, []).append(place)
        said = [f"the {name} {_outputs(on_it)}{_watts(on_it)}" for name, on_it in by_feed.items()]
        if said:
            parts.append(f"{the(amplifier)} drives {listed(said)}")
    return f"{capital('; '.join(parts))}."


def _outputs(on_it: list[Place]) -> str:
    outputs = listed([outputs_text(place.own) for place in on_it])
    return f"{'bridged on' if on_it[0].is_bridged else 'on'} {outputs}"


def _watts(on_it: list[Place]) -> str:
    power = on_it[0].channel.power_w
    if power is None:
        return ""
    # What the gain's ceiling leaves of it, as the table has it: “80 of 110 W”.
    channel, held = on_it[0].channel, held_of(on_it[0].channel)
    told = watts_of(power, held)
    if on_it[0].feed.branches:
        watts = [load.power_w for load in channel.loads if load.power_w is not None]
        shares = dict.fromkeys(quantity(held * each, "W", 3) for each in watts)
        return f" ({told} a side: {' and '.join(shares)} for each speaker)"
    each = " each" if len(on_it) > 1 else ""
    return f" ({told}{each})"


def verdict_of(plan: Plan) -> Verdict:
    """Return the verdict as the sheet has it; of a likely one the figures are told apart."""
    candidate = plan.candidate
    if candidate.state == "likely":
        return Verdict("likely", "it works across the usual range of every figure you left open.")
    if candidate.state == "suitable":
        whose = "the example’s, and invented" if example_label(plan.job.given) else "yours"
        return Verdict("suitable", f"every figure that decides it is {whose}.")
    return Verdict(candidate.state, why(candidate))


def rests_of(plan: Plan) -> str:
    """Return the usual figures that a verdict rests on, with their ranges; empty for none."""
    candidate = plan.candidate
    keys = {key for check in candidate.checks if check.state == "likely" for key in check.keys}
    taken = [
        each
        for each in assumed_of(plan.job, candidate)
        if each.usual.key in keys and each.usual.value != ()
    ]
    if not taken:
        return ""
    taken.sort(key=lambda each: _FIRST.index(each.usual.key) if each.usual.key in _FIRST else 99)
    own = amplifiers_of(plan)
    # What was taken of several amplifiers alike is told once, without their names.
    words = [(each, _usual_words(each, is_own=each.where in own)) for each in taken]
    of_one = {each.usual.what: text for each, text in words}
    unlike = {each.usual.what for each, text in words if of_one[each.usual.what] != text}
    told = dict.fromkeys(
        _usual_words(each, is_own=False) if each.usual.what in unlike else text
        for each, text in words
    )
    shown = list(told)[:_MOST_USUAL]
    more = len(told) - len(shown)
    return f"Based on usual figures: {'; '.join(shown)}" + (
        f"; and {more} more, listed on the plan’s page." if more else "."
    )


def _usual_words(taken: Assumed, *, is_own: bool) -> str:
    usual, range_ = taken.usual, range_words(taken.usual)
    figure = f"{usual.what} {value_words(usual)}"
    text = figure if is_own else f"{taken.where}, {figure}"
    return text if range_ == "–" else f"{text} ({range_})"


# ---- questions


def asks_of(plan: Plan) -> tuple[str, ...]:
    """Return what to settle before the work begins: what decides first."""
    candidate = plan.candidate
    seller = questions_to_seller(candidate)
    car = questions_about_car(candidate, plan.job)
    has_several = len(amplifiers_of(plan)) > 1

    def of_seller(ask: Ask) -> str:
        return f"Seller, {ask.amplifier}: {ask.words}" if has_several else f"Seller: {ask.words}"

    decisive = [of_seller(ask) for ask in seller if ask.is_decisive]
    decisive += [_of_car(ask.words) for ask in car if ask.is_decisive]
    rest = [of_seller(ask) for ask in seller if not ask.is_decisive]
    rest += [_of_car(ask.words) for ask in car if not ask.is_decisive]
    every = [*decisive, *_radio_asks(plan), *plan.job.questions, *rest, *_open_lines(plan)]
    every = list(dict.fromkeys(every))
    sensor = (
        "At the car: is there a sensor on the battery’s negative post? Then earth to the body "
        "(chassis), never to the post."
    )
    if len(every) > _MOST_ASKS - 1:
        left = len(every) - (_MOST_ASKS - 2)
        every = [*every[: _MOST_ASKS - 2], f"{left} more questions are on the plan’s page."]
    return (*every, sensor)


def _of_car(words: str) -> str:
    text = f"{words[0].lower()}{words[1:]}"
    return f"At the car: {text}" if words.endswith("?") else f"At the car: find out {text}."


_RADIO = {
    "outputs_float": "Head unit: do its speaker outputs float? Never earth either lead.",
    "bass_folds_back": "Head unit: does it cut the bass when played loud?",
    "already_filtered": "Head unit: are its outputs filtered already?",
    "checks_its_load": "Head unit: does it check that its speakers are connected?",
}


def _radio_asks(plan: Plan) -> Iterator[str]:
    """Yield what must be asked about a factory radio, where nobody has said it yet."""
    head = plan.job.system.head_unit
    if head.source_v is not None:
        return
    for key, words in _RADIO.items():
        if getattr(head, key) in (None, "not-known"):
            yield words


def _open_lines(plan: Plan) -> Iterator[str]:
    """Yield the lengths that the kit list still lacks."""
    missing = kit_missing(plan)
    if missing:
        yield f"At the car: find out {listed(missing)}."
