//! The job folder: format, store, names, hashes.
