//! A whole report's input, as a job would give it: readings, rankings, circumstances, sounds, the letterhead.

use hissward::clip::Clip;
use hissward::finding::{CylinderRow, Engine, Findings};
use hissward::gauge::{Assessment, Conditions, Reading, assess, assess_rig};
use hissward::opening::Air;
use hissward::pipeline::{SoundSource, report_sounds};
use hissward::ranking::Ranking;
use hissward::report::{
    self, Circumstances, ClipNote, Document, Letterhead, Logo, ReportHead, ReportInput, ReportSounds,
};
use hissward::units::{AbsolutePressure, GaugePressure, Hertz, Length, Seconds, UnitSystem};
use hissward::words::Words;

use crate::cases;

/// What a report is made from, owned.
pub struct Evidence {
    pub head: ReportHead,
    pub letterhead: Option<Letterhead>,
    pub engine: Engine,
    pub circumstances: Circumstances,
    pub sounds: Option<ReportSounds>,
    pub units: UnitSystem,
}

impl Evidence {
    pub fn document(&self, language: &str) -> Document {
        let words = Words::of(language).expect("a language there is");
        let findings = Findings::of(&self.engine).expect("findings");
        let input = ReportInput {
            letterhead: self.letterhead.as_ref(),
            head: &self.head,
            engine: &self.engine,
            findings: &findings,
            circumstances: &self.circumstances,
            sounds: self.sounds.as_ref(),
            words: &words,
            units: self.units,
        };
        report::document(&input).expect("a document")
    }

    pub fn page(&self, language: &str) -> String {
        report::html(&self.document(language)).expect("a page")
    }
}

fn psi(supply: f64, held: f64) -> Reading {
    Reading::Pressures { supply: GaugePressure::from_psi(supply), held: GaugePressure::from_psi(held) }
}

fn conditions() -> Conditions {
    Conditions { restrictor: Some(Length::from_inches(0.040)), ..Conditions::default() }
}

fn rig() -> Reading {
    psi(80.0, 78.5)
}

fn read(held: f64) -> Assessment {
    assess(&psi(80.0, held), Some(&rig()), &conditions()).expect("a reading that can be")
}

fn row(cylinder: u32, held: f64, ranking: Ranking) -> CylinderRow {
    CylinderRow { cylinder, cold: false, gauge: Some(read(held)), ranking: Some(ranking) }
}

/// An engine with the rankings given, its gauges read: cylinder 2 far worse than the others.
pub fn engine(rankings: Vec<Ranking>) -> Engine {
    let held = |cylinder: u32| if cylinder == 2 { 55.0 } else { 76.5 };
    let rows = rankings.into_iter().map(|ranking| {
        let cylinder = ranking.cylinder.expect("a cylinder");
        row(cylinder, held(cylinder), ranking)
    });
    let rig = assess_rig(&rig(), &conditions()).expect("a reading that can be");
    let rows: Vec<CylinderRow> = rows.collect();
    let cylinders = rows.iter().map(|row| row.cylinder).max().unwrap_or(1);
    Engine { cylinders, rig: Some(rig), rows, ..Engine::default() }
}

pub fn boat_head() -> ReportHead {
    ReportHead {
        engine: "Workboat Tern, three-cylinder petrol engine".into(),
        date: Some("14 March 2026".into()),
        customer: Some("Harbour office, Sandhaven".into()),
        tested_by: Some("The yard at Sandhaven Pier".into()),
        notes: Some("Warm. Compressor running, slipway winch in use now and then.".into()),
    }
}

/// A small logo: a dark square with a light bar.
pub fn logo() -> Logo {
    let (width, height) = (120_u32, 80_u32);
    let pixel = |place: u32| -> [u8; 3] {
        let (x, y) = (place % width, place / width);
        if (30..50).contains(&y) && x > 15 && x < 105 { [255, 255, 255] } else { [0x0a, 0x4b, 0x80] }
    };
    let pixels: Vec<u8> = (0..width * height).flat_map(pixel).collect();
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(png::ColorType::Rgb);
    let mut writer = encoder.write_header().expect("a head");
    writer.write_image_data(&pixels).expect("pixels");
    writer.finish().expect("an end");
    Logo::read(file).expect("a logo that can be used")
}

