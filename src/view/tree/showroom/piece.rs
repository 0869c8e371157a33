//! One piece's page in the showroom: what a buyer looks at first, and the rest of the record folded behind it.

use serde::Serialize;

use super::ask::{Ask, WayToBuy, ask, ways};
use super::card::{Card, Offer};
use super::done::{DayDone, days_done};
use super::front::Neighbours;
use super::head::{Head, head};
use super::linked::{product, sound_json};
use crate::claim::{Value, says};
use crate::derive::web_address;
use crate::record::Standing;
use crate::view::context::PieceContext;
use crate::view::shared::fact::Fact;
use crate::view::shared::front_page::{KnowLine, know};
use crate::view::shared::identity;
use crate::view::shared::lacking::lacking;
use crate::view::shared::photograph::{Gallery, PairView, PhotoView, Sees, StageView, StandingDrawing};
use crate::view::shared::row::{
    DecisionRow, FindingRow, FixingRow, PartRow, Rows, StandingRow, TestRow, UndoneRow,
};
use crate::view::shared::seal::{SealFor, SealView, seal_view};
use crate::view::shared::section::{Arranged, Form, Section, worded};
use crate::view::shared::story::{StoryPicture, parted, sound, story_html};
use crate::view::shared::surface::SurfaceView;
use crate::view::shared::swatch::{SwatchView, swatch_views};
use crate::words;

/// Letters of a story that stand open; the rest of a long one is folded behind its first paragraphs.
const STORY: usize = 1300;

/// Things that were done that stand open; the rest is folded behind them.
const DONE: usize = 12;

/// Fewer things than these are not worth folding.
const FOLDED: usize = 4;

/// One piece's page in the showroom.
#[derive(Debug, Clone, Serialize)]
pub struct ShowroomPiece {
    /// What the head of its document says.
    pub head: Head,
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// The piece in a sentence; may be empty.
    pub summary: String,
    /// What is missing because the record could not be read in full; mostly empty.
    pub lacking: String,
    /// Whether it can be had.
    pub offer: Offer,
    /// How it is asked for; its link is empty where it is sold, or nobody can be asked by one.
    pub ask: Ask,
    /// How a piece is bought; empty where it is sold.
    pub how: Vec<WayToBuy>,
    /// Years, size, weight and material, and how far the work went.
    pub opening: Vec<Fact>,
    /// The photograph that stands for it; none where it has none.
    pub cover: Option<PhotoView>,
    /// Before and after of the same views.
    pub pairs: Vec<PairView>,
    /// What to know before buying, the worst first.
    pub know: Vec<KnowLine>,
    /// The story's first paragraphs, as safe HTML; may be empty.
    pub story_html: String,
    /// The rest of a long story; mostly empty.
    pub story_rest_html: String,
    /// What was done, by its days: as much as stands open.
    pub done: Vec<DayDone>,
    /// The days after those.
    pub done_rest: Vec<DayDone>,
    /// How many parts have which standing, in a sentence; may be empty.
    pub verdict: String,
    /// The standings drawn over a photograph; none where no part is outlined.
    pub drawing: Option<StandingDrawing>,
    /// Parts by their standings, a line each, with their letters.
    pub lettered: Vec<LetteredPart>,
    /// How far the work went and what that means.
    pub level: String,
    /// What that word means.
    pub level_meaning: String,
    /// The workshop's stance; may be empty.
    pub stance: String,
    /// Type, maker, inscriptions and what else identifies it.
    pub facts: Vec<Fact>,
    /// What was found.
    pub findings: Vec<FindingRow>,
    /// Parts.
    pub parts: Vec<PartRow>,
    /// Parts counted by standing.
    pub standings: Vec<StandingRow>,
    /// Fixings and glues.
    pub fixings: Vec<FixingRow>,
    /// The surfaces.
    pub surfaces: Vec<SurfaceView>,
    /// Colours that were matched.
    pub swatches: Vec<SwatchView>,
    /// Tests, made and not made.
    pub tests: Vec<TestRow>,
    /// What was left unmended.
    pub undone: Vec<UndoneRow>,
    /// What was decided.
    pub decisions: Vec<DecisionRow>,
    /// Figures: shares, patches, dates, weight, movement, shelves, balance.
    pub sections: Vec<Section>,
    /// What is not known.
    pub unknowns: Vec<String>,
    /// The photographs that have no other place, by stage.
    pub gallery: Vec<StageView>,
    /// Where else on the web it is shown.
    pub links: Vec<LinkView>,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// The piece before it in the order of the showroom.
    pub before: Option<Card>,
    /// The piece after it.
    pub after: Option<Card>,
}

/// A page elsewhere on the web.
#[derive(Debug, Clone, Serialize)]
pub struct LinkView {
    /// Its address.
    pub href: String,
    /// What is to be seen there.
    pub what: String,
    /// The host that it leads to.
    pub host: String,
}

