"""Changes formulas, one at a time, and looks whether the ordinary tests notice.

places: which modules are drawn from, what can be changed in them, and the changed code.
loading: how the modules of `calc` come into a process: changed, or watched.
reach: which test runs which lines.
pytest_side: what happens inside pytest: the baseline, and the tests of one change.
trying: the processes, and the verdicts.
`python tests/mutation --help` runs it by hand.
"""
