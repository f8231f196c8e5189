//! The order of things: where modules that do not know each other meet.

mod alike;
mod hearing;
mod history;
mod mistakes;
mod moments;
mod ranking;
mod readings;
mod recorder_trial;
mod recording;
mod report;
mod simulated;
mod sounds;
mod take_in;
mod trial;
mod verdict;

pub use hearing::{AnalyzedClip, listen_to};
pub use history::{History, KEPT_RANKING, KeepRankingError, Skipped, VisitError, keep_ranking, visit};
pub use mistakes::{Mistake, likely_mistakes, mistakes_among, put_right};
pub use ranking::{HeardClip, LooseClip, RankError, listen_to_clip, rank_heard, rank_job, rank_loose};
pub use readings::{
    ReadingsError, cylinder_reading, engine, firing_order, kept_reading, makers_limit, net_loss, rig_reading,
};
pub use recorder_trial::{judge_recorder_trial, play_recorder_trial, recorder_trial_length, try_recorder};
pub use recording::{KeepError, Recovery, keep_recording, recover_recordings, remember_microphone};
pub use report::{JobReport, ReportingError, picture_title};
pub use simulated::{SimulatedError, take_in_case};
pub use sounds::{SoundSource, report_sounds};
pub use take_in::{Channels, TakeInError, TakenIn, take_in};
pub use trial::{LOWEST_USEFUL_BANDWIDTH, Trial, try_input};
pub use verdict::{ClipVerdict, clip_verdict, leave_out_unfit, verdict_of};
