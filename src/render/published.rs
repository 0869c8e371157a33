//! What a showroom tells machines: a feed of what is for sale, a map of its pages, and what robots may read.

use crate::pack::File;
use crate::unit::legible::without_unseen;
use crate::view::showroom::{Card, feed_day};
use crate::view::{HouseStyle, escaped};

/// How many pieces a feed holds.
const NEWEST: usize = 40;

/// The most addresses that one map may hold.
///
/// # Source
/// *Sitemaps XML format*, protocol 0.9, sitemaps.org: 50,000 addresses a file.
const MOST_MAPPED: usize = 50_000;

/// The files for machines of a showroom's tree. Without an address of the showroom there is only what robots may read, since
/// all else carries whole addresses.
pub(super) fn for_machines(house: &HouseStyle, tree: &str, cards: &[Card], pages: &[String]) -> Vec<File> {
    let file = |path: &str, text: String| File { path: format!("{tree}/{path}"), bytes: text.into_bytes() };
    let mut files = Vec::new();
    let mut robots = "User-agent: *\nAllow: /\n".to_owned();
    if let Some(address) = house.showroom() {
        robots.push_str(&format!("Sitemap: {}\n", address.of("sitemap.xml")));
        files.push(file("feed.xml", feed(house, cards)));
        let entries: Vec<String> = pages
            .iter()
            .map(|path| (path.as_str(), None))
            .chain(cards.iter().map(|card| (card.href.as_str(), card.gone.or(card.since))))
            .map(|(path, day)| {
                let changed = day.map_or(String::new(), |day| format!("<lastmod>{day}</lastmod>"));
                format!("<url><loc>{}</loc>{changed}</url>\n", escaped(&address.of(path)))
            })
            .collect();
        if entries.len() <= MOST_MAPPED {
            files.push(file("sitemap.xml", map("urlset", &entries)));
        } else {
            let mut maps = Vec::new();
            for (some, number) in entries.chunks(MOST_MAPPED).zip(1..) {
                let path = format!("sitemap-{number}.xml");
                maps.push(format!("<sitemap><loc>{}</loc></sitemap>\n", escaped(&address.of(&path))));
                files.push(file(&path, map("urlset", some)));
            }
            files.push(file("sitemap.xml", map("sitemapindex", &maps)));
        }
    }
    files.push(file("robots.txt", robots));
    files
}

fn map(root: &str, entries: &[String]) -> String {
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<{root} xmlns=\"http://www.sitemaps.org/schemas/sitemap/0.9\">\n{}</{root}>\n",
        entries.concat()
    )
}

/// What is for sale, the newest first, as an Atom feed (RFC 4287). A piece whose record names no day has no place in it.
fn feed(house: &HouseStyle, cards: &[Card]) -> String {
    let address = |path: &str| {
        let whole = house.showroom().map_or(String::new(), |showroom| showroom.of(path));
        escaped(&whole)
    };
    let text = |text: &str| escaped(&without_unseen(text));
    let mut dated: Vec<(chrono::NaiveDate, &Card)> =
        cards.iter().filter_map(|card| Some((feed_day(card)?, card))).collect();
    dated.sort_by(|(one, card), (other, more)| other.cmp(one).then_with(|| card.href.cmp(&more.href)));
    dated.truncate(NEWEST);
    let updated = dated.first().map_or_else(chrono::NaiveDate::default, |(day, _)| *day);
    let entry = |(day, card): &(chrono::NaiveDate, &Card)| {
        let offer = match card.offer.price.is_empty() {
            true => card.offer.words.clone(),
            false => format!("{}, {}", card.offer.words, card.offer.price),
        };
        let picture = card.share.as_ref().map_or(String::new(), |share| {
            format!("<link rel=\"enclosure\" type=\"image/jpeg\" href=\"{}\"/>\n", address(&share.path))
        });
        let summary = [card.summary.as_str(), &offer];
        let summary: Vec<&str> = summary.into_iter().filter(|said| !said.is_empty()).collect();
        format!(
            "<entry>\n<id>{url}</id>\n<title>{title}</title>\n<updated>{day}T00:00:00Z</updated>\n<link href=\"{url}\"/>\n{picture}<summary>{summary}.</summary>\n</entry>\n",
            url = address(&card.href),
            title = text(&card.title),
            summary = text(summary.join(" ").trim_end_matches('.')),
        )
    };
    let entries: String = dated.iter().map(entry).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\" xml:lang=\"{language}\">\n<id>{front}</id>\n<title>{name}</title>\n<updated>{updated}T00:00:00Z</updated>\n<author><name>{name}</name></author>\n<link href=\"{front}\"/>\n<link rel=\"self\" type=\"application/atom+xml\" href=\"{own}\"/>\n{entries}</feed>\n",
        language = house.words().language().tag(),
        front = address("index.html"),
        own = address("feed.xml"),
        name = text(&house.view().name),
    )
}
