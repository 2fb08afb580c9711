#!/bin/sh
# Install a Debian package, or say plainly what is missing where that cannot be done.
set -eu
if ! command -v apt-get >/dev/null; then
    echo "Callroom's set-up needs $*, and there is no apt-get here: install it by hand" >&2
    exit 1
fi
as_root=
[ "$(id -u)" = 0 ] || as_root=sudo
$as_root apt-get update -qq
DEBIAN_FRONTEND=noninteractive $as_root apt-get install -qq -y --no-install-recommends "$@" >/dev/null
