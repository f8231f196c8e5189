//! Connections taken in and answered, until the program is to end.

use std::convert::Infallible;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::{ConnectInfo, Request};
use axum::response::Response;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::{GracefulShutdown, Watcher};
use hyper_util::service::TowerToHyperService;
use rustls::ServerConfig;
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::{TcpListener, TcpStream};
use tokio::time::{sleep, timeout};
use tokio_rustls::TlsAcceptor;

use super::connections::{Gate, Paired};

/// How long a handshake may take, and a request line with its headers.
const HEADER_TIME: Duration = Duration::from_secs(10);
/// How long running requests may take when the program ends.
const GRACE: Duration = Duration::from_secs(2);
/// The next try where the system gives no connection (too many files are open, say).
const LATER: Duration = Duration::from_millis(100);

/// A connection, over TLS or not.
trait Line: AsyncRead + AsyncWrite + Unpin + Send {}

impl<T: AsyncRead + AsyncWrite + Unpin + Send> Line for T {}

/// Answers whoever comes, by `router`, over TLS where there is an identity to show, until `told`; then no new connection is
/// taken, and those that are open may finish what they are at.
pub async fn accept(
    listener: TcpListener,
    secure: Option<Arc<ServerConfig>>,
    router: Router,
    told: impl Future<Output = ()>,
) {
    let secure = secure.map(TlsAcceptor::from);
    let gate = Gate::default();
    let open = GracefulShutdown::new();
    tokio::pin!(told);
    loop {
        let come = tokio::select! {
            biased;
            () = &mut told => break,
            come = listener.accept() => come,
        };
        let Ok((stream, peer)) = come else {
            sleep(LATER).await;
            continue;
        };
        let (gate, secure, router, watcher) = (gate.clone(), secure.clone(), router.clone(), open.watcher());
        tokio::spawn(async move {
            // Whoever does not come in, or breaks off, is the only one to know why.
            if let Ok((line, paired)) = let_in(stream, &gate, secure).await {
                drop(answer(line, peer, paired, router, watcher).await);
            }
        });
    }
    drop(listener);
    // What is not done by then ends with the program.
    drop(timeout(GRACE, open.shutdown()).await);
}

async fn let_in(stream: TcpStream, gate: &Gate, secure: Option<TlsAcceptor>) -> io::Result<(Box<dyn Line>, Paired)> {
    let guarded = gate.admit(stream)?;
    let paired = guarded.paired();
    let line: Box<dyn Line> = match secure {
        None => Box::new(guarded),
        Some(secure) => Box::new(timeout(HEADER_TIME, secure.accept(guarded)).await??),
    };
    Ok((line, paired))
}

async fn answer(
    line: Box<dyn Line>,
    peer: SocketAddr,
    paired: Paired,
    router: Router,
    watcher: Watcher,
) -> hyper::Result<()> {
    let router = TowerToHyperService::new(router);
    let service = service_fn(move |request: hyper::Request<Incoming>| {
        let mut request: Request = request.map(Body::new);
        request.extensions_mut().insert(ConnectInfo(peer));
        request.extensions_mut().insert(paired.clone());
        let answer = router.call(request);
        async move { answer.await as Result<Response, Infallible> }
    });
    let mut builder = http1::Builder::new();
    builder.timer(TokioTimer::new()).header_read_timeout(HEADER_TIME);
    watcher.watch(builder.serve_connection(TokioIo::new(line), service)).await
}
