"""Random systems and shelf lists for the calculators of choosing."""

from calc.inputs.declared import build
from calc.system.amplifier import COLUMNS, Amplifier
from calc.system.files.shelf_file import write_shelf


def shelf(rng, valid):
    """Return a shelf list of one to three amplifiers, many figures missing."""
    rows = []
    for at in range(rng.randint(1, 3)):
        row = {one.key: one.read(valid(one, rng, True).replace(",", ".")) for one in COLUMNS}
        rows.append({**row, "name": f"amplifier {at}"})
    return write_shelf(build(Amplifier, _with_ranges(row)) for row in rows)


def _with_ranges(row):
    """Return the row with the least input below the most."""
    for low, high in (
        ("sensitivity_min_v", "sensitivity_max_v"),
        ("high_level_min_v", "high_level_max_v"),
    ):
        if row[low] is not None and row[high] is not None and row[low] >= row[high]:
            row[low] = None
    return row


def fit_system(valid, calculator, given, rng):
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
    given["speakers"] = ";".join(rows)
    outputs = [row.split(",")[12] for row in rows]
    filters = [
        [valid(column, rng, True).replace(",", ".") for column in by_key["head_filters"].columns]
        for _ in range(rng.randint(0, 3))
    ]
    for cells in filters:
        cells[-2] = rng.choice(["", "A"])
    fed = [one for one in outputs if one]
    given["head_filters"] = ";".join(
        ",".join([rng.choice(fed), *cells[1:]]) for cells in filters if fed
    )
    given["networks"] = "" if rng.random() < 0.6 else f",{rng.choice(names)},3000,butterworth,2"
    if given.get("amplifier"):
        given["amplifier"] = ""
    return given
