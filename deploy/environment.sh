#!/bin/sh
# Makes .venv at the top of the checkout and installs Dialset and its client into it. Usage: sh deploy/environment.sh [test]
# .venv/stamp says what was installed, and where: nothing is done twice. To begin anew: rm -r .venv
set -eu
cd "$(dirname "$0")/.."
extra=${1:-}

stop() {
    echo "$1" >&2
    exit 1
}

there=$([ -x .venv/bin/python ] && echo .venv/bin/python || echo python3)
python=${PYTHON:-$there}
version=$("$python" -c '
import sys
print("%d.%d" % sys.version_info[:2])
sys.exit(sys.version_info < (3, 11))' 2>/dev/null) ||
    stop "Dialset needs Python 3.11 or newer; '$python' is ${version:-not one}. Install one, name it in PYTHON (PYTHON=python3.12), and run this again."

place=$({ pwd -P; echo "$version"; } | cksum)
packages=$(cat pyproject.toml clients/python/pyproject.toml | cksum)
before=$(cat .venv/stamp 2>/dev/null || true)

# Without a stamp the packages failed the last time: the environment itself is kept. One of another place or Python is not.
case $([ -x .venv/bin/pip ] && echo "${before:-$place;}") in
"$place;"*) echo "environment: .venv with Python $version, as it is" ;;
*)
    echo "environment: making .venv with Python $version"
    before=
    # Debian and Ubuntu ship Python without ensurepip; the package is named after the version.
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        echo "environment: installing python$version-venv, which this Python lacks"
        as_root=$([ "$(id -u)" = 0 ] || echo sudo)
        { $as_root apt-get update -qq && $as_root apt-get install -y -qq "python$version-venv" >/dev/null; } ||
            stop "Python $version has no venv here, and it could not be installed. Install python$version-venv, and run this again."
    fi
    "$python" -m venv --clear .venv || stop "Python could not make .venv; it says why above. Mend that, and run this again."
    ;;
esac

case $before in
"$place;$packages;"*"$extra") echo "packages: as they are; no pyproject.toml has changed" ;;
*)
    echo "packages: installing Dialset and what it needs (a minute or more the first time)"
    rm -f .venv/stamp
    .venv/bin/python -m pip install -qq --disable-pip-version-check \
        --editable ".${extra:+[$extra]}" --editable clients/python ||
        stop "The packages are not installed; pip says why above. It must reach its index, https://pypi.org or that of PIP_INDEX_URL: mend that, and run this again."
    echo "$place;$packages;$extra" >.venv/stamp
    ;;
esac
