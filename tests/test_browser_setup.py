"""The chapter on set-up in a real browser: a tone that plays and stops, readings that stay."""

import io
import wave

import numpy
import pytest
from conftest import open_card, wait_ready, wait_sentence, wait_until

KEPT = "Object.keys(localStorage).filter((one) => one.startsWith('readings '))"
# Counts what is started and stopped, with the length of each sound.
SPY = """() => {
    window.sounds = []; window.stops = 0;
    const { start, stop } = AudioBufferSourceNode.prototype;
    AudioBufferSourceNode.prototype.start = function () {
        window.sounds.push([this.buffer.duration, this.buffer.numberOfChannels]);
        return start.call(this);
    };
    AudioBufferSourceNode.prototype.stop = function () {
        window.stops += 1;
        return stop.call(this);
    };
}"""


def opened(page, served, address):
    page.goto(served.url + address)
    wait_ready(page)
    # What the link holds has been filled in: a reading typed before that is the example's.
    wait_until(page, "[...document.forms].every((form) => !form.inert)")


def box(page, key):
    return page.locator(f'[data-reading="{key}"]')


def read(page, key, value):
    """Type a reading and leave its box."""
    box(page, key).fill(value)
    box(page, key).blur()


# ---- tones


def test_nothing_sounds_before_play_and_the_stop_stays_in_sight(page, served):
    opened(page, served, "set-up/?test-tone.length_s=60")
    page.evaluate(SPY)
    assert page.locator(".sound-bar").count() == 0
    assert page.evaluate("window.sounds") == []
    page.locator("[data-sound=play]").click()
    # The stop is there at once, while the tone is still being made.
    bar = page.locator(".sound-bar")
    bar.wait_for()
    wait_until(page, "() => window.sounds.length === 1")
    assert page.evaluate("window.sounds[0]") == [60, 2]
    page.mouse.wheel(0, 5000)
    rectangle = bar.get_by_role("button", name="Stop the tone").bounding_box()
    assert 0 <= rectangle["y"] < 100 and rectangle["height"] >= 44
    bar.get_by_role("button", name="Stop the tone").click()
    assert bar.count() == 0
    assert page.evaluate("window.stops") == 1


def test_escape_a_second_play_and_leaving_the_page_stop_a_tone(page, served):
    opened(page, served, "set-up/")
    open_card(page, "test-tone")
    page.evaluate(SPY)
    play, bar = page.locator("[data-sound=play]"), page.locator(".sound-bar")
    play.click()
    wait_until(page, "() => window.sounds.length === 1")
    play.click()
    wait_until(page, "() => window.sounds.length === 2")
    assert page.evaluate("window.stops") == 1
    assert bar.count() == 1
    page.keyboard.press("Escape")
    assert bar.count() == 0
    assert page.evaluate("window.stops") == 2
    play.click()
    wait_until(page, "() => window.sounds.length === 3")
    page.get_by_role("link", name="Sign-off checks").last.click()
    page.wait_for_url("**/commissioning/")
    wait_until(page, "() => document.querySelector('.sound-bar') === null")
    assert page.evaluate("window.stops") == 3


def test_a_tone_ends_by_itself(page, served):
    opened(page, served, "set-up/?test-tone.length_s=2")
    page.locator("[data-sound=play]").click()
    page.locator(".sound-bar").wait_for()
    wait_until(page, "() => document.querySelector('.sound-bar') === null")


def test_the_saved_file_is_the_tone_that_was_asked_for(page, served):
    opened(page, served, "set-up/?test-tone.frequency_hz=50&test-tone.length_s=3")
    with page.expect_download() as download:
        page.locator("[data-sound=save]").click()
    assert download.value.suggested_filename == "tone-50hz-minus10dbfs-3s-both.wav"
    with wave.open(io.BytesIO(download.value.path().read_bytes())) as file:
        assert (file.getframerate(), file.getnchannels(), file.getnframes()) == (44100, 2, 132300)
        samples = numpy.frombuffer(file.readframes(file.getnframes()), dtype="<i2")[0::2]
    second = samples[44100:88200] / 32767
    spectrum = numpy.abs(numpy.fft.rfft(second))
    assert spectrum.argmax() == 50
    assert second.max() == pytest.approx(10 ** (-10 / 20), abs=1e-4)


