//! What people write for a date, turned into EDTF.

use super::{SEASONS, read};
use crate::unit::calendar;

/// The readings that are EDTF. Rules may propose nonsense: only what reads is kept.
pub(super) fn readings(text: &str) -> Vec<String> {
    let plain = text.to_lowercase().replace(['–', '—', '‑', '−'], "-");
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut found: Vec<String> = Vec::new();
    for reading in ranges(&plain).into_iter().chain(single(&plain)) {
        if !found.contains(&reading) && read(&reading).is_ok() {
            found.push(reading);
        }
    }
    found
}

fn ranges(text: &str) -> Vec<String> {
    let after = |words: &[&str]| words.iter().find_map(|word| text.strip_prefix(word));
    if let Some(end) = after(&["before ", "until ", "by "]) {
        return single(end).iter().map(|end| format!("../{end}")).collect();
    }
    if let Some(start) = after(&["after ", "since "]) {
        return single(start).iter().map(|start| format!("{start}/..")).collect();
    }
    let text = after(&["between ", "from "]).unwrap_or(text);
    let mut found = Vec::new();
    for separator in [" to ", " and ", "/", " - ", "-"] {
        let Some((start, end)) = text.split_once(separator) else {
            continue;
        };
        let (start, end) = (start.trim(), end.trim());
        let mut ends = single(end);
        if start.len() == 4 && end.len() == 2 {
            // `1920-35` repeats the century.
            ends.extend(start.get(..2).map(|century| format!("{century}{end}")));
        }
        for start in single(start) {
            // Written backwards, it is turned round.
            for end in &ends {
                found.extend([format!("{start}/{end}"), format!("{end}/{start}")]);
            }
        }
    }
    found
}

/// One date, with the words and marks for `~` and `?` taken off and put at the end.
fn single(text: &str) -> Vec<String> {
    const UNCERTAIN: &[&str] = &["possibly ", "probably ", "perhaps ", "?"];
    const APPROXIMATE: &[&str] = &["about", "around", "circa", "ca.", "c.", "c", "~"];
    let (mut rest, mut marks) = (text, String::new());
    for (words, mark) in [(UNCERTAIN, '?'), (APPROXIMATE, '~')] {
        if let Some(tail) = words.iter().find_map(|word| rest.strip_prefix(word)) {
            rest = tail.trim_start();
            marks.push(mark);
        }
    }
    let unmarked = rest.trim_end_matches(['?', '~', '%', ' ']);
    marks.push_str(&rest[unmarked.len()..]);
    rest = unmarked;
    let mark = match (marks.contains(['~', '%']), marks.contains(['?', '%'])) {
        (true, true) => "%",
        (true, false) => "~",
        (false, true) => "?",
        (false, false) => "",
    };
    let dates = bare(rest.strip_prefix("the ").unwrap_or(rest));
    dates.into_iter().map(|date| date + mark).collect()
}

fn bare(text: &str) -> Vec<String> {
    let words = text.split([' ', '.', '/', '-', ',']);
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let two = |word: &str| format!("{:0>2}", word.trim_end_matches(char::is_alphabetic));
    let month = |word: &str| calendar::month(word).map(|month| format!("{month:02}"));
    let season = |word: &str| SEASONS.iter().position(|s| *s == word).map(|place| place + 21);
    match words[..] {
        [one] => one_word(one),
        [n, "century"] => match two(n).parse::<u32>() {
            Ok(century @ 1..) => vec![format!("{:02}XX", century - 1)],
            _ => Vec::new(),
        },
        [a, b] => match (month(a), season(a)) {
            (Some(month), _) => vec![format!("{b}-{month}")],
            (_, Some(season)) => vec![format!("{b}-{season}")],
            _ => vec![format!("{a}-{}", two(b))],
        },
        [a, b, c] => match (month(a), month(b)) {
            (Some(month), _) => vec![format!("{c}-{month}-{}", two(b))],
            (_, Some(month)) => vec![format!("{c}-{month}-{}", two(a))],
            // Day first or, where the numbers allow it, month first.
            _ if c.len() == 4 => {
                vec![format!("{c}-{}-{}", two(b), two(a)), format!("{c}-{}-{}", two(a), two(b))]
            }
            _ => vec![format!("{a}-{}-{}", two(b), two(c))],
        },
        _ => Vec::new(),
    }
}

/// A decade, or a date in small letters.
fn one_word(word: &str) -> Vec<String> {
    let years = ["'s", "’s", "s"].iter().find_map(|plural| word.strip_suffix(plural));
    match years.map(|years| (years.strip_suffix("00"), years.strip_suffix('0'))) {
        // "The 1900s" may be ten years or a hundred.
        Some((Some(century), _)) => vec![format!("{century}0X"), format!("{century}XX")],
        Some((_, Some(decade))) => vec![format!("{decade}X")],
        _ => vec![word.to_uppercase()],
    }
}
