//! Which stock gives the parts that a plan makes, and what is left of it.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use super::cutting::{self, Board, Laid, Rectangle, Want};
use crate::fields::{Row, Said};
use crate::record::{Construction, Folder, Grain, Part, Planned, Record, StockItem};
use crate::trade::Trade;

/// More pieces than this are not laid out, in all.
const MOST: usize = 200;

/// Why a part is cut from no stock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lack {
    /// Its length, width or thickness is not told.
    Size,
    /// It is neither solid timber nor board, or nobody says of what.
    Material,
    /// There is no stock of its material with a size.
    NoStock,
    /// What there is of it is at most so thick, in millimetres.
    Thin(f64),
    /// No board of it is long and wide enough, cut so large.
    Small(Rectangle),
    /// There is not enough left for all of them.
    Few,
}

/// A board, and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct CutBoard {
    /// The stock.
    pub item: Said<StockItem>,
    /// Which of those alike, counted from 1.
    pub which: usize,
    /// How large it is.
    pub size: Rectangle,
    /// How thick it is, in millimetres.
    pub thick: f64,
    /// Whether it is surely of the material of all its parts.
    pub is_sure: bool,
    /// The parts, and where each lies.
    pub pieces: Vec<(Row<Part>, Laid)>,
    /// What is left of it and worth keeping, each in one piece.
    pub left: Vec<Laid>,
}

/// What a plan's parts are cut from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cutting {
    /// The boards, in the order of the stock.
    pub boards: Vec<CutBoard>,
    /// The parts for which there is no wood, how many of each, and why.
    pub lacking: Vec<(Row<Part>, usize, Lack)>,
    /// The parts of which nobody says along which side their grain runs: it is taken to run along their length.
    pub grain_taken: Vec<Row<Part>>,
    /// Of pieces alike in stuff and thickness that were too many to be laid out together: how they came out.
    pub in_turns: Vec<InTurns>,
}

/// Pieces that were laid out some at a time, so that another way may take fewer boards.
#[derive(Debug, Clone, PartialEq)]
pub struct InTurns {
    /// How many pieces were cut.
    pub pieces: usize,
    /// From how many boards.
    pub boards: usize,
    /// Than which no way can take fewer, by what the pieces and the boards measure.
    pub at_least: usize,
}

/// What something is of: ids of timbers, or of boards, of which it is one.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Stuff {
    Timber(BTreeSet<String>),
    Board(String),
}

impl Stuff {
    fn of(words: &str, trade: &Trade) -> Option<Stuff> {
        let ids = |timber| trade.timbers_of(timber).into_iter().map(|timber| timber.id.0.clone()).collect();
        let timber = trade.timber(words).map(|timber| Stuff::Timber(ids(timber)));
        timber.or_else(|| trade.board(words).map(|board| Stuff::Board(board.id.0.clone())))
    }

    /// Whether something of other stuff may do for it, and if so whether that is sure.
    fn done_by(&self, other: &Stuff) -> Option<bool> {
        match (self, other) {
            (Stuff::Timber(wanted), Stuff::Timber(there)) => {
                (!wanted.is_disjoint(there)).then(|| there.is_subset(wanted))
            }
            (wanted, there) => (wanted == there).then_some(true),
        }
    }
}

/// A part that is wanted, in one of its number.
#[derive(Clone)]
struct Wanted {
    part: Row<Part>,
    stuff: Stuff,
    thick: f64,
    want: Want,
}

impl Wanted {
    /// Whether a board is, or may be, of its stuff, and is the stock that it names.
    fn is_of(&self, board: &There<'_>) -> bool {
        let named = self.part.from_stock.as_ref();
        named.is_none_or(|id| id.value == board.item.id.value) && self.stuff.done_by(&board.stuff).is_some()
    }

    /// Whether a board is as thick, or has enough on it to be planed.
    fn is_thick(&self, board: &There<'_>, trade: &Trade) -> bool {
        let faces = trade.cutting.mm("plane-faces");
        (board.thick - self.thick).abs() < 0.5 || board.thick >= self.thick + faces
    }

