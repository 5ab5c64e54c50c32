//! Money: whole hundredths and a currency word, never added across currencies.

use std::fmt;

/// An amount of money.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money {
    /// The currency word (`EUR`); empty when nothing says which.
    pub currency: String,
    /// The amount in hundredths.
    pub hundredths: i64,
}

/// A price, possibly only known between two ends. One currency for both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// The low end.
    pub low: Money,
    /// The high end; equal to the low end for a plain price.
    pub high: Money,
}

/// Amounts above ten million are slips of the keyboard, not prices of engine parts.
const LARGEST: i64 = 1_000_000_000;

impl Money {
    /// Reads `18.50`, `60` or `18.50 EUR`; nothing when it is no amount of money.
    /// `usual` is the currency of the book or shop, taken when none is written.
    #[must_use]
    pub fn read(text: &str, usual: &str) -> Option<Self> {
        let price = Price::read(text, usual)?;
        (price.low == price.high).then_some(price.low)
    }

    /// The sum; nothing when the currencies differ or the sum is too large.
    #[must_use]
    pub fn checked_add(&self, other: &Self) -> Option<Self> {
        if self.currency != other.currency {
            return None;
        }
        Some(Self {
            currency: self.currency.clone(),
            hundredths: self.hundredths.checked_add(other.hundredths)?,
        })
    }
}

impl Price {
    /// Reads `18.50`, `18.50 EUR` or `40..60 EUR`; nothing when it is no price.
    /// `usual` is the currency of the book or shop, taken when none is written.
    #[must_use]
    pub fn read(text: &str, usual: &str) -> Option<Self> {
        let trimmed = text.trim();
        let (amounts, currency) = match trimmed.split_once(char::is_whitespace) {
            Some((amounts, word)) => (amounts, word.trim()),
            None => (trimmed, usual),
        };
        if currency
            .chars()
            .any(|c| !c.is_alphabetic() && !"€$£¥".contains(c))
        {
            return None;
        }
        let (low, high) = amounts.split_once("..").unwrap_or((amounts, amounts));
        let money = |amount| {
            Some(Money {
                currency: currency.to_owned(),
                hundredths: hundredths(amount)?,
            })
        };
        let price = Self {
            low: money(low)?,
            high: money(high)?,
        };
        (price.low.hundredths <= price.high.hundredths).then_some(price)
    }
}

fn hundredths(text: &str) -> Option<i64> {
    let (whole, cents) = text.split_once('.').unwrap_or((text, ""));
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(cents) || cents.len() > 2 {
        return None;
    }
    let cents = match cents.len() {
        0 => 0,
        1 => cents.parse::<i64>().ok()? * 10,
        _ => cents.parse::<i64>().ok()?,
    };
    let amount = whole
        .parse::<i64>()
        .ok()?
        .checked_mul(100)?
        .checked_add(cents)?;
    (amount <= LARGEST).then_some(amount)
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let cents = self.hundredths % 100;
        write!(f, "{}", self.hundredths / 100)?;
        if cents != 0 {
            write!(f, ".{:02}", cents.abs())?;
        }
        if self.currency.is_empty() {
            Ok(())
        } else {
            write!(f, " {}", self.currency)
        }
    }
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.low == self.high {
            return self.low.fmt(f);
        }
        let low = Money {
            currency: String::new(),
            hundredths: self.low.hundredths,
        };
        write!(f, "{low}..{}", self.high)
    }
}

#[cfg(test)]
mod tests {
    use super::{Money, Price};

    #[test]
    fn prices_are_read_and_written_back() {
        for (text, shown) in [
            ("60", "60 EUR"),
            ("18.50", "18.50 EUR"),
            ("18.5", "18.50 EUR"),
            ("40..60", "40..60 EUR"),
            ("9 GBP", "9 GBP"),
        ] {
            assert_eq!(Price::read(text, "EUR").unwrap().to_string(), shown);
        }
    }

    #[test]
    fn what_is_no_price_is_refused() {
        for text in [
            "",
            "free",
            "-3",
            "60..40",
            "1.234",
            "1,50",
            "3500k",
            "9 E UR",
            "99999999999",
            "1e3",
        ] {
            assert_eq!(Price::read(text, "EUR"), None, "{text}");
        }
    }

    #[test]
    fn currencies_are_never_added_up() {
        let euro = Money::read("1.50", "EUR").unwrap();
        assert_eq!(euro.checked_add(&Money::read("1", "GBP").unwrap()), None);
        assert_eq!(euro.checked_add(&euro).unwrap().hundredths, 300);
    }
}
