//! The appendix: what it means, the findings in detail, circumstances, figures, pictures, sounds, method.

use super::content::{known, section};
use super::cylinders::{cylinders, limits, meaning};
use super::document::{Block, Cell, Figure, Player, Row, Section, Table};
use super::error::ReportError;
use super::front;
use super::gauge::shown;
use super::input::{AmendedNote, ClipNote, ReportInput, ReportSound, ReportSounds};
use super::readings;
use super::sentences;
use super::settings::settings;
use crate::caveat::{Caveat, Fact};
use crate::finding::{Finding, Part, Reader, Weight, text_of};
use crate::opening::{Air, Opening};
use crate::plot::{self, GreyScale, PictureSize, Stretch};
use crate::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use crate::words::Words;

/// How many characters of a hash are printed: enough to tell files apart by eye.
const HASH_SHOWN: usize = 16;

/// The sections for the technician.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be laid out.
pub(super) fn sections(input: &ReportInput<'_>) -> Result<Vec<Section>, ReportError> {
    let say = |name: &str| input.words.say(name, &[]);
    let rankings: Vec<Ranking> = input.engine.rows.iter().filter_map(|row| row.ranking.clone()).collect();
    let caveats = caveats(input, &rankings);
    let caveats = if caveats.is_empty() { Vec::new() } else { vec![Block::Points(caveats)] };
    let cautions = input.findings.cautions.iter().map(|name| (None, say(&format!("mind-{name}")))).collect();
    let means = meaning(input);
    let means = if means.is_empty() { Vec::new() } else { vec![Block::Points(means)] };
    let sections = vec![
        section(Some(say("section-means")), means.into_iter().chain(cylinders(input)).collect()),
        section(Some(say("section-silent")), vec![Block::Points(limits(input))]),
        section(Some(say("report-surer")), surer(input)),
        section(Some(say("report-findings")), findings(input)),
        section(Some(say("report-circumstances")), circumstances(input)),
        section(Some(say("report-readings")), readings::readings(input)),
        section(Some(say("report-comparison")), figures(&rankings, &input.findings.with_normal_hiss(), input.words)?),
        section(
            Some(say("report-levels")),
            rankings.iter().flat_map(|ranking| figures_of(ranking, input.words)).collect(),
        ),
        section(Some(say("report-sounds")), sounds(input)?),
        section(Some(say("report-caveats")), caveats),
        section(Some(say("report-method")), method(input)),
        section(Some(say("report-recordings")), recordings(input)),
        section(Some(say("report-cautions")), vec![Block::Points(cautions)]),
    ];
    Ok(sections.into_iter().filter(|section| !section.blocks.is_empty()).collect())
}

/// What would make each cylinder's answer surer: the next recording or reading, where one would.
fn surer(input: &ReportInput<'_>) -> Vec<Block> {
    let rankings = input.engine.rows.iter().filter_map(|row| row.ranking.as_ref());
    let point = |ranking: &Ranking| {
        let step = sentences::next_in_words(ranking.next.as_ref()?, input.words);
        Some((
            Some(input.words.cylinder(ranking.cylinder)),
            input.words.say("report-surer-step", &[("step", Fact::Text(step))]),
        ))
    };
    let points: Vec<_> = rankings.filter_map(point).collect();
    if points.is_empty() { Vec::new() } else { vec![Block::Points(points)] }
}

/// All findings, what needs doing first first.
fn findings(input: &ReportInput<'_>) -> Vec<Block> {
    front::in_order(input).into_iter().flat_map(|finding| finding_blocks(finding, input.words)).collect()
}

fn finding_blocks(finding: &Finding, words: &Words) -> Vec<Block> {
    let text = text_of(finding, Reader::Technician, words);
    let mut blocks = vec![Block::Heading(text.headline)];
    let of_sound = finding.sound.iter().flat_map(|sound| &sound.caveats);
    let doubt = |caveat: &Caveat| {
        let (found, remedy) = words.caveat(caveat);
        format!("{found} {remedy}")
    };
    let doubts: Vec<String> = finding.caveats.iter().chain(of_sound).map(doubt).collect();
    let mut points: Vec<(Part, Vec<String>)> = Vec::new();
    let mut steps = Vec::new();
    for (part, list) in text.parts {
        match part {
            // All cautions stand in the first part, once.
            Part::Cautions => {}
            // What a caveat says stands with the other caveats.
            Part::Sure => points.push((part, list.into_iter().filter(|line| !doubts.contains(line)).collect())),
            Part::Next => steps = list,
            // Where nothing is wrong the figure says it all.
            Part::Means | Part::Silent if finding.weight == Weight::Fine => {}
            _ => points.push((part, list)),
        }
    }
    let point = |(part, list): (Part, Vec<String>)| (Some(words.say(part.heading(), &[])), list.join(" "));
    blocks.push(Block::Points(points.into_iter().filter(|(_, list)| !list.is_empty()).map(point).collect()));
    if !steps.is_empty() {
        blocks.push(Block::Steps(steps));
    }
    blocks
}

