"""Random inputs made from a calculator's declared fields.

`valid_inputs` and `invalid_inputs` know nothing of a calculator but its fields; where
fields depend on one another, an entry of `_FITS` brings them together.
"""

from decimal import ROUND_HALF_UP, Decimal
from functools import partial
from itertools import islice

from payloads import HUGE_ROWS
from system_inputs import fit_system, shelf

from calc.coils.model import MOST_COILS, Driver, Survey
from calc.inputs.fields import Choice, Document, Number, Numbers, Pattern, Rows, Text, Whole
from calc.inputs.form import Form
from calc.setup.steps import steps_of

# ---- valid inputs


def valid_inputs(calculator, rng, as_text=False):
    """Return raw inputs that the calculator must accept; some fields are left out.

    as_text : rows are written as one text, as in a link, never as a list of lists
    """
    given = {one.key: _valid(one, rng, as_text) for one in calculator.fields if rng.random() < 0.7}
    fit = _FITS.get(calculator.name)
    return fit(calculator, given, rng) if fit else given


def _valid(one, rng, as_text):
    if one.optional and rng.random() < 0.25:
        return rng.choice(["", " "])
    if isinstance(one, Rows):
        return _valid_rows(one, rng, as_text)
    if isinstance(one, Number):
        return _spelled(_within(one, rng), rng)
    if isinstance(one, Choice):
        return rng.choice([word for word, _ in one.options])
    if isinstance(one, Numbers):
        numbers = [_valid(one.each, rng, as_text) for _ in range(rng.randint(1, min(12, one.most)))]
        return ";".join(numbers)
    if isinstance(one, Document):
        return shelf(rng, _valid)
    if isinstance(one, Pattern):
        return rng.choice(one.examples)
    assert isinstance(one, Text), f"no random inputs for {one.kind}"
    signs = [chr(code) for code in range(33, 127) if chr(code) not in ",;"] + list("äΩ²–😀")
    return "".join(rng.choice(signs) for _ in range(rng.randint(1, min(one.longest, 12))))


def _valid_rows(one, rng, as_text):
    if one.count_of is not None and rng.random() < 0.5:
        return _valid(one.count_of, rng, as_text).replace(",", ".")
    cells = [
        [_valid(column, rng, as_text) for column in one.columns]
        for _ in range(rng.randint(1, min(one.most, 5)))
    ]
    if as_text or rng.random() < 0.5:
        # In a text the comma parts the cells, so the decimal mark is a point.
        return ";".join(",".join(cell.replace(",", ".") for cell in row) for row in cells)
    return cells


def _within(one, rng):
    low, high = Decimal(repr(one.low)), Decimal(repr(one.high))
    if isinstance(one, Whole):
        return Decimal(rng.choice([one.low, one.high, rng.randint(int(one.low), int(one.high))]))
    span = rng.choice([high - low, min(high - low, Decimal(20))])
    value = low + Decimal(repr(rng.random())) * span
    steps = [Decimal(1), Decimal("0.1"), Decimal("0.001"), Decimal("0.0000001")]
    value = value.quantize(rng.choice(steps), rounding=ROUND_HALF_UP)
    usual = [Decimal(repr(preset)) for preset in one.presets]
    return rng.choice([low, high, *usual, *[min(max(value, low), high)] * 4])


def _spelled(value, rng):
    text = f"{value:f}"
    if "." not in text and rng.random() < 0.4:
        text += rng.choice([".0", ".00"])
    if rng.random() < 0.4:
        text = text.replace(".", ",")
    return rng.choice(["", "", " ", "   "]) + text + rng.choice(["", "", " "])


def _drivers(calculator, given):
    fields = Form(calculator.fields)  # each by itself, without what they come to together
    values = fields.read({**given, "intended": "0"} if "intended" in given else given)
    rows = values["drivers"]
    if isinstance(rows, int):
        return (Driver(values["coils_per_driver"], values["coil_ohm"]),) * rows
    return tuple(Driver(row["coils"], row["coil_ohm"]) for row in rows)


def _fit_coils(calculator, given, rng):
    """Draw the drivers anew until their coils are few enough (fewer yet when unlike)."""
    by_key = calculator.form.by_key
    as_text = isinstance(given.get("drivers", ""), str)
    while True:
        drivers = _drivers(calculator, given)
        most = {1: MOST_COILS, 2: 6}.get(len(set(drivers)), 5)
        if sum(one.coils for one in drivers) <= most:
            return given
        for key in ("drivers", "coils_per_driver"):
            given[key] = _valid(by_key[key], rng, as_text)


