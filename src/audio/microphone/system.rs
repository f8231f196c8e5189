//! The machine's own sound card, through cpal.

use std::sync::Arc;
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{
    BufferSize, Device, ErrorKind, FromSample, Host, I24, SampleFormat, SizedSample, Stream, SupportedStreamConfig,
};

use super::card::{Feed, Keeper, Live, Signals, SoundCard, feed};
use super::error::MicError;
use super::input::{Input, Worth, worth_of};
use super::native;
use crate::audio::writer::StreamShape;

/// How long the sound system may take to answer: a server that hangs never does.
const ANSWER_LIMIT: Duration = Duration::from_secs(8);

/// The sound inputs of this machine.
///
/// On Linux those of the sound server where one runs (PulseAudio, or PipeWire speaking its language):
/// it knows people's names for devices, shares them, and says when it ends. Else those of ALSA.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemCard;

struct Found {
    input: Input,
    device: Device,
    config: Option<SupportedStreamConfig>,
}

impl SoundCard for SystemCard {
    fn inputs(&self) -> Result<Vec<Input>, MicError> {
        let (tell, told) = mpsc::channel();
        thread::spawn(move || {
            let _silence = quiet_library();
            tell.send(find().map(|found| found.into_iter().map(|found| found.input).collect()))
        });
        told.recv_timeout(ANSWER_LIMIT).unwrap_or_else(|_| Err(no_answer()))
    }

    fn start(&self, wanted: Option<&str>) -> Result<Live, MicError> {
        let wanted = wanted.map(str::to_owned);
        let (tell, told) = mpsc::channel();
        let (stop, stopped) = mpsc::channel::<()>();
        let (say_dropped, dropped) = mpsc::channel();
        // The stream is made, kept and dropped on one thread: some systems ask for that, and where
        // dropping it never returns, only that thread hangs.
        thread::spawn(move || {
            let _silence = quiet_library();
            let opened = find().and_then(|found| choose(found, wanted.as_deref())).and_then(open);
            match opened {
                Ok((stream, rest)) => {
                    if tell.send(Ok(rest)).is_ok() {
                        // A keeper that is gone means stop as well.
                        let _ended: Result<(), mpsc::RecvError> = stopped.recv();
                    }
                    drop(stream);
                    // Nobody listens any more where it took too long.
                    let _heard: Result<(), mpsc::SendError<()>> = say_dropped.send(());
                }
                Err(error) => {
                    let _heard: Result<(), mpsc::SendError<_>> = tell.send(Err(error));
                }
            }
        });
        let (input, shape, samples, signals) = told.recv_timeout(ANSWER_LIMIT).unwrap_or_else(|_| Err(no_answer()))?;
        Ok(Live { input, shape, samples, signals, keeper: Keeper::new(stop, dropped) })
    }
}

fn no_answer() -> MicError {
    MicError::NoSystem { detail: format!("no answer within {} s", ANSWER_LIMIT.as_secs()) }
}

/// alsa-lib writes to stderr when a device does not open; what it says is in our own error already.
#[cfg(target_os = "linux")]
fn quiet_library() -> Option<std::rc::Rc<std::cell::RefCell<alsa::Output>>> {
    alsa::Output::local_error_handler().ok()
}

#[cfg(not(target_os = "linux"))]
fn quiet_library() {}

#[cfg(target_os = "linux")]
fn find() -> Result<Vec<Found>, MicError> {
    // A server that is not there is no fault: ALSA is asked then.
    let server = cpal::host_from_id(cpal::HostId::PulseAudio).and_then(|host| found_at(&host, default_config));
    let mut found = server.unwrap_or_default();
    if found.iter().any(|found| found.input.worth == Worth::Useful) {
        return Ok(found);
    }
    let host =
        cpal::host_from_id(cpal::HostId::Alsa).map_err(|error| MicError::NoSystem { detail: error.to_string() })?;
    found.extend(alsa_inputs(&host)?);
    Ok(found)
}

#[cfg(not(target_os = "linux"))]
fn find() -> Result<Vec<Found>, MicError> {
    found_at(&cpal::default_host(), default_config).map_err(|error| MicError::NoSystem { detail: error.to_string() })
}

/// A device's shape where the system knows it: that at which it runs.
fn default_config(device: &Device) -> Option<SupportedStreamConfig> {
    device.default_input_config().ok()
}

fn found_at(host: &Host, config_of: fn(&Device) -> Option<SupportedStreamConfig>) -> Result<Vec<Found>, cpal::Error> {
    let default_id = host.default_input_device().and_then(|device| device.id().ok());
    let devices = host.input_devices()?;
    Ok(devices
        .filter_map(|device| {
            let id = device.id().ok()?;
            let is_default = default_id.as_ref() == Some(&id);
            Some(found(device, id.to_string(), is_default, config_of))
        })
        .collect())
}

