#!/usr/bin/env bash
# make package: the Debian package and the archive, in target/package. Same source, same bytes: dates are the last commit's
# (or SOURCE_DATE_EPOCH), owners root, orders sorted, paths of this computer taken out of the program.
# MINISIGN_KEY=FILE signs both (a key without password, `minisign -G -W`); without it they are not signed, and it is said.
set -euo pipefail
cd "$(dirname "$0")/../.."
root=$PWD
out=${PACKAGE_OUT:-$root/target/package}
work=$out/work
export LC_ALL=C TZ=UTC
umask 022

say() { echo "package: $*" >&2; }
fail() { say "$*"; exit 1; }
for tool in cargo dpkg-deb xz objdump python3; do
	command -v "$tool" >/dev/null || fail "$tool is not there: on Debian, apt-get install dpkg-dev xz-utils binutils python3, and cargo from rustup"
done
[ -z "${MINISIGN_KEY:-}" ] || command -v minisign >/dev/null || fail "minisign is not there: apt-get install minisign"
[ -z "${MINISIGN_KEY:-}" ] || [ -f "$MINISIGN_KEY" ] || fail "$MINISIGN_KEY: there is no such key: 'minisign -G -W' makes one"

version=$(sed -n 's/^version = "\(.*\)"/\1/p' Cargo.toml | head -1)
architecture=$(dpkg --print-architecture)
machine=$(uname -m)
if [ -z "${SOURCE_DATE_EPOCH:-}" ]; then
	SOURCE_DATE_EPOCH=$(git log -1 --format=%ct 2>/dev/null) || fail "no date of the source: set SOURCE_DATE_EPOCH"
fi
export SOURCE_DATE_EPOCH

# The paths of this computer are in panic messages otherwise.
home=${CARGO_HOME:-$HOME/.cargo}
export RUSTFLAGS="--remap-path-prefix=$root=/hissward --remap-path-prefix=$home=/cargo --remap-path-prefix=$(rustc --print sysroot)=/rust -C link-arg=-static-libgcc"
# PACKAGE_PROGRAM=FILE takes a program that is there, XZ_LEVEL=0 packs loosely: quick, for trying the packaging itself.
program=${PACKAGE_PROGRAM:-$out/build/release/hissward}
if [ -z "${PACKAGE_PROGRAM:-}" ]; then
	say "building the program as it is shipped (about 10 minutes on two cores the first time) …"
	cargo build --release --locked --bin hissward --target-dir "$out/build"
fi

rm -rf "$work"
tree=$work/tree/usr
install -D -m 755 "$program" "$tree/bin/hissward"
mkdir -p "$tree/share/man/man1"
"$program" man --out "$tree/share/man/man1"
gzip -9n "$tree"/share/man/man1/*.1
mkdir -p "$tree/share/bash-completion/completions" "$tree/share/zsh/vendor-completions" "$tree/share/fish/vendor_completions.d"
"$program" completions bash >"$tree/share/bash-completion/completions/hissward"
"$program" completions zsh >"$tree/share/zsh/vendor-completions/_hissward"
"$program" completions fish >"$tree/share/fish/vendor_completions.d/hissward.fish"
install -D -m 755 src/package/bench-page.sh "$tree/lib/hissward/bench-page"
install -D -m 644 src/package/hissward.desktop "$tree/share/applications/hissward.desktop"
install -D -m 644 src/package/hissward.svg "$tree/share/icons/hicolor/scalable/apps/hissward.svg"
doc=$tree/share/doc/hissward
install -D -m 644 README.md "$doc/README.md"
install -m 644 LICENSE-MIT LICENSE-APACHE "$doc/"
install -m 644 src/plot/font/OFL.txt "$doc/LICENSE-FONT"
python3 src/package/licences.py >"$doc/LICENCES-OF-PARTS"
gzip -9n "$doc/LICENCES-OF-PARTS"

dated() { find "$1" -exec touch --no-dereference --date="@$SOURCE_DATE_EPOCH" {} +; }

# The archive.
archive=$out/hissward-$version-linux-$machine.tar.xz
base=$work/hissward-$version
mkdir -p "$base"
cp -a "$tree/." "$base/"
install -m 644 src/package/INSTALL.txt "$base/INSTALL.txt"
dated "$base"
tar --sort=name --format=gnu --owner=0 --group=0 --numeric-owner --mtime="@$SOURCE_DATE_EPOCH" \
	-C "$work" -c "hissward-$version" | xz -T1 "-${XZ_LEVEL:-6}" >"$archive"

# The package: the same tree, with what Debian asks for besides.
deb=$work/tree/DEBIAN
mkdir -p "$deb"
install -m 644 src/package/copyright "$doc/copyright"
printf 'hissward (%s) unstable; urgency=low\n\n  * See the history of the source.\n\n -- The hissward authors <hissward@localhost>  %s\n' \
	"$version" "$(date -u -R -d "@$SOURCE_DATE_EPOCH")" | gzip -9n >"$doc/changelog.gz"
glibc=$(objdump -T "$program" | grep -oE 'GLIBC_[0-9.]+' | sed 's/GLIBC_//' | sort -V | tail -1)
size=$(du -k --apparent-size -s "$work/tree/usr" | cut -f1)
sed -e "s/@VERSION@/$version/" -e "s/@ARCHITECTURE@/$architecture/" -e "s/@GLIBC@/$glibc/" -e "s/@SIZE@/$size/" \
	src/package/control >"$deb/control"
(cd "$work/tree" && find usr -type f | sort | xargs md5sum) >"$deb/md5sums"
chmod 644 "$deb"/*
dated "$work/tree"
package=$out/hissward_${version}_$architecture.deb
dpkg-deb --root-owner-group -Zxz "-z${XZ_LEVEL:-6}" --threads-max=1 --build "$work/tree" "$package" >/dev/null

for file in "$package" "$archive"; do
	(cd "$out" && sha256sum "$(basename "$file")") >"$file.sha256"
	rm -f "$file.minisig"
	if [ -n "${MINISIGN_KEY:-}" ]; then
		# A comment without a date: the same file and key give the same signature.
		minisign -S -s "$MINISIGN_KEY" -m "$file" -t "hissward $version, $(basename "$file")" >/dev/null
	fi
	echo "$file"
done
[ -n "${MINISIGN_KEY:-}" ] || say "not signed: MINISIGN_KEY=FILE names the key to sign with"
say "needs glibc $glibc or newer"
