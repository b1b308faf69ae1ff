"""Stock lists as spreadsheets have them: heads, cells, separators; nothing is read wrongly."""

import csv
import io
import random

import pytest
from choosing_systems import random_amplifier
from conftest import each, sampled
from system_inputs import UNSEEN

from calc.inputs.declared import replaced
from calc.inputs.errors import InputError
from calc.system.amplifier import COLUMNS
from calc.system.files.shelf_file import read_shelf, write_shelf


def one(head, cell, more_heads="", more_cells=""):
    """Return what a cell below a head gives, all figures that are known but the name."""
    out = io.StringIO()
    csv.writer(out).writerow(["name", *([more_heads] if more_heads else []), head])
    csv.writer(out).writerow(["A", *([more_cells] if more_heads else []), cell])
    (amplifier,) = read_shelf(out.getvalue())
    values = {column.key: getattr(amplifier, column.key) for column in COLUMNS}
    return {key: value for key, value in values.items() if value is not None and key != "name"}


def refusal(text):
    """Return the errors that a list is refused with."""
    with pytest.raises(InputError) as caught:
        read_shelf(text)
    return caught.value.errors


HEADS = [
    ("RMS 4Ω", "60", {"power_4ohm_w": 60}),
    ("Power 4 ohm [W]", "60", {"power_4ohm_w": 60}),
    ("POWER_4OHM_W", "60", {"power_4ohm_w": 60}),
    ("Power 4ohm W", "60", {"power_4ohm_w": 60}),
    ("Watts RMS @ 4 ohms", "60", {"power_4ohm_w": 60}),
    ("RMS per channel at 4 Ω (14.4 V)", "60", {"power_4ohm_w": 60}),
    ("Power 2 Ω (kW)", "0.09", {}),
    ("RMS @ 2 Ω", "90", {"power_2ohm_w": 90}),
    ("Output per channel into 8 ohms", "30", {"power_8ohm_w": 30}),
    ("Bridged 4 Ω", "180", {"rated_bridged_w": 180}),
    ("Bridged RMS (W)", "180", {"rated_bridged_w": 180}),
    ("Width (mm)", "250", {"width_mm": 250}),
    ("Width (cm)", "25", {"width_mm": 250}),
    ("Width [in]", "10", {"width_mm": 254}),
    ("W (mm)", "250", {"width_mm": 250}),
    ("Minimum load", "2", {"min_channel_ohm": 2}),
    ("Min. impedance (Ω)", "2", {"min_channel_ohm": 2}),
    ("Fuse", "30", {"fuses_a": "30"}),
    ("Fuses (A)", "25/25", {"fuses_a": "25/25"}),
    ("Main fuse", "60", {"main_fuse_a": 60}),
    ("Class", "D", {"amplifier_class": "d"}),
    ("Number of channels", "4", {"channels": 4}),
    ("No. of channels", "4", {"channels": 4}),
    ("Price (EUR)", "240", {"price": 240}),
    ("Price €", "240", {"price": 240}),
    ("Weight (kg)", "2.5", {"mass_kg": 2.5}),
    ("HPF (Hz)", "50-250", {"high_pass_hz": "50-250"}),
    ("Low-pass", "50-250", {"low_pass_hz": "50-250"}),
    ("Filter slope (dB/oct)", "12", {"filter_db_per_octave": "12"}),
    ("Bridgeable", "yes", {"may_be_bridged": True}),
    ("Auto turn-on", "yes", {"signal_sensing": True}),
    ("Bass boost (dB)", "12", {"boost_db": 12}),
    ("Stand-by current", "2 mA", {}),
    ("Standby current (mA)", "2", {"quiescent_a": 0.002}),
    ("Sensitivity min (mV)", "200", {"sensitivity_min_v": 0.2}),
    ("Input sensitivity", "200 mV – 6 V", {"sensitivity_min_v": 0.2, "sensitivity_max_v": 6}),
    ("Line input (V)", "0,2-6", {"sensitivity_min_v": 0.2, "sensitivity_max_v": 6}),
    ("High-level input", "1 to 12 V", {"high_level_min_v": 1, "high_level_max_v": 12}),
    ("High-level input", "yes", {}),
    ("W×H×D (mm)", "250 x 52 x 170", {"width_mm": 250, "height_mm": 52, "depth_mm": 170}),
    ("Size W x D x H", "250×170×52 mm", {"width_mm": 250, "height_mm": 52, "depth_mm": 170}),
    ("W/H/D", '10" x 2" x 7 1/2"', {"width_mm": 254, "height_mm": 50.8, "depth_mm": 190.5}),
    ("x_shelf", "3b", {}),
    ("SKU", "12345", {}),
]  # fmt: skip


