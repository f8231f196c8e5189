//! How often the program is right: cases with a known truth, judged, counted, put beside plain methods.
//!
//! From seeds to figures: [`seeds`] (constants), [`noises`] (what makes noise where), [`rows`] (what is built in), [`cases`] (one session and its cases), [`chains`] (what
//! recorders do to them), [`program`] (the ranking under test), [`plain`] (methods it must beat), [`judge`] (a ranking against the
//! truth), [`table`] (figures with intervals), [`markdown`], [`figure`] and [`row_figure`] (the report). Statistics in
//! [`bootstrap`], [`calibration`], [`risk`] and [`limit`] know nothing of sound.

pub mod advice;
pub mod bangs;
pub mod bootstrap;
pub mod calibration;
pub mod cases;
pub mod chains;
pub mod figure;
pub mod judge;
pub mod limit;
pub mod markdown;
pub mod noises;
pub mod plain;
pub mod program;
pub mod resample;
pub mod risk;
pub mod row_figure;
pub mod rows;
pub mod seeds;
pub mod table;