    fn is_done_by(&self, board: &There<'_>, trade: &Trade) -> bool {
        self.is_of(board) && self.is_thick(board, trade)
    }
}

/// A board that is there, or what is left of one.
#[derive(Clone)]
struct There<'a> {
    item: &'a Said<StockItem>,
    stuff: Stuff,
    which: usize,
    /// Where it lies on the whole board.
    laid: Laid,
    thick: f64,
}

/// How much of an item of stock a part took: what the record says, or its number where the item is counted in pieces.
pub fn stock_used(part: &Part, item: Option<&StockItem>) -> Option<f64> {
    match part.used.for_archive() {
        Some(used) => Some(used.0),
        None => {
            let item = item?;
            (in_pieces(item) && item.count.for_archive().is_some()).then(|| f64::from(part.how_many()))
        }
    }
}

fn in_pieces(item: &StockItem) -> bool {
    let unit = item.unit.for_archive().as_ref().map(|unit| unit.to_lowercase());
    unit.is_none_or(|unit| ["piece", "pieces", "each", "pcs"].contains(&unit.as_str()))
}

/// How many boards of an item are left, as far as is recorded; one where nobody says how many there were.
fn left_of(item: &StockItem, folder: &Folder) -> usize {
    let Some(count) = item.count.for_archive().as_ref().filter(|_| in_pieces(item)) else { return 1 };
    let records = folder.pieces.iter().filter_map(|piece| piece.record.as_ref());
    let from_it = records
        .flat_map(|record| &record.parts)
        .filter(|part| part.from_stock.as_ref().is_some_and(|id| id.value == item.id.value));
    let used: f64 = from_it.filter_map(|part| stock_used(part, Some(item))).sum();
    (count.0 - used).clamp(0.0, 1000.0).floor() as usize
}

/// Cuts the parts that a record plans from the workshop's stock. A part that names its stock is cut from that alone.
///
/// Pieces are cut larger by what sawing and planing take. Grain runs along a board's length; a board product without a
/// grain may be laid either way.
///
/// # Source
/// The allowances are those of the table; the rest is arithmetic.
pub fn cutting(folder: &Folder, intended: &Record, trade: &Trade) -> Cutting {
    let mut cutting = Cutting::default();
    // Who tells no size of any stock does not want to hear of each part that nothing has one for it.
    if folder.stock.items.iter().all(|item| item.size.for_archive().is_none()) {
        return cutting;
    }
    let mut wanted: Vec<Wanted> = Vec::new();
    let planned = intended.parts.iter().filter(|part| part.is_planned());
    for part in planned.filter(|part| is_sawn(part) && !is_whole(part, folder)) {
        let many = (part.how_many() as usize).min(MOST.saturating_sub(wanted.len()));
        match asked(part, trade) {
            Ok((stuff, thick, want)) => {
                if part.grain.as_ref().is_none_or(|grain| grain.value == Grain::Unknown) && !want.turns {
                    cutting.grain_taken.push(part.clone());
                }
                let one = || Wanted { part: part.clone(), stuff: stuff.clone(), thick, want };
                wanted.extend(std::iter::repeat_with(one).take(many));
            }
            Err(lack) => cutting.lacking.push((part.clone(), part.how_many() as usize, lack)),
        }
    }
    let mut there = boards(folder, trade);
    // The thickest first, since thinner ones can be cut from what is left; of one thickness the largest.
    let area = |of: &Wanted| of.want.size.along * of.want.size.across;
    wanted.sort_by(|one, other| {
        let size = area(other).total_cmp(&area(one));
        other.thick.total_cmp(&one.thick).then_with(|| one.stuff.cmp(&other.stuff)).then(size)
    });
    let named = |part: &Part| part.from_stock.as_ref().map(|id| id.value.clone());
    let mut rest = &wanted[..];
    while let Some(first) = rest.first() {
        let alike = |of: &&Wanted| {
            of.stuff == first.stuff && of.thick == first.thick && named(&of.part) == named(&first.part)
        };
        let (all, later) = rest.split_at(rest.iter().take_while(alike).count());
        let before = there.clone();
        (cutting, there) = in_the_best_order(all, (cutting, there), trade);
        let turns = in_turns(all, &before, &cutting.boards, trade);
        cutting.in_turns.extend(turns);
        rest = later;
    }
    for board in &mut cutting.boards {
        board.left = there
            .iter()
            .filter(|left| left.item.id == board.item.id && left.which == board.which)
            .map(|left| left.laid)
            .filter(|left| is_kept(left.size, trade))
            .collect();
    }
    cutting.boards.sort_by(|one, other| {
        let place = |of: &CutBoard| folder.stock.items.iter().position(|item| item.id == of.item.id);
        place(one).cmp(&place(other)).then(one.which.cmp(&other.which))
    });
    cutting
}

