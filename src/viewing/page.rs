//! The pages of the viewing itself, and what is added to written pages on their way to the browser.
//!
//! `home` is the path of the front page, with a slash at its end: all addresses begin with it.

use std::sync::LazyLock;

use serde::Serialize;
use tera::{Context, Tera};

use super::shown::{PieceShown, Shown};
use crate::render;
use crate::unit::legible::without_unseen;

/// A file that belongs to the viewing, by its address below `viewing/`.
pub(super) fn asset(name: &str) -> Option<&'static [u8]> {
    Some(match name {
        "refresh.js" => include_bytes!("refresh.js"),
        "panel.css" => include_bytes!("panel.css"),
        "viewing.css" => include_bytes!("viewing.css"),
        "desk.css" => include_bytes!("desk/desk.css"),
        "desk.js" => include_bytes!("desk/desk.js"),
        "marks.js" => include_bytes!("desk/marks.js"),
        "picker.js" => include_bytes!("picker.js"),
        "plate.js" => include_bytes!("plate.js"),
        // The viewing looks like the built-in theme, whatever the workshop lays over it.
        name => {
            return render::built_in(name.strip_prefix("theme/").filter(|path| path.starts_with("assets/"))?);
        }
    })
}

static PAGES: LazyLock<Tera> = LazyLock::new(|| {
    let mut tera = Tera::default();
    let pages = [
        ("base.html", include_str!("base.html")),
        ("front.html", include_str!("front.html")),
        ("picker.html", include_str!("picker.html")),
        ("missing.html", include_str!("missing.html")),
        ("desk.html", include_str!("desk/desk.html")),
        ("desk-parts.html", include_str!("desk/parts.html")),
    ];
    tera.add_raw_templates(pages).expect("the viewing's own templates are tested");
    tera
});

#[derive(Serialize)]
struct Page<'a> {
    home: &'a str,
    turn: u64,
    written: u64,
    workshop: &'a str,
    title: &'a str,
    words: &'a str,
    pieces: &'a [PieceShown],
    piece: Option<&'a PieceShown>,
    token: &'a str,
    path: &'a str,
}

