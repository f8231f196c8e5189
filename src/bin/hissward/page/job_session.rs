//! One job as the page works on it: changes one at a time, recordings that are coming in.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use hissward::audio::{SampleKind, StreamShape, WavRecorder};
use hissward::job::{ClipRecord, FileName, Job, JobWriter, Measured, RecordingPlan, Sha256, Subject, When};
use hissward::opening::{Air, Opening};
use hissward::pipeline::recover_recordings;

use super::error::PageError;
use super::journal::{Entry, Journal, Piece};
use super::meter::{LiveLevel, Meter, Quiet};

/// The longest clip taken, seconds.
pub const LONGEST_CLIP_S: f64 = 180.0;
/// Recordings that may come in at one time.
const MOST_LIVE: usize = 8;
/// A recording of which nothing was heard for so long is made a clip of what there is.
pub const PATIENCE: Duration = Duration::from_secs(900);

/// A recording about to come in.
#[derive(Debug, Clone)]
pub struct Arrival {
    /// The phone's name for it.
    pub token: String,
    /// What it is of.
    pub subject: Subject,
    /// Samples per second.
    pub rate_hz: u32,
    /// Channels: two where the phone gives both its microphones.
    pub channels: u16,
    /// The microphone, in words.
    pub device: String,
    /// What the phone asked of its microphone, and what it got.
    pub settings: Option<String>,
    /// Processing that the phone did not switch off.
    pub processing: Option<String>,
    /// Its place in the order of work.
    pub visit: Option<u32>,
}

/// Where a recording stands.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct UploadStatus {
    /// The clip it becomes.
    pub clip: String,
    /// The piece wanted next.
    pub next: u64,
    /// The clip is in the job.
    pub committed: bool,
    /// Seconds on the disk.
    pub seconds: f64,
}

impl UploadStatus {
    fn of(entry: &Entry) -> Self {
        let seconds = entry.frames() as f64 / f64::from(entry.rate_hz);
        Self { clip: entry.clip.clone(), next: entry.next(), committed: entry.committed, seconds }
    }
}

struct Incoming {
    entry: Entry,
    recorder: WavRecorder,
    subject: Subject,
    meter: Meter,
    heard: Instant,
}

/// What a phone says at the end of a recording.
#[derive(Debug, Clone, Copy, Default)]
pub struct Ending {
    /// How many pieces it sent.
    pub pieces: u64,
    /// Recording ended before its time.
    pub cut_short: bool,
    /// How often the phone lost sound.
    pub gaps: u32,
}

/// One job as the page works on it.
pub struct JobSession {
    folder: PathBuf,
    // Held, with the job's lock, only while a recording is coming in or a change is made.
    writer: Option<JobWriter>,
    coming: BTreeMap<String, Incoming>,
    // The last quiet clip at each opening, for the live meter only.
    quiet: BTreeMap<Opening, Quiet>,
}

impl JobSession {
    /// A session for a job's folder.
    pub fn new(folder: PathBuf) -> Self {
        Self { folder, writer: None, coming: BTreeMap::new(), quiet: BTreeMap::new() }
    }

    /// The job's folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Makes a change with the job's writer; the lock is given back unless a recording is coming in.
    pub fn write<T, E: From<PageError>>(
        &mut self,
        change: impl FnOnce(&mut JobWriter) -> Result<T, E>,
    ) -> Result<T, E> {
        let done = self.writer().map_err(E::from).and_then(change);
        self.rest();
        done
    }

    fn writer(&mut self) -> Result<&mut JobWriter, PageError> {
        if self.writer.is_none() {
            let mut writer = JobWriter::open(&self.folder, "page")?;
            // What another program left is kept; what phones are sending still stays theirs.
            let journal = Journal::of(&writer);
            recover_recordings(&mut writer, &|file| journal.awaits(file.as_str()))
                .map_err(|error| PageError::Inside(error.to_string()))?;
            self.writer = Some(writer);
        }
        self.writer.as_mut().ok_or_else(|| PageError::Inside("the job is not open".to_owned()))
    }

    fn rest(&mut self) {
        if self.coming.is_empty() {
            self.writer = None;
        }
    }

    /// Begins a recording, or says where one stands that was begun before.
    pub fn begin(&mut self, arrival: &Arrival) -> Result<UploadStatus, PageError> {
        let done = self.begin_or_resume(arrival);
        self.rest();
        done
    }

