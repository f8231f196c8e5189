"""Real machines, saws, engines, smithies and crowds for the accuracy bench, out of Debian packages (bookworm, main).

    python3 machines.py FOLDER      fetches what is not there yet; makes FOLDER/NAME.flac, mono, 48 kHz, 16 bit

They lie under licences of their own (GPL, CC-BY, CC-BY-SA, GFDL), named below: nothing of them is kept in the
repository. A source is used only when the SHA-256 beside it (first 16 digits) is right. Needs apt-get, dpkg-deb, ffmpeg
and the network; what cannot be had is told, and the rest is made all the same.
"""

import hashlib
import io
import struct
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from pathlib import Path

# Name: package, file under /usr/share (and the part of an archive), from, to (seconds), licence, SHA-256 of the source.
SOUNDS = {
    "circular-saw": ("openttd-opensfx", "games/openttd/baseset/opensfx/opensfx.cat", 40, 0.3, 3.7, "CC-BY-3.0", "c4d42d18b5b01d11"),
    "smithy": ("openttd-opensfx", "games/openttd/baseset/opensfx/opensfx.cat", 39, 0, None, "CC-BY-3.0", "108555355e6aff38"),
    "chainsaw": ("openttd-opensfx", "games/openttd/baseset/opensfx/opensfx.cat", 56, 0, None, "CC-BY-3.0", "278f5ee9382c83f7"),
    "lift-machinery": ("openttd-opensfx", "games/openttd/baseset/opensfx/opensfx.cat", 11, 0, None, "CC-BY-3.0", "4abec2fd5beaa457"),
    "jet-takeoff": ("openttd-opensfx", "games/openttd/baseset/opensfx/opensfx.cat", 59, 0, None, "CC-BY-3.0", "b8e1678230300a77"),
    "anvil": ("unknown-horizons", "unknown-horizons/content/audio/sounds/smith.ogg", None, 0, None, "CC-BY-SA-3.0", "824b6a63639fc186"),
    "town-square": ("unknown-horizons", "unknown-horizons/content/audio/sounds/main_square.ogg", None, 0, 8.5, "CC-BY-SA-3.0", "2867c54f92e465df"),
    "chainsaw-full": ("cube2-data", "games/cube2/packages/sounds/audioaugust/chainsaw/attack.ogg", None, 0, None, "CC-BY-SA-4.0", "1b20f04f507adcba"),
    "chainsaw-idle": ("cube2-data", "games/cube2/packages/sounds/audioaugust/chainsaw/idle.ogg", None, 0, None, "CC-BY-SA-4.0", "95614b8ae29de122"),
    "sewing-machine": ("scratch", "scratch/Media/Sounds/Effects/SewingMachine.mp3", None, 0, None, "CC-BY-SA-3.0", "75d40448ac012157"),
    "gas-burner": ("hedgewars-data", "games/hedgewars/Data/Sounds/flamethrower.ogg", None, 0, None, "GFDL-1.3", "a446b10f04db8c0e"),
    "steam": ("hedgewars-data", "games/hedgewars/Data/Sounds/steam.ogg", None, 0, None, "GFDL-1.3", "fab6b57a8aa42c62"),
    "dynamite-fuse": ("warmux-data", "games/warmux/sound/default/weapons/dynamite_fuze.ogg", None, 0, None, "GPL-2+", "545708a2e75da4bd"),
    "tnt-ignite": ("minetest-data", "games/minetest/games/minetest_game/mods/tnt/sounds/tnt_ignite.ogg", None, 0.1, 3.4, "CC-BY-SA-3.0", "c0626972f53f2c11"),
    "engine": ("trigger-rally-data", "games/trigger-rally/data.zip", "sounds/engine.wav", 0, None, "GPL-2+", "b7fcb69a6a42b78c"),
    "gravel": ("trigger-rally-data", "games/trigger-rally/data.zip", "sounds/gravel.wav", 0, None, "CC0-1.0", "5b9af7c8e674cfcd"),
    "frying": ("openarena-data", "games/openarena/baseoa/pak0.pk3", "sound/player/fry.wav", 0, None, "GPL-2+", "aeb838626039b5d2"),
}


def package(name, folder):
    """The package's file, downloaded."""
    subprocess.run(["apt-get", "download", "-q", name], cwd=folder, check=True, capture_output=True)
    return next(Path(folder).glob(f"{name}_*.deb"))


def member(deb, path):
    """One file of a package, without unpacking the rest."""
    with subprocess.Popen(["dpkg-deb", "--fsys-tarfile", deb], stdout=subprocess.PIPE) as unpacked:
        with tarfile.open(fileobj=unpacked.stdout, mode="r|") as tar:
            for entry in tar:
                if entry.name.removeprefix("./") == f"usr/share/{path}" and entry.isfile():
                    found = tar.extractfile(entry).read()
                    unpacked.kill()
                    return found
    raise KeyError(f"{path} is not in {deb.name}")


def part(archive, which):
    """A sound out of an archive: a name in a zip, or a number in a row of (offset, length) before the sounds."""
    if which is None:
        return archive
    if isinstance(which, str):
        with zipfile.ZipFile(io.BytesIO(archive)) as zipped:
            return zipped.read(which)
    offset, length = struct.unpack_from("<II", archive, 8 * which)
    offset &= 0x7FFFFFFF
    begins = archive.index(b"RIFF", offset)
    size = struct.unpack_from("<I", archive, begins + 4)[0] + 8
    return archive[begins : begins + max(size, 0) or length]


def make(source, target, begins, ends):
    cut = ["-ss", str(begins)] + (["-to", str(ends)] if ends is not None else [])
    with tempfile.NamedTemporaryFile() as file:
        file.write(source)
        file.flush()
        words = ["ffmpeg", "-v", "error", "-nostdin", "-y", "-i", file.name, *cut, "-ac", "1", "-ar", "48000"]
        subprocess.run([*words, "-sample_fmt", "s16", "-c:a", "flac", "-f", "flac", str(target) + ".new"], check=True, capture_output=True)
    Path(str(target) + ".new").rename(target)


def main(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    wanted = {}
    for name, (deb, *_) in SOUNDS.items():
        if not (folder / f"{name}.flac").exists():
            wanted.setdefault(deb, []).append(name)
    lacking = []
    for deb, names in wanted.items():
        print(f"fetching Debian's {deb} for {', '.join(names)}", file=sys.stderr)
        with tempfile.TemporaryDirectory(dir=folder) as work:
            try:
                file = package(deb, work)
            except (subprocess.CalledProcessError, StopIteration, OSError) as error:
                lacking += [f"{name}: {deb} cannot be downloaded ({error})" for name in names]
                continue
            for name in names:
                _, path, which, begins, ends, _, sha256 = SOUNDS[name]
                try:
                    source = part(member(file, path), which)
                    got = hashlib.sha256(source).hexdigest()
                    if not got.startswith(sha256):
                        raise ValueError(f"SHA-256 is {got[:16]}, not {sha256}")
                    make(source, folder / f"{name}.flac", begins, ends)
                except (KeyError, ValueError, OSError, subprocess.CalledProcessError, zipfile.BadZipFile) as error:
                    lacking.append(f"{name}: {error}")
    for line in lacking:
        print(f"lacking: {line}", file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:]) if len(sys.argv) == 2 else sys.exit(__doc__)
