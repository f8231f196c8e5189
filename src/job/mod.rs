//! The job folder: one engine on one day, as files that outlive the program.
//!
//! ```text
//! JOB/job.toml     what is known: readable, hand-editable, replaced as a whole
//! JOB/clips/       WAV as recorded, never altered; originals of imports beside them
//! JOB/results/     derived; may be deleted and made again
//! JOB/.lock        held by the one program that writes
//! ```
//!
//! [`Job`] reads, [`JobWriter`] also writes; [`JobRecord`] is what `job.toml` says.
//! Three promises: `job.toml` is whole at every moment; a clip that it lists is whole on disk; and what a
//! killed program left unfinished stands under `[[pending]]`, so that the next one finds it.

mod amendment;
mod checks;
mod error;
mod folder;
mod hash;
mod lock;
mod merge;
mod names;
mod pending;
mod reading;
mod record;
mod replace;
mod search;
mod status;
mod store;
mod taking;
mod when;
mod writing;

pub use amendment::{Amendment, ClipChange, Counts, Datum, GaugeChange};
pub use checks::{LONGEST_TEXT, MOST_CYLINDERS, parse_banks, parse_firing_angles, parse_firing_order};
pub(crate) use error::remedy;
pub use error::{Fault, JobError, KeyPath};
pub use hash::{FileState, Sha256, VerifiedFile, sha256_of_file};
pub use names::{FileName, FileNameError, UNFINISHED};
pub use pending::Leftover;
pub use record::{
    ClipRecord, EngineTemperature, Found, GaugeReading, GaugeValue, Gauges, Import, JobRecord, MakerLimits, Microphone,
    Original, PendingClip, PendingKind, RigReading, SkippedStep, Step, Subject,
};
pub use search::JobsBelow;
pub use status::{CylinderStatus, Missing, OpeningStatus, Status};
pub use store::{CLIPS_FOLDER, FORMAT, JOB_FILE, Job, JobWriter, LARGEST_RESULT_BYTES, RESULTS_FOLDER};
pub use taking::{ImportPlan, MadeWith, Measured, RecordingPlan, Slot};
pub use when::{When, WhenError};
