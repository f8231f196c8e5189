//! The pairing code: single-use, short-lived; an address from which five wrong ones came waits a minute.
//!
//! Only that address waits: nobody can lock the others out. What keeps a code from being guessed is its length, not the
//! wait: see [`LENGTH`]. Whoever sits at the computer can always pair: a code shown anew there is taken even from an
//! address that waits.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use hissward::job::Sha256;
use rand::RngExt;

use super::prefix::AddressPrefix;

/// Digits and letters that are not taken for each other.
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// 32⁸ codes are 1.1 million million: a thousand addresses with five guesses a minute each, all through a code's ten
/// minutes, hit it once in twenty million times.
const LENGTH: usize = 8;
/// How long a code is good.
pub const CODE_LIFE: Duration = Duration::from_secs(600);
/// Wrong codes from one address until it has to wait.
const MOST_WRONG: u32 = 5;
/// For how long it waits.
pub const LOCK: Duration = Duration::from_secs(60);
/// For how long a code that was shown anew is taken from everywhere. At the pace of requests, one address has 4,800
/// guesses in this time: one in two hundred million hits.
const AT_ONCE: Duration = Duration::from_secs(120);
/// Addresses remembered; the one that was wrong longest ago is forgotten.
const MOST_ADDRESSES: usize = 1024;

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
    anew: Option<Instant>,
    wrong: BTreeMap<AddressPrefix, Wrong>,
}

/// Wrong codes of one address.
#[derive(Debug, Clone, Copy)]
struct Wrong {
    count: u32,
    last: Instant,
}

impl Wrong {
    fn left(&self, now: Instant) -> Option<Duration> {
        let until = self.last + LOCK;
        (self.count >= MOST_WRONG && now < until).then(|| until - now)
    }
}

impl Pairing {
    /// A first code.
    pub fn new(now: Instant) -> Self {
        Self { code: fresh_code(), made: now, spent: false, anew: None, wrong: BTreeMap::new() }
    }

    /// The code to be shown: the one there is while it is good, else a new one.
    pub fn code(&mut self, now: Instant) -> String {
        if self.spent || now.duration_since(self.made) >= CODE_LIFE {
            (self.code, self.made, self.spent, self.anew) = (fresh_code(), now, false, None);
        }
        self.code.clone()
    }

    /// A new code in place of the one there is, for whoever asks at the computer itself.
    pub fn code_anew(&mut self, now: Instant) -> String {
        self.spent = true;
        let code = self.code(now);
        self.anew = Some(now);
        code
    }

    /// Tries a code as somebody at an address typed it.
    pub fn attempt(&mut self, typed: &str, whose: AddressPrefix, now: Instant) -> Attempt {
        let waits = self.wrong.get(&whose).and_then(|wrong| wrong.left(now));
        let at_once = self.anew.is_some_and(|anew| now.duration_since(anew) < AT_ONCE);
        if let (Some(left), false) = (waits, at_once) {
            return Attempt::Locked { left };
        }
        let good = !self.spent && now.duration_since(self.made) < CODE_LIFE;
        // Hashes are compared, so that the time taken says nothing of the code.
        let same = Sha256::of(as_meant(typed).as_bytes()) == Sha256::of(self.code.as_bytes());
        if good && same {
            self.spent = true;
            self.wrong.remove(&whose);
            return Attempt::Paired;
        }
        if let Some(left) = waits {
            return Attempt::Locked { left };
        }
        self.count(whose, now);
        Attempt::Wrong
    }

    fn count(&mut self, whose: AddressPrefix, now: Instant) {
        if self.wrong.len() >= MOST_ADDRESSES && !self.wrong.contains_key(&whose) {
            let longest_ago = self.wrong.iter().min_by_key(|(_, wrong)| wrong.last).map(|(whose, _)| *whose);
            longest_ago.map(|whose| self.wrong.remove(&whose));
        }
        let wrong = self.wrong.entry(whose).or_insert(Wrong { count: 0, last: now });
        // After the wait it begins anew.
        wrong.count = if wrong.count >= MOST_WRONG { 1 } else { wrong.count + 1 };
        wrong.last = now;
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
    use std::net::IpAddr;

    use super::*;

    fn at(last: u8) -> AddressPrefix {
        AddressPrefix::of(IpAddr::from([10, 0, 0, last]))
    }

    #[test]
    fn a_code_is_good_once_and_forgives_how_it_is_typed() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        let typed = format!(" {} ", as_shown(&code).to_lowercase().replace('0', "o").replace('1', "l"));
        assert_eq!(pairing.attempt(&typed, at(1), now), Attempt::Paired);
        assert_eq!(pairing.attempt(&code, at(1), now), Attempt::Wrong, "spent");
        let next = pairing.code(now);
        assert_ne!(next, code);
        assert_eq!(pairing.attempt(&next, at(1), now), Attempt::Paired);
    }

    #[test]
    fn a_code_ends_after_ten_minutes() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        assert_eq!(pairing.code(now + CODE_LIFE - Duration::from_secs(1)), code);
        assert_eq!(pairing.attempt(&code, at(1), now + CODE_LIFE), Attempt::Wrong);
    }

    #[test]
    fn five_wrong_codes_make_one_address_wait_and_no_other() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let code = pairing.code(now);
        for _ in 0..MOST_WRONG {
            assert_eq!(pairing.attempt("AAAA-AAAA", at(1), now), Attempt::Wrong);
        }
        assert_eq!(pairing.attempt(&code, at(1), now), Attempt::Locked { left: LOCK });
        let almost = now + LOCK - Duration::from_millis(1);
        assert!(matches!(pairing.attempt(&code, at(1), almost), Attempt::Locked { .. }));
        assert_eq!(pairing.attempt(&code, at(2), now), Attempt::Paired, "another address is not held up");
        let next = pairing.code(now);
        assert_eq!(pairing.attempt(&next, at(1), now + LOCK), Attempt::Paired);
    }

    #[test]
    fn a_code_shown_anew_at_the_computer_is_taken_from_an_address_that_waits() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        let old = pairing.code(now);
        for _ in 0..MOST_WRONG {
            pairing.attempt("AAAA-AAAA", at(1), now);
        }
        let code = pairing.code_anew(now);
        assert_ne!(code, old);
        assert_eq!(pairing.attempt(&old, at(1), now), Attempt::Locked { left: LOCK }, "the old one is spent");
        assert_eq!(pairing.attempt(&code, at(1), now), Attempt::Paired);
        let late = pairing.code_anew(now);
        for _ in 0..MOST_WRONG {
            pairing.attempt("AAAA-AAAA", at(1), now + AT_ONCE);
        }
        assert!(matches!(pairing.attempt(&late, at(1), now + AT_ONCE), Attempt::Locked { .. }), "not for ever");
    }

    #[test]
    fn any_number_of_addresses_takes_no_more_memory() {
        let now = Instant::now();
        let mut pairing = Pairing::new(now);
        for address in 0..3 * MOST_ADDRESSES as u32 {
            pairing.attempt("AAAA-AAAA", AddressPrefix::of(IpAddr::from(address.to_be_bytes())), now);
        }
        assert_eq!(pairing.wrong.len(), MOST_ADDRESSES);
    }
}
