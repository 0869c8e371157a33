//! The label as a drawing, and the code on it.

use std::fmt::Write;

use qrcode::bits::Bits;
use qrcode::types::QrResult;
use qrcode::{Color, EcLevel, QrCode, Version};

use super::LabelInks;
use crate::claim::says;
use crate::unit::legible::without_unseen;
use crate::view::{self, Label, WorkshopView};
use crate::words::{Words, shortened};

/// White around a code, in modules, as ISO/IEC 18004 asks for.
const QUIET: usize = 4;

/// Where the band begins that says what to beware of.
const BAND: f64 = 32.0;

/// The label as an SVG picture of 90 by 55 mm. Its letters are the reader's own.
pub fn label_svg(label: &Label, workshop: &WorkshopView, words: &Words, inks: &LabelInks) -> String {
    let mut lines = String::new();
    let most = if label.address.is_empty() { 38 } else { 25 };
    let mut y = 14.0;
    for line in wrapped(&label.what, most).into_iter().take(2) {
        text_line(&mut lines, y, 4.6, 400, &line);
        y += 5.2;
    }
    let seal = if label.seal.is_empty() { String::new() } else { format!(" · {}", label.seal) };
    text_line(&mut lines, y + 0.8, 4.2, 600, &label.number);
    text_line(&mut lines, y + 5.0, 3.0, 400, &format!("{}{seal}", label.done));
    let mut below = BAND + 4.6;
    for caution in &label.cautions {
        for line in wrapped(caution, 50).into_iter().take(2) {
            text_line(&mut lines, below, 3.2, 600, &line);
            below += 3.8;
        }
        below += 0.6;
    }
    let title = says!("label-title", number = label.number.as_str(), piece = label.what.as_str());
    let about: Vec<&str> =
        [label.finish.as_str(), &workshop.contact].into_iter().filter(|text| !text.is_empty()).collect();
    if let Some(line) = wrapped(&about.join(". "), 58).first() {
        text_line(&mut lines, 53.0, 3.0, 400, line);
    }
    let code = match label.address.as_str() {
        "" => String::new(),
        address => {
            let (path, across) = modules(address);
            let scale = 26.0 / across as f64;
            format!(
                "<g transform=\"translate(61 3) scale({scale:.5})\"><path d=\"{path}\" fill=\"#000\"/></g>"
            )
        }
    };
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 90 55\" width=\"90mm\" height=\"55mm\" role=\"img\" \
         aria-labelledby=\"label-title\"><title id=\"label-title\">{}</title>\
         <rect width=\"90\" height=\"55\" fill=\"#fff\"/>\
         <rect y=\"{BAND}\" width=\"90\" height=\"{height}\" fill=\"{dye}\" fill-opacity=\"0.05\"/>\
         <rect y=\"{BAND}\" width=\"90\" height=\"0.7\" fill=\"{dye}\"/>\
         <g font-family=\"{serif}\" fill=\"{ink}\"><text x=\"5\" y=\"7.5\" font-size=\"3\" font-weight=\"600\" \
         font-family=\"{sans}\" fill=\"{dye}\">{}</text>{lines}</g>{code}</svg>\n",
        escaped(&words.say(&title)),
        escaped(&shortened(&workshop.name, 36)),
        height = 55.0 - BAND,
        serif = escaped(&inks.serif),
        sans = escaped(&inks.sans),
        ink = inks.ink.0,
        dye = inks.dye.0,
    )
}

fn text_line(lines: &mut String, y: f64, size: f64, weight: u32, text: &str) {
    let text = escaped(text);
    write!(lines, "<text x=\"5\" y=\"{y:.1}\" font-size=\"{size}\" font-weight=\"{weight}\">{text}</text>")
        .expect("a string takes any text");
}

/// Text in lines of so many letters at most, broken at spaces where there are any.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let letters: Vec<char> = word.chars().collect();
        for piece in letters.chunks(most) {
            let piece: String = piece.iter().collect();
            let last = lines.last_mut().expect("there is always a line");
            if last.is_empty() {
                last.push_str(&piece);
            } else if last.chars().count() + 1 + piece.chars().count() <= most {
                last.push(' ');
                last.push_str(&piece);
            } else {
                lines.push(piece);
            }
        }
    }
    lines
}

/// The code alone as an SVG picture, its white border included.
#[cfg(feature = "papers")]
pub(super) fn code_svg(text: &str) -> String {
    let (path, across) = modules(text);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {across} {across}\" width=\"{across}\" \
         height=\"{across}\"><rect width=\"{across}\" height=\"{across}\" fill=\"#fff\"/><path d=\"{path}\" \
         fill=\"#000\"/></svg>"
    )
}

/// A code as lines of characters, two modules high each, its white border included. They are filled where it is dark, or
/// else where it is light, as for letters that shine on a dark ground.
pub fn code_lines(text: &str, filled_is_dark: bool) -> Vec<String> {
    let code = code_of(text);
    let across = code.width();
    let (colours, size) = (code.to_colors(), across + 2 * QUIET);
    let filled = |row: usize, column: usize| {
        let inside = (QUIET..QUIET + across).contains(&row) && (QUIET..QUIET + across).contains(&column);
        let dark = inside && colours[(row - QUIET) * across + column - QUIET] == Color::Dark;
        row < size && dark == filled_is_dark
    };
    let sign = |row: usize, column: usize| match (filled(row, column), filled(row + 1, column)) {
        (true, true) => '█',
        (true, false) => '▀',
        (false, true) => '▄',
        (false, false) => ' ',
    };
    (0..size).step_by(2).map(|row| (0..size).map(|column| sign(row, column)).collect()).collect()
}

