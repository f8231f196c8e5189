#!/usr/bin/env bash
# Big input: peak memory and time of the program on a 4-hour recording, on 192 kHz in eight channels, on 500 clips of
# 20 cylinders. Needs some 6 GB in the folder for temporary files, and GNU time. Run by `make big`.
set -euo pipefail
program=$(realpath "${1:-target/release/hissward}")
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
export HOME=$folder

wav() { # file seconds rate channels seed: 16-bit noise at some -40 dB FS
	python3 - "$@" <<'PY'
import random, struct, sys
file, seconds, rate, channels, seed = sys.argv[1], *map(int, sys.argv[2:])
dice = random.Random(seed)
block = struct.pack("<333331h", *(int(dice.gauss(0, 300)) for _ in range(333331)))
left = seconds * rate * channels * 2
with open(file, "wb") as out:
    size = min(left, 0xFFFFFFFF - 36)
    out.write(b"RIFF" + struct.pack("<I", size + 36) + b"WAVEfmt " + struct.pack(
        "<IHHIIHH", 16, 1, channels, rate, rate * channels * 2, channels * 2, 16) + b"data" + struct.pack("<I", size))
    while left > 0:
        out.write(block[:left])
        left -= len(block)
PY
}

measured() { # what command…
	local what=$1
	shift
	/usr/bin/time -f '%M %e' -o time.txt "$@" >/dev/null 2>said.txt || [ $? = 1 ] || { cat said.txt >&2; exit 2; }
	awk -v what="$what" 'END { printf "%-58s %7.1f MiB %8.2f s\n", what, $1 / 1024, $2 }' time.txt
}

for minutes in 24 240; do
	wav off.wav $((minutes * 60)) 48000 1 1
	wav on.wav $((minutes * 60)) 48000 1 2
	measured "check, $minutes min of 48 kHz" "$program" check on.wav
	measured "rank, two clips of $minutes min" "$program" rank --off off.wav --on exhaust=on.wav
	"$program" -q new job --engine workboat --cylinders 1 >/dev/null
	measured "add, $minutes min" "$program" add job --at exhaust --air off off.wav
	"$program" -q add job --at exhaust --air on on.wav >/dev/null
	measured "report, two clips of $minutes min" "$program" report job
	measured "pack, two clips of $minutes min" "$program" pack job --unsigned
	measured "verify, the same" "$program" verify job-pack.zip
	rm -rf job job-pack.zip off.wav on.wav
done

wav off.wav 600 192000 8 1
wav on.wav 600 192000 8 2
measured "rank, two clips of 10 min, 192 kHz, 8 channels" "$program" rank --off off.wav --on exhaust=on.wav --channel 3
rm off.wav on.wav

"$program" -q simulate --out many --cylinders 20 --seconds 6 --takes 5 --leak 7:exhaust:6 >/dev/null
echo "a job of 20 cylinders with $(ls many/clips | wc -l) clips of 6 s:"
measured "rank" "$program" rank many
measured "report" "$program" report many
measured "pack" "$program" pack many --unsigned
measured "history" "$program" history .
