"""Formulas, each said once: SI floats in and out.  Nothing else of `calc` is imported here."""
