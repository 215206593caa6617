"""How far one question walks through the house, and which modules serve a single other one.

Prints the files entered by one warm ``POST /v1/pressure``, the first question of README (the aim is at most
40), how many modules have one importer or none, and how long modules are.
Usage: ``python tests/bench/house.py``.
"""

import ast
import json
import os
import sys
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from api.app import create_app  # noqa: E402
from api.settings import Settings  # noqa: E402

DEMO = ROOT / "deploy" / "demo"
PACKAGES = ("api", "schemas")
README = (ROOT / "README.md").read_text("utf-8")
FROM = README.index("curl -s http://127.0.0.1:8000/v1/pressure ")
QUESTION = json.loads(README[README.index("{", FROM) : README.index("}", FROM) + 1])
"""The first question of README."""


def files_entered() -> list[str]:
    """The files of the project that one warm question enters."""
    client = create_app(Settings(machines=DEMO / "machines", tables=DEMO / "tables")).test_client()
    seen: set[str] = set()
    roots = tuple(f"{ROOT / package}{os.sep}" for package in PACKAGES)

    def see(frame: object, event: str, arg: object) -> None:
        file = frame.f_code.co_filename  # type: ignore[attr-defined]
        if event == "call" and file.startswith(roots):
            seen.add(str(Path(file).relative_to(ROOT)))

    for profile in (None, None, see):
        sys.setprofile(profile)
        answer = client.post("/v1/pressure", json=QUESTION)
        sys.setprofile(None)
        if answer.status_code != 200:
            raise SystemExit(answer.text)
    return sorted(seen)


def importers() -> dict[str, set[str]]:
    """Each module that is not empty, with the modules that import it."""
    paths = [
        path for package in PACKAGES for path in sorted((ROOT / package).rglob("*.py")) if path.stat().st_size
    ]
    names = {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in paths}
    found: dict[str, set[str]] = defaultdict(set)
    for name, path in names.items():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom):
                for alias in node.names:
                    inner = f"{node.module}.{alias.name}"
                    found[inner if inner in names else str(node.module)].add(name)
    return {name: found[name] for name in names}


def main() -> None:
    """Print both counts."""
    entered, used = files_entered(), importers()
    lines = [len((ROOT / file).read_text("utf-8").splitlines()) for file in entered]
    print("\n".join(entered))
    print(f"{len(entered)} files of {sum(lines)} lines entered by one POST /v1/pressure")
    few = sum(len(each) <= 1 for each in used.values())
    print(f"{len(used)} modules, {few} with one importer or none")
    sizes = sorted(
        len((ROOT / Path(*name.split("."))).with_suffix(".py").read_text().splitlines()) for name in used
    )
    print(f"lines a module: median {sizes[len(sizes) // 2]}, longest {sizes[-1]}")


if __name__ == "__main__":
    main()
