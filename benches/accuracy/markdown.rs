//! Figures as Markdown tables: for the terminal, a file, the README.

use std::collections::BTreeMap;

use super::bootstrap::Estimate;
use super::cases::{SCENARIOS, Scenario};
use super::judge::Outcome;
use super::plain::Method;
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
    format!("| {name} | {} | {} |\n", outcomes.len() / SCENARIOS.len(), cells.join(" | "))
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
    let cost = |o: &Outcome| o.brier + if o.located_wrong { 10.0 } else { 0.0 };
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
    let answer: Vec<String> = o.openings.iter().map(|(opening, p)| format!("{opening} {p:.3}")).collect();
    let truth = o.leak.as_ref().map_or("tight".to_owned(), ToString::to_string);
    format!(
        "| {} | {} | {} | {} | {truth} | {}{} | {}, elsewhere {:.3} | {:.3} |\n",
        o.session,
        o.session_seed,
        o.scenario().name(),
        o.names,
        o.call.name(),
        if o.located_wrong { " ✗" } else { "" },
        answer.join(", "),
        o.elsewhere,
        o.brier
    )
}

/// How calls fall in each row: located rightly, located wrongly, shared, none heard, cannot tell.
pub fn calls(outcomes: &[Outcome]) -> String {
    let outcomes: Vec<&Outcome> = outcomes.iter().collect();
    let mut text = "| case | located rightly | located wrongly | shared | none heard | cannot tell | mean Brier |\n|---|---|---|---|---|---|---|\n".to_owned();
    for scenario in SCENARIOS {
        let of = |o: &Outcome| o.scenario() == scenario;
        let percent = |is: &dyn Fn(&Outcome) -> bool| {
            share(&outcomes, of, is).map_or("–".to_owned(), |estimate| number(estimate.value, true))
        };
        let called = |name: &'static str| percent(&move |o: &Outcome| o.call.name() == name);
        let cases: Vec<f64> = outcomes.iter().filter(|o| of(o)).map(|o| o.brier).collect();
        text += &format!(
            "| {} | {} | {} | {} | {} | {} | {:.3} |\n",
            scenario.name(),
            if scenario == Scenario::Tight { "–".to_owned() } else { percent(&Outcome::located_right) },
            percent(&|o| o.located_wrong),
            called("shared"),
            called("none-heard"),
            called("cannot-tell"),
            cases.iter().sum::<f64>() / cases.len().max(1) as f64
        );
    }
    text
}
