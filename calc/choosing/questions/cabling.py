"""What a plan asks of the chapter on cable: power cable, supply, leads."""

from calc.cabling import cable_tree, power_cable, speaker_lead, supply_budget
from calc.choosing.layouts.arrangements import Layout
from calc.choosing.layouts.feeds import Job
from calc.choosing.questions.demand import demand_figures, demand_unsure, own_fuses, total_figure
from calc.choosing.questions.question import Known, Question, worked_out
from calc.choosing.questions.sources import from_amplifier, from_system, same
from calc.system.amplifier import Amplifier

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


def cable_question(job: Job, total_w: float | None, amplifier: Amplifier) -> CableQuestion:
    """Ask for the power cable and its fuse: over positive run, earth lead and slack together."""
    leads = job.system.leads
    whole = None
    if leads.power_m is not None:  # without the earth nothing is asked: its own name says so
        slack = 1 + leads.slack_percent / 100
        whole = round((leads.power_m + (leads.earth_m or 0.0)) * slack, 6)
    return Question(
        calculator=power_cable.POWER_CABLE,
        figures={
            **total_figure("total_power_w", total_w),
            **worked_out("6 Cable: power cable, earth and slack together", length_m=whole),
            "supply_v": from_system(job, "running_v"),
            **same(job, "duty"),
            **demand_figures(amplifier),
            "regulated_min_v": Known(
                amplifier.regulated_min_v if amplifier.regulated else None,
                f"the amplifier {amplifier.name}",
            ),
            "amp_fuses_a": own_fuses(amplifier),
            "maker_fuse_a": from_amplifier(amplifier, "main_fuse_a"),
            **same(job, *SHARED_CABLE),
        },
        unknown=() if leads.earth_m is not None else ("Earth (ground) cable",),
        unsure=demand_unsure(job, total_w, amplifier, power_cable.POWER_CABLE, "total_power_w"),
    )


def supply_question(job: Job, total_w: float | None, amplifier: Amplifier) -> SupplyQuestion:
    """Ask whether the vehicle can feed it."""
    asked = supply_budget.SUPPLY_BUDGET
    return Question(
        calculator=asked,
        figures={
            **same(job, *_SUPPLY),
            **total_figure("total_power_w", total_w),
            **demand_figures(amplifier),
        },
        unsure=demand_unsure(job, total_w, amplifier, asked, "total_power_w"),
    )


def lead_questions(layout: Layout) -> list[LeadQuestion]:
    """Ask about the lead of each feed; its size stays the calculator's."""
    questions: list[LeadQuestion] = []
    for feed, _, use in layout.uses:
        most = use.power.best if use.power.best is not None else use.power.high
        source = "channel map" if use.power.best is not None else "the most that it may be"
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
            "runs": Known((run,), "6 Cable: power cable"),
            "loads": Known((load,), "worked out: all outputs together"),
            "supply_v": from_system(job, "running_v"),
            **same(job, "duty", *SHARED_CABLE),
            **demand_figures(amplifier),
        },
        unknown=() if is_known else ("power, or the cable’s length",),
    )
