#!/bin/sh
# Sets up Dialset with what its tests need, and runs them: style, types, tests.
set -eu
cd "$(dirname "$0")/.."
sh deploy/environment.sh test
.venv/bin/ruff check .
.venv/bin/ruff format --check .
.venv/bin/mypy
.venv/bin/mypy --strict clients/python/src
.venv/bin/pytest "$@"
