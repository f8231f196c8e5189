//! A recording, whatever its format: opened, then read block by block, so that memory does not grow with its length.

use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

use super::channels::{ChannelChoice, ChannelWatch, Picks};
use super::decoded::Decoded;
use super::error::AudioError;
use super::made_by::{self, MadeBy};
use super::sniff::{self, Content};
use super::wav::Wav;
use crate::caveat::Caveat;
use crate::clip::{Clip, check_rate};
use crate::units::Hertz;

/// What a format's reader gives: interleaved frames of all channels, block by block.
pub(super) trait Source: Send {
    /// What is known at the beginning.
    fn shape(&self) -> Shape;
    /// Replaces `samples` by the next block; `false` at the end.
    fn next(&mut self, samples: &mut Vec<f32>) -> Result<bool, AudioError>;
    /// What was found wrong so far; complete at the end.
    fn caveats(&self) -> Vec<Caveat>;
    /// What the file's tags say of its recorder, where the format's reader reads tags.
    fn made_by(&mut self) -> MadeBy {
        MadeBy::default()
    }
}

/// What a reader knows at the beginning.
pub(super) struct Shape {
    pub(super) rate_hz: f64,
    pub(super) channels: u16,
    pub(super) total_frames: Option<u64>,
    pub(super) coding: String,
    pub(super) lossy: bool,
}

/// How a recording is stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Format {
    /// The container: `WAV`, `M4A`, `Ogg`, …
    pub container: &'static str,
    /// The coding inside: `PCM 16 bit`, `aac`, `opus`, …
    pub coding: String,
    /// Whether the coding throws parts of the sound away.
    pub lossy: bool,
}

/// An open recording.
pub struct Recording {
    name: String,
    format: Format,
    made_by: MadeBy,
    rate: Hertz,
    channels: u16,
    total_frames: Option<u64>,
    source: Box<dyn Source>,
    picks: Picks,
    watch: Option<ChannelWatch>,
    frames: Vec<f32>,
    chosen: Vec<f32>,
}

/// Opens a recording; what it is is told from its content, never from its name.
///
/// # Errors
/// [`AudioError`] where the file is missing, a folder, empty, text, in a format that is not read, damaged
/// in its header, has a rate outside 8–192 kHz, or lacks the channel asked for.
pub fn open(path: &Path, choice: ChannelChoice) -> Result<Recording, AudioError> {
    let name = path.display().to_string();
    if fs::metadata(path).map_err(|error| AudioError::of_system(&name, error))?.is_dir() {
        return Err(AudioError::Folder { file: name });
    }
    let mut file = File::open(path).map_err(|error| AudioError::of_system(&name, error))?;
    let mut head = Vec::with_capacity(sniff::HEAD_BYTES);
    (&mut file)
        .take(sniff::HEAD_BYTES as u64)
        .read_to_end(&mut head)
        .and_then(|_| file.seek(SeekFrom::Start(0)))
        .map_err(|error| AudioError::of_system(&name, error))?;
    let (container, mut source) = source_of(file, path, &name, &head)?;
    // What stands in the file's own chunks and boxes, and what a reader of tags found, where both say something.
    let index = File::open(path).map_err(|error| AudioError::of_system(&name, error))?;
    let made_by = made_by::read(index, container).or(source.made_by());
    Recording::new(name, container, source, choice, made_by)
}

fn source_of(file: File, path: &Path, name: &str, head: &[u8]) -> Result<(&'static str, Box<dyn Source>), AudioError> {
    let file_name = name.to_owned();
    let again = || File::open(path).map_err(|error| AudioError::of_system(name, error));
    match sniff::recognise(head) {
        Content::Wav => match Wav::open(file, name)? {
            Some(wav) => Ok(("WAV", Box::new(wav))),
            None => Ok(("WAV", Box::new(Decoded::open(again()?, name, "WAV")?))),
        },
        Content::Coded(container) => Ok((container, Box::new(Decoded::open(file, name, container)?))),
        Content::IsoMedia(container) => Ok((container, Box::new(Decoded::open_iso(file, again()?, name, container)?))),
        Content::Refused(format, reason) => Err(AudioError::Refused { file: file_name, format, reason }),
        Content::Text => Err(AudioError::Text { file: file_name }),
        Content::Nothing => Err(AudioError::Empty { file: file_name }),
        Content::Unknown => Err(AudioError::NotSound { file: file_name }),
    }
}

