#!/bin/sh
# Lints the OpenAPI document with the Redocly CLI. Needs Node, and Python with the service installed.
# Usage: tests/lint_openapi.sh        (PYTHON names another interpreter than python3)
set -eu

cd "$(dirname "$0")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
trap 'exit 1' HUP INT TERM

"${PYTHON:-python3}" -c 'import json; from api.http.openapi.document import build; print(json.dumps(build(), indent=1))' \
    > "$folder/openapi.json"

REDOCLY_TELEMETRY=off npx --yes @redocly/cli@2 lint --extends recommended "$folder/openapi.json"
