"""The workshop sheet as data: every figure on it is one of the single calculators', and where
nothing may be connected there is nothing to connect by.
"""

import json
import re
from functools import cache

import pytest
from arrangement_files import plan_of_text
from arrangement_files import text_of as file_text_of
from conftest import ROOT, each, sampled
from plan_systems import planned

from calc.answers.figures import quantity, rounded
from calc.answers.paper import Blank, Paper, Strong
from calc.answers.sheet import Box
from calc.choosing.fit_plan import FIT_PLAN
from calc.choosing.fit_plan.solve import solve
from calc.choosing.places import places_of
from calc.choosing.readings import with_readings
from calc.choosing.workshop import paper_of
from calc.renderers.html import answer_html
from calc.setup.commissioning import ReadingRow

FILES = sorted((ROOT / "tests" / "customers").glob("*.toml"))
FILES += sorted((ROOT / "shared" / "systems").glob("*.toml"))
_AMPLIFIERS = ("[amplifier]", "[[amplifiers]]", "[[candidates]]")
FILES = [path for path in FILES if any(word in path.read_text() for word in _AMPLIFIERS)]
BY_NAME = {path.stem: path for path in FILES}
STOPPED = "unknown-filters"
# What is said with a figure in it and is no result: terminals and supply by name, a cell that
# tries polarity, where a fuse is, knobs at nought.
_NAMED = re.compile(r"\+12 V|1\.5 V|450\u202fmm|gains at 0|from 0|0\u202fdB|0\u202fdBFS|4 fitted")
# Whole curves and every wiring that there is: among so many figures any other could hide.
_CURVES = ("response", "arrangements", "groupings", "curve", "placements", "runs")
_NUMBER = re.compile(r"−?\d+(?:\.\d+)?")


@cache
def plan_of_file(name):
    texts, wrong = FIT_PLAN.files[0](BY_NAME[name].read_text(encoding="utf-8"))
    assert wrong == []
    return solve(FIT_PLAN.build(FIT_PLAN.form.read(texts))).plan


def text_of(line):
    return "".join(part.text if isinstance(part, Strong) else part for part in line)


def figures_of(paper):
    """Yield every text of the sheet that tells figures."""
    yield paper.say
    yield paper.note
    yield from map(text_of, paper.cautions)
    for row in paper.channels.rows:
        for cell in row[1:]:
            yield f"{text_of(cell.first)}; {cell.second}"
    for block in paper.settings:
        yield from (to for _, to in block.rows)
    for stage in paper.stages:
        yield from (f"{read.words}; {read.expect}" for read in stage.reads)
    for article in paper.kit:
        line = article.line
        yield f"{line.size}; {quantity(line.length_m, 'm', 3)}; {line.note}"


