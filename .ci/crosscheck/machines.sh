#!/usr/bin/env bash
# The same bytes in every file of a takeoff, whatever the machine: a 32-bit
# program, one or eight threads, another time zone, another language. Oracle:
# the files of the 64-bit program as the shell calls it.
set -euo pipefail
cd "$(dirname "$0")/../.."
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
go build -o "$out/wide" ./cmd/boardrun
GOARCH=386 CGO_ENABLED=0 go build -o "$out/narrow" ./cmd/boardrun
take() { # take PROGRAM SAMPLE FOLDER [NAME=VALUE…]
  local st=0
  env "${@:4}" "$out/$1" takeoff "samples/$2/job.yaml" -o "$out/$3" --effort quick --only xlsx,json,html,pdf,tops,plan,walls,svg >/dev/null 2>&1 || st=$?
  [ "$st" = 0 ] || [ "$st" = 3 ] || { echo "$2: $1 ended with status $st"; exit 1; }
}
for s in vet-clinic vet-clinic-ifc library-wing; do
  take wide "$s" "$s"
  take narrow "$s" "$s-narrow"
  take wide "$s" "$s-one" GOMAXPROCS=1 TZ=Asia/Kathmandu LC_ALL=tr_TR.UTF-8 LANG=tr_TR.UTF-8
  take wide "$s" "$s-eight" GOMAXPROCS=8 TZ=America/St_Johns LC_ALL=C LANG=C
  for other in narrow one eight; do
    diff -rq "$out/$s" "$out/$s-$other" || { echo "$s: $other differs"; exit 1; }
  done
  echo "-- $s: $(ls "$out/$s" | wc -l) files the same: 32 and 64 bits, 1 and 8 threads, time zones, languages"
done
