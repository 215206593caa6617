#!/bin/sh
# Makes .venv at the top of the checkout and installs Dialset and its client into it. Usage: sh deploy/environment.sh [test]
set -eu
cd "$(dirname "$0")/.."
python=${PYTHON:-python3}

if ! "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
    echo "Dialset needs Python 3.11 or newer; '$python' is not. Set PYTHON to one that is." >&2
    exit 1
fi
if ! [ -x .venv/bin/pip ]; then
    # Debian and Ubuntu ship Python without ensurepip; the package is named after the version.
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        package=python$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')-venv
        echo "Python has no venv here; installing $package" >&2
        as_root=$([ "$(id -u)" = 0 ] || echo sudo)
        $as_root apt-get update -qq && $as_root apt-get install -y -qq "$package" >/dev/null
    fi
    "$python" -m venv --clear .venv
fi
.venv/bin/pip install -qq --disable-pip-version-check --editable ".${1:+[$1]}" \
    --editable clients/python
