//! A record that no longer says what it said of its buyer.

use super::desk::without_key;
use super::edit::Refused;
use super::proposal::Proposal;

/// The text of a record without some of its keys, each given by the table that it stands in; every other byte is kept, but
/// for a remark behind the value on the same line.
///
/// # Errors
/// [`Refused`] where the text does not take it.
pub fn forgotten(text: &str, keys: &[(&str, &str)]) -> Result<Proposal, Refused> {
    let mut new = text.to_owned();
    for (table, key) in keys {
        new = without_key(&new, table, key)?;
    }
    Proposal::between(text, new)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "title = \"Chair\"\nnumber = \"A-1\"\nkind = \"seating\"\n";

    #[track_caller]
    fn leaves(before: &str, after: &str) {
        for end in ["\n", "\r\n"] {
            let text = |text: &str| format!("{HEAD}{text}").replace('\n', end);
            let forgotten = forgotten(&text(before), &[("handover", "to")]).expect("it goes").text;
            assert_eq!(forgotten, text(after));
        }
    }

    #[test]
    fn the_line_goes_and_nothing_else_however_it_is_written() {
        leaves(
            "[handover]   # the day\non = 2026-03-14\n  to  =  \"Ada Brown\" # rings late\n\n# end\n",
            "[handover]   # the day\non = 2026-03-14\n\n# end\n",
        );
        leaves("[handover]\nto = '''\nAda Brown\nMill Lane'''\nprice = 3\n", "[handover]\nprice = 3\n");
        leaves(
            "handover = { on = 2026-03-14, to = \"Ada, {Brown}\", price = 3 }\n",
            "handover = { on = 2026-03-14, price = 3 }\n",
        );
        leaves(
            "handover.on = 2026-03-14\nhandover.to = \"Ada\"\nhours = 3\n",
            "handover.on = 2026-03-14\nhours = 3\n",
        );
        leaves("[handover]\nto = \"Ada\"\n", "[handover]\n");
    }

    #[test]
    fn several_keys_go_one_after_the_other() {
        let text = format!("{HEAD}reserved = {{ to = \"Ada\" }}\n[handover]\nto = \"Ada\"\n");
        let forgotten = forgotten(&text, &[("reserved", "to"), ("handover", "to")]).expect("they go").text;
        assert_eq!(forgotten, format!("{HEAD}reserved = {{}}\n[handover]\n"));
    }

    #[test]
    fn what_stands_otherwise_than_it_may_is_left_to_hands() {
        let list = format!("{HEAD}[[handover]]\nto = \"Ada\"\n");
        assert_eq!(forgotten(&list, &[("handover", "to")]).unwrap_err(), Refused::Unlike("to"));
    }
}
