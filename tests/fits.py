"""What brings the random inputs of a calculator together, where fields depend on one another."""

from functools import partial
from itertools import islice

from field_inputs import valid_field
from system_inputs import fit_system

from calc.coils.survey import Survey
from calc.inputs.form import Form
from calc.physics.coils import MOST_COILS, Driver
from calc.setup.commissioning.steps import steps_of


def _drivers(calculator, texts):
    fields = Form(calculator.fields)  # each by itself, without what they come to together
    values = fields.read({**texts, "intended": "0"} if "intended" in texts else texts)
    rows = values["drivers"]
    if isinstance(rows, int):
        return (Driver(values["coils_per_driver"], values["coil_ohm"]),) * rows
    return tuple(Driver(row.coils, row.coil_ohm) for row in rows)


def _fit_coils(calculator, texts, rng):
    """Draw the drivers anew until their coils are few enough (fewer yet when unlike)."""
    by_key = calculator.form.by_key
    as_text = isinstance(texts.get("drivers", ""), str)
    while True:
        drivers = _drivers(calculator, texts)
        most = {1: MOST_COILS, 2: 6}.get(len(set(drivers)), 5)
        if sum(driver.coils for driver in drivers) <= most:
            return texts
        for key in ("drivers", "coils_per_driver"):
            texts[key] = valid_field(by_key[key], rng, as_text)


def _fit_intended(calculator, texts, rng):
    texts = _fit_coils(calculator, texts, rng)
    drivers = _drivers(calculator, texts)
    wirings = list(islice(Survey(drivers).ranked(2.0), 60))
    at = rng.randrange(len(wirings))
    notation = wirings[at].circuit.notation
    spaced = notation.replace("+", " + ")
    longest = calculator.form.by_key["intended"].longest
    fitting = [text for text in (notation, spaced) if len(text) <= longest]
    texts["intended"] = rng.choice([str(at), *fitting])
    return texts


def _redrawn(*keys):
    """Return a fit that draws the fields of these keys anew until they agree."""

    def fit(calculator, texts, rng):
        by_key = calculator.form.by_key
        while True:
            values = Form(calculator.fields).read(texts)
            if not list(calculator.form.check(values)):
                return texts
            for key in keys:
                texts[key] = valid_field(by_key[key], rng, as_text=True)

    return fit


_KINDS_OF_SECTION = ("tweeter", "midrange", "mid-bass", "full-range", "woofer")


def _fit_split(calculator, texts, rng):
    """Draw a system whose rows agree: sections on pairs, and filters for those pairs."""
    pairs = ["1/2", "3/4", "5+6", "7"][: rng.randint(1, 4)]
    used = [rng.choice(pairs) for _ in range(rng.randint(1, 5))]
    sections = [_section_row(channels, rng) for channels in used]
    feeds = [channels.replace("+", "/") for channels in dict.fromkeys(used)]
    texts = {key: texts[key] for key in ("tweeter_capacitor", "tweeter_ohm") if key in texts}
    texts["sections"] = ";".join(sections)
    for key in ("head_unit", "amplifier"):
        texts[key] = ";".join(
            _filter_row(channels, kind, key, rng)
            for channels in feeds
            for kind in ("high-pass", "low-pass")
            if rng.random() < 0.6
        )
    both = [channels for channels in dict.fromkeys(used) if used.count(channels) > 1]
    texts["passive"] = ";".join(
        f"{channels},{rng.randint(200, 6000)},butterworth,2,both" for channels in both
    )
    return texts


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

    def fit(calculator, texts, rng):
        if "amp_fuses_a" in texts:
            texts["amp_fuses_a"] = rng.choice(["", "30", "7,5", "25;7.5; 40"])
        return again(calculator, texts, rng)

    return fit


