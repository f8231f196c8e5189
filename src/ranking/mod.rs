//! From evidence to an answer: a probability per opening, a call, the smallest answer set.

mod result;

pub use result::{BandResult, Call, HissReading, Member, OpeningResult, Ranking};
