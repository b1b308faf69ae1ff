"""What the system knows for calculators that a plan does not ask: they take it all the same."""

from collections.abc import Mapping
from typing import Any

from calc.answers.figures import exact
from calc.cabling.cable_tree import CABLE_TREE
from calc.cabling.speaker_lead import SPEAKER_LEAD
from calc.choosing.amplifier_asks import of_amplifier, of_system
from calc.choosing.asks import Ask, Traced, rows_text
from calc.choosing.balance import set_power
from calc.choosing.columns import SIDES
from calc.choosing.demand_asks import demand_inputs
from calc.choosing.fields import SHARED_CABLE
from calc.choosing.job import Job
from calc.choosing.layout_asks import coil_wirings
from calc.choosing.layouts import Layout
from calc.choosing.plan import Plan
from calc.choosing.setup_asks import tone_of
from calc.coils.meter_check import METER_CHECK
from calc.crossovers.passive_network import PASSIVE_NETWORK
from calc.physics.tones import highest_dbfs
from calc.placement.footprint import FOOTPRINT
from calc.setup.boost_cost import BOOST_COST
from calc.setup.test_tone import TEST_TONE

Amplifier = Mapping[str, Any]


def speaker_leads(layout: Layout) -> list[Ask]:
    """Ask about the lead of each feed; its size stays the calculator's."""
    found = []
    for feed, _, use in layout.uses:
        length = feed.speaker["lead_m"]
        inputs = {
            "load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
            "length_m": Traced(
                "" if length is None else exact(length),
                f"1 Speakers: {feed.name}",
                ("speakers", feed.rows[0], "lead_m"),
            ),
            "max_loss_db": of_system(layout.job, "speaker_loss_db", SPEAKER_LEAD, "max_loss_db"),
            "material": of_system(layout.job, "material", SPEAKER_LEAD),
        }
        most = use.power.best if use.power.best is not None else use.power.high
        unknown = (f"the power of {feed.name}",) if most is None else ()
        if most is not None:
            told = "channel map" if use.power.best is not None else "the most that it may be"
            inputs["power_w"] = Traced(exact(most), f"worked out: {told}")
        found.append(Ask(calculator=SPEAKER_LEAD, whom=feed.name, inputs=inputs, unknown=unknown))
    return found


def cable_tree(layout: Layout, amplifier: Amplifier) -> Ask:
    """Ask for the one run that this system has, from which branches can be added."""
    job, name = layout.job, amplifier["name"]
    power, length = layout.total_w, job.given["power_m"]
    unknown = () if power is not None and length is not None else ("power, or the cable’s length",)
    run = [{"from": "battery", "to": name, "length_m": "" if length is None else exact(length)}]
    load = [{"at": name, "power_w": "" if power is None else exact(power)}]
    inputs = {
        "runs": Traced(rows_text(CABLE_TREE, "runs", run), "6 Cable: power cable"),
        "loads": Traced(rows_text(CABLE_TREE, "loads", load), "worked out: all outputs together"),
        "supply_v": of_system(job, "running_v", CABLE_TREE, "supply_v"),
        **{key: of_system(job, key, CABLE_TREE) for key in ("duty", *SHARED_CABLE)},
        **demand_inputs(amplifier, CABLE_TREE),
    }
    return Ask(calculator=CABLE_TREE, inputs=inputs, unknown=unknown)


def meter_checks(layout: Layout) -> list[Ask]:
    """Ask about each circuit of coils that the plan has; the reading is the reader's."""
    found = []
    for ask in coil_wirings(layout):
        if ask.answer is None:
            continue
        notation = ask.answer.sheet.results["arrangements"][0]["notation"]
        inputs = {
            "intended": Traced(notation, "worked out: coil wiring"),
            **{
                key: ask.inputs[key]
                for key in ("drivers", "coils_per_driver", "coil_ohm", "min_load_ohm")
            },
        }
        found.append(Ask(calculator=METER_CHECK, whom=ask.whom, inputs=inputs))
    return found


def passive_networks(job: Job) -> list[Ask]:
    """Ask for the parts of each side of each passive network."""
    rows = {row["name"]: at for at, row in enumerate(job.speakers)}
    found = []
    for at, one in enumerate(job.given["networks"]):
        for end, side in (("above", "high-pass"), ("below", "low-pass")):
            if one[end] is None:
                continue
            row = rows[one[end]]
            inputs = {
                "side": Traced(side, "1 Speakers: passive networks"),
                "ohm": Traced(
                    exact(job.speakers[row]["coil_ohm"] / job.speakers[row]["coils"]),
                    f"1 Speakers: {one[end]}",
                ),
            }
            for key in ("family", "order", "frequency_hz"):
                field = PASSIVE_NETWORK.form.by_key[key]
                inputs[key] = Traced(
                    field.write(one[key]), "1 Speakers: passive networks", ("networks", at, key)
                )
            found.append(Ask(calculator=PASSIVE_NETWORK, whom=one[end], inputs=inputs))
    return found


def footprint(amplifier: Amplifier) -> Ask:
    """Ask for the amplifier's footprint in true size."""
    keys = ("name", "width_mm", "depth_mm", *SIDES)
    columns = {**{key: key for key in keys}, **{side: f"{side}_face" for side in SIDES}}
    fields = FOOTPRINT.form.by_key
    inputs = {
        key: of_amplifier(amplifier, columns[key], FOOTPRINT, key) for key in keys if key in fields
    }
    return Ask(calculator=FOOTPRINT, inputs=inputs)


def boost_costs(layout: Layout, amplifier: Amplifier) -> list[Ask]:
    """Ask what the amplifier's boost costs on the woofers."""
    boost = amplifier["boost_db"]
    return [
        Ask(
            calculator=BOOST_COST,
            whom=feed.name,
            inputs={
                "boost_db": Traced(
                    "" if boost is None else exact(boost),
                    f"the amplifier {amplifier['name']}",
                    ("amplifier", 0, "boost_db"),
                ),
                "power_w": Traced(
                    "" if use.power.best is None else exact(use.power.best),
                    "worked out: channel map",
                ),
                "load_ohm": Traced(exact(use.load_ohm), "worked out: channel map"),
            },
        )
        for feed, _, use in layout.uses
        if feed.section == "woofer"
    ]


def test_tones(layout: Layout, split: Ask) -> list[Ask]:
    """Ask for the tone to set each feed's gain by.

    split : the question about the filters, with its answer
    """
    found = []
    for feed, wiring, use in layout.uses:
        if set_power(layout, feed, wiring, use) is None:
            continue
        tone = tone_of(split, feed, use)
        inputs = {
            "frequency_hz": Traced(str(tone), "worked out: within the band"),
            "tone_dbfs": Traced(
                exact(min(layout.job.given["tone_dbfs"], highest_dbfs(tone))),
                "8 Set-up: level of the test tones, as far as this frequency may have it",
            ),
        }
        found.append(Ask(calculator=TEST_TONE, whom=feed.name, inputs=inputs))
    return found


def asks_of(job: Job, plan: Plan) -> tuple[Ask, ...]:
    """Return all that this module asks about a plan's layout and amplifier."""
    layout, amplifier = plan.candidate.layout, plan.candidate.amplifier
    found = [*passive_networks(job), footprint(amplifier)]
    split = plan.asked("filter-split")
    if layout is not None and split is not None:
        found += [
            cable_tree(layout, amplifier),
            *speaker_leads(layout),
            *meter_checks(layout),
            *boost_costs(layout, amplifier),
            *test_tones(layout, split),
        ]
    return tuple(found)
