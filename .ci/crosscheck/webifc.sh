#!/usr/bin/env bash
# Walls of models measured by web-ifc, side by side with ours: the sample clinic,
# and the models beside the project.
set -euo pipefail
cd "$(dirname "$0")/../.."
if [ ! -d ../shared/data/ifc ]; then
  echo "-- ../shared is not here: only the sample is compared with web-ifc"
fi
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
(cd "$dir" && npm init -y >/dev/null && npm install --no-audit --no-fund --silent web-ifc@0.0.78)
WEBIFC="$dir/node_modules/web-ifc" go test -run CrossCheck -count=1 ./importers/ifc
