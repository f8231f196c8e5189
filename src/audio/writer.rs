//! WAV files written while the sound comes in, so that a crash costs a quarter of a second at most.

use std::fs::{File, OpenOptions};
use std::io::{self, BufWriter, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use hound::{SampleFormat, WavSpec, WavWriter};

use super::wav_header::{self, HeaderFault, Length};
use crate::units::Seconds;

/// How samples lie in a file that is being recorded: as the device gives them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SampleKind {
    /// 16-bit whole numbers.
    I16,
    /// 32-bit float.
    F32,
}

impl SampleKind {
    /// Bytes of one sample.
    #[must_use]
    pub fn bytes(self) -> u64 {
        match self {
            Self::I16 => 2,
            Self::F32 => 4,
        }
    }

    /// The name as shown and as written in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::I16 => "16 bit",
            Self::F32 => "float",
        }
    }
}

/// Rate, channels and kind of samples of a recording.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StreamShape {
    /// Samples per second of each channel.
    pub rate_hz: u32,
    /// Channels.
    pub channels: u16,
    /// Kind of samples.
    pub kind: SampleKind,
}

/// Why a recording could not be written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum WriteError {
    /// Recordings are never written over.
    #[error(
        "{file}: there is a recording of this name already, and recordings are never written over: choose another name"
    )]
    Exists {
        /// The file.
        file: String,
    },
    /// No room left.
    #[error("{file}: the disk is full: make room; what was recorded before is kept")]
    DiskFull {
        /// The file.
        file: String,
    },
    /// WAV counts its bytes in 32 bits.
    #[error("{file}: a WAV file ends at 4 GiB, that is {} of this sound: begin another recording", limit)]
    TooLong {
        /// The file.
        file: String,
        /// How much sound fits.
        limit: Seconds,
    },
    /// The system would not write.
    #[error("{file}: cannot be written ({source}): check the folder and its permissions")]
    System {
        /// The file.
        file: String,
        /// What the system said.
        source: io::Error,
    },
    /// Nothing to recover.
    #[error("{file}: nothing can be recovered from it ({detail}): record it again")]
    Hopeless {
        /// The file.
        file: String,
        /// What is wrong.
        detail: String,
    },
}

impl WriteError {
    fn of_system(path: &Path, source: io::Error) -> Self {
        let file = path.display().to_string();
        match source.kind() {
            io::ErrorKind::AlreadyExists => Self::Exists { file },
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::DiskFull { file },
            _ => Self::System { file, source },
        }
    }

    fn of_hound(path: &Path, error: hound::Error) -> Self {
        match error {
            hound::Error::IoError(source) => Self::of_system(path, source),
            other => Self::System { file: path.display().to_string(), source: io::Error::other(other.to_string()) },
        }
    }
}

/// The length of sound after which the file is made whole again: header and all.
const WHOLE_EVERY_S: f64 = 0.25;

/// What a header takes at most, left free below 4 GiB.
const HEADER_BYTES: u64 = 128;

/// A recording on its way to disk.
pub struct WavRecorder {
    path: PathBuf,
    shape: StreamShape,
    writer: WavWriter<BufWriter<File>>,
    file: File,
    frames: u64,
    frames_since_whole: u64,
}

impl WavRecorder {
    /// Begins a file; from now on it can be read at any moment.
    ///
    /// # Errors
    /// [`WriteError`] where the file exists already or cannot be made.
    pub fn create(path: &Path, shape: StreamShape) -> Result<Self, WriteError> {
        let on_system = |error| WriteError::of_system(path, error);
        let file = OpenOptions::new().write(true).create_new(true).open(path).map_err(on_system)?;
        let twin = file.try_clone().map_err(on_system)?;
        let spec = WavSpec {
            channels: shape.channels,
            sample_rate: shape.rate_hz,
            bits_per_sample: 8 * shape.kind.bytes() as u16,
            sample_format: match shape.kind {
                SampleKind::I16 => SampleFormat::Int,
                SampleKind::F32 => SampleFormat::Float,
            },
        };
        let on_hound = |error| WriteError::of_hound(path, error);
        let mut writer = WavWriter::new(BufWriter::new(file), spec).map_err(on_hound)?;
        writer.flush().map_err(on_hound)?;
        Ok(Self { path: path.to_owned(), shape, writer, file: twin, frames: 0, frames_since_whole: 0 })
    }

