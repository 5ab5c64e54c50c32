//! Numbers nobody can guess, written as letters and digits.

use std::fmt::Write;

/// `bytes` random bytes as hexadecimal digits.
///
/// # Errors
/// When the system has no random source, which a program must not paper over.
pub fn digits(bytes: usize) -> Result<String, getrandom::Error> {
    let mut random = vec![0; bytes];
    getrandom::fill(&mut random)?;
    Ok(hex(&random))
}

/// Bytes as hexadecimal digits.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing into a text cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
