"""The chapter on mounting in a real browser: rows that move, starting points, ways on."""

import pytest
from conftest import wait_ready, wait_sentence, wait_until

CARD = "#mounting-reach"
AMPLIFIERS = f"{CARD} [data-field=amplifiers]"
WAY_POINTS = f"{CARD} [data-field=way_points]"
THREE = ";".join(f"{name},200,100,50,none,none,none,none,none" for name in "ABC")


def opened(page, served, query=""):
    page.goto(served.url + "mounting/" + query)
    wait_ready(page)


def names(page):
    return page.eval_on_selector_all(
        f"{AMPLIFIERS} [data-cell=name]", "all => all.map(a => a.value)"
    )


def wait_placed(page, *expected):
    """Wait until the answer's table of places lists these, in this order."""
    wait_until(
        page,
        """expected => {
            const all = [...document.querySelectorAll('#mounting-reach .answer table')];
            const table = all.find((one) => one.textContent.includes('From the left'));
            const found = [...(table?.querySelectorAll('tbody tr') ?? [])]
                .map((row) => row.cells[0].textContent.trim());
            return JSON.stringify(found) === JSON.stringify(expected);
        }""",
        [f"{at} {name}" for at, name in enumerate(expected, start=1)],
    )


def resting(page, field=AMPLIFIERS):
    """Which movers rest, row by row."""
    return page.eval_on_selector_all(
        f"{field} tbody tr",
        """all => all.map((row) => ['up', 'down']
            .filter((way) => row.querySelector(`[data-action=row-${way}]`).disabled).join())""",
    )


def focused(page):
    """The label of what has the focus, and whether it can be pressed."""
    return page.evaluate(
        "[document.activeElement.getAttribute('aria-label'), !document.activeElement.disabled]"
    )


def mover(page, row, way, field=AMPLIFIERS):
    return page.locator(f"{field} tbody tr:nth-child({row}) [data-action=row-{way}]")


def part_of_link(page, key):
    """The link's part for a key of this card, None where it has none."""
    return page.evaluate(
        "key => new URLSearchParams(location.search).get('mounting-reach.' + key)", key
    )


def test_a_row_moved_down_and_up_takes_answer_link_and_focus_along(page, served):
    opened(page, served)
    wait_placed(page, "Hazel 4-50", "Linden 4-100 compact")
    assert resting(page) == ["up", "down"]
    mover(page, 1, "down").click()
    assert names(page) == ["Linden 4-100 compact", "Hazel 4-50"]
    wait_placed(page, "Linden 4-100 compact", "Hazel 4-50")
    wait_until(page, "location.search.includes('mounting-reach.amplifiers=Linden')")
    assert part_of_link(page, "amplifiers").split(";")[1].startswith("Hazel 4-50,260,180,52,")
    assert resting(page) == ["up", "down"]
    # The row is the last now: the button that was pressed rests, its counterpart is usable.
    assert focused(page) == ["Move amplifier 2 up", True]
    page.keyboard.press("Enter")
    wait_placed(page, "Hazel 4-50", "Linden 4-100 compact")
    wait_until(page, "location.search === ''")
    assert focused(page) == ["Move amplifier 1 down", True]


def test_a_row_walks_through_a_table_of_three_by_keyboard(page, served):
    opened(page, served, f"?mounting-reach.amplifiers={THREE}")
    wait_placed(page, "A", "B", "C")
    assert resting(page) == ["up", "", "down"]
    mover(page, 1, "down").focus()
    page.keyboard.press("Enter")
    wait_placed(page, "B", "A", "C")
    assert focused(page) == ["Move amplifier 2 down", True]  # the same row, pressed again
    page.keyboard.press("Enter")
    wait_placed(page, "B", "C", "A")
    assert focused(page) == ["Move amplifier 3 up", True]
    assert resting(page) == ["up", "", "down"]
    assert [one[0] for one in part_of_link(page, "amplifiers").split(";")] == ["B", "C", "A"]


def test_the_link_of_a_moved_row_opens_in_that_order(page, served):
    opened(page, served)
    mover(page, 2, "up").click()
    wait_until(page, "location.search.includes('mounting-reach.amplifiers=Linden')")
    page.reload()
    wait_ready(page)
    wait_placed(page, "Linden 4-100 compact", "Hazel 4-50")
    assert names(page) == ["Linden 4-100 compact", "Hazel 4-50"]


