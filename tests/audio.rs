//! Recordings of every format, whole and damaged, against the sound they were made from.

use std::f64::consts::TAU;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use hissward::audio::{self, AudioError, ChannelChoice, SampleKind, StreamShape, WavRecorder, WriteError};
use hissward::caveat::Caveat;
use hissward::clip::Clip;
use hissward::hiss::cut_off;
use hissward::units::Hertz;

fn fixture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/audio").join(name)
}

fn read(name: &str) -> (Clip, Vec<Caveat>) {
    audio::read_clip(&fixture(name), ChannelChoice::First).unwrap_or_else(|error| panic!("{error}"))
}

fn fault(name: &str) -> AudioError {
    audio::read_clip(&fixture(name), ChannelChoice::First).map(|_| ()).expect_err(name)
}

fn codes(caveats: &[Caveat]) -> Vec<&'static str> {
    caveats.iter().map(|caveat| caveat.code).collect()
}

/// Samples of a 16-bit WAV, read with hound: an implementation that is not ours.
fn by_hound(name: &str) -> Vec<f32> {
    let reader = hound::WavReader::open(fixture(name)).expect("hound reads it");
    reader.into_samples::<i16>().map(|sample| f32::from(sample.expect("a sample")) / 32_768.0).collect()
}

/// One-sided power per bin of 2048, Hann, half overlapped.
fn spectrum(samples: &[f32]) -> Vec<f64> {
    const SIZE: usize = 2048;
    let fft = realfft::RealFftPlanner::<f64>::new().plan_fft_forward(SIZE);
    let window: Vec<f64> = (0..SIZE).map(|n| 0.5 - 0.5 * (TAU * n as f64 / SIZE as f64).cos()).collect();
    let mut power = vec![0.0; SIZE / 2 + 1];
    let mut bins = fft.make_output_vec();
    for start in (0..=samples.len() - SIZE).step_by(SIZE / 2) {
        let mut block: Vec<f64> =
            samples[start..start + SIZE].iter().zip(&window).map(|(x, w)| f64::from(*x) * w).collect();
        fft.process(&mut block, &mut bins).expect("sizes fit");
        power.iter_mut().zip(&bins).for_each(|(power, bin)| *power += bin.norm_sqr());
    }
    power
}

fn bandwidth_hz(clip: &Clip) -> Option<f64> {
    cut_off(&spectrum(clip.samples()), clip.rate().0 / 2048.0).map(|hertz| hertz.0)
}

/// How many samples later than the original a decoded clip comes, by cross-correlation over ±3000.
fn late_by(original: &[f32], decoded: &[f32]) -> isize {
    let (from, to) = (8000, 16_000);
    let likeness = |lag: isize| {
        let shifted = &decoded[(from as isize + lag) as usize..(to as isize + lag) as usize];
        original[from..to].iter().zip(shifted).map(|(a, b)| f64::from(a * b)).sum::<f64>()
    };
    (-3000..=3000).max_by(|a, b| likeness(*a).total_cmp(&likeness(*b))).expect("a range")
}

#[test]
fn lossless_codings_give_every_sample_back() {
    let original = by_hound("short.wav");
    for (name, container, coding) in [
        ("short.wav", "WAV", "PCM 16 bit"),
        ("short.flac", "FLAC", "flac"),
        ("short-alac.m4a", "M4A", "alac"),
        ("short-alac.caf", "CAF", "alac"),
        ("short-pcm.caf", "CAF", "pcm_s16le"),
        ("short.aiff", "AIFF", "pcm_s16be"),
    ] {
        let recording = audio::open(&fixture(name), ChannelChoice::First).unwrap_or_else(|error| panic!("{error}"));
        let format = recording.format();
        assert_eq!((format.container, format.coding.as_str(), format.lossy), (container, coding, false), "{name}");
        // The writer of this CAF rounds up to whole packets.
        let total = if name == "short-alac.caf" { 8192 } else { original.len() as u64 };
        assert_eq!(recording.total_frames(), Some(total), "{name}");
        let (clip, caveats) = read(name);
        assert_eq!(codes(&caveats), [""; 0], "{name}");
        assert!(clip.samples() == original.as_slice(), "{name}: {} samples", clip.samples().len());
    }
}

