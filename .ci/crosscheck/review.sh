#!/usr/bin/env bash
# The review page in a browser: both samples and pages with hostile names,
# many walls, none. The test makes the pages; review.mjs drives them.
set -euo pipefail
cd "$(dirname "$0")/../.."
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
(cd "$dir" && npm init -y >/dev/null && npm install --no-audit --no-fund --silent playwright-core@1.65.1)
PLAYWRIGHT=$dir go test ./internal/write -run TestHTML_inChromium -count=1 -v
