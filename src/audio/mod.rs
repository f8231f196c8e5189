//! Microphone and recordings.
