//! The number proposed for a new piece.

use std::collections::BTreeMap;

/// The next free number for a piece of this kind, given the kind and number of every piece there is.
///
/// It follows what the workshop does for that kind already, and else is two letters of the kind and three digits,
/// such as `TB-001` for a table.
pub(super) fn next(kind: &str, pieces: &[(&str, &str)]) -> String {
    let family = |kind: &str| kind.split('/').next().unwrap_or_default().trim().to_lowercase();
    let mut used: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, number) in pieces.iter().filter(|(other, _)| family(other) == family(kind)) {
        if let Some((prefix, _)) = split(number) {
            *used.entry(prefix).or_default() += 1;
        }
    }
    // The most used prefix; of equally used ones the first by letter, so that the answer does not change.
    let usual = used.iter().max_by(|a, b| a.1.cmp(b.1).then(b.0.cmp(a.0))).map(|(prefix, _)| *prefix);
    let prefix = usual.map_or_else(|| format!("{}-", letters(&family(kind))), str::to_owned);
    let counts = pieces.iter().filter_map(|(_, number)| split(number)).filter(|(other, _)| *other == prefix);
    let (last, width) = counts.fold((0, 3), |(last, width), (_, digits)| {
        // A number too long to count is none of a series.
        digits.parse::<u32>().map_or((last, width), |count| match u64::from(count) >= last {
            true => (count.into(), digits.len()),
            false => (last, width),
        })
    });
    format!("{prefix}{:0width$}", last + 1)
}

/// A number's prefix and its digits at the end.
fn split(number: &str) -> Option<(&str, &str)> {
    let number = number.trim();
    let prefix = number.trim_end_matches(|c: char| c.is_ascii_digit());
    (prefix.len() < number.len()).then(|| number.split_at(prefix.len()))
}

/// Two letters for a family of pieces: the first, and the next consonant.
fn letters(family: &str) -> String {
    let family = if family.is_empty() || family == crate::record::UNKNOWN { "piece" } else { family };
    let slug = slug::slugify(family);
    let mut of = slug.chars().filter(char::is_ascii_lowercase);
    let first = of.next().unwrap_or('p');
    let second = of.find(|c| !"aeiouy".contains(*c) && *c != first).unwrap_or('x');
    [first, second].iter().collect::<String>().to_uppercase()
}

#[cfg(test)]
mod tests {
    use super::next;

    #[track_caller]
    fn case(kind: &str, pieces: &[(&str, &str)], expected: &str) {
        assert_eq!(next(kind, pieces), expected);
    }

    #[test]
    fn the_first_of_a_kind_starts_a_series() {
        case("table/gateleg", &[], "TB-001");
        case("chair", &[("table", "TB-007")], "CH-001");
        case("unknown", &[], "PC-001");
        case("كرسي", &[], "KR-001");
        case("🪑 / 🪑", &[], "CH-001");
    }

    #[test]
    fn a_series_goes_on_as_the_workshop_writes_it() {
        case("table", &[("table/gateleg", "TL-007"), ("table", "TL-009"), ("table", "mine")], "TL-010");
        case("stool", &[("stool/milking", "2026/18")], "2026/19");
        case("chest", &[("chair", "CH-001")], "CH-002");
        case("table", &[("table", "9"), ("table", "10")], "11");
        case("table", &[("table", "18446744073709551615")], "001");
    }
}