def test_with_wrong_inputs_nothing_plays(page, served):
    opened(page, served, "set-up/?test-tone.frequency_hz=5000&test-tone.tone_dbfs=0")
    wait_until(page, "() => !document.querySelector('#test-tone .error-summary').hidden")
    page.evaluate(SPY)
    page.locator("[data-sound=play]").click()
    assert "Correct the inputs" in page.locator("#test-tone .status").inner_text()
    assert page.locator(".sound-bar").count() == 0


# ---- readings


def test_readings_are_judged_kept_on_the_device_and_in_no_link(page, served):
    opened(page, served, "commissioning/")
    read(page, "rest_v", "12,5")
    wait_sentence(page, "commissioning", "done; all good")
    box(page, "coil_1_ohm").fill("open")
    box(page, "coil_1_ohm").press("Tab")
    wait_sentence(page, "commissioning", "done; 1 out")
    assert page.evaluate("document.activeElement.dataset.reading") == "coil_2_ohm"
    assert "12" not in page.evaluate("location.search")
    assert page.evaluate(KEPT) == ["readings commissioning?"]
    page.reload()
    wait_sentence(page, "commissioning", "done; 1 out")
    assert box(page, "rest_v").input_value() == "12,5"
    page.get_by_role("button", name="Clear all readings").click()
    wait_sentence(page, "commissioning", "type each reading in")
    assert page.evaluate(KEPT) == []
    assert box(page, "rest_v").input_value() == ""


def test_readings_belong_to_their_system(page, served):
    opened(page, served, "commissioning/?drop_v=0.4")
    read(page, "rest_v", "12.5")
    wait_sentence(page, "commissioning", "done; all good")
    page.goto(served.url + "commissioning/")
    wait_ready(page)
    assert box(page, "rest_v").input_value() == ""
    page.goto(served.url + "commissioning/?drop_v=0.4")
    wait_sentence(page, "commissioning", "done; all good")
    assert box(page, "rest_v").input_value() == "12.5"


def test_a_wrong_reading_is_told_at_its_box_and_harms_nothing(page, served):
    opened(page, served, "commissioning/")
    read(page, "rest_v", "<img src=x onerror=window.hurt=1>")
    place = box(page, "rest_v").locator("xpath=following-sibling::span")
    place.filter(has_text="cannot be used here").wait_for()
    read(page, "rest_v", "yes")
    place.filter(has_text="Enter a number in V").wait_for()
    assert box(page, "rest_v").get_attribute("aria-invalid") == "true"
    assert page.evaluate("window.hurt") is None
    read(page, "rest_v", "12.6")
    wait_sentence(page, "commissioning", "done; all good")
    assert box(page, "rest_v").get_attribute("aria-invalid") is None


def test_the_plan_s_own_sheet_takes_readings(page, served):
    """Typed in place, judged at once, kept with the plan on the device, and in no link."""
    opened(page, served, "plan/?example=lantern-van")
    wait_until(page, "document.querySelectorAll('.answer [data-reading]').length > 10")
    read(page, "rest_v", "12,5")
    row = page.locator("tr", has=box(page, "rest_v"))
    row.locator(".verdict--suitable").wait_for()
    assert "check 9 in V: good" in page.locator("#fit-plan .status").inner_text()
    read(page, "rest_v", "9")
    row.locator(".verdict--unsuitable").wait_for()
    (kept,) = page.evaluate(KEPT)
    assert kept.startswith("readings fit-plan?")
    assert "rest_v" not in page.evaluate("location.search")
    page.reload()
    row.locator(".verdict--unsuitable").wait_for()
    assert box(page, "rest_v").input_value() == "9"
