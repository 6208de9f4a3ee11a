# Sourced. An apt with sources, lists and state of its own, so that the system's stay as they are.

# private_apt FOLDER 'SOURCE LINE'…: from here on this shell's apt-get knows these sources alone.
private_apt() {
  local folder=$1
  shift
  mkdir -p "$folder/lists/partial" "$folder/cache/archives/partial"
  : >"$folder/status"
  printf '%s\n' "$@" >"$folder/sources.list"
  cat >"$folder/apt.conf" <<CONF
Dir::Etc::SourceList "$folder/sources.list";
Dir::Etc::SourceParts "-";
Dir::State "$folder";
Dir::State::Lists "$folder/lists";
Dir::State::Status "$folder/status";
Dir::Cache "$folder/cache";
Acquire::Languages "none";
APT::Sandbox::User "";
CONF
  export APT_CONFIG=$folder/apt.conf
  apt-get update -qq
}

# Where this system gets Debian from: ADDRESS RELEASE COMPONENT, one a line.
debian_sources() {
  apt-get indextargets --format '$(REPO_URI) $(RELEASE) $(COMPONENT)' 'Created-By: Packages' 'Origin: Debian' |
    grep ' main$' | awk '!seen[$0]++'
}

keyring=/usr/share/keyrings/debian-archive-keyring.gpg
