"""The figures of the handbook: formulas, calculators, sheets and renderers.

`core` is the ground floor and knows nothing of the trade.  Each chapter has a folder
(`bridging`, `coils`, …) with formulas in `model.py`, calculators in `calculators.py`,
reference tables in `tables.py` and drawings in `drawings.py`.  `contents` lists what
the chapters offer; `page` answers the web page and `__main__` the command line.

Only the standard library is used, and `qrcodegen` where a QR code is asked for.
"""

__version__ = "2.0.1"
