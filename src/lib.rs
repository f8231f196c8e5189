//! `hissward` finds where an engine's cylinder leaks from the hiss at its openings.
//!
//! # The method, for the technician
//!
//! 1. **Two clips at each opening.** One with the air off (quiet), one with the air on. What is there in both is the shop;
//!    what is only in the second may be the leak.
//! 2. **The floor, not the loudness.** A leak hisses all the time; talk, blows and music have gaps. In every clip the
//!    program looks at the stillest moments of every band of pitch, and compares those.
//! 3. **A change everywhere is the shop's.** How far the quiet clips of the openings differ among themselves tells how far
//!    an air clip may differ without any leak. In a restless shop more is asked for.
//! 4. **The loudest is the leak, the fainter ones its spill,** if they are fainter by about 10 to 25 dB. Closer ones may be
//!    two leaks.
//! 5. **A probability for each answer,** "none of these openings" among them. Only from 95 % on, and only from clips that
//!    are fit, an opening is called *located*; else the program says that it cannot tell and what to record next.
//! 6. **Pulsed air** (shut a second, open a second, after the beep) holds each second against the two beside it. A **second
//!    microphone** a step away tells at every moment how loud the shop is. Both tell a leak from another hiss that
//!    happens to start meanwhile; two plain clips cannot.
//!
//! # The method, for the acoustician
//!
//! Levels are dB FS: 0 dB FS is a mean square of 1 (a full-scale square wave). Bands *b* are the third octaves of
//! IEC 61260-1:2014 (base 10) from 400 Hz to 16 kHz, as far as every clip's real bandwidth reaches.
//!
//! **Spectrum** ([`spectrum`]). Hann frames of about 42.7 ms, half overlapping (Welch 1967), every band cut into four cells
//! with bin-fraction edges, cell powers averaged over two frames. The tests hold it against closed forms, a slow DFT and
//! stored output of `scipy.signal.welch`.
//!
//! **Floor** ([`hiss::Floor`]). `L_b = 10 lg(4 · Q₀.₀₅)`, the 5 % quantile over time and over the band's cells. Of steady
//! Gaussian noise it lies under the mean by a known `s_b`: cell powers are χ² of the cell's equivalent degrees of freedom
//! (Welch 1967 for overlapping frames), and their quantile follows ([`spectrum::quantile_over_mean`]).
//!
//! **Air against quiet** ([`hiss::Contrast`]). The model of the floor with the air on, band by band, is
//!
//! ```text
//! air_b = 10 lg( 10^((quiet_b + m_b)/10) + 10^((h + s_b + g_b)/10) ) + e_b
//! ```
//!
//! - `m` is how the floor moved from quiet to air: Gaussian, its covariance over bands the sum of a drift common to all
//!   bands, of what is seen to move within the clips (from parts of about a second), and of common, smooth and single-band
//!   changes. The last three are scaled by how restless the shop is: six scales, each twice the one before, weighed by how
//!   well they explain the differences between the openings' quiet clips. To each the scatter of the quiet clips about
//!   their mean is added as to a conjugate (inverse Wishart) prior worth three clips, for machines that come and go have
//!   their own colour: `(3 Σ + S) / (3 + n − 1)`.
//! - `quiet` is the opening's own quiet floor and the mean of the others', mixed so that the variance is least: in a shop
//!   that is another one in each clip, all quiet clips together are the better reference.
//! - `h` is the hiss level, tried in steps of 2 dB; `g` how the hiss spectrum departs from equal power in all bands:
//!   Gaussian, a tilt, smooth humps, single bands; three kinds of such shapes. Its mean over the level bands is held at
//!   nought (but for half a step), so that it is `h` that carries the level.
//! - `e` is what nothing explains, 0.3 dB.
//!
//! For every opening, scale, shape and level the likeliest `m` and `g` are found by Gauss–Newton steps (an iterated
//! extended Kalman update; Bell and Cathey 1993, from memory), and the evidence `p(air | h)` by Laplace's approximation:
//! a closed form, so that the same clips give the same digits. How well the probabilities hold is measured, not argued
//! (`make accuracy`: debiased calibration error, risk against coverage).
//!
//! **Hypotheses** ([`ranking`]). Weighed against each other, with all levels and scales summed out: nothing leaks; a leak where
//! nobody listened, unheard; one whose spill reaches all openings; the rig, heard everywhere alike (σ 2.5 dB); one leak at
//! opening *j*, the others hearing no hiss or its spill (10–25 dB under it, edges softened by the placement of the
//! microphone, 2 dB a clip), the crankcase perhaps its usual blow-by (12 dB under a valve's leak, σ 6 dB); two leaks *j*, *k* of
//! similar level (σ 3 dB), the others hearing spill. `P(j)` sums the hypotheses in which *j* is the leak, or the louder of two.
//! Sources have spectra: the clips that tell one best (the clearest hiss) say what it is, with what they leave open; the others of
//! the same opening, and the rig's hiss everywhere, must have it too, but for what the way colours (2.5 dB humps, 1.5 dB per
//! octave of tilt), and so must half of the hisses at other openings. Together that is the evidence of one spectrum, written
//! as that of the first clips times that of the others given them.
//! The numbers taken for granted stand, each once with its reason, in `src/ranking/assumptions.rs`; they were set by hand on
//! the tuning cases of the accuracy run, and nothing was tuned on the cases that are reported.
//!
//! **Disturbances.** In every air clip, under every hypothesis, something else may hiss (`p = 0.0007`, any level), or air may stream
//! over the capsule (`p = 0.001`; density f^(−5/3), steeper above 1 or 3 kHz, Corcos, arXiv 1805.09679; its power below
//! 300 Hz must have risen with it). Next to nothing else keeps the rhythm of a pulsed clip. So pulsed clips, all of one hiss level with
//! the others, overrule them: a hiss that on and off show and pulsed air does not is told as one that does not follow the valve.
//!
//! **What takes a call back.** A named opening rests on clips that are fit, that no wind spoils and that follow the valve;
//! what the eye sees in the picture (three neighbouring bands up by 10 dB at one opening alone) is never "none heard" and, where
//! no hypothesis fits it, said to fit no explanation; nor is "none heard" said of a hiss that is there for a part of a clip (the
//! floor of its loudest half or three quarters against that of the quiet clips), nor where a recorder suppresses noise.
//! Takes that hold the same seconds count once ([`hiss::same_sound`]).
//!
//! **Level and bound.** The posterior of `h` (with the spread of the Gaussian parts, and 1.8 dB for what the model leaves
//! out) gives the median, the 95 % interval and the bound `at_most` (97.5 %). Bands that a clip does not reach widen it. For the
//! picture and the tables, bands are corrected for background as in ISO 3744:2010, K1 = −10 lg(1 − 10^(−ΔL/10)), held at
//! its 6 dB value below ΔL = 6 dB, where the result is an upper bound.
//!
//! **Pulsed air** ([`hiss::pulsed_contrasts`]). For each lateness from 0.1 to 0.5 s behind the beep, the floors of the open
//! seconds less the mean of the two shut ones beside them; the lateness that stands out most is taken. The scatter comes
//! from those differences and from seconds held against those of their own state, half of it from all pulsed clips
//! together. The same differences half a step out of time are the false-alarm control: noise that keeps a rhythm of its
//! own is told by them.
//!
//! **Level tracking** ([`hiss::tracked_contrast`]). Blocks of 0.35 s; the median ratio near over far from the quiet clip
//! predicts each block of the air clip; the stillest blocks are compared with their prediction. Waveforms are not
//! subtracted: in a diffuse field two microphones 5 cm apart share 6 dB at 1 kHz and 0.2 dB at 5 kHz.
//!
//! **What it cannot do.** A steady broadband noise that starts at one opening during its air clip alone is, to one
//! microphone and plain clips, the same as a leak. A ranking says so in a caveat (`foreign-hiss-alike`).
//!
//! # The modules
//!
//! In reading order; each uses only those above it (see DEVELOPERS.md, and the test `layers`).

pub mod units;

pub mod caveat;
pub mod crank;
pub mod opening;

pub mod clip;

pub mod csv_rows;

pub mod words;

pub mod simd;

pub mod spectrum;

pub mod gauge;

pub mod hiss;
pub mod meter;

pub mod ranking;

pub mod finding;

pub mod history;

pub mod plot;

pub mod report;

pub mod guide;

pub mod export;

pub mod audio;
pub mod job;
pub mod pack;
pub mod settings;
pub mod simulate;

pub mod pipeline;