@each("case", [case for case in HEADS if case[2]])
def test_a_head_of_a_spreadsheet_is_taken(case):
    head, cell, found = case
    assert one(head, cell) == found


@each("head", ["x_shelf", "SKU", "Notes", "Stock"])
def test_a_shop_s_own_column_is_passed_over(head):
    assert one(head, "something") == {}


@each(
    "head",
    ["Power", "RMS", "Rated power", "Output power (W)", "W", "D", "L", "Length (mm)", "Size",
     "Dimensions (mm)", "Bridged", "Remote", "Impedance", "Mono 4 Ω", "Crossover (Hz)", "Input",
     "Max power 4 Ω", "Peak power (W)", "Total power", "RMS total 4 Ω"],
)  # fmt: skip
def test_a_head_that_can_mean_two_figures_is_asked_about(head):
    (error,) = refusal(f"name,{head}\nA,60\n")
    assert error.column == head and "x_" in error.message
    assert "There is no column" not in error.message


@each(
    "head",
    ["Breite", "Colour", "RMS 1 Ω", "Bridged 2 Ω", "Bridged 8 ohm", "RMS 4 Ω 2 Ω", "4 x 4 Ω 2 Ω",
     "Frequency response", "Width (kg)", "Fuse (V)", "RMS 3 Ω", "L x B x H", "W x W x H", "THD"],
)  # fmt: skip
def test_an_unknown_head_stays_an_error(head):
    (error,) = refusal(f"name,{head}\nA,60\n")
    assert error.column == head and "There is no column" in error.message


def test_single_letters_are_sizes_where_they_stand_together():
    (amplifier,) = read_shelf("Model,W,D,H\nA,250,170,52\n")
    assert (amplifier.width_mm, amplifier.depth_mm, amplifier.height_mm) == (250, 170, 52)


@each("heads", ["Width,W (mm)", "RMS 4Ω,power_4ohm_w", "Model,Product", "W x H x D,Height"])
def test_two_columns_for_one_figure_are_told(heads):
    errors = refusal(f"name,{heads}\nA,1,1\n")
    assert any("both mean" in error.message for error in errors)


def test_brand_and_model_are_joined():
    read = read_shelf("Brand,Model,Channels\nHazelwood,4-50,4\nRowan,Rowan 4-75,4\n,Elm,4\n")
    assert [amplifier.name for amplifier in read] == ["Hazelwood 4-50", "Rowan 4-75", "Elm"]
    (error,) = refusal("Brand,Channels\nHazelwood,4\n")
    assert "‘name’" in error.message