/// A cutting list, and what is left to be cut from.
type Cut<'a> = (Cutting, Vec<There<'a>>);

/// Lays out pieces that are alike in stuff and thickness: all at once where that can be done, and else in turns, of several
/// orders in the one that leaves the fewest uncut and takes the fewest boards.
fn in_the_best_order<'a>(all: &[Wanted], (cutting, there): Cut<'a>, trade: &Trade) -> Cut<'a> {
    type Order = fn(Rectangle) -> f64;
    let orders: [Order; 3] = [|size| size.along * size.across, |size| size.along, |size| size.across];
    let mut best: Option<((usize, usize, f64), Cut<'a>)> = None;
    for order in orders {
        let mut sorted = all.to_vec();
        // Pieces of one size stand together, so that more of them are laid out at once.
        let sides = |of: &Wanted| (of.want.size.along, of.want.size.across);
        sorted.sort_by(|one, other| {
            let same = || sides(other).partial_cmp(&sides(one)).unwrap_or(Ordering::Equal);
            order(other.want.size).total_cmp(&order(one.want.size)).then_with(same)
        });
        let (mut cut, mut turns) = ((cutting.clone(), there.clone()), 0);
        let mut now = &sorted[..];
        while !now.is_empty() {
            let wants: Vec<Want> = now.iter().map(|wanted| wanted.want).collect();
            let (some, others) = now.split_at(cutting::together(&wants));
            cut_some(some, &mut cut.1, &mut cut.0, trade);
            (now, turns) = (others, turns + 1);
        }
        let uncut = cut.0.lacking.iter().map(|(_, many, _)| many).sum();
        let area = cut.0.boards.iter().map(|board| board.size.along * board.size.across).sum();
        let worth = (uncut, cut.0.boards.len(), area);
        if best.as_ref().is_none_or(|(known, _)| worth < *known) {
            best = Some((worth, cut));
        }
        if turns < 2 {
            break;
        }
    }
    best.map_or((cutting, there), |(_, cut)| cut)
}

/// Whether a part may be sawn from a board.
fn is_sawn(part: &Part) -> bool {
    let build = part.build.as_ref().map(|build| build.value);
    let sawn = [Construction::Solid, Construction::Panel, Construction::Veneered, Construction::Unknown];
    part.material.is_none() && build.is_none_or(|build| sawn.contains(&build))
}

/// Whether a part is an item of stock as it lies there, of which no size is told that it could be cut from.
fn is_whole(part: &Part, folder: &Folder) -> bool {
    let item = |id: &Said<_>| folder.stock.items.iter().find(|item| item.id.value == id.value);
    part.from_stock.as_ref().and_then(item).is_some_and(|item| item.size.for_archive().is_none())
}

/// What a part is to be cut from, and how large.
fn asked(part: &Part, trade: &Trade) -> Result<(Stuff, f64, Want), Lack> {
    let words = part.timber.as_ref().or(part.ground.as_ref()).and_then(|said| said.known());
    let stuff = words.and_then(|words| Stuff::of(words, trade)).ok_or(Lack::Material)?;
    let size = part.size.as_ref().filter(|size| size.diameter.is_none() && size.wall.is_none());
    let side = |side: fn(&crate::record::PartSize) -> &Option<Said<crate::unit::Length>>| {
        size.and_then(|size| side(size).as_ref()).map(|side| side.mm()).ok_or(Lack::Size)
    };
    let (length, width, thick) =
        (side(|size| &size.length)?, side(|size| &size.width)?, side(|size| &size.thick)?);
    let grain = part.grain.as_ref().map(|grain| grain.value);
    let (along, across) = if grain == Some(Grain::Width) { (width, length) } else { (length, width) };
    let (ends, edges) = (trade.cutting.mm("plane-ends"), trade.cutting.mm("plane-edges"));
    let size = Rectangle { along: along + ends, across: across + edges };
    let turns = matches!(stuff, Stuff::Board(_)) && grain.is_none_or(|grain| grain == Grain::Unknown);
    Ok((stuff, thick, Want { size, turns }))
}