/// Lossy codings keep the power of a steady noise in third-octave-wide stretches up to 12 kHz this closely.
/// Opus at 64 kbit/s shapes noise by up to 0.7 dB; without trimming or with a wrong gain it would be far off.
const LOSSY_DB: f64 = 1.0;

#[test]
fn lossy_codings_keep_level_length_and_place() {
    let original = by_hound("noise.wav");
    let original_power = spectrum(&original);
    // What stays of the coder's own frames at the ends, where the container says nothing of them.
    for (name, coding, extra_frames) in [
        ("noise-aac.m4a", "aac", 0),
        ("noise-aac.3gp", "aac", 0),
        ("noise-adts.aac", "aac", 1024),
        ("noise-vorbis.ogg", "vorbis", 0),
        ("noise-vorbis.webm", "vorbis", 0),
        ("noise.opus", "opus", 0),
        ("noise-opus.webm", "opus", 960),
        ("noise-128k.mp3", "mp3", 0),
    ] {
        let recording = audio::open(&fixture(name), ChannelChoice::First).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((recording.format().coding.as_str(), recording.format().lossy), (coding, true), "{name}");
        assert_eq!(recording.rate(), Hertz(48_000.0), "{name}");
        let (clip, caveats) = read(name);
        assert_eq!(codes(&caveats), [""; 0], "{name}");
        let surplus = clip.samples().len() as isize - original.len() as isize;
        assert!((0..=extra_frames).contains(&surplus), "{name}: {surplus} frames too many");
        assert_eq!(late_by(&original, clip.samples()), 0, "{name} begins where the original does");
        let power = spectrum(&clip.samples()[..original.len()]);
        for from in [20, 40, 80, 160, 320, 400] {
            let sum = |power: &[f64]| power[from..from * 5 / 4].iter().sum::<f64>();
            let off_db = 10.0 * (sum(&power) / sum(&original_power)).log10();
            assert!(off_db.abs() < LOSSY_DB, "{name}: {off_db:.2} dB at bin {from}");
        }
    }
}

#[test]
fn an_mp3_that_says_nothing_of_its_delay_is_read_whole() {
    let (clip, _) = read("noise-plain.mp3");
    let late = late_by(&by_hound("noise.wav"), clip.samples());
    assert!((500..3000).contains(&late), "{late} samples of the coder's own stay, nobody can know how many");
}

#[test]
fn the_real_bandwidth_of_real_encodings_is_found() {
    // Where the coder's own documents put the edge: Opus full band 20 kHz (RFC 6716 table 1); the others as
    // seen by eye in the spectra of these files, half a kilohertz either way.
    for (name, edge_hz) in [
        ("noise-aac.m4a", 19_500.0),
        ("noise-aac.3gp", 19_500.0),
        ("noise-vorbis.ogg", 19_500.0),
        ("noise.opus", 20_000.0),
        ("noise-opus.webm", 20_000.0),
        ("noise-128k.mp3", 20_200.0),
        ("noise-64k.mp3", 16_500.0),
        ("headset.wav", 7_600.0),
    ] {
        let found = bandwidth_hz(&read(name).0).unwrap_or_else(|| panic!("{name}: no edge found"));
        assert!((found - edge_hz).abs() <= 500.0, "{name}: {found} Hz");
    }
    for name in ["noise.wav", "muffled.wav"] {
        let found = bandwidth_hz(&read(name).0);
        assert!(found.is_none_or(|hz| hz >= 22_000.0), "{name}: {found:?}");
    }
}

#[test]
fn every_packing_of_wav_is_read() {
    let original = by_hound("short.wav");
    let frames = 2400;
    for (name, coding, step) in [
        ("wav-u8.wav", "PCM 8 bit", 1.0 / 128.0),
        ("wav-24.wav", "PCM 24 bit", 0.0),
        ("wav-32.wav", "PCM 32 bit", 0.0),
        ("wav-f32.wav", "float 32 bit", 0.0),
        ("wav-f64.wav", "float 64 bit", 0.0),
        ("wav-from-a-pipe.wav", "PCM 16 bit", 0.0),
        ("wav-rf64.wav", "PCM 16 bit", 0.0),
        // A-law: 13 bit at best, the step grows with the sample.
        ("wav-alaw.wav", "pcm_alaw", 0.04),
    ] {
        let recording = audio::open(&fixture(name), ChannelChoice::First).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(recording.format().coding, coding, "{name}");
        let (clip, caveats) = read(name);
        assert_eq!((clip.samples().len(), codes(&caveats)), (frames, vec![]), "{name}");
        let worst = clip.samples().iter().zip(&original).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
        assert!(worst <= step, "{name}: off by {worst}");
    }
    assert_eq!((read("wav-8k.wav").0.rate(), read("wav-192k.wav").0.rate()), (Hertz(8_000.0), Hertz(192_000.0)));
}

