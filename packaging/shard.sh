#!/bin/sh
# One shard of a rehearsal or a search, for Slurm's job arrays, GNU parallel or ssh:
#
#     shard.sh N DIR boardhand rehearse RIG --games 100 …
#
# runs shard K of N and leaves what it printed as DIR/K.json, whole or not at all. K is the task's
# number in a job array, or $SHARD. An answer "no" (exit 1) is an answer: its shard is done.
set -eu
test $# -ge 3 || { echo "usage: SHARD=K $0 N DIR COMMAND …" >&2; exit 2; }
n=$1 dir=$2 k=${SLURM_ARRAY_TASK_ID:-${SHARD:?give the number of the shard as SHARD=K}}
shift 2
mkdir -p "$dir"
test -z "${SLURM_CPUS_PER_TASK:-}" || export GOMAXPROCS="$SLURM_CPUS_PER_TASK"
rc=0
"$@" --json --shard "$k/$n" > "$dir/$k.part" || rc=$?
test $rc -le 1 || { echo "shard $k/$n ended with $rc: $*" >&2; exit $rc; }
mv "$dir/$k.part" "$dir/$k.json"
