#!/bin/sh
# Makes the user that the service runs as; starts nothing.
set -e
if [ "$1" = configure ] && ! getent passwd boardhand >/dev/null; then
	adduser --system --group --quiet --home /var/lib/boardhand --no-create-home --gecos "board game table" boardhand
fi
install -d -o boardhand -g boardhand -m 0750 /var/lib/boardhand
if [ -d /run/systemd/system ]; then
	systemctl daemon-reload
	udevadm control --reload || true
fi
