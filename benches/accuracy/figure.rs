//! The picture: right openings by level, risk against coverage, reliability. Marks and tones are those of the program.

use hissward::plot::{AIR, Anchor, HATCH, INK, Mark, PAPER, Picture, QUIET, RULE, SOFT, Spot, Tone, Weight, spot};

use super::plain::Method;
use super::table::{Figure, Results};

const WIDTH: f64 = 1200.0;
const HEIGHT: f64 = 460.0;
const TOP: f64 = 96.0;
const BOTTOM: f64 = 392.0;
const TEXT: f64 = 15.0;

/// A panel with axes from (x0, y0) to (x1, y1) in values.
struct Panel {
    left: f64,
    right: f64,
    x: (f64, f64),
    y: (f64, f64),
}

impl Panel {
    fn at(&self, x: f64, y: f64) -> Spot {
        let part = |value: f64, (low, high): (f64, f64)| ((value - low) / (high - low)).clamp(0.0, 1.0);
        spot(self.left + part(x, self.x) * (self.right - self.left), BOTTOM - part(y, self.y) * (BOTTOM - TOP))
    }

    fn frame(&self, marks: &mut Vec<Mark>, title: &str, x_title: &str, ticks: (&[f64], &[f64]), unit: (&str, &str)) {
        marks.push(text(spot(self.left, TOP - 34.0), title, 17.0, Weight::Bold, Anchor::Start, INK));
        for &x in ticks.0 {
            let place = self.at(x, self.y.0);
            marks.push(line(vec![place, self.at(x, self.y.1)], 1.0, RULE));
            let label = format!("{}{}", signed(x), unit.0);
            marks.push(text(spot(place.x, BOTTOM + 20.0), &label, TEXT, Weight::Regular, Anchor::Middle, SOFT));
        }
        for &y in ticks.1 {
            let place = self.at(self.x.0, y);
            marks.push(line(vec![place, self.at(self.x.1, y)], 1.0, RULE));
            let label = format!("{}{}", signed(y), unit.1);
            marks.push(text(spot(self.left - 8.0, place.y + 5.0), &label, TEXT, Weight::Regular, Anchor::End, SOFT));
        }
        let middle = (self.left + self.right) / 2.0;
        marks.push(text(spot(middle, BOTTOM + 44.0), x_title, TEXT, Weight::Regular, Anchor::Middle, INK));
    }

    /// A line of dashes, each so long, with gaps so long (units); no gaps for a gap of 0.
    fn curve(&self, marks: &mut Vec<Mark>, points: &[(f64, f64)], tone: Tone, (dash, gap): (f64, f64)) {
        let spots: Vec<Spot> = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        let width = if gap == 0.0 { 3.0 } else { 2.0 };
        marks.extend(dashed(&spots, dash, gap).into_iter().map(|through| line(through, width, tone)));
    }
}

/// Pieces of a line of spots.
fn dashed(spots: &[Spot], dash: f64, gap: f64) -> Vec<Vec<Spot>> {
    if gap == 0.0 {
        return vec![spots.to_vec()];
    }
    let mut pieces = Vec::new();
    let mut walked = 0.0;
    for pair in spots.windows(2) {
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let length = dx.hypot(dy);
        let on = |s: f64| spot(pair[0].x + dx * s / length, pair[0].y + dy * s / length);
        let mut at = 0.0;
        while at < length {
            let phase = (walked + at) % (dash + gap);
            let step = if phase < dash { dash - phase } else { dash + gap - phase }.max(1e-6).min(length - at);
            if phase < dash {
                pieces.push(vec![on(at), on(at + step)]);
            }
            at += step.max(1e-6);
        }
        walked += length;
    }
    pieces
}

fn line(through: Vec<Spot>, width: f64, tone: Tone) -> Mark {
    Mark::Line { through, width, tone }
}

fn text(at: Spot, text: &str, size: f64, weight: Weight, anchor: Anchor, tone: Tone) -> Mark {
    Mark::Text { at, text: text.to_owned(), size, weight, anchor, tone }
}

fn signed(number: f64) -> String {
    format!("{number}").replace('-', "−")
}

