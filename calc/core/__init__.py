"""What every chapter stands on: fields, errors, sheets, links, renderers, drawing parts.

Imports no chapter.  A chapter's `model.py` imports nothing from here but `errors`.
"""