/// A part, or several of one standing, with the letter that it has on the photograph.
#[derive(Debug, Clone, Serialize)]
pub struct LetteredPart {
    /// Its letter.
    pub letter: String,
    /// Its standing as the record writes it, for a theme's patterns.
    pub standing_word: &'static str,
    /// Its standing in words.
    pub standing: String,
    /// Its name.
    pub name: String,
    /// What else matters.
    pub text: String,
    /// Whether it is outlined on the photograph.
    pub drawn: bool,
}

/// One piece's page for the public.
pub fn piece_page(context: &PieceContext<'_>, card: &Card, neighbours: Neighbours<'_>) -> ShowroomPiece {
    let (record, house) = (context.record, context.house);
    let (rows, gallery) = (Rows::of(context, Sees::Public), Gallery::of(context, Sees::Public));
    let (level, level_meaning) = identity::level(context);
    let (story, rest) = parted(sound(&context.piece.story), STORY);
    let html = |story: &[_]| story_html(story, |file| gallery.named(file).map(StoryPicture::Photo));
    let (done, done_rest) = open_days(days_done(context, &rows));
    let listed = |part: &crate::record::PartId| -> Option<(usize, Standing)> {
        let lines = context.claims.part_lines.iter().zip(1..);
        let (line, number) = lines.into_iter().find(|(line, _)| line.parts.contains(part))?;
        Some((number, line.standing))
    };
    let drawing = gallery.standing(&listed);
    let for_sale = card.offer.state.can_be_asked_for();
    let asked = ask(house, Some((&card.number, &card.title)));
    ShowroomPiece {
        head: Head {
            linked_html: sound_json(&product(context, card)),
            ..head(house, &card.href, card.share.as_ref())
        },
        title: card.title.clone(),
        number: card.number.clone(),
        summary: card.summary.clone(),
        lacking: lacking(context.piece, context.house.words()),
        offer: card.offer.clone(),
        ask: if for_sale { asked } else { Ask::default() },
        how: if for_sale { ways(house) } else { Vec::new() },
        opening: opening(context, card),
        cover: gallery.cover(),
        pairs: gallery.pairs(),
        know: know(context),
        story_html: html(&story),
        story_rest_html: html(&rest),
        done,
        done_rest,
        verdict: identity::standings_sentence(context),
        lettered: lettered(context, drawing.as_ref()),
        drawing,
        level: level.to_owned(),
        level_meaning: level_meaning.to_owned(),
        stance: identity::stance(context),
        facts: identity::facts(context),
        findings: rows.findings,
        parts: rows.parts,
        standings: rows.standings,
        fixings: rows.fixings,
        surfaces: rows.surfaces,
        swatches: swatch_views(context, &gallery),
        tests: rows.tests,
        undone: rows.undone,
        decisions: rows.decisions,
        sections: worded(context, &figures(context)),
        unknowns: identity::unknowns(context),
        gallery: gallery.stages(),
        links: record.links.iter().filter_map(|link| link_view(link)).collect(),
        seal: seal_view(context, SealFor::Public),
        before: neighbours.before.cloned(),
        after: neighbours.after.cloned(),
    }
}

/// The facts that a buyer asks for first; what is not known is left to the folded part of the page.
fn opening(context: &PieceContext<'_>, card: &Card) -> Vec<Fact> {
    let words = context.house.words();
    let mut facts = Vec::new();
    let mut say = |label, text: String| {
        if !text.is_empty() {
            facts.push(Fact { label: words.heading(&label), text: words::capital(&text) });
        }
    };
    say(says!("opening-made"), card.made.clone());
    match context.record.size.as_ref().and_then(|size| size.folded.as_ref()) {
        Some(folded) => {
            let folded = [folded.width.value, folded.depth.value, folded.height.value];
            say(says!("opening-size-open"), card.size.clone());
            say(says!("opening-size-folded"), context.house.words().lengths(&folded));
        }
        None => say(says!("opening-size"), card.size.clone()),
    }
    say(says!("opening-weight"), weight(context));
    say(says!("opening-material"), identity::materials(context));
    say(says!("opening-work"), card.level.clone());
    facts
}

/// What it weighs, where that is known; how that is known and who lifts it is told further down.
fn weight(context: &PieceContext<'_>) -> String {
    let Ok(lifting) = &context.facts.lifting else { return String::new() };
    let mass = Value::Mass(lifting.whole.mass);
    let message = match (lifting.weighed, lifting.left_out) {
        (false, 1..) => says!("opening-weight-at-least", mass = mass),
        _ => says!("opening-weight-said", mass = mass),
    };
    context.house.words().say(&message)
}

