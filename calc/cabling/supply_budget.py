"""The calculator `supply-budget`: will the alternator and the battery carry it?"""

from collections.abc import Mapping, Sequence
from typing import Any

from calc.answers.calculator import Calculator
from calc.answers.drawing import THIN, WIDEST, box, canvas, label, wire
from calc.answers.figures import listed, quantity, rounded
from calc.answers.sheet import Column, Drawing, Figure, Quantity, Sheet, Table, Verdict
from calc.cabling.fields import AMPLIFIER_CLASS, EFFICIENCY, IDLE_W, INVENTED, total_power
from calc.cabling.given import check_idle, demand_of
from calc.cabling.words import DUTIES, DUTY_WORDS, RULES_WIN
from calc.inputs.fields import Number
from calc.physics.amplifier_draw import DUTIES as DUTY_SHARES
from calc.physics.amplifier_draw import Demand
from calc.physics.feed import alternator_margin, peukert_hours


def supply_budget(given: Mapping[str, Any]) -> Sheet:
    """Compute `supply-budget`."""
    running, resting = _demand(given, "running_v"), _demand(given, "resting_v")
    careful = "" if given["amplifier_class"] else ", class AB"
    margins = {
        duty: _margins(given, running.current(duty), resting.current(duty)) for duty in DUTY_SHARES
    }
    upper = {
        duty: _margins(given, running.most_current(duty), resting.most_current(duty))
        for duty in DUTY_SHARES
    }
    drawn = {duty: (running.current(duty), running.most_current(duty)) for duty in DUTY_SHARES}
    return Sheet(
        sentence=_sentence(upper, given),
        verdict=_verdict(margins, upper),
        results={
            "duties": [
                {
                    "duty": duty,
                    "amplifier_a": drawn[duty][0],
                    "amplifier_ab_a": None if given["amplifier_class"] else drawn[duty][1],
                    **margins[duty],
                    **_bounds(given, upper[duty]),
                }
                for duty in DUTY_SHARES
            ]
        },
        figures=tuple(
            Figure(label + careful, Quantity(upper[duty][key], unit))
            for label, duty, key, unit in (
                ("Left at idle, normal listening", "normal", "margin_idle_a", "A"),
                ("Left on the road, loud music", "heavy", "margin_running_a", "A"),
                ("Engine off, normal listening", "normal", "engine_off_h", "h"),
            )
        ),
        drawings=(_drawing(given, running),),
        tables=(_table(given, running, margins, upper),),
        cautions=(
            *_short_cautions(margins, upper, drawn),
            "A battery that is run down often dies early; below half its charge a starter battery "
            "is harmed by each discharge (common practice, no source).",
            "Never run the engine in a closed room to feed an amplifier: exhaust gas kills.",
            "A larger alternator, a second battery or a converted electrical system: leave it to "
            "an auto-electrician.",
            "Electric or hybrid: the 12 V side only, never orange cables. A DC/DC converter stands "
            "in the alternator’s place: ask the vehicle maker for its rating, and give that with "
            "100 % at idle.",
            RULES_WIN,
        ),
        steps=_steps(given, running, resting),
        unknowns=(
            "What the vehicle draws in winter, at night, with everything on: measure it, or add a "
            "third (common practice, no source).",
            "The battery’s age and temperature: a cold or old one may hold half of it.",
            "Alternators that the engine’s computer holds back to save fuel: measure the voltage "
            "at the battery with the music playing.",
            "What a hot alternator gives: less than its rating.",
            "Draws far from a twentieth of the battery’s rating per hour: there Peukert’s law is a "
            "guess.",
            *(
                ("The class of the amplifier: the second figures are for class AB.",)
                if given["amplifier_class"] is None
                else ()
            ),
        ),
        sources=(
            "Peukert 1897: t = 20·(C/(20·I))^k with the 20-hour rating, less the reserve.",
            DUTIES,
            "An alternator gives 40–60 % of its rating at idle (from memory).",
        ),
    )