    /// Takes up a recording again that was broken off: the first `frames` are kept, what came after them is cut off.
    ///
    /// # Errors
    /// [`WriteError::Hopeless`] where the file holds fewer frames or another shape of sound, others where the system fails.
    pub fn resume(path: &Path, shape: StreamShape, frames: u64) -> Result<Self, WriteError> {
        let on_system = |error| WriteError::of_system(path, error);
        if frames == 0 {
            std::fs::remove_file(path).map_err(on_system)?;
            return Self::create(path, shape);
        }
        let hopeless = |detail: String| WriteError::Hopeless { file: path.display().to_string(), detail };
        cut_to(path, shape, frames)?;
        // Once more, now from the cut: the header tells of exactly what is kept.
        recover(path)?;
        let writer = WavWriter::append(path).map_err(|error| WriteError::of_hound(path, error))?;
        let kept = u64::from(writer.duration());
        if kept != frames {
            return Err(hopeless(format!("{kept} of {frames} frames are there")));
        }
        let file = OpenOptions::new().read(true).write(true).open(path).map_err(on_system)?;
        Ok(Self { path: path.to_owned(), shape, writer, file, frames, frames_since_whole: 0 })
    }

    /// Waits until everything written so far is on the disk, header and all.
    ///
    /// # Errors
    /// [`WriteError`] where the disk says no.
    pub fn sync(&mut self) -> Result<(), WriteError> {
        self.frames_since_whole = 0;
        self.writer.flush().map_err(|error| WriteError::of_hound(&self.path, error))?;
        self.file.sync_data().map_err(|error| WriteError::of_system(&self.path, error))
    }

    /// How many frames fit into one file.
    #[must_use]
    pub fn most_frames(shape: StreamShape) -> u64 {
        (u64::from(u32::MAX) - HEADER_BYTES) / (shape.kind.bytes() * u64::from(shape.channels.max(1)))
    }

    /// Writes interleaved samples, full scale ±1. Samples that came as 16 bit are written as they were.
    ///
    /// # Errors
    /// [`WriteError`] where the disk is full, the file would pass 4 GiB, or the system fails; what was
    /// written before stays readable.
    pub fn write(&mut self, samples: &[f32]) -> Result<(), WriteError> {
        let frames = samples.len() as u64 / u64::from(self.shape.channels);
        let most = Self::most_frames(self.shape);
        if self.frames + frames > most {
            let limit = Seconds(most as f64 / f64::from(self.shape.rate_hz));
            return Err(WriteError::TooLong { file: self.path.display().to_string(), limit });
        }
        let written = match self.shape.kind {
            SampleKind::I16 => samples.iter().try_for_each(|sample| self.writer.write_sample(to_i16(*sample))),
            SampleKind::F32 => samples.iter().try_for_each(|sample| self.writer.write_sample(*sample)),
        };
        written.map_err(|error| WriteError::of_hound(&self.path, error))?;
        self.frames += frames;
        self.frames_since_whole += frames;
        if self.frames_since_whole as f64 >= WHOLE_EVERY_S * f64::from(self.shape.rate_hz) {
            self.frames_since_whole = 0;
            self.writer.flush().map_err(|error| WriteError::of_hound(&self.path, error))?;
        }
        Ok(())
    }

    /// Frames written so far.
    #[must_use]
    pub fn frames(&self) -> u64 {
        self.frames
    }

    /// Ends the file and waits until it is on the disk. Returns its frames.
    ///
    /// # Errors
    /// [`WriteError`] where the last part cannot be written.
    pub fn finish(self) -> Result<u64, WriteError> {
        let Self { path, writer, file, frames, .. } = self;
        writer.finalize().map_err(|error| WriteError::of_hound(&path, error))?;
        file.sync_all().map_err(|error| WriteError::of_system(&path, error))?;
        Ok(frames)
    }
}