fn found(
    device: Device,
    id: String,
    is_default: bool,
    config_of: fn(&Device) -> Option<SupportedStreamConfig>,
) -> Found {
    let name = device.description().map_or_else(|_| id.clone(), |said| said.name().to_owned());
    let config = config_of(&device);
    let shape = config.as_ref().map(native::shape_of);
    let worth = worth_of(&id, &name, shape);
    Found { input: Input { id, name, shape, is_default, worth }, device, config }
}

/// ALSA lists every plug-in that a configuration knows. A person knows the cards; where there is none, the
/// default may be one that somebody made of software.
#[cfg(target_os = "linux")]
fn alsa_inputs(host: &Host) -> Result<Vec<Found>, MicError> {
    let devices = host.input_devices().map_err(|error| MicError::NoSystem { detail: error.to_string() })?;
    let of_hardware: fn(&Device) -> Option<SupportedStreamConfig> =
        |device| native::of_hardware(device.supported_input_configs().ok()?);
    let mut cards: Vec<Found> = Vec::new();
    for device in devices {
        let Ok(id) = device.id() else { continue };
        if id.id().starts_with("hw:") {
            let card = found(device, id.to_string(), cards.is_empty(), of_hardware);
            // The same card is listed by name and by number; a card that only plays cannot be opened.
            let known = cards.iter().any(|known| known.input.name == card.input.name);
            if !known {
                cards.push(card);
            }
        }
    }
    if cards.is_empty() {
        let of_software: fn(&Device) -> Option<SupportedStreamConfig> =
            |device| native::of_software(device.supported_input_configs().ok()?);
        let default =
            host.default_input_device().map(|device| found(device, "alsa:default".to_owned(), true, of_software));
        cards.extend(default.filter(|default| default.config.is_some()));
    }
    Ok(cards)
}

/// The input that was asked for: by its id, its name, or a part of its name that only one has.
fn choose(found: Vec<Found>, wanted: Option<&str>) -> Result<Found, MicError> {
    let names = found.iter().map(|found| found.input.name.clone()).collect::<Vec<_>>().join(", ");
    if found.is_empty() {
        return Err(MicError::NoInput);
    }
    let place = match wanted {
        Some(asked) => {
            let exact = found.iter().position(|found| found.input.id == asked || found.input.name == asked);
            let holds = |found: &Found| found.input.name.to_lowercase().contains(&asked.to_lowercase());
            let single = (found.iter().filter(|found| holds(found)).count() == 1).then(|| found.iter().position(holds));
            exact.or(single.flatten()).ok_or_else(|| MicError::Unknown { asked: asked.to_owned(), there: names })?
        }
        None => {
            let useful = |found: &Found| found.input.worth == Worth::Useful;
            let default = found.iter().position(|found| found.input.is_default && useful(found));
            default.or_else(|| found.iter().position(useful)).ok_or(MicError::NoUseful { there: names })?
        }
    };
    // The others are let go before the chosen one is opened.
    found.into_iter().nth(place).ok_or(MicError::NoInput)
}

type Opened = (Input, StreamShape, rtrb::Consumer<f32>, Arc<Signals>);

fn open(found: Found) -> Result<(Stream, Opened), MicError> {
    let Found { input, device, config } = found;
    let refused = |detail: String| MicError::Refused { name: input.name.clone(), detail };
    let config =
        config.ok_or_else(|| refused("it does not say what it can do, or another program holds it".to_owned()))?;
    let shape = native::shape_of(&config);
    let (ring, samples, signals) = feed(shape);
    let stream = match config.sample_format() {
        SampleFormat::U8 => build::<u8>(&device, &config, ring, &signals),
        SampleFormat::I16 => build::<i16>(&device, &config, ring, &signals),
        SampleFormat::I24 => build::<I24>(&device, &config, ring, &signals),
        SampleFormat::I32 => build::<i32>(&device, &config, ring, &signals),
        SampleFormat::F32 => build::<f32>(&device, &config, ring, &signals),
        other => return Err(refused(format!("its samples are {other}"))),
    };
    let stream = stream.map_err(|error| refused(error.to_string()))?;
    stream.play().map_err(|error| refused(error.to_string()))?;
    Ok((stream, (input, shape, samples, signals)))
}

fn build<T>(
    device: &Device,
    config: &SupportedStreamConfig,
    mut ring: Feed,
    signals: &Arc<Signals>,
) -> Result<Stream, cpal::Error>
where
    T: SizedSample,
    f32: FromSample<T>,
{
    let signals = Arc::clone(signals);
    let mut config_asked = config.config();
    config_asked.buffer_size = block_frames(device, config.sample_rate());
    device.build_input_stream(
        config_asked,
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

/// A sound server left to itself gives blocks of two seconds, too late for a level on the screen.
/// Devices choose well by themselves.
#[cfg(target_os = "linux")]
fn block_frames(device: &Device, rate_hz: u32) -> BufferSize {
    match device.id().map(|id| id.host()) {
        Ok(cpal::HostId::PulseAudio) => BufferSize::Fixed(rate_hz / 50),
        _ => BufferSize::Default,
    }
}

#[cfg(not(target_os = "linux"))]
fn block_frames(_device: &Device, _rate_hz: u32) -> BufferSize {
    BufferSize::Default
}
