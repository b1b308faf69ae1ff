"""The plain columns for the usual filters of an amplifier."""

import pytest
from choosing_systems import HAZEL, PAIR, READ, VAN, best_of, check_of, job_of
from conftest import each

from calc.app.contents import CALCULATORS
from calc.choosing.layouts.feeds import Job
from calc.crossovers.filter_split import FILTER_SPLIT
from calc.inputs.declared import replaced
from calc.inputs.field_base import Refused
from calc.system.files.shelf_file import read_shelf, write_shelf
from calc.system.system import SYSTEM_FIELDS


def amplifier(**changes):
    """Return the Hazel without its full notation, with these columns."""
    return replaced(HAZEL, {"filters": None, **changes})


@each("corners", ["50-250", "80", "60/80/100", "off", "40.5-400"])
def test_corners_as_printed_are_read(corners):
    assert READ["high_pass_hz"](corners) == READ["low_pass_hz"](corners) == corners


@each("corners", ["250-50", "none", "5-50", "50-", "80 Hz", "-80", "50--250", "1/2/x", "40000"])
def test_other_corners_are_refused_in_words(corners):
    with pytest.raises(Refused, match="50-250"):
        READ["high_pass_hz"](corners)


@each("slope", ["6", "12", "12/24", "48"])
def test_slopes_are_read(slope):
    assert READ["filter_db_per_octave"](slope) == slope


@each("slope", ["0", "13", "54", "12-24", "12/", "twelve", "1" * 100])
def test_other_slopes_are_refused_in_words(slope):
    with pytest.raises(Refused, match="12/24"):
        READ["filter_db_per_octave"](slope)


def test_plain_columns_are_the_switch_of_each_pair():
    own = amplifier(
        high_pass_hz="50-250", low_pass_hz="50-250", filter_db_per_octave="12"
    ).own_filters
    assert own == replaced(HAZEL, {"filters": PAIR.format(r="50-250")}).own_filters
    assert own.missing == ()


@each("channels", range(1, 9))
def test_any_number_of_channels_has_rows_that_filter_split_reads(channels):
    own = amplifier(
        channels=channels, high_pass_hz="50-250", low_pass_hz="60/80", filter_db_per_octave="12/24"
    ).own_filters
    rows = FILTER_SPLIT.form.by_key["amplifier"].read(own.rows)
    fed = {channel for row in rows for channel in map(int, row.channels.split("/"))}
    assert fed == set(range(1, channels + 1))


def test_off_is_known_and_empty_is_not():
    assert amplifier(high_pass_hz="off", low_pass_hz="off").own_filters.missing == ()
    assert amplifier(high_pass_hz="off", low_pass_hz="off").own_filters.rows == ""
    assert amplifier().own_filters.missing == ("high_pass_hz", "low_pass_hz")
    assert amplifier(low_pass_hz="off").own_filters.missing == ("high_pass_hz",)
    assert amplifier(low_pass_hz="off", high_pass_hz="80").own_filters.missing == (
        "filter_db_per_octave",
    )


def test_the_full_notation_wins_and_a_contradiction_is_told():
    full = PAIR.format(r="40-400")
    both = replaced(HAZEL, {"filters": full, "high_pass_hz": "50-250", "low_pass_hz": "40-400"})
    assert both.own_filters == replaced(HAZEL, {"filters": full}).own_filters
    (notice,) = both.filter_notices
    assert "high_pass_hz" in notice and "50-250" in notice and "40-400" in notice
    alike = {"filters": full, "high_pass_hz": "40-400", "filter_db_per_octave": "12"}
    assert replaced(HAZEL, alike).filter_notices == ()
    slopes = replaced(HAZEL, {**alike, "filter_db_per_octave": "24"}).filter_notices
    none = replaced(HAZEL, {"filters": "none", "high_pass_hz": "80"}).filter_notices
    assert len(slopes) == len(none) == 1


def test_a_plan_tells_a_contradiction():
    texts = {"amplifier": SYSTEM_FIELDS[-1].write([replaced(HAZEL, {"high_pass_hz": "60-300"})])}
    sheet = CALCULATORS["fit-plan"].answer(texts).sheet
    assert any("60-300" in notice for notice in sheet.results["notices"])


def test_plain_columns_are_judged_like_the_full_notation():
    job = Job(VAN.system)
    plain = {"high_pass_hz": "50-250", "low_pass_hz": "50-250", "filter_db_per_octave": "12"}
    full = best_of(job, amplifier(filters=PAIR.format(r="50-250")))
    assert best_of(job, amplifier(**plain)).checks == full.checks
    half = best_of(job, amplifier(high_pass_hz="50-250", filter_db_per_octave="12"))
    check = check_of(half, "filters")
    assert check.state == "likely" and "with the usual filters" in check.has
    assert check.keys == ("low_pass_hz",)


def test_a_certain_no_stands_without_channels():
    """Tweeters without any high-pass fail whatever the missing figures are."""
    tweeters = "tweeters,tweeter,2,1,4,40,30,92,2500,4,,,front,1.1,4.5,,"
    job = job_of(speakers=tweeters, networks="", head_filters="")
    off = {"channels": None, "high_pass_hz": "off", "low_pass_hz": "off"}
    assert check_of(best_of(job, amplifier(**off)), "filters").state == "unsuitable"


def test_a_shelf_and_an_old_link_hold_the_columns():
    plain = {"high_pass_hz": "50-250", "low_pass_hz": "off", "filter_db_per_octave": "12"}
    shelf = (amplifier(**plain, role="candidate"),)
    assert read_shelf(write_shelf(shelf)) == shelf
    field = SYSTEM_FIELDS[-1]
    # Rows of links from before these columns, and from before what follows the price.
    for lacking in range(1, 6):
        cells = field.write([HAZEL]).split(",")[:-lacking]
        (read,) = field.read(",".join(cells))
        assert read.name == HAZEL.name and read.high_pass_hz is None
