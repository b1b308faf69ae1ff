"""In place of the runtime's event loop: a calculator answers at once, and waits for nothing.

The loop brings all of asyncio with it, a fourteenth of the memory image.
"""

from pyodide.ffi import IN_BROWSER

if IN_BROWSER:
    # The loader counts what is taken from JavaScript: as much, and in the same order.
    from pyodide_js._api import scheduleCallback as scheduleCallback


def _initialize_event_loop() -> None:
    """Do nothing; the runtime calls this when it starts."""
