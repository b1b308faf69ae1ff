"""A spec sheet is pasted into an amplifier's column on a telephone, read, taken and judged."""

from conftest import wait_until
from test_browser_choosing import opened

TEXT = (
    "ALDER 4-55 four-channel amplifier. Power: 4 x 55 W RMS @ 4 ohm, 4 x 80 W RMS @ 2 ohm, "
    "bridged 2 x 160 W @ 4 ohm, max. 800 W total. Fuse 2 x 20 A. LPF/HPF 50–250 Hz, 12 dB/oct. "
    "250 × 52 × 170 mm. Gold contacts."
)


def paste(page, text):
    """Put a text into the panel's box as pasting does, and wait until it was read."""
    page.locator(".paste textarea").evaluate(
        """(box, text) => {
            box.value = text;
            const inputType = "insertFromPaste";
            box.dispatchEvent(new InputEvent("input", { inputType, bubbles: true }));
        }""",
        text,
    )
    page.locator(".proposals, .paste__word:not(:empty)").first.wait_for()


def focused(page, selector):
    return page.evaluate("selector => document.activeElement.matches(selector)", selector)


def begin(page, served):
    """A component set is there; nothing of the amplifiers."""
    page.set_viewport_size({"width": 390, "height": 844})
    opened(page, served, "plan/")
    page.get_by_role("button", name="Component set").click()
    page.locator("[data-pair]").first.fill("4")
    page.locator("[data-field=speakers] [data-cell=rated_w]").first.fill("70")


def test_a_pasted_sheet_fills_the_column_it_was_pasted_for_and_gets_its_verdict(page, served):
    begin(page, served)
    second = page.locator(".amplifier").nth(1)
    button = second.locator("[data-action=paste]")
    button.click()
    assert focused(page, ".paste textarea")
    page.keyboard.press("Escape")
    assert page.locator(".paste").count() == 0
    assert focused(page, ".amplifier:nth-of-type(2) [data-action=paste]")

    button.click()
    paste(page, TEXT)
    page.locator(".proposals").wait_for()
    assert focused(page, ".paste__title")
    assert page.locator(".bar__step").inner_text().startswith("Take 1 to ")
    assert page.locator(".paste__left", has_text="Gold contacts").count() == 1
    assert page.locator("s.paste__refused", has_text="800").count() == 1
    fuses = page.locator(".proposals li", has_text="2 x 20 A")
    fuses.get_by_role("button", name="Strike").click()
    page.locator("[data-choice]").first.click()  # which side is which
    assert second.locator("[data-cell=power_4ohm_w]").input_value() == ""

    page.locator(".paste__end button").first.click()
    assert page.locator(".paste").count() == 0
    assert focused(page, "[data-result]")
    value = {
        key: second.locator(f"[data-cell={key}]").input_value()
        for key in ("channels", "power_4ohm_w", "rated_bridged_w", "height_mm", "fuses_a")
    }
    assert value == {
        "channels": "4", "power_4ohm_w": "55", "rated_bridged_w": "160", "height_mm": "52",
        "fuses_a": "",
    }  # fmt: skip
    wait_until(
        page,
        "() => document.querySelectorAll('.amplifier')[1].querySelector('.result[data-state]')",
    )
    read = second.locator(".read-from", has_text="55 W RMS")
    assert read.first.is_visible()
    assert page.locator(".amplifier").first.locator("[data-cell=power_4ohm_w]").input_value() == ""

    second.locator("[data-cell=power_4ohm_w]").fill("60")
    assert not read.first.is_visible()


def test_what_is_typed_already_is_not_changed_before_it_is_tapped(page, served):
    begin(page, served)
    first = page.locator(".amplifier").first
    first.locator("[data-cell=power_4ohm_w]").fill("60")
    first.locator("[data-action=paste]").click()
    paste(page, TEXT)
    note = page.locator(".proposals li", has_text="yours")
    assert "60" in note.inner_text()
    assert "struck" in (note.get_attribute("class") or "")
    page.locator(".paste__end button").first.click()
    assert first.locator("[data-cell=power_4ohm_w]").input_value() == "60"
    assert first.locator("[data-cell=rated_bridged_w]").input_value() == "160"


def test_a_speaker_card_takes_its_coils_as_they_are_printed(page, served):
    page.set_viewport_size({"width": 390, "height": 844})
    opened(page, served, "plan/")
    page.get_by_role("button", name="Subwoofer").click()
    card = page.locator(".card[data-row]")
    card.locator("[data-action=paste]").click()
    paste(page, "30 cm subwoofer, 2 x 2 Ω, 300 W RMS, 600 W max")
    page.locator(".proposals").wait_for()
    page.locator(".paste__end button").first.click()
    assert card.locator("[data-pair]").input_value() == "2 × 2"
    assert card.locator("[data-cell=rated_w]").input_value() == "300"
