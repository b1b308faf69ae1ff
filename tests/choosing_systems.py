"""Random jobs and amplifiers for the tests of choosing, as dataclasses that the form has built."""

import random

from calc.answers.sheet import STATES as BEST_LAST
from calc.choosing.candidates import Weights
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.layouts.feeds import Job
from calc.choosing.search import Judge
from calc.inputs.declared import build, fields_of, replaced
from calc.system import example_van
from calc.system.amplifier import Amplifier

FIELDS = fields_of(Amplifier)
READ = {key: field.read for key, field in FIELDS.items()}
WEIGHTS = Weights(
    weight_power=3.0, weight_wishes=2.0, weight_room=1.0, weight_draw=1.0, weight_price=1.0
)
WISHES = ("must", "wish", "any")
# Worse and worse.
STATES = BEST_LAST[::-1]
PAIR = (
    "1/2 high-pass {r} 1 butterworth 2 A yes | 1/2 low-pass {r} 1 butterworth 2 A yes | "
    "3/4 high-pass {r} 1 butterworth 2 B yes | 3/4 low-pass {r} 1 butterworth 2 B yes"
)


def planned_of(texts, errors=()):
    """Return the system and the amplifier that the form reads from texts."""
    return FIT_PLAN.build(FIT_PLAN.form.read(texts, errors)).planned


VAN = planned_of({})
(HAZEL,) = VAN.amplifier


def job_of(**texts):
    """Return a job from the Lantern Van's figures, with those given as texts."""
    return Job(planned_of(texts).system)


def changed(job, values):
    """Return the job with other values at these keys."""
    return Job(replaced(job.given, values))


def best_of(job, amplifier):
    """Return the amplifier with the best of all its layouts."""
    return Judge(job, amplifier, WEIGHTS).best()


def check_of(candidate, name):
    """Return the one check of this name."""
    (check,) = [check for check in candidate.checks if check.name == name]
    return check


def random_job(rng):
    """Return a job with two or three kinds of speakers in a bay of random size."""
    rows = [
        f"fronts,full-range,2,1,{rng.choice([2, 3, 4, 8])},{rng.choice([60, 90])},"
        f"{rng.choice(['', '30', '60'])},90,{rng.choice([60, 80])},2,,,front,1,4"
    ]
    if rng.random() < 0.6:
        rows.append(f"rears,full-range,2,1,{rng.choice([4, 8])},60,,89,80,2,,,front,,5")
    if rng.random() < 0.8:
        count, coils = rng.choice([1, 2]), rng.choice([1, 2])
        rows.append(
            f"woofers,woofer,{count},{coils},{rng.choice([1, 2, 4])},{rng.choice([150, 250])},"
            f"{rng.choice(['', '50', '150'])},86,,2,120,,woofer,2,2"
        )
    outputs = "front" if len(rows) < 3 else rng.choice(["front", "woofer"])
    if not rows[-1].startswith("woofers"):
        outputs = "front"
    return job_of(
        speakers=";".join(rows),
        networks="",
        head_filters=rng.choice(["", f"{outputs},high-pass,60/80/100,1,butterworth,2,,yes"]),
        source_v=rng.choice(["2", "4", "8", ""]),
        trigger_available=rng.choice(["yes", "no", "not-known"]),
        level_control=rng.choice(WISHES),
        cover=rng.choice(WISHES),
        bay_width_mm=str(rng.choice([250, 400, 800])),
        bay_depth_mm=str(rng.choice([200, 420])),
        closed=rng.choice(["yes", "no"]),
        area_m2="0.9",
        power_m=rng.choice(["2", "6"]),
        alternator_a=rng.choice(["70", "120"]),
        vehicle_a=rng.choice(["20", "50"]),
    )


def random_amplifier(rng, name="Alder", missing=0.08):
    """Return an amplifier with plausible figures, some of them missing."""
    power = rng.choice([30, 50, 75, 120])
    texts = {
        "channels": rng.choice(["2", "4", "5"]),
        "power_4ohm_w": str(power),
        "power_2ohm_w": rng.choice(["", str(1.4 * power)]),
        "rated_bridged_w": rng.choice(["", "", str(2.7 * power)]),
        "min_channel_ohm": rng.choice(["2", "4", "1"]),
        "amplifier_class": rng.choice(["ab", "d"]),
        "efficiency_percent": rng.choice(["58", "82"]),
        "sensitivity_min_v": "0.2",
        "sensitivity_max_v": rng.choice(["4", "6", "9"]),
        "trigger": "yes",
        "signal_sensing": rng.choice(["yes", "no"]),
        "supply_sensing": "no",
        "level_control": rng.choice(["yes", "no"]),
        "cover": rng.choice(["yes", "no"]),
        "width_mm": str(rng.choice([180, 260, 340])),
        "depth_mm": str(rng.choice([110, 180, 230])),
        "height_mm": "52",
        "front_face": "signal+controls",
        "right_face": "none",
        "back_face": "power+speaker",
        "left_face": "none",
        "top_face": "none",
        "limit_c": rng.choice(["45", "60"]),
        "filters": rng.choice(["none", PAIR.format(r="50-250"), PAIR.format(r="40-400")]),
        "may_be_bridged": rng.choice(["yes", "yes", "no", ""]),
        "price": str(rng.choice([100, 300])),
    }
    for key in list(texts):
        if rng.random() < missing:
            del texts[key]
    texts["name"] = name
    return amplifier_of_texts(texts)


def amplifier_of_texts(texts):
    """Return an amplifier of these figures as typed; all others are not known."""
    empty = {key: "" if field.optional else field.default for key, field in FIELDS.items()}
    cells = {**empty, **texts}
    return build(Amplifier, {key: read(cells[key]) for key, read in READ.items()})


def listed(*amplifiers):
    """Return amplifiers as a stock list has them: each is compared, none is planned."""
    return tuple(replaced(amplifier, {"role": "candidate"}) for amplifier in amplifiers)


def case(seed):
    """Return a random job, a random amplifier, and the numbers that they were drawn from."""
    rng = random.Random(f"choice {seed}")
    return random_job(rng), random_amplifier(rng), rng


def long_system():
    """Return texts of many rows, whose plain link would be cut on its way."""
    speakers = ";".join(
        f"speaker number {at},woofer,2,2,4,{90 + at}.5,{40 + at},88.25,30,4,{120 + at},,output "
        f"{at},2.35,4.75"
        for at in range(6)
    )
    filters = ";".join(
        f"output {at % 6},{kind},31.5/40/50/63/80/100/125/160/200/250/315/400,1/10,butterworth,"
        "1/2/3/4,,yes"
        for at, kind in enumerate(["high-pass", "low-pass"] * 6)
    )
    amplifier = example_van.AMPLIFIER.replace("Hazel", "Alder")
    return {
        "speakers": speakers,
        "head_filters": filters,
        "networks": "",
        "amplifier": amplifier,
    }