def test_the_ends_rest_also_after_a_row_is_added_or_removed(page, served):
    opened(page, served)
    page.click(f"{AMPLIFIERS} [data-action=add-row]")
    assert resting(page) == ["up", "", "down"]
    page.click(f"{AMPLIFIERS} tr:nth-child(1) [data-action=remove-row]")
    assert resting(page) == ["up", "down"]
    page.click(f"{AMPLIFIERS} tr:nth-child(2) [data-action=remove-row]")
    assert resting(page) == ["up,down"]
    assert names(page) == ["Linden 4-100 compact"]
    wait_placed(page, "Linden 4-100 compact")


STARTS = {
    "Load floor": {"bay_width_mm": "800", "bay_depth_mm": "420", "top_edge": "wall"},
    "Under a seat": {"bay_width_mm": "430", "seat_travel_mm": "180", "top_edge": "seat"},
    "Bulkhead wall": {"bay_depth_mm": "600", "mounted_on": "wall", "front_edge": "wall"},
    "Side pocket": {"bay_height_mm": "320", "left_edge": "wall", "top_edge": "open"},
}


@pytest.mark.parametrize("label", STARTS)
def test_a_starting_point_fills_the_bay_and_keeps_the_rest(page, served, label):
    opened(page, served, "?mounting-reach.amplifiers=Mine,200,100,50,none,none,power,none,none"
           "&mounting-reach.bay_width_mm=333&mounting-reach.top_edge=seat"
           "&mounting-reach.power_room_mm=61")  # fmt: skip
    wait_placed(page, "Mine")
    page.click(f"{CARD} [data-start]:text-is('{label}')")
    for key, value in STARTS[label].items():
        wait_until(
            page,
            "([key, value]) => document.querySelector(`#mounting-reach [name=${key}]`).value"
            " === value",
            [key, value],
        )
    assert names(page) == ["Mine"]
    wait_placed(page, "Mine")
    assert page.input_value(f"{CARD} [name=power_room_mm]") == "61"
    assert page.evaluate("document.activeElement.textContent") == label
    assert not page.evaluate("document.querySelector('#mounting-reach form').inert")
    wait_until(page, "location.search.includes('amplifiers=Mine')")
    assert part_of_link(page, "bay_width_mm") != "333"


def test_a_starting_point_mends_the_bay_and_tells_what_else_is_wrong(page, served):
    opened(page, served)
    page.fill(f"{CARD} [name=bay_width_mm]", "wide")
    page.fill(f"{AMPLIFIERS} tr:nth-child(1) [data-cell=height_mm]", "flat")
    wait_until(page, "!document.querySelector('#mounting-reach .error-summary').hidden")
    page.click(f"{CARD} [data-start]:text-is('Side pocket')")
    wait_until(
        page, "document.querySelector('#mounting-reach [name=bay_width_mm]').value === '660'"
    )
    told = wait_until(page, f"document.querySelector('{AMPLIFIERS} .error').textContent")
    assert "Row 1: height" in told and "flat" in told
    assert page.is_hidden(f"{CARD} [data-field=bay_width_mm] .error")
    page.fill(f"{AMPLIFIERS} tr:nth-child(1) [data-cell=height_mm]", "50")
    wait_until(page, "document.querySelector('#mounting-reach .error-summary').hidden")


def test_what_a_face_holds_is_chosen_from_every_combination(page, served):
    opened(page, served)
    top = f"{AMPLIFIERS} tr:nth-child(1) [data-cell=top]"
    offered = page.eval_on_selector_all(f"{top} option", "all => all.map(one => one.value)")
    assert len(offered) == len(set(offered)) == 2**5
    assert offered[:2] == ["none", "power"] and offered[-1] == "power+speaker+signal+controls+fins"
    assert page.input_value(top) == "none"
    page.select_option(top, "controls")
    wait_sentence(page, "mounting-reach", "Hazel 4-50 not at all")
    wait_until(page, "location.search.includes(',controls;Linden')")
    page.select_option(f"{CARD} [name=top_edge]", "open")
    wait_sentence(page, "mounting-reach", "you can reach the controls once they are in.")
    page.select_option(top, "none")
    page.select_option(f"{CARD} [name=top_edge]", "wall")
    wait_until(page, "location.search === ''")


