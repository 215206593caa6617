"""What the tests cost: ``python tests/bench/suite.py [what tests/run.sh takes]``.

Prints wall clock, CPU seconds of every process, load, the most memory that all processes held at one time
(resident, so that what they share counts once for each), and the 20 tests that took most CPU. Needs /proc.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
CPU_OF_TESTS = "CPU_OF_TESTS"
"""The folder where this file, as a plugin of pytest, writes what each test took."""
MIB = 2**20


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Write down the CPU seconds of a test, with what it started and what its fixtures took."""
    before = sum(os.times()[:4])
    yield
    with Path(os.environ[CPU_OF_TESTS], str(os.getpid())).open("a", encoding="utf-8") as file:
        print(json.dumps([sum(os.times()[:4]) - before, item.nodeid]), file=file)


def resident(pid: int) -> int:
    """Bytes of memory that a process and all that it started hold now."""
    children: list[str] = []
    try:
        pages = int(Path(f"/proc/{pid}/statm").read_text("ascii").split()[1])
        for task in Path(f"/proc/{pid}/task").iterdir():
            children += (task / "children").read_text("ascii").split()
    except OSError:  # it has ended
        return 0
    return pages * resource.getpagesize() + sum(resident(int(child)) for child in children)


def main(arguments: list[str]) -> int:
    """Run the tests, watch them, and print what they cost."""
    with tempfile.TemporaryDirectory() as folder:
        plugin = {"PYTHONPATH": str(Path(__file__).parent), CPU_OF_TESTS: folder}
        command = ["sh", "tests/run.sh", "-p", "suite", *arguments]
        started, most = time.monotonic(), 0
        process = subprocess.Popen(command, cwd=ROOT, env={**os.environ, **plugin})
        while process.poll() is None:
            most = max(most, resident(process.pid))
            time.sleep(0.1)
        wall, used = time.monotonic() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
        tests: list[Any] = [
            json.loads(line)
            for file in Path(folder).iterdir()
            for line in file.read_text("utf-8").splitlines()
        ]
    print(f"wall clock {wall:.0f} s at a load of {os.getloadavg()[0]:.1f}")
    cpu, of_tests = used.ru_utime + used.ru_stime, sum(seconds for seconds, _ in tests)
    print(f"CPU {cpu:.0f} s, of it {of_tests:.0f} s in {len(tests)} tests")
    print(f"most memory at one time {most / MIB:.0f} MiB")
    for seconds, name in sorted(tests, reverse=True)[:20]:
        print(f"{seconds:7.2f} s  {name}")
    return process.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
