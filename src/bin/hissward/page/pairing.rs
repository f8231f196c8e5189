//! The pairing code: single-use, short-lived, and locked for a minute after five wrong ones.

use std::time::{Duration, Instant};

use hissward::job::Sha256;
use rand::RngExt;

/// Digits and letters that are not taken for each other.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// 32⁸ codes: with five guesses a minute and a life of ten minutes, one in 20 thousand million is guessed.
const LENGTH: usize = 8;
/// How long a code is good.
pub const CODE_LIFE: Duration = Duration::from_secs(600);
/// Wrong codes until pairing is locked.
const MOST_WRONG: u32 = 5;
/// For how long it is locked.
pub const LOCK: Duration = Duration::from_secs(60);

/// What became of an attempt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Attempt {
    /// Right; the code is spent.
    Paired,
    /// Wrong, or spent, or too old.
    Wrong,
    /// Not looked at: too many were wrong.
    Locked {
        /// Until it opens again.
        left: Duration,
    },
}

/// The one code there is at a time.
#[derive(Debug)]
pub struct Pairing {
    code: String,
    made: Instant,
    spent: bool,
    wrong: u32,
    locked_until: Option<Instant>,
}

impl Pairing {
    /// A first code.
    pub fn new(now: Instant) -> Self {
        Self { code: fresh_code(), made: now, spent: false, wrong: 0, locked_until: None }
    }

    /// The code to be shown: the one there is while it is good, else a new one.
    pub fn code(&mut self, now: Instant) -> String {
        if self.spent || now.duration_since(self.made) >= CODE_LIFE {
            (self.code, self.made, self.spent) = (fresh_code(), now, false);
        }
        self.code.clone()
    }

    /// Tries a code as somebody typed it.
    pub fn attempt(&mut self, typed: &str, now: Instant) -> Attempt {
        if let Some(until) = self.locked_until {
            if now < until {
                return Attempt::Locked { left: until - now };
            }
            (self.locked_until, self.wrong) = (None, 0);
        }
        let good = !self.spent && now.duration_since(self.made) < CODE_LIFE;
        // Hashes are compared, so that the time taken says nothing of the code.
        let same = Sha256::of(as_meant(typed).as_bytes()) == Sha256::of(self.code.as_bytes());
        if good && same {
            (self.spent, self.wrong) = (true, 0);
            return Attempt::Paired;
        }
        self.wrong += 1;
        if self.wrong >= MOST_WRONG {
            self.locked_until = Some(now + LOCK);
        }
        Attempt::Wrong
    }
}

fn fresh_code() -> String {
    let mut random = rand::rng();
    (0..LENGTH).map(|_| char::from(ALPHABET[random.random_range(0..ALPHABET.len())])).collect()
}

/// A code in two groups, as it is shown: `K7M4-QXRT`.
pub fn as_shown(code: &str) -> String {
    let (first, last) = code.split_at(code.len() / 2);
    format!("{first}-{last}")
}

/// Small letters, blanks, hyphens and letters that look like digits are forgiven.
fn as_meant(typed: &str) -> String {
    let plain = typed.chars().take(40).filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_uppercase());
    plain
        .map(|c| match c {
            'O' => '0',
            'I' | 'L' => '1',
            'U' => 'V',
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_good_once_and_forgives_how_it_is_typed() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        let typed = format!(" {} ", as_shown(&code).to_lowercase().replace('0', "o").replace('1', "l"));
        assert_eq!(pairing.attempt(&typed, now), Attempt::Paired);
        assert_eq!(pairing.attempt(&code, now), Attempt::Wrong, "spent");
        let next = pairing.code(now);
        assert_ne!(next, code);
        assert_eq!(pairing.attempt(&next, now), Attempt::Paired);
    }

    #[test]
    fn a_code_ends_after_ten_minutes() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        assert_eq!(pairing.code(now + CODE_LIFE - Duration::from_secs(1)), code);
        assert_eq!(pairing.attempt(&code, now + CODE_LIFE), Attempt::Wrong);
    }

    #[test]
    fn five_wrong_codes_lock_for_a_minute_even_the_right_one() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        for _ in 0..MOST_WRONG {
            assert_eq!(pairing.attempt("AAAA-AAAA", now), Attempt::Wrong);
        }
        assert_eq!(pairing.attempt(&code, now), Attempt::Locked { left: LOCK });
        let almost = now + LOCK - Duration::from_millis(1);
        assert!(matches!(pairing.attempt(&code, almost), Attempt::Locked { .. }));
        assert_eq!(pairing.attempt(&code, now + LOCK), Attempt::Paired);
    }
}