impl<'a> Page<'a> {
    fn of(home: &'a str, shown: &'a Shown, title: &'a str) -> Page<'a> {
        Page {
            home,
            turn: shown.turn,
            written: shown.written,
            workshop: shown.sight.name(),
            title,
            words: &shown.words,
            pieces: &shown.sight.pieces,
            piece: None,
            token: "",
            path: "",
        }
    }

    fn html(&self, template: &str) -> Vec<u8> {
        self.html_with(template, |_| {})
    }

    fn html_with(&self, template: &str, more: impl FnOnce(&mut Context)) -> Vec<u8> {
        let mut context = Context::from_serialize(self).expect("a page is plain data");
        more(&mut context);
        let page = PAGES.render(template, &context).expect("the viewing's own templates are tested");
        without_unseen(&page).into_owned().into_bytes()
    }
}

/// The front page: the trees, the pieces with their pickers, and what is wrong.
pub(super) fn front(home: &str, shown: &Shown) -> Vec<u8> {
    Page::of(home, shown, "Viewing").html("front.html")
}

/// The picker for the photographs of one piece.
pub(super) fn picker(home: &str, shown: &Shown, piece: &PieceShown, token: &str) -> Vec<u8> {
    Page { piece: Some(piece), token, ..Page::of(home, shown, &piece.title) }.html("picker.html")
}

/// The page of one piece's record.
pub(super) fn desk(
    home: &str,
    shown: &Shown,
    piece: &PieceShown,
    token: &str,
    desk: &impl Serialize,
) -> Vec<u8> {
    let page = Page { piece: Some(piece), token, ..Page::of(home, shown, &piece.title) };
    page.html_with("desk.html", |context| context.insert("desk", desk))
}

/// The page for an address at which nothing is written at the moment.
pub(super) fn missing(home: &str, shown: &Shown, path: &str) -> Vec<u8> {
    Page { path, ..Page::of(home, shown, "Not written") }.html("missing.html")
}

/// A written page as the browser gets it: with the script that refreshes it, and a policy that lets this in.
pub(super) fn refreshed(home: &str, page: Vec<u8>, shown: &Shown) -> Vec<u8> {
    let page = match String::from_utf8(page) {
        Ok(page) => page,
        // No page of ours; it is shown as it is.
        Err(error) => return error.into_bytes(),
    };
    let mut page = opened(page);
    let Shown { turn, written, .. } = shown;
    let script = format!(
        "<script src=\"{home}viewing/refresh.js\" data-turn=\"{turn}\" data-written=\"{written}\" defer></script>\n"
    );
    let end = page.rfind("</body>").unwrap_or(page.len());
    page.insert_str(end, &script);
    page.into_bytes()
}

/// A page whose content policy, if it has one, lets in the viewing's script, styles and events.
fn opened(page: String) -> String {
    const META: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"";
    let Some(start) = page.find(META).map(|at| at + META.len()) else { return page };
    let Some(length) = page[start..].find('"') else { return page };
    let policy = widened(&page[start..start + length]);
    format!("{}{policy}{}", &page[..start], &page[start + length..])
}

/// A policy with this server added to what may be run, styled by and connected to.
fn widened(policy: &str) -> String {
    let mut rules: Vec<String> = policy.split(';').map(|rule| rule.trim().to_owned()).collect();
    rules.retain(|rule| !rule.is_empty());
    for name in ["script-src", "style-src", "connect-src"] {
        let rule = rules.iter_mut().find(|rule| rule.split_whitespace().next() == Some(name));
        match rule {
            Some(rule) if rule.split_whitespace().any(|source| source == "'self'") => {}
            Some(rule) => *rule = format!("{} 'self'", rule.replace(" 'none'", "")),
            None => rules.push(format!("{name} 'self'")),
        }
    }
    rules.join("; ")
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::record;
    use crate::source::Tree;
    use crate::view::HouseStyle;
    use crate::viewing::Sight;

    #[test]
    fn a_written_page_gets_the_script_and_a_policy_that_lets_it_in() {
        let page = "<head><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src \
                    'self'; style-src 'none'\"></head><body><p>a</p></body>";
        let shown = Shown { turn: 7, written: 5, ..Shown::default() };
        let served = String::from_utf8(refreshed("/key/", page.as_bytes().to_vec(), &shown)).unwrap();
        assert_eq!(
            served,
            "<head><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'self'; \
             style-src 'self'; connect-src 'self'\"></head><body><p>a</p><script \
             src=\"/key/viewing/refresh.js\" data-turn=\"7\" data-written=\"5\" defer></script>\n</body>"
        );
    }

    #[test]
    fn a_page_without_a_policy_or_a_body_is_served_too() {
        let served = refreshed("/key/", b"plain".to_vec(), &Shown::default());
        assert!(served.starts_with(b"plain<script src="));
        assert_eq!(refreshed("/key/", vec![0xff], &Shown::default()), [0xff]);
    }

    #[test]
    fn the_own_pages_escape_what_records_say() {
        let (folder, _) = record::read(&Tree::of([("workshop.toml", "name = \"<b>W</b>\"")]));
        let house = folder.workshop.as_ref().map(|workshop| {
            HouseStyle::of(workshop, &crate::words::Language::british(), chrono::NaiveDate::default())
        });
        let sight = Arc::new(Sight { house, ..Sight::default() });
        let shown = Shown { words: "<i>x</i>".to_owned(), sight, ..Shown::default() };
        let front = String::from_utf8(front("/key/", &shown)).unwrap();
        assert!(!front.contains("<b>W") && !front.contains("<i>x"), "{front}");
        assert!(front.contains("&lt;b&gt;W") && front.contains("&lt;i&gt;x"), "{front}");
        let missing = String::from_utf8(missing("/key/", &shown, "a<script>")).unwrap();
        assert!(!missing.contains("a<script>"), "{missing}");
    }
}
