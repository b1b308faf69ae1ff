"""Whatever figures a sheet gives in whatever of these styles: they are read as they are, or not."""

import hypothesis.strategies as st
from hypothesis import given, settings

from calc.reading import read_amplifier, read_speaker

AT = ("@ ", "at ", "into ", "an ", "(", "/ ", "@")
OHM = ("Ω", " Ω", " ohm", " ohms", "-ohm", "Ohm")
WATT = ("W", " W", " watts", " Watt", "w")
TIMES = (" x ", "x", " × ", "×", " X ")
RMS = ("RMS ", "RMS: ", "RMS power: ", "Rated power ", "Continuous power ", "Nennleistung: ", "")
MOST = ("max. ", "Peak power: ", "MAX ", "Maximum output ", "Spitzenleistung ")
PARTS = ("; ", "\n", ". ", ";\n", " | ", "\n\n- ", " ", ", ")
DASHES = ("-", " – ", "–", " - ", " to ", " bis ", "~")
BOOLS = st.booleans()


def number(value, comma):
    text = f"{value:g}"
    return text.replace(".", ",") if comma else text


@st.composite
def style(draw):
    """Return how a sheet is written: its signs, and how a power is put."""
    pick = {name: draw(st.sampled_from(words)) for name, words in (
        ("at", AT), ("ohm", OHM), ("watt", WATT), ("x", TIMES), ("rms", RMS), ("most", MOST),
        ("part", PARTS), ("dash", DASHES),
    )}  # fmt: skip
    return {**pick, "comma": draw(BOOLS), "after": draw(BOOLS), "upper": draw(BOOLS)}


def power(how, count, watts, ohm, after=""):
    """Write a power of some channels at a load."""
    figure = f"{number(watts, how['comma'])}{how['watt']}"
    both = f"{figure}{how['x']}{count}" if how["after"] else f"{count}{how['x']}{figure}"
    end = ")" if how["at"] == "(" else ""
    return f"{both} {how['at']}{ohm}{how['ohm']}{end}{after}"


@st.composite
def sheets(draw):
    """Return a sheet with the figures that may be read from it."""
    how = draw(style())
    channels = draw(st.sampled_from((1, 2, 4, 6)))
    watts = draw(st.integers(20, 140)) + draw(st.sampled_from((0, 0.5)))
    told = {"channels": channels, "power_4ohm_w": watts}
    lines = [how["rms"] + power(how, channels, watts, 4)]
    if draw(BOOLS):
        told["power_2ohm_w"] = round(watts * draw(st.floats(1.1, 1.9)))
        lines.append(how["rms"] + power(how, channels, told["power_2ohm_w"], 2))
    if channels > 1 and draw(BOOLS):
        told |= {"rated_bridged_w": round(watts * draw(st.floats(1.8, 3.8))), "min_channel_ohm": 2}
        told["may_be_bridged"] = "yes"
        words = draw(st.sampled_from((" bridged", " (bridged)", " BTL", " gebrückt")))
        lines.append(how["rms"] + power(how, channels // 2, told["rated_bridged_w"], 4, words))
    if draw(BOOLS):
        lines.append(how["most"] + power(how, channels, round(watts * 2), 4))
    if draw(BOOLS):
        lines.append(f"{how['most']}{round(watts * 2 * channels)} W total")
    if draw(BOOLS):
        fuse, several = draw(st.sampled_from((15, 20, 25, 30, 40))), draw(st.integers(1, 3))
        told["fuses_a"] = "/".join([str(fuse)] * several)
        lines.append(f"Fuse: {f'{several} x ' if several > 1 else ''}{fuse} A")
    if draw(BOOLS):
        width, height, depth = draw(st.tuples(*[st.integers(40, 400)] * 3))
        told |= {"width_mm": width, "height_mm": height, "depth_mm": depth}
        lines.append(f"Dimensions (W x H x D): {width} x {height} x {depth} mm")
    if draw(BOOLS):
        low, high = draw(st.integers(20, 90)), draw(st.integers(100, 5000))
        told["high_pass_hz"] = f"{low}-{high}"
        lines.append(f"High-pass: {low}{how['dash']}{high} Hz")
    if draw(BOOLS):
        low, high = draw(st.sampled_from((0.1, 0.2, 0.25))), draw(st.integers(2, 9))
        told |= {"sensitivity_min_v": low, "sensitivity_max_v": high}
        lines.append(f"Input sensitivity: {number(low, how['comma'])}{how['dash']}{high} V")
    text = how["part"].join(draw(st.permutations(lines)))
    return (text.upper() if how["upper"] else text), told


def agrees(read, told):
    try:
        return abs(float(read) - float(told)) < 1e-6
    except ValueError:
        return read == told


@given(sheets())
@settings(max_examples=300)
def test_an_amplifiers_figures_are_read_as_they_are_or_not(sheet):
    text, told = sheet
    values = read_amplifier(text).values
    wrong = {key: value for key, value in values.items() if not agrees(value, told.get(key, "-"))}
    assert not wrong, (text, wrong)


@st.composite
def speakers(draw):
    """Return a speaker's sheet with the figures that may be read from it."""
    how = draw(style())
    ohm, coils = draw(st.sampled_from((2, 3, 4, 8))), draw(st.sampled_from((1, 2)))
    watts = draw(st.integers(20, 600))
    told = {"coil_ohm": ohm, "rated_w": watts, "section": "woofer"}
    if coils > 1:
        told["coils"] = 2
    figure = f"{2}{how['x']}{ohm}" if coils > 1 else f"{ohm}"
    rms = draw(st.sampled_from(("RMS power: ", "Rated power ", "Nennbelastbarkeit: ", "RMS ")))
    lines = ["Subwoofer", f"Impedance: {figure}{how['ohm']}", f"{rms}{watts}{how['watt']}"]
    if draw(BOOLS):
        lines.append(f"{how['most']}{watts * 2}{how['watt']}")
    if draw(BOOLS):
        told["sensitivity_db"] = draw(st.integers(80, 95))
        lines.append(f"Sensitivity: {told['sensitivity_db']} dB (2.83 V/1 m)")
    text = how["part"].join(draw(st.permutations(lines)))
    return (text.upper() if how["upper"] else text), told


@given(speakers())
@settings(max_examples=200)
def test_a_speakers_figures_are_read_as_they_are_or_not(sheet):
    text, told = sheet
    values = read_speaker(text).values
    wrong = {key: value for key, value in values.items() if not agrees(value, told.get(key, "-"))}
    assert not wrong, (text, wrong)
