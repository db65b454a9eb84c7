#!/bin/sh
# Tries docs/scale-out.md on this machine, as root: a Slurm of one node, job arrays of rehearse and
# propose with a shard that fails, the merge that names it, that shard run again, the merge that
# gives what the whole gives; and the same by GNU parallel. Wants the Debian packages slurm-wlm,
# munge and parallel, and bin/boardhand. Ends what it started.
set -eu
cd "$(dirname "$0")/.."
b=$PWD/bin/boardhand shard=$PWD/packaging/shard.sh rig=$PWD/examples/pocket/rig.toml stock=$PWD/examples/pocket/stock.toml
d=$(mktemp -d) host=$(hostname -s) pids=
trap 'kill $pids 2>/dev/null || true; sleep 1; rm -rf "$d"' EXIT
mkdir -p "$d/state" "$d/spool" /run/munge
cat > "$d/slurm.conf" <<C
ClusterName=try
SlurmctldHost=$host(127.0.0.1)
SlurmUser=root
AuthType=auth/munge
StateSaveLocation=$d/state
SlurmdSpoolDir=$d/spool
SlurmctldPidFile=$d/slurmctld.pid
SlurmdPidFile=$d/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
NodeName=$host NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES State=UP
C
export SLURM_CONF="$d/slurm.conf"
test -e /etc/munge/munge.key || mungekey --create --keyfile /etc/munge/munge.key
chown -R munge: /etc/munge /run/munge
runuser -u munge -- munged --foreground > "$d/munged.log" 2>&1 & pids="$pids $!"
sleep 2
slurmctld -D > "$d/slurmctld.log" 2>&1 & pids="$pids $!"
slurmd -D > "$d/slurmd.log" 2>&1 & pids="$pids $!"
for i in 1 2 3 4 5 6 7 8 9 10; do sinfo -h -o %T 2>/dev/null | grep -q idle && break; sleep 2; done
sinfo -h -o %T | grep -q idle || { cat "$d"/*.log; echo "Slurm does not come up" >&2; exit 1; }

# A boardhand whose shard 2 dies as long as the file "well" is not there.
cat > "$d/ill" <<C
#!/bin/sh
case "\$*" in *"--shard 2/3"*) test -e "$d/well" || kill -9 \$\$;; esac
exec "$b" "\$@"
C
chmod +x "$d/ill"

# try NAME COMMAND…: the array, the merge that must fail, the shard again, the merge.
try() {
	name=$1; shift
	rm -f "$d/well"
	sbatch -Q --wait --array=1-3 -o "$d/$name-%a.log" "$shard" 3 "$d/$name" "$d/ill" "$@" && { echo "$name: the ill array ended well" >&2; exit 1; }
	if "$b" "$1" --merge "$d/$name"/*.json > "$d/out" 2> "$d/err"; then echo "$name: merged without shard 2" >&2; exit 1; fi
	grep -q "shard 2/3 is missing" "$d/err" || { cat "$d/err"; exit 1; }
	echo "$name: the merge says: $(cat "$d/err")"
	touch "$d/well"
	sbatch -Q --wait --array=2 -o "$d/$name-%a.log" "$shard" 3 "$d/$name" "$d/ill" "$@"
	"$b" "$1" --merge "$d/$name"/*.json > "$d/$name.merged"
	"$b" "$@" > "$d/$name.whole"
	grep -v "pictures in" "$d/$name.merged" > "$d/a"; grep -v "pictures in" "$d/$name.whole" > "$d/b"
	cmp "$d/a" "$d/b" || { diff "$d/a" "$d/b"; echo "$name: the shards do not give what the whole gives" >&2; exit 1; }
	echo "$name: three shards by Slurm give what the whole gives"
}
try propose propose "$rig" --stock "$stock"
try rehearse rehearse "$rig" --through gcode --games 3 --plies 4 --seed 1

parallel --will-cite -j 2 "SHARD={} $shard 3 $d/parallel $b propose $rig --stock $stock" ::: 1 2 3
"$b" propose --merge "$d"/parallel/*.json | cmp - "$d/propose.whole"
echo "propose: three shards by GNU parallel give what the whole gives"