def _demand(given: Mapping[str, Any], volt: str) -> Demand:
    return demand_of({**given, "supply_v": given[volt]}, given["total_power_w"])


def _margins(
    given: Mapping[str, Any], running_a: float, resting_a: float
) -> dict[str, float | None]:
    """Return what is left of the alternator, and the battery's time, for two currents."""
    return {
        "margin_idle_a": _margin(given, given["idle_percent"] / 100, running_a),
        "margin_running_a": _margin(given, 1.0, running_a),
        "engine_off_h": _hours(given, resting_a),
    }


def _margin(given: Mapping[str, Any], share: float, amplifier_a: float) -> float:
    return alternator_margin(
        alternator_a=given["alternator_a"],
        share=share,
        vehicle_a=given["vehicle_a"],
        amplifier_a=amplifier_a,
    )


def _hours(given: Mapping[str, Any], amplifier_a: float) -> float | None:
    hours = peukert_hours(
        battery_ah=given["battery_ah"],
        draw_a=amplifier_a + given["vehicle_off_a"],
        peukert=given["peukert"],
    )
    return None if hours is None else hours * (1 - given["reserve_percent"] / 100)


def _bounds(given: Mapping[str, Any], upper: Mapping[str, float | None]) -> dict[str, Any]:
    """Return the class AB figures, which exist only where the class is not known."""
    known = given["amplifier_class"] is not None
    return {
        "margin_idle_ab_a": None if known else upper["margin_idle_a"],
        "margin_running_ab_a": None if known else upper["margin_running_a"],
        "engine_off_ab_h": None if known else upper["engine_off_h"],
    }


Margins = Mapping[str, Mapping[str, float | None]]
# What the amplifier draws at each duty, and at most where its class is not known [A].
Drawn = Mapping[str, tuple[float, float]]


def _sentence(upper: Margins, given: Mapping[str, Any]) -> str:
    """Say it by the careful figures: class AB where the class is not known."""
    hours = upper["normal"]["engine_off_h"]
    off = "with the engine off nothing is drawn"
    if hours is not None:
        off = f"with the engine off it plays for {_time_words(hours)} at normal listening"
    careful = "At" if given["amplifier_class"] else "Counted as class AB: at"
    return (
        f"{careful} idle, normal listening: {_left_words(upper['normal']['margin_idle_a'])}; on "
        f"the road, loud music: {_left_words(upper['heavy']['margin_running_a'])}; {off}."
    )


def _left_words(ampere: float | None) -> str:
    left = ampere or 0.0
    return f"{quantity(abs(left), 'A', 3)} {'short' if left < 0 else 'to spare'}"


def _time_words(hours: float) -> str:
    if hours > 100:
        return f"more than {quantity(100.0, 'h')}"
    if hours < 1:
        return f"about {quantity(60 * hours, 'min', 2)}"
    return f"about {quantity(hours, 'h', 2)}"


def _verdict(margins: Margins, upper: Margins) -> Verdict:
    """Judge by normal listening on the road: there the alternator must keep up."""
    on_road = margins["normal"]["margin_running_a"] or 0.0
    if on_road < 0:
        return Verdict(
            "unsuitable",
            f"{quantity(-on_road, 'A', 3)} missing on the road with normal listening; the battery "
            "would run down. Switch other loads off, turn it down, or choose class D.",
        )
    careful = upper["normal"]["margin_running_a"] or 0.0
    if careful < 0:
        return Verdict(
            "not known",
            f"the class of the amplifier is missing; class AB would lack "
            f"{quantity(-careful, 'A', 3)} on the road with normal listening.",
        )
    limits = [
        words
        for duty, key, words in (
            ("normal", "margin_idle_a", "at idle"),
            ("heavy", "margin_running_a", "on the road with loud music"),
            ("full", "margin_running_a", "at full power"),
        )
        if (upper[duty][key] or 0.0) < 0
    ]
    beyond = f", though not {listed(limits)} for long" if limits else ""
    return Verdict(
        "suitable", f"the alternator keeps up on the road with normal listening{beyond}."
    )


