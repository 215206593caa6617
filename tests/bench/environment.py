"""Where a benchmark runs, in a line or two: Python, numpy, and how busy the machine is."""

import os
import platform
from importlib.metadata import PackageNotFoundError, version

BUSY = 0.5
"""Load above which figures are in doubt."""


def environment() -> str:
    """Python, numpy (pint imports it where it is installed: 8 MiB more of a worker), cores and load."""
    try:
        numpy = f"numpy {version('numpy')}, which pint imports"
    except PackageNotFoundError:
        numpy = "no numpy, as where the service alone is installed"
    return f"environment: Python {platform.python_version()}, {numpy}; {os.cpu_count()} cores; {load()}"


def load() -> str:
    """The load average of the last minute, and what to think of the figures if it is high."""
    now = os.getloadavg()[0]
    return f"load {now:.1f}" + (f"; WARNING: above {BUSY}, so figures are too high" if now > BUSY else "")