def _fit_intended(calculator, given, rng):
    given = _fit_coils(calculator, given, rng)
    drivers = _drivers(calculator, given)
    found = list(islice(Survey(drivers).ranked(2.0), 60))
    at = rng.randrange(len(found))
    notation = found[at].circuit.notation
    spaced = notation.replace("+", " + ")
    longest = calculator.form.by_key["intended"].longest
    fitting = [text for text in (notation, spaced) if len(text) <= longest]
    given["intended"] = rng.choice([str(at), *fitting])
    return given


def _redrawn(*keys):
    """Return a fit that draws the fields of these keys anew until they agree."""

    def fit(calculator, given, rng):
        by_key = calculator.form.by_key
        while True:
            values = Form(calculator.fields).read(given)
            if not list(calculator.form.check(values)):
                return given
            for key in keys:
                given[key] = _valid(by_key[key], rng, as_text=True)

    return fit


_KINDS_OF_SECTION = ("tweeter", "midrange", "mid-bass", "full-range", "woofer")


def _fit_split(calculator, given, rng):
    """Draw a system whose rows agree: sections on pairs, and filters for those pairs."""
    pairs = ["1/2", "3/4", "5+6", "7"][: rng.randint(1, 4)]
    used = [rng.choice(pairs) for _ in range(rng.randint(1, 5))]
    sections = [_section_row(channels, rng) for channels in used]
    feeds = [channels.replace("+", "/") for channels in dict.fromkeys(used)]
    given = {key: given[key] for key in ("tweeter_capacitor", "tweeter_ohm") if key in given}
    given["sections"] = ";".join(sections)
    for key in ("head_unit", "amplifier"):
        given[key] = ";".join(
            _filter_row(channels, kind, key, rng)
            for channels in feeds
            for kind in ("high-pass", "low-pass")
            if rng.random() < 0.6
        )
    both = [channels for channels in dict.fromkeys(used) if used.count(channels) > 1]
    given["passive"] = ";".join(
        f"{one},{rng.randint(200, 6000)},butterworth,2,both" for one in both
    )
    return given


def _section_row(channels, rng):
    lowest, top = rng.randint(30, 3000), rng.choice(["", rng.randint(3001, 9000)])
    kind = rng.choice(_KINDS_OF_SECTION)
    if kind not in ("tweeter", "full-range"):
        top = rng.randint(3001, 9000)
    return f"{kind},{channels},{lowest},{rng.randint(1, 4)},{top},,{rng.randint(-9, 9)}"


def _filter_row(channels, kind, key, rng):
    corners = rng.choice(["50-500", "60/80/100/120", "80", "500-5000.5", "40/63.5/2500"])
    family, orders = rng.choice([("butterworth", "1/2"), ("linkwitz-riley", "4"), ("bessel", "3")])
    switch = rng.choice(["", f"s{channels[0]}"])
    off = "yes" if switch or rng.random() < 0.8 else "no"
    times = rng.choice(["1", "1/10"])
    return f"{channels},{kind},{corners},{times},{family},{orders},{switch},{off}"


def _fit_demand(*keys):
    """Draw anew what amplifiers draw until it agrees, with fuses that there are."""
    again = _redrawn("regulated_min_v", "supply_v", "idle_w", "efficiency_percent", *keys)

    def fit(calculator, given, rng):
        if "amp_fuses_a" in given:
            given["amp_fuses_a"] = rng.choice(["", "30", "7,5", "25;7.5; 40"])
        return again(calculator, given, rng)

    return fit


def _fit_tree(calculator, given, rng):
    """Draw runs that form a tree, and loads that hang on it."""
    names = ["battery", *(f"place {at}" for at in range(1, rng.randint(2, 7)))]
    runs = [
        f"{rng.choice(names[:at])},{names[at]},{rng.randint(1, 80) / 10}"
        for at in range(1, len(names))
    ]
    loads = [f"{rng.choice(names[1:])},{rng.randint(1, 400)}" for _ in range(rng.randint(1, 4))]
    given |= {"runs": ";".join(rng.sample(runs, len(runs))), "loads": ";".join(loads)}
    return _fit_demand()(calculator, given, rng)


