"""Random systems and stock lists for the calculators of choosing."""

from calc.inputs.declared import build
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.shelf_file import write_shelf

# What the form of a plan holds besides a stock list's columns.
UNSEEN = {"not_printed": None, "role": "candidate"}


def shelf(rng, valid):
    """Return a stock list of one to three amplifiers, many figures missing."""
    amplifiers = []
    for at in range(rng.randint(1, 3)):
        cells = {
            column.key: column.read(valid(column, rng, True).replace(",", "."))
            for column in COLUMNS
        }
        cells["name"] = f"amplifier {at}"
        amplifiers.append(build(Amplifier, {**UNSEEN, **_with_ranges(cells)}))
    return write_shelf(amplifiers)


def _with_ranges(cells):
    """Return the cells with the least input below the most."""
    for low, high in (
        ("sensitivity_min_v", "sensitivity_max_v"),
        ("high_level_min_v", "high_level_max_v"),
    ):
        if cells[low] is not None and cells[high] is not None and cells[low] >= cells[high]:
            cells[low] = None
    return cells


def fit_system(valid, calculator, texts, rng):
    """Draw speakers, networks and filters that agree by name."""
    by_key = calculator.form.by_key
    names = ["left", "right", "rear", "woofers", "tweeters", "more"][: rng.randint(1, 5)]
    rows = []
    for name in names:
        cells = [
            valid(column, rng, True).replace(",", ".") for column in by_key["speakers"].columns
        ]
        cells[0] = name
        cells[6] = rng.choice(["", "0", "1", cells[5]])
        cells[3] = str(rng.randint(1, 2))
        cells[12] = rng.choice(["front", "rear", ""])
        rows.append(",".join(cells))
    texts["speakers"] = ";".join(rows)
    outputs = [row.split(",")[12] for row in rows]
    filters = [
        [valid(column, rng, True).replace(",", ".") for column in by_key["head_filters"].columns]
        for _ in range(rng.randint(0, 3))
    ]
    for cells in filters:
        cells[-2] = rng.choice(["", "A"])
    fed = [output for output in outputs if output]
    texts["head_filters"] = ";".join(
        ",".join([rng.choice(fed), *cells[1:]]) for cells in filters if fed
    )
    texts["networks"] = "" if rng.random() < 0.6 else f",{rng.choice(names)},3000,butterworth,2"
    if texts.get("amplifier"):
        texts["amplifier"] = ""
    # Of steps that every sheet has; whether there is a sheet is another matter.
    read = [f"earth_ohm,{rng.choice(['0.04', 'open', '2'])}", "rest_v,12.6", "noise,yes"]
    texts.pop("readings", None)
    if "readings" in by_key and rng.random() < 0.5:
        texts["readings"] = ";".join(rng.sample(read, rng.randint(1, 3)))
    return texts
