"""What a plan asks of the chapter on cable: power cable, supply, leads."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from calc.cabling import cable_tree, power_cable, speaker_lead, supply_budget
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.demand import demand_figures, demand_unsure, own_fuses, total_figure
from calc.choosing.questions.question import Known, Question, Unsure, together, worked_out
from calc.choosing.questions.sets import TreeLoad, set_figures, set_unsure
from calc.choosing.questions.sources import from_amplifier, from_system, same
from calc.inputs.field_base import Value
from calc.inputs.fields import Number
from calc.system.amplifier import Amplifier
from calc.system.usual import ENGINE_C, RUN_RANGE_M, VEHICLE_SHARES, place_is_taken

CableQuestion = Question[power_cable.Inputs, power_cable.Result]
SupplyQuestion = Question[supply_budget.Inputs, supply_budget.Result]
LeadQuestion = Question[speaker_lead.Inputs, speaker_lead.Result]
TreeQuestion = Question[cable_tree.Inputs, cable_tree.Result]

SHARED_CABLE = (
    "material", "sizes", "insulation_c", "engine_space", "engine_c", "conductor_c", "bundle",
    "max_drop_v", "return", "body_mohm", "connections_mohm",
)  # fmt: skip
_SUPPLY = (
    "alternator_a", "idle_percent", "vehicle_a", "battery_ah", "reserve_percent", "vehicle_off_a",
    "peukert", "running_v", "resting_v",
)  # fmt: skip


def _whole_m(job: Job, power_m: float, earth_m: float) -> float:
    """Return the length of positive run and earth lead with their slack [m]."""
    return round((power_m + earth_m) * (1 + job.system.leads.slack_percent / 100), 6)


def _length_unsure(job: Job) -> Unsure | None:
    """Return how long the run may be where the battery's distance or the earth is not told."""
    given = job.given.leads
    keys = tuple(key for key in ("power_m", "earth_m") if getattr(given, key) is None)
    if not keys:
        return None
    words = {
        "power_m": "how far away the battery is",
        "earth_m": "the earth lead (we use 0.5\u202fm)",
    }

    def end(run_m: float, earth_m: float) -> dict[str, Value]:
        run = given.power_m if given.power_m is not None else run_m
        earth = given.earth_m if given.earth_m is not None else earth_m
        return {"length_m": min(_whole_m(job, run, earth), LONGEST_M)}

    usual_earth = job.system.leads.earth_m or 0.0
    return Unsure(
        tuple(words[key] for key in keys),
        worst=end(LONGEST_M, LONGEST_M),
        best=end(*_SHORTEST_M),
        likely=end(RUN_RANGE_M[1], usual_earth),
        keys=keys,
    )


LONGEST_M, _SHORTEST_M = 100.0, (0.05, 0.05)  # what the fields of the lengths take


def place_unsure(job: Job) -> Unsure | None:
    """Return how hot it may be where the run starts, if nobody told."""
    if not place_is_taken(job.given):
        return None
    return Unsure(
        ("whether the battery is under the bonnet (we use: yes, at 50\u202f°C)",),
        worst={"engine_c": _HOTTEST_C},
        best={"engine_space": False},
        likely={"engine_c": ENGINE_C.high},
        keys=("engine_space",),
    )


_HOTTEST_C = 104.0  # at 105 °C no cable is permitted


def cable_question(
    job: Job, total_w: float | None, amplifier: Amplifier, run_m: float | None = None
) -> CableQuestion:
    """Ask for the power cable and its fuse: over positive run, earth lead and slack together.

    run_m : taken where nobody told how far the battery is, to judge by; else that is missing
    """
    leads = job.system.leads
    power_m = leads.power_m if leads.power_m is not None else run_m
    whole = None if power_m is None else _whole_m(job, power_m, leads.earth_m or 0.0)
    unsure = together(
        demand_unsure(job, total_w, amplifier, power_cable.POWER_CABLE, "total_power_w"),
        None if whole is None else _length_unsure(job),
        place_unsure(job),
    )
    asked = Question(
        calculator=power_cable.POWER_CABLE,
        figures={
            **total_figure("total_power_w", total_w),
            **worked_out("6 Cables: power cable, earth lead and slack together", length_m=whole),
            "supply_v": from_system(job, "running_v"),
            **same(job, "duty"),
            **demand_figures(job, total_w, amplifier),
            "regulated_min_v": Known(
                amplifier.regulated_min_v if amplifier.regulated else None,
                f"the amplifier {amplifier.name}",
            ),
            "amp_fuses_a": own_fuses(amplifier),
            "maker_fuse_a": from_amplifier(amplifier, "main_fuse_a"),
            **same(job, *SHARED_CABLE),
        },
        unsure=unsure,
    )
    if amplifier.amplifier_class is not None or asked.verdict.state != "not known":
        return asked
    by_ab = _sized_for_ab(asked)
    return by_ab if by_ab.verdict.state == "likely" else asked