CELLS = [
    ("power_4ohm_w", "60 W", 60), ("power_4ohm_w", "60W RMS", 60), ("power_4ohm_w", "62,5", 62.5),
    ("power_4ohm_w", "1 200 W", 1200), ("power_4ohm_w", "1'200", 1200),
    ("power_4ohm_w", "1.2 kW", 1200), ("rated_bridged_w", "1,200.5", 1200.5),
    ("rated_bridged_w", "1.200,5", 1200.5), ("sensitivity_min_v", "200 mV", 0.2),
    ("sensitivity_min_v", "0,200", 0.2), ("width_mm", "25 cm", 250),
    ("width_mm", '9 7/8"', 250.825), ("width_mm", "9⅞ in", 250.825),
    ("width_mm", "9-7/8 inches", 250.825), ("width_mm", "1,200", 1200),
    ("min_channel_ohm", "2 Ω stable", 2), ("min_channel_ohm", "2 ohms", 2),
    ("mass_kg", "5.5 lbs", 2.494758035), ("channels", "4ch", 4), ("channels", "4-channel", 4),
    ("price", "€ 240,-", 240), ("price", "240,00 €", 240), ("price", "$1,240.50", 1240.5),
    ("efficiency_percent", "80 %", 80), ("boost_db", "12 dB", 12), ("quiescent_a", "2 mA", 0.002),
    ("fuses_a", "2x25", "25/25"), ("fuses_a", "2 × 25 A", "25/25"),
    ("fuses_a", "25 A x 2", "25/25"), ("fuses_a", "25A + 30A", "25/30"),
    ("fuses_a", "7,5 A", "7.5"), ("fuses_a", "30 A", "30"), ("fuses_a", "4 x 5 A", "5/5/5/5"),
    ("amplifier_class", "Class D", "d"), ("amplifier_class", "A/B", "ab"),
    ("high_pass_hz", "50–250 Hz", "50-250"), ("high_pass_hz", "50 Hz - 4 kHz", "50-4000"),
    ("high_pass_hz", "50 to 250", "50-250"), ("high_pass_hz", "60/80/100 Hz", "60/80/100"),
    ("low_pass_hz", "none", "off"), ("low_pass_hz", "80 Hz", "80"),
    ("filter_db_per_octave", "12 dB/oct", "12"),
    ("filter_db_per_octave", "-24 dB per octave", "24"),
    ("filter_db_per_octave", "12 / 24", "12/24"), ("trigger", "Yes", True),
    ("trigger", "Y", True), ("trigger", "n", False), ("trigger", "NO", False),
    ("trigger", "✓", True), ("trigger", "✗", False), ("trigger", "x", True),
    ("terminals", "Screw", "screw"), ("front_face", "Signal+Controls", ("signal", "controls")),
]  # fmt: skip


@each("case", CELLS)
def test_a_cell_as_it_is_written_is_read(case):
    key, cell, value = case
    assert one(key, cell) == {key: value}


@each("cell", ["", " ", "n/a", "N/A", "na", "?", "–", "-", "unknown", "not stated"])
def test_what_is_not_known_is_no_figure(cell):
    for key in ("power_4ohm_w", "fuses_a", "trigger", "front_face", "high_pass_hz", "price"):
        assert one(key, cell) == {}, key


REFUSED = [
    ("power_4ohm_w", "60 V"), ("power_4ohm_w", "60 W max"), ("power_4ohm_w", "60/75"),
    ("power_4ohm_w", "approx 60"), ("power_4ohm_w", "60-75"), ("power_4ohm_w", "1,200"),
    ("power_4ohm_w", "-60"), ("power_4ohm_w", "6 0"), ("power_4ohm_w", "1.2.3"),
    ("power_4ohm_w", "60 W peak"), ("power_4ohm_w", "4 x"), ("width_mm", "250 kg"),
    ("width_mm", "9 7/8"), ("width_mm", "9 9/8 in"), ("fuses_a", "2x5"), ("fuses_a", "2 x 25 V"),
    ("fuses_a", "25 A each"), ("fuses_a", "12. Oct"), ("channels", "4/3/2"), ("channels", "4.5"),
    ("trigger", "optional"), ("amplifier_class", "GH"), ("high_pass_hz", "yes"),
    ("high_pass_hz", "250-50"), ("high_pass_hz", "80 dB"), ("filter_db_per_octave", "13 dB"),
    ("price", "240 A"), ("mass_kg", "2.5 mm"), ("input sensitivity", "0.2 V"),
    ("input sensitivity", "6 V - 0.2 V"), ("W x H x D", "250 x 170"),
    ("W x H x D", "250 x 52 x 170 kg"), ("W x H x D", "9 in x 30 x 50"),
]  # fmt: skip


@each("case", REFUSED)
def test_what_can_be_misread_is_refused_with_its_place(case):
    head, cell = case
    out = io.StringIO()
    csv.writer(out).writerows([["name", head], ["A", cell]])
    (error,) = refusal(out.getvalue())
    assert error.row == 2 and error.column and error.given in cell


