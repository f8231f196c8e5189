//! Connections: only so many, none that hangs for ever, and none that keeps somebody else out.

use std::io;
use std::pin::Pin;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::sync::oneshot;
use tokio::time::{Instant, Sleep, sleep};

use super::prefix::AddressPrefix;

/// All connections at one time.
const MOST: usize = 1024;
/// Those of one address: a phone with the page open has less than ten.
const MOST_OF_ONE: usize = 64;
/// How long somebody may take nothing of what is sent to them.
const STALL: Duration = Duration::from_secs(30);

/// Lets connections in. Where there is no room, the oldest connection on which no paired device has asked anything is
/// ended for the new one: whoever only holds places holds none of those that others need.
#[derive(Clone, Default)]
pub struct Gate {
    // In the order in which they came.
    open: Arc<Mutex<Vec<OpenConnection>>>,
    came: Arc<AtomicU64>,
}

/// One open connection as the gate knows it.
struct OpenConnection {
    number: u64,
    whose: AddressPrefix,
    paired: Paired,
    // Dropped to end the connection.
    _ending: oneshot::Sender<()>,
}

/// Whether a paired device has asked something on this connection.
#[derive(Clone, Default)]
pub struct Paired(Arc<AtomicBool>);

impl Paired {
    /// A paired device asks.
    pub fn tell(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    fn is_told(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

impl Gate {
    /// Lets a connection in, where there is room or room can be made.
    pub fn admit(&self, stream: TcpStream) -> io::Result<Guarded> {
        let peer = stream.peer_addr()?;
        stream.set_nodelay(true)?;
        let seat = self.seat(AddressPrefix::of(peer.ip())).ok_or_else(|| io::Error::other("too many connections"))?;
        Ok(Guarded { stream, stalled: None, seat })
    }

    fn seat(&self, whose: AddressPrefix) -> Option<Seat> {
        let mut open = self.places();
        let of =
            |open: &[OpenConnection], whose: AddressPrefix| open.iter().filter(|place| place.whose == whose).count();
        if of(&open, whose) >= MOST_OF_ONE {
            end_oldest(&mut open, whose)?;
        } else if open.len() >= MOST {
            let most = open.iter().map(|place| place.whose).max_by_key(|whose| of(&open, *whose))?;
            end_oldest(&mut open, most)?;
        }
        let number = self.came.fetch_add(1, Ordering::Relaxed);
        let (ending, ended) = oneshot::channel();
        let paired = Paired::default();
        open.push(OpenConnection { number, whose, paired: paired.clone(), _ending: ending });
        Some(Seat { gate: self.clone(), number, paired, ended: Some(ended) })
    }

    fn places(&self) -> MutexGuard<'_, Vec<OpenConnection>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Ends the oldest connection of an address on which no paired device has asked; `None` where there is none.
fn end_oldest(open: &mut Vec<OpenConnection>, whose: AddressPrefix) -> Option<()> {
    let oldest = open.iter().position(|place| place.whose == whose && !place.paired.is_told())?;
    open.remove(oldest);
    Some(())
}

/// A place taken, given back when dropped.
struct Seat {
    gate: Gate,
    number: u64,
    paired: Paired,
    ended: Option<oneshot::Receiver<()>>,
}

impl Seat {
    /// Whether the gate has given the place to another.
    fn is_lost(&mut self, context: &mut Context<'_>) -> bool {
        if let Some(ended) = &mut self.ended
            && Pin::new(ended).poll(context).is_ready()
        {
            self.ended = None;
        }
        self.ended.is_none()
    }
}

impl Drop for Seat {
    fn drop(&mut self) {
        self.gate.places().retain(|place| place.number != self.number);
    }
}

/// A connection that ends when its other side takes nothing for [`STALL`], or its place goes to another.
pub struct Guarded {
    stream: TcpStream,
    stalled: Option<Pin<Box<Sleep>>>,
    seat: Seat,
}

impl Guarded {
    /// Where it is kept whether a paired device has asked on this connection.
    pub fn paired(&self) -> Paired {
        self.seat.paired.clone()
    }

    fn timed<T>(&mut self, context: &mut Context<'_>, polled: Poll<io::Result<T>>) -> Poll<io::Result<T>> {
        if polled.is_ready() {
            self.stalled = None;
            return polled;
        }
        let until = self.stalled.get_or_insert_with(|| Box::pin(sleep(STALL)));
        match until.as_mut().poll(context) {
            Poll::Ready(()) if until.deadline() <= Instant::now() => {
                Poll::Ready(Err(io::Error::new(io::ErrorKind::TimedOut, "nothing was taken for half a minute")))
            }
            _ => Poll::Pending,
        }
    }
}

fn given_away<T>() -> Poll<io::Result<T>> {
    Poll::Ready(Err(io::Error::new(io::ErrorKind::ConnectionReset, "its place was needed")))
}

impl AsyncRead for Guarded {
    fn poll_read(mut self: Pin<&mut Self>, context: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        if self.seat.is_lost(context) {
            return given_away();
        }
        Pin::new(&mut self.stream).poll_read(context, into)
    }
}

impl AsyncWrite for Guarded {
    fn poll_write(mut self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        if self.seat.is_lost(context) {
            return given_away();
        }
        let polled = Pin::new(&mut self.stream).poll_write(context, bytes);
        self.timed(context, polled)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }
}

#[cfg(test)]
mod tests {
    use std::net::IpAddr;
    use std::task::Waker;

    use super::*;

    fn prefix(last: u8) -> AddressPrefix {
        AddressPrefix::of(IpAddr::from([10, 0, 0, last]))
    }

    fn lost(seat: &mut Seat) -> bool {
        seat.is_lost(&mut Context::from_waker(Waker::noop()))
    }

    #[test]
    fn one_that_hoards_loses_its_oldest_and_nobody_elses() {
        let gate = Gate::default();
        let mut other = gate.seat(prefix(2)).expect("room");
        let mut seats: Vec<Seat> = (0..MOST_OF_ONE).filter_map(|_| gate.seat(prefix(1))).collect();
        assert_eq!(seats.len(), MOST_OF_ONE);
        assert!(!lost(&mut seats[0]));
        let mut one_more = gate.seat(prefix(1)).expect("room is made");
        assert!(lost(&mut seats[0]) && !lost(&mut seats[1]));
        assert!(!lost(&mut one_more) && !lost(&mut other));
        assert_eq!(gate.places().len(), MOST_OF_ONE + 1);
    }

    #[test]
    fn a_paired_devices_connection_is_never_taken() {
        let gate = Gate::default();
        let mut paired = gate.seat(prefix(1)).expect("room");
        paired.paired.tell();
        let hoard: Vec<Seat> = (0..10 * MOST_OF_ONE).filter_map(|_| gate.seat(prefix(1))).collect();
        assert_eq!(hoard.len(), 10 * MOST_OF_ONE);
        assert!(!lost(&mut paired));
        for seat in &hoard {
            seat.paired.tell();
        }
        assert!(gate.seat(prefix(1)).is_none(), "all of them are at work");
        assert!(gate.seat(prefix(2)).is_some());
    }

    #[test]
    fn where_all_is_full_whoever_has_most_gives_way() {
        let gate = Gate::default();
        let seats: Vec<Seat> = (0..MOST).filter_map(|at| gate.seat(prefix((at / 60) as u8))).collect();
        assert_eq!(seats.len(), MOST);
        let mut late = gate.seat(prefix(200)).expect("room is made");
        assert!(!lost(&mut late));
        assert_eq!(gate.places().len(), MOST);
    }
}
