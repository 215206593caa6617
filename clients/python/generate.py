"""Writes the methods of the client from the OpenAPI document of the service.

Run: ``.venv/bin/python clients/python/generate.py`` at the top of the checkout, once ``sh tests/run.sh`` has
made the environment. A test compares the result.
"""

import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

TOP = Path(__file__).resolve().parents[2]
TARGET = Path(__file__).parent / "src" / "dialset_client" / "_methods.py"
HEAD = '''"""A method for every question of the service. Written by generate.py: do not edit."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

Quantity = str | Mapping[str, Any]
"""``"6 1/2 in"`` or ``{"value": 6.5, "unit": "in"}``."""

CALCULATIONS = (
NAMES)
"""What can be asked."""


class Questions:
    """Every question of a service, as a method; fields that are left out are not sent."""

    def _question(self, path: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        raise NotImplementedError

    def _listing(self, path: str, filters: Mapping[str, Any]) -> list[dict[str, Any]]:
        raise NotImplementedError

    def _entry(self, path: str, name: str) -> dict[str, Any]:
        raise NotImplementedError
'''


def written(document: Mapping[str, Any]) -> str:
    """The module of the methods."""
    return HEAD.replace("NAMES", _names(document)) + "".join(_methods(document))


def formatted(module: str) -> str:
    """A module as the project's own style writes it, so that writing it anew changes nothing."""
    command = [sys.executable, "-m", "ruff", "format", "--stdin-filename", str(TARGET), "-"]
    return subprocess.run(command, input=module, capture_output=True, text=True, check=True).stdout


def _names(document: Mapping[str, Any]) -> str:
    calculations = [
        path.removeprefix("/v1/")
        for path, operations in document["paths"].items()
        if _is_question(operations.get("post"))
    ]
    return "".join(f'    "{name}",\n' for name in calculations)


def _methods(document: Mapping[str, Any]) -> Iterator[str]:
    for path, operations in document["paths"].items():
        get, post = operations.get("get"), operations.get("post")
        name = path.removeprefix("/v1/").replace("/", "_").replace("-", "_")
        if post and _is_question(post):
            yield _question(name, path, post, _fields(document, post))
        elif get and path.endswith("/{id}"):
            yield _entry(name.removesuffix("_{id}"), path.removesuffix("/{id}"), get)
        elif get and get["operationId"].startswith("list"):
            yield _listing(name, path, get)


def _is_question(post: Mapping[str, Any] | None) -> bool:
    """Whether an operation computes the answer to one question."""
    return post is not None and post["operationId"].startswith("compute")


def _fields(document: Mapping[str, Any], post: Mapping[str, Any]) -> dict[str, tuple[str, bool]]:
    """Every field with its type and whether every body requires it."""
    schema = post["requestBody"]["content"]["application/json"]["schema"]
    parts = document["components"]["schemas"]
    bodies = [parts[each["$ref"].rpartition("/")[2]] for each in schema.get("oneOf", [schema])]
    names = dict.fromkeys(name for body in bodies for name in body["properties"])
    fields = {}
    for name in names:
        kind = next(body["properties"][name] for body in bodies if name in body["properties"])
        fields[name] = (_type(kind), all(name in body.get("required", []) for body in bodies))
    return dict(sorted(fields.items(), key=lambda field: not field[1][1]))


def _type(schema: Mapping[str, Any]) -> str:
    if "oneOf" in schema or "anyOf" in schema:
        either = schema.get("oneOf") or schema["anyOf"]
        numbers = any(each.get("type") in ("number", "integer") for each in either)
        quantities = any("$ref" in each for each in either)
        return " | ".join(["float | Decimal"] * numbers + ["Quantity" if quantities else "str"])
    if "$ref" in schema or "allOf" in schema:
        return "Mapping[str, Any]"
    if isinstance(schema.get("type"), list):
        return " | ".join(_type({**schema, "type": kind}) for kind in schema["type"])
    if schema.get("format") == "date":
        return "str | date"
    kinds = {
        "number": "float | Decimal",
        "integer": "int",
        "boolean": "bool",
        "array": "Sequence[Mapping[str, Any]]",
        "object": "Mapping[str, Any]",
    }
    return kinds.get(schema.get("type", ""), "str")


def _question(name: str, path: str, post: Mapping[str, Any], fields: Mapping[str, tuple[str, bool]]) -> str:
    given = [
        f"        {field}: {kind}," if required else f"        {field}: {kind} | None = None,"
        for field, (kind, required) in fields.items()
    ]
    sent = [f'                "{field}": {field},' for field in fields]
    return "\n".join(
        [
            "",
            f"    def {name}(",
            "        self,",
            "        *,",
            *given,
            "    ) -> dict[str, Any]:",
            f'        """{post["summary"]}."""',
            "        return self._question(",
            f'            "{path}",',
            "            {",
            *sent,
            "            },",
            "        )",
            "",
        ]
    )


def _listing(name: str, path: str, get: Mapping[str, Any]) -> str:
    fields = {each["name"]: _type(each["schema"]) for each in get["parameters"]}
    given = "".join(f", {field}: {kind} | None = None" for field, kind in fields.items())
    star = ", *" if fields else ""
    sent = ", ".join(f'"{field}": {field}' for field in fields)
    return (
        f"\n    def {name}(self{star}{given}) -> list[dict[str, Any]]:\n"
        f'        """{get["summary"]}."""\n        return self._listing("{path}", {{{sent}}})\n'
    )


def _entry(name: str, path: str, get: Mapping[str, Any]) -> str:
    return (
        f"\n    def {name.removesuffix('s')}(self, name: str) -> dict[str, Any]:\n"
        f'        """{get["summary"]}."""\n        return self._entry("{path}", name)\n'
    )


if __name__ == "__main__":
    sys.path.insert(0, str(TOP))
    from api.http.openapi.document import build

    TARGET.write_text(formatted(written(build())), "utf-8")
