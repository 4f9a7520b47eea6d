//! The calendar: which days there are.

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
