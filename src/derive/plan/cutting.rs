//! Laying pieces out on boards, for a saw that cuts from edge to edge.
//!
//! Nothing here knows of wood: rectangles are cut from rectangles, each cut takes its kerf, and every cut goes all the way
//! through what it cuts. Pieces that are alike are told apart by nothing, so that only how many of each lie in a block is
//! counted: of twenty alike there are twenty-one such lots, and of twenty that differ more than a million.

use std::collections::HashMap;

/// In how many ways a lot may be parted in two, over all lots, for pieces to be laid out together: as many as eight have
/// that differ. Of more, the largest are laid out first, and the others on what is left.
const PARTINGS: usize = 6_561;

/// Lengths that differ by no more than this are one, in millimetres.
const SAME: f64 = 1e-6;

/// A rectangle: along the grain and across it, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Along the grain.
    pub along: f64,
    /// Across the grain.
    pub across: f64,
}

impl Rectangle {
    fn area(self) -> f64 {
        self.along * self.across
    }

    fn turned(self) -> Rectangle {
        Rectangle { along: self.across, across: self.along }
    }

    /// Whether another can be cut from it.
    fn holds(self, other: Rectangle) -> bool {
        other.along <= self.along + SAME && other.across <= self.across + SAME
    }
}

/// A piece that is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Want {
    /// How large it is cut.
    pub(super) size: Rectangle,
    /// Whether it may be laid either way.
    pub(super) turns: bool,
}

/// A board that there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Board {
    /// How large it is.
    pub(super) size: Rectangle,
    /// What a square millimetre of it counts, where boards differ in thickness.
    pub(super) weight: f64,
}

/// A rectangle in its place on a board: from one end and from one edge, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// From the end.
    pub from_end: f64,
    /// From the edge.
    pub from_edge: f64,
    /// How large it is.
    pub size: Rectangle,
}

/// What is cut from one board.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cut {
    /// The board, by its place.
    pub(super) board: usize,
    /// The pieces, by their places, and where they lie.
    pub(super) pieces: Vec<(usize, Laid)>,
    /// What is left of it in one piece each, the largest first.
    pub(super) left: Vec<Laid>,
}

/// How many pieces of each size there are, and the lots that can be made of them. A lot is known by its number.
#[derive(Debug)]
struct Lots {
    /// The first piece of each size, and how many there are.
    sizes: Vec<(Want, usize)>,
    /// What one more of a size adds to a lot's number.
    steps: Vec<usize>,
}

impl Lots {
    fn of(wants: &[Want]) -> Lots {
        let mut sizes: Vec<(Want, usize)> = Vec::new();
        for want in wants {
            match sizes.iter_mut().find(|(known, _)| known == want) {
                Some((_, count)) => *count += 1,
                None => sizes.push((*want, 1)),
            }
        }
        let mut step = 1;
        let mut steps = Vec::new();
        for (_, count) in &sizes {
            steps.push(step);
            step *= count + 1;
        }
        Lots { sizes, steps }
    }

    /// How many pieces of each size are in a lot.
    fn counts(&self, lot: usize) -> impl Iterator<Item = usize> {
        self.sizes.iter().zip(&self.steps).map(move |((_, count), step)| lot / step % (count + 1))
    }

    /// All of them.
    fn all(&self) -> usize {
        self.sizes.iter().zip(&self.steps).map(|((_, count), step)| count * step).sum()
    }

    /// The lots that are part of a lot, that one and the empty one among them, the smallest first.
    fn within(&self, lot: usize) -> Vec<usize> {
        let mut all = vec![0];
        for (count, step) in self.counts(lot).zip(&self.steps) {
            let fewer = all.len();
            for more in 1..=count {
                for at in 0..fewer {
                    all.push(all[at] + more * step);
                }
            }
        }
        all
    }

    /// The size of which a lot is one piece; `None` for any other lot.
    fn single(&self, lot: usize) -> Option<usize> {
        self.steps.iter().position(|step| *step == lot)
    }

