#!/usr/bin/env bash
# Builds the same source against the FFmpeg of newer Debian releases, each in a system of its own, and runs there every
# test that reads or writes video: 7.1 of trixie, 9.0 of the unstable release. Debian 12, where the daily work is done,
# has 5.1. `./dev headers [RELEASE…]`, as root.
set -euo pipefail
cd "$(dirname "$0")/.."
source packaging/apt.sh
source packaging/system.sh
say() { printf '%s\n' "$*" >&2; }

[ $# -gt 0 ] || set -- trixie sid
cargo=${CARGO_HOME:-$HOME/.cargo} rustup=${RUSTUP_HOME:-$HOME/.rustup}
parts="$PWD $cargo $rustup"
[ ! -d ../shared ] || parts+=" $(realpath ../shared)"
cargo fetch --locked --quiet
for release in "$@"; do
  system=$PWD/out/systems/$release
  debian_system "$release" "$system"
  cp /etc/resolv.conf "$system/etc/"
  cat >"$system/root/run" <<RUN
set -euo pipefail
cd "$PWD"
export HOME=/root CARGO_HOME="$cargo" RUSTUP_HOME="$rustup" PATH="$cargo/bin:\$PATH" LANG=C.UTF-8
export CARGO_TARGET_DIR="$PWD/out/headers/$release" CARGO_NET_OFFLINE=true
./dev setup
echo "\$(. /etc/os-release; echo "\$PRETTY_NAME"): FFmpeg \$(dpkg-query -W -f '\${Version}' libavcodec-dev)"
cargo build --release --locked --quiet --bins
cargo test --release --locked --quiet --lib media::
cargo test --release --locked --quiet --test it -- media:: fields:: playable:: cuts:: cli::probe
RUN
  inside "$system" "$parts" bash /root/run
done
