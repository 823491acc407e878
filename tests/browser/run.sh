#!/usr/bin/env bash
# Runs the built pages in real Chromium over file://, and the checkers on them.
# Installs what it needs. GEARSIDE_SITE, GEARSIDE_KEYS and GEARSIDE_GALLERY may name folders that are built already.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
"$here/install.sh"
if ! command -v java >/dev/null; then
  apt-get update -qq
  apt-get install -y -qq default-jre-headless >/dev/null
fi
if ! command -v pdftotext >/dev/null; then
  apt-get update -qq
  apt-get install -y -qq poppler-utils >/dev/null
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
(cd "$root" && cargo build --quiet --release)
if [ -z "${GEARSIDE_SITE:-}" ]; then
  (cd "$root" && target/release/gearside workbook --quiet -o "$work/site" >/dev/null)
  (cd "$root" && target/release/gearside workbook --quiet --gallery -o "$work/gallery" >/dev/null)
  export GEARSIDE_SITE="$work/site" GEARSIDE_KEYS="$work/site-keys" GEARSIDE_GALLERY="$work/gallery"
fi
cd "$here"
node --test --test-concurrency=2 ./*.test.mjs