/// The boards that are there.
fn boards<'a>(folder: &'a Folder, trade: &Trade) -> Vec<There<'a>> {
    let of_item = |item: &'a Said<StockItem>| {
        let size = item.size.for_archive().as_ref()?;
        let mm = |side: &Option<Said<crate::unit::Length>>| side.as_ref().map(|side| side.mm());
        let (along, across, thick) = (mm(&size.length)?, mm(&size.width)?, mm(&size.thick)?);
        let said = item.timber.for_archive().as_ref();
        let stuff = match said {
            Some(said) => Stuff::of(said.known()?, trade)?,
            None => Stuff::of(&item.what, trade)?,
        };
        let laid = Laid { from_end: 0.0, from_edge: 0.0, size: Rectangle { along, across } };
        let one = move |which| There { item, stuff: stuff.clone(), which, laid, thick };
        Some((1..=left_of(item, folder)).map(one))
    };
    folder.stock.items.iter().filter_map(of_item).flatten().collect()
}

/// Whether a piece that is left is worth keeping.
fn is_kept(size: Rectangle, trade: &Trade) -> bool {
    size.along >= trade.cutting.mm("keep-along") && size.across >= trade.cutting.mm("keep-across")
}

/// Cuts a few parts that are alike in stuff and thickness, and puts back what is left.
fn cut_some<'a>(some: &[Wanted], there: &mut Vec<There<'a>>, cutting: &mut Cutting, trade: &Trade) {
    let Some(first) = some.first() else { return };
    let is_of = |board: &There<'_>| first.is_of(board);
    let is_thick = |board: &There<'_>| first.is_thick(board, trade);
    let holds = |board: &There<'_>| {
        some.iter().any(|wanted| {
            let (size, board) = (wanted.want.size, board.laid.size);
            let fits = |along: f64, across: f64| along <= board.along && across <= board.across;
            fits(size.along, size.across) || wanted.want.turns && fits(size.across, size.along)
        })
    };
    let mut open: Vec<usize> = (0..there.len())
        .filter(|at| is_of(&there[*at]) && is_thick(&there[*at]) && holds(&there[*at]))
        .collect();
    // What is surely of the right stuff is taken first, then what is left of a board, then the thinner and smaller board.
    let rank = |at: &usize| {
        let board = &there[*at];
        let sure = first.stuff.done_by(&board.stuff) == Some(true);
        (!sure, board.thick * board.laid.size.along * board.laid.size.across)
    };
    open.sort_by(|one, other| {
        let ((one, large), (other, larger)) = (rank(one), rank(other));
        one.cmp(&other).then(large.partial_cmp(&larger).unwrap_or(Ordering::Equal))
    });
    let open = bounded(&open, there, some.len());
    let given: Vec<Board> =
        open.iter().map(|at| Board { size: there[*at].laid.size, weight: there[*at].thick }).collect();
    let wants: Vec<Want> = some.iter().map(|wanted| wanted.want).collect();
    let (cuts, uncut) = cutting::cut(&wants, &given, trade.cutting.mm("kerf"));
    let mut gone = Vec::new();
    let mut left = Vec::new();
    for cut in cuts {
        let at = open[cut.board];
        let board = there[at].clone();
        let on_board = |laid: Laid| Laid {
            from_end: board.laid.from_end + laid.from_end,
            from_edge: board.laid.from_edge + laid.from_edge,
            ..laid
        };
        let pieces = cut.pieces.iter().map(|(piece, laid)| (some[*piece].part.clone(), on_board(*laid)));
        let pieces: Vec<_> = pieces.collect();
        let is_sure = first.stuff.done_by(&board.stuff) == Some(true);
        let known = cutting
            .boards
            .iter_mut()
            .find(|known| known.item.id == board.item.id && known.which == board.which);
        match known {
            Some(known) => {
                known.pieces.extend(pieces);
                known.is_sure &= is_sure;
            }
            None => cutting.boards.push(CutBoard {
                item: board.item.clone(),
                which: board.which,
                size: board.laid.size,
                thick: board.thick,
                is_sure,
                pieces,
                left: Vec::new(),
            }),
        }
        left.extend(cut.left.into_iter().map(|laid| There { laid: on_board(laid), ..board.clone() }));
        gone.push(at);
    }
    let lack = |wanted: &Wanted| {
        let of_it: Vec<&There<'_>> = there.iter().filter(|board| is_of(board)).collect();
        let thickest = of_it.iter().map(|board| board.thick).fold(0.0, f64::max);
        let thick_enough: Vec<&&There<'_>> = of_it.iter().filter(|board| is_thick(board)).collect();
        let size = wanted.want.size;
        let fits = |board: &Rectangle| size.along <= board.along && size.across <= board.across;
        let turned =
            |board: &Rectangle| wanted.want.turns && size.across <= board.along && size.along <= board.across;
        let whole = thick_enough.iter().map(|board| board.laid.size);
        match () {
            () if of_it.is_empty() => Lack::NoStock,
            () if thick_enough.is_empty() => Lack::Thin(thickest),
            () if !whole.into_iter().any(|board| fits(&board) || turned(&board)) => Lack::Small(size),
            () => Lack::Few,
        }
    };
    for at in uncut {
        let lack = lack(&some[at]);
        let part = &some[at].part;
        match cutting.lacking.iter_mut().find(|(known, _, of)| known.is(part) && *of == lack) {
            Some((_, many, _)) => *many += 1,
            None => cutting.lacking.push((part.clone(), 1, lack)),
        }
    }
    let mut at = 0;
    there.retain(|_| {
        at += 1;
        !gone.contains(&(at - 1))
    });
    there.extend(left);
}

