"""What comes in an order of its own: files, links, typed changes, a page that is just starting.

The newest wins, and an answer that is not that of the figures shown is marked.
"""

import pytest
from conftest import PATIENCE, ROOT, sampled, wait_until
from held_replies import HOLD, fail_file, hold, hold_from_the_start, let_go, read_file

from calc.choosing.fit_plan import FIT_PLAN
from calc.system import example_van
from calc.system.files.system_file import read_system

VAN = ROOT / "shared" / "systems" / "lantern-van.toml"
FIELD = "[name=alternator_a]"
# The alternator of the form, that of the answer shown, and whether the answer is marked.
SHOWN = """() => {
    const form = document.querySelector(".calculator form");
    const answer = document.querySelector(".answer");
    const text = answer.textContent.replaceAll("\u202f", " ");
    const found = /Alternator rating: ([0-9.]+)/.exec(text);
    return {
        form: form.querySelector("[name=alternator_a]").value,
        answer: found?.[1] ?? "",
        isMarked: !document.querySelector(".earlier").hidden,
        rests: form.inert,
    };
}"""


@pytest.fixture
def files(tmp_path):
    """Whole systems as files, told apart by their alternators."""
    texts, _ = read_system(VAN.read_text(encoding="utf-8"))
    made = {}
    for ampere in (101, 102, 103):
        given = {**texts, "amplifier": example_van.AMPLIFIER, "alternator_a": str(ampere)}
        made[ampere] = tmp_path / f"{ampere}.toml"
        made[ampere].write_text(FIT_PLAN.write_file(FIT_PLAN.form.read(given)), encoding="utf-8")
    return made


@pytest.fixture
def page(context):
    page = context.new_page()
    page.add_init_script(HOLD)
    return page


def shown(page):
    """Return what the page shows; an answer of other figures is never without its mark."""
    state = page.evaluate(SHOWN)
    assert state["isMarked"] or state["answer"] == state["form"], state
    return state


def opened(page, served, address, ampere=101):
    """Open a page with a system on it, whose answer has come."""
    query = "?" if "?" not in address else "&"
    page.goto(f"{served.url}{address}{query}alternator_a={ampere}")
    settled(page, ampere)


def settled(page, ampere):
    """Wait until form and answer have these figures, and nothing is on its way."""
    wait_until(
        page,
        f"() => {{ const now = ({SHOWN})(); return now.form === '{ampere}' && "
        f"now.answer === '{ampere}' && !now.isMarked && !now.rests && "
        "!document.querySelector('.calculator--busy'); }",
    )


def pick(page, path, action="open-system"):
    page.locator(f"[data-action={action}]").set_input_files(path)


def type_in(page, ampere):
    page.locator(FIELD).wait_for(state="attached")
    page.evaluate("document.querySelectorAll('.inputs details').forEach((one) => one.open = true)")
    page.locator(FIELD).fill(str(ampere))


PAGES = ("plan/", "choose/")


@pytest.mark.parametrize("address", sampled(PAGES, PAGES[1:]))
def test_of_two_files_the_second_stays_though_the_first_is_read_later(page, served, files, address):
    opened(page, served, address)
    page.evaluate("void (window.slow = ['102.toml'])")
    pick(page, files[102])
    assert shown(page) == {"form": "101", "answer": "101", "isMarked": True, "rests": True}
    pick(page, files[103])
    settled(page, 103)
    read_file(page, "102.toml")
    page.evaluate("new Promise(requestAnimationFrame)")
    assert shown(page)["form"] == "103"
    assert page.evaluate("window.asked.filter((kind) => kind === 'file').length") == 1
    page.get_by_role("button", name="Bring them back").click()
    settled(page, 101)


@pytest.mark.parametrize("address", sampled(PAGES, PAGES[1:]))
def test_of_two_files_the_second_stays_though_the_first_is_answered_later(
    page, served, files, address
):
    opened(page, served, address)
    hold(page, ["file"])
    pick(page, files[102])
    wait_until(page, "window.held.length === 1")
    assert shown(page) == {"form": "101", "answer": "101", "isMarked": True, "rests": True}
    pick(page, files[103])
    wait_until(page, "Object.keys(window.reads).length === 0 && window.asked.includes('file')")
    let_go(page)
    shown(page)
    settled(page, 103)