impl Recording {
    fn new(
        name: String,
        container: &'static str,
        source: Box<dyn Source>,
        choice: ChannelChoice,
        made_by: MadeBy,
    ) -> Result<Self, AudioError> {
        let shape = source.shape();
        let rate = Hertz(shape.rate_hz);
        check_rate(rate, &name)?;
        let picks = Picks::of(choice, shape.channels, &name)?;
        let watched = choice == ChannelChoice::First && shape.channels > 1;
        Ok(Self {
            name,
            format: Format { container, coding: shape.coding, lossy: shape.lossy },
            made_by,
            rate,
            channels: shape.channels,
            total_frames: shape.total_frames,
            source,
            picks,
            watch: watched.then(|| ChannelWatch::new(shape.channels)),
            frames: Vec::new(),
            chosen: Vec::new(),
        })
    }

    /// The file as the user wrote it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How it is stored.
    #[must_use]
    pub fn format(&self) -> &Format {
        &self.format
    }

    /// What the file says of the recorder that made it.
    #[must_use]
    pub fn made_by(&self) -> &MadeBy {
        &self.made_by
    }

    /// Samples per second of each channel.
    #[must_use]
    pub fn rate(&self) -> Hertz {
        self.rate
    }

    /// How many channels it has.
    #[must_use]
    pub fn channels(&self) -> u16 {
        self.channels
    }

    /// Its length in frames, where the file says so before it is read.
    #[must_use]
    pub fn total_frames(&self) -> Option<u64> {
        self.total_frames
    }

    /// The next block of the chosen channel, full scale ±1, some thousand samples; `None` at the end.
    /// With [`ChannelChoice::Pair`] the block holds interleaved frames near, far.
    ///
    /// # Errors
    /// [`AudioError`] where the system fails, the file is damaged beyond use, or a sample is no number.
    pub fn next_block(&mut self) -> Result<Option<&[f32]>, AudioError> {
        if !self.source.next(&mut self.frames)? {
            return Ok(None);
        }
        if self.channels == 1 && matches!(self.picks, Picks::One(_)) {
            return Ok(Some(&self.frames));
        }
        if let Some(watch) = &mut self.watch {
            watch.look(&self.frames);
        }
        self.picks.take(&self.frames, usize::from(self.channels), &mut self.chosen);
        Ok(Some(&self.chosen))
    }

    /// What lowers trust in what was read: complete once [`Self::next_block`] has given `None`.
    #[must_use]
    pub fn caveats(&self) -> Vec<Caveat> {
        let mut caveats = self.source.caveats();
        caveats.extend(self.watch.as_ref().and_then(|watch| watch.caveat(&self.name)));
        caveats
    }
}

/// Reads one channel of a recording whole, with what lowers trust in it.
///
/// # Errors
/// As [`open`] and [`Recording::next_block`]; also where there is no sound in it, or a pair was asked for.
pub fn read_clip(path: &Path, choice: ChannelChoice) -> Result<(Clip, Vec<Caveat>), AudioError> {
    let mut recording = open(path, choice)?;
    if matches!(choice, ChannelChoice::Pair { .. }) {
        return Err(AudioError::PairAsClip { file: recording.name });
    }
    // A header's promise is believed only as far as an hour at 48 kHz: what lies there decides.
    const BELIEVED_FRAMES: u64 = 3600 * 48_000;
    let mut samples = Vec::with_capacity(recording.total_frames.unwrap_or(0).min(BELIEVED_FRAMES) as usize);
    while let Some(block) = recording.next_block()? {
        samples.extend_from_slice(block);
    }
    let caveats = recording.caveats();
    Ok((Clip::new(samples, recording.rate, recording.name)?, caveats))
}
