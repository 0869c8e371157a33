//! The story: Markdown that is not trusted, as HTML and as blocks that are.
//!
//! Raw HTML is shown as the text it is, links lead only to http, https, mailto and
//! places in the page, and pictures are photographs of the same piece or nothing.

mod block;
mod html;
mod parted;
mod reader;
mod sound;

pub use block::{StoryBlock, StoryInline};

pub(crate) use html::{StoryPicture, story_html};
pub(crate) use parted::parted;
pub(crate) use reader::story_blocks;
pub(crate) use sound::{SoundEvent, first_paragraph, sound};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Story;

    fn html(markdown: &str) -> String {
        story_html(&sound(&Story::read(markdown.to_owned())), |_| None)
    }

    #[test]
    fn raw_html_is_shown_as_text() {
        assert_eq!(html("a <b>bold</b> claim"), "<p>a &lt;b&gt;bold&lt;/b&gt; claim</p>\n");
        assert!(html("<script>alert(1)</script>").contains("&lt;script&gt;"));
    }

    #[test]
    fn unsound_links_keep_their_words_only() {
        assert_eq!(html("[click](javascript:alert(1))"), "<p>click</p>\n");
        assert_eq!(html("[page](https://example.org)"), "<p><a href=\"https://example.org\">page</a></p>\n");
        assert_eq!(html("[data](DATA:text/html,x)"), "<p>data</p>\n");
        assert_eq!(html("<javascript:alert(1)>"), "<p>javascript:alert(1)</p>\n");
    }

    #[test]
    fn a_heading_or_a_link_that_shows_nothing_is_none() {
        assert_eq!(html("# a\n\n##\n\n### \u{200b}\n\n## c"), "<h3>a</h3>\n<h4>c</h4>\n");
        assert_eq!(html("x [](https://example.org) [\u{ad}](https://example.org)y"), "<p>x  y</p>\n");
        assert_eq!(blocks("#\n\n# *\u{feff}*"), serde_json::json!([]));
    }

    #[test]
    fn a_picture_within_the_words_of_another_is_words() {
        assert_eq!(html("![a ![b](b.jpg) c](a.jpg) d"), "<p>[a b c] d</p>\n");
    }

    #[test]
    fn headings_start_at_three_and_skip_nothing() {
        assert_eq!(html("# a\n#### b\n## c"), "<h3>a</h3>\n<h4>b</h4>\n<h4>c</h4>\n");
    }

    #[test]
    fn tables_footnotes_and_smart_punctuation_are_read() {
        let page = html("\"So\" -- yes[^1]\n\n|a|b|\n|-|-|\n|1|2|\n\n[^1]: note");
        assert!(page.contains("“So” – yes"), "{page}");
        assert!(page.contains("<table>") && page.contains("footnote"), "{page}");
    }

    fn blocks(markdown: &str) -> serde_json::Value {
        serde_json::to_value(story_blocks(sound(&Story::read(markdown.to_owned())), &|_| None)).unwrap()
    }

    #[test]
    fn blocks_say_what_the_page_says() {
        use serde_json::json;
        let text = |text: &str| json!({"kind": "text", "text": text});
        assert_eq!(
            blocks("# a\n\nso *it* `is`"),
            json!([
                {"kind": "heading", "level": 3, "inlines": [text("a")]},
                {"kind": "paragraph", "inlines": [
                    text("so "), {"kind": "emphasis", "inlines": [text("it")]}, text(" "), {"kind": "code", "text": "is"}
                ]},
            ])
        );
        assert_eq!(
            blocks("2. a\n3. b\n   - c"),
            json!([{"kind": "list", "start": 2, "items": [
                [{"kind": "paragraph", "inlines": [text("a")]}],
                [{"kind": "paragraph", "inlines": [text("b")]},
                 {"kind": "list", "start": null, "items": [[{"kind": "paragraph", "inlines": [text("c")]}]]}],
            ]}])
        );
        assert_eq!(
            blocks("|a|b|\n|-|-|\n|1|2|"),
            json!([{"kind": "table", "head": [[text("a")], [text("b")]], "rows": [[[text("1")], [text("2")]]]}])
        );
        assert_eq!(
            blocks("> q[^x]\n\n[^x]: n"),
            json!([
                {"kind": "quote", "blocks": [
                    {"kind": "paragraph", "inlines": [text("q"), {"kind": "note-mark", "number": 1}]}
                ]},
                {"kind": "note", "number": 1, "blocks": [{"kind": "paragraph", "inlines": [text("n")]}]},
            ])
        );
    }

    #[test]
    fn blocks_keep_no_unsound_link_and_no_markup() {
        assert_eq!(
            blocks("[click](javascript:alert(1)) <b>x</b> ![me](https://example.org/x.png)").to_string(),
            r#"[{"inlines":[{"kind":"text","text":"click"},{"kind":"text","text":" "},{"kind":"text","text":"<b>"},{"kind":"text","text":"x"},{"kind":"text","text":"</b>"},{"kind":"text","text":" "},{"kind":"text","text":"[me]"}],"kind":"paragraph"}]"#
        );
    }

    /// The letters of a page's text, in order.
    fn letters(html: &str) -> String {
        let mut within = false;
        html.chars()
            .filter(|character| {
                within = (within || *character == '<') && *character != '>';
                !within && character.is_ascii_alphabetic()
            })
            .collect()
    }

    /// The letters of blocks, in order.
    fn spoken(value: &serde_json::Value) -> String {
        match value {
            serde_json::Value::Array(all) => all.iter().map(spoken).collect(),
            serde_json::Value::Object(map) => {
                let text = map.get("text").and_then(|text| text.as_str()).map(letters).unwrap_or_default();
                let rest = ["head", "rows", "inlines", "items", "blocks"];
                text + &rest.into_iter().filter_map(|key| map.get(key)).map(spoken).collect::<String>()
            }
            _ => String::new(),
        }
    }

    proptest::proptest! {
        #[test]
        fn blocks_say_every_letter_of_the_page_in_its_order(markdown in "[-a-d*_#>0-9. \\[\\]()!^:|`~\n]{0,120}") {
            proptest::prop_assert_eq!(spoken(&blocks(&markdown)), letters(&html(&markdown).replace("&gt;", "")));
        }
    }

    #[test]
    fn a_picture_from_elsewhere_is_words() {
        assert_eq!(html("![me](https://example.org/x.png)"), "<p>[me]</p>\n");
    }
}