def _sized_for_ab(asked: CableQuestion) -> CableQuestion:
    """Return the question for class AB, which draws more of the two with music.

    A cable for class AB does for class D too; what nobody told of the class is no more than likely.
    """
    known = Known("ab", "not known: sized for class AB, which draws more")
    of_class = Unsure(("its class (we use AB)",), worst=None, best=None, likely={})
    return replace(
        asked,
        figures={**asked.figures, "amplifier_class": known},
        unsure=together(asked.unsure, of_class),
    )


def supply_question(job: Job, total_w: float | None, amplifier: Amplifier) -> SupplyQuestion:
    """Ask whether the vehicle can feed it."""
    figures = {
        **total_figure("total_power_w", total_w),
        **demand_figures(job, total_w, amplifier),
    }
    asked = supply_budget.SUPPLY_BUDGET
    return _supply(job, figures, demand_unsure(job, total_w, amplifier, asked, "total_power_w"))


def set_supply_question(job: Job, loads: Sequence[TreeLoad]) -> SupplyQuestion:
    """Ask whether the vehicle can feed the amplifiers together."""
    if len(loads) == 1:
        return supply_question(job, loads[0].total_w, loads[0].amplifier)
    unsure = set_unsure(job, loads, supply_budget.SUPPLY_BUDGET, "total_power_w")
    return _supply(job, set_figures(job, loads, "total_power_w"), unsure)


def _supply(job: Job, figures: Mapping[str, Known], unsure: Unsure | None) -> SupplyQuestion:
    return Question(
        calculator=supply_budget.SUPPLY_BUDGET,
        figures={**same(job, *_SUPPLY), **figures},
        unsure=together(unsure, _supply_unsure(job)),
    )


def _supply_unsure(job: Job) -> Unsure | None:
    """Return how weak and how strong the vehicle's supply may be where it is not told."""
    given, taken = job.given.charging, job.system.charging
    keys = tuple(
        key for key in ("alternator_a", "vehicle_a", "battery_ah") if getattr(given, key) is None
    )
    if not keys:
        return None
    words = {
        "alternator_a": "the alternator (we use 90\u202fA)",
        "vehicle_a": "the vehicle’s own current draw (we use 0.4 of the alternator)",
        "battery_ah": "the battery (we use 60\u202fAh)",
    }
    fields = supply_budget.SUPPLY_BUDGET.form.by_key

    def end(at: str, share: float) -> dict[str, Value]:
        values: dict[str, Value] = {}
        for key in ("alternator_a", "battery_ah"):
            field = fields[key]
            assert isinstance(field, Number)
            usual = getattr(taken, key) if at == "usual" else getattr(field, at)
            values[key] = usual if getattr(given, key) is None else getattr(given, key)
        vehicle = given.vehicle_a
        values["vehicle_a"] = share * values["alternator_a"] if vehicle is None else vehicle
        return values

    return Unsure(
        tuple(words[key] for key in keys),
        worst=end("low", 1.0),
        best=end("high", 0.0),
        likely=end("usual", VEHICLE_SHARES[1]),
        keys=keys,
    )


def lead_questions(layout: Layout) -> list[LeadQuestion]:
    """Ask about the lead of each feed; its size stays the calculator's."""
    questions: list[LeadQuestion] = []
    for feed, _, use in layout.uses:
        most = use.power.best if use.power.best is not None else use.power.high
        source = "channel map" if use.power.best is not None else "the most it can be"
        power = {} if most is None else worked_out(f"worked out: {source}", power_w=most)
        questions.append(
            Question(
                calculator=speaker_lead.SPEAKER_LEAD,
                about=feed.name,
                figures={
                    **worked_out("worked out: channel map", load_ohm=use.load_ohm),
                    "length_m": Known(
                        feed.speaker.lead_m,
                        f"1 Speakers: {feed.name}",
                        ("speakers", feed.rows[0], "lead_m"),
                    ),
                    "max_loss_db": from_system(layout.job, "speaker_loss_db"),
                    **same(layout.job, "material"),
                    **power,
                },
                unknown=(f"the power of {feed.name}",) if most is None else (),
                no_part=("power_w",) if most is None else (),
            )
        )
    return questions


def tree_question(layout: Layout, amplifier: Amplifier) -> TreeQuestion:
    """Ask for the one run that this system has, from which branches can be added."""
    job, name = layout.job, amplifier.name
    power, length = layout.total_w, job.system.leads.power_m
    is_known = power is not None and length is not None
    run = {"from": "battery", "to": name, "length_m": length}
    load = {"at": name, "power_w": power}
    return Question(
        calculator=cable_tree.CABLE_TREE,
        figures={
            "runs": Known((run,), "6 Cables: power cable"),
            "loads": Known((load,), "worked out: all outputs together"),
            "supply_v": from_system(job, "running_v"),
            **same(job, "duty", *SHARED_CABLE),
            **demand_figures(job, power, amplifier),
        },
        unknown=() if is_known else ("power, or the cable’s length",),
    )
