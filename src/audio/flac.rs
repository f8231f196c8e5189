//! Samples to FLAC: a file that browsers play, without loss, half as large as WAV.

use flacenc::component::BitRepr;
use flacenc::error::Verify;

use crate::units::Hertz;

/// Bits of a sample: enough for ears.
const BITS: usize = 16;

/// Why samples could not be written as FLAC.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the sound could not be written as FLAC ({0}): please report this with the command you used")]
pub struct FlacError(String);

/// One channel of samples, full scale ±1, as a 16-bit FLAC file. What is louder than full scale is cut there.
///
/// # Errors
/// [`FlacError`] where the encoder refuses, which finite samples give it no reason to.
///
/// ```
/// use hissward::audio::flac;
/// use hissward::units::Hertz;
/// let file = flac(&[0.0; 4800], Hertz(48_000.0))?;
/// assert!(file.starts_with(b"fLaC") && file.len() < 1000);
/// # Ok::<(), hissward::audio::FlacError>(())
/// ```
pub fn flac(samples: &[f32], rate: Hertz) -> Result<Vec<u8>, FlacError> {
    let full = f32::from(i16::MAX);
    let whole: Vec<i32> = samples.iter().map(|x| (x * full).round().clamp(-full, full) as i32).collect();
    let mut config = flacenc::config::Encoder::default();
    // Noise is hardly told beforehand: searching for better predictors takes several times as long and saves a twentieth.
    config.subframe_coding.use_lpc = false;
    let config = config.into_verified().map_err(|(_, error)| told(error))?;
    let source = flacenc::source::MemSource::from_samples(&whole, 1, BITS, rate.0.round() as usize);
    let mut stream = flacenc::encode_with_fixed_block_size(&config, source, config.block_size).map_err(told)?;
    // The last block may be shorter and does not count (RFC 9639, 8.2); the encoder counts it, and strict readers then
    // take the blocks for such of varying size and find none.
    stream.stream_info_mut().set_block_sizes(config.block_size, config.block_size).map_err(told)?;
    let mut sink = flacenc::bitsink::ByteSink::new();
    stream.write(&mut sink).map_err(told)?;
    Ok(sink.as_slice().to_vec())
}

fn told(error: impl std::fmt::Display) -> FlacError {
    FlacError(error.to_string())
}