def test_a_way_on_opens_the_cables_with_the_run_s_length(page, served):
    opened(page, served)
    page.eval_on_selector(f"{CARD} details:has([data-field=way_points])", "one => one.open = true")
    for row, length_m in ((1, "2,4"), (2, "1.6")):
        page.fill(f"{WAY_POINTS} tr:nth-child({row}) [data-cell=length_m]", length_m)
    # With a tenth of slack: (2.4 + 1.6) × 1.1.
    way = page.locator(f"{CARD} .onward a", has_text="Size the power cable")
    wait_until(
        page,
        "[...document.querySelectorAll('#mounting-reach .onward a')]"
        ".some((one) => one.href.endsWith('calculators/power-cable/?length_m=4.4'))",
    )
    way.click()
    wait_until(page, "location.pathname.endsWith('/calculators/power-cable/')")
    wait_ready(page)
    wait_until(page, "document.querySelector('#power-cable--length_m')?.value === '4.4'")
    wait_sentence(page, "power-cable", "over 4.4 m")
    assert page.locator("#power-cable .notices").is_hidden()


def test_a_way_on_gives_the_bay_s_surface_to_the_calculator_of_heat(page, served):
    opened(page, served, "?mounting-reach.bay_width_mm=1000")
    wait_until(
        page,
        "[...document.querySelectorAll('#mounting-reach .onward a')]"
        ".some((one) => one.href.includes('area_m2=1.152'))",
    )
    page.locator(f"{CARD} .onward a", has_text="See how warm this space gets").click()
    wait_until(page, "location.search.includes('area_m2=1.152')")
    wait_ready(page)
    wait_until(page, "document.querySelector('#bay-heat--area_m2')?.value === '1.152'")
    wait_sentence(page, "bay-heat", "How warm an open space gets cannot be estimated.")


def test_who_comes_back_from_a_way_on_finds_the_inputs_that_led_to_it(page, served):
    opened(page, served)
    page.fill(f"{CARD} [name=bay_depth_mm]", "500")
    wait_until(page, "location.search.includes('bay_depth_mm=500')")
    page.click(f"{CARD} .onward a[href*='bay-heat']")
    # 2 × (0.8 × 0.5 + 0.8 × 0.11 + 0.5 × 0.11) m²
    wait_until(page, "document.querySelector('#bay-heat [name=area_m2]').value === '1.086'")
    wait_until(page, "location.pathname.endsWith('/calculators/bay-heat/')")
    page.go_back()
    wait_until(page, f"document.querySelector('{CARD} [name=bay_depth_mm]')?.value === '500'")


def test_two_of_one_name_are_told_at_their_table(page, served):
    opened(page, served)
    page.fill(f"{AMPLIFIERS} tr:nth-child(2) [data-cell=name]", "Hazel 4-50")
    told = wait_until(page, f"document.querySelector('{AMPLIFIERS} .error').textContent")
    assert told == "Amplifiers: Hazel 4-50 is there twice. Give each amplifier its own name."
    assert page.is_visible(f"{CARD} .earlier")
    assert page.get_attribute(f"{AMPLIFIERS} [data-cell=name] >> nth=0", "aria-invalid") == "true"
    page.fill(f"{AMPLIFIERS} tr:nth-child(2) [data-cell=name]", "Other")
    wait_placed(page, "Hazel 4-50", "Other")
    assert page.is_hidden(f"{AMPLIFIERS} .error") and page.is_hidden(f"{CARD} .earlier")


def test_a_ring_is_told_at_its_folded_table_and_the_summary_leads_there(page, served):
    opened(page, served, "?mounting-reach.way_points=power,a,b,1;power,b,a,2")
    told = wait_until(page, f"document.querySelector('{WAY_POINTS} .error').textContent")
    assert "runs in a ring: a to b to a" in told
    assert page.is_visible(WAY_POINTS)  # its fold is open
    page.click(f"{CARD} .error-summary a")
    assert page.evaluate("document.activeElement.id") == "mounting-reach--way_points"
    mover(page, 2, "up", WAY_POINTS).click()
    wait_until(
        page, f"document.querySelector('{WAY_POINTS} .error').textContent.includes('b to a to b')"
    )
    page.fill(f"{WAY_POINTS} tr:nth-child(1) [data-cell=to]", "c")
    wait_until(page, "document.querySelector('#mounting-reach .error-summary').hidden")