def numbers_in(data):
    """Yield every number of nested data, in the shapes in which a sheet may write it."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in _CURVES:
                yield from numbers_in(value)
    elif isinstance(data, list):
        for value in data:
            yield from numbers_in(value)
    elif isinstance(data, int | float) and not isinstance(data, bool):
        for value in (data, -data, data * 1e6, data * 6):  # farads, and the order of a slope
            yield from (rounded(float(value), figures) for figures in (None, 3))
    elif isinstance(data, str):
        yield from _NUMBER.findall(data)


def names_of(plan):
    """Return the names of speakers and amplifiers, the longest first: they are no figures."""
    names = {speaker.name for speaker in plan.job.speakers}
    names |= {part.name for part in plan.candidate.parts} | {feed.name for feed in plan.job.feeds}
    return sorted(names, key=len, reverse=True)


def is_of_the_calculators(plan, paper):
    data = json.loads(json.dumps(plan.data()))
    known = set(numbers_in(data))
    # Each output's own channel numbers, as terminals and plugs name them.
    known |= {str(at) for row in plan.channels for at in row.output.split("+")}
    for text in figures_of(paper):
        for name in names_of(plan):
            text = text.replace(name, "")
        told = _NUMBER.findall(_NAMED.sub("", text))
        assert set(told) <= known, (text, set(told) - known)


@each("name", sorted(BY_NAME))
def test_every_number_of_the_sheet_is_one_of_the_single_calculators(name):
    plan = plan_of_file(name)
    if plan.channels:
        is_of_the_calculators(plan, paper_of(plan))


@pytest.mark.parametrize("seed", sampled(range(80), range(12)))
def test_every_number_of_a_random_system_s_sheet_is_one_of_the_single_calculators(seed):
    plan = planned(seed).plan
    if plan.channels:
        is_of_the_calculators(plan, paper_of(plan))


@each("name", sorted(BY_NAME))
def test_a_row_of_the_table_is_the_row_of_the_data(name):
    plan = plan_of_file(name)
    paper = paper_of(plan)
    rows = [] if paper.channels is None else paper.channels.rows
    assert len(rows) == len(plan.channels)
    for cells, row in zip(rows, plan.channels, strict=True):
        output, _, joined, _, load, filters, polarity, gain = cells
        assert text_of(output.first).replace("\u202f", "") == row.output
        assert text_of(load.first) == quantity(row.load_ohm, "Ω", 3)
        assert text_of(polarity.first) == row.polarity
        plus, minus = (end.replace("-", "−") for end in (row.plus, row.minus))
        if row.polarity == "reversed":  # the speaker's own signs change places
            plus, minus = minus, plus
        assert text_of(joined.first).replace("\u202f", "") == f"+ on {plus}, − on {minus}"
        for hz in (row.high_pass_hz, row.low_pass_hz):
            assert (hz is None) or quantity(hz, "Hz") in text_of(filters.first)
        assert quantity(row.ceiling_v, "V", 3) in text_of(gain.first)


@each("name", sorted(BY_NAME))
def test_the_gain_is_that_of_its_calculator_and_never_starts_above_its_ceiling(name):
    plan = plan_of_file(name)
    if not plan.channels or plan.job.system.set_up.tone_dbfs:
        return
    asked = [one for one in plan.data()["gain-voltage"] if one["results"] is not None]
    ceilings = {quantity(one["results"]["target_boosted_v"], "V", 3) for one in asked}
    words = [to for block in paper_of(plan).settings for knob, to in block.rows if "Gain" in knob]
    assert words
    for told in words:
        ceiling = re.split(r"ceiling |above ", told)[1].rstrip(")")
        assert ceiling in ceilings
        start = re.search(r"up to ([\d.]+)", told)
        assert start is None or float(start[1]) <= float(ceiling.split("\u202f")[0])


@each("name", sorted(BY_NAME))
def test_readings_are_the_commissioning_sheet_s_in_its_order(name):
    plan = plan_of_file(name)
    paper = paper_of(plan)
    reads = [read for stage in paper.stages for read in stage.reads]
    boxes = [read.box.key for read in reads if isinstance(read.box, Box)]
    if not boxes:
        assert not plan.may_connect or plan.data()["commissioning"]["results"] is None
        return
    steps = plan.data()["commissioning"]["results"]["steps"]
    assert boxes == [step["key"] for step in steps]
    # What is noted and not judged: the polarity that was kept, the fuse that is in.
    noted = [read.box.key for read in reads if isinstance(read.box, Blank)]
    tried = {row.speaker for row in plan.channels if row.try_both}
    assert noted == [*(f"polarity-{at + 1}" for at in range(len(tried))), "fuse"]


def test_what_was_read_is_judged_beside_its_box():
    plan = plan_of_file("lantern-van")
    rows = (
        ReadingRow(step="rest_v", reading="11"),
        ReadingRow(step="trigger_on_v", reading="12"),
    )
    paper = paper_of(with_readings(plan, rows))
    judged = {
        read.box.key: read.judged.word
        for stage in paper.stages
        for read in stage.reads
        if read.judged is not None
    }
    assert judged == {"rest_v": "out", "trigger_on_v": "good"}


@each("name", sorted(BY_NAME))
def test_every_line_of_the_kit_is_on_the_sheet_and_nothing_else(name):
    plan = plan_of_file(name)
    paper = paper_of(plan)
    if not plan.channels or plan.data()["kit-list"]["results"] is None:
        assert paper.kit == ()
        return
    items = plan.data()["kit-list"]["results"]["items"]

    def pieces(lines):
        counted = {}
        for item, size, length_m, count in lines:
            key = (item, size, length_m)
            counted[key] = None if count is None else (counted.get(key) or 0) + count
        return counted

    assert pieces(
        (one.line.item, one.line.size, one.line.length_m, one.line.quantity) for one in paper.kit
    ) == pieces(
        (item["item"], item["kit_size"] or item["size"], item["length_m"], item["quantity"])
        for item in items
    )
    numbers = [number for article in paper.kit for number in article.numbers.split(", ")]
    assert sorted(map(int, numbers)) == list(range(1, len(items) + 1))


@each("name", sorted(BY_NAME))
def test_cautions_are_five_at_most_and_begin_with_the_battery(name):
    paper = paper_of(plan_of_file(name))
    assert len(paper.cautions) <= 5
    if paper.channels is not None:
        assert text_of(paper.cautions[0]).startswith("Disconnect the battery’s negative first.")
        assert paper.cautions[0][-1] == Strong("Fit the main fuse last.")


def test_where_nothing_may_be_connected_there_is_nothing_to_connect_by():
    plan = plan_of_file(STOPPED)
    paper = paper_of(plan)
    assert plan.stop and paper.stop and paper.say == plan.stop
    nothing = Paper(title="", blanks=(), say="", verdict=paper.verdict)
    for part in ("channels", "settings", "stages", "whole", "narrow", "note", "cautions", "kit"):
        assert getattr(paper, part) == getattr(nothing, part), part
    assert any("high-pass" in ask for ask in paper.asks)
    texts, _ = FIT_PLAN.files[0](BY_NAME[STOPPED].read_text(encoding="utf-8"))
    answer = FIT_PLAN.answer(texts)
    assert answer.sheet.figures == ()
    html = answer_html(answer)
    for told in ("Settings sheet", "each output", "data-reading", "ceiling", "60\u202fW each"):
        head = html[html.index('class="workshop') :]
        assert told not in head, told


def test_an_example_is_told_on_the_sheet_and_in_its_foot():
    texts = {"example": "lantern-van"}
    html = answer_html(FIT_PLAN.answer(texts))
    assert 'class="workshop workshop--example' in html
    texts, _ = FIT_PLAN.files[0](BY_NAME["one-pair"].read_text(encoding="utf-8"))
    assert "workshop--example" not in answer_html(FIT_PLAN.answer(texts))


def test_readings_are_typed_in_one_place():
    html = answer_html(FIT_PLAN.answer({}))
    keys = re.findall(r'data-reading="([^"]+)"', html)
    assert keys and len(keys) == len(set(keys))
    # What was read is told in the appendix as well.
    read = answer_html(FIT_PLAN.answer({"readings": "rest_v,12.55"}))
    assert read.count("12.55") == 3  # in its box, among the reasons and with the inputs


def test_what_each_speaker_gets_on_a_shared_output_is_told_as_the_gain_is_set():
    """Worked out by hand: 4 Ω and 4 Ω take 80 W where one is rated for 40 W; √(80 · 2) = 12.6 V,
    and 12.6²/4 = 40 W for each, though the amplifier has 110 W.
    """
    rears = 'name = "rear doors"\nsection = "full-range"\ncount = 2\ncoil_ohm = 4\nrated_w = '
    changes = {"power_2ohm_w = 90": "power_2ohm_w = 110", f"{rears}50": f"{rears}40"}
    paper = paper_of(plan_of_text(file_text_of("front-with-rear", **changes)))
    assert text_of(paper.channels.rows[0][-1].first) == "ceiling 12.6\u202fV"
    assert (
        "Power per speaker, gain at its ceiling: front doors 40\u202fW and rear doors 40\u202fW; "
        "the amplifier could give 55\u202fW each." in paper.note
    )
    # The sentence to be read aloud promises no more than that, as the table does.
    assert "(80 of 110\u202fW a side: 40\u202fW for each speaker)" in paper.say
    assert text_of(paper.channels.rows[0][4].second) == "80 of 110\u202fW"


@pytest.mark.parametrize("kind", ["factory", "replacement", None])
def test_what_plays_now_is_asked_only_of_who_has_not_said_it(kind):
    told = f'kind = "{kind}"\n' if kind else ""
    text = file_text_of("own-pairs", **{'kind = "replacement"\n': told, "source_v = 4\n": ""})
    asks = " ".join(paper_of(plan_of_text(text)).asks).lower()
    assert ("what plays now" in asks) == (kind is None)


def test_a_note_on_crossovers_names_the_sets_that_have_one():
    """Of two pairs on one output the coaxials at the rear have no crossover to follow."""
    note = paper_of(plan_of_text(file_text_of("front-with-rear"))).note
    assert note.endswith("Front doors: follow the + marks on their crossovers.")


@pytest.mark.parametrize("name", BY_NAME)
def test_what_speakers_of_an_output_get_together_is_what_it_is_set_for(name):
    """Energy is kept: the watts told one by one are the first figure of the row's `80 of 110 W`."""
    plan = plan_of_file(name)
    told = re.findall(r"Power per speaker[^:]*: (.*?W)[;.](?: |$)", paper_of(plan).note)
    shared = [
        place.channel
        for place in places_of(plan)
        if len({one.speaker for one in place.channel.loads}) > 1 and place.channel.power_w
    ]
    sums = {round(one.ceiling_v**2 / one.load_ohm) for one in shared if one.ceiling_v}
    heard = {
        round(sum(float(watts) for watts in re.findall(r"([\d.]+)\u202fW", line))) for line in told
    }
    assert sums <= heard
