//! Figures as Markdown tables: for the terminal, a file, the README.

use std::collections::BTreeMap;

use super::bootstrap::Estimate;
use super::judge::Outcome;
use super::plain::Method;
use super::rows::Row;
use super::table::{Figure, Goal, results, share};

/// The table of all figures.
pub fn table(figures: &[Figure]) -> String {
    let mut text = "| figure | at least | aim | hissward | 95 % interval |".to_owned();
    for method in Method::ALL {
        text += &format!(" {} |", method.name());
    }
    text += " steady white floor, power alone |\n|---|---|---|---|---|---|---|---|---|---|\n";
    for figure in figures {
        let number = |value: f64| number(value, figure.share);
        let (least, aim) = match figure.goal {
            Goal::AtLeast(least, aim) => (number(least), number(aim)),
            Goal::AtMost(most, aim) => (format!("≤ {}", number(most)), format!("≤ {}", number(aim))),
            Goal::Within(low, high) => (number(low), format!("≤ {}", number(high))),
            Goal::Shown => Default::default(),
        };
        let (value, interval) = match figure.program {
            Some(Estimate { value, count: 0, .. }) => (number(value), String::new()),
            Some(Estimate { value, low, high, count }) => {
                let missed = if figure.goal.reached(value) { "" } else { " ✗" };
                (format!("**{}**{missed}", number(value)), format!("{}–{} ({count})", number(low), number(high)))
            }
            None => ("–".to_owned(), String::new()),
        };
        text += &format!("| {} | {least} | {aim} | {value} | {interval} |", figure.name);
        for method in 0..Method::ALL.len() {
            text += &figure.plain.map_or(" |".to_owned(), |plain| format!(" {} |", number(plain[method])));
        }
        text += &figure.limit.map_or(" |\n".to_owned(), |limit| format!(" {} |\n", number(limit)));
    }
    text
}

/// The README's table: figures in recorded noise alone beside those in all, the best of the plain methods, the limit.
pub fn readme(recorded: &[Figure], all: &[Figure], sessions: (usize, usize)) -> String {
    let mut text = format!(
        "| figure | at least | recorded noise alone ({} sessions) | 95 % interval | all noise ({} sessions) | 95 % interval | \
         best plain method (recorded) | steady white floor, known |\n|---|---|---|---|---|---|---|---|\n",
        sessions.0, sessions.1
    );
    for figure in all {
        let number = |value: f64| number(value, figure.share);
        let twin = recorded.iter().find(|other| other.name == figure.name);
        let least = match figure.goal {
            Goal::AtLeast(least, _) | Goal::Within(least, _) => number(least),
            Goal::AtMost(most, _) => format!("≤ {}", number(most)),
            Goal::Shown => String::new(),
        };
        let cells = |estimate: Option<Estimate>| match estimate {
            Some(e) => {
                let missed = if figure.goal.reached(e.value) { "" } else { " ✗" };
                let ends = format!("{}–{} ({})", number(e.low), number(e.high), e.count);
                (format!("{}{missed}", number(e.value)), if e.count == 0 { String::new() } else { ends })
            }
            None => ("–".to_owned(), String::new()),
        };
        let (alone, alone_ends) = cells(twin.and_then(|twin| twin.program));
        let (of_all, all_ends) = cells(figure.program);
        let best = twin.and_then(|twin| twin.plain).map(|plain| plain.into_iter().fold(0.0, f64::max));
        let shown = |value: Option<f64>| value.map_or(String::new(), number);
        text += &format!(
            "| {} | {least} | {alone} | {alone_ends} | {of_all} | {all_ends} | {} | {} |\n",
            figure.name,
            shown(best),
            shown(figure.limit)
        );
    }
    text
}

fn number(value: f64, share: bool) -> String {
    if share { format!("{:.1} %", 100.0 * value) } else { format!("{value:.3}") }
}

/// One line of figures for some cases.
fn line(name: &str, outcomes: &[&Outcome]) -> String {
    let found = results(outcomes).figures;
    let wanted = [
        "right opening on top at -20 dB",
        "right opening on top at -15 dB",
        "right opening on top at -10 dB",
        "right opening on top at -5 dB",
        "called located, rightly, at -10 dB",
        "called located, rightly, at -5 dB",
        "called located, rightly, at +0 dB",
        "wrong among located, tight engines too",
        "tight engine called located or shared",
        "two leaks: called shared",
        "true level in the clip under the bound",
        "heard: true level in the clip in the interval",
        "pulsed air: right opening on top at -20 dB",
        "Brier score",
    ];
    let cells = wanted.map(|wanted| {
        let figure = found.iter().find(|figure| figure.name == wanted);
        figure.and_then(|f| f.program.map(|e| number(e.value, f.share))).unwrap_or_else(|| "–".to_owned())
    });
    let mut sessions: Vec<usize> = outcomes.iter().map(|outcome| outcome.session).collect();
    sessions.dedup();
    format!("| {name} | {} | {} |\n", sessions.len(), cells.join(" | "))
}