def _fit_kit(calculator, given, rng):
    """Draw amplifiers of different names, and routes between them and other places."""
    names = [f"amplifier {at}" for at in range(1, rng.randint(2, 4))]
    is_known = rng.random() < 0.8  # else a figure here or there is missing
    rows = [
        f"{name},{rng.randint(1, 900) if is_known else ''},{rng.choice(['yes', 'no'])},"
        f"{rng.randint(0, 3)},{rng.randint(0, 4)}"
        for name in names
    ]
    routes = [f"power,battery,block,{rng.randint(1, 60) / 10}"]
    routes += [f"power,{rng.choice(['battery', 'block'])},{name},0.7" for name in names]
    routes += [
        f"{rng.choice(['earth', 'signal', 'speaker', 'trigger'])},{rng.choice(names)},"
        f"somewhere,{rng.randint(1, 90) / 10 if is_known else ''}"
        for _ in range(rng.randint(0, 6))
    ]
    given |= {"amplifiers": ";".join(rows), "routes": ";".join(routes)}
    is_led = any(one.startswith("speaker") for one in routes)
    given["loads"] = f"somewhere,{rng.randint(1, 64)}" if is_led and rng.random() < 0.5 else ""
    return _fit_demand()(calculator, given, rng)


def _fit_one_way(calculator, given, rng):
    """Tell the size in one way, or leave it to the default."""
    for keys in calculator.alternatives:
        for key in keys:
            given.pop(key, None)
    for key in rng.choice([*calculator.alternatives, ()]):
        one = calculator.form.by_key[key]
        while not given.get(key, "").strip():
            given[key] = _valid(one, rng, as_text=True)
    return given


_LEADS = ("power", "signal", "speaker")
_HOLDINGS = ("power", "speaker", "signal", "controls", "fins")


def _amplifier_rows(rng, names):
    """Draw amplifiers that may stand in one bay, each with something on a face or two."""
    rows = []
    for name in names:
        faces = [
            "+".join(rng.sample(_HOLDINGS, rng.choice([0, 0, 1, 2]))) or "none" for _ in range(5)
        ]
        size = f"{rng.randint(100, 330)},{rng.randint(80, 220)},{rng.randint(30, 160)}"
        rows.append(f"{name},{size},{','.join(faces)}")
    return ";".join(rows)


def _fit_mounting(calculator, given, rng):
    """Draw a bay of ordinary size, amplifiers of different names, and ways that lead on."""
    count = rng.choice([1, 1, 2, 2, 3])
    given |= {
        "bay_width_mm": str(rng.randint(250, 1100)),
        "bay_depth_mm": str(rng.randint(200, 900)),
        "amplifiers": _amplifier_rows(rng, [f"one {at}" for at in range(count)]),
        "keep_outs": ";".join(
            f"{rng.randint(-50, 600)},{rng.randint(-50, 500)},{rng.randint(1, 200)},90.5"
            for _ in range(rng.randint(0, 3))
        ),
        "entries": ";".join(
            f"{lead},{rng.randint(-100, 900)},{rng.randint(-100, 500)}"
            for lead in rng.sample(_LEADS, rng.randint(0, 3))
        ),
        "way_points": ";".join(
            f"{lead},post {at},post {at + 1},{rng.randint(1, 90) / 10}"
            for lead in rng.sample(_LEADS, rng.randint(0, 3))
            for at in range(rng.randint(1, 3))
        ),
        "other_amplifiers": _amplifier_rows(rng, ["other"] if rng.random() < 0.3 else []),
        "masses_kg": ";".join(["2.5"] * rng.choice([0, count])),
    }
    if rng.random() < 0.5:
        for key in ("keep_outs", "entries", "way_points", "bay_width_mm"):
            given.pop(key, None)
    return given


def _fit_tone(calculator, given, rng):
    """Draw a level that the frequency may have."""
    return _redrawn("frequency_hz", "tone_dbfs")(calculator, given, rng)


def _fit_chain(calculator, given, rng):
    """Draw ranges in their order, and one source."""
    given.pop(rng.choice(["source_v", "factory_power_w"]), None)
    return _redrawn(
        "sensitivity_min_v", "sensitivity_max_v", "high_level_min_v", "high_level_max_v"
    )(calculator, given, rng)


def _fit_commissioning(calculator, given, rng):
    """Draw readings of this system's steps: right ones, some of them, or any at all."""
    given.pop("readings", None)
    paths = ("direct", "network", "capacitor")
    given["outputs"] = ";".join(
        f"output {at},{rng.randint(1, 900)},{rng.randint(1, 32) / 2},{rng.choice(['yes', 'no'])},"
        f"{rng.choice(paths)},0.15,{rng.randint(20, 9000)},{-rng.randint(0, 40) / 2},"
        f"{rng.randint(0, 18)}"
        for at in range(1, rng.randint(2, 7))
    )
    inputs = Form(calculator.fields).read(given)
    how = rng.choice(["all right", "some", "any"])
    rows = []
    for step in steps_of(inputs):
        bounds = [one for one in (step.expected.low, step.expected.high) if one is not None]
        good = "yes" if step.kind == "tick" else f"{bounds[0]:.6f}" if bounds else "0"
        if step.kind != "tick" and len(bounds) == 2:
            good = f"{sum(bounds) / 2:.6f}"
        if step.expected.open_is_right:
            good = "open"
        bad = "no" if step.kind == "tick" else str(rng.randint(-9, 999))
        if how == "all right" or rng.random() < 0.5:
            rows.append([step.key, bad if how == "any" else good])
    given["readings"] = ";".join(",".join(row) for row in rows)
    return given


