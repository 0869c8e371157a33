//! A value that somebody typed into a form, as a record has it.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::about::Sort;
use super::{Reader, Value, about, code};
use crate::diag::Diagnostic;

/// Who may read what stands under a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Audience {
    /// Whoever reads the papers.
    Everybody,
    /// The buyer, and the archive.
    Buyer,
    /// The archive alone.
    Archive,
}

/// How a value of a key is written that somebody typed, or what is wrong with it; in a workshop whose currency is known.
pub(crate) type Literal = fn(&'static str, &str, Option<&str>) -> Result<String, String>;

/// A typed value as TOML.
///
/// It goes through the reader twice: as it was typed, for what it means, and as it is to be written, so that nothing is
/// written that the reader would not take back without a word.
///
/// # Errors
/// What is wrong with it, with what to write.
pub(super) fn of<T: Value>(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
    let typed = typed.trim();
    let bare = match T::ABOUT.sort {
        Sort::Plain | Sort::Years | Sort::Row(_) => None,
        _ => Some(typed).filter(|typed| is_taken::<T>(key, typed, currency)),
    };
    if let Some(bare) = bare {
        return Ok(bare.to_owned());
    }
    let mut reader = Reader { currency: currency.map(str::to_owned), key, ..Reader::of("") };
    let value = Spanned::new(0..0, DeValue::String(typed.into()));
    let read = T::read(&value, &mut reader);
    let written = match (read, reader.written.take()) {
        (None, _) => return Err(told(&reader.problems)),
        (Some(_), Some(written)) => written,
        (Some(_), None) => quoted(typed),
    };
    if is_taken::<T>(key, &written, currency) { Ok(written) } else { Err(told(&reader.problems)) }
}

/// A text as TOML, with its lines.
fn quoted(text: &str) -> String {
    if text.contains('\n') { toml_edit::Value::from(text).to_string() } else { about::quoted(text) }
}

/// Whether this TOML is read as it stands.
fn is_taken<T: Value>(key: &'static str, written: &str, currency: Option<&str>) -> bool {
    // What ends the value would begin something else.
    if written.contains('#') && !written.starts_with(['"', '\'']) {
        return false;
    }
    let text = format!("v = {written}\n");
    let Ok(table) = DeTable::parse(&text) else { return false };
    let table = table.into_inner();
    let Some(value) = table.get("v").filter(|_| table.len() == 1) else { return false };
    let mut reader = Reader { currency: currency.map(str::to_owned), key, ..Reader::of("") };
    T::read(value, &mut reader).is_some()
        && reader.problems.iter().all(|problem| problem.code.name == code::UNSEEN_CHARACTER.name)
}

/// What is wrong with a value, in a sentence.
fn told(problems: &[Diagnostic]) -> String {
    let told = problems.iter().map(|problem| match problem.help.as_str() {
        "" => problem.message.clone(),
        help => format!("{}; {help}", problem.message),
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() { "this cannot be written as a record has it".to_owned() } else { told.join("; ") }
}

#[cfg(test)]
mod tests {
    use super::super::{Brief, Id, Number, Range, Text};
    use super::*;
    use crate::unit::{Edtf, Hours, Length, Mass, Money};

    #[track_caller]
    fn case<T: Value>(typed: &str, written: &str) {
        assert_eq!(of::<T>("key", typed, Some("GBP")).as_deref(), Ok(written), "{typed}");
    }

    #[test]
    fn what_people_type_is_written_as_a_record_has_it() {
        case::<Length>("600", "600");
        case::<Length>(" 60 cm ", "600");
        case::<Length>("1.5 m", "1500");
        case::<Mass>("12.5", "12.5");
        case::<Hours>("90 min", "1.5");
        case::<Money>("£35", "35");
        case::<Money>("35.00", "35.00");
        case::<chrono::NaiveDate>("2026-03-11", "2026-03-11");
        case::<chrono::NaiveDate>("11 March 2026", "2026-03-11");
        case::<bool>("yes", "true");
        case::<bool>("false", "false");
        case::<Edtf>("1920/1935~", "\"1920/1935~\"");
        case::<Text>("1925", "\"1925\"");
        case::<Text>("a \"b\" # c", "'a \"b\" # c'");
        case::<Brief<20>>("so", "\"so\"");
        case::<Id>("Left leaf", "\"left-leaf\"");
        case::<Range>("4", "4");
        case::<Range>("4 to 6", "[4, 6]");
        case::<crate::record::Standing>("added later", "\"later\"");
    }

    #[test]
    fn what_would_not_be_taken_back_is_not_written() {
        for typed in ["", "-3", "much", "3 # so", "3\nx = 4", "0x10", "1e400", "30000"] {
            assert!(of::<Length>("key", typed, None).is_err(), "{typed}");
        }
        assert!(of::<chrono::NaiveDate>("on", "11/03", None).is_err());
        assert!(of::<Money>("paid", "$35", Some("GBP")).is_err());
        assert!(of::<Brief<3>>("title", "four", None).is_err());
        assert!(of::<crate::record::Standing>("standing", "perhaps", None).is_err());
    }

    proptest::proptest! {
        #[test]
        fn whatever_is_typed_is_refused_or_read_back(typed in "\\PC{0,12}|[0-9 .,/a-z\"'#\\[\\]\n=-]{0,12}") {
            fn holds<T: Value>(typed: &str) {
                if let Ok(written) = of::<T>("key", typed, Some("GBP")) {
                    assert!(is_taken::<T>("key", &written, Some("GBP")), "{typed:?} {written:?}");
                    // What was written is typed again into the next form without a change of it.
                    let value: toml_edit::Value = written.parse().unwrap();
                    if let Some(text) = value.as_str() {
                        assert_eq!(of::<T>("key", text, Some("GBP")).as_deref(), Ok(written.as_str()));
                    }
                }
            }
            holds::<Text>(&typed);
            holds::<Length>(&typed);
            holds::<Money>(&typed);
            holds::<Edtf>(&typed);
            holds::<Id>(&typed);
            holds::<Range>(&typed);
            holds::<Number>(&typed);
            holds::<chrono::NaiveDate>(&typed);
            holds::<bool>(&typed);
        }
    }
}
