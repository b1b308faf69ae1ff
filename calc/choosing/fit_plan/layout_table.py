"""The best few arrangements beside one another, as a table and as data."""

from collections.abc import Sequence

from calc.answers.figures import listed, quantity
from calc.answers.sheet import Column, Table, Verdict
from calc.choosing.compared import Compared
from calc.choosing.words import layout_words, needed_and_has


def layout_data(compared: Compared) -> dict[str, object]:
    """Return an arrangement as the contract has it."""
    return {
        "words": layout_words(compared.layout),
        "power_per_speaker_w": dict(compared.powers_w),
        "verdict": compared.candidate.state.replace(" ", "-"),
        "gives_up": list(compared.gives_up),
        "amplifiers": compared.boxes,
        "speaker_cable_m": compared.speaker_cable_m,
        "asked": compared.is_asked,
    }


def layout_tables(every: Sequence[Compared]) -> tuple[Table, ...]:
    """Return the table of arrangements; none where there is but one."""
    if len(every) < 2:
        return ()
    asked = next((at for at, each in enumerate(every) if each.is_asked), None)
    note = "Best first: what gives nothing up, then what leaves the fewest speakers weak."
    if asked is not None and asked > 0:
        note += f" What you ask for ranks {asked + 1}, for {_why_lower(every[asked], every[0])}."
    return (
        Table(
            name="layouts",
            caption="Other ways to connect them",
            columns=(
                Column("Speakers on channels", wide=True),
                Column("Power per speaker", wide=True),
                Column("Judged, and what it gives up", wide=True),
                Column("Amplifiers"),
                Column("Speaker cable", "m"),
            ),
            rows=tuple(
                (
                    layout_words(each.layout),
                    _powers(each),
                    Verdict(each.candidate.state, _words(each)),
                    each.boxes,
                    each.speaker_cable_m,
                )
                for each in every
            ),
            marked=0,
            note=note,
            cards=True,
        ),
    )


def _words(compared: Compared) -> str:
    failing = [check for check in compared.candidate.checks if check.decides]
    words = [needed_and_has(check) for check in failing] + list(compared.gives_up)
    return listed(words) or "nothing given up"


def _powers(compared: Compared) -> str:
    return "; ".join(
        f"{name} {'not known' if watts is None else quantity(watts, 'W', 3)}"
        for name, watts in compared.powers_w.items()
    )


def _why_lower(asked: Compared, best: Compared) -> str:
    """Say why an arrangement ranks below the best."""
    failing = [check for check in asked.candidate.checks if check.decides]
    if failing:
        return f"{failing[0].name}: {failing[0].has}"
    if asked.candidate.given_up > best.candidate.given_up:
        return f"what it gives up: {listed(list(asked.layout.job.gives_up))}"
    weaker = [
        name
        for name, watts in asked.powers_w.items()
        if (watts or 0.0) < 0.95 * (best.powers_w.get(name) or 0.0)
    ]
    return f"less power at {listed(weaker)}" if weaker else "fewer points"
