//! What may be said: the call and the smallest answer set, from the probabilities of all hypotheses.

use super::assumptions as assume;
use super::result::Call;
use super::weigh::Hypothesis;

/// A possible member of the answer set: an opening by its place in the list, or none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// This opening.
    Opening(usize),
    /// Where nobody listened.
    Elsewhere,
    /// Nowhere.
    Tight,
}

/// Probabilities by opening (the louder of two counts), elsewhere, and by pair.
#[derive(Debug, Clone, PartialEq)]
pub struct Posterior {
    /// Per opening.
    pub openings: Vec<f64>,
    /// Nothing leaks.
    pub tight: f64,
    /// It leaks at none of them.
    pub elsewhere: f64,
    /// … and is heard at all of them: the rig, or another place where nobody listened.
    pub everywhere: f64,
    /// Two leaks.
    pub two: f64,
    /// The likeliest pair of openings, and its probability.
    pub pair: Option<((usize, usize), f64)>,
}

impl Posterior {
    /// Sums the hypotheses up.
    #[must_use]
    pub fn of(hypotheses: &[(Hypothesis, f64)], count: usize) -> Self {
        let mut posterior =
            Self { openings: vec![0.0; count], tight: 0.0, elsewhere: 0.0, everywhere: 0.0, two: 0.0, pair: None };
        let mut pairs = vec![0.0; count * count];
        for (hypothesis, probability) in hypotheses {
            match *hypothesis {
                Hypothesis::Tight => posterior.tight += probability,
                Hypothesis::Unheard => posterior.elsewhere += probability,
                Hypothesis::Rig | Hypothesis::Elsewhere => {
                    posterior.elsewhere += probability;
                    posterior.everywhere += probability;
                }
                Hypothesis::One(j) => posterior.openings[j] += probability,
                Hypothesis::Two(j, k) => {
                    posterior.openings[j] += probability;
                    posterior.two += probability;
                    pairs[j.min(k) * count + j.max(k)] += probability;
                }
            }
        }
        let best = pairs.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
        posterior.pair = best.filter(|(_, p)| **p > 0.0).map(|(at, p)| ((at / count, at % count), *p));
        posterior
    }

    /// Whether two leak, and which.
    #[must_use]
    pub fn is_shared(&self) -> bool {
        self.two >= assume::SHARED_FROM && self.pair.is_some_and(|(_, share)| share >= assume::PAIR_SHARE * self.two)
    }

    /// The opening that is surely the leak, or the louder of two; `None` where there may well be two.
    #[must_use]
    pub fn located(&self) -> Option<usize> {
        let sure = self.openings.iter().position(|probability| *probability >= assume::SURE);
        sure.filter(|_| self.two < assume::LOCATED_BELOW)
    }

    /// The call, where the evidence is fit; `heard` tells for each opening whether hiss is there beyond doubt, `loud` how
    /// likely one of them leaks so loud that it would be.
    #[must_use]
    pub fn call(&self, heard: &[bool], loud: f64) -> Call {
        if self.is_shared() {
            return Call::Shared;
        }
        if self.located().is_some() {
            return Call::Located;
        }
        // What hisses everywhere alike is heard, wherever it comes from.
        let silent = !heard.contains(&true) && self.everywhere < 0.5;
        if self.tight + self.elsewhere >= 0.5 && silent && loud < assume::LOUD_BELOW {
            return Call::NoneHeard;
        }
        Call::CannotTell
    }

    /// The smallest set that holds 95 %, likeliest first; ties by place, openings before elsewhere before tight.
    #[must_use]
    pub fn answer_set(&self) -> Vec<Place> {
        let mut members: Vec<(Place, f64)> =
            self.openings.iter().enumerate().map(|(at, p)| (Place::Opening(at), *p)).collect();
        members.push((Place::Elsewhere, self.elsewhere));
        members.push((Place::Tight, self.tight));
        members.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut held = 0.0;
        let mut set = Vec::new();
        for (member, probability) in members {
            if held >= assume::SURE {
                break;
            }
            held += probability;
            set.push(member);
        }
        set
    }
}
