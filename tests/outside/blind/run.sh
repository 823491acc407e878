#!/usr/bin/env bash
# Makes contact sheets for naming print samples by eye: run.sh SHEETS KEY [options of sheets.py]
# Give SHEETS and states.md to whoever names them, and keep KEY. Then: python3 score.py KEY/key.csv named.csv
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../../.." && pwd)
(cd "$root" && cargo build --quiet --example close_ups)
exec python3 "$here/sheets.py" "${CARGO_TARGET_DIR:-$root/target}/debug/examples/close_ups" "$@"
