//! Values to pictures.
