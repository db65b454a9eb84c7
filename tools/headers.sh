#!/bin/sh
# Puts the licence header over every Go file of ours that lacks it; with
# --check it only names them, and exits 1 where there are any.
set -eu
cd "$(dirname "$0")/.."
header='// SPDX-License-Identifier: Apache-2.0'
lacking=$(git ls-files -co --exclude-standard 'cmd/*.go' 'internal/*.go' 'tools/*.go' | while read -r f; do
	test -f "$f" || continue
	head -n 1 "$f" | grep -qxF "$header" || echo "$f"
done)
test -n "$lacking" || exit 0
if test "${1:-}" = --check; then
	echo "these files lack the licence header; run make headers:"
	echo "$lacking"
	exit 1
fi
for f in $lacking; do
	{
		printf '%s\n\n' "$header"
		cat "$f"
	} >"$f.new"
	mv "$f.new" "$f"
done
