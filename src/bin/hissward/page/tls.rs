//! A certificate made once and kept, so that a phone that accepted it knows it again.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use hissward::job::Sha256;
use hissward::job::When;
use rcgen::{CertificateParams, DistinguishedName, DnType, ExtendedKeyUsagePurpose, KeyPair};
use rustls::ServerConfig;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};

use super::place::write_private;

/// How long a certificate is good: some phones take none that is good for more than 825 days (memory).
const LIFE_DAYS: i64 = 820;
/// A new one is made so long before the end.
const RENEWED_DAYS: i64 = 60;
const DAY_S: i64 = 24 * 3600;

/// Key and certificate in one file, so that they are replaced together.
const FILE: &str = "certificate.pem";

/// Why there is no certificate.
#[derive(Debug, thiserror::Error)]
pub enum TlsError {
    /// The file.
    #[error("{}: {source}: move it away, a new certificate is made then (phones ask once more)", path.display())]
    File {
        /// Where.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Not a certificate.
    #[error("{}: {detail}: move it away, a new certificate is made then (phones ask once more)", path.display())]
    Broken {
        /// Where.
        path: PathBuf,
        /// What is wrong.
        detail: String,
    },
}

/// What the server shows, and how people know that it is the one.
pub struct Identity {
    /// For the server.
    pub config: Arc<ServerConfig>,
    /// SHA-256 of the certificate, as browsers show it.
    pub fingerprint: String,
}

/// The identity kept in a folder, made where there is none yet or an address is new.
///
/// # Errors
/// [`TlsError`].
pub fn identity(folder: &Path, names: &[String]) -> Result<Identity, TlsError> {
    let path = folder.join(FILE);
    let broken = |detail: String| TlsError::Broken { path: path.clone(), detail };
    let pem = match fs::read_to_string(&path) {
        Ok(pem) if covers(&pem, names) => pem,
        Ok(_) => made(&path, names)?,
        Err(error) if error.kind() == io::ErrorKind::NotFound => made(&path, names)?,
        Err(source) => return Err(TlsError::File { path, source }),
    };
    let certificate = CertificateDer::from_pem_slice(pem.as_bytes()).map_err(|error| broken(error.to_string()))?;
    let key = PrivateKeyDer::from_pem_slice(pem.as_bytes()).map_err(|error| broken(error.to_string()))?;
    let hash = Sha256::of(&certificate);
    let pairs: Vec<String> = hash.0.iter().map(|byte| format!("{byte:02X}")).collect();
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let mut config = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .and_then(|builder| builder.with_no_client_auth().with_single_cert(vec![certificate], key))
        .map_err(|error| broken(error.to_string()))?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(Identity { config: Arc::new(config), fingerprint: pairs.join(":") })
}

/// The first line names until when and for what the certificate is good: browsers complain twice about one for
/// another address.
fn covers(pem: &str, names: &[String]) -> bool {
    let told = pem.lines().next().and_then(|line| line.strip_prefix("# until ")?.split_once(" for "));
    let ends_s = told.and_then(|(ends, _)| ends.parse::<When>().ok()).map_or(0, |ends| ends.timestamp().as_second());
    let left_s = ends_s - When::now().timestamp().as_second();
    left_s > RENEWED_DAYS * DAY_S && told.is_some_and(|(_, whom)| whom == names.join(" "))
}

fn made(path: &Path, names: &[String]) -> Result<String, TlsError> {
    let broken = |error: rcgen::Error| TlsError::Broken { path: path.to_owned(), detail: error.to_string() };
    let key = KeyPair::generate().map_err(broken)?;
    let mut params = CertificateParams::new(names.to_vec()).map_err(broken)?;
    let mut who = DistinguishedName::new();
    who.push(DnType::CommonName, "hissward bench page");
    params.distinguished_name = who;
    let begin = |day: jiff::civil::Date| {
        rcgen::date_time_ymd(day.year().into(), day.month().unsigned_abs(), day.day().unsigned_abs())
    };
    params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
    let now = When::now().timestamp().as_second();
    let end = day_of(now + LIFE_DAYS * DAY_S);
    // From yesterday on: the phone's clock may be behind.
    (params.not_before, params.not_after) = (begin(day_of(now - DAY_S)), begin(end));
    let certificate = params.self_signed(&key).map_err(broken)?;
    let pem = format!("# until {end}T00:00:00Z for {}\n{}{}", names.join(" "), certificate.pem(), key.serialize_pem());
    write_private(path, pem.as_bytes()).map_err(|source| TlsError::File { path: path.to_owned(), source })?;
    Ok(pem)
}

fn day_of(at_s: i64) -> jiff::civil::Date {
    // Only times beyond year 9999 are none; the first day of all then makes a certificate that has ended.
    jiff::tz::Offset::UTC.to_datetime(jiff::Timestamp::from_second(at_s).unwrap_or_default()).date()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_made_once_and_kept_private() {
        let folder = tempfile::tempdir().expect("a folder");
        let names = ["192.168.1.5".to_owned(), "localhost".to_owned()];
        let first = identity(folder.path(), &names).expect("made").fingerprint;
        assert_eq!(first.len(), 32 * 3 - 1);
        assert_eq!(identity(folder.path(), &names).expect("kept").fingerprint, first);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = fs::metadata(folder.path().join(FILE)).expect("there").permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
        let moved = identity(folder.path(), &names[..1]).expect("made anew for another address").fingerprint;
        assert_ne!(moved, first);
        fs::write(folder.path().join(FILE), "# until 2999-01-01T00:00:00Z for 192.168.1.5\nnonsense").expect("written");
        let told = identity(folder.path(), &names[..1]).err().expect("told").to_string();
        assert!(told.contains("certificate.pem") && told.contains("move it away"), "{told}");
    }
}
