//! What can go wrong with a recording: what, which file, what to do.

use std::io;

use crate::clip::ClipError;

/// Why a recording could not be read.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum AudioError {
    /// No such file.
    #[error("{file}: there is no such file: check the name and the folder")]
    Missing {
        /// The file as the user wrote it.
        file: String,
    },
    /// A folder where a file belongs.
    #[error("{file}: this is a folder: name the recordings in it, for example {file}/*.wav")]
    Folder {
        /// The file as the user wrote it.
        file: String,
    },
    /// The system would not read it.
    #[error("{file}: cannot be read ({source}): check the permissions, the drive or the cable")]
    Unreadable {
        /// The file as the user wrote it.
        file: String,
        /// What the system said.
        source: io::Error,
    },
    /// No bytes at all.
    #[error("{file}: the file is empty: copy it again, or record it again")]
    Empty {
        /// The file as the user wrote it.
        file: String,
    },
    /// Letters, not sound, whatever the name ends in.
    #[error("{file}: this is a text file, not a recording, whatever its name ends in: name the recording itself")]
    Text {
        /// The file as the user wrote it.
        file: String,
    },
    /// Nothing that is known as sound.
    #[error(
        "{file}: not a recording in a known format: export it as WAV or FLAC (m4a, mp3, ogg, opus, webm, caf and AIFF are read too)"
    )]
    NotSound {
        /// The file as the user wrote it.
        file: String,
    },
    /// A format that is known and not read.
    #[error(
        "{file}: {format} is not read, {reason}: set the recorder to WAV or to its best quality and record again; \
         where that cannot be done, convert the file to WAV"
    )]
    Refused {
        /// The file as the user wrote it.
        file: String,
        /// Name of the format.
        format: &'static str,
        /// What speaks against it.
        reason: &'static str,
    },
    /// A film without sound, or the like.
    #[error("{file}: there is no sound in this {container} file: name the recording itself")]
    NoSoundTrack {
        /// The file as the user wrote it.
        file: String,
        /// Name of the container.
        container: &'static str,
    },
    /// A coding that is not decoded.
    #[error("{file}: its sound is coded in a way that is not read ({detail}): export it as WAV or FLAC")]
    Coding {
        /// The file as the user wrote it.
        file: String,
        /// What the decoder said.
        detail: String,
    },
    /// Known format, broken content.
    #[error("{file}: the file is damaged ({detail}): copy it again from the recorder, or record it again")]
    Damaged {
        /// The file as the user wrote it.
        file: String,
        /// What is wrong.
        detail: String,
    },
    /// A channel that is not there.
    #[error("{file}: there is no channel {asked}, the recording has {there}: channels count from 1")]
    NoSuchChannel {
        /// The file as the user wrote it.
        file: String,
        /// The channel asked for, from 1.
        asked: u16,
        /// How many there are.
        there: u16,
    },
    /// More channels than were asked about.
    #[error("{file}: two channels were asked for, this gives one clip: read them block by block")]
    PairAsClip {
        /// The file as the user wrote it.
        file: String,
    },
    /// Samples that are no numbers, none at all, or a rate out of range.
    #[error(transparent)]
    Samples(#[from] ClipError),
}

impl AudioError {
    /// The error of the system, told apart as far as the user can act on it.
    pub(super) fn of_system(file: &str, source: io::Error) -> Self {
        let file = file.to_owned();
        match source.kind() {
            io::ErrorKind::NotFound => Self::Missing { file },
            io::ErrorKind::IsADirectory => Self::Folder { file },
            _ => Self::Unreadable { file, source },
        }
    }

    pub(super) fn damaged(file: &str, detail: impl Into<String>) -> Self {
        Self::Damaged { file: file.to_owned(), detail: detail.into() }
    }
}