def test_a_list_s_other_figures_tell_its_decimal_mark():
    comma = "name;RMS 4Ω;mass_kg\nA;1.200;2,5\nB;62,5;\n"
    assert [amplifier.power_4ohm_w for amplifier in read_shelf(comma)] == [1200, 62.5]
    point = 'name,RMS 4Ω,mass_kg\nA,"1,200",2.5\nB,62.5,\n'
    assert [amplifier.power_4ohm_w for amplifier in read_shelf(point)] == [1200, 62.5]
    (error,) = refusal("name;RMS 4Ω\nA;1.200\n")
    assert "1.2 or 1200" in error.message
    (error,) = refusal("name;RMS 4Ω;mass_kg\nA;1.200;2,5\nB;62.5;\n")  # both marks in one list
    assert "1.2 or 1200" in error.message


def test_a_list_of_ours_has_decimal_points():
    assert read_shelf("name;power_4ohm_w\nA;1.125\n")[0].power_4ohm_w == 1.125


def test_decimal_commas_in_quoted_cells_are_read():
    (amplifier,) = read_shelf('name,RMS 4Ω,Weight (kg)\nA,"62,5","2,4"\n')
    assert (amplifier.power_4ohm_w, amplifier.mass_kg) == (62.5, 2.4)


def test_powers_of_several_channels_are_held_against_their_number():
    assert one("RMS 4Ω", "4 x 60 W") == {"power_4ohm_w": 60, "channels": 4}
    assert one("RMS 4Ω", "60W x 4", "channels", "4") == {"power_4ohm_w": 60, "channels": 4}
    assert one("Bridged 4 Ω", "2 x 180", "channels", "4")["rated_bridged_w"] == 180
    for head, cell, channels in (
        ("RMS 4Ω", "4 x 60 W", "5"), ("Bridged 4 Ω", "2 x 180", "6"), ("Bridged 4Ω", "2 x 180", ""),
    ):  # fmt: skip
        (error,) = refusal(f"name,channels,{head}\nA,{channels},{cell}\n")
        assert error.row == 2 and error.given == cell


def test_crosses_and_dashes_mean_what_the_column_says():
    heads = "name,trigger,cover\n"
    read = read_shelf(heads + "A,x,x\nB,–,no\nC,,-\n")
    assert [(a.trigger, a.cover) for a in read] == [(True, True), (False, False), (None, False)]
    # Nothing is marked as a yes: a dash may be a figure that is not known.
    assert [a.trigger for a in read_shelf("name,trigger\nA,–\nB,no\n")] == [None, False]
    # Beside a yes, an x may be a no.
    (error,) = refusal("name,trigger\nA,x\nB,yes\n")
    assert (error.row, error.given) == (2, "x")


def test_prices_in_two_currencies_are_refused():
    (error,) = refusal("name,price\nA,€240\nB,£200\n")
    assert error.row == 3 and "currency" in error.message
    assert len(read_shelf("name,price\nA,€240\nB,200\nC,10 EUR\n")) == 3


TITLED = "Stock list May;;\n\nModel;RMS 4Ω;W x H x D\nHazel;62,5;250 x 52 x 170\n\n;;\nRowan;75;\n"


@each("text", [TITLED, "\ufeff" + TITLED, "sep=;\n" + TITLED, TITLED.replace("\n", "\r\n"),
               TITLED.replace(";", "\t"), "\n\n" + TITLED])  # fmt: skip
def test_titles_blank_lines_and_marks_do_not_matter(text):
    read = read_shelf(text)
    assert [(a.name, a.power_4ohm_w, a.width_mm) for a in read] == [
        ("Hazel", 62.5, 250), ("Rowan", 75, None),
    ]  # fmt: skip
    assert any("Stock list May" in note for note in read.notes)


def test_a_wrong_cell_below_a_title_has_the_file_s_row():
    (error,) = refusal(TITLED.replace("75", "plenty"))
    assert error.row == 7


def test_what_was_taken_for_what_is_told_once():
    read = read_shelf("Model,RMS 4Ω,Width (in),Notes,x_own\nA,60,10,blue,3\nB,75,9,red,4\n")
    taken, passed = read.notes
    assert (
        "‘RMS 4Ω’ as RMS power per channel at 4 Ω" in taken
        and "‘Width (in)’ as width, in inches" in taken
    )
    assert "Notes" in passed and "x_own" not in taken + passed
    assert read_shelf("name,Power 4ohm W,width (mm)\nA,60,250\n").notes == ()