fn circumstances(input: &ReportInput<'_>) -> Vec<Block> {
    let words = input.words;
    let (given, units) = (input.circumstances, input.units);
    let warmth = given.hot.map(|hot| words.say(if hot { "report-hot" } else { "report-cold" }, &[]));
    let maker = input.engine.maker.as_ref().and_then(|maker| {
        let loss = Fact::Number { value: maker.loss_percent?, decimals: 1 };
        let source = maker.source.clone().unwrap_or_else(|| words.say("report-no-source", &[]));
        Some(words.say("report-makers-limit", &[("loss", loss), ("source", Fact::Text(source))]))
    });
    let ambient = given.ambient.map(|pressure| format!("{}\u{a0}hPa", words.number(pressure.as_kpa() * 10.0, 0)));
    let facts = [
        ("report-warmth", warmth),
        ("report-restrictor", given.restrictor.map(|mm| shown(units.length(mm), words))),
        ("report-ambient", ambient),
        ("report-maker", maker),
        ("report-microphone", given.microphone.clone()),
        ("report-cautions-confirmed", given.cautions_confirmed.clone()),
    ];
    let facts = known(facts.into_iter().map(|(name, value)| (words.say(name, &[]), value)));
    if facts.is_empty() { Vec::new() } else { vec![Block::Facts(facts)] }
}

/// A picture for each cylinder: one stays on its page, and all have the same axes.
fn figures(rankings: &[Ranking], normal: &[u32], words: &Words) -> Result<Vec<Block>, ReportError> {
    let wide = plot::comparison_of_each(rankings, normal, words, PictureSize::Page)?;
    let narrow = plot::comparison_of_each(rankings, normal, words, PictureSize::Phone)?;
    let figure = |((ranking, wide), narrow): ((&Ranking, _), _)| {
        let facts = [("subject", Fact::Text(words.cylinder(ranking.cylinder)))];
        Block::Figure(Figure { wide, narrow, caption: words.say("report-figure", &facts) })
    };
    Ok(rankings.iter().zip(wide).zip(narrow).map(figure).collect())
}

/// The figures of one cylinder, and what the others say to them.
fn figures_of(ranking: &Ranking, words: &Words) -> Vec<Block> {
    let beside = sentences::beside(ranking, words).map(Block::Paragraph);
    std::iter::once(levels(ranking, words)).chain(beside).collect()
}

/// The figures of one cylinder.
fn levels(ranking: &Ranking, words: &Words) -> Block {
    let say = |name: &str| words.say(name, &[]);
    let subject = [("subject", Fact::Text(words.cylinder(ranking.cylinder)))];
    let head = ["report-column-opening", "report-column-probability", "report-column-hiss", "report-column-above"];
    let mut rows: Vec<Row> = ranking.openings.iter().map(|result| level_row(ranking, result, words)).collect();
    let nowhere_heard =
        [(Member::Elsewhere, ranking.elsewhere_probability), (Member::Tight, ranking.tight_probability)];
    rows.extend(nowhere_heard.map(|(member, probability)| Row {
        // Strong is a leak that was found, and nothing else.
        strong: false,
        cells: vec![
            Cell::of(say(member.name())),
            Cell::of(words.percent(probability)),
            Cell::default(),
            Cell::default(),
        ],
    }));
    let caption = words.say("report-levels-of", &subject);
    Block::Table(Table { caption, head: head.map(say).to_vec(), figures: true, rows })
}

/// Whether a leak was found at an opening: there its row is strong, and its hiss was heard even where its level is a bound.
fn is_found(ranking: &Ranking, opening: &Opening) -> bool {
    matches!(ranking.call, Call::Located | Call::Shared)
        && ranking.answer_set.contains(&Member::Opening(opening.clone()))
}

