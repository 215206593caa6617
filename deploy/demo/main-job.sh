#!/bin/sh
# Sets up Dialset, starts it on the invented shop, and asks it the main question: for one joint, then for 500.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
sh "$top/deploy/environment.sh"
exec "$top/.venv/bin/python" "$top/deploy/demo/main_job.py"
