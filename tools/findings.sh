#!/bin/sh
# Runs the finders of code that nothing reaches, parameters that nothing reads
# and errors that nobody looks at, and compares what they find with
# tools/findings.txt, where each finding that stays has its reason. A finding
# that is not there fails.
set -eu
cd "$(dirname "$0")/.."
go=${GO:-go}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# finds NAME COMMAND…: what the finder says; 1 is its word for "I found some".
finds() {
	name=$1
	shift
	"$@" >"$work/$name" 2>"$work/said" || test $? -eq 1 || { cat "$work/said" >&2; exit 1; }
	grep -v '^go: downloading' "$work/said" >&2 || true
}

finds unreached $go tool deadcode -f '{{$p := .Path}}{{range .Funcs}}{{printf "%s %s\n" $p .Name}}{{end}}' ./cmd/boardhand ./tools/...
finds unread $go tool unparam ./...
finds unlooked $go tool errcheck -ignoretests ./...
{
	sed 's/^/unreached /' "$work/unreached"
	sed 's/^[^ ]*\.go:[0-9:]* /unread /' "$work/unread"
	sed 's/^[^:]*\.go:[0-9:]*[[:space:]]*/unlooked /' "$work/unlooked"
} | sed 's/[[:space:]]*$//' | LC_ALL=C sort -u >"$work/found"
sed 's/[[:space:]]*#.*$//; /^$/d' tools/findings.txt | LC_ALL=C sort >"$work/listed"
# "all PREFIX" stands for every finding that begins so: packages that serve tests, too.
sed -n 's/^all //p' "$work/listed" | while IFS= read -r prefix; do
	awk -v p="$prefix " 'index($0, p) == 1' "$work/found" >"$work/some"
	test -s "$work/some" || echo "found no longer, take it out of tools/findings.txt: all $prefix" >&2
	cat "$work/some"
done >"$work/alike"
{ grep -v '^all ' "$work/listed"; cat "$work/alike"; } | LC_ALL=C sort -u >"$work/accepted"
LC_ALL=C comm -23 "$work/accepted" "$work/found" | sed 's/^/found no longer, take it out of tools\/findings.txt: /'
if LC_ALL=C comm -13 "$work/accepted" "$work/found" | grep .; then
	echo "mend these, or give each its reason in tools/findings.txt"
	exit 1
fi
