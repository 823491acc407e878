#!/usr/bin/env bash
# Installs Chromium and what drives it, unless they are there.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
if ! command -v chromium >/dev/null; then
  apt-get update -qq
  apt-get install -y -qq chromium >/dev/null
fi
(cd "$here" && npm ci --silent --no-audit --no-fund)
