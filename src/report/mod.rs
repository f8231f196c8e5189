//! Values to text, JSON, HTML.