    fn begin_or_resume(&mut self, arrival: &Arrival) -> Result<UploadStatus, PageError> {
        match self.status(&arrival.token) {
            Err(PageError::UnknownUpload) => {}
            known => return known,
        }
        if self.coming.len() >= MOST_LIVE {
            return Err(PageError::TooMuch { what: "too many recordings at one time: wait until one has ended" });
        }
        let since = When::now();
        let plan = RecordingPlan {
            subject: arrival.subject.clone(),
            visit: arrival.visit,
            since,
            device: Some(arrival.device.clone()),
            processing: arrival.processing.clone(),
            channel: 1,
            far_channel: None,
        };
        let writer = self.writer()?;
        let slot = writer.start_recording(plan)?;
        let begun = WavRecorder::create(slot.path(), shape(arrival.rate_hz, arrival.channels)).map_err(PageError::from);
        let entry = Entry {
            token: arrival.token.clone(),
            clip: slot.file.to_string(),
            rate_hz: arrival.rate_hz,
            channels: arrival.channels,
            settings: arrival.settings.clone(),
            pieces: Vec::new(),
            committed: false,
        };
        let kept = begun.and_then(|recorder| {
            Journal::of(writer).put(entry.clone(), writer)?;
            Ok(recorder)
        });
        let recorder = match kept {
            Ok(recorder) => recorder,
            Err(error) => {
                // The first error is the one to tell; what stays is found at the next start.
                drop(writer.discard_recording(&slot.file));
                return Err(error);
            }
        };
        let status = UploadStatus::of(&entry);
        let meter = Meter::new(arrival.rate_hz);
        let subject = arrival.subject.clone();
        self.coming.insert(arrival.token.clone(), Incoming { entry, recorder, subject, meter, heard: Instant::now() });
        Ok(status)
    }

    /// Where a recording stands; one that a killed program left is taken up again.
    pub fn status(&mut self, token: &str) -> Result<UploadStatus, PageError> {
        if let Some(incoming) = self.coming.get_mut(token) {
            incoming.heard = Instant::now();
            return Ok(UploadStatus::of(&incoming.entry));
        }
        let entry = Journal::of(&Job::open(&self.folder)?).entry(token).cloned().ok_or(PageError::UnknownUpload)?;
        if entry.committed {
            return Ok(UploadStatus::of(&entry));
        }
        let status = UploadStatus::of(&entry);
        let resumed = self.resume(entry);
        self.rest();
        resumed.map(|()| status)
    }

    fn resume(&mut self, entry: Entry) -> Result<(), PageError> {
        let writer = self.writer()?;
        let left = writer.leftovers()?.into_iter().find(|left| left.clip.file.as_str() == entry.clip);
        // Another program has settled it meanwhile: the phone begins it again under a new name.
        let left = left.ok_or(PageError::UnknownUpload)?;
        let shape = shape(entry.rate_hz, entry.channels);
        let recorder = match &left.path {
            Some(path) => WavRecorder::resume(path, shape, entry.frames())?,
            None => return Err(PageError::UnknownUpload),
        };
        let meter = Meter::new(entry.rate_hz);
        let subject = left.clip.subject;
        self.coming.insert(entry.token.clone(), Incoming { entry, recorder, subject, meter, heard: Instant::now() });
        Ok(())
    }

    /// Takes a piece. It is on the disk, journal and all, when this returns.
    /// A piece that is there already is answered as it was; one out of order is told which is wanted.
    pub fn piece(&mut self, token: &str, sequence: u64, told: Sha256, bytes: &[u8]) -> Result<PieceReceipt, PageError> {
        let status = self.status(token)?;
        let hash = Sha256::of(bytes);
        if hash != told {
            return Err(PageError::Damaged { sequence });
        }
        if sequence > status.next || (status.committed && sequence == status.next) {
            return Err(PageError::OutOfOrder { got: sequence, want: status.next });
        }
        if status.committed {
            return Ok(PieceReceipt { status, level: None, subject: None });
        }
        let writer = self.writer.as_ref().ok_or(PageError::UnknownUpload)?;
        let incoming = self.coming.get_mut(token).ok_or(PageError::UnknownUpload)?;
        if sequence < status.next {
            let there = incoming.entry.pieces.get(sequence as usize).map(|piece| piece.sha256.clone());
            if there != Some(hash.to_string()) {
                let what = format!("piece {sequence} is there with another content: begin the recording again");
                return Err(PageError::unfit(what));
            }
            return Ok(PieceReceipt { status, level: None, subject: None });
        }
        let channels = usize::from(incoming.entry.channels);
        let samples = samples_of(bytes)?;
        if !samples.len().is_multiple_of(channels) {
            return Err(PageError::unfit("a piece holds whole moments: one sample of each channel in turn"));
        }
        let frames = (samples.len() / channels) as u64;
        let most = (LONGEST_CLIP_S * f64::from(incoming.entry.rate_hz)) as u64;
        if incoming.entry.frames() + frames > most {
            return Err(PageError::TooMuch { what: "a clip ends at three minutes: end this one and begin another" });
        }
        incoming.recorder.write(&samples)?;
        incoming.recorder.sync()?;
        incoming.entry.pieces.push(Piece { frames, sha256: hash.to_string() });
        Journal::of(writer).put(incoming.entry.clone(), writer)?;
        let quiet = match incoming.subject.air {
            Air::Off => None,
            Air::On | Air::Pulsed => self.quiet.get(&incoming.subject.opening),
        };
        let first: Vec<f32> = samples.iter().step_by(channels).copied().collect();
        let level = incoming.meter.take(&first, quiet);
        Ok(PieceReceipt {
            status: UploadStatus::of(&incoming.entry),
            level: Some(level),
            subject: Some(incoming.subject.clone()),
        })
    }

