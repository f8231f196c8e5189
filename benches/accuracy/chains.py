"""What recorders do to sound, by the real thing: noise suppression and gain control of WebRTC, and RNNoise.

    python chains.py CHAIN IN.wav OUT.wav     one file
    python chains.py --serve                  a line "CHAIN<tab>IN<tab>OUT" at a time; answers "ok" or what went wrong

WAV of 16 bit, one channel, 48 kHz. CHAIN: suppression, gain, suppression-and-gain, rnnoise.
Needs pywebrtc-audio and pyrnnoise (requirements.txt beside this file; `make setup-accuracy` installs them).
"""

import sys
import wave

import numpy as np

RATE_HZ = 48_000
# The level that browsers ask for: high (2 of 0 to 3, 18 dB).
SUPPRESSION_LEVEL = 2
WEBRTC = {
    "suppression": dict(noise_suppression=True, ns_level=SUPPRESSION_LEVEL, high_pass_filter=True),
    "gain": dict(auto_gain_control=True, high_pass_filter=True),
    "suppression-and-gain": dict(
        noise_suppression=True, ns_level=SUPPRESSION_LEVEL, auto_gain_control=True, high_pass_filter=True
    ),
}


def read(path):
    with wave.open(path) as file:
        shape = (file.getnchannels(), file.getsampwidth(), file.getframerate())
        if shape != (1, 2, RATE_HZ):
            raise ValueError(f"{path}: channels, bytes, rate are {shape}, not (1, 2, {RATE_HZ})")
        return np.frombuffer(file.readframes(file.getnframes()), dtype="<i2")


def write(path, samples):
    with wave.open(path, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE_HZ)
        file.writeframes(samples.astype("<i2").tobytes())


def webrtc(samples, settings):
    from pywebrtc_audio import AudioProcessor

    # A recorder runs before the clip begins: the clip's first second goes through first, and is not kept.
    before = samples[:RATE_HZ]
    processor = AudioProcessor(sample_rate=RATE_HZ, num_channels=1, **settings)
    return processor.process(np.concatenate([before, samples]))[len(before):]


def rnnoise(samples):
    from pyrnnoise.rnnoise import FRAME_SIZE, create, destroy, process_mono_frame

    before = samples[: RATE_HZ // FRAME_SIZE * FRAME_SIZE]
    both = np.concatenate([before, samples])
    both = np.pad(both, (0, -len(both) % FRAME_SIZE))
    state = create()
    try:
        frames = [process_mono_frame(state, frame)[0] for frame in both.reshape(-1, FRAME_SIZE)]
    finally:
        destroy(state)
    return np.concatenate(frames)[len(before) : len(before) + len(samples)]


def run(chain, source, target):
    samples = read(source)
    write(target, rnnoise(samples) if chain == "rnnoise" else webrtc(samples, WEBRTC[chain]))


def main(words):
    if words == ["--serve"]:
        for line in sys.stdin:
            try:
                run(*line.rstrip("\n").split("\t"))
                print("ok", flush=True)
            except Exception as error:  # whatever it is, it is told to who asked
                print(f"{type(error).__name__}: {error}".replace("\n", " "), flush=True)
    elif len(words) == 3:
        run(*words)
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main(sys.argv[1:])