def _short_cautions(margins: Margins, upper: Margins, drawn: Drawn) -> tuple[str, ...]:
    """Warn of what is short at idle or with loud music, with the amplifier's own share of it."""
    found = []
    for duty, key, where in (
        ("normal", "margin_idle_a", "at idle with normal listening"),
        ("heavy", "margin_running_a", "on the road with loud music"),
    ):
        for figures, amplifier_a, word in (
            (margins, drawn[duty][0], ""),
            (upper, drawn[duty][1], ", counted as class AB"),
        ):
            short = -(figures[duty][key] or 0.0)
            if short <= 0:
                continue
            own = min(short, amplifier_a)
            found.append(
                f"{quantity(short, 'A', 3)} short {where}{word}, {quantity(own, 'A', 3)} of it the "
                "amplifier’s: the battery makes up for it. Short stops do no harm, long ones with "
                "music run it down."
            )
            break
    return tuple(found)


def _table(given: Mapping[str, Any], running: Demand, margins: Margins, upper: Margins) -> Table:
    unknown = given["amplifier_class"] is None

    def cells(duty: str) -> Sequence[Quantity]:
        both = (margins[duty], upper[duty]) if unknown else (margins[duty],)
        return [
            Quantity(one[key])
            for key in ("margin_idle_a", "margin_running_a", "engine_off_h")
            for one in both
        ]

    heads = [("Left at idle", "A"), ("Left on the road", "A"), ("Engine off", "h")]
    suffixes = ("", ", class AB") if unknown else ("",)
    return Table(
        name="duties",
        caption="At three duties: what the alternator has left, and the time with the engine off",
        columns=(
            Column("Duty"),
            Column("Amplifier draws", "A", decimals=1),
            *(
                Column(word + suffix, unit, decimals=1 if unit == "A" else 2)
                for word, unit in heads
                for suffix in suffixes
            ),
        ),
        rows=tuple(
            (DUTY_WORDS[duty], Quantity(running.current(duty)), *cells(duty))
            for duty in DUTY_SHARES
        ),
        note="A figure below 0 comes out of the battery.",
    )


def _drawing(given: Mapping[str, Any], running: Demand) -> Drawing:
    """Draw bars of current: what the alternator gives, what vehicle and amplifier take."""
    idle = given["alternator_a"] * given["idle_percent"] / 100
    rows = [
        ("alternator", "on the road", given["alternator_a"], 0.0),
        ("alternator", "at idle", idle, 0.0),
        *(
            ("vehicle + amplifier", DUTY_WORDS[duty], given["vehicle_a"], running.current(duty))
            for duty in reversed(DUTY_SHARES)
        ),
    ]
    most = max(first + second for _, _, first, second in rows)
    scale = (WIDEST - 84) / most
    parts, y = [], 16.0
    for what, when, first, second in rows:
        parts.append(label(4, y, f"{what}, {when}", anchor="start"))
        parts.append(box(4, y + 12, max(first * scale, 0.5), 16, heavy=second == 0))
        if second:
            start = 4 + first * scale
            parts.append(box(start, y + 12, max(second * scale, 0.5), 16))
            parts += [
                wire(
                    (start + at, y + 28),
                    (min(start + at + 8, start + second * scale), y + 12),
                    width=THIN,
                )
                for at in range(0, int(second * scale) - 8, 8)
            ]
        parts.append(
            label(
                12 + (first + second) * scale,
                y + 20,
                quantity(first + second, "A", 3),
                anchor="start",
            )
        )
        y += 54
    told = "; ".join(
        f"{what}, {when}: {quantity(first + second, 'A', 3)}" for what, when, first, second in rows
    )
    return Drawing(
        "What is given and what is taken",
        f"Bars of current; the amplifier’s share is hatched. {told}.",
        canvas(WIDEST, y - 4, parts),
    )


