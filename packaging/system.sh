# Sourced; wants apt.sh. Whole Debian systems in folders, to build and to run in.

# debian_system RELEASE FOLDER: the smallest such system.
debian_system() {
  [ -f "$2/ready" ] && return 0
  [ "$(id -u)" = 0 ] || { say "A Debian system in a folder can only be made by root."; return 1; }
  if ! command -v debootstrap >/dev/null; then
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends debootstrap >/dev/null
  fi
  local from
  from=$(debian_sources | head -n 1 | cut -d' ' -f1)
  say "Making a Debian system ($1)…"
  rm -rf "$2"
  mkdir -p "$2"
  debootstrap --variant=minbase "$1" "$2" "$from" >"$2.log"
  # The unstable release's list is only good for days, and a mirror may be older; its signature is checked all the same.
  echo 'Acquire::Check-Valid-Until "false";' >"$2/etc/apt/apt.conf.d/old-list"
  touch "$2/ready"
}

# inside FOLDER 'NAME=PATH …' COMMAND…: runs there, with parts of this system at the same paths; what was
# mounted goes away with the command.
inside() {
  local system=$1 parts=$2
  shift 2
  unshare --mount --pid --fork --kill-child bash -euc '
    system=$1 parts=$2
    shift 2
    mount --make-rprivate /
    mount --rbind /dev "$system/dev"
    mount -t proc proc "$system/proc"
    for part in $parts; do
      mkdir -p "$system$part"
      mount --bind "$part" "$system$part"
    done
    exec chroot "$system" "$@"' inside "$system" "$parts" "$@"
}
