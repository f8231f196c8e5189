#!/usr/bin/env bash
# make package-test: the package where a user would be. Built twice and compared; installed in a bare Debian 12 with apt;
# demo and page run there, the demo's ranking held against the checkout's; removed, and what stays is looked at; the
# archive in a bare Debian 11. As root, with debootstrap and a network. ONCE=1 leaves the second build out.
set -euo pipefail
cd "$(dirname "$0")/../.."
out=$PWD/target/package
mirror=${DEBIAN_MIRROR:-http://deb.debian.org/debian}
say() { echo "package-test: $*"; }
fail() { echo "package-test: FAILED: $*" >&2; exit 1; }
[ "$(id -u)" = 0 ] || fail "has to be root (debootstrap, chroot): sudo make package-test"
command -v debootstrap >/dev/null || fail "debootstrap is not there: apt-get install debootstrap"

SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct)}
export SOURCE_DATE_EPOCH
src/package/build.sh >"$out.files" || fail "it does not build"
mapfile -t files <"$out.files"
rm "$out.files"
package=${files[0]} archive=${files[1]}

if [ -z "${ONCE:-}" ]; then
	# The program again from the beginning, elsewhere, then both files again.
	PACKAGE_OUT=$PWD/target/package-again src/package/build.sh >/dev/null
	for file in "${files[@]}"; do
		cmp "$file" "target/package-again/$(basename "$file")" || fail "$(basename "$file") differs from build to build"
	done
	say "built twice, byte for byte the same"
fi
(cd "$out" && sha256sum --quiet -c ./*.sha256) || fail "a SHA-256 does not hold"

# A bare system in a copy, so that the next test finds it bare, too.
bare() {
	local release=$1 root=$out/root-$2
	[ -e "$root.tar" ] || {
		say "fetching a bare Debian $2"
		rm -rf "$root"
		debootstrap --variant=minbase "$release" "$root" "$mirror" >"$out/debootstrap.log" || fail "debootstrap: see $out/debootstrap.log"
		tar -C "$root" -cf "$root.tar" .
	}
	rm -rf "$root"
	mkdir "$root"
	tar -C "$root" -xf "$root.tar"
	echo "$root"
}
inside() { local root=$1; shift; chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LC_ALL=C.UTF-8 "$@"; }
page() {
	local root=$1 program=$2
	inside "$root" "$program" page /root/jobs --no-open --port 47808 >/dev/null 2>"$out/page.log" &
	local server=$! answer=
	for _ in $(seq 100); do
		answer=$(curl -fsS -o /dev/null -w '%{http_code}' http://127.0.0.1:47808/ 2>/dev/null) && break
		sleep 0.1
	done
	kill "$server" 2>/dev/null || true
	wait "$server" 2>/dev/null || true
	[ "$answer" = 200 ] || fail "the page does not answer: $(cat "$out/page.log")"
}

checkout=$(mktemp -d)
trap 'rm -rf "$checkout"' EXIT
if [ -n "${PACKAGE_PROGRAM:-}" ]; then
	"$PACKAGE_PROGRAM" demo --out "$checkout/demo" --json >"$checkout/here.json" || [ $? = 1 ]
else
	cargo run --locked --quiet -- demo --out "$checkout/demo" --json >"$checkout/here.json" || [ $? = 1 ]
fi

root=$(bare bookworm 12 | tail -1)
find "$root" -xdev | sort >"$checkout/before"
cp "$package" "$root/root/"
inside "$root" sh -c 'apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends /root/'"$(basename "$package")" \
	>"$out/apt.log" 2>&1 || fail "apt: $(tail -5 "$out/apt.log")"
say "installed with apt in a bare Debian 12: $(inside "$root" hissward --version)"
mkdir "$root/root/jobs"
inside "$root" hissward demo --out /root/jobs/demo --json >"$checkout/there.json" || [ $? = 1 ]
cmp "$checkout/here.json" "$checkout/there.json" || fail "the demo's ranking is another than the checkout's"
say "the demo's ranking is the checkout's, byte for byte"
page "$root" hissward
say "the page answers"
inside "$root" hissward doctor >"$checkout/doctor" 2>&1 || [ $? = 1 ] || fail "doctor: $(cat "$checkout/doctor")"
for file in /usr/share/man/man1/hissward.1.gz /usr/share/man/man1/hissward-rank.1.gz /usr/share/bash-completion/completions/hissward \
	/usr/share/zsh/vendor-completions/_hissward /usr/share/fish/vendor_completions.d/hissward.fish \
	/usr/share/applications/hissward.desktop /usr/share/icons/hicolor/scalable/apps/hissward.svg; do
	# A minimal system may be told to leave documentation out.
	[ -s "$root$file" ] || dpkg-deb -c "$package" | grep -q "\.$file$" || fail "$file is not in it"
done
inside "$root" sh -c 'DEBIAN_FRONTEND=noninteractive apt-get purge -y -qq --autoremove hissward' >>"$out/apt.log" 2>&1
left=$(find "$root" -xdev | sort | comm -13 "$checkout/before" - | grep -vE "^$root/(var/(lib/(apt|dpkg)|cache|log)|tmp|root/hissward_|etc/ld.so.cache)" | grep -vE "^$root/root/(jobs|\.local(/share)?$|\.local/share/hissward|\.config/hissward)" || true)
[ -z "$left" ] || fail "removal leaves: $left"
[ -f "$root/root/jobs/demo/job.toml" ] || fail "removal took the user's job"
say "removed; what stays is the user's: jobs, and the page's sessions in ~/.local/share/hissward"

root=$(bare bullseye 11 | tail -1)
cp "$archive" "$root/root/"
inside "$root" sh -c 'apt-get update -qq && apt-get install -y -qq --no-install-recommends xz-utils libasound2' >"$out/apt-11.log" 2>&1 \
	|| fail "apt in Debian 11: $(tail -5 "$out/apt-11.log")"
inside "$root" tar -C /root -xf "/root/$(basename "$archive")"
mkdir "$root/root/jobs"
program=$(inside "$root" sh -c 'echo /root/hissward-*/bin/hissward')
if inside "$root" "$program" demo --out /root/jobs/demo --json >"$checkout/eleven.json" 2>"$checkout/eleven.log"; then
	cmp "$checkout/here.json" "$checkout/eleven.json" || fail "the demo's ranking in Debian 11 is another"
	say "the archive runs in a bare Debian 11"
else
	needed=$(objdump -T "$root$program" | grep -oE 'GLIBC_[0-9.]+' | sort -V | tail -1 | sed s/GLIBC_//)
	grep -q "glibc $needed" README.md || fail "it does not run in Debian 11 ($(tail -1 "$checkout/eleven.log")), and the README does not say 'glibc $needed'"
	say "the archive does not run in Debian 11: it needs glibc $needed, as the README says"
fi
