"""The environment in which a benchmark runs, in one line: with numpy a worker takes some 20 MiB more."""

import platform
from importlib.metadata import PackageNotFoundError, version


def environment() -> str:
    """Python and, since pint imports it wherever it is installed, numpy."""
    try:
        numpy = f"numpy {version('numpy')}, which pint imports"
    except PackageNotFoundError:
        numpy = "no numpy, as where the service alone is installed"
    return f"environment: Python {platform.python_version()}, {numpy}"
