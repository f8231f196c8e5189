//! The machine's own sound inputs.

use std::sync::Arc;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use super::card::{OpenStream, Signals, SoundCard, StreamGuard};
use super::error::MicError;
use super::input::{Input, Worth};
use crate::audio::writer::StreamShape;

/// How long the sound system may take to answer: a server that hangs never does.
const ANSWER_LIMIT: Duration = Duration::from_secs(8);
/// How often a stream is asked whether it still lives.
const CHECK_EVERY: Duration = Duration::from_millis(500);

/// The sound inputs of this machine.
///
/// On Linux those of the sound server where one runs (PulseAudio, or PipeWire speaking its language):
/// it knows people's names for devices, shares them, and says when it ends. Else, and on other systems,
/// those that cpal finds.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemCard;

/// An input, and how it is opened.
pub(super) struct Found {
    pub(super) input: Input,
    pub(super) open: Opener,
}

/// Opens an input; a failure is what the system said.
pub(super) type Opener = Box<dyn FnOnce() -> Result<Opened, String>>;

/// An open stream.
pub(super) struct Opened {
    pub(super) stream: Box<dyn Stream>,
    pub(super) shape: StreamShape,
    pub(super) samples: rtrb::Consumer<f32>,
    pub(super) signals: Arc<Signals>,
}

/// A running stream; dropping it ends it.
pub(super) trait Stream {
    /// Looks whether it still lives, where it would not say so itself.
    fn check(&mut self) {}
}

impl SoundCard for SystemCard {
    fn inputs(&self) -> Result<Vec<Input>, MicError> {
        let (tell, told) = mpsc::channel();
        thread::spawn(move || {
            let _silence = super::hardware::quiet_library();
            tell.send(find().map(|found| found.into_iter().map(|found| found.input).collect()))
        });
        told.recv_timeout(ANSWER_LIMIT).unwrap_or_else(|_| Err(no_answer()))
    }

    fn start(&self, wanted: Option<&str>) -> Result<OpenStream, MicError> {
        let wanted = wanted.map(str::to_owned);
        let (tell, told) = mpsc::channel();
        let (stop, stopped) = mpsc::channel::<()>();
        let (say_dropped, dropped) = mpsc::channel::<()>();
        // The stream is made, kept and dropped on one thread: some systems ask for that, and where
        // dropping it never returns, only that thread hangs.
        thread::spawn(move || {
            // The end of this thread closes the channel: that is how its guard hears of it.
            let _dropped = say_dropped;
            let _silence = super::hardware::quiet_library();
            let (mut stream, told_all) = match begin(wanted.as_deref()) {
                Ok((stream, rest)) => (stream, tell.send(Ok(rest)).is_ok()),
                Err(error) => return tell.send(Err(error)).is_ok(),
            };
            while told_all && matches!(stopped.recv_timeout(CHECK_EVERY), Err(RecvTimeoutError::Timeout)) {
                stream.check();
            }
            drop(stream);
            told_all
        });
        let (input, shape, samples, signals) = told.recv_timeout(ANSWER_LIMIT).unwrap_or_else(|_| Err(no_answer()))?;
        Ok(OpenStream { input, shape, samples, signals, guard: StreamGuard::new(stop, dropped) })
    }
}

type Begun = (Input, StreamShape, rtrb::Consumer<f32>, Arc<Signals>);

fn begin(wanted: Option<&str>) -> Result<(Box<dyn Stream>, Begun), MicError> {
    let Found { input, open } = choose(find()?, wanted)?;
    match open() {
        Ok(opened) => Ok((opened.stream, (input, opened.shape, opened.samples, opened.signals))),
        Err(detail) => Err(MicError::Refused { name: input.name, detail }),
    }
}

fn no_answer() -> MicError {
    MicError::NoSystem { detail: format!("no answer within {} s", ANSWER_LIMIT.as_secs()) }
}

#[cfg(target_os = "linux")]
fn find() -> Result<Vec<Found>, MicError> {
    // A server that is not there, or does not answer as it should, is no fault: ALSA is asked then.
    let mut found = super::server::inputs().unwrap_or_default();
    if !found.iter().any(|found| found.input.worth == Worth::Useful) {
        found.extend(super::hardware::inputs()?);
    }
    Ok(found)
}

#[cfg(not(target_os = "linux"))]
fn find() -> Result<Vec<Found>, MicError> {
    super::hardware::inputs()
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
            let part = asked.to_lowercase();
            let holds = |found: &Found| found.input.name.to_lowercase().contains(&part);
            let single =
                found.iter().position(holds).filter(|_| found.iter().filter(|found| holds(found)).count() == 1);
            exact.or(single).ok_or_else(|| MicError::Unknown { asked: asked.to_owned(), there: names })?
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::audio::microphone::input::worth_of;
    use crate::audio::writer::SampleKind;

    fn found(id: &str, name: &str, rate_hz: u32, is_default: bool) -> Found {
        let shape = Some(StreamShape { rate_hz, channels: 1, kind: SampleKind::I16 });
        let input =
            Input { id: id.to_owned(), name: name.to_owned(), shape, is_default, worth: worth_of(id, name, shape) };
        Found { input, open: Box::new(|| Err("not opened here".to_owned())) }
    }

    fn chosen(wanted: Option<&str>) -> String {
        let found = vec![
            found("out.monitor", "Monitor of Speakers", 48_000, true),
            found("headset", "Headset", 16_000, false),
            found("usb-1", "USB microphone", 48_000, false),
            found("usb-2", "USB line in", 44_100, false),
        ];
        choose(found, wanted).map_or_else(|error| error.to_string(), |found| found.input.id)
    }

    #[test]
    fn an_input_is_chosen_by_id_by_name_or_by_what_only_one_name_holds() {
        assert_eq!(chosen(Some("usb-2")), "usb-2");
        assert_eq!(chosen(Some("Headset")), "headset", "who names a useless one gets it");
        assert_eq!(chosen(Some("LINE")), "usb-2");
        assert!(
            chosen(Some("usb")).starts_with("there is no microphone 'usb'"),
            "two hold it: {}",
            chosen(Some("usb"))
        );
        assert_eq!(chosen(None), "usb-1", "a monitor is never taken unasked, default or not");
    }

    #[test]
    fn no_microphone_and_no_useful_one_are_told_apart() {
        assert!(matches!(choose(Vec::new(), None), Err(MicError::NoInput)));
        let useless = vec![found("headset", "Headset", 16_000, true)];
        assert!(matches!(choose(useless, None), Err(MicError::NoUseful { there }) if there == "Headset"));
    }
}