    fn area(&self, lot: usize) -> f64 {
        self.counts(lot).zip(&self.sizes).map(|(count, (want, _))| count as f64 * want.size.area()).sum()
    }
}

/// How many of some pieces, from the first on, can be laid out together; at least one.
pub(super) fn together(wants: &[Want]) -> usize {
    let mut counts: Vec<(Want, usize)> = Vec::new();
    for (at, want) in wants.iter().enumerate() {
        match counts.iter_mut().find(|(known, _)| known == want) {
            Some((_, count)) => *count += 1,
            None => counts.push((*want, 1)),
        }
        let partings = counts.iter().map(|(_, count)| (count + 1) * (count + 2) / 2);
        if partings.fold(1_usize, usize::saturating_mul) > PARTINGS {
            return at.max(1);
        }
    }
    wants.len()
}

/// How pieces lie in a block that is cut out whole.
#[derive(Debug, Clone, Copy)]
enum Made {
    /// It is a piece of this size.
    One(usize),
    /// Two blocks, the second further from the end.
    Along(Block, Block),
    /// Two blocks, the second further from the edge.
    Across(Block, Block),
}

/// A block by the lot of its pieces and its place among the blocks of that lot.
type Block = (usize, usize);

/// The blocks of a lot, none of which is as large as another both ways.
type Front = Vec<(Rectangle, Made)>;

/// The blocks in which pieces can lie.
struct Blocks {
    lots: Lots,
    /// By the lot.
    fronts: Vec<Front>,
    kerf: f64,
}

impl Blocks {
    /// Every way to lay a few pieces beside each other, block by block: two blocks make one, beside each other along the
    /// grain or across it, with a kerf between them. So every pattern of cuts from edge to edge is among them.
    ///
    /// # Source
    /// Wang, P. Y. (1983), Two algorithms for constrained two-dimensional cutting stock problems, Operations Research 31
    /// (3): the building up of blocks is his, from memory.
    fn of(wants: &[Want], kerf: f64) -> Blocks {
        let lots = Lots::of(wants);
        let all = lots.all();
        let mut blocks = Blocks { lots, fronts: vec![Vec::new(); all + 1], kerf };
        for lot in 1..=all {
            let mut front = Vec::new();
            if let Some(size) = blocks.lots.single(lot) {
                let want = blocks.lots.sizes[size].0;
                add(&mut front, want.size, Made::One(size));
                if want.turns {
                    add(&mut front, want.size.turned(), Made::One(size));
                }
            }
            // Each parting once: the half with the smaller number comes first.
            for half in blocks.lots.within(lot) {
                if half > 0 && half <= lot - half {
                    blocks.join(half, lot - half, &mut front);
                }
            }
            blocks.fronts[lot] = front;
        }
        blocks
    }

    fn join(&self, one: usize, other: usize, front: &mut Front) {
        for (at, (a, _)) in self.fronts[one].iter().enumerate() {
            for (place, (b, _)) in self.fronts[other].iter().enumerate() {
                let (first, second) = ((one, at), (other, place));
                let along = a.along + self.kerf + b.along;
                let across = a.across + self.kerf + b.across;
                add(front, Rectangle { along, across: a.across.max(b.across) }, Made::Along(first, second));
                add(front, Rectangle { along: a.along.max(b.along), across }, Made::Across(first, second));
            }
        }
    }

    /// Whether a lot can be cut from a board.
    fn fit(&self, lot: usize, board: Rectangle) -> bool {
        lot == 0 || self.fronts[lot].iter().any(|(size, _)| board.holds(*size))
    }

    /// The sizes of a lot where they lie on a board, and what is left, in that way which leaves the largest piece.
    fn laid(&self, lot: usize, board: Rectangle) -> (Vec<(usize, Laid)>, Vec<Laid>) {
        let fitting = self.fronts[lot].iter().enumerate().filter(|(_, (size, _))| board.holds(*size));
        let ways = fitting.map(|(at, (size, _))| (at, self.left(*size, board)));
        let largest = |left: &[Laid]| left.first().map_or(0.0, |left| left.size.area());
        let best = ways.max_by(|(_, one), (_, other)| largest(one).total_cmp(&largest(other)));
        let Some((at, left)) = best else { return (Vec::new(), Vec::new()) };
        let mut pieces = Vec::new();
        self.place((lot, at), (0.0, 0.0), &mut pieces);
        pieces.sort_by_key(|(piece, _)| *piece);
        (pieces, left)
    }

