#!/usr/bin/env bash
# Compares the built program with general-purpose libraries of pinned versions. Installs what it needs.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
python="$root/target/outside/bin/python"
if ! cmp -s "$here/requirements.txt" "$root/target/outside/requirements.txt"; then
  rm -rf "$root/target/outside"
  if ! python3 -m venv "$root/target/outside"; then
    apt-get update -qq
    apt-get install -y -qq python3-venv >/dev/null
    python3 -m venv --clear "$root/target/outside"
  fi
  "$python" -m pip install --quiet --disable-pip-version-check -r "$here/requirements.txt"
  cp "$here/requirements.txt" "$root/target/outside/requirements.txt"
fi
(cd "$root" && cargo build --quiet --release --bin gearside --example work_many --example mark_many --example questions)
"$python" "$here/cross_check.py" "$root/target/release/examples/work_many"
"$python" "$here/cross_check_marks.py" "$root/target/release/examples/mark_many"
"$python" "$here/resolve.py" "$root/target/release/examples/questions"
"$python" "$here/texts.py" "$root"
"$root/tests/browser/install.sh"
"$python" "$here/term" "$root/target/release/gearside" "$root/tests/browser/fill_in.mjs"
