//! Reading recordings: WAV against a copy in memory, AAC against the bare decoder.

use std::fs::{self, File};
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use hissward::audio::{self, ChannelChoice};
use symphonia::core::codecs::audio::AudioDecoderOptions;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatOptions, TrackType};
use symphonia::core::io::{MediaSourceStream, MediaSourceStreamOptions};
use symphonia::core::meta::MetadataOptions;

use super::Failure;
use super::stopwatch::{Pair, Spread, paired, seconds};
use super::table::{Figure, Limit, section};

const SECONDS: usize = 600;

/// Ten minutes of 48 kHz, 16 bit.
fn long_wav(folder: &Path) -> Result<PathBuf, Failure> {
    let file = folder.join("long.wav");
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 48_000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(&file, spec)?;
    let mut state = 1_u32;
    for _ in 0..SECONDS * 48_000 {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        writer.write_sample((state >> 20) as i16 - 2048)?;
    }
    writer.finalize()?;
    Ok(file)
}

/// Reads a recording to its end, block by block, and counts its samples.
fn read(file: &Path) -> Result<usize, Failure> {
    let mut recording = audio::open(file, ChannelChoice::First)?;
    let mut count = 0;
    while let Some(block) = recording.next_block()? {
        count += black_box(block).len();
    }
    Ok(count)
}

/// What the decoder does by itself: every packet decoded, nothing done with it.
fn bare_decode(file: &Path) -> Result<usize, Failure> {
    let stream = MediaSourceStream::new(Box::new(File::open(file)?), MediaSourceStreamOptions::default());
    let mut format = symphonia::default::get_probe().probe(
        &Hint::new(),
        stream,
        FormatOptions::default(),
        MetadataOptions::default(),
    )?;
    let track = format.default_track(TrackType::Audio).ok_or("no sound in it")?;
    let parameters = track.codec_params.as_ref().and_then(|all| all.audio()).ok_or("no sound in it")?.clone();
    let mut decoder =
        symphonia::default::get_codecs().make_audio_decoder(&parameters, &AudioDecoderOptions::default())?;
    let mut count = 0;
    while let Some(packet) = format.next_packet()? {
        count += black_box(decoder.decode(&packet)?).frames();
    }
    Ok(count)
}

fn timed(work: impl Fn() -> Result<usize, Failure>, times: usize) -> Result<f64, Failure> {
    let mut failed = None;
    let took = seconds(|| {
        for _ in 0..times {
            match work() {
                Ok(count) => drop(black_box(count)),
                Err(error) => failed = Some(error),
            }
        }
    });
    failed.map_or(Ok(took), Err)
}

fn against_bare(file: &Path, times: usize, rounds: usize) -> Result<Pair, Failure> {
    paired(rounds, || timed(|| read(file), times), || timed(|| bare_decode(file), times))
}

/// The section.
pub fn measure(folder: &Path, rounds: usize) -> Result<String, Failure> {
    let long = long_wav(folder)?;
    let bytes = fs::read(&long)?;
    // The system keeps a file that came in one piece, as one that is copied here does, in larger pages than one that was
    // written little by little, and hands it out faster.
    let copied = folder.join("copied.wav");
    fs::write(&copied, &bytes)?;
    let mut copy = vec![0_u8; bytes.len()];
    let mut against_copy = |file: &Path| {
        paired(
            rounds,
            || timed(|| read(file), 1),
            || Ok::<_, Failure>(seconds(|| black_box(&mut copy).copy_from_slice(black_box(&bytes)))),
        )
    };
    let (whole, pieces) = (against_copy(&copied)?, against_copy(&long)?);
    let speed = |of: Spread| {
        let mib = bytes.len() as f64 / f64::from(1 << 20);
        Spread { median: mib / of.median, least: mib / of.most, most: mib / of.least }
    };
    let share =
        |of: &Pair| Spread { median: 1.0 / of.ratio.median, least: 1.0 / of.ratio.most, most: 1.0 / of.ratio.least };
    let least = Limit::AtLeast(0.5);
    let mut figures = vec![
        Figure::new(
            "WAV (10 min, 16 bit), copied here before: file to samples over a copy in memory",
            share(&whole),
            "×",
            least,
        ),
        // What comes out is twice as long as what goes in: a sample of two bytes becomes one of four.
        Figure::new("… the same, counted by the samples that come out", share(&whole).times(2.0), "×", Limit::None),
        Figure::new("… read and converted", speed(whole.a), "MiB/s", Limit::None),
        Figure::new("… copied in memory", speed(whole.b), "MiB/s", Limit::None),
        Figure::new("WAV, written here little by little: the same", share(&pieces), "×", least),
        Figure::new("… read and converted", speed(pieces.a), "MiB/s", Limit::None),
    ];
    let second = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/audio/noise-aac.m4a");
    let short = against_bare(&second, 40, rounds)?;
    figures.push(Figure::new("m4a (AAC, 1 s): import over the bare decoder", short.ratio, "×", Limit::AtMost(1.5)));
    match minute_of_m4a(&long, folder) {
        Some(minute) => {
            let pair = against_bare(&minute, 1, rounds)?;
            figures.push(Figure::new(
                "m4a (AAC, 60 s): import over the bare decoder",
                pair.ratio,
                "×",
                Limit::AtMost(1.5),
            ));
            figures.push(Figure::new("… import of 60 s", pair.a.times(1e3), "ms", Limit::None));
        }
        None => figures.push(Figure::new("… import of 1 s", short.a.times(1e3 / 40.0), "ms", Limit::None)),
    }
    Ok(section("import", "", &figures))
}

/// A minute as a phone would record it, where ffmpeg is there to make it.
fn minute_of_m4a(wav: &Path, folder: &Path) -> Option<PathBuf> {
    let file = folder.join("minute.m4a");
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args(["-loglevel", "error", "-t", "60", "-i"]).arg(wav).args(["-c:a", "aac", "-b:a", "96k"]).arg(&file);
    let made = ffmpeg.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status();
    made.is_ok_and(|status| status.success()).then_some(file)
}
