//! `hissward settings`: what a shop sets once for all its jobs.

use std::fs;

use hissward::pack::SigningKey;
use hissward::report::{Logo, PaperSize};
use hissward::settings::{Change, Settings, SettingsFolder};
use hissward::units::UnitSystem;
use hissward::words::Words;
use serde_json::json;

use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward settings`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hissward settings --name \"Pier Boatyard\" --address \"2 Quay Street; Sandhaven\" --logo logo.png\n  \
    hissward settings --make-key\n\nWithout options it shows what is set and where. An empty text removes a setting."
)]
pub struct Arguments {
    /// The shop's name at the head of reports
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    /// Its address; a semicolon begins a new line
    #[arg(long, value_name = "TEXT")]
    address: Option<String>,
    /// Its logo, a PNG or JPEG file; a copy is kept beside the settings
    #[arg(long, value_name = "FILE")]
    logo: Option<String>,
    /// Free text at the end of reports
    #[arg(long, value_name = "TEXT")]
    text: Option<String>,
    /// Language of reports, as in en or de
    #[arg(long, value_name = "CODE")]
    language: Option<String>,
    /// Paper of reports: a4 or letter
    #[arg(long, value_name = "SIZE")]
    paper: Option<String>,
    /// Units of reports: metric or psi
    #[arg(long, value_name = "SYSTEM")]
    units: Option<String>,
    /// Makes the shop's own key for signing packs
    #[arg(long)]
    make_key: bool,
    /// Prints the settings as JSON
    #[arg(long)]
    json: bool,
}

/// Keeps what was given, and shows what is set.
pub fn run(arguments: Arguments, console: &Console) -> Result<Outcome, Failure> {
    let place = SettingsFolder::of_user()?;
    let json = arguments.json;
    if arguments.make_key {
        make_key(&place, console)?;
    }
    let changes = changes(arguments, &place)?;
    let settings = if changes.is_empty() { Settings::read(&place)? } else { Change::keep(&changes, &place)? };
    if json {
        console.data(&as_json(&settings, &place))?
    } else {
        console.data(&as_text(&settings, &place)?)?
    }
    Ok(Outcome::Done)
}

fn make_key(place: &SettingsFolder, console: &Console) -> Result<(), Failure> {
    fs::create_dir_all(place.folder())?;
    let key = SigningKey::make(&place.signing_key(), &place.public_key())?;
    let public = place.public_key();
    console.talk(&format!(
        "Made the key {}. Keep {} secret and safe; give {} to whoever is to check your packs.",
        key.public().id(),
        place.signing_key().display(),
        public.display()
    ));
    Ok(())
}

/// What was given, checked before anything is kept.
fn changes(arguments: Arguments, place: &SettingsFolder) -> Result<Vec<Change>, Failure> {
    if let Some(language) = arguments.language.as_deref().filter(|code| !code.is_empty()) {
        Words::of(language)?;
    }
    if let Some(paper) = arguments.paper.as_deref().filter(|paper| !paper.is_empty()) {
        paper.parse::<PaperSize>()?;
    }
    if let Some(units) = arguments.units.as_deref().filter(|units| !units.is_empty()) {
        units.parse::<UnitSystem>()?;
    }
    let logo = match arguments.logo {
        Some(path) if !path.is_empty() => Some(kept_logo(&path, place)?),
        other => other,
    };
    let given = [
        arguments.name.map(Change::Name),
        arguments.address.map(Change::Address),
        logo.map(Change::Logo),
        arguments.text.map(Change::Text),
        arguments.language.map(Change::Language),
        arguments.paper.map(Change::Paper),
        arguments.units.map(Change::Units),
    ];
    Ok(given.into_iter().flatten().collect())
}

/// Copies a logo beside the settings, after looking that it can be shown; returns its name there.
fn kept_logo(path: &str, place: &SettingsFolder) -> Result<String, Failure> {
    let bytes = fs::read(path).map_err(|error| format!("{path}: reading the logo failed: {error}"))?;
    let logo = Logo::read(bytes).map_err(|error| format!("{path}: {error}"))?;
    let name = if logo.kind() == "image/png" { "logo.png" } else { "logo.jpg" };
    fs::create_dir_all(place.folder())?;
    let mut new = tempfile::NamedTempFile::new_in(place.folder())?;
    std::io::Write::write_all(&mut new, logo.file())?;
    new.persist(place.folder().join(name))?;
    Ok(name.to_owned())
}

/// The settings' file as it stands, after its path.
fn as_text(settings: &Settings, place: &SettingsFolder) -> Result<String, Failure> {
    let path = place.file();
    let content = match fs::read_to_string(&path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            "Nothing is set yet; see 'hissward settings --help'.\n".to_owned()
        }
        other => other?,
    };
    let logo = settings.logo(place).map(|logo| format!("\nlogo: {}\n", logo.display())).unwrap_or_default();
    let key = place.signing_key();
    let key = if key.exists() { format!("\nsigning key: {}\n", key.display()) } else { String::new() };
    Ok(format!("{}\n\n{content}{logo}{key}", path.display()))
}

fn as_json(settings: &Settings, place: &SettingsFolder) -> String {
    let shown = json!({
        "format": 1,
        "file": place.file().display().to_string(),
        "shop": {
            "name": settings.name(),
            "address": settings.address(),
            "logo": settings.logo(place).map(|logo| logo.display().to_string()),
            "text": settings.text(),
        },
        "report": { "language": settings.language(), "paper": settings.paper(), "units": settings.units() },
        "signing_key": place.signing_key().exists(),
    });
    format!("{shown:#}\n")
}
