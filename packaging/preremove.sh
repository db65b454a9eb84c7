#!/bin/sh
# The table is stopped; its games stay in /var/lib/boardhand.
set -e
if [ -d /run/systemd/system ]; then
	systemctl disable --now boardhand.service || true
fi
