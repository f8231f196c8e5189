//! A moment as the job keeps it: the instant, the offset of local time, and the zone's name.

use std::fmt;
use std::str::FromStr;

use jiff::fmt::temporal::Pieces;
use jiff::tz::Offset;
use jiff::{Timestamp, Unit, ZonedDateTime};

/// A moment with the local offset and, where it is known, the zone: `2026-11-25T08:40:00+01:00[Europe/Berlin]`.
///
/// The zone is kept as a name and never looked up: a zone's rules may change after the test,
/// and what the clock on the wall showed must not change with them.
///
/// ```
/// use hissward::job::When;
/// let when: When = "2026-11-25T08:40:00+01:00[Europe/Berlin]".parse()?;
/// assert_eq!(when.to_string(), "2026-11-25T08:40:00+01:00[Europe/Berlin]");
/// assert_eq!(when.local_date(), "2026-11-25");
/// # Ok::<(), hissward::job::WhenError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct When {
    at: Timestamp,
    offset: Offset,
    zone: Option<String>,
}

/// Why a text is no moment.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{got}' is not a valid date and time: write date, time and offset, as in \"2026-11-25T08:40:00+01:00\"")]
pub struct WhenError {
    got: String,
}

impl When {
    /// The moment on this machine's clock and in its zone, to the second.
    #[must_use]
    pub fn now() -> Self {
        let now = ZonedDateTime::now();
        // Rounding to a second fails only at the ends of time (year −9999, 9999).
        let at = now.timestamp().round(Unit::Second).unwrap_or_else(|_| now.timestamp());
        Self { at, offset: now.offset(), zone: now.time_zone().iana_name().map(str::to_owned) }
    }

    /// The instant.
    #[must_use]
    pub fn timestamp(&self) -> Timestamp {
        self.at
    }

    /// The day on the wall where the test was done: `2026-11-25`.
    #[must_use]
    pub fn local_date(&self) -> String {
        self.offset.to_datetime(self.at).date().to_string()
    }

    /// The same day as days since 1970-01-01.
    ///
    /// ```
    /// use hissward::job::When;
    /// let when: When = "1970-01-02T00:30:00+01:00".parse()?;
    /// assert_eq!((when.timestamp().as_second(), when.local_day_number()), (84_600, 1));
    /// # Ok::<(), hissward::job::WhenError>(())
    /// ```
    #[must_use]
    pub fn local_day_number(&self) -> i32 {
        let day = (self.at.as_second() + i64::from(self.offset.seconds())).div_euclid(86_400);
        // A timestamp's years go from −9999 to 9999: 3.7 million days.
        i32::try_from(day).unwrap_or(i32::MAX)
    }

    /// Day and time on the wall, to the minute: `2026-11-25 08:40`.
    #[must_use]
    pub fn local_minute(&self) -> String {
        self.offset.to_datetime(self.at).strftime("%Y-%m-%d %H:%M").to_string()
    }
}

impl FromStr for When {
    type Err = WhenError;

    fn from_str(text: &str) -> Result<Self, WhenError> {
        let wrong = || WhenError { got: text.chars().take(80).collect() };
        let pieces = Pieces::parse(text).map_err(|_| wrong())?;
        let offset = pieces.to_numeric_offset().ok_or_else(wrong)?;
        let time = pieces.time().ok_or_else(wrong)?;
        let at = offset.to_timestamp(pieces.date().to_datetime(time)).map_err(|_| wrong())?;
        let zone = pieces.time_zone_annotation().and_then(|zone| match zone.kind() {
            jiff::fmt::temporal::TimeZoneAnnotationKind::Named(name) => Some(name.as_str().to_owned()),
            _ => None,
        });
        Ok(Self { at, offset, zone })
    }
}

impl fmt::Display for When {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.at.display_with_offset(self.offset))?;
        match &self.zone {
            Some(zone) => write!(out, "[{zone}]"),
            None => Ok(()),
        }
    }
}
