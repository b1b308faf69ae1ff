"""The workshop sheet of a plan: two pages for the bench, made of the plan's own data."""

from calc.choosing.workshop.paper import paper_of

__all__ = ["paper_of"]
