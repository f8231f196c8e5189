//! The address as a QR code: in the terminal, and as a picture for a second device.

use qrcode::render::{svg, unicode};
use qrcode::{EcLevel, QrCode};

/// Drawn with half blocks, dark on light, as scanners like it whatever the terminal's colours: light is drawn.
pub fn for_terminal(text: &str) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::L).ok()?;
    Some(
        code.render::<unicode::Dense1x2>()
            .dark_color(unicode::Dense1x2::Light)
            .light_color(unicode::Dense1x2::Dark)
            .build(),
    )
}

/// As an SVG picture.
pub fn as_svg(text: &str) -> Option<String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    Some(
        code.render::<svg::Color<'_>>()
            .min_dimensions(240, 240)
            .dark_color(svg::Color("#000"))
            .light_color(svg::Color("#fff"))
            .build(),
    )
}
