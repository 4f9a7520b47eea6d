//! The calendar: which days there are.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// Whether the calendar has a day.
#[must_use]
pub fn is_day(year: i32, month: u8, day: u8) -> bool {
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1..=days).contains(&day)
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    /// The year.
    pub year: i32,
    /// The month, from 1.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

impl Day {
    /// The day of three figures, when the calendar has it.
    #[must_use]
    pub fn new(year: i32, month: u8, day: u8) -> Option<Self> {
        is_day(year, month, day).then_some(Self { year, month, day })
    }

    /// The day of a text such as `2026-11-25`.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.splitn(3, '-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let digits = year.len() == 4 && month.len() == 2 && day.len() == 2;
        let known = Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?);
        known.filter(|_| digits)
    }

    /// How many days it lies after another; negative: before.
    ///
    /// # Source
    /// The Gregorian calendar, carried on to both sides.
    ///
    /// # Example
    /// ```
    /// use annulet::model::Day;
    /// let day = |year, month, day| Day::new(year, month, day).unwrap();
    /// assert_eq!(day(2026, 3, 1).days_after(day(2026, 2, 28)), 1);
    /// assert_eq!(day(2024, 3, 1).days_after(day(2024, 2, 28)), 2);
    /// ```
    #[must_use]
    pub fn days_after(self, other: Self) -> i64 {
        self.number() - other.number()
    }

    /// The day so many whole days later; none beyond some 27 years.
    #[must_use]
    pub fn after(self, days: Decimal) -> Option<Self> {
        let days = days.trunc().to_u32().filter(|days| *days <= 10_000)?;
        let mut now = self;
        for _ in 0..days {
            now = Self::new(now.year, now.month, now.day + 1)
                .or_else(|| Self::new(now.year, now.month + 1, 1))
                .or_else(|| Self::new(now.year + 1, 1, 1))?;
        }
        Some(now)
    }

    /// Days since the first day of the year 0; the year is counted from March, so that a leap day ends it.
    fn number(self) -> i64 {
        let early = self.month <= 2;
        let year = i64::from(self.year) - i64::from(early);
        let month = i64::from(self.month) + if early { 9 } else { -3 };
        let leaps = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        365 * year + leaps + (153 * month + 2) / 5 + i64::from(self.day)
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            formatter,
            "{:04}-{:02}-{:02}",
            self.year, self.month, self.day
        )
    }
}
