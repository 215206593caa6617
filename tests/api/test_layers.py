"""Layers point one way, and the packages imported are ours."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from rows import every_row

import api
import schemas

ROOT = Path(__file__).parents[2]

MAY_IMPORT = {
    # package: what of ours and of others it may import, by prefix; the longest matching package counts
    "api.engineering": {"api.engineering"},
    "schemas": {"schemas", "marshmallow", "pint"},
    "api.reference": {"api.reference", "api.engineering", "schemas"},
    "api.shop_tables": {"api.shop_tables", "api.engineering", "schemas", "marshmallow"},
    "api.answers": {
        "api.answers", "api.shop_tables", "api.engineering", "api.reference", "schemas", "orjson",
    },
    "api.registry": {
        "api.registry", "api.answers", "api.shop_tables", "api.engineering", "api.reference", "api.refusals",
        "schemas", "marshmallow",
    },
    "api.refusals": {"api.refusals", "api.engineering", "schemas"},
    "api.batch": {
        "api.batch", "api.refusals", "api.registry", "api.answers", "api.engineering", "schemas",
        "marshmallow",
    },
    "api.readiness": {"api.engineering", "api.reference"},
    "api.settings": {"api.engineering", "schemas"},
    "api.http": {
        "api", "schemas", "marshmallow", "flask", "orjson", "werkzeug", "apispec",
        "jinja2", "markupsafe",
    },
    "api.app": {"api", "flask"},
    "api.serving": set(),
}  # fmt: skip


def modules() -> list[tuple[str, Path]]:
    paths = [path for folder in ("api", "schemas") for path in sorted((ROOT / folder).rglob("*.py"))]
    return [
        (".".join(path.relative_to(ROOT).with_suffix("").parts), path)
        for path in paths
        if path.stat().st_size
    ]


def imported(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            found.add(node.module or "")
    return {name for name in found if name.partition(".")[0] not in sys.stdlib_module_names}


def within(name: str, prefix: str) -> bool:
    return name == prefix or name.startswith(prefix + ".")


@every_row(("module", "path"), modules(), ids=[name for name, _ in modules()])
def test_imports_point_downwards(module: str, path: Path) -> None:
    package = max((prefix for prefix in MAY_IMPORT if within(module, prefix)), key=len)
    stray = {
        name
        for name in imported(path)
        if not any(within(name, allowed) for allowed in MAY_IMPORT[package])
        and not (name == "api" and package == "api")
    }
    assert not stray, f"{module} must not import {stray}"


@pytest.mark.parametrize(
    ("module", "unloaded"),
    [
        ("api.engineering.rotary.torque", ("flask", "marshmallow", "pint", "schemas")),
        ("schemas.rotary.joint", ("flask", "api.engineering")),
        ("api.registry.calculations", ("flask",)),
    ],
)
def test_a_lower_layer_loads_nothing_of_a_higher(module: str, unloaded: tuple[str, ...]) -> None:
    code = f"import sys, {module}; sys.exit(any(name in sys.modules for name in {unloaded!r}))"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


def test_the_packages_are_those_of_this_project() -> None:
    assert Path(api.__file__ or "").is_relative_to(ROOT)
    assert Path(schemas.__file__ or "").is_relative_to(ROOT)


def test_nothing_else_stands_at_the_top() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "pyproject.toml"} | {
        "api", "schemas", "deploy", "tests", "clients"
    }  # fmt: skip
    made = {"build", "dist", "__pycache__"}
    tops = {path.name for path in ROOT.iterdir() if path.suffix != ".egg-info"} - made
    assert {top for top in tops if not top.startswith(".")} <= allowed


@every_row(("module", "path"), modules(), ids=[name for name, _ in modules()])
def test_files_and_functions_fit_a_screen(module: str, path: Path) -> None:
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            first = node.body[1] if ast.get_docstring(node) and len(node.body) > 1 else node.body[0]
            assert (node.end_lineno or 0) - first.lineno < 50, f"{module}.{node.name}"
