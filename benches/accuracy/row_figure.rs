//! The picture of the rows: how the cases of each are called, and how many wrongly.

use hissward::plot::{AIR, Anchor, HATCH, INK, MIST, Mark, PAPER, Picture, QUIET, RISE, SOFT, Tone, Weight, spot};
use hissward::ranking::Call;

use super::judge::Outcome;
use super::rows::Row;

const WIDTH: f64 = 1200.0;
const TOP: f64 = 104.0;
const STEP: f64 = 25.0;
const BAR: f64 = 17.0;
const LEFT: f64 = 400.0;
const RIGHT: f64 = 1080.0;
const TEXT: f64 = 15.0;

/// Whether a case ended so.
type Holds = fn(&Outcome) -> bool;

/// How a case may end, in the order of the bar.
const ENDS: [(&str, Tone, Holds); 5] = [
    ("located or shared, rightly", AIR, |o| named(o) && !o.wrong()),
    ("cannot tell", MIST, |o| o.call == Call::CannotTell && !o.wrong()),
    ("none heard", RISE, |o| o.call == Call::NoneHeard && !o.wrong()),
    ("none heard while a hiss is there", HATCH, Outcome::none_heard_wrong),
    ("located or shared wrongly", QUIET, |o| o.wrong() && !o.none_heard_wrong()),
];

fn named(o: &Outcome) -> bool {
    matches!(o.call, Call::Located | Call::Shared)
}

/// The picture.
pub fn picture(outcomes: &[Outcome], rows: &[Row], title: &str) -> Picture {
    let there: Vec<(&Row, Vec<&Outcome>)> = rows
        .iter()
        .map(|row| (row, outcomes.iter().filter(|o| o.row == row.number).collect::<Vec<_>>()))
        .filter(|(_, cases)| !cases.is_empty())
        .collect();
    let height = TOP + STEP * there.len() as f64 + 24.0;
    let mut marks = vec![area((0.0, 0.0), (WIDTH, height), PAPER)];
    marks.push(text((20.0, 30.0), title, 20.0, Weight::Bold, Anchor::Start, INK));
    let mut x = 20.0;
    for (name, tone, _) in ENDS {
        marks.push(area((x, 52.0), (x + 26.0, 52.0 + BAR), tone));
        marks.push(text((x + 33.0, 66.0), name, TEXT, Weight::Regular, Anchor::Start, INK));
        x += 62.0 + 7.4 * name.chars().count() as f64;
    }
    marks.push(text((RIGHT + 10.0, 92.0), "wrong", TEXT, Weight::Regular, Anchor::Start, SOFT));
    for (place, (row, cases)) in there.iter().enumerate() {
        let y = TOP + STEP * place as f64;
        marks.push(text((LEFT - 12.0, y + 14.0), &row.scenario.name(), TEXT, Weight::Regular, Anchor::End, INK));
        let mut from = LEFT;
        for (_, tone, is) in ENDS {
            let share = cases.iter().filter(|o| is(o)).count() as f64 / cases.len() as f64;
            let to = from + share * (RIGHT - LEFT);
            if share > 0.0 {
                marks.push(area((from, y), (to, y + BAR), tone));
            }
            from = to;
        }
        let wrong = cases.iter().filter(|o| o.wrong()).count() as f64 / cases.len() as f64;
        let label = format!("{:.1} %", 100.0 * wrong);
        marks.push(text((RIGHT + 10.0, y + 14.0), &label, TEXT, Weight::Regular, Anchor::Start, INK));
    }
    let alt = format!("{title}: for each kind of case, how it was called and how many wrongly");
    Picture { width: WIDTH, height, ground: PAPER, marks, alt }
}

fn area(from: (f64, f64), to: (f64, f64), tone: Tone) -> Mark {
    let corners = vec![spot(from.0, from.1), spot(to.0, from.1), spot(to.0, to.1), spot(from.0, to.1)];
    Mark::Area { corners, tone }
}

fn text(at: (f64, f64), text: &str, size: f64, weight: Weight, anchor: Anchor, tone: Tone) -> Mark {
    Mark::Text { at: spot(at.0, at.1), text: text.to_owned(), size, weight, anchor, tone }
}
