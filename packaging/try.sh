#!/bin/sh
# Tries a Debian package as a stranger would: in a clean Debian root without Go it is installed,
# the service's own command is started as the service's user, a move is played through the page's
# requests, and the package is removed; only the user's data may remain. Wants root and debootstrap.
#   packaging/try.sh out/dist/boardhand_VERSION_amd64.deb
set -eu
deb=$(readlink -f "$1")
root=$(mktemp -d)
chmod 755 "$root" # its own user must get in
mirror=${MIRROR:-$(sed -n 's/^URIs: *//p; s/^deb \([^ ]*\).*/\1/p' /etc/apt/sources.list.d/* /etc/apt/sources.list 2>/dev/null | head -1)}
port=8641
pid=
trap 'test -z "$pid" || kill $pid 2>/dev/null || true; umount "$root/proc" 2>/dev/null || true; rm -rf "$root"' EXIT
debootstrap --variant=minbase --include=adduser "${SUITE:-bookworm}" "$root" "$mirror" >"$root.log" 2>&1 || { tail "$root.log"; exit 1; }
mount -t proc proc "$root/proc"
find "$root" -xdev -path "$root/proc" -prune -o -print | sort >"$root.before"

cp "$deb" "$root/tmp/boardhand.deb"
chroot "$root" dpkg -i /tmp/boardhand.deb
rm "$root/tmp/boardhand.deb"
chroot "$root" boardhand version
user=$(sed -n 's/^User=//p' "$root/usr/lib/systemd/system/boardhand.service")
command=$(sed -n 's/^ExecStart=//p' "$root/usr/lib/systemd/system/boardhand.service")
# shellcheck disable=SC2086
chroot --userspec="$user:$user" "$root" $command --addr 127.0.0.1:$port --visitor --pace 20 >"$root.out" 2>&1 &
pid=$!
until curl -fs "http://127.0.0.1:$port/" >/dev/null; do
	kill -0 $pid || { cat "$root.out"; exit 1; }
	sleep 1
done
until curl -fs -H 'Content-Type: application/json' -d '{"from":"e2","to":"e4"}' "http://127.0.0.1:$port/api/hand"; do # it is not the guest's turn yet
	kill -0 $pid || { cat "$root.out"; exit 1; }
	sleep 1
done
until grep -q 'e4' "$root.out"; do
	kill -0 $pid || { cat "$root.out"; exit 1; }
	sleep 1
done
kill -TERM $pid
wait $pid || true
chroot "$root" boardhand games --games /var/lib/boardhand
chroot "$root" dpkg --purge boardhand
find "$root" -xdev -path "$root/proc" -prune -o -print | sort >"$root.after"
echo "left behind:"
comm -13 "$root.before" "$root.after" | sed "s|^$root||" | grep -v '^/run\|^/var/lib/dpkg\|^/var/log\|^/var/cache\|^/etc/.*-$' || true
