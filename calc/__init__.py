"""The figures of the handbook: formulas, calculators, sheets and renderers.

`physics` holds the formulas, each said once; `inputs`, `answers` and `renderers` know nothing of
the trade; `parts` are what several calculators ask for.  Each chapter has a folder (`bridging`,
`coils`, …) with a folder for each of its calculators.  `system` and `choosing` are the whole job.
`app` puts everything together: pages by name, the page's protocol, the command line.

Only the standard library is used, and `qrcodegen` where a QR code is asked for.
"""

__version__ = "2.6.2"
