"""What can be asked, a module for each chapter: `RECALL`, `CALCULATE` and `PLAN` templates.

A template draws figures that the trade knows, asks calculators, and writes the question.  No
answer is worked out here; wrong figures are, from the mistakes that lead to them.
"""