#[test]
fn channels_are_chosen_and_never_averaged() {
    let first = by_hound("short.wav")[..2400].to_vec();
    let (same, caveats) = read("stereo-same.wav");
    assert_eq!(codes(&caveats), [""; 0]);
    assert!(same.samples() == first.as_slice());
    let (differs, caveats) = read("stereo-differs.wav");
    assert_eq!(codes(&caveats), ["several-channels"]);
    assert!(differs.samples() == first.as_slice());
    assert_eq!(codes(&read("stereo-silent-first.wav").1), ["first-channel-silent"]);

    let channel = |number| {
        let read = audio::read_clip(&fixture("six-channels.wav"), ChannelChoice::Number(number)).expect("there");
        assert_eq!(codes(&read.1), [""; 0], "who names a channel needs no caveat");
        read.0.samples().to_vec()
    };
    let original = by_hound("noise.wav");
    assert!(channel(3) == original[9600..12_000] && channel(6) == original[24_000..26_400]);
    let seven = audio::read_clip(&fixture("six-channels.wav"), ChannelChoice::Number(7));
    assert!(matches!(seven, Err(AudioError::NoSuchChannel { asked: 7, there: 6, .. })));

    let pair = ChannelChoice::Pair { near: 6, far: 3 };
    let mut recording = audio::open(&fixture("six-channels.wav"), pair).expect("opens");
    let mut frames = Vec::new();
    while let Some(block) = recording.next_block().expect("reads") {
        frames.extend_from_slice(block);
    }
    assert!(frames.chunks_exact(2).map(|frame| frame[0]).eq(channel(6)));
    assert!(frames.chunks_exact(2).map(|frame| frame[1]).eq(channel(3)));
    assert!(matches!(audio::read_clip(&fixture("six-channels.wav"), pair), Err(AudioError::PairAsClip { .. })));
}

#[test]
fn bad_files_say_what_and_which_and_what_to_do() {
    use AudioError::{Damaged, Empty, Folder, Missing, Refused, Samples, Text};
    type Check = (&'static str, fn(&AudioError) -> bool, &'static str);
    let checks: [Check; 11] = [
        ("speech.amr", |e| matches!(e, Refused { format: "AMR", .. }), "WAV"),
        ("speech-amr.3gp", |e| matches!(e, Refused { .. }), "WAV"),
        ("speech.wma", |e| matches!(e, Refused { format: "WMA", .. }), "WAV"),
        ("empty.wav", |e| matches!(e, Empty { .. }), "again"),
        ("text.wav", |e| matches!(e, Text { .. }), "name the recording"),
        ("only-half-a-header.wav", |e| matches!(e, Damaged { .. }), "again"),
        ("no-sound.wav", |e| matches!(e, Samples(_)), "record it again"),
        ("not-a-number.wav", |e| matches!(e, Samples(_)), "sample 2"),
        ("absurd-rate.wav", |e| matches!(e, Samples(_)), "44100"),
        ("there-is-none.wav", |e| matches!(e, Missing { .. }), "check the name"),
        ("../audio", |e| matches!(e, Folder { .. }), "*.wav"),
    ];
    for (name, is_right, says) in checks {
        let error = fault(name);
        let text = error.to_string();
        assert!(is_right(&error), "{name}: {error:?}");
        assert!(text.contains(name) && text.contains(says), "{name}: {text}");
    }
}

#[test]
fn broken_off_files_keep_what_is_there() {
    let original = by_hound("short.wav");
    for (name, code, frames) in [
        ("cut-off.wav", "cut-off-file", 2400),
        ("header-too-short.wav", "header-too-short", 2400),
        ("unfinished.wav", "unfinished-file", 4800),
    ] {
        let (clip, caveats) = read(name);
        assert_eq!(codes(&caveats), [code], "{name}");
        assert!(clip.samples() == &original[..frames], "{name}: {} samples", clip.samples().len());
    }
    let (flac, caveats) = read("cut-off.flac");
    assert_eq!(codes(&caveats), ["cut-off-file"]);
    assert!(!flac.samples().is_empty() && flac.samples() == &original[..flac.samples().len()]);
    let cut = fault("cut-off.m4a");
    assert!(matches!(cut, AudioError::Damaged { .. }), "its index is at its end and gone: {cut:?}");
}

