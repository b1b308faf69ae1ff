"""What is asked when answers are measured: systems, trees and bays that take long."""

import random
from collections.abc import Iterable
from dataclasses import replace

Texts = dict[str, str]

SLOWEST_COILS = (
    {"drivers": "2,4;2,3;2,2;2,1"},
    {"drivers": "2,4;2,3;2,2;2,1", "min_load_ohm": "3"},
)
LIKE_COILS = tuple({"drivers": "4", "coil_ohm": f"{4 + at / 8}"} for at in range(12))


def changes(name: str, count: int) -> list[Texts]:
    """Return inputs of a calculator with one figure changed, as when a person changes it."""
    from inputs import valid_inputs

    from calc.app.contents import CALCULATORS
    from calc.inputs.errors import InputError

    calculator = CALCULATORS[name]
    rng = random.Random(f"bench {name}")
    changed: list[Texts] = []
    for _ in range(count):
        texts = valid_inputs(calculator, rng)
        key = rng.choice(list(texts) or [calculator.fields[0].key])
        # It differs from the worked example alone, and may not fit it.
        change = {key: texts[key]} if key in texts else {}
        try:
            calculator.answer(change)
        except InputError:
            change = {}
        changed.append(change)
    return changed


def shelf(count: int) -> Texts:
    """Return the Lantern Van's system with a shelf of random amplifiers."""
    from choosing_systems import random_amplifier

    from calc.system.files.shelf_file import write_shelf

    rng = random.Random("bench shelf")
    return {"shelf": write_shelf(random_amplifier(rng, f"number {at}") for at in range(count))}


def shelf_of_sets() -> Texts:
    """Return the Lantern Van's system with 30 four-channel amplifiers and 5 monos."""
    from choosing_systems import random_amplifier

    from calc.system.amplifier import Amplifier
    from calc.system.files.shelf_file import write_shelf

    rng = random.Random("bench shelf")
    fours = [replace(random_amplifier(rng, f"number {at}"), channels=4) for at in range(30)]
    monos = [
        Amplifier(
            name=f"mono {at}",
            channels=1,
            power_4ohm_w=150.0 + 50 * at,
            power_2ohm_w=250.0 + 80 * at,
            width_mm=200.0,
            depth_mm=150.0,
            height_mm=50.0,
        )
        for at in range(5)
    ]
    return {"shelf": write_shelf([*fours, *monos])}


def bays() -> list[Texts]:
    """Return bays of everyday size, those that are too small included."""
    from mounting_bays import as_inputs, realistic

    return [as_inputs(realistic(random.Random(seed))) for seed in range(60)]


def trees() -> list[Texts]:
    """Return trees of twelve runs: a comb, a star, a fork of forks, and chains with one load."""
    comb = [f"n{at},n{at + 1},{1 + at / 7:.2f}" for at in range(6)]
    comb += [f"n{at + 1},load {at},{0.4 + at / 9:.2f}" for at in range(6)]
    fork = [f"n{(at - 1) // 2},n{at},{0.6 + at / 5:.2f}" for at in range(1, 13)]
    star = [f"n0,load {at},{1 + at / 3:.2f}" for at in range(12)]
    # The lengths that took the longest of some two thousand chains.
    chain = [f"n{at},n{at + 1},{0.3 * 1.2**at:.3f}" for at in range(12)]
    made: list[Texts] = []
    for sizes in ("metric", "awg"):
        for limit in ("0.35", "0.5", "0.8", "1.4"):
            rules = {"sizes": sizes, "max_drop_v": limit, "body_mohm": "0.5"}
            made += [
                rules | {"runs": ";".join(comb), "loads": _loads(f"load {at}" for at in range(6))},
                rules | {"runs": ";".join(fork), "loads": _loads(f"n{at}" for at in range(6, 13))},
                rules | {"runs": ";".join(star), "loads": _loads(f"load {at}" for at in range(12))},
                rules | {"runs": ";".join(chain), "loads": "n12,120"},
            ]
    full = {"duty": "full", "return": "cable", "sizes": "awg", "runs": ";".join(chain)}
    return [*made, full | {"loads": "n12,69", "max_drop_v": "0.07"}]


def _loads(places: Iterable[str]) -> str:
    return ";".join(f"{place},{90 + 17 * at}" for at, place in enumerate(places))


def full_systems() -> list[Texts]:
    """Return four-channel systems whose head unit has every filter, with many steps and slopes."""
    steps = (
        "20/25/32/40/50/63/80/100/125/160/200/250/315/400/500/1000/1250/1600/2000/2500/3150/4000"
    )
    filters = "1/2,high-pass {0};1/2,low-pass {0};3/4,high-pass {0};3/4,low-pass {0}"
    head_unit = filters.format(f"{steps},1,butterworth,1/2/3/4,,yes").replace("pass ", "pass,")
    amplifier = filters.format("50-500,1/10,butterworth,2/4,,yes").replace("pass ", "pass,")
    exclusive = ";".join(
        f"{pair},{kind},50-500,1/10,butterworth,2,{pair[0]},yes"
        for pair in ("1/2", "3/4")
        for kind in ("high-pass", "low-pass")
    )
    sections = (
        ("tweeter,1/2,2500,{0},,,0;mid-bass,3/4,70,{0},4500,,0", ""),
        ("tweeter,1/2,2500,{0},,,0;mid-bass,1/2,70,{0},4500,,0;woofer,3+4,25,{0},120,,0",
         "1/2,3500,butterworth,2,both"),
        ("tweeter,1/2,3000,2,,,0;midrange,1/2,200,{0},6000,,0;mid-bass,3/4,70,{0},300,,0",
         "1/2,5000,butterworth,2,both"),
        ("full-range,1/2,60,{0},,,0;woofer,3+4,30,{0},120,,0", ""),
    )  # fmt: skip
    return [
        {
            "sections": text.format(order),
            "head_unit": head_unit,
            "amplifier": amplifier_filters,
            "passive": passive,
        }
        for text, passive in sections
        for amplifier_filters in (amplifier, exclusive)
        for order in (2, 4)
    ]
