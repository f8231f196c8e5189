//! Inputs that cpal finds: ALSA's on Linux, the system's own elsewhere.

use std::sync::Arc;

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{Device, ErrorKind, FromSample, Host, I24, SampleFormat, SizedSample, SupportedStreamConfig};

use super::card::{RingProducer, Signals, ring_buffer};
use super::error::MicError;
use super::input::{Input, worth_of};
use super::native;
use super::system::{Found, Opened, Stream};

impl Stream for cpal::Stream {}

type ConfigOf = fn(&Device) -> Option<SupportedStreamConfig>;

/// alsa-lib writes to stderr when a device does not open; what it says is in our own error already.
#[cfg(target_os = "linux")]
pub(in crate::audio) fn quiet_library() -> Option<std::rc::Rc<std::cell::RefCell<alsa::Output>>> {
    alsa::Output::local_error_handler().ok()
}

#[cfg(not(target_os = "linux"))]
pub(in crate::audio) fn quiet_library() {}

/// The inputs that a person would recognise.
#[cfg(not(target_os = "linux"))]
pub(super) fn inputs() -> Result<Vec<Found>, MicError> {
    let host = cpal::default_host();
    let default_id = host.default_input_device().and_then(|device| device.id().ok());
    let config_of: ConfigOf = |device| device.default_input_config().ok();
    let found = devices(&host)?.filter_map(|device| {
        let id = device.id().ok()?;
        let is_default = default_id.as_ref() == Some(&id);
        Some(found(device, id.to_string(), is_default, config_of))
    });
    Ok(found.collect())
}

/// The inputs that a person would recognise. ALSA lists every plug-in that a configuration knows; a person
/// knows the cards. Where there is none, the default may be one that somebody made of software.
#[cfg(target_os = "linux")]
pub(super) fn inputs() -> Result<Vec<Found>, MicError> {
    let host = cpal::host_from_id(cpal::HostId::Alsa).map_err(|error| no_system(&error))?;
    let of_hardware: ConfigOf = |device| native::of_hardware(device.supported_input_configs().ok()?);
    let mut cards: Vec<Found> = Vec::new();
    for device in devices(&host)? {
        let Ok(id) = device.id() else { continue };
        if id.id().starts_with("hw:") {
            let card = found(device, id.to_string(), cards.is_empty(), of_hardware);
            // The same card is listed by its name and by its number.
            if cards.iter().all(|known| known.input.name != card.input.name) {
                cards.push(card);
            }
        }
    }
    if cards.is_empty() {
        let of_software: ConfigOf = |device| native::of_software(device.supported_input_configs().ok()?);
        let default =
            host.default_input_device().map(|device| found(device, "alsa:default".to_owned(), true, of_software));
        // Every machine has a device of that name; it counts only where it opens.
        cards.extend(default.filter(|default| default.input.shape.is_some()));
    }
    Ok(cards)
}

fn devices(host: &Host) -> Result<impl Iterator<Item = Device>, MicError> {
    host.input_devices().map_err(|error| no_system(&error))
}

fn no_system(error: &cpal::Error) -> MicError {
    MicError::NoSystem { detail: error.to_string() }
}

fn found(device: Device, id: String, is_default: bool, config_of: ConfigOf) -> Found {
    let name = device.description().map_or_else(|_| id.clone(), |said| said.name().to_owned());
    let config = config_of(&device);
    let shape = config.as_ref().map(native::shape_of);
    let worth = worth_of(&id, &name, shape);
    Found { input: Input { id, name, shape, is_default, worth }, open: Box::new(move || open(&device, config)) }
}

fn open(device: &Device, config: Option<SupportedStreamConfig>) -> Result<Opened, String> {
    let config = config.ok_or("it does not say what it can do, or another program holds it")?;
    let shape = native::shape_of(&config);
    let (ring, samples, signals) = ring_buffer(shape);
    let stream = match config.sample_format() {
        SampleFormat::U8 => build::<u8>(device, &config, ring, &signals),
        SampleFormat::I16 => build::<i16>(device, &config, ring, &signals),
        SampleFormat::I24 => build::<I24>(device, &config, ring, &signals),
        SampleFormat::I32 => build::<i32>(device, &config, ring, &signals),
        SampleFormat::F32 => build::<f32>(device, &config, ring, &signals),
        other => return Err(format!("its samples are {other}")),
    };
    let stream = stream.and_then(|stream| stream.play().map(|()| stream)).map_err(|error| error.to_string())?;
    Ok(Opened { stream: Box::new(stream), shape, samples, signals })
}

fn build<T>(
    device: &Device,
    config: &SupportedStreamConfig,
    mut ring: RingProducer,
    signals: &Arc<Signals>,
) -> Result<cpal::Stream, cpal::Error>
where
    T: SizedSample,
    f32: FromSample<T>,
{
    let signals = Arc::clone(signals);
    device.build_input_stream(
        config.config(),
        move |block: &[T], _| ring.push(block, f32::from_sample_),
        move |error| match error.kind() {
            ErrorKind::Xrun => signals.overrun(),
            ErrorKind::DeviceChanged => signals.device_changed(),
            ErrorKind::RealtimeDenied => {}
            _ => signals.fail(|| error.to_string()),
        },
        None,
    )
}
