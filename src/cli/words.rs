//! Small words of sentences: counts, sizes, times.

use std::time::Duration;

/// A count with its noun, such as "1 mistake" or "2 mistakes".
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", grouped(number), if number == 1 { one } else { many })
}

/// A whole number with its thousands apart.
pub(super) fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A quantity of bytes in decimal units.
pub(super) fn bytes(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{:.0} kB", bytes as f64 / 1e3),
        1_000_000..1_000_000_000 => format!("{:.1} MB", bytes as f64 / 1e6),
        _ => format!("{:.1} GB", bytes as f64 / 1e9),
    }
}

/// How long something took, as exactly as anybody cares.
pub(super) fn took(time: Duration) -> String {
    match time.as_secs() {
        0..10 => format!("{:.1} s", time.as_secs_f64()),
        seconds @ 10..60 => format!("{seconds} s"),
        seconds => format!("{} min {} s", seconds / 60, seconds % 60),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_read_as_words() {
        assert_eq!(count(1, "file", "files"), "1 file");
        assert_eq!(count(0, "file", "files"), "0 files");
        assert_eq!(count(1_234_567, "file", "files"), "1,234,567 files");
    }

    #[test]
    fn sizes_and_times_change_their_unit() {
        assert_eq!([bytes(999), bytes(38_200), bytes(38_240_000)], ["999 bytes", "38 kB", "38.2 MB"]);
        let times = [400, 12_900, 200_000].map(|millis| took(Duration::from_millis(millis)));
        assert_eq!(times, ["0.4 s", "12 s", "3 min 20 s"]);
    }
}
