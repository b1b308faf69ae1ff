"""Plans of random systems for the laws of a plan: active fronts, part active ones, full ranges."""

import random
from dataclasses import dataclass, fields, replace

from choosing_systems import HAZEL, READ, best_of, job_of, random_amplifier, random_job

from calc.choosing.layouts.feeds import Job
from calc.choosing.plan import Plan, plan_of
from calc.system.amplifier import Amplifier

ACTIVE = (
    "1/2 high-pass 50-500 1/10 {f} {o} - yes | 1/2 low-pass 50-500 1/10 {f} {o} - yes | "
    "3/4 high-pass 50-500 1/10 {f} {o} - yes | 3/4 low-pass 50-500 1/10 {f} {o} - yes"
)


@dataclass(frozen=True)
class Planned:
    """A job with an amplifier, and the plan for them."""

    seed: int
    job: Job
    amplifier: Amplifier
    plan: Plan

    def asked(self, calculator):
        """Return what the plan asks of a calculator that it asks once; None where it does not."""
        return next(
            (
                question
                for question in self.plan.questions
                if question.calculator.name == calculator
            ),
            None,
        )


def planned(seed):
    """Return the plan of a random system, more often than not one with active speakers."""
    rng = random.Random(f"laws {seed}")
    if rng.random() < 0.6:
        job, amplifier = active_job(rng), active_amplifier(rng)
    else:
        job, amplifier = random_job(rng), random_amplifier(rng, missing=0)
    return Planned(seed, job, amplifier, plan_of(job, best_of(job, amplifier)))


def active_job(rng):
    """Return a job with active tweeters, or with mid-basses below a set on its crossover."""
    sensitivity, tweeter_m, mid_m = (
        rng.choice([90, 92, 95]),
        rng.choice(["", "1"]),
        rng.choice(["", "1.3"]),
    )
    if rng.random() < 0.5:
        rows = [
            f"t,tweeter,2,1,4,{rng.choice([40, 80])},,{sensitivity},2500,2,,,front,{tweeter_m},4,,",
            f"m,mid-bass,2,1,{rng.choice([2, 4])},90,,88,70,2,4500,,front,{mid_m},4,,",
        ]
        networks = ""
    else:
        rows = [
            f"t,tweeter,2,1,4,50,,{sensitivity},3500,2,,,front,,4,,",
            "mid,midrange,2,1,4,50,,91,200,2,7000,,front,,4,,",
            f"b,mid-bass,2,{rng.choice([1, 2])},4,100,,88,60,2,400,,rear,,4,,",
        ]
        networks = "t,mid,5000,butterworth,2"
    rng.shuffle(rows)
    return job_of(
        speakers=";".join(rows), networks=networks, head_filters="", power_m="4",
        kind=rng.choice(["replacement", "processor", ""]),
        tweeter_capacitor=rng.choice(["yes", "no"]),
    )  # fmt: skip


def active_amplifier(rng):
    """Return the Lantern Van's amplifier with random figures and filters for active speakers."""
    amplifier = random_amplifier(rng, missing=0)
    family, orders = rng.choice(
        [
            ("butterworth", "2"),
            ("butterworth", "4"),
            ("linkwitz-riley", "2/4"),
            ("butterworth", "3"),
        ]
    )
    figures = {field.name: getattr(amplifier, field.name) for field in fields(amplifier)}
    figures |= {
        "channels": 4,
        "filters": READ["filters"](ACTIVE.format(f=family, o=orders)),
        "min_channel_ohm": 2.0,
    }
    return replace(HAZEL, **figures)
