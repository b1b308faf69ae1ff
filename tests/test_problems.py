"""Checks across fields: which are run, and what they tell."""

from calc.inputs.problems import Problem, problems


def needs_both(*, high, low):
    if high < low:
        yield Problem(field="high", given=high, words="{given} is below {low}")


def one_will_do(*, second, first=7):
    yield Problem(field="second", given=second, words=f"beside {first}")


def test_a_check_is_run_where_all_that_it_needs_could_be_read():
    assert problems([needs_both], {"high": 1}) == []
    (found,) = problems([needs_both], {"high": 1, "low": 2, "other": 3})
    assert found.field == "high"


def test_a_field_with_a_default_is_given_where_it_could_be_read():
    for values, words in (({"second": 2}, "beside 7"), ({"second": 2, "first": 1}, "beside 1")):
        (found,) = problems([one_will_do], values)
        assert found.words == words
    assert problems([one_will_do], {"first": 1}) == []


def test_a_problem_has_the_field_s_label_or_its_own_and_is_cut_or_told_in_full():
    long = "1234567890" * 5
    plain = Problem(field="points", given=long, words="{given} does not rise").error("Points")
    assert plain.given == long[:40] + "…"
    assert plain.message == f"Points: {plain.given} does not rise"
    whole = Problem(field="points", given=long, words="no", label="Curve", in_full=True)
    assert (whole.error("Points").given, whole.error("Points").message) == (long, "Curve: no")
    assert whole.rounded_words("Points") == "Curve: no"
