//! The main job on clips with a known leak: who is located, who is not, and what is told.

mod calls;
mod honesty;
mod next;
mod one_source;
mod rates;
mod recorder;
mod rendered;
mod stereo;
mod tracked;