fn level_row(ranking: &Ranking, result: &OpeningResult, words: &Words) -> Row {
    let printed = |db: f64| Fact::Text(words.printed(db, 1));
    let (level, under) = match result.hiss {
        HissReading::Heard { level, low, high } => {
            let interval = [("low", printed(low.0)), ("high", printed(high.0))];
            (words.printed(level.0, 1), words.say("level-interval", &interval))
        }
        HissReading::Bound => {
            let under = if is_found(ranking, &result.opening) { "level-not-measured" } else { "level-not-heard" };
            (words.say("level-at-most", &[("level", printed(result.at_most.0))]), words.say(under, &[]))
        }
    };
    let under = if result.spill { format!("{under}, {}", words.say("level-spill", &[])) } else { under };
    let opening = words.opening(&result.opening);
    let path = words.path(&result.opening);
    let name = Cell { under: (path != opening).then_some(path), text: opening };
    Row {
        strong: is_found(ranking, &result.opening),
        cells: vec![
            name,
            Cell::of(words.percent(result.probability)),
            Cell::with(level, under),
            Cell::of(sentences::above_quiet(result, words)),
        ],
    }
}

fn sounds(input: &ReportInput<'_>) -> Result<Vec<Block>, ReportError> {
    let Some(sounds) = input.sounds.filter(|sounds| !sounds.sounds.is_empty()) else { return Ok(Vec::new()) };
    let spectra = || sounds.sounds.iter().flat_map(|sound| &sound.stretches).map(|(_, stretch)| &stretch.sound);
    let scale = GreyScale::of(spectra());
    let mut blocks = vec![Block::Paragraph(about_sounds(sounds, scale, input.words))];
    for sound in &sounds.sounds {
        blocks.push(sound_block(sound, scale, input.words)?);
    }
    Ok(blocks)
}

fn about_sounds(sounds: &ReportSounds, scale: GreyScale, words: &Words) -> String {
    let facts = [
        ("gain", Fact::Text(words.printed(sounds.gain.0, 0))),
        ("seconds", Fact::Text(words.printed(sounds.excerpt.0, 1))),
        ("white", Fact::Text(words.printed(scale.white.0, 0))),
        ("black", Fact::Text(words.printed(scale.black.0, 0))),
    ];
    words.say("report-about-sounds", &facts)
}

fn sound_block(sound: &ReportSound, scale: GreyScale, words: &Words) -> Result<Block, ReportError> {
    let subject = match sound.cylinder {
        Some(cylinder) => words.cylinder(Some(cylinder)),
        None => words.say("report-rig-alone", &[]),
    };
    let facts = [
        ("subject", Fact::Text(subject)),
        ("opening", Fact::Text(words.opening(&sound.opening))),
        ("take", Fact::Number { value: f64::from(sound.take), decimals: 0 }),
    ];
    let name = if sound.take > 1 { "report-sound.take" } else { "report-sound" };
    let caption = words.say(name, &facts);
    let stretches: Vec<Stretch> = sound
        .stretches
        .iter()
        .map(|(air, stretch)| Stretch { name: words.say(air_name(*air), &[]), ..stretch.clone() })
        .collect();
    let kinds: Vec<String> = sound.stretches.iter().map(|(air, _)| words.say(air_name(*air), &[])).collect();
    let facts = [("caption", Fact::Text(caption.clone())), ("kinds", Fact::Text(words.list(&kinds)))];
    let label = words.say("report-sound-label", &facts);
    let alt = words.say("report-sound-alt", &facts);
    let picture = |size| plot::spectrogram_strip(&stretches, scale, alt.clone(), words, size);
    let figure = Figure { wide: picture(PictureSize::Page)?, narrow: picture(PictureSize::Phone)?, caption };
    Ok(Block::Sound { figure, player: Player { label, kind: sound.kind, file: sound.file.clone() } })
}

fn air_name(air: Air) -> &'static str {
    match air {
        Air::Off => "air-off",
        Air::On => "air-on",
        Air::Pulsed => "air-pulsed",
    }
}

/// Every caveat: where it holds, what was found, what to do.
fn caveats(input: &ReportInput<'_>, rankings: &[Ranking]) -> Vec<(Option<String>, String)> {
    let words = input.words;
    let mut points: Vec<(Vec<String>, String)> = Vec::new();
    let mut add = |lead: String, (found, remedy): (String, String)| {
        let facts = [("found", Fact::Text(found.trim_end_matches('.').to_owned())), ("remedy", Fact::Text(remedy))];
        let said = words.say("report-caveat", &facts);
        // What holds at several cylinders is said once.
        match points.iter_mut().find(|(_, other)| *other == said) {
            Some((leads, _)) if leads.contains(&lead) => {}
            Some((leads, _)) => leads.push(lead),
            None => points.push((vec![lead], said)),
        }
    };
    for caveat in input.engine.rig.iter().flat_map(|rig| &rig.caveats) {
        add(words.say("report-rig-alone", &[]), words.caveat(caveat));
    }
    for row in &input.engine.rows {
        for caveat in row.gauge.iter().flat_map(|gauge| &gauge.caveats) {
            add(words.cylinder(Some(row.cylinder)), words.caveat(caveat));
        }
    }
    for ranking in rankings {
        let subject = words.cylinder(ranking.cylinder);
        for (place, found, remedy) in sentences::caveats(ranking, words) {
            let lead = place.map_or_else(|| subject.clone(), |place| format!("{subject}, {place}"));
            add(lead, (found, remedy));
        }
    }
    points.into_iter().map(|(leads, said)| (Some(words.list(&leads)), said)).collect()
}