def _fit_settled(calculator, given, rng):
    form = calculator.form.by_key
    first = form["sections"].read(given.get("sections", form["sections"].default))[0]
    ways = ["", "1,1"]
    if form["channels"].read(given.get("channels", "4")) > 1:
        ways += ["1,1+2"] if first["speakers"] % 2 else ["1,1+2", "1,1/2"]
    return {**given, "settled": rng.choice(ways)}


_FITS = {
    "channel-map": _fit_settled,
    "amplifier-choice": partial(fit_system, _valid),
    "fit-plan": partial(fit_system, _valid),
    "commissioning": _fit_commissioning,
    "test-tone": _fit_tone,
    "signal-chain": _fit_chain,
    "mounting-reach": _fit_mounting,
    "footprint": _redrawn(
        "width_mm",
        "depth_mm",
        "power_room_mm",
        "speaker_room_mm",
        "signal_room_mm",
        "controls_room_mm",
        "fins_room_mm",
    ),
    "power-cable": _fit_demand("total_power_w"),
    "cable-tree": _fit_tree,
    "wire-facts": _fit_one_way,
    "speaker-lead": _fit_one_way,
    "supply-budget": _redrawn("idle_w", "efficiency_percent", "total_power_w"),
    "kit-list": _fit_kit,
    "coil-wiring": _fit_coils,
    "meter-check": _fit_intended,
    "filter-response": _redrawn(
        "kind",
        "family",
        "order",
        "frequency_hz",
        "upper_hz",
        "second_family",
        "second_order",
        "second_frequency_hz",
    ),
    "crossover-sum": _redrawn("low_family", "low_order", "high_family", "high_order"),
    "passive-network": _redrawn("family", "order", "levelling", "coil_ohm", "coil_mh", "impedance"),
    "filter-split": _fit_split,
}


# ---- invalid inputs


def invalid_inputs(calculator, rng, as_text=False):
    """Return raw inputs that the calculator must refuse."""
    return spoiled_inputs(calculator, rng, as_text)[0]


def spoiled_inputs(calculator, rng, as_text=False):
    """Return raw inputs with one to four wrong ones among them, and the wrong ones' keys."""
    given = valid_inputs(calculator, rng, as_text)
    keys = [one.key for one in calculator.fields]
    keys = rng.sample(keys, rng.randint(1, min(4, len(keys))))
    for key in keys:
        given[key] = _invalid(calculator.form.by_key[key], rng, as_text)
    if rng.random() < 0.3:
        keys.append("no_such_field_w")
        given["no_such_field_w"] = "4"
    return given, set(keys)


def _invalid(one, rng, as_text):
    wrong = ["" if not one.optional else "\x00", "4\x00", "<b>", "x", "\ud800"]
    if isinstance(one, Rows):
        if not as_text:
            row = [column.default for column in one.columns]
            wrong += [
                [row] * (one.most + 1),
                [row[: -1 - one.added]],
                [[*row, "1"]],
                [["?"] * len(row)],
            ]
        return rng.choice([*wrong, ",", HUGE_ROWS])
    if isinstance(one, Document):
        return rng.choice(["<b>", "name\n", "name,channels\nx,<b>", "\x00", "name\na\na\n"])
    if isinstance(one, Number):
        if isinstance(one, Whole):
            wrong.append(f"{one.low}.5")
        beyond = f"{Decimal(repr(one.high)) + 1:f}"
        below = f"{Decimal(repr(one.low)) - 1:f}"
        return rng.choice([*wrong, beyond, below, "nan", "1e1", "4 4", "9" * 99])
    if isinstance(one, Choice):
        return rng.choice([*wrong, one.options[0][0].swapcase(), one.options[0][0] + "s"])
    if isinstance(one, Numbers):
        beyond = f"{Decimal(repr(one.each.high)) + 1:f}"
        good = one.each.default
        return rng.choice([*wrong, beyond, f"{good};", f"{good},;{good}", ";".join([good] * 500)])
    wrong = ["a,b", "a;b", "a\x00b", "x" * (one.longest + 1)]
    return rng.choice(wrong if one.optional else ["", *wrong])


def blamed_together(calculator):
    """Return the fields that may be blamed for what another one is given."""
    return {"drivers", "intended", "settled", "loads"} | {
        key for group in calculator.alternatives for key in group
    }