pub fn letterhead() -> Letterhead {
    Letterhead {
        name: "Sandhaven Pier Boatyard".into(),
        address: vec!["2 Quay Street, Sandhaven".into(), "Telephone 0000 5550".into()],
        logo: Some(logo()),
        text: Some("Thank you for your trust. Questions about this report are welcome at the yard.".into()),
    }
}

/// Noise of a shop that falls with frequency, and a hiss over it; the same for every run.
fn noise(seed: u32, hiss: f32) -> Clip {
    let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(1);
    let mut white = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0) as f32
    };
    let (mut low, mut last) = (0.0_f32, 0.0_f32);
    let samples = (0..48_000 * 6).map(|_| {
        let (room, air) = (white(), white());
        low = 0.97 * low + 0.03 * room;
        let sharp = air - last;
        last = air;
        0.05 * low + 0.003 * room + hiss * sharp
    });
    Clip::new(samples.collect(), Hertz(48_000.0), "noise").expect("a clip")
}

/// Quiet and air at every opening of every cylinder: 18 clips of 6 s.
pub fn sounds() -> ReportSounds {
    let mut sources = Vec::new();
    for cylinder in 1..=3 {
        for (place, opening) in ["intake", "exhaust", "oil-filler"].into_iter().enumerate() {
            let seed = cylinder * 10 + place as u32;
            let hiss = if cylinder == 2 && opening == "oil-filler" { 0.004 } else { 0.0 };
            sources.push(SoundSource {
                cylinder: Some(cylinder),
                opening: cases::opening(opening),
                take: 1,
                clips: vec![(Air::Off, noise(seed, 0.0)), (Air::On, noise(seed + 100, hiss))],
            });
        }
    }
    report_sounds(&sources).expect("sounds")
}

fn clip_notes() -> Vec<ClipNote> {
    let note = |file: &str, hour: u32| ClipNote {
        file: file.into(),
        recorded: Some(format!("2026-03-14 {hour}:12:40+01:00[Europe/Berlin]")),
        length: Seconds(6.0),
        sample_rate_hz: 48_000,
        device: Some("USB microphone".into()),
        sha256: "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08".into(),
        left_out: None,
    };
    let bumped = ClipNote { left_out: Some("somebody dropped a spanner".into()), ..note("c3-exhaust-on-t1.wav", 11) };
    vec![note("c1-intake-off-t1.wav", 10), note("c1-intake-on-t1.wav", 10), bumped]
}

pub fn circumstances() -> Circumstances {
    Circumstances {
        hot: Some(true),
        restrictor: Some(Length::from_inches(0.040)),
        ambient: Some(AbsolutePressure::from_kpa(101.3)),
        microphone: Some("USB microphone".into()),
        cautions_confirmed: Some("2026-03-14 10:05".into()),
        made_with: Some("hissward 0.1.0".into()),
        clips: clip_notes(),
        amended: Vec::new(),
    }
}

/// The whole boat, without its sounds.
pub fn boat() -> Evidence {
    Evidence {
        head: boat_head(),
        letterhead: Some(letterhead()),
        engine: engine(cases::boat()),
        circumstances: circumstances(),
        sounds: None,
        units: UnitSystem::Metric,
    }
}

/// An engine of eight cylinders with all kinds of answers: two that leak much, two leaks in one, one that is not
/// settled, four that hold.
pub fn eight_cylinders() -> Evidence {
    let of = |cylinder: u32, ranking: Ranking| Ranking { cylinder: Some(cylinder), ..ranking };
    let rows = vec![
        row(1, 76.5, of(1, cases::tight())),
        row(2, 55.0, of(2, cases::located())),
        row(3, 58.0, of(3, cases::undecided())),
        row(4, 50.0, of(4, cases::shared())),
        row(5, 76.0, of(5, cases::tight())),
        row(6, 52.0, of(6, cases::located())),
        row(7, 77.0, of(7, cases::tight())),
        row(8, 76.5, of(8, cases::tight())),
    ];
    let rig = assess_rig(&rig(), &conditions()).expect("a reading that can be");
    Evidence { engine: Engine { cylinders: 8, rig: Some(rig), rows, ..Engine::default() }, ..boat() }
}

/// The whole boat with its sounds.
pub fn boat_with_sounds() -> Evidence {
    Evidence { sounds: Some(sounds()), ..boat() }
}
