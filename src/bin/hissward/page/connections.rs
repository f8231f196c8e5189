//! Connections: only so many, and none that hangs for ever.

use std::collections::BTreeMap;
use std::io;
use std::net::IpAddr;
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Instant, Sleep, sleep};

/// All connections at one time.
const MOST: usize = 1024;
/// Those of one address: one that hoards leaves room for the others.
const MOST_OF_ONE: usize = 256;
/// How long somebody may take nothing of what is sent to them.
const STALL: Duration = Duration::from_secs(30);

/// Lets connections in as long as there is room.
#[derive(Clone, Default)]
pub struct Gate {
    open: Arc<Mutex<BTreeMap<IpAddr, usize>>>,
}

/// One place, given back when dropped.
struct Place {
    gate: Gate,
    address: IpAddr,
}

impl Gate {
    /// Lets a connection in, where there is room.
    pub fn admit(&self, stream: TcpStream) -> io::Result<Guarded> {
        let peer = stream.peer_addr()?;
        stream.set_nodelay(true)?;
        let place = self.place(peer.ip()).ok_or_else(|| io::Error::other("too many connections"))?;
        Ok(Guarded { stream, stalled: None, _place: place })
    }

    fn place(&self, address: IpAddr) -> Option<Place> {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        if open.values().sum::<usize>() >= MOST || open.get(&address).is_some_and(|count| *count >= MOST_OF_ONE) {
            return None;
        }
        *open.entry(address).or_default() += 1;
        Some(Place { gate: self.clone(), address })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut open = self.gate.open.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = open.get_mut(&self.address) {
            *count -= 1;
            if *count == 0 {
                open.remove(&self.address);
            }
        }
    }
}

/// A connection that ends when its other side takes nothing for [`STALL`].
pub struct Guarded {
    stream: TcpStream,
    stalled: Option<Pin<Box<Sleep>>>,
    _place: Place,
}

impl Guarded {
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

impl AsyncRead for Guarded {
    fn poll_read(mut self: Pin<&mut Self>, context: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, into)
    }
}

impl AsyncWrite for Guarded {
    fn poll_write(mut self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
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
    use super::*;

    #[test]
    fn one_that_hoards_leaves_room() {
        let gate = Gate::default();
        let (one, other) = (IpAddr::from([10, 0, 0, 1]), IpAddr::from([10, 0, 0, 2]));
        let mut places: Vec<Place> = (0..MOST_OF_ONE).filter_map(|_| gate.place(one)).collect();
        assert_eq!(places.len(), MOST_OF_ONE);
        assert!(gate.place(one).is_none());
        assert!(gate.place(other).is_some());
        places.pop();
        assert!(gate.place(one).is_some());
    }
}