    /// What is left of a board beyond a block at its corner: cut along first or across first, whichever leaves the larger
    /// piece.
    fn left(&self, block: Rectangle, board: Rectangle) -> Vec<Laid> {
        let beyond = |whole: f64, taken: f64| (whole - taken - self.kerf).max(0.0);
        let (along, across) = (beyond(board.along, block.along), beyond(board.across, block.across));
        let end = |across| Laid {
            from_end: board.along - along,
            from_edge: 0.0,
            size: Rectangle { along, across },
        };
        let edge = |along| Laid {
            from_end: 0.0,
            from_edge: board.across - across,
            size: Rectangle { along, across },
        };
        let ways = [[edge(board.along), end(block.across)], [end(board.across), edge(block.along)]];
        let most = |way: &[Laid; 2]| way.iter().map(|left| left.size.area()).fold(0.0, f64::max);
        let way = if most(&ways[0]) >= most(&ways[1]) { ways[0] } else { ways[1] };
        let mut left: Vec<Laid> = way.into_iter().filter(|left| left.size.area() > 0.0).collect();
        left.sort_by(|one, other| other.size.area().total_cmp(&one.size.area()));
        left
    }

    fn place(&self, (lot, at): Block, (end, edge): (f64, f64), pieces: &mut Vec<(usize, Laid)>) {
        let (size, made) = self.fronts[lot][at];
        let size_of = |(lot, at): Block| self.fronts[lot][at].0;
        match made {
            Made::One(kind) => pieces.push((kind, Laid { from_end: end, from_edge: edge, size })),
            Made::Along(one, other) => {
                self.place(one, (end, edge), pieces);
                self.place(other, (end + size_of(one).along + self.kerf, edge), pieces);
            }
            Made::Across(one, other) => {
                self.place(one, (end, edge), pieces);
                self.place(other, (end, edge + size_of(one).across + self.kerf), pieces);
            }
        }
    }
}

/// Adds a block, unless one that is there is no larger either way; those that it makes needless go.
fn add(front: &mut Front, size: Rectangle, made: Made) {
    if front.iter().any(|(known, _)| size.holds(*known)) {
        return;
    }
    front.retain(|(known, _)| !known.holds(size));
    front.push((size, made));
}

/// What is used, and what cannot be cut: of two ways the one that leaves less uncut, and then uses less, is the better.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Worth {
    uncut: f64,
    used: f64,
}

impl Worth {
    fn is_better(self, other: Worth) -> bool {
        let less = |one: f64, other: f64| one < other - SAME;
        less(self.uncut, other.uncut) || !less(other.uncut, self.uncut) && less(self.used, other.used)
    }
}

/// Which pieces are cut from which board, of a few pieces: every way is looked at.
struct Sharing<'a> {
    blocks: &'a Blocks,
    boards: &'a [Board],
    known: HashMap<(usize, usize), (Worth, usize)>,
}

impl Sharing<'_> {
    /// The best that the boards from one on make of a lot, and what of it is cut from that one.
    fn best(&mut self, board: usize, lot: usize) -> (Worth, usize) {
        let Some(own) = self.boards.get(board).copied() else {
            return (Worth { uncut: self.blocks.lots.area(lot), used: 0.0 }, 0);
        };
        if lot == 0 {
            return (Worth { uncut: 0.0, used: 0.0 }, 0);
        }
        if let Some(known) = self.known.get(&(board, lot)) {
            return *known;
        }
        let mut best: Option<(Worth, usize)> = None;
        for some in self.blocks.lots.within(lot).into_iter().rev().filter(|some| *some > 0) {
            if self.blocks.fit(some, own.size) {
                let rest = self.best(board + 1, lot - some).0;
                let worth = Worth { used: rest.used + own.size.area() * own.weight, ..rest };
                if best.is_none_or(|(best, _)| worth.is_better(best)) {
                    best = Some((worth, some));
                }
            }
        }
        // Of boards alike the first is cut.
        let without = self.best(board + 1, lot).0;
        let best = best.filter(|(best, _)| !without.is_better(*best)).unwrap_or((without, 0));
        self.known.insert((board, lot), best);
        best
    }
}

