//! Inputs of a sound server that speaks PulseAudio's language (PulseAudio, PipeWire).
//!
//! Asked directly, not through cpal: cpal lets the server hold one block only, and a block that comes
//! late is then dropped without a word. Here the server may hold four megabytes.

use std::sync::Arc;

use futures_executor::block_on;
use pulseaudio::protocol::stream::{BufferAttr, StreamFlags};
use pulseaudio::protocol::{DEFAULT_SOURCE, RecordStreamParams, SampleFormat, SampleSpec, SourceInfo};
use pulseaudio::{Client, ClientError, RecordStream};

use super::card::{Signals, ring_buffer};
use super::input::{Input, worth_of};
use super::system::{Found, Opened, Stream};
use crate::audio::writer::{SampleKind, StreamShape};

/// Blocks per second: short enough for a level on the screen within 100 ms.
const BLOCKS_PER_S: u32 = 50;

/// The server's inputs; `None` where there is no server, or it does not answer.
pub(super) fn inputs() -> Option<Vec<Found>> {
    pulseaudio::socket_path_from_env()?;
    let client = Client::from_env(c"hissward").ok()?;
    let sources = block_on(client.list_sources()).ok()?;
    let default = block_on(client.source_info_by_name(DEFAULT_SOURCE.to_owned())).ok().map(|source| source.name);
    let found = sources.into_iter().map(|source| {
        let id = source.name.to_string_lossy().into_owned();
        let name = source.description.as_ref().map_or_else(|| id.clone(), |said| said.to_string_lossy().into_owned());
        let shape = Some(shape_of(&source.sample_spec));
        let is_default = default.as_ref() == Some(&source.name);
        let worth = worth_of(&id, &name, shape);
        let client = client.clone();
        Found {
            input: Input { id: format!("server:{id}"), name, shape, is_default, worth },
            open: Box::new(move || open(client, &source).map_err(|error| error.to_string())),
        }
    });
    Some(found.collect())
}

/// The source's own shape: 16 bit stays 16 bit, what is wider becomes float.
fn shape_of(native: &SampleSpec) -> StreamShape {
    let kind = match native.format {
        SampleFormat::U8 | SampleFormat::Alaw | SampleFormat::Ulaw | SampleFormat::S16Le | SampleFormat::S16Be => {
            SampleKind::I16
        }
        _ => SampleKind::F32,
    };
    StreamShape { rate_hz: native.sample_rate, channels: u16::from(native.channels), kind }
}

struct Recording {
    stream: RecordStream,
    signals: Arc<Signals>,
    _client: Client,
}

impl Stream for Recording {
    /// A server that ended, or a source that was pulled out, is heard of only when asked.
    fn check(&mut self) {
        if let Err(error) = block_on(self.stream.timing_info()) {
            self.signals.fail(|| error.to_string());
        }
    }
}

fn open(client: Client, source: &SourceInfo) -> Result<Opened, ClientError> {
    let shape = shape_of(&source.sample_spec);
    let (mut ring, samples, signals) = ring_buffer(shape);
    let frame_bytes = shape.kind.bytes() as u32 * u32::from(shape.channels);
    let params = RecordStreamParams {
        sample_spec: SampleSpec {
            format: match shape.kind {
                SampleKind::I16 => SampleFormat::S16Le,
                SampleKind::F32 => SampleFormat::Float32Le,
            },
            channels: source.sample_spec.channels,
            sample_rate: shape.rate_hz,
        },
        channel_map: source.channel_map,
        source_index: Some(source.index),
        buffer_attr: BufferAttr { fragment_size: shape.rate_hz / BLOCKS_PER_S * frame_bytes, ..BufferAttr::default() },
        // A recording that wanders to another microphone is worse than one that ends.
        flags: StreamFlags { adjust_latency: true, no_move: true, ..StreamFlags::default() },
        ..RecordStreamParams::default()
    };
    let stream = block_on(client.create_record_stream(params, move |block: &[u8]| match shape.kind {
        SampleKind::I16 => ring.push(block.as_chunks().0, |two| f32::from(i16::from_le_bytes(two)) / 32_768.0),
        SampleKind::F32 => ring.push(block.as_chunks().0, f32::from_le_bytes),
    }))?;
    let recording = Recording { stream, signals: Arc::clone(&signals), _client: client };
    Ok(Opened { stream: Box::new(recording), shape, samples, signals })
}
