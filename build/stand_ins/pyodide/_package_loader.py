"""In place of the runtime's way of loading packages: all that a page needs is in its image."""

from contextlib import suppress
from pathlib import PurePosixPath
from site import getsitepackages

with suppress(ImportError):
    # As the runtime's own does: see webloop.py.
    from pyodide_js import loadedPackages as loadedPackages

SITE_PACKAGES = PurePosixPath(getsitepackages()[0])
DSO_DIR = PurePosixPath("/usr/lib")


def init_loaded_packages() -> None:
    """Do nothing; the loader calls this when it starts."""
