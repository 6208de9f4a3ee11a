#!/usr/bin/env bash
# Makes out/package/swingpair-VERSION-x86_64-linux.tar.xz: one binary with FFmpeg, x264 and dav1d in it, and every
# licence it brings; beside it the sources of all of that. Called by `./dev package`; wants Debian 12 or its like.
set -euo pipefail
cd "$(dirname "$0")/.."
source packaging/apt.sh
say() { printf '%s\n' "$*" >&2; }

root=$PWD/out/package
# Built for a prefix that names no folder of this machine, since FFmpeg keeps its build's words in the binary.
stage=$root/stage
prefix=$stage/usr/local
version=$(sed -n 's/^version = "\(.*\)"/\1/p' Cargo.toml | head -n 1)
name=swingpair-$version-$(uname -m)-linux
jobs=$(nproc)
# The newest C library that Debian 12 has.
most_glibc=2.36

# --- what is needed to build -------------------------------------------------------------------------------------
needed=(nasm meson ninja-build libx264-dev dpkg-dev xz-utils)
missing=()
for package in "${needed[@]}"; do
  dpkg -s "$package" >/dev/null 2>&1 || missing+=("$package")
done
if [ ${#missing[@]} -gt 0 ]; then
  say "Installing ${missing[*]}…"
  as=()
  [ "$(id -u)" = 0 ] || as=(sudo)
  DEBIAN_FRONTEND=noninteractive "${as[@]}" apt-get update -qq
  DEBIAN_FRONTEND=noninteractive "${as[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi

# --- Debian's sources --------------------------------------------------------------------------------------------
mkdir -p "$root/source"
if ! compgen -G "$root/source/ffmpeg_*.dsc" >/dev/null; then
  say "Fetching the sources of FFmpeg, dav1d and x264…"
  mapfile -t lines < <(debian_sources | sed "s|^|deb-src [signed-by=$keyring] |")
  (
    private_apt "$root/apt" "${lines[@]}"
    cd "$root/source"
    apt-get source -qq ffmpeg dav1d >/dev/null
    apt-get source -qq --download-only x264 >/dev/null
  )
fi
ffmpeg=$(echo "$root"/source/ffmpeg-*/)
dav1d=$(echo "$root"/source/dav1d-*/)

# --- the libraries -----------------------------------------------------------------------------------------------
# What phones, tablets and camcorders make, what spoken notes come as, and what this program writes. No network, no
# devices, nothing that is merely found on the machine that builds.
list() { tr -s ' \n' ',' <<<"$*" | sed 's/,$//'; }
demuxers=$(list mov matroska avi mpegts mpegps mpegvideo m4v h264 hevc gif flv asf dv \
  ogg wav w64 aiff caf mp3 aac ac3 eac3 flac amr)
decoders=$(list h264 hevc vp8 vp9 libdav1d mpeg4 msmpeg4v1 msmpeg4v2 msmpeg4v3 mpeg1video mpeg2video mjpeg h263 h263i \
  h263p flv gif prores dvvideo wmv1 wmv2 wmv3 vc1 theora cinepak rawvideo huffyuv ffvhuff ffv1 \
  aac aac_latm mp1float mp2float mp3float ac3 eac3 opus vorbis flac alac amrnb amrwb wmav1 wmav2 qdm2 \
  pcm_s16le pcm_s16be pcm_s24le pcm_s24be pcm_s32le pcm_s32be pcm_s8 pcm_u8 pcm_f32le pcm_f32be pcm_f64le pcm_f64be \
  pcm_alaw pcm_mulaw pcm_dvd pcm_bluray adpcm_ima_wav adpcm_ima_qt adpcm_ms adpcm_swf)
parsers=$(list h264 hevc vp8 vp9 av1 mpeg4video mpegvideo mjpeg h263 gif vc1 aac aac_latm ac3 mpegaudio opus vorbis \
  flac dvaudio)
if [ ! -f "$prefix/lib/libdav1d.a" ]; then
  say "Building dav1d…"
  meson setup "$root/build-dav1d" "$dav1d" --prefix=/usr/local --libdir=lib --buildtype=release \
    --default-library=static -Denable_tools=false -Denable_tests=false >"$root/dav1d.log"
  DESTDIR=$stage ninja -C "$root/build-dav1d" install >>"$root/dav1d.log"
  sed -i "s|/usr/local|$prefix|" "$prefix/lib/pkgconfig/dav1d.pc"
fi
if [ ! -f "$prefix/lib/libavfilter.a" ]; then
  say "Building FFmpeg…"
  # Its static library, in a folder that holds no shared one, so that the linker has no choice.
  cp "$(dpkg -L libx264-dev | grep '/libx264\.a$')" "$prefix/lib/"
  mkdir -p "$root/build-ffmpeg"
  (
    cd "$root/build-ffmpeg"
    export PKG_CONFIG_PATH=$prefix/lib/pkgconfig LIBRARY_PATH=$prefix/lib
    "${ffmpeg}configure" --prefix=/usr/local --pkg-config-flags=--static \
      --enable-static --disable-shared --enable-pic --enable-gpl \
      --disable-everything --disable-autodetect --disable-network --disable-programs --disable-doc --disable-debug \
      --disable-avdevice --disable-postproc --enable-pthreads --enable-libx264 --enable-libdav1d \
      --enable-protocol=file --enable-demuxer="$demuxers" --enable-decoder="$decoders" --enable-parser="$parsers" \
      --enable-encoder=libx264,aac --enable-muxer=mp4,mov \
      --enable-filter=buffer,buffersink,bwdif,scale,format,null \
      --enable-bsf=null,extract_extradata,aac_adtstoasc,h264_mp4toannexb,hevc_mp4toannexb,vp9_superframe_split,mpeg4_unpack_bframes
    make -j"$jobs"
    make install DESTDIR="$stage"
    sed -i "s|/usr/local|$prefix|" "$prefix"/lib/pkgconfig/lib*.pc
  ) >"$root/ffmpeg.log" 2>&1 || { tail -n 20 "$root/ffmpeg.log" >&2; exit 1; }
fi

# --- the binary --------------------------------------------------------------------------------------------------
# Of what is committed, which is what the sources hold too.
git diff --quiet HEAD || say "What is not committed does not go into it."
tree=$root/tree
rm -rf "$tree"
mkdir "$tree"
git archive HEAD | tar -x -C "$tree"
say "Building swingpair…"
# Only what lies in the folder above may be found, and no path of this machine is left in it.
(
  cd "$tree"
  export PKG_CONFIG_LIBDIR=$prefix/lib/pkgconfig PKG_CONFIG_PATH='' CARGO_TARGET_DIR=$root/target
  export RUSTFLAGS="--remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}/registry/src= --remap-path-prefix=$tree="
  cargo build --release --quiet --locked --bin swingpair --example licences --features ffmpeg-next/static
) 2>"$root/swingpair.log" || { tail -n 20 "$root/swingpair.log" >&2; exit 1; }
folder=$root/$name
rm -rf "$folder"
mkdir -p "$folder/licences"
strip -o "$folder/swingpair" "$root/target/release/swingpair"

loaded=$(ldd "$folder/swingpair" | awk '{print $1}' | grep -vE '^(linux-vdso|libc|libm|libgcc_s|/lib64/ld-linux)' || true)
[ -z "$loaded" ] || { say "It would need libraries that are not everywhere: $loaded"; exit 1; }
glibc=$(objdump -T "$folder/swingpair" | grep -o 'GLIBC_2\.[0-9]*' | sort -uV | tail -n 1 | cut -d_ -f2)
[ "$(printf '%s\n' "$glibc" "$most_glibc" | sort -V | tail -n 1)" = "$most_glibc" ] ||
  { say "It would need a C library of $glibc; Debian 12 has $most_glibc. Build it on Debian 12."; exit 1; }
if grep -qaF -e "$HOME/" -e "$PWD/" "$folder/swingpair"; then
  say "It would tell paths of this machine:"
  strings -a "$folder/swingpair" | grep -F -e "$HOME/" -e "$PWD/" | head -n 5 >&2
  exit 1
fi

# --- licences and sources ----------------------------------------------------------------------------------------
of_source() { (cd "$root/source" && sed -n 's/^Version: //p' "$1"_*.dsc | head -n 1); }
cp -r "$tree"/{README.md,CHANGELOG.md,docs,LICENSE-MIT,LICENSE-APACHE} "$folder/"
mkdir "$folder/fixtures"
cp "$tree/fixtures/demo-still.png" "$folder/fixtures/"
cp "$ffmpeg/COPYING.GPLv2" "$ffmpeg/COPYING.GPLv3" "$ffmpeg/COPYING.LGPLv2.1" "$folder/licences/"
cp "$ffmpeg/LICENSE.md" "$folder/licences/FFmpeg.md"
cp "$ffmpeg/debian/copyright" "$folder/licences/FFmpeg-copyright.txt"
cp "$(dpkg -L libx264-dev | grep '/copyright$')" "$folder/licences/x264-copyright.txt"
cp "$dav1d/COPYING" "$folder/licences/dav1d.txt"
cp models/README.md "$folder/licences/models.md"
cp models/NOTICE "$folder/licences/models-NOTICE"
cp fonts/README.md "$folder/licences/fonts.md"
(cd "$tree" && "$root/target/release/examples/licences" "$folder/licences" "$root/source/crates")
sed -e "s/@FFMPEG@/$(of_source ffmpeg)/; s/@X264@/$(of_source x264)/; s/@DAV1D@/$(of_source dav1d)/" \
  -e "s/@SOURCES@/swingpair-$version-sources.tar/" packaging/LICENCES.md >"$folder/LICENCES.md"

say "Packing…"
tar -C "$root" --sort=name --owner=0 --group=0 -cJf "$root/$name.tar.xz" "$name"
git archive --format=tar.gz --prefix="swingpair-$version/" -o "$root/source/swingpair-$version.tar.gz" HEAD
(
  cd "$root/source"
  tar --sort=name --owner=0 --group=0 -cf "$root/swingpair-$version-sources.tar" \
    "swingpair-$version.tar.gz" ./*.dsc ./*.orig.tar.* ./*.debian.tar.* crates
)
ls -l "$root/$name.tar.xz" "$root/swingpair-$version-sources.tar" "$folder/swingpair" | awk '{print $5, $NF}'