def _steps(given: Mapping[str, Any], running: Demand, resting: Demand) -> tuple[str, ...]:
    idle = given["alternator_a"] * given["idle_percent"] / 100
    normal = running.current("normal")
    off = resting.current("normal") + given["vehicle_off_a"]
    hours = _hours(given, resting.current("normal"))
    steps = [
        f"Full power draws {quantity(running.full_a, 'A')} at {quantity(given['running_v'], 'V')}, "
        f"normal listening {quantity(normal, 'A')}.",
        f"At idle the alternator gives {rounded(given['idle_percent'])} % of "
        f"{quantity(given['alternator_a'], 'A')} = {quantity(idle, 'A')}; less the vehicle’s "
        f"{quantity(given['vehicle_a'], 'A')} and the amplifier’s {quantity(normal, 'A')}: "
        f"{quantity(idle - given['vehicle_a'] - normal, 'A')}.",
    ]
    if hours is not None:
        steps.append(
            f"Engine off, normal listening: 20 h × ({quantity(given['battery_ah'], 'Ah')} ÷ "
            f"(20 h × {quantity(off, 'A')}))^{rounded(given['peukert'])} × "
            f"{rounded(100 - given['reserve_percent'])} % = {quantity(hours, 'h')}."
        )
    return tuple(steps)


SUPPLY_BUDGET = Calculator(
    name="supply-budget",
    title="Can the vehicle feed it?",
    question="Will the alternator and the battery carry this amplifier?",
    fields=(
        Number(
            key="alternator_a", label="Alternator’s rating", default="120", low=10, high=600,
            presets=(70, 90, 120, 150), source=INVENTED,
            hint="Electric or hybrid: the rating of the DC/DC converter to 12 V.",
        ),
        Number(
            key="idle_percent", label="What it gives at idle", default="50", low=0, high=100,
            hint="Of its rating; 40 to 60 is usual.", source="from memory", more=True,
        ),
        Number(
            key="vehicle_a", label="What the vehicle itself draws, engine running", default="40",
            low=0, high=400, hint="Engine, lights, blower, heated windows.", source=INVENTED,
        ),
        total_power("250"),
        EFFICIENCY,
        AMPLIFIER_CLASS,
        IDLE_W,
        Number(
            key="battery_ah", label="Battery’s 20-hour rating", default="70", low=5, high=1000,
            presets=(44, 60, 70, 95), source=INVENTED,
        ),
        Number(
            key="reserve_percent", label="Kept back to start the engine", default="50", low=0,
            high=100, presets=(30, 50), source="common practice, no source",
        ),
        Number(
            key="vehicle_off_a", label="What the vehicle draws, engine off", default="0", low=0,
            high=100, hint="Head unit, lights, fridge.",
        ),
        Number(
            key="peukert", label="Peukert’s exponent", default="1.2", low=1, high=2, more=True,
            hint="1.1 to 1.3 for lead, near 1.05 for lithium (from memory).",
        ),
        Number(
            key="running_v", label="Voltage, engine running", default="14.4", low=9, high=32,
            more=True,
        ),
        Number(
            key="resting_v", label="Voltage, engine off", default="12.6", low=8, high=32, more=True,
        ),
    ),
    groups=(
        ("The alternator", ("alternator_a", "vehicle_a", "idle_percent", "running_v")),
        ("The amplifiers", ("total_power_w", "efficiency_percent", "amplifier_class", "idle_w")),
        (
            "The battery, engine off",
            ("battery_ah", "reserve_percent", "vehicle_off_a", "peukert", "resting_v"),
        ),
    ),
    compute=supply_budget,
    check=lambda given: check_idle(given, given.get("total_power_w")),
)  # fmt: skip
