//! The shop's logo.

use std::path::Path;

use hissward::report::Logo;

use super::telling::told;

/// Takes a picture for the report's head.
pub fn logo(bytes: &[u8], _scratch: &Path) {
    match Logo::read(bytes.to_vec()) {
        Err(error) => told(&error),
        Ok(logo) => {
            assert!(logo.aspect().is_finite() && logo.aspect() > 0.0);
            assert_eq!(logo.file(), bytes);
        }
    }
}
