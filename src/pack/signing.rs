//! The shop's own key, in the open format of minisign (Ed25519).

use std::fmt;
use std::fs::{self, OpenOptions};
use std::io::{Cursor, Write};
use std::path::Path;

use minisign::{KeyPair, PublicKeyBox, SecretKey, SecretKeyBox, SignatureBox};

use super::error::{Doing, PackError};

/// The signature's name in a pack.
pub const SIGNATURE_FILE: &str = "MANIFEST.sha256.minisig";
/// The public key's name in a pack and in the settings' folder.
pub const PUBLIC_KEY_FILE: &str = "signing.pub";
/// The line of a signature that is not signed itself: always the same, so that a change of it shows.
const UNSIGNED_LINE: &str = "signature of MANIFEST.sha256; read it with minisign or hissward verify";
/// The longest key or signature file, bytes.
const LONGEST: u64 = 10_000;

/// A key that signs.
pub struct SigningKey {
    secret: SecretKey,
    public: PublicKey,
}

/// The public half of a key.
#[derive(Clone, PartialEq)]
pub struct PublicKey(minisign::PublicKey);

impl fmt::Debug for PublicKey {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "PublicKey({})", self.id())
    }
}

impl SigningKey {
    /// Makes a key and writes its halves: the secret one readable by its owner only, never over an old one.
    ///
    /// # Errors
    /// [`PackError`] where there is a key already, or the disk or the system's random numbers say no.
    pub fn make(secret: &Path, public: &Path) -> Result<Self, PackError> {
        let pair = KeyPair::generate_unencrypted_keypair().map_err(|error| refused(&error))?;
        let text = pair.sk.to_box(Some("hissward signing key: keep it secret")).map_err(|error| refused(&error))?;
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut file = match options.open(secret) {
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
                return Err(PackError::Exists { path: secret.to_owned() });
            }
            other => other.doing("making the key", secret)?,
        };
        file.write_all(text.into_string().as_bytes())
            .and_then(|()| file.sync_all())
            .doing("writing the key", secret)?;
        let key = Self { secret: pair.sk, public: PublicKey(pair.pk) };
        fs::write(public, key.public.text()?).doing("writing the public key", public)?;
        Ok(key)
    }

    /// Reads a secret key without a password, as this program or `minisign -G -W` makes it.
    ///
    /// # Errors
    /// [`PackError`] where it cannot be read, is none, or has a password.
    pub fn read(path: &Path) -> Result<Self, PackError> {
        let text = read_short(path)?;
        let wrong = |error: minisign::PError| PackError::Key {
            what: format!(
                "{}: no secret key that can be used ({error}): make one with 'hissward settings --make-key' or with \
                 'minisign -G -W' (without a password)",
                path.display()
            ),
        };
        let secret =
            SecretKeyBox::from_string(&text).and_then(SecretKeyBox::into_unencrypted_secret_key).map_err(wrong)?;
        let public = PublicKey(minisign::PublicKey::from_secret_key(&secret).map_err(wrong)?);
        Ok(Self { secret, public })
    }

    /// Its public half.
    #[must_use]
    pub fn public(&self) -> &PublicKey {
        &self.public
    }

    /// The signature of a text, as the text of a signature file; the comment is signed with it.
    pub(super) fn sign(&self, text: &str, comment: &str) -> Result<String, PackError> {
        let signed = minisign::sign(None, &self.secret, Cursor::new(text), Some(comment), Some(UNSIGNED_LINE));
        signed.map(SignatureBox::into_string).map_err(|error| refused(&error))
    }
}

impl PublicKey {
    /// Takes a public key: the text of a key file, or its second line alone.
    ///
    /// # Errors
    /// [`PackError::Key`] where it is none.
    pub fn of_text(text: &str) -> Result<Self, PackError> {
        let text = text.trim();
        let read = if text.contains('\n') {
            PublicKeyBox::from_string(text).and_then(PublicKeyBox::into_public_key)
        } else {
            minisign::PublicKey::from_base64(text)
        };
        let what = "this is not a public key: give the file signing.pub, or its second line";
        read.map(Self).map_err(|_| PackError::Key { what: what.to_owned() })
    }

    /// Takes the public key of a file.
    ///
    /// # Errors
    /// [`PackError`] where it cannot be read or is none.
    pub fn read(path: &Path) -> Result<Self, PackError> {
        Self::of_text(&read_short(path)?)
    }

    /// The key's number, as minisign shows it.
    #[must_use]
    pub fn id(&self) -> String {
        id_of(self.0.keynum())
    }

    /// The text of its file.
    pub(super) fn text(&self) -> Result<String, PackError> {
        self.0.to_box().map(PublicKeyBox::into_string).map_err(|error| refused(&error))
    }

    /// The comment that was signed with a text, where the signature holds.
    pub(super) fn holds(&self, text: &str, signature: &str) -> Result<String, String> {
        let signed = SignatureBox::from_string(signature).map_err(|_| "it cannot be read".to_owned())?;
        if signed.keynum() != self.0.keynum() {
            return Err(format!("it was made with the key {}, not with {}", id_of(signed.keynum()), self.id()));
        }
        minisign::verify(&self.0, &signed, Cursor::new(text), true, false, false)
            .map_err(|_| "it does not fit the manifest".to_owned())?;
        let comment = signed.trusted_comment().map_err(|_| "it has no comment".to_owned())?;
        // Its first line is not signed, and line ends may vary: only the form in which it is written will do.
        let canonical =
            signed.untrusted_comment().is_ok_and(|line| line == UNSIGNED_LINE) && signed.to_string() == signature;
        if canonical { Ok(comment) } else { Err("it is not in the form in which it is written".to_owned()) }
    }
}

fn id_of(number: &[u8]) -> String {
    number.iter().rev().map(|byte| format!("{byte:02X}")).collect()
}

fn read_short(path: &Path) -> Result<String, PackError> {
    let length = fs::metadata(path).doing("reading the key", path)?.len();
    if length > LONGEST {
        return Err(PackError::Key { what: format!("{}: too long for a key", path.display()) });
    }
    fs::read_to_string(path).doing("reading the key", path)
}

fn refused(error: &minisign::PError) -> PackError {
    PackError::Key { what: format!("the signature could not be made ({error}): please report this") }
}