/// How pieces came out that were laid out in turns, unless no way can take fewer boards: all that is cut from boards is no
/// larger than they are.
fn in_turns(all: &[Wanted], before: &[There<'_>], boards: &[CutBoard], trade: &Trade) -> Option<InTurns> {
    let first = all.first()?;
    let wants: Vec<Want> = all.iter().map(|wanted| wanted.want).collect();
    if cutting::together(&wants) == all.len() {
        return None;
    }
    let is_of = |part: &Row<Part>| all.iter().any(|wanted| wanted.part.is(part));
    let area = |size: Rectangle| size.along * size.across;
    let (mut pieces, mut needed, mut taken) = (0, 0.0, 0);
    for board in boards {
        let own: Vec<f64> =
            board.pieces.iter().filter(|(part, _)| is_of(part)).map(|(_, laid)| area(laid.size)).collect();
        pieces += own.len();
        needed += own.iter().sum::<f64>();
        taken += usize::from(!own.is_empty());
    }
    let mut there: BTreeMap<(&str, usize), f64> = BTreeMap::new();
    for board in before.iter().filter(|board| first.is_done_by(board, trade)) {
        *there.entry((&board.item.id.value.0, board.which)).or_default() += area(board.laid.size);
    }
    let mut largest: Vec<f64> = there.into_values().collect();
    largest.sort_by(|one, other| other.total_cmp(one));
    let mut sum = 0.0;
    let enough = largest.iter().take_while(|area| {
        let lacks = sum < needed - 1e-6;
        sum += **area;
        lacks
    });
    let at_least = enough.count();
    (taken > at_least).then_some(InTurns { pieces, boards: taken, at_least })
}

/// The boards that are looked at for a few parts: of those alike no more than there are parts, and not too many in all.
fn bounded(open: &[usize], there: &[There<'_>], parts: usize) -> Vec<usize> {
    const BOARDS: usize = 64;
    let mut taken: Vec<usize> = Vec::new();
    for at in open {
        let alike = |other: &&usize| {
            let (one, other) = (&there[*at], &there[**other]);
            one.item.id == other.item.id && one.laid.size == other.laid.size
        };
        if taken.iter().filter(alike).count() < parts && taken.len() < BOARDS {
            taken.push(*at);
        }
    }
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;
    use crate::source::Tree;

    fn cut(parts: &str, stock: &str, others: &str) -> Cutting {
        let record = format!("title = \"Desk\"\nnumber = \"D-1\"\nkind = \"desk\"\n{parts}");
        let other = format!("title = \"Old\"\nnumber = \"O-1\"\nkind = \"desk\"\n{others}");
        let files = [
            ("workshop.toml", "name = \"Bench\""),
            ("stock.toml", stock),
            ("pieces/desk/record.toml", &record),
            ("pieces/old/record.toml", &other),
        ];
        let (folder, problems) = record::read(&Tree::of(files));
        assert_eq!(problems, []);
        let intended = folder.pieces[0].intended.clone().expect("something is planned");
        cutting(&folder, &intended, Trade::built_in())
    }

    fn told(cutting: &Cutting) -> Vec<String> {
        let laid = |laid: &Laid| {
            format!("{}×{}@{},{}", laid.size.along, laid.size.across, laid.from_end, laid.from_edge)
        };
        let board = |board: &CutBoard| {
            let pieces: Vec<String> =
                board.pieces.iter().map(|(part, at)| format!("{} {}", part.id.0, laid(at))).collect();
            let left: Vec<String> = board.left.iter().map(laid).collect();
            format!("{} {}: {} | {}", board.item.id.0, board.which, pieces.join(", "), left.join(", "))
        };
        let lacking =
            cutting.lacking.iter().map(|(part, many, lack)| format!("{many} {}: {lack:?}", part.id.0));
        cutting.boards.iter().map(board).chain(lacking).collect()
    }

    const SLIP: &str = r#"[[part]]
id = "slip"
name = "Slip"
standing = "new"
planned = true
timber = "white-oak"
build = "solid"
grain = "length"
count = 2
size = { length = 780, width = 55, thick = 18 }
"#;

    /// By hand: 780 and 20 make 800, 55 and 5 make 60, 18 and 3 make 21. The pine is no oak, the oak strip too thin; so a
    /// board of 1000 by 200 by 22 gives both, and 1000 by 74 is left of it.
    #[test]
    fn slips_from_the_board_that_can_give_them() {
        let stock = r#"
stock = [
  { id = "pine", what = "an old pine plank", size = { length = 2000, width = 220, thick = 28 } },
  { id = "strip", what = "white oak strips", size = { length = 1000, width = 70, thick = 20 }, count = 9 },
  { id = "oak", what = "white oak boards, sawn", size = { length = 1000, width = 200, thick = 22 }, count = 2 },
]"#;
        assert_eq!(told(&cut(SLIP, stock, "")), ["oak 1: slip 800×60@0,0, slip 800×60@0,63 | 1000×74@0,126"]);
    }

    #[test]
    fn what_lacks_is_told_with_why() {
        let lacks = |stock: &str, others: &str| told(&cut(SLIP, stock, others)).join("; ");
        let oak = |size: &str| {
            format!("[[stock]]\nid = \"oak\"\nwhat = \"white oak board\"\ncount = 1\nsize = {size}\n")
        };
        assert_eq!(lacks("", ""), "", "no size is told of any stock");
        assert_eq!(lacks(&oak("{ length = 2000, width = 200, thick = 20 }"), ""), "2 slip: Thin(20.0)");
        let short = lacks(&oak("{ length = 790, width = 200, thick = 18 }"), "");
        assert!(short.starts_with("2 slip: Small"), "{short}");
        let one = lacks(&oak("{ length = 810, width = 70, thick = 22 }"), "");
        assert_eq!(one, "oak 1: slip 800×60@0,0 | ; 1 slip: Few");
        // What an earlier piece took is gone.
        let took = "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\nfrom-stock = \"oak\"\n";
        assert_eq!(lacks(&oak("{ length = 2000, width = 200, thick = 22 }"), took), "2 slip: NoStock");
    }

    #[test]
    fn grain_runs_along_the_board_and_a_word_of_several_timbers_is_doubted() {
        let oak = "[[stock]]\nid = \"oak\"\nwhat = \"oak board\"\nsize = { length = 1000, width = 200, thick = 18 }\n";
        let across = SLIP.replace("grain = \"length\"", "grain = \"width\"");
        assert!(told(&cut(&across, oak, "")).join("").contains("Small"));
        let along = cut(SLIP, oak, "");
        assert!(!along.boards[0].is_sure && along.grain_taken.is_empty());
        let silent = cut(&SLIP.replace("grain = \"length\"\n", ""), oak, "");
        assert_eq!((silent.grain_taken.len(), silent.boards.len()), (1, 1));
    }

    /// What the stock is called says nothing where its `timber` does.
    #[test]
    fn no_part_is_cut_from_a_board_of_another_timber() {
        let board = |more: &str| {
            format!(
                "[[stock]]\nid = \"old\"\nwhat = \"plank from an oak table\"\n{more}\
                 size = {{ length = 2000, width = 200, thick = 22 }}\n"
            )
        };
        assert_eq!(told(&cut(SLIP, &board("timber = \"scots-pine\"\n"), "")), ["2 slip: NoStock"]);
        assert_eq!(told(&cut(SLIP, &board("timber = \"unknown\"\n"), "")), ["2 slip: NoStock"]);
        let sure = cut(SLIP, &board("timber = \"white-oak\"\n"), "");
        assert!(sure.boards[0].is_sure && sure.lacking.is_empty());
    }

    /// By hand: 24 alike of 800 by 60 with a kerf of 3; a board of 1000 by 200 gives three across, and eight boards all.
    #[test]
    fn many_alike_take_no_more_boards_than_they_must() {
        let many = SLIP.replace("count = 2", "count = 24");
        let oak = "[[stock]]\nid = \"oak\"\nwhat = \"white oak board\"\ncount = 12\nsize = { length = 1000, width = 200, thick = 22 }\n";
        let cut = cut(&many, oak, "");
        assert_eq!((cut.boards.len(), cut.lacking.len()), (8, 0));
        assert_eq!(cut.in_turns, [], "all are laid out together");
    }

    /// Fifteen that differ are laid out in turns; what they measure says of how many boards there is no doubt.
    #[test]
    fn what_is_laid_out_in_turns_is_told_where_it_may_take_too_much() {
        let slip = |at: usize| {
            let size = format!("length = {}, width = {}", 700 + 10 * at, 40 + at);
            SLIP.replace("\"slip\"", &format!("\"s{at}\""))
                .replace("count = 2\n", "")
                .replace("length = 780, width = 55", &size)
        };
        let parts: String = (1..=15).map(slip).collect();
        let oak = "[[stock]]\nid = \"oak\"\nwhat = \"white oak board\"\ncount = 12\nsize = { length = 1000, width = 200, thick = 22 }\n";
        let cut = cut(&parts, oak, "");
        let pieces: usize = cut.boards.iter().map(|board| board.pieces.len()).sum();
        assert_eq!(pieces, 15);
        for turns in &cut.in_turns {
            assert!(
                turns.at_least < turns.boards && turns.boards == cut.boards.len() && turns.pieces == 15,
                "{turns:?}"
            );
        }
        // By hand: with what planing takes the fifteen come to 0.639 m², and a board is 0.2 m².
        assert!(cut.boards.len() >= 4, "{}", cut.boards.len());
    }

    #[test]
    fn many_parts_are_cut_from_what_the_first_ones_left() {
        let many = SLIP.replace("count = 2", "count = 14");
        let oak = "[[stock]]\nid = \"oak\"\nwhat = \"white oak board\"\ncount = 5\nsize = { length = 1700, width = 320, thick = 22 }\n";
        let cutting = cut(&many, oak, "");
        // Ten lie on one board, two by two and five beside each other: by hand 2 · 800 + 3, and 5 · 60 + 4 · 3.
        assert_eq!((cutting.boards.len(), cutting.lacking.len()), (2, 0), "{:?}", told(&cutting));
        let pieces: usize = cutting.boards.iter().map(|board| board.pieces.len()).sum();
        assert_eq!(pieces, 14);
    }
}