def test_a_file_that_is_still_being_read_is_not_overtaken_by_the_one_before(page, served, files):
    opened(page, served, "plan/")
    page.evaluate("void (window.slow = ['103.toml'])")
    hold(page, ["file"])
    pick(page, files[102])
    wait_until(page, "window.held.length === 1")
    pick(page, files[103])
    let_go(page)
    state = shown(page)  # the first is there; more is to come
    assert state["rests"] and state["isMarked"]
    read_file(page, "103.toml")
    settled(page, 103)
    page.get_by_role("button", name="Bring them back").click()
    settled(page, 101)


@pytest.mark.parametrize("address", sampled(PAGES, PAGES[1:]))
def test_a_file_while_an_answer_is_under_way(page, served, files, address):
    opened(page, served, address)
    hold(page, ["answer", "stream"])
    type_in(page, 99)
    wait_until(page, "window.held.length === 1")
    page.evaluate("void (window.slow = ['102.toml'])")
    pick(page, files[102])
    assert shown(page)["rests"]
    let_go(page)  # the answer to what was typed comes while the file is being read
    state = shown(page)
    assert state["form"] == "99" and state["rests"]
    read_file(page, "102.toml")
    settled(page, 102)


def test_what_is_typed_just_before_a_file_is_picked_does_not_keep_it_out(page, served, files):
    opened(page, served, "plan/")
    hold(page, ["file"])
    type_in(page, 99)
    pick(page, files[102])  # no pause of typing has passed
    wait_until(page, "window.held.length === 1")
    assert shown(page) == {"form": "99", "answer": "101", "isMarked": True, "rests": True}
    let_go(page)
    settled(page, 102)
    page.get_by_role("button", name="Bring them back").click()
    settled(page, 99)


def test_a_change_typed_after_a_file_is_the_newest(page, served, files):
    opened(page, served, "plan/")
    pick(page, files[102])
    settled(page, 102)
    hold(page, ["answer"])
    type_in(page, 98)
    wait_until(page, "window.held.length === 1")
    wait_until(page, f"({SHOWN})().isMarked")
    assert shown(page) == {"form": "98", "answer": "102", "isMarked": True, "rests": False}
    let_go(page)
    settled(page, 98)


def test_a_file_that_cannot_be_read_is_told_and_takes_nothing(page, served, files):
    opened(page, served, "plan/")
    page.evaluate("void (window.slow = ['102.toml'])")
    type_in(page, 97)
    pick(page, files[102])
    fail_file(page, "102.toml")
    wait_until(page, "!document.querySelector('.calculator form').inert")
    settled(page, 97)  # what was typed before is answered all the same
    assert page.locator(".error-summary").is_hidden()


def test_a_refused_file_leaves_form_and_answer_as_they_were(page, served, tmp_path):
    opened(page, served, "plan/")
    wrong = tmp_path / "wrong.toml"
    wrong.write_text("version = 1\nnothing here\n", encoding="utf-8")
    hold(page, ["file"])
    pick(page, wrong)
    wait_until(page, "window.held.length === 1")
    assert shown(page)["isMarked"]
    let_go(page)
    page.locator(".error-summary").wait_for()
    assert shown(page) == {"form": "101", "answer": "101", "isMarked": False, "rests": False}
    with page.expect_download(timeout=1000 * PATIENCE):
        page.get_by_role("button", name="Save as a system file").click()


# ---- a page that is just starting


@pytest.mark.parametrize("address", sampled(PAGES, PAGES[1:]))
def test_a_link_that_is_being_opened_marks_the_example_s_answer(page, served, address):
    hold_from_the_start(page, ["open"])
    page.goto(f"{served.url}{address}?alternator_a=104")
    wait_until(page, "window.held.length === 1")
    assert page.is_visible(".earlier")
    let_go(page)
    settled(page, 104)


@pytest.mark.parametrize("address", sampled(PAGES, PAGES[1:]))
def test_a_file_wins_over_the_link_that_is_being_opened(page, served, files, address):
    hold_from_the_start(page, ["open"])
    page.goto(f"{served.url}{address}?alternator_a=104")
    wait_until(page, "window.held.length === 1")
    pick(page, files[102])
    pick(page, files[103])
    let_go(page)
    settled(page, 103)


