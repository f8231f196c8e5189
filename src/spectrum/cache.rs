//! What is dear to make and the same for every clip of one kind: made once, then kept.

use std::sync::{Arc, Mutex, PoisonError};

/// Kinds kept: a shop has one or two sample rates, and outside bytes may claim any.
const MOST_KINDS: usize = 8;

/// Values by key. A hidden copy of a pure function's results, so that it makes no difference but time.
pub(crate) struct Cache<K, V: ?Sized>(Mutex<Vec<(K, Arc<V>)>>);

impl<K: PartialEq, V: ?Sized> Cache<K, V> {
    /// Nothing made yet.
    pub(crate) const fn new() -> Self {
        Self(Mutex::new(Vec::new()))
    }

    /// The value of a key, by `make` where it is not there yet. Who comes meanwhile waits: a second making costs more.
    pub(crate) fn get(&self, key: K, make: impl FnOnce() -> Arc<V>) -> Arc<V> {
        // A panic while making leaves the list as it was.
        let mut made = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, value)) = made.iter().find(|(known, _)| *known == key) {
            return Arc::clone(value);
        }
        let value = make();
        made.truncate(MOST_KINDS - 1);
        made.insert(0, (key, Arc::clone(&value)));
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_made_once_and_the_oldest_makes_room() {
        let cache = Cache::<u32, u32>::new();
        let mut made = 0;
        let mut get = |key: u32| {
            let value = cache.get(key, || {
                made += 1;
                Arc::new(key * 10)
            });
            (*value, made)
        };
        assert_eq!((get(1), get(1), get(2), get(1)), ((10, 1), (10, 1), (20, 2), (10, 2)));
        for key in 3..=9 {
            get(key);
        }
        assert_eq!(get(2), (20, 9));
        assert_eq!(get(1), (10, 10), "the oldest of nine was dropped");
    }
}
