"""The choice in steps: it ends where the whole search ends, and nothing is taken back."""

import json
import random
import re

import pytest
from choosing_systems import random_amplifier, random_job
from conftest import sampled

from calc.answers.calculator import Calculator
from calc.app.page import HAND_OVERS, respond
from calc.choosing.amplifier_choice import AMPLIFIER_CHOICE
from calc.renderers.html import answer_html
from calc.renderers.text import answer_text
from calc.system.files.shelf_file import write_shelf


def inputs_of(seed, count):
    rng = random.Random(f"stream {seed}")
    job = random_job(rng)
    by_key = AMPLIFIER_CHOICE.form.by_key
    texts = {
        key: field.write(job.values[key]) for key, field in by_key.items() if key in job.values
    }
    shelf = write_shelf(random_amplifier(rng, f"number {at}") for at in range(count))
    return {**texts, "shelf": shelf}


def stream_of(texts):
    return AMPLIFIER_CHOICE.stream(AMPLIFIER_CHOICE.build(AMPLIFIER_CHOICE.form.read(texts)))


def steps_of(texts):
    """Yield the replies of the page's requests until the answer is whole."""
    first = True
    while True:
        asked = {"kind": "stream", "calculator": "amplifier-choice", "inputs": texts}
        reply = json.loads(respond(json.dumps({**asked, "first": first})))
        first = False
        yield reply
        if not reply["more"]:
            return


@pytest.mark.parametrize("seed", sampled(range(20), range(1)))
def test_the_last_step_is_the_whole_answer(seed):
    texts = inputs_of(seed, 12)
    *_, last = steps_of(texts)
    whole = AMPLIFIER_CHOICE.answer(texts)
    assert last["html"] == answer_html(whole)
    assert last["sentence"] == whole.sheet.sentence


def test_what_is_handed_over_was_searched_for_once(monkeypatch):
    """Copied or saved once it stands on the page, a long choice need not be made anew."""
    texts = inputs_of("midway", 3)
    asked = {"kind": "hand-over", "calculator": "amplifier-choice", "inputs": texts}
    *_, last = steps_of(texts)
    whole = AMPLIFIER_CHOICE.answer(texts)

    def no_search(*_):
        raise AssertionError("searched for a second time")

    monkeypatch.setattr(type(stream_of(texts)), "advance", no_search)
    monkeypatch.setattr(Calculator, "answer", no_search)
    for shape, (write, _) in HAND_OVERS.items():
        assert json.loads(respond(json.dumps({**asked, "as": shape})))["text"] == write(whole)
    saved = json.loads(respond(json.dumps({**asked, "as": "file"})))["text"]
    assert saved == AMPLIFIER_CHOICE.write_file(whole.inputs)
    assert last["more"] is False


def test_what_is_handed_over_halfway_is_the_whole_answer():
    texts = inputs_of("midway", 4)
    steps = steps_of(texts)
    next(steps), next(steps)
    asked = {"kind": "hand-over", "calculator": "amplifier-choice", "inputs": texts, "as": "text"}
    told = json.loads(respond(json.dumps(asked)))["text"]
    assert told == answer_text(AMPLIFIER_CHOICE.answer(texts))
    *_, last = steps  # and the page's own steps lead there too
    assert last["html"] == answer_html(AMPLIFIER_CHOICE.answer(texts))


@pytest.mark.parametrize("seed", sampled(range(20), range(1)))
def test_what_a_step_tells_of_an_amplifier_stands(seed):
    """First verdicts and full ones: none is changed by a later step, and each step adds some."""
    stream = stream_of(inputs_of(f"stands {seed}", 15))
    states, counts = {}, []
    while not stream.done:
        for judge, first in zip(stream.judges, stream.firsts, strict=True):
            if first is not None:
                states.setdefault(judge.amplifier.name, first[0])
        states |= {candidate.name: candidate.state for candidate in stream.candidates}
        counts.append(len(stream.searched))
        sheet = stream.sheet()
        assert (sheet.progress.done, sheet.progress.total) == (counts[-1], len(stream.judges))
        stream.advance()
    counts.append(len(stream.searched))  # one step may have been enough
    assert counts == sorted(counts)  # at last the best that fail are advised, and none is searched
    assert len(set(counts)) > 1
    assert stream.sheet().progress is None
    final = {candidate.name: candidate.state for candidate in stream.candidates}
    assert states.items() <= final.items()