/// The code of a text.
///
/// The middle level of error correction is used, and the lowest where the text is too long for it; text that is
/// too long for any code is cut.
fn code_of(text: &str) -> QrCode {
    let cut: String = text.chars().take(300).collect();
    code(text, EcLevel::M)
        .or_else(|_| code(text, EcLevel::L))
        .or_else(|_| code(&cut, EcLevel::L))
        .expect("three hundred letters fit")
}

/// The dark modules of a code as a path of squares, and how many modules it is across with its border.
fn modules(text: &str) -> (String, usize) {
    let code = code_of(text);
    let across = code.width();
    let mut path = String::new();
    for (row, colours) in code.to_colors().chunks(across).enumerate() {
        let mut at = 0;
        while at < across {
            let run = colours[at..].iter().take_while(|colour| **colour == Color::Dark).count();
            if run > 0 {
                write!(path, "M{} {}h{run}v1h-{run}z", at + QUIET, row + QUIET)
                    .expect("a string takes any text");
            }
            at += run.max(1);
        }
    }
    (path, across + 2 * QUIET)
}

/// The smallest code of a level that holds the text. Readers guess at letters beyond ASCII, unless the code says
/// that they are UTF-8: assignment 26 of the AIM's Extended Channel Interpretations.
fn code(text: &str, level: EcLevel) -> QrResult<QrCode> {
    if text.is_ascii() {
        return QrCode::with_error_correction_level(text, level);
    }
    let sized = |version: i16| {
        let mut bits = Bits::new(Version::Normal(version));
        bits.push_eci_designator(26)?;
        bits.push_byte_data(text.as_bytes())?;
        bits.push_terminator(level)?;
        QrCode::with_bits(bits, level)
    };
    (1..40).map(sized).find(Result::is_ok).unwrap_or_else(|| sized(40))
}

/// Text within the drawing: escaped, and without signs that nobody sees, some of which no XML may hold.
fn escaped(text: &str) -> String {
    view::escaped(&without_unseen(text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::Theme;
    use crate::source::Tree;

    fn label(what: &str) -> Label {
        Label {
            number: "T-1".to_owned(),
            what: what.to_owned(),
            kind: "Table".to_owned(),
            done: "Repaired 2026".to_owned(),
            finish: "Paste wax".to_owned(),
            cautions: vec!["Do not sit on it.".to_owned()],
            seal: String::new(),
            address: String::new(),
        }
    }

    #[test]
    fn a_code_in_characters_is_the_one_that_is_drawn() {
        let text = "http://192.168.1.20:61007/abcdefghijklmnopabcdefghijklmnop/";
        let (code, lines) = (code_of(text), code_lines(text, true));
        let size = code.width() + 2 * QUIET;
        assert!(lines.len() == size.div_ceil(2) && lines.iter().all(|line| line.chars().count() == size));
        for (row, colours) in code.to_colors().chunks(code.width()).enumerate() {
            for (column, colour) in colours.iter().enumerate() {
                let sign = lines[(row + QUIET) / 2].chars().nth(column + QUIET).unwrap();
                let halves = if (row + QUIET).is_multiple_of(2) { ['█', '▀'] } else { ['█', '▄'] };
                assert_eq!(halves.contains(&sign), *colour == Color::Dark, "{row}, {column}");
            }
        }
        let (dark, light) = (code_lines(text, true).concat(), code_lines(text, false).concat());
        assert!(dark.starts_with(' ') && light.starts_with('█'), "the border is light in both");
    }

    #[test]
    fn names_are_text_and_never_markup() {
        let tree = Tree::of([("workshop.toml", "")]);
        let theme = Theme::built_in(&tree).expect("the built-in theme reads");
        let workshop = WorkshopView { name: "A & B".to_owned(), ..WorkshopView::default() };
        let words = Words::with_currency("GBP");
        let svg = label_svg(&label("<script>\"&' \u{7}"), &workshop, &words, theme.label());
        assert!(!svg.contains("<path"), "there is nowhere to lead to");
        assert!(svg.contains("&lt;script&gt;") && !svg.contains("<script>") && !svg.contains('\u{7}'));
        assert!(svg.contains("A &amp; B"));
    }

    #[test]
    fn lines_break_at_spaces_and_within_endless_words() {
        assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
        assert_eq!(wrapped("abcdefghij", 4), ["abcd", "efgh", "ij"]);
    }

    #[test]
    fn a_code_has_its_border_and_grows_with_its_text() {
        let (path, across) = modules("T-1");
        assert_eq!(across, 21 + 2 * QUIET);
        // The finder pattern at the top left begins after the border.
        assert!(path.starts_with("M4 4h7"), "{path}");
        assert!(modules(&"x".repeat(5000)).1 > across);
    }
}
