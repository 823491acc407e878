#!/usr/bin/env bash
# Runs the built pages in real Chromium over file://, and the checkers on them.
# Installs what it needs. GEARSIDE_SITE and GEARSIDE_KEYS may name folders that are built already.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
if ! command -v chromium >/dev/null || ! command -v java >/dev/null; then
  apt-get update -qq
  command -v chromium >/dev/null || apt-get install -y -qq chromium >/dev/null
  command -v java >/dev/null || apt-get install -y -qq default-jre-headless >/dev/null
fi
(cd "$here" && npm ci --silent --no-audit --no-fund)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
if [ -z "${GEARSIDE_SITE:-}" ]; then
  (cd "$root" && cargo run --quiet --release -- workbook --quiet -o "$work/site" >/dev/null)
  export GEARSIDE_SITE="$work/site" GEARSIDE_KEYS="$work/site-keys"
fi
cd "$here"
node --test --test-concurrency=2 ./*.test.mjs