def _fit_tree(calculator, texts, rng):
    """Draw runs that form a tree, and loads that hang on it."""
    names = ["battery", *(f"place {at}" for at in range(1, rng.randint(2, 7)))]
    runs = [
        f"{rng.choice(names[:at])},{names[at]},{rng.randint(1, 80) / 10}"
        for at in range(1, len(names))
    ]
    loads = [f"{rng.choice(names[1:])},{rng.randint(1, 400)}" for _ in range(rng.randint(1, 4))]
    texts |= {"runs": ";".join(rng.sample(runs, len(runs))), "loads": ";".join(loads)}
    return _fit_demand()(calculator, texts, rng)


def _fit_kit(calculator, texts, rng):
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
    texts |= {"amplifiers": ";".join(rows), "routes": ";".join(routes)}
    is_led = any(route.startswith("speaker") for route in routes)
    texts["loads"] = f"somewhere,{rng.randint(1, 64)}" if is_led and rng.random() < 0.5 else ""
    return _fit_demand()(calculator, texts, rng)


def _fit_one_way(calculator, texts, rng):
    """Tell the size in one way, or leave it to the default."""
    for keys in calculator.alternatives:
        for key in keys:
            texts.pop(key, None)
    for key in rng.choice([*calculator.alternatives, ()]):
        field = calculator.form.by_key[key]
        while not texts.get(key, "").strip():
            texts[key] = valid_field(field, rng, as_text=True)
    return texts


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


def _fit_mounting(calculator, texts, rng):
    """Draw a bay of ordinary size, amplifiers of different names, and ways that lead on."""
    count = rng.choice([1, 1, 2, 2, 3])
    texts |= {
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
            texts.pop(key, None)
    return texts


def _fit_tone(calculator, texts, rng):
    """Draw a level that the frequency may have."""
    return _redrawn("frequency_hz", "tone_dbfs")(calculator, texts, rng)


def _fit_chain(calculator, texts, rng):
    """Draw ranges in their order, and one source."""
    texts.pop(rng.choice(["source_v", "factory_power_w"]), None)
    return _redrawn(
        "sensitivity_min_v", "sensitivity_max_v", "high_level_min_v", "high_level_max_v"
    )(calculator, texts, rng)


def _fit_commissioning(calculator, texts, rng):
    """Draw readings of this system's steps: right ones, some of them, or any at all."""
    texts.pop("readings", None)
    paths = ("direct", "network", "capacitor")
    texts["outputs"] = ";".join(
        f"output {at},{rng.randint(1, 900)},{rng.randint(1, 32) / 2},{rng.choice(['yes', 'no'])},"
        f"{rng.choice(paths)},0.15,{rng.randint(20, 9000)},{-rng.randint(0, 40) / 2},"
        f"{rng.randint(0, 18)}"
        for at in range(1, rng.randint(2, 7))
    )
    inputs = calculator.build(Form(calculator.fields).read(texts))
    how = rng.choice(["all right", "some", "any"])
    rows = []
    for step in steps_of(inputs):
        ends = (step.expected.low, step.expected.high)
        bounds = [end for end in ends if end is not None]
        good = "yes" if step.kind == "tick" else f"{bounds[0]:.6f}" if bounds else "0"
        if step.kind != "tick" and len(bounds) == 2:
            good = f"{sum(bounds) / 2:.6f}"
        if step.expected.open_is_right:
            good = "open"
        bad = "no" if step.kind == "tick" else str(rng.randint(-9, 999))
        if how == "all right" or rng.random() < 0.5:
            rows.append([step.key, bad if how == "any" else good])
    texts["readings"] = ";".join(",".join(row) for row in rows)
    return texts


def _fit_settled(calculator, texts, rng):
    form = calculator.form.by_key
    first = form["sections"].read(texts.get("sections", form["sections"].default))[0]
    ways = ["", "1,1"]
    if form["channels"].read(texts.get("channels", "4")) > 1:
        ways += ["1,1+2"] if first.speakers % 2 else ["1,1+2", "1,1/2"]
    return {**texts, "settled": rng.choice(ways)}


FITS = {
    "channel-map": _fit_settled,
    "amplifier-choice": partial(fit_system, valid_field),
    "fit-plan": partial(fit_system, valid_field),
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
