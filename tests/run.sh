#!/bin/sh
# Sets up Dialset with what its tests need, and runs them: style, types, tests. Usage: sh tests/run.sh [--all] [what pytest takes]
# --all adds the evidence at length; for that two processes share the tests, which takes more memory.
set -eu
cd "$(dirname "$0")/.."
sh deploy/environment.sh test
.venv/bin/ruff check .
.venv/bin/ruff format --check .
.venv/bin/mypy
.venv/bin/mypy --strict clients/python/src
case " $* " in
*" --all "*) set -- -n 2 --dist worksteal "$@" ;;
*) set -- -p no:schemathesis "$@" ;;
esac
.venv/bin/pytest "$@"