/// How it was measured, with which settings, by which program.
fn method(input: &ReportInput<'_>) -> Vec<Block> {
    let words = input.words;
    let said = ["method-gauge", "method-sound", "method-noise", "method-probability", "method-limits"];
    let mut facts = settings(words);
    facts.extend(known([
        (words.say("report-program", &[]), Some(format!("hissward {}", env!("CARGO_PKG_VERSION")))),
        (words.say("report-job-made-with", &[]), input.circumstances.made_with.clone()),
    ]));
    let paragraphs = said.iter().map(|name| Block::Paragraph(words.say(name, &[])));
    paragraphs.chain([Block::Facts(facts)]).collect()
}

/// Every recording, so that it can be told from any other.
fn recordings(input: &ReportInput<'_>) -> Vec<Block> {
    let words = input.words;
    if input.circumstances.clips.is_empty() {
        return Vec::new();
    }
    let say = |name: &str| words.say(name, &[]);
    let head = ["report-column-file", "report-column-recorded", "report-column-hash"];
    let rows = input.circumstances.clips.iter().map(|clip| clip_row(clip, words)).collect();
    let caption = say("report-recordings-of");
    let table = Block::Table(Table { caption, head: head.map(say).to_vec(), figures: false, rows });
    std::iter::once(table).chain(amended(input)).collect()
}

/// What was put right afterwards: a reader is to see what stood there before.
fn amended(input: &ReportInput<'_>) -> Option<Block> {
    let words = input.words;
    let said = |value: &Option<String>| Fact::Text(value.clone().unwrap_or_else(|| words.say("amend-none", &[])));
    let line = |one: &AmendedNote| {
        let facts = [
            ("of", Fact::Text(one.of.clone())),
            ("key", Fact::Text(one.key.clone())),
            ("from", said(&one.from)),
            ("to", said(&one.to)),
            ("when", Fact::Text(one.when.clone())),
        ];
        (Some(words.say("report-amended", &[])), words.say("report-amended-line", &facts))
    };
    let lines: Vec<_> = input.circumstances.amended.iter().map(line).collect();
    (!lines.is_empty()).then_some(Block::Points(lines))
}

/// Whether a reason only repeats that the recording is left out.
fn is_left_out(language: &str, why: &str) -> bool {
    Words::of(language).is_ok_and(|words| words.say("page-left-out", &[]) == why.trim())
}

fn clip_row(clip: &ClipNote, words: &Words) -> Row {
    let number = |value: f64, decimals| Fact::Text(words.printed(value, decimals));
    let shape = [
        ("seconds", number(clip.length.0, 1)),
        (
            "rate",
            number(f64::from(clip.sample_rate_hz) / 1000.0, usize::from(!clip.sample_rate_hz.is_multiple_of(1000))),
        ),
    ];
    let shape = words.say("report-clip-shape", &shape);
    let with = [Some(shape), clip.device.clone()].into_iter().flatten().collect::<Vec<_>>().join(", ");
    // Where nobody gave a reason the reason says only that it is left out.
    let bare = |why: &str| Words::languages().iter().any(|code| is_left_out(code, why)) || why.trim().is_empty();
    let out = clip.left_out.as_ref().map(|why| match bare(why) {
        true => words.say("page-left-out", &[]),
        false => words.say("report-left-out", &[("why", Fact::Text(why.clone()))]),
    });
    let recorded = clip.recorded.clone().unwrap_or_else(|| words.say("report-time-unknown", &[]));
    let hash: String = clip.sha256.chars().take(HASH_SHOWN).collect();
    Row {
        strong: false,
        cells: vec![
            Cell { text: clip.file.clone(), under: out },
            Cell::with(recorded, with),
            Cell::of(format!("{hash}…")),
        ],
    }
}