/// Cuts pieces from boards: as many as can be, and from as little wood as that takes. Gives the cuts, and the pieces for
/// which there is no board.
///
/// No more can be laid out at once than [`together`] says.
pub(super) fn cut(wants: &[Want], boards: &[Board], kerf: f64) -> (Vec<Cut>, Vec<usize>) {
    let wants = &wants[..together(wants)];
    let blocks = Blocks::of(wants, kerf);
    let mut sharing = Sharing { blocks: &blocks, boards, known: HashMap::new() };
    let mut lot = blocks.lots.all();
    // Pieces of each size, the last one first.
    let mut waiting: Vec<Vec<usize>> = blocks.lots.sizes.iter().map(|_| Vec::new()).collect();
    for at in (0..wants.len()).rev() {
        if let Some(kind) = blocks.lots.sizes.iter().position(|(size, _)| *size == wants[at]) {
            waiting[kind].push(at);
        }
    }
    let mut cuts = Vec::new();
    for (board, own) in boards.iter().enumerate() {
        let (_, some) = sharing.best(board, lot);
        if some > 0 {
            let (kinds, left) = blocks.laid(some, own.size);
            let piece = |(kind, laid): (usize, Laid)| Some((waiting[kind].pop()?, laid));
            let mut pieces: Vec<(usize, Laid)> = kinds.into_iter().filter_map(piece).collect();
            pieces.sort_by_key(|(piece, _)| *piece);
            cuts.push(Cut { board, pieces, left });
        }
        lot -= some;
    }
    let mut uncut: Vec<usize> = waiting.into_iter().flatten().collect();
    uncut.sort_unstable();
    (cuts, uncut)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether some pieces can be cut from a board, tried out: every place of a first cut, every way to share the pieces
    /// between the two halves, and so on. Sizes are whole numbers, and so is the kerf.
    fn tried(along: i64, across: i64, pieces: &[(i64, i64, bool)], kerf: i64) -> bool {
        let [first, rest @ ..] = pieces else { return true };
        if along <= 0 || across <= 0 {
            return false;
        }
        if rest.is_empty() {
            let fits = |a: i64, b: i64| a <= along && b <= across;
            return fits(first.0, first.1) || first.2 && fits(first.1, first.0);
        }
        (0..1_u32 << pieces.len()).any(|set| {
            let half = |with: bool| -> Vec<(i64, i64, bool)> {
                let own = pieces.iter().enumerate().filter(|(at, _)| (set >> at & 1 == 1) == with);
                own.map(|(_, piece)| *piece).collect()
            };
            let (one, other) = (half(true), half(false));
            let both = |one_fits: bool, other_fits: &dyn Fn() -> bool| one_fits && other_fits();
            !one.is_empty()
                && !other.is_empty()
                && ((1..along).any(|at| {
                    both(tried(at, across, &one, kerf), &|| tried(along - at - kerf, across, &other, kerf))
                }) || (1..across).any(|at| {
                    both(tried(along, at, &one, kerf), &|| tried(along, across - at - kerf, &other, kerf))
                }))
        })
    }

    /// Numbers that look drawn, and are the same in every run.
    struct Drawn(u64);

    impl Drawn {
        fn upto(&mut self, most: i64) -> i64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            1 + (self.0 >> 33) as i64 % most
        }
    }

    fn wants(pieces: &[(i64, i64, bool)]) -> Vec<Want> {
        let want = |(along, across, turns): &(i64, i64, bool)| Want {
            size: Rectangle { along: *along as f64, across: *across as f64 },
            turns: *turns,
        };
        pieces.iter().map(want).collect()
    }

    fn board(along: i64, across: i64) -> Board {
        Board { size: Rectangle { along: along as f64, across: across as f64 }, weight: 1.0 }
    }

    /// Every rectangle lies on its board, and between any two there is a kerf, one way or the other.
    fn assert_sound(cut: &Cut, board: Rectangle, kerf: f64) {
        let laid: Vec<Laid> = cut.pieces.iter().map(|(_, laid)| *laid).chain(cut.left.clone()).collect();
        for (at, one) in laid.iter().enumerate() {
            let (end, edge) = (one.from_end + one.size.along, one.from_edge + one.size.across);
            assert!(end <= board.along + SAME && edge <= board.across + SAME, "{one:?} on {board:?}");
            for other in &laid[..at] {
                let apart = |from: f64, length: f64, next: f64| next + SAME >= from + length + kerf;
                let along = apart(one.from_end, one.size.along, other.from_end)
                    || apart(other.from_end, other.size.along, one.from_end);
                let across = apart(one.from_edge, one.size.across, other.from_edge)
                    || apart(other.from_edge, other.size.across, one.from_edge);
                assert!(along || across, "{one:?} and {other:?}");
            }
        }
    }

    #[test]
    fn what_can_be_cut_from_a_board_is_what_trying_finds() {
        let mut drawn = Drawn(26);
        let mut both = [0, 0];
        for _ in 0..300 {
            let (along, across, kerf) = (4 + drawn.upto(6), 2 + drawn.upto(5), drawn.upto(2) - 1);
            let many = 1 + drawn.upto(3);
            let pieces: Vec<(i64, i64, bool)> =
                (0..many).map(|_| (drawn.upto(5), drawn.upto(4), drawn.upto(2) == 1)).collect();
            let (cuts, uncut) = cut(&wants(&pieces), &[board(along, across)], kerf as f64);
            let all = uncut.is_empty();
            assert_eq!(all, tried(along, across, &pieces, kerf), "{along}×{across}, {kerf}: {pieces:?}");
            cuts.iter().for_each(|cut| assert_sound(cut, board(along, across).size, kerf as f64));
            both[usize::from(all)] += 1;
        }
        assert!(both[0] > 50 && both[1] > 50, "{both:?}");
    }

    #[test]
    fn as_little_wood_as_trying_finds_for_two_boards() {
        let mut drawn = Drawn(7);
        for _ in 0..60 {
            let boards =
                [board(3 + drawn.upto(5), 1 + drawn.upto(4)), board(3 + drawn.upto(5), 1 + drawn.upto(4))];
            let pieces: Vec<(i64, i64, bool)> =
                (0..3).map(|_| (drawn.upto(5), drawn.upto(3), false)).collect();
            // By trying: each piece from the first board, the second, or none.
            let mut best = (f64::INFINITY, f64::INFINITY);
            for way in 0..27_usize {
                let place = |at: usize| way / 3_usize.pow(at as u32) % 3;
                let (mut uncut, mut used, mut possible) = (0.0, 0.0, true);
                for (which, board) in boards.iter().enumerate() {
                    let own: Vec<(i64, i64, bool)> =
                        (0..3).filter(|at| place(*at) == which).map(|at| pieces[at]).collect();
                    let (along, across) = (board.size.along as i64, board.size.across as i64);
                    possible &= tried(along, across, &own, 1);
                    used += if own.is_empty() { 0.0 } else { board.size.area() };
                }
                (0..3)
                    .filter(|at| place(*at) == 2)
                    .for_each(|at| uncut += (pieces[at].0 * pieces[at].1) as f64);
                if possible && (uncut, used) < best {
                    best = (uncut, used);
                }
            }
            let wants = wants(&pieces);
            let (cuts, left_out) = cut(&wants, &boards, 1.0);
            let uncut: f64 = left_out.iter().map(|at| wants[*at].size.area()).sum();
            let used: f64 = cuts.iter().map(|cut| boards[cut.board].size.area()).sum();
            assert_eq!((uncut, used), best, "{boards:?}: {pieces:?}");
        }
    }

    /// Rows of pieces alike on one board, against dividing: of a board so many times as long and as wide as a piece with
    /// its kerf, so many rows times so many pieces can be cut, and no more.
    #[test]
    fn many_alike_are_laid_out_together() {
        let piece = (40, 10, false);
        for (rows, each) in [(1, 20), (4, 5), (3, 7), (2, 12)] {
            let (along, across) = (each * 40 + (each - 1) * 3, rows * 10 + (rows - 1) * 3);
            for spare in [0, 1] {
                let many = (rows * each) as usize + spare;
                let pieces = vec![piece; many];
                assert_eq!(together(&wants(&pieces)), many);
                let (cuts, uncut) = cut(&wants(&pieces), &[board(along, across)], 3.0);
                assert_eq!(uncut.len(), spare, "{rows} rows of {each}");
                assert_sound(&cuts[0], board(along, across).size, 3.0);
            }
        }
    }

    /// The same with pieces of two sizes, some of each alike, on a board: trying finds no other answer.
    #[test]
    fn some_alike_of_two_sizes_are_what_trying_finds() {
        let mut drawn = Drawn(11);
        let mut both = [0, 0];
        for _ in 0..60 {
            let (along, across, kerf) = (5 + drawn.upto(4), 2 + drawn.upto(3), drawn.upto(2) - 1);
            let (one, other) =
                ((drawn.upto(4), drawn.upto(2), false), (drawn.upto(3), drawn.upto(2), drawn.upto(2) == 1));
            let pieces = [vec![one; 3], vec![other; 2]].concat();
            let (cuts, uncut) = cut(&wants(&pieces), &[board(along, across)], kerf as f64);
            assert_eq!(
                uncut.is_empty(),
                tried(along, across, &pieces, kerf),
                "{along}×{across}, {kerf}: {pieces:?}"
            );
            cuts.iter().for_each(|cut| assert_sound(cut, board(along, across).size, kerf as f64));
            let mut cut_out: Vec<usize> =
                cuts.iter().flat_map(|cut| &cut.pieces).map(|(at, _)| *at).collect();
            cut_out.extend(&uncut);
            cut_out.sort_unstable();
            assert_eq!(cut_out, (0..pieces.len()).collect::<Vec<_>>(), "each is cut once or not at all");
            both[usize::from(uncut.is_empty())] += 1;
        }
        assert!(both[0] > 10 && both[1] > 10, "{both:?}");
    }

    #[test]
    fn pieces_that_differ_are_laid_out_a_few_at_a_time() {
        let differ: Vec<(i64, i64, bool)> = (1..=12).map(|at| (30 + at, 10, false)).collect();
        assert_eq!(together(&wants(&differ)), 8);
        let alike = [vec![(40, 10, false); 30], vec![(50, 10, false); 30]].concat();
        assert_eq!(together(&wants(&alike)), 30 + 3, "the second size waits");
    }

    /// By hand: two slips of 800 by 60 beside each other on a board of 1000 by 200 with a kerf of 3 take 123 of its width;
    /// beyond one more kerf 74 by 1000 is left, and 197 by 123 at the end.
    #[test]
    fn what_is_left_by_hand() {
        let slip = Want { size: Rectangle { along: 800.0, across: 60.0 }, turns: false };
        let (cuts, uncut) = cut(&[slip, slip], &[board(1000, 200)], 3.0);
        assert_eq!((cuts.len(), uncut.len()), (1, 0));
        let places: Vec<(f64, f64)> =
            cuts[0].pieces.iter().map(|(_, laid)| (laid.from_end, laid.from_edge)).collect();
        assert_eq!(places, [(0.0, 0.0), (0.0, 63.0)]);
        let left: Vec<(f64, f64)> =
            cuts[0].left.iter().map(|left| (left.size.along, left.size.across)).collect();
        assert_eq!(left, [(1000.0, 74.0), (197.0, 123.0)]);
    }
}