/// Figures by kind of session, by hiss, and by noise that takes part.
pub fn by_noise(outcomes: &[Outcome]) -> String {
    let mut groups: BTreeMap<(u8, String), Vec<&Outcome>> = BTreeMap::new();
    for outcome in outcomes {
        let mut put = |rank: u8, name: &str| groups.entry((rank, name.to_owned())).or_default().push(outcome);
        put(0, outcome.group.name());
        let mut jet = true;
        for name in outcome.names.split(" + ") {
            jet &= !name.starts_with("hiss: ");
            put(if name.starts_with("hiss: ") { 1 } else { 2 }, name);
        }
        if jet {
            put(1, "hiss: jets");
        }
    }
    let mut text = "| noise | sessions | top −20 | top −15 | top −10 | top −5 | located −10 | located −5 | located 0 | wrong of located \
                    | tight called | shared | bound | interval | pulsed −20 | Brier |\n|---|"
        .to_owned();
    text += &"---|".repeat(15);
    text.push('\n');
    for ((_, name), cases) in &groups {
        text += &line(name, cases);
    }
    text
}

/// The cases that cost most: located wrongly, then tight engines called, then wrong with confidence.
pub fn worst(outcomes: &[Outcome], count: usize) -> String {
    let cost = |o: &Outcome| o.brier + 10.0 * f64::from(u8::from(o.wrong()));
    let mut sorted: Vec<&Outcome> = outcomes.iter().collect();
    sorted.sort_by(|a, b| cost(b).total_cmp(&cost(a)).then((a.session, a.row).cmp(&(b.session, b.row))));
    let mut text =
        "| session | seed | case | noise | truth | call | answer | Brier |\n|---|---|---|---|---|---|---|---|\n"
            .to_owned();
    for outcome in sorted.iter().take(count) {
        text += &row(outcome);
    }
    text
}

/// A case on one line.
pub fn row(o: &Outcome) -> String {
    if let Some(why) = &o.failed {
        let name = o.scenario.name();
        return format!("| {} | {} | {name} | {} | – | failed ✗ | {why} | 1 |\n", o.session, o.session_seed, o.names);
    }
    let answer: Vec<String> = o.openings.iter().map(|(opening, p)| format!("{opening} {p:.3}")).collect();
    let truth = o.leak.as_ref().map_or("tight".to_owned(), ToString::to_string);
    format!(
        "| {} | {} | {} | {} | {truth} | {}{} | {}, none {:.3} | {:.3} |\n",
        o.session,
        o.session_seed,
        o.scenario.name(),
        o.names,
        o.call.name(),
        if o.wrong() { " ✗" } else { "" },
        answer.join(", "),
        o.none,
        o.brier
    )
}

/// A row for each kind of case: how it was called, what was wrong, with 95 % intervals where it counts.
pub fn rows(outcomes: &[Outcome], rows: &[Row]) -> String {
    let all: Vec<&Outcome> = outcomes.iter().collect();
    let mut text =
        "| case | cases | located rightly | on top | shared | none heard | cannot tell | wrong | located or \
                    shared wrongly | none heard wrongly | recorder named | Brier |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n"
            .to_owned();
    for row in rows {
        let of = |o: &Outcome| o.row == row.number;
        let Some(count) = share(&all, of, |_| true).map(|estimate| estimate.count) else { continue };
        let whole = |value: f64| format!("{:.0}", 100.0 * value);
        let plain = |is: &dyn Fn(&Outcome) -> bool| share(&all, of, is).map_or("–".to_owned(), |e| whole(e.value));
        let interval = |is: &dyn Fn(&Outcome) -> bool| {
            let ends = |e: Estimate| format!("{:.1} ({:.1}–{:.1})", 100.0 * e.value, 100.0 * e.low, 100.0 * e.high);
            share(&all, of, is).map_or("–".to_owned(), ends)
        };
        let called = |name: &'static str| plain(&move |o: &Outcome| o.failed.is_none() && o.call.name() == name);
        let leaks = all.iter().any(|o| of(o) && o.leak.is_some());
        let dash = || "–".to_owned();
        let codes = row.scenario.chain_codes();
        let briers: Vec<f64> = all.iter().filter(|o| of(o)).map(|o| o.brier).collect();
        text += &format!(
            "| {} | {count} | {} | {} | {} | {} | {} | {} | {} | {} | {} | {:.3} |\n",
            row.scenario.name(),
            if leaks { interval(&Outcome::located_right) } else { dash() },
            if leaks { plain(&|o: &Outcome| o.top_right) } else { dash() },
            called("shared"),
            called("none-heard"),
            called("cannot-tell"),
            interval(&Outcome::wrong),
            plain(&|o: &Outcome| o.located_wrong || o.shared_wrong),
            plain(&Outcome::none_heard_wrong),
            codes
                .as_ref()
                .map_or_else(dash, |codes| plain(&|o: &Outcome| o.caveats.iter().any(|c| codes.contains(&c.as_str())))),
            briers.iter().sum::<f64>() / briers.len().max(1) as f64
        );
    }
    text += "\nAll in percent, 95 % intervals by sessions in brackets. Where the figures of a row do not make 100, the \
             rest is located at another opening. \"Recorder named\": what the recorder does is found (in raw files: falsely)";
    let failed = outcomes.iter().filter(|o| o.failed.is_some()).count();
    if failed > 0 {
        text += &format!("; {failed} cases had no answer and count as wrong");
    }
    text + ".\n"
}