def test_two_files_while_python_is_still_starting(page, context, served, files):
    go_on = hold_requests(context, "**/runtime/snapshot.bin")
    page.goto(f"{served.url}plan/?alternator_a=104")
    wait_until(page, "document.documentElement.dataset.python === 'starting'")
    pick(page, files[102])
    pick(page, files[103])
    assert page.is_visible(".earlier")
    go_on()
    settled(page, 103)


def test_what_was_typed_before_anybody_listened_is_answered(page, context, served):
    go_on = hold_scripts(context)
    page.goto(served.url + "bridging/", wait_until="commit")
    load = page.locator("#bridged-output--load_ohm")
    load.fill("8")
    go_on()
    wait_until(
        page, "document.querySelector('#bridged-output .sentence').textContent.includes('100')"
    )
    assert load.input_value() == "8"


def test_what_was_typed_before_a_link_was_opened_can_be_brought_back(page, context, served):
    go_on = hold_scripts(context)
    page.goto(served.url + "plan/?alternator_a=104", wait_until="commit")
    type_in(page, 99)
    page.locator(FIELD).focus()
    go_on()
    # Leaving the field because the form rests is no newer wish than the link.
    settled(page, 104)
    page.get_by_role("button", name="Bring them back").click()
    settled(page, 99)


def test_a_file_that_was_picked_before_anybody_listened_is_opened(page, context, served, files):
    go_on = hold_scripts(context)
    page.goto(served.url + "plan/?alternator_a=104", wait_until="commit")
    pick(page, files[102])
    go_on()
    settled(page, 102)


def hold_requests(context, address):
    """Keep requests waiting; return what lets them go, and those that are still to come."""
    waiting, may_come = [], []

    def meet(route):
        if may_come:
            route.continue_()
        else:
            waiting.append(route)

    def go_on():
        may_come.append(True)
        for route in waiting:
            route.continue_()

    context.route(address, meet)
    return go_on


def hold_scripts(context):
    """Keep the page's own scripts from coming."""
    return hold_requests(context, "**/assets/*page*.js")


def test_a_file_chosen_while_a_link_fills_the_form_is_opened(page, served, files):
    """The picker that the reader has open outlives the form."""
    opened(page, served, "plan/")
    with page.expect_file_chooser() as chooser:
        page.locator("form").get_by_text("Open a system file", exact=True).click()
    page.get_by_role("button", name="Active front stage", exact=True).click()
    wait_until(page, "document.querySelector('[name=alternator_a]').value === '120'")
    chooser.value.set_files(files[103])
    settled(page, 103)


# ---- a stock list's file


def test_a_shelf_s_file_waits_for_the_link_and_goes_into_its_form(page, served, tmp_path):
    shelf = tmp_path / "own.csv"
    shelf.write_text("name,channels,power_4ohm_w,min_channel_ohm\nAlder 4-20,4,20,2\n", "utf-8")
    hold_from_the_start(page, ["open"])
    page.goto(f"{served.url}choose/?alternator_a=104")
    wait_until(page, "window.held.length === 1")
    pick(page, shelf, "take-file")
    let_go(page)
    wait_until(page, "document.querySelector('.answer').textContent.includes('Alder 4-20')")
    assert "Alder" in page.input_value("[name=shelf]")
    settled(page, 104)


def test_of_two_shelf_files_the_second_stays(page, served, tmp_path):
    for name in ("Alder", "Birch"):
        text = f"name,channels,power_4ohm_w,min_channel_ohm\n{name} 4-20,4,20,2\n"
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    opened(page, served, "choose/")
    page.evaluate("void (window.slow = ['Alder.csv'])")
    pick(page, tmp_path / "Alder.csv", "take-file")
    pick(page, tmp_path / "Birch.csv", "take-file")
    read_file(page, "Alder.csv")
    wait_until(page, "document.querySelector('.answer').textContent.includes('Birch 4-20')")
    settled(page, 101)
    assert "Alder" not in page.input_value("[name=shelf]")
