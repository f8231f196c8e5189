//! On the shop's network: over TLS, by the certificate whose fingerprint is printed.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use hissward::job::Sha256;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::CryptoProvider;
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::{ClientConfig, ClientConnection, DigitallySignedStruct, Error, SignatureScheme, StreamOwned};

/// The program on the shop's network.
struct OnTheNetwork {
    child: Child,
    host: String,
    code: String,
    fingerprint: String,
}

impl OnTheNetwork {
    /// Serves; `None` where this machine is on no network.
    fn start(folder: &Path) -> Option<Self> {
        let jobs = folder.join("jobs");
        std::fs::create_dir_all(&jobs).expect("made");
        let mut child = Command::new(env!("CARGO_BIN_EXE_hissward"))
            .args(["page", "--lan", "--no-open"])
            .arg(&jobs)
            .env("XDG_DATA_HOME", folder.join("data"))
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut address = String::new();
        BufReader::new(child.stdout.take().expect("piped")).read_line(&mut address).expect("a line");
        let mut told = BufReader::new(child.stderr.take().expect("piped")).lines().map(|line| line.expect("UTF-8"));
        if address.is_empty() {
            let said = told.collect::<String>();
            child.wait().expect("ended");
            assert!(said.contains("this computer is on no network"), "{said}");
            return None;
        }
        let is_fingerprint = |line: &String| line.trim().len() == 95 && line.trim().split(':').count() == 32;
        let fingerprint = told.find(is_fingerprint).expect("the fingerprint is printed").trim().to_owned();
        // It goes on talking; somebody has to listen.
        std::thread::spawn(move || told.for_each(drop));
        let (host, code) =
            address.trim().strip_prefix("https://").and_then(|rest| rest.split_once("/#")).expect("an address");
        Some(Self { host: host.to_owned(), code: code.to_owned(), fingerprint, child })
    }

    /// A request over TLS, by a client that trusts this fingerprint and nothing else.
    fn ask(&self, fingerprint: &str, request: &str) -> std::io::Result<String> {
        let provider = Arc::new(rustls::crypto::ring::default_provider());
        let pinned = Pinned { fingerprint: fingerprint.to_owned(), provider: Arc::clone(&provider) };
        let config = ClientConfig::builder_with_provider(provider)
            .with_safe_default_protocol_versions()
            .expect("versions")
            .dangerous()
            .with_custom_certificate_verifier(Arc::new(pinned))
            .with_no_client_auth();
        let (name, _) = self.host.rsplit_once(':').expect("a port");
        let name = ServerName::try_from(name.to_owned()).expect("an address");
        let connection = ClientConnection::new(Arc::new(config), name).expect("a client");
        let socket = TcpStream::connect(&self.host)?;
        socket.set_read_timeout(Some(Duration::from_secs(30)))?;
        let mut stream = StreamOwned::new(connection, socket);
        stream.write_all(request.as_bytes())?;
        let mut answer = Vec::new();
        // One that hangs up without a goodbye has said all there is.
        match stream.read_to_end(&mut answer) {
            Ok(_) => {}
            Err(error) if error.kind() == std::io::ErrorKind::UnexpectedEof && !answer.is_empty() => {}
            Err(error) => return Err(error),
        }
        Ok(String::from_utf8_lossy(&answer).into_owned())
    }
}

impl Drop for OnTheNetwork {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// Trusts one certificate by its SHA-256, as a person does who compares fingerprints.
#[derive(Debug)]
struct Pinned {
    fingerprint: String,
    provider: Arc<CryptoProvider>,
}

impl ServerCertVerifier for Pinned {
    fn verify_server_cert(
        &self,
        certificate: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: &ServerName<'_>,
        _: &[u8],
        _: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        let hash = Sha256::of(certificate);
        let shown = hash.0.iter().map(|byte| format!("{byte:02X}")).collect::<Vec<_>>().join(":");
        if shown == self.fingerprint {
            return Ok(ServerCertVerified::assertion());
        }
        Err(Error::General(format!("another certificate: {shown}")))
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        let known = &self.provider.signature_verification_algorithms;
        rustls::crypto::verify_tls12_signature(message, certificate, signed, known)
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        let known = &self.provider.signature_verification_algorithms;
        rustls::crypto::verify_tls13_signature(message, certificate, signed, known)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider.signature_verification_algorithms.supported_schemes()
    }
}

#[test]
fn the_network_is_served_by_the_certificate_whose_fingerprint_is_printed() {
    let folder = tempfile::tempdir().expect("a folder");
    let Some(served) = OnTheNetwork::start(folder.path()) else {
        #[expect(clippy::print_stderr, reason = "a test that looked at nothing says so")]
        {
            eprintln!("not looked at: this machine is on no network");
        }
        return;
    };
    let host = &served.host;
    let page = format!("GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n");
    let answer = served.ask(&served.fingerprint, &page).expect("the pinned certificate is served");
    assert!(answer.starts_with("HTTP/1.1 200") && answer.contains("<title>hissward"), "{answer}");
    // Whoever sits between shows another certificate: one digit is enough.
    let last = if served.fingerprint.ends_with('0') { '1' } else { '0' };
    let wrong = format!("{}{last}", &served.fingerprint[..94]);
    let refused = served.ask(&wrong, &page).expect_err("another fingerprint");
    assert!(refused.to_string().contains("another certificate"), "{refused}");
    // The session's cookie never travels without TLS.
    let body = format!("{{\"code\":\"{}\"}}", served.code);
    let pair = format!(
        "POST /api/pair HTTP/1.1\r\nHost: {host}\r\nOrigin: https://{host}\r\nContent-Type: application/json\r\n\
         Connection: close\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    );
    let paired = served.ask(&served.fingerprint, &pair).expect("an answer");
    let cookie = paired.lines().find(|line| line.to_lowercase().starts_with("set-cookie:")).unwrap_or_default();
    for word in ["HttpOnly", "SameSite=Strict", "Secure"] {
        assert!(cookie.contains(word), "no {word} in {paired}");
    }
    // A page of the same host without TLS is a foreign one.
    let foreign = pair.replace("https://", "http://");
    assert!(served.ask(&served.fingerprint, &foreign).expect("an answer").starts_with("HTTP/1.1 403"));
    // Nothing is served without TLS.
    let mut plain = TcpStream::connect(host).expect("connected");
    plain.set_read_timeout(Some(Duration::from_secs(30))).expect("set");
    plain.write_all(page.as_bytes()).expect("sent");
    let mut got = Vec::new();
    // A hang-up by reset is as good.
    drop(plain.read_to_end(&mut got));
    assert!(!String::from_utf8_lossy(&got).contains("HTTP/1.1"), "{got:?}");
    // A phone that accepted it knows it again.
    let fingerprint = served.fingerprint.clone();
    drop(served);
    let again = OnTheNetwork::start(folder.path()).expect("still on the network");
    assert_eq!(again.fingerprint, fingerprint);
}
