"""``deploy/environment.sh`` does nothing twice, and says what to do where it cannot.

The Python it is given is a script: it makes an environment of itself, and its pip only notes it was asked.
"""

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PYTHON = f"""\
#!/bin/sh
case "$*" in
"-m venv --clear .venv")
    rm -rf .venv
    mkdir -p .venv/bin
    cp ../python .venv/bin/python
    cp ../python .venv/bin/pip
    echo >>made ;;
"-m pip "*) echo "$*" >>asked; exit "${{PIP_ENDS:-0}}" ;;
*"version_info < (3, 11)"*) echo "${{VERSION:-3.11}}"; [ "${{VERSION:-3.11}}" != 3.9 ] ;;
*) exec '{sys.executable}' "$@" ;;
esac
"""


@dataclass
class Checkout:
    """The files that the script reads, and what it did."""

    top: Path
    said: str = field(default="", init=False)

    def run(self, *extra: str, **more: str) -> int:
        """The exit code of the script."""
        environment = {**os.environ, "PYTHON": str(self.top.parent / "python"), **more}
        ran = subprocess.run(
            ["sh", "deploy/environment.sh", *extra],
            cwd=self.top,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        self.said = ran.stdout + ran.stderr
        return ran.returncode

    @property
    def asked_of_pip(self) -> list[str]:
        log = self.top / "asked"
        return log.read_text().splitlines() if log.exists() else []

    @property
    def made(self) -> int:
        """How often the environment was made."""
        return len((self.top / "made").read_text().splitlines())


@pytest.fixture
def checkout(tmp_path: Path) -> Checkout:
    top = tmp_path / "check out"
    for name in ("deploy/environment.sh", "pyproject.toml", "clients/python/pyproject.toml"):
        (top / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, top / name)
    (tmp_path / "python").write_text(PYTHON)
    (tmp_path / "python").chmod(0o755)
    return Checkout(top)


def test_a_second_run_calls_no_pip(checkout: Checkout) -> None:
    assert checkout.run() == 0
    assert "environment: making .venv with Python 3.11\npackages: installing " in checkout.said
    assert len(checkout.asked_of_pip) == 1
    assert checkout.run(PIP_ENDS="1") == 0
    assert checkout.said.splitlines() == [
        "environment: .venv with Python 3.11, as it is",
        "packages: as they are; no pyproject.toml has changed",
    ]
    assert (len(checkout.asked_of_pip), checkout.made) == (1, 1)


@pytest.mark.parametrize(
    ("first", "second", "calls"), [((), ("test",), 2), (("test",), (), 1), (("test",), ("test",), 1)]
)
def test_an_environment_of_the_tests_serves_a_plain_run_too(
    checkout: Checkout, first: tuple[str], second: tuple[str], calls: int
) -> None:
    assert [checkout.run(*first), checkout.run(*second)] == [0, 0]
    assert len(checkout.asked_of_pip) == calls
    assert checkout.asked_of_pip[-1].endswith(
        f"--editable .{'[test]' if 'test' in first + second else ''} --editable clients/python"
    )


@pytest.mark.parametrize("name", ["pyproject.toml", "clients/python/pyproject.toml"])
def test_what_changed_is_installed_again(checkout: Checkout, name: str) -> None:
    checkout.run()
    with (checkout.top / name).open("a") as file:
        file.write("# one more dependency\n")
    assert [checkout.run(), checkout.run()] == [0, 0]
    assert (len(checkout.asked_of_pip), checkout.made) == (2, 1)


def test_a_checkout_that_moved_gets_a_new_environment(checkout: Checkout) -> None:
    """Its programs and its editable packages name the old place."""
    checkout.run()
    checkout.top = checkout.top.rename(checkout.top.with_name("elsewhere"))
    assert [checkout.run(), checkout.run()] == [0, 0]
    assert (len(checkout.asked_of_pip), checkout.made) == (2, 2)


def test_another_python_gets_a_new_environment(checkout: Checkout) -> None:
    checkout.run()
    assert checkout.run(VERSION="3.12") == 0
    assert (len(checkout.asked_of_pip), checkout.made) == (2, 2)


def test_without_a_python_named_that_of_the_environment_stays(checkout: Checkout) -> None:
    checkout.run(VERSION="3.99")
    assert checkout.run(PYTHON="", VERSION="3.99") == 0
    assert (len(checkout.asked_of_pip), checkout.made) == (1, 1)


def test_an_environment_in_ruins_is_made_anew(checkout: Checkout) -> None:
    checkout.run()
    (checkout.top / ".venv" / "bin" / "pip").unlink()
    assert checkout.run() == 0
    assert (len(checkout.asked_of_pip), checkout.made) == (2, 2)


def test_where_pip_fails_the_next_run_tries_again(checkout: Checkout) -> None:
    assert checkout.run(PIP_ENDS="1") == 1
    assert (
        "It must reach its index, https://pypi.org or that of PIP_INDEX_URL" in checkout.said.splitlines()[-1]
    )
    assert checkout.run() == 0
    assert (len(checkout.asked_of_pip), checkout.made) == (2, 1)


def test_where_pip_fails_on_a_change_the_old_stamp_is_gone(checkout: Checkout) -> None:
    checkout.run()
    before = (checkout.top / "pyproject.toml").read_text()
    (checkout.top / "pyproject.toml").write_text(f"{before}# one more dependency\n")
    assert checkout.run(PIP_ENDS="1") == 1
    (checkout.top / "pyproject.toml").write_text(before)
    assert checkout.run() == 0
    assert (len(checkout.asked_of_pip), checkout.made) == (3, 1)


@pytest.mark.parametrize(
    ("more", "what"), [({"VERSION": "3.9"}, "3.9"), ({"PYTHON": "no-such-python"}, "not one")]
)
def test_a_python_too_old_is_told_with_what_to_do(
    checkout: Checkout, more: dict[str, str], what: str
) -> None:
    assert checkout.run(**more) == 1
    (line,) = checkout.said.splitlines()
    assert line.startswith("Dialset needs Python 3.11 or newer; ")
    assert f" is {what}. Install one, name it in PYTHON (PYTHON=python3.12), and run this again." in line
