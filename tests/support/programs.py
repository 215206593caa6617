"""Programs of others that some tests need: skipped where missing, but not in CI, which installs them."""

import os
import shutil

import pytest


def needed(*names: str) -> str:
    """The path of the first of these programs that is there."""
    for name in names:
        if found := shutil.which(name, path=f"{os.environ.get('PATH', '')}:/usr/sbin"):
            return found
    missing = f"needs {' or '.join(names)}"
    if os.environ.get("CI"):
        pytest.fail(missing)
    pytest.skip(missing)
