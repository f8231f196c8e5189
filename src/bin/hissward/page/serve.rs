//! The server: bound, announced, run until Ctrl+C.

use std::io;
use std::net::{IpAddr, Ipv4Addr, TcpListener, UdpSocket};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use hissward::caveat::Fact;
use hissward::words::Words;

use super::accepting::accept;
use super::app_state::{AppState, Reach};
use super::browser;
use super::job_directory::JobDirectory;
use super::log::Log;
use super::pairing::as_shown;
use super::place::data_folder;
use super::qr;
use super::router::router;
use super::session::{FolderIdentity, Sessions};
use super::terminal::wait_for_enter;
use super::tls::{Identity, identity};
use crate::console::{Console, Failure};

/// The port tried first, so that a phone finds the page again under the address it knows.
const USUAL_PORT: u16 = 8417;
/// How often recordings without a phone are looked for.
const SWEEP: Duration = Duration::from_secs(60);
/// An address outside, to learn which of our own leads there. Nothing is sent to it (TEST-NET-1, RFC 5737).
const SOMEWHERE: &str = "192.0.2.1:9";

/// How the page is to be served.
#[derive(Debug, Clone)]
pub struct Settings {
    /// A job, or a folder of jobs.
    pub path: PathBuf,
    /// On the shop's network, over TLS.
    pub lan: bool,
    /// The port; else the usual one, or a free one.
    pub port: Option<u16>,
    /// Opens the browser.
    pub open: bool,
}

/// Serves until it is told to end.
///
/// # Errors
/// Where the folder, the port or the certificate cannot be used.
pub fn serve(settings: &Settings, console: &Console) -> Result<(), Failure> {
    let directory = JobDirectory::at(&settings.path)?;
    let host = if settings.lan { own_address()? } else { IpAddr::V4(Ipv4Addr::LOCALHOST) };
    let listener = bound(host, settings.port)?;
    let port = listener.local_addr()?.port();
    let folder = data_folder();
    let secure = if settings.lan {
        let folder = folder.as_ref().map_err(|error| format!("no place for the certificate: {error}"))?;
        Some(identity(folder, &[host.to_string()])?)
    } else {
        None
    };
    let reach = reach(host, port, secure.is_some());
    let kept = folder.ok().map(|folder| folder.join("sessions.json"));
    let sessions = Sessions::of(FolderIdentity::of(&settings.path)?, kept);
    let state = AppState::new(directory, reach, sessions, Log::new(*console));
    announce(&state, secure.as_ref(), console)?;
    wait_for_enter(state.clone(), *console);
    if settings.open && !settings.lan {
        browser::open(&address_with_code(&state), console);
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(run(state, listener, secure))?;
    Ok(())
}

fn reach(host: IpAddr, port: u16, secure: bool) -> Reach {
    let scheme = if secure { "https" } else { "http" };
    // On the shop's network the page has one name; on this machine it has those that mean this machine.
    let names = if secure { vec![host.to_string()] } else { vec!["127.0.0.1".to_owned(), "localhost".to_owned()] };
    let hosts = names.iter().map(|name| format!("{name}:{port}")).collect();
    Reach { hosts, scheme, address: format!("{scheme}://{host}:{port}") }
}

fn bound(host: IpAddr, port: Option<u16>) -> Result<TcpListener, Failure> {
    if let Some(port) = port {
        return TcpListener::bind((host, port))
            .map_err(|error| format!("port {port} cannot be used ({error}): name another with --port").into());
    }
    match TcpListener::bind((host, USUAL_PORT)) {
        Ok(listener) => Ok(listener),
        Err(_) => TcpListener::bind((host, 0)).map_err(|error| format!("no port is free ({error})").into()),
    }
}

/// The address by which others on the network reach this machine.
pub fn own_address() -> Result<IpAddr, Failure> {
    let probe = || -> io::Result<IpAddr> {
        let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
        socket.connect(SOMEWHERE)?;
        Ok(socket.local_addr()?.ip())
    };
    match probe() {
        Ok(address) if !address.is_unspecified() => Ok(address),
        _ => Err("this computer is on no network: join the shop's network, or leave --lan out".into()),
    }
}

fn address_with_code(state: &AppState) -> String {
    format!("{}/#{}", state.reach().address, state.auth().pairing.code(Instant::now()))
}

fn announce(state: &AppState, secure: Option<&Identity>, console: &Console) -> Result<(), Failure> {
    let words = Words::of("en")?;
    console.data(&format!("{}\n", address_with_code(state)))?;
    let code = state.auth().pairing.code(Instant::now());
    announce_code(state, &code, console)?;
    if let Some(identity) = secure {
        let facts = [("text", Fact::Text(identity.fingerprint.clone()))];
        console.talk(&words.say("page-terminal-certificate", &facts));
    }
    console.talk(&words.say("page-terminal-anew", &[]));
    console.talk(&words.say("page-terminal-end", &[]));
    Ok(())
}

/// Shows a code, on the shop's network with what a phone scans.
///
/// # Errors
/// Where there are no words.
pub fn announce_code(state: &AppState, code: &str, console: &Console) -> Result<(), Failure> {
    let words = Words::of("en")?;
    let facts = |text: &str| [("text", Fact::Text(text.to_owned()))];
    if state.reach().is_secure() {
        if let Some(picture) = qr::for_terminal(&format!("{}/#{code}", state.reach().address)) {
            console.talk(&picture);
        }
        console.talk(&words.say("page-terminal-scan", &facts(&state.reach().address)));
    }
    console.talk(&words.say("page-terminal-code", &facts(&as_shown(code))));
    Ok(())
}

async fn run(state: AppState, listener: TcpListener, secure: Option<Identity>) -> io::Result<()> {
    listener.set_nonblocking(true)?;
    let listener = tokio::net::TcpListener::from_std(listener)?;
    let sweeper = state.clone();
    tokio::spawn(async move {
        let mut beat = tokio::time::interval(SWEEP);
        loop {
            beat.tick().await;
            let state = sweeper.clone();
            // A sweep that failed is made again a minute later.
            if let Err(error) = tokio::task::spawn_blocking(move || state.sweep()).await {
                sweeper.log().line(None, &format!("recordings whose phone went away are looked at again: {error}"));
            }
        }
    });
    accept(listener, secure.map(|identity| identity.config), router(state), until_told()).await;
    Ok(())
}

async fn until_told() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut told) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = told.recv() => return,
                _ = tokio::signal::ctrl_c() => return,
            }
        }
    }
    // Where no signal can be waited for, the program is ended from outside; nothing is lost by that either.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
