"""Exercises for a class: problems whose figures a class code decides and calculators answer.

`templates` hold what can be asked, a module for each chapter; `drafts.py` says what a template
writes, `making.py` makes numbered problems of it, `answering.py` judges what was answered.
"""
