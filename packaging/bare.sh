#!/usr/bin/env bash
# Tries the packaged binary in the smallest Debian 12, without FFmpeg and without network: films a demo, pairs it, looks
# at what came out; then lets it and this system's own build probe every file of a folder, which has to give the same.
# `./dev package` calls it.
set -euo pipefail
cd "$(dirname "$0")/.."
source packaging/apt.sh
source packaging/system.sh
say() { printf '%s\n' "$*" >&2; }

version=$(sed -n 's/^version = "\(.*\)"/\1/p' Cargo.toml | head -n 1)
name=swingpair-$version-$(uname -m)-linux
system=$PWD/out/systems/bookworm
footage=$(realpath -m "${1:-../shared/footage}")

debian_system bookworm "$system"
rm -rf "$system/root/try" && mkdir "$system/root/try"
tar -C "$system/root/try" -xJf "out/package/$name.tar.xz"
cat >"$system/root/try/run" <<RUN
set -eu
cd /root/try
swingpair=$name/swingpair
if dpkg -l | grep -iE 'libav|x264|dav1d'; then echo "this is no bare system"; exit 1; fi
\$swingpair demo demo
\$swingpair pair demo/today.mp4 demo/best.mp4 --height 178 -o pair.mp4
\$swingpair check pair.mp4
\$swingpair probe pair.mp4
RUN
unshare --net bash -euc 'source packaging/system.sh; inside "$1" "" sh /root/try/run' bare "$system"

[ -d "$footage" ] || { say "SKIPPED: comparing by footage, as there is none in $footage"; exit 0; }
cargo build --release --quiet --bin swingpair
same=0
for file in "$footage"/*.*; do
  case "$file" in *.md) continue ;; esac
  cp "$file" "$system/root/try/clip"
  theirs=$(cp "$file" out/package/clip && target/release/swingpair probe --json out/package/clip 2>&1 || true)
  ours=$(inside "$system" "" sh -c "cd /root/try && $name/swingpair probe --json clip 2>&1" || true)
  if [ "${theirs//out\/package\/clip/clip}" = "$ours" ]; then
    same=$((same + 1))
  else
    say "$file is probed differently:"
    diff <(echo "$theirs") <(echo "$ours") >&2 || true
    exit 1
  fi
done
rm -f out/package/clip
say "$same files of $footage are probed alike by the packaged binary and by this system's own build."