/// The nearest 16-bit sample. A sample that was 16 bit comes back as it was.
fn to_i16(sample: f32) -> i16 {
    // The cast saturates: full scale and beyond become the largest sample.
    (sample * 32_768.0).round() as i16
}

/// Cuts a broken-off recording to its first frames, after looking that they are there.
fn cut_to(path: &Path, shape: StreamShape, frames: u64) -> Result<(), WriteError> {
    let on_system = |error| WriteError::of_system(path, error);
    let hopeless = |detail: &str| WriteError::Hopeless { file: path.display().to_string(), detail: detail.to_owned() };
    recover(path)?;
    let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(on_system)?;
    let header = match wav_header::read(&mut file) {
        Ok(header) => header,
        Err(HeaderFault::System(error)) => return Err(on_system(error)),
        Err(HeaderFault::Broken(detail)) => return Err(hopeless(detail)),
        Err(HeaderFault::OtherCoding) => return Err(hopeless("it was not recorded by this program")),
    };
    let frame_bytes = shape.kind.bytes() * u64::from(shape.channels);
    let same = header.rate_hz == shape.rate_hz
        && header.channels == shape.channels
        && header.packing.bytes() as u64 == shape.kind.bytes();
    if !same {
        return Err(hopeless("it is of another rate or kind of sound"));
    }
    if header.bytes < frames * frame_bytes {
        return Err(hopeless("less is there than was told"));
    }
    file.set_len(header.begin + frames * frame_bytes).and_then(|()| file.sync_all()).map_err(on_system)
}

/// What was recovered from a recording that was broken off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recovered {
    /// How much sound there is now.
    pub length: Seconds,
    /// How much of it the header had not told of.
    pub regained: Seconds,
}

/// Makes a recording whole that a crash broke off: the header is brought up to what was written.
///
/// Only for files that [`WavRecorder`] wrote: in others something else may follow the sound.
///
/// # Errors
/// [`WriteError::Hopeless`] where there is no sound in it, others where the system fails.
pub fn recover(path: &Path) -> Result<Recovered, WriteError> {
    let on_system = |error| WriteError::of_system(path, error);
    let hopeless = |detail: &str| WriteError::Hopeless { file: path.display().to_string(), detail: detail.to_owned() };
    let mut file = OpenOptions::new().read(true).write(true).open(path).map_err(on_system)?;
    let header = match wav_header::read(&mut file) {
        Ok(header) => header,
        Err(HeaderFault::System(error)) => return Err(on_system(error)),
        Err(HeaderFault::Broken(detail)) => return Err(hopeless(detail)),
        Err(HeaderFault::OtherCoding) => return Err(hopeless("it was not recorded by this program")),
    };
    let frame_bytes = header.packing.bytes() as u64 * u64::from(header.channels);
    let end = file.seek(SeekFrom::End(0)).map_err(on_system)?;
    let there = (end - header.begin).min(u64::from(u32::MAX) - HEADER_BYTES);
    let bytes = there - there % frame_bytes;
    if bytes == 0 {
        return Err(hopeless("there is no sound in it"));
    }
    let known = if header.length == Length::Unfinished { 0 } else { header.bytes.min(bytes) };
    let mut put = |at: u64, size: u64| {
        let size = u32::try_from(size).unwrap_or(u32::MAX);
        file.seek(SeekFrom::Start(at)).and_then(|_| file.write_all(&size.to_le_bytes()))
    };
    put(header.begin - 4, bytes).and_then(|()| put(4, header.begin + bytes - 8)).map_err(on_system)?;
    // A torn last frame would look like something that follows the sound.
    file.set_len(header.begin + bytes).and_then(|()| file.sync_all()).map_err(on_system)?;
    let seconds = |bytes: u64| Seconds((bytes / frame_bytes) as f64 / f64::from(header.rate_hz));
    Ok(Recovered { length: seconds(bytes), regained: seconds(bytes - known) })
}