    /// Makes a recording a clip of the job; asked again, gives the same answer.
    pub fn finish(&mut self, token: &str, ending: Ending) -> Result<(UploadStatus, Option<ClipRecord>), PageError> {
        let status = self.status(token)?;
        if status.committed {
            return Ok((status, None));
        }
        if ending.pieces != status.next {
            return Err(PageError::OutOfOrder { got: ending.pieces, want: status.next });
        }
        let done = self.settle(token, ending);
        self.rest();
        done.map(|(status, clip)| (status, Some(clip)))
    }

    fn settle(&mut self, token: &str, ending: Ending) -> Result<(UploadStatus, ClipRecord), PageError> {
        let incoming = self.coming.remove(token).ok_or(PageError::UnknownUpload)?;
        let writer = self.writer.as_mut().ok_or(PageError::UnknownUpload)?;
        let Incoming { mut entry, recorder, subject, meter, .. } = incoming;
        let file: FileName = entry.clip.parse().map_err(|_| PageError::UnknownUpload)?;
        if entry.frames() == 0 {
            drop(recorder);
            writer.discard_recording(&file)?;
            Journal::of(writer).remove(token, writer)?;
            return Err(PageError::unfit("no sound came: record it again"));
        }
        let frames = recorder.finish()?;
        let measured = Measured {
            seconds: frames as f64 / f64::from(entry.rate_hz),
            sample_rate_hz: entry.rate_hz,
            channels: entry.channels.into(),
            cut_short: ending.cut_short,
            overruns: ending.gaps,
        };
        let mut clip = writer.finish_recording(&file, &measured)?;
        if let Some(settings) = &entry.settings {
            clip = writer
                .change(|record| {
                    let kept = record.clips.iter_mut().find(|kept| kept.file == file);
                    Ok(kept.map(|kept| {
                        kept.application = Some(settings.clone());
                        kept.clone()
                    }))
                })?
                .unwrap_or(clip);
        }
        entry.committed = true;
        Journal::of(writer).put(entry.clone(), writer)?;
        if let (Air::Off, Some(quiet)) = (subject.air, meter.whole()) {
            self.quiet.insert(subject.opening, quiet);
        }
        Ok((UploadStatus::of(&entry), clip))
    }

    /// Throws a recording away that is coming in.
    pub fn discard(&mut self, token: &str) -> Result<(), PageError> {
        let status = self.status(token)?;
        if status.committed {
            return Err(PageError::unfit("that recording is in the job already: leave the clip out instead"));
        }
        drop(self.coming.remove(token));
        let file: FileName = status.clip.parse().map_err(|_| PageError::UnknownUpload)?;
        let done = self.writer().and_then(|writer| {
            writer.discard_recording(&file)?;
            Journal::of(writer).remove(token, writer)
        });
        self.rest();
        done
    }

    /// Makes clips of recordings whose phone was not heard of for [`PATIENCE`]: what there is is kept.
    pub fn sweep(&mut self, now: Instant) -> Vec<String> {
        let silent = |incoming: &Incoming| now.duration_since(incoming.heard) >= PATIENCE;
        let tokens: Vec<String> =
            self.coming.iter().filter(|(_, incoming)| silent(incoming)).map(|(token, _)| token.clone()).collect();
        let mut settled = Vec::new();
        for token in tokens {
            let ending = Ending { pieces: 0, cut_short: true, gaps: 0 };
            match self.settle(&token, ending) {
                Ok((status, _)) => settled.push(status.clip),
                Err(error) => settled.push(error.to_string()),
            }
        }
        self.rest();
        settled
    }
}

/// What became of a piece.
pub struct PieceReceipt {
    /// Where the recording stands now.
    pub status: UploadStatus,
    /// How loud the piece was; `None` for one that was there already.
    pub level: Option<LiveLevel>,
    /// What it is of, with the level.
    pub subject: Option<Subject>,
}

fn shape(rate_hz: u32, channels: u16) -> StreamShape {
    StreamShape { rate_hz, channels, kind: SampleKind::F32 }
}

/// 32-bit floats, little end first.
fn samples_of(bytes: &[u8]) -> Result<Vec<f32>, PageError> {
    if bytes.is_empty() || !bytes.len().is_multiple_of(4) {
        return Err(PageError::unfit("a piece holds whole samples: 32-bit floats, little end first"));
    }
    let samples: Vec<f32> =
        bytes.chunks_exact(4).map(|four| f32::from_le_bytes([four[0], four[1], four[2], four[3]])).collect();
    if samples.iter().all(|sample| sample.is_finite()) {
        Ok(samples)
    } else {
        Err(PageError::unfit("a sample is not a number: record it again"))
    }
}
