"""Every block of the documents is run as it stands, but for the address of the service."""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.request import urlopen

import pytest
from programs import needed
from raw_http import free_port, running

ROOT = Path(__file__).parents[1]
ADDRESS = "127.0.0.1:8000"
SIZES = 'tool,quantity\nT-1,1 in\nT-2,"6 1/2 in"\n'

DOCUMENTS = (
    "README.md",
    "DEVELOPERS.md",
    "clients/README.md",
    "clients/python/README.md",
    "clients/spreadsheet/README.md",
    "deploy/README.md",
    "deploy/demo/README.md",
)
SERVE = (
    "sh deploy/environment.sh\n"
    ".venv/bin/dialset serve --machines deploy/demo/machines --tables deploy/demo/tables"
)
BY_ITSELF = {
    "sh tests/run.sh": "is what runs this test",
    "sh deploy/demo/main-job.sh": "is run by test_readme_shows_what_the_demonstration_prints",
    SERVE: "is run by test_serve",
    "pip install ./clients/python": "is run by test_the_client_installs",
}
"""Blocks that cannot run beside the others, and where they are run."""


@dataclass(frozen=True)
class Block:
    """A block of a document, and the words that follow it."""

    document: str
    language: str
    text: str
    after: str


def blocks(document: str) -> Iterator[Block]:
    """The blocks of a document, in order."""
    parts = re.split(
        r"^```(\w*)\n(.*?)^```$", (ROOT / document).read_text("utf-8"), flags=re.DOTALL | re.MULTILINE
    )
    for language, text, after in zip(parts[1::3], parts[2::3], parts[3::3], strict=True):
        yield Block(document, language, text.strip(), after)


ALL = [block for document in DOCUMENTS for block in blocks(document)]
SHELL = [block for block in ALL if block.language == "sh" and block.text not in BY_ITSELF]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that looks like the top of a checkout, with the files that the documents speak of."""
    here = tmp_path_factory.mktemp("checkout")
    for name in ("deploy", "clients", "api", "schemas", "tests"):
        (here / name).symlink_to(ROOT / name)
    (here / ".venv").symlink_to(Path(sys.prefix))
    files = [block.text for block in ALL if block.language == "csv"]
    (orders,) = (text for text in files if text.startswith("order,"))
    (here / "orders.csv").write_text(orders + "\n", "utf-8")
    (here / "sizes.csv").write_text(SIZES, "utf-8")
    return here


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The command of the README that serves, on a port that is free and with one worker."""
    port, (_, serve) = free_port(), SERVE.splitlines()
    executable, *words = serve.split()
    command = [sys.prefix + executable.removeprefix(".venv"), *words, "--workers", "1"]
    with running([*command, "--address", f"127.0.0.1:{port}"], port, {}):
        yield f"127.0.0.1:{port}"


def run(text: str, folder: Path) -> subprocess.CompletedProcess[str]:
    path = f"{folder}/.venv/bin:/usr/local/bin:/usr/bin:/bin"
    return subprocess.run(
        ["sh", "-eu", "-c", text], cwd=folder, env={"PATH": path}, capture_output=True, text=True, check=False
    )


def test_no_block_is_left_out() -> None:
    kinds = {block.language for block in ALL}
    assert kinds <= {"sh", "python", "csv", "text", "json", "excel"}
    assert len(SHELL) >= 8
    assert set(BY_ITSELF) <= {block.text for block in ALL}
    # blocks of Python are run by tests/clients/test_python_client.py, formulas by tests/clients/test_cells.py
    python = {block.document for block in ALL if block.language == "python"}
    assert python == {"README.md", "clients/python/README.md"}


@pytest.mark.parametrize("block", SHELL, ids=lambda block: f"{block.document}: {block.text[:60]!r}")
def test_a_shell_block_does_what_it_says(block: Block, folder: Path, address: str) -> None:
    if "curl" in block.text:
        needed("curl")
    ran = run(block.text.replace(ADDRESS, address), folder)
    assert (ran.returncode, ran.stderr) == (0, ""), ran.stderr
    assert '"type":"/v1/problems/' not in ran.stdout
    said = re.match(r"\s*prints `([^`]+)`", block.after)
    if said:
        assert ran.stdout.strip() == said[1]


def test_the_file_of_answers_is_there(folder: Path, address: str) -> None:
    (block,) = (block for block in SHELL if "dialset batch orders.csv answers.csv" in block.text)
    ran = run(block.text.replace(ADDRESS, address), folder)
    assert ran.stdout == "3 lines: 2 answered, 1 refused\n  1 unknown_connection\n"
    assert (folder / "answers.csv").read_text("utf-8").count("\n") == 4


def test_serve(address: str) -> None:
    """The command of the README answers with the machines and the tables it names."""
    with urlopen(f"http://{address}/readyz") as ready:
        found = json.load(ready)
    assert found["machines"] >= 7
    assert found["tables"] >= 3


@pytest.mark.evidence
def test_the_client_installs(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(tmp_path)]
    subprocess.run([*command, str(ROOT / "clients" / "python")], check=True)
    assert (tmp_path / "dialset_client" / "py.typed").exists()


def test_the_test_command_is_that_of_ci() -> None:
    """With all evidence, and without a word that leaves tests out."""
    ci, command = ((ROOT / name).read_text("utf-8") for name in (".ci/run", "tests/run.sh"))
    assert re.findall(r"^.*tests/run\.sh.*$", ci, re.MULTILINE) == ["sh tests/run.sh --all -q"]
    ours = re.findall(r"^\.venv/bin/pytest .*$|set -- .*?(?= ;;)", command, re.MULTILINE)
    assert ours[0] == 'set -- -n 2 --dist worksteal "$@"'
    assert ours[-1] == '.venv/bin/pytest "$@"'


def test_all_is_all() -> None:
    """Every test that stands in two folders with evidence is collected with ``--all``; none is left out."""
    folders = ["tests/deploy", "tests/api/shop_tables"]
    command = [sys.executable, "-m", "pytest", "--all", "--collect-only", "-q", *folders]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()
    assert re.fullmatch(r"\d+ tests collected in .*", told[-1])
    collected = {re.sub(r"\[.*", "", line) for line in told if "::" in line}
    written = {
        f"{file.relative_to(ROOT)}::{name}"
        for folder in folders
        for file in (ROOT / folder).glob("test_*.py")
        for name in re.findall(r"^def (test_\w+)", file.read_text("utf-8"), re.MULTILINE)
    }
    assert written - collected == set()