/// Name, length of dashes and gaps, tone, points.
type Curve = (&'static str, (f64, f64), Tone, Vec<(f64, f64)>);

/// The picture of the results.
pub fn picture(results: &Results, title: &str) -> Picture {
    let mut marks = vec![Mark::Area {
        corners: vec![spot(0.0, 0.0), spot(WIDTH, 0.0), spot(WIDTH, HEIGHT), spot(0.0, HEIGHT)],
        tone: PAPER,
    }];
    marks.push(text(spot(20.0, 30.0), title, 20.0, Weight::Bold, Anchor::Start, INK));
    by_level(results, &mut marks);
    let percent = [0.0, 20.0, 40.0, 60.0, 80.0, 100.0];
    let panel = Panel { left: 620.0, right: 860.0, x: (0.0, 100.0), y: (0.0, 30.0) };
    panel.frame(
        &mut marks,
        "Wrong among answers",
        "answered, surest first",
        (&percent, &[0.0, 10.0, 20.0, 30.0]),
        ("", " %"),
    );
    // A point for every fiftieth of the cases: more would draw the same line as a saw.
    let every = (results.risk.len() / 50).max(1);
    let points: Vec<(f64, f64)> =
        results.risk.iter().skip(every - 1).step_by(every).map(|p| (100.0 * p.coverage, 100.0 * p.risk)).collect();
    panel.curve(&mut marks, &points, AIR, (0.0, 0.0));
    let panel = Panel { left: 930.0, right: 1170.0, x: (0.0, 100.0), y: (0.0, 100.0) };
    panel.frame(&mut marks, "Came true", "probability given", (&percent, &percent), ("", " %"));
    panel.curve(&mut marks, &[(0.0, 0.0), (100.0, 100.0)], HATCH, (8.0, 6.0));
    let bins: Vec<(f64, f64)> = results.reliability.iter().map(|b| (100.0 * b.given, 100.0 * b.came_true)).collect();
    panel.curve(&mut marks, &bins, AIR, (0.0, 0.0));
    let alt = format!("{title}: right openings by level beside plain methods, risk against coverage, reliability");
    Picture { width: WIDTH, height: HEIGHT, ground: PAPER, marks, alt }
}

fn by_level(results: &Results, marks: &mut Vec<Mark>) {
    let levels = [-20.0, -15.0, -10.0, -5.0, 0.0];
    let panel = Panel { left: 76.0, right: 380.0, x: (-21.0, 1.0), y: (0.0, 100.0) };
    let ticks = (&levels[..], &[0.0, 20.0, 40.0, 60.0, 80.0, 100.0][..]);
    panel.frame(marks, "Right opening on top", "hiss over noise, dB", ticks, ("", " %"));
    let of_level = |value: &dyn Fn(&Figure) -> Option<f64>| -> Vec<(f64, f64)> {
        let named = |db: f64| format!("right opening on top at {db:+.0} dB");
        levels
            .iter()
            .filter_map(|&db| Some((db, 100.0 * value(results.figures.iter().find(|f| f.name == named(db))?)?)))
            .collect()
    };
    let mut curves: Vec<Curve> = vec![("hissward", (0.0, 0.0), AIR, of_level(&|f| f.program.map(|e| e.value)))];
    let styles = [(14.0, 5.0), (8.0, 5.0), (4.0, 4.0), (2.0, 4.0)];
    for (method, style) in Method::ALL.iter().zip(styles) {
        let at = Method::ALL.iter().position(|other| other == method).unwrap_or(0);
        curves.push((method.name(), style, QUIET, of_level(&|f| f.plain.map(|plain| plain[at]))));
    }
    curves.push(("chance", (10.0, 10.0), HATCH, vec![(-21.0, 100.0 / 3.0), (1.0, 100.0 / 3.0)]));
    for (place, (name, style, tone, points)) in curves.iter().enumerate() {
        panel.curve(marks, points, *tone, *style);
        let y = TOP + 20.0 + 26.0 * place as f64;
        let sample = [spot(394.0, y), spot(430.0, y)];
        let width = if style.1 == 0.0 { 3.0 } else { 2.0 };
        marks.extend(dashed(&sample, style.0, style.1).into_iter().map(|through| line(through, width, *tone)));
        marks.push(text(spot(436.0, y + 5.0), name, TEXT - 1.0, Weight::Regular, Anchor::Start, INK));
    }
}