def test_empty_columns_and_cells_at_the_end_are_no_columns():
    (amplifier,) = read_shelf("name,channels,,\nA,4,,,,\n")
    assert amplifier.channels == 4
    (amplifier,) = read_shelf("name,,channels\nA,,4\n")
    assert amplifier.channels == 4
    assert refusal("name,,channels\nA,7,4\n") and refusal("name,channels,\nA,4,7\n")


@pytest.mark.parametrize("seed", sampled(range(40), range(6)))
def test_a_list_reads_alike_with_heads_and_commas_of_a_spreadsheet(seed):
    """Other heads, decimal commas, units in the cells: the figures stay the same."""
    rng = random.Random(f"heads {seed}")
    shelf = tuple(random_amplifier(rng, f"number {at}", 0.2) for at in range(6))
    rows = list(csv.reader(io.StringIO(write_shelf(shelf))))
    heads = {"name": "Model", "power_4ohm_w": "RMS 4Ω", "width_mm": "Width", "fuses_a": "Fuses"}
    units = {"power_4ohm_w": " W", "width_mm": " mm", "sensitivity_max_v": " V"}
    plain = {column.key for column in COLUMNS if column.kind == "number"}
    for row in rows[1:]:
        for at, key in enumerate(rows[0]):
            if row[at] and key in plain:
                row[at] = row[at].replace(".", ",") + units.get(key, "")
    rows[0] = [heads.get(key, key) for key in rows[0]]
    out = io.StringIO()
    csv.writer(out, delimiter=rng.choice(";\t,")).writerows(rows)
    # What only a plan's form holds is not in a list.
    assert read_shelf(out.getvalue()) == tuple(replaced(each, UNSEEN) for each in shelf)


HOSTILE = [
    "name;" + ";".join(f"Power {at}" for at in range(5000)) + "\nA\n",
    "Model" + ",RMS 4Ω" * 20_000 + "\nA\n",
    "name,fuses_a\nA," + "2x" * 40_000 + "\n",
    "name,price\nA," + "1," * 40_000 + "\n",
    "name,width_mm\nA," + "9 " * 40_000 + "in\n",
    "name,high_pass_hz\nA," + "50-" * 40_000 + "\n",
    'name\n"' + "a\n" * 100_000,
    "\n" * 300_000,
    "title\n" * 100_000,
    "x_" * 100_000,
    "Brand,Brand,name\nA,B,C\n",
]  # fmt: skip


@each("text", HOSTILE)
def test_a_hostile_list_is_refused_in_words(text):
    errors = refusal(text)
    assert all(
        error.message.replace("\u202f", "").isprintable() and len(error.message) < 900
        for error in errors
    )


SAID = [
    ("Model;Brand;RMS 4Ω;Bridged 4 ohm\nAlder;Elm;62,5;150\n",
     {"name": "Elm Alder", "power_4ohm_w": 62.5, "rated_bridged_w": 150}),
    ("Model,Power 4 ohm [W],W,D,H,Fuse,Class,Price,HPF,LPF,Slope\n"
     "Alder,4 x 60 W,250,180,52,2x25 A,D,\"1.200,00 €\",50–250 Hz,80,12\n",
     {"channels": 4, "power_4ohm_w": 60, "width_mm": 250, "depth_mm": 180, "height_mm": 52,
      "fuses_a": "25/25", "amplifier_class": "d", "price": 1200, "high_pass_hz": "50-250",
      "low_pass_hz": "80", "filter_db_per_octave": "12"}),
    ("Model;Width (in);input sensitivity;trigger\nAlder;9 7/8;200 mV – 6 V;y\n",
     {"width_mm": 250.825, "sensitivity_min_v": 0.2, "sensitivity_max_v": 6, "trigger": True}),
    ("Model;W x H x D;Channels\nAlder;9 7/8\" x 2 x 6.7\";?\n",
     {"width_mm": 250.825, "height_mm": 50.8, "depth_mm": 170.18, "not_printed": "channels"}),
]  # fmt: skip


@each("said", SAID)
def test_what_the_chapter_says_of_heads_and_cells_is_so(said):
    text, figures = said
    (amplifier,) = read_shelf(text)
    assert {key: getattr(amplifier, key) for key in figures} == figures
