//! A day of the calendar as the shop file writes it: `2026-03-14`.

use std::fmt;

/// A day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// Year, 1900 to 2999.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, 1 to 31.
    pub day: u8,
}

impl Date {
    /// Reads `2026-03-14`; nothing when it is no day of the calendar.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        if parts.next().is_some() || year.len() != 4 || month.len() != 2 || day.len() != 2 {
            return None;
        }
        let all_digits = [year, month, day]
            .iter()
            .all(|part| part.bytes().all(|byte| byte.is_ascii_digit()));
        if !all_digits {
            return None;
        }
        let date = Self {
            year: year.parse().ok()?,
            month: month.parse().ok()?,
            day: day.parse().ok()?,
        };
        let days = days_in_month(date.year, date.month)?;
        ((1900..3000).contains(&date.year) && (1..=days).contains(&date.day)).then_some(date)
    }
}

const fn days_in_month(year: u16, month: u8) -> Option<u8> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
        4 | 6 | 9 | 11 => Some(30),
        2 => Some(if leap { 29 } else { 28 }),
        _ => None,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::Date;

    #[test]
    fn a_day_is_read_and_written_back() {
        assert_eq!(Date::read("2024-02-29").unwrap().to_string(), "2024-02-29");
        assert_eq!(Date::read("2023-02-29"), None);
        assert_eq!(Date::read("2023-13-01"), None);
        assert_eq!(Date::read("14.3.2023"), None);
        assert_eq!(Date::read("2023-+3-01"), None);
    }
}