#[test]
fn names_of_any_kind_are_opened() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("Öl Einfüllstutzen – Zyl. 2 (läuft).mp3");
    fs::copy(fixture("short.wav"), &path).expect("copies");
    let (clip, _) = audio::read_clip(&path, ChannelChoice::First).expect("content decides, not the ending");
    assert!(clip.name().ends_with("(läuft).mp3") && clip.samples().len() == 4800);
}

const MONO_16: StreamShape = StreamShape { rate_hz: 48_000, channels: 1, kind: SampleKind::I16 };

#[test]
fn a_recording_is_readable_at_every_moment_and_recovered_to_the_last_frame() {
    let folder = tempfile::tempdir().expect("a folder");
    let sound = by_hound("noise.wav");
    for shape in [MONO_16, StreamShape { channels: 2, kind: SampleKind::F32, ..MONO_16 }] {
        let path = folder.path().join(format!("{}.wav", shape.kind.name()));
        let mut recorder = WavRecorder::create(&path, shape).expect("creates");
        for part in sound.chunks(1000) {
            recorder.write(part).expect("writes");
            let there = fs::read(&path).expect("reads");
            let copy = folder.path().join("copy.wav");
            fs::write(&copy, &there).expect("writes");
            // What a killed program leaves behind is this very state of the file.
            match audio::read_clip(&copy, ChannelChoice::Number(1)) {
                Ok((clip, _)) => {
                    let whole: Vec<f32> =
                        sound.chunks_exact(usize::from(shape.channels)).map(|frame| frame[0]).collect();
                    assert!(clip.samples() == &whole[..clip.samples().len()]);
                    let behind = recorder.frames() - clip.samples().len() as u64;
                    assert!(behind <= 12_000 + 1000, "{behind} frames behind");
                }
                Err(error) => assert!(recorder.frames() < 13_000, "{error}"),
            }
        }
        let written = recorder.frames();
        std::mem::forget(recorder);
        let mut file = fs::OpenOptions::new().append(true).open(&path).expect("opens");
        file.write_all(&[1]).expect("a torn frame");
        let before = audio::read_clip(&path, ChannelChoice::Number(1)).expect("reads").0.samples().len() as u64;
        let recovered = audio::recover(&path).expect("recovers");
        let (clip, caveats) = audio::read_clip(&path, ChannelChoice::Number(1)).expect("reads");
        assert_eq!(codes(&caveats), [""; 0], "whole again");
        let after = clip.samples().len() as u64;
        assert!(after >= before && after <= written, "{before} frames before, {after} after, {written} written");
        assert_eq!((recovered.length.0 * 48_000.0).round() as u64, after);
        assert_eq!((recovered.regained.0 * 48_000.0).round() as u64, after - before);
        hound::WavReader::open(&path).expect("others read it too");
    }
}

#[test]
fn the_writer_gives_16_bit_back_as_they_were_and_never_writes_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("all.wav");
    let all: Vec<f32> = (i16::MIN..=i16::MAX).map(|sample| f32::from(sample) / 32_768.0).collect();
    let mut recorder = WavRecorder::create(&path, MONO_16).expect("creates");
    recorder.write(&all).expect("writes");
    assert_eq!(recorder.finish().expect("ends"), 65_536);
    let back = hound::WavReader::open(&path).expect("opens").into_samples::<i16>();
    assert!(back.map(|sample| sample.expect("a sample")).eq(i16::MIN..=i16::MAX));
    assert!(matches!(WavRecorder::create(&path, MONO_16), Err(WriteError::Exists { .. })));
    let hopeless = audio::recover(&fixture("only-half-a-header.wav")).expect_err("nothing in it");
    assert!(matches!(hopeless, WriteError::Hopeless { .. }), "{hopeless:?}");
}

#[test]
fn four_gibibytes_are_the_end_of_a_file() {
    let most = WavRecorder::most_frames(StreamShape { rate_hz: 192_000, channels: 8, kind: SampleKind::F32 });
    assert!(most * 32 < u64::from(u32::MAX) && (most + 5) * 32 > u64::from(u32::MAX));
}