/// How much has which standing, and what was reckoned.
fn figures<'a>(context: &PieceContext<'a>) -> Vec<Arranged<'a>> {
    let claims = context.claims;
    vec![
        Arranged::new("shares", says!("heading-shares"), Form::Columns, &claims.shares),
        Arranged::new("patches", says!("heading-patches"), Form::Columns, &claims.patches),
        Arranged::new("dating", says!("heading-dating"), Form::Lines, &claims.dating),
        Arranged::new("dated", says!("heading-dated"), Form::Columns, &claims.dated),
        Arranged::new("weight", says!("heading-weight"), Form::Lines, &claims.lifting),
        Arranged::new("balance", says!("heading-stability"), Form::Lines, &claims.stability),
        Arranged::new("shelves", says!("heading-shelves"), Form::Columns, &claims.shelves),
        Arranged::new("movement", says!("heading-movement"), Form::Columns, &claims.movement),
    ]
}

/// As many days as stand open, and the rest.
fn open_days(mut days: Vec<DayDone>) -> (Vec<DayDone>, Vec<DayDone>) {
    let mut lines = 0;
    let open = days.iter().take_while(|day| {
        lines += day.lines.len();
        lines <= DONE
    });
    let open = open.count().max(1).min(days.len());
    let rest = days.split_off(open);
    if rest.iter().map(|day| day.lines.len()).sum::<usize>() < FOLDED {
        days.extend(rest);
        return (days, Vec::new());
    }
    (days, rest)
}

fn lettered(context: &PieceContext<'_>, drawing: Option<&StandingDrawing>) -> Vec<LetteredPart> {
    let words = context.house.words();
    let lines = context.claims.part_lines.iter().zip(1..);
    let part = |(line, number): (&crate::derive::PartLine, usize)| LetteredPart {
        letter: words::letter(number),
        standing_word: line.standing.word(),
        standing: context.house.words().word("standing", line.standing.word()),
        name: words.sentence(&line.claim).lead,
        text: words.say(&line.claim.message),
        drawn: drawing.is_some_and(|drawing| drawing.outlines.iter().any(|outline| outline.number == number)),
    };
    lines.map(part).collect()
}

fn link_view(link: &crate::record::WebLink) -> Option<LinkView> {
    let url = web_address(&link.to).ok()?;
    Some(LinkView {
        host: url.host_str().unwrap_or_default().trim_start_matches("www.").to_owned(),
        href: url.to_string(),
        what: link.what.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::super::card::card;
    use super::*;
    use crate::view::testing::shown;

    fn page(record: &str, workshop: &str) -> ShowroomPiece {
        shown(record, workshop, |context| piece_page(context, &card(context), Neighbours::default()))
    }

    #[test]
    fn only_a_piece_for_sale_is_asked_for() {
        let shop = "contact = \"ask@bench.example\"\nhow-to-buy = { payment = \"cash\" }";
        let asked = |record: &str| {
            let page = page(record, shop);
            (!page.ask.href.is_empty(), page.how.len())
        };
        assert_eq!(asked("asking = 240"), (true, 1));
        assert_eq!(asked("asking = 240\nreserved = {}"), (true, 1));
        assert_eq!(asked("asking = 240\nhandover = { on = 1960-01-01 }"), (false, 0));
        assert_eq!(asked(""), (false, 0));
    }

    #[test]
    fn size_is_told_open_and_folded() {
        let size = |text: &str| {
            let facts = page(text, "").opening;
            facts.into_iter().map(|fact| format!("{}: {}", fact.label, fact.text)).collect::<Vec<_>>()
        };
        assert_eq!(size("size = { width = 9, depth = 8, height = 7 }"), ["Size: 9 × 8 × 7 mm"]);
        assert_eq!(
            size(
                "size = { width = 9, depth = 8, height = 7, folded = { width = 9, depth = 2, height = 7 } }"
            ),
            ["Open: 9 × 8 × 7 mm", "Folded: 9 × 2 × 7 mm"]
        );
    }

    #[test]
    fn only_links_to_the_web_are_made() {
        let links = page(
            "link = [{ to = \"https://www.films.example/4\", what = \"The caning\" }, { to = \"javascript:x\", what = \"x\" }]",
            "",
        )
        .links;
        assert_eq!((links.len(), links[0].host.as_str()), (1, "films.example"));
    }

    #[test]
    fn a_long_work_is_folded_behind_its_beginning() {
        let works = |count: usize| {
            let work = |day: usize| format!("{{ on = 2026-03-{day:02}, did = \"work\" }}");
            let works: Vec<String> = (1..=count).map(work).collect();
            let page = page(&format!("work = [{}]", works.join(", ")), "");
            (page.done.len(), page.done_rest.len())
        };
        assert_eq!(works(0), (0, 0));
        assert_eq!(works(12), (12, 0));
        assert_eq!(works(15), (15, 0), "three are not worth a fold");
        assert_eq!(works(16), (12, 4));
        assert_eq!(works(30), (12, 18));
    }
}
