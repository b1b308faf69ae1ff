"""The best few arrangements beside one another, as a table and as data."""

from collections.abc import Sequence

from calc.answers.figures import listed, quantity
from calc.answers.sheet import Cell, Column, Press, Table, Verdict
from calc.choosing.checks.layout import ASKED_WORDS
from calc.choosing.compared import MOST_SHOWN, Compared, words_to
from calc.choosing.words import fault, layout_words

_BACK = "Back to the best"
_RANKS = ("best", "second", "third", "fourth")


def layout_data(compared: Compared, word: str) -> dict[str, object]:
    """Return an arrangement as the contract has it.

    word : of the wish that leads to it; empty where none does
    """
    return {
        "words": layout_words(compared.layout),
        "power_per_speaker_w": dict(compared.powers_w),
        "verdict": compared.candidate.state.replace(" ", "-"),
        "gives_up": list(compared.gives_up),
        "amplifiers": compared.boxes,
        "speaker_cable_m": compared.speaker_cable_m,
        "asked": compared.is_asked,
        "layout": word or None,
    }


def layout_tables(every: Sequence[Compared], asked: str) -> tuple[Table, ...]:
    """Return the table of arrangements; none where there is but one.

    asked : the word of the wish
    """
    if len(every) < 2:
        return ()
    shown = _place_of_asked(every, asked)
    return (
        Table(
            name="layouts",
            caption="Other ways to connect them",
            columns=(
                Column("Speakers on channels", wide=True),
                Column("Power per speaker", wide=True),
                Column("Result, and what it gives up", wide=True),
                Column("Amplifiers"),
                Column("Speaker cable", "m"),
                Column("Plan it", pressed=True),
            ),
            rows=tuple(
                (
                    layout_words(each.layout),
                    _powers(each),
                    Verdict(each.candidate.state, _words(each)),
                    each.boxes,
                    each.speaker_cable_m,
                    _way(at, word, shown),
                )
                for at, (each, word) in enumerate(zip(every, words_to(every), strict=True))
            ),
            marked=shown,
            note="Best first: nothing given up, then the fewest speakers short of power.",
            cards=True,
        ),
    )


def _place_of_asked(every: Sequence[Compared], asked: str) -> int | None:
    """Return which of them is planned: the first that is as asked; None where none is."""
    if asked == "best":
        return 0
    return next((at for at, each in enumerate(every) if each.is_asked), None)


def _way(at: int, word: str, shown: int | None) -> Cell:
    """Return the button that leads to an arrangement."""
    if at == shown:
        return "planned here"
    if not word:
        return "–"
    return Press(_BACK if at == 0 else "Show me this one", "layout", word)


def asked_words(every: Sequence[Compared], asked: str) -> str:
    """Say where an arrangement ranks that the reader asks for; nothing where any will do."""
    if asked == "best":
        return ""
    words = f"You asked for {ASKED_WORDS[asked]}."
    at = _place_of_asked(every, asked)
    if at is None:
        return f"{words} It cannot be done here; this is the best of the other layouts."
    if at == 0:
        return f"{words} It is the best layout here."
    rank = _RANKS[at] if at < MOST_SHOWN else f"below the best {MOST_SHOWN}"
    return f"{words} It ranks {rank}: {_why_lower(every[at], every[0])}."


def ways_back(every: Sequence[Compared], asked: str) -> tuple[Press, ...]:
    """Return the way back to the best arrangement, where another is asked for."""
    if asked == "best" or _place_of_asked(every, asked) == 0:
        return ()
    return (Press(_BACK, "layout", "best"),)


def _words(compared: Compared) -> str:
    failing = [check for check in compared.candidate.checks if check.decides]
    words = [fault(check) for check in failing] + list(compared.gives_up)
    return "; ".join(words) or "nothing given up"


def _powers(compared: Compared) -> str:
    return "; ".join(
        f"{name} {'not known' if watts is None else quantity(watts, 'W', 3)}"
        for name, watts in compared.powers_w.items()
    )


def _why_lower(asked: Compared, best: Compared) -> str:
    """Say why an arrangement ranks below the best."""
    failing = [check for check in asked.candidate.checks if check.decides]
    if failing:
        return fault(failing[0])
    if asked.candidate.given_up > best.candidate.given_up:
        return "; ".join(asked.layout.job.gives_up)
    weaker = [
        name
        for name, watts in asked.powers_w.items()
        if (watts or 0.0) < 0.95 * (best.powers_w.get(name) or 0.0)
    ]
    if weaker:
        return f"less power for {listed(weaker)}"
    is_equal = asked.candidate.score >= best.candidate.score
    return "it is just as good, and came second" if is_equal else "fewer points"