def test_the_most_promising_are_searched_first():
    stream = stream_of(inputs_of("order", 30))
    order = stream._order
    doomed = [stream.firsts[at] is not None for at in order]
    assert doomed == sorted(doomed)
    for at in order:
        best = stream.judges[at].best()
        assert best.score <= stream.judges[at].most_points + 1e-6


def test_the_first_step_searches_nothing_and_names_all():
    inputs = inputs_of("first", 30)
    total = len(stream_of(inputs).judges)
    assert total > 30  # sets of two are among them
    reply = next(steps_of(inputs))
    assert reply["more"] and f"0 of {total} checked" in reply["html"]
    assert all(f"number {at}<" in reply["html"] for at in range(30))


def test_wrong_inputs_are_refused_like_everywhere():
    asked = {"kind": "stream", "calculator": "amplifier-choice", "inputs": {"shelf": "x"}}
    reply = json.loads(respond(json.dumps({**asked, "first": True})))
    assert reply["kind"] == "refused"


def test_a_choice_that_is_stopped_says_how_far_it_came(monkeypatch):
    # One amplifier a step, however quick the machine is.
    monkeypatch.setattr("calc.choosing.amplifier_choice.stream.STEP_S", 0)
    texts = inputs_of("stopped", 30)
    asked = {"kind": "stream", "calculator": "amplifier-choice", "inputs": texts}

    def reply(**more):
        return json.loads(respond(json.dumps({**asked, **more})))

    assert reply(first=True)["more"]
    total = len(stream_of(texts).judges)
    done = int(re.search(rf">(\d+) of {total} checked<", reply(first=False)["html"])[1])
    stopped = reply(first=False, stop=True)
    assert not stopped["more"] and "Go on" in stopped["html"] and ">Stop<" not in stopped["html"]
    figures = r"<dt>(?:Suitable|Not known|Unsuitable)</dt> <dd>.*?(\d+)<"
    counts = re.findall(figures, stopped["html"])
    assert sum(map(int, counts)) == done
    assert stopped["sentence"].startswith(f"Stopped after {done} of {total}: ")
    assert "Still to be checked" in stopped["html"]
    # Nothing was searched for it, and it can be gone on with.
    assert f">{done} of {total} checked<" not in reply(first=False)["html"]


def test_an_empty_shelf_is_told_what_an_amplifier_must_bring():
    *_, reply = steps_of({"shelf": "", "boost": "must"})
    assert reply["kind"] == "answer" and reply["sentence"].startswith("Add a stock list")
    answer = AMPLIFIER_CHOICE.answer({"shelf": " ", "boost": "must"})
    assert answer.sheet.verdict.state == "not known"
    assert answer.sheet.results == {"rows": [], "ranking": []}
    table, besides = answer.sheet.tables
    # The doors ask for 50 W; an empty wish is no must.
    assert table.rows == (("door mid-basses", 2, 50, 80, 2), ("subs", 2, "none set", 120, 1))
    musts = dict(besides.rows)
    assert {"signal", "turn-on", "mounting space", "crossovers"} <= set(musts)
    assert {"power cable", "alternator and battery"} <= set(musts)
    assert "800 × 420 × 110 mm" in musts["mounting space"] and "4 V" in musts["signal"]
    wished = {"remote level control", "bass boost", "controls within reach (nice-to-have)"}
    assert wished <= set(musts)
    assert not any(words.startswith("cover") for words in musts)


def test_of_a_long_list_only_the_most_promising_are_put_together():
    stream = stream_of(inputs_of("long", 300))
    alone, sets = stream.judges[:300], stream.judges[300:]
    assert 0 < len(sets) <= 500
    taken = {one.name for judge in sets for one in judge.installed.given}
    large = [
        judge
        for judge in alone
        if judge.given.power_4ohm_w is not None and 2 < (judge.given.channels or 4) <= 5
    ]
    points = {judge.given.name: judge.most_points for judge in large}
    left = [each for name, each in points.items() if name not in taken]
    assert left and max(left) <= min(each for name, each in points.items() if name in taken)
