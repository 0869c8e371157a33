//! `viewing`: serves the papers on this computer, writes them again as files change, and picks points on photographs; with
//! `--home`, also the bench page for a phone.

use std::collections::BTreeSet;
use std::io;
use std::net::Ipv4Addr;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

use clap::Args;

use super::bar::Bar;
use super::inspect::{Said, Told};
use super::voice::Voice;
use super::words::{count, took};
use super::writeup::complaint;
use super::{Outcome, Trouble, today, with_causes};
use crate::diag::{Drawing, Rank};
use crate::journey::{self, Asked, Ground, Left, Printing, Progress, Proof, Quiet, Survey, Wanted, Written};
use crate::record::Piece;
use crate::render::code_lines;
use crate::source::{Sheets, Tree, Watch};
use crate::unit::legible::one_line;
use crate::unit::wrapped;
use crate::view::HouseStyle;
use crate::viewing::{self, Judge, Judged, PapersBefore, PieceShown, Shown, Sight, Todo};
use crate::write::{self, Secret, Stage};

/// The port that is tried first.
///
/// RFC 6335, section 6: none from 49152 to 65535 is ever assigned to a service. Linux gives those below 61000 to
/// outgoing connections, from memory.
const PORT: u16 = 61_007;

/// How many ports are tried where none is asked for: one for each workshop that may be looked at beside this one.
const TRIED: u16 = 10;

/// The widest that diagnostics are drawn, so that they fit on a page too.
const WIDEST: usize = 100;

/// How long nothing more must be saved before papers that wait are printed.
const IDLE: Duration = Duration::from_secs(2);

/// How long another address of this computer may go unnoticed.
const FOLLOWS: Duration = Duration::from_secs(15);

#[derive(Debug, Args)]
pub(super) struct Viewing {
    /// The workshop's folder
    #[arg(default_value = ".")]
    workshop: PathBuf,
    /// Serve at this port; 0 takes any that is free
    #[arg(long, value_name = "N")]
    port: Option<u16>,
    /// Let a phone at home add pieces, photographs, lines
    #[arg(long, value_name = "ADDRESS", num_args = 0..=1, require_equals = true)]
    home: Option<Option<Ipv4Addr>>,
}

impl Viewing {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let mut house = House::of(&self.workshop);
        // Listed first, so that a folder that is no workshop is complained of as everywhere else.
        let tree = Tree::open(&self.workshop)?;
        tree.below("pieces").for_each(|path| write::clear_half(&self.workshop.join(path)));
        // Watched from before the first writing, so that nothing is missed that changes meanwhile.
        let mut watch = Watch::on(&self.workshop).map_err(Trouble::Watch)?;
        let server = serve(&self.workshop, &house.target, self.port)?;
        let voice = Voice::out();
        if let Some(address) = self.home {
            // Before the first writing, which may take its time: an entry comes in at any moment.
            let bench = bench(&self.workshop, address, server.port())?;
            invite(&bench.addresses(), &voice)?;
            if address.is_none() {
                follow(bench);
            }
        }
        // Pages first: whoever saved a record looks at one, and setting the papers to print takes longer than that.
        let made = house.make(Printing::LATER, &Bar::new("Developing"))?;
        let first = house.place(made)?;
        let nothing = Shown { sheets: house.sheets(), ..Shown::default() };
        first.complain(&nothing)?;
        let mut shown = first.shown(&nothing);
        server.show(shown.clone());
        server.serve().map_err(Trouble::Serve)?;
        voice.say(first.line(&house.target.display().to_string()))?;
        if let Some(why) = watch.polling() {
            Voice::err().say(format!(
                "The system tells of no changes, so dates are compared twice a second: {why}"
            ))?;
        }
        voice.say(format!("{} {}, until Ctrl-C", voice.strong("Viewing at"), server.address()))?;
        let (mut waiting, calm) = (first.waiting(), watch.calm());
        while let Some(changed) = watch.wait((waiting > 0).then_some(IDLE)) {
            let idle = changed.is_empty();
            let printing = if idle { Printing::While(&calm) } else { Printing::LATER };
            let (turn, next) = house.turn(&server, printing, idle, &shown);
            waiting = turn.waiting();
            let as_before = idle && turn.written.is_some() && next.words == shown.words;
            if !as_before {
                turn.complain(&shown)?;
                voice.say(turn.line(&named(&changed)))?;
            }
            shown = next;
        }
        Ok(Outcome::Clean)
    }
}

/// What changed, in a few words.
fn named(changed: &BTreeSet<String>) -> String {
    let files: Vec<&String> = changed.iter().filter(|path| !path.is_empty()).collect();
    match files.as_slice() {
        [] => "The workshop".to_owned(),
        [one] => one_line(one),
        [first, rest @ ..] => format!("{} and {} more", one_line(first), rest.len()),
    }
}

/// A server at the port asked for, or at the first of a few that is free.
fn serve(workshop: &Path, target: &Path, port: Option<u16>) -> Result<Arc<viewing::Viewing>, Trouble> {
    let open = |port| {
        viewing::Viewing::open(workshop, target, port).map_err(|source| Trouble::Port { port, source })
    };
    let Some(port) = port else {
        for port in PORT..PORT + TRIED {
            match open(port) {
                Err(Trouble::Port { source, .. }) if source.kind() == io::ErrorKind::AddrInUse => {
                    Voice::err().say(format!("Port {port} is taken; trying the next."))?;
                }
                opened => return opened,
            }
        }
        return open(0);
    };
    open(port)
}

/// The bench page, at this address or at all that this computer has at home; it is served from now on.
fn bench(workshop: &Path, address: Option<Ipv4Addr>, port: u16) -> Result<Arc<viewing::Bench>, Trouble> {
    let homes = address.map_or_else(viewing::home_addresses, |address| vec![address]);
    let Some(first) = homes.first().copied() else { return Err(Trouble::NoNetwork) };
    if let Some(stranger) = homes.iter().find(|home| !viewing::is_at_home(**home)) {
        return Err(Trouble::NotAtHome(*stranger));
    }
    let bench = viewing::Bench::open(workshop, &homes, port, today)
        .map_err(|source| Trouble::Home { address: first, source })?;
    bench.serve().map_err(Trouble::Serve)?;
    Ok(bench)
}

/// Lets a phone in, and says what that means.
fn invite(addresses: &[String], voice: &Voice) -> Result<(), Trouble> {
    let Some((first, others)) = addresses.split_first() else { return Ok(()) };
    let code = code_lines(first, voice.colour());
    let code: Vec<String> = code.iter().map(|line| voice.printed(line)).collect();
    voice.say(format!(
        "{} {first}\n\n{}\n\nRead the code with a phone that is in the home network. It holds until Ctrl-C.",
        voice.strong("Bench page at"),
        code.join("\n")
    ))?;
    for other in others {
        voice.say(format!("Where that does not answer: {other}"))?;
    }
    let warning = "A home network is not private: others in it can read what is sent, this address with it. Whoever \
                   has the address can open pieces, add photographs and jot lines, and reads the titles and numbers of \
                   the pieces in work and the lines of today; nothing else, and nothing is changed or deleted. What a phone \
                   keeps for another address of this computer is carried over as a file: its open page says how.";
    voice.say(format!("{}\n", wrapped(warning, voice.text_width(), "")))
}

/// Goes on to hear at home where the network gives this computer another address, and says so.
fn follow(bench: Arc<viewing::Bench>) {
    thread::spawn(move || {
        loop {
            thread::sleep(FOLLOWS);
            let fresh = bench.follow(&viewing::home_addresses());
            // Where this cannot be said, nothing else can be either, and the command says why.
            let _ = invite(&fresh, &Voice::out());
        }
    });
}

/// What the inspection said of a piece.
fn judged(survey: &Survey, piece: &Piece, tree: &Tree) -> Judged {
    let workpiece = survey.piece(&piece.folder);
    let told = Told::of(workpiece.map(|workpiece| survey.outlook(workpiece)).as_ref());
    let todo = |Said { say, write }: Said| Todo { say, write };
    let path = piece.record_path();
    let text = tree.text(&path).and_then(Result::ok).unwrap_or_default();
    let found = survey.diagnostics.iter().filter(|found| found.place.path == path);
    Judged {
        print: write::fingerprint(text.as_bytes()),
        verdict: match piece.is_set() {
            true => "A set, which is handed over piece by piece.".to_owned(),
            false => told.head,
        },
        keeps: told.keeps.into_iter().map(todo).collect(),
        besides: told.besides,
        helps: told.helps.into_iter().map(todo).collect(),
        found: found.cloned().collect(),
    }
}

/// The workshop, and where its papers go.
struct House {
    workshop: PathBuf,
    target: PathBuf,
    /// What the last writing left of each piece.
    left: Option<Arc<Left>>,
}

/// Papers that were made and are not in place yet.
struct Made {
    turn: Turn,
    started: Instant,
    survey: Arc<Survey>,
    proof: Option<Proof>,
    ground: Option<Ground>,
}

/// What came of one reading and writing.
struct Turn {
    /// What was read; `None` where not even that could be done.
    sight: Option<Arc<Sight>>,
    /// The written files, with those that are about to be put in place.
    sheets: Sheets,
    /// What was written; `None` where nothing was.
    written: Option<Count>,
    /// What is wrong, as it is drawn for a page, and the sentence that sums up.
    plain: Option<(String, String)>,
    /// The same for the terminal.
    drawn: Option<(String, String)>,
    /// Whether something is left out because of it.
    grave: bool,
    time: Duration,
}

/// How much was written.
struct Count {
    pieces: usize,
    files: usize,
    /// How many papers wait to be printed.
    waiting: usize,
}

impl Count {
    fn of(written: &Written) -> Count {
        Count { pieces: written.pieces.len(), files: written.files, waiting: written.waiting }
    }
}

impl House {
    fn of(workshop: &Path) -> House {
        let target =
            if workshop == Path::new(".") { PathBuf::from("written") } else { workshop.join("written") };
        House { workshop: workshop.to_owned(), target, left: None }
    }

    /// The written files as they stand.
    fn sheets(&self) -> Sheets {
        Sheets::of(&self.target)
    }

    /// Reads the workshop and makes its papers, shows them, and puts them in place: whoever saved a record sees its page
    /// before that is done. Gives what there is to see now, which was `before` until then.
    fn turn(
        &mut self,
        server: &viewing::Viewing,
        printing: Printing<'_>,
        idle: bool,
        before: &Shown,
    ) -> (Turn, Shown) {
        let failed = |turn: Turn, before: &Shown| {
            let shown = turn.shown(before);
            server.show(shown.clone());
            (turn, shown)
        };
        let made = match self.make(printing, &Quiet) {
            Ok(made) => made,
            Err(trouble) => return failed(self.failed(&trouble), before),
        };
        let mut shown = made.turn.shown(before);
        if idle && made.turn.written.is_some() && shown.words == before.words {
            // Pages that stand need not load again; one that waits for a paper does.
            shown.written = before.written;
        }
        server.show(shown.clone());
        match self.place(made) {
            Ok(turn) => {
                shown.sheets = self.sheets();
                server.stand(self.sheets());
                (turn, shown)
            }
            Err(trouble) => failed(self.failed(&trouble), &shown),
        }
    }

    /// Reads the workshop and makes its papers, as far as they do not stand.
    fn make(&self, printing: Printing<'_>, progress: &dyn Progress) -> Result<Made, Trouble> {
        let (started, today) = (Instant::now(), today());
        write::keep_clear(&self.workshop, &self.target)?;
        let stage = Stage::open(&self.target)?;
        let secret = Secret::of(&self.workshop)?;
        let asked = Asked { workshop: &self.workshop, target: &self.target, only: None, today };
        let ground = Ground::of(&asked, &secret).map(|ground| ground.after(self.left.clone()));
        let tree = Tree::open(&self.workshop)?;
        let wanted = Wanted { printing, ground: ground.as_ref(), ..Wanted::everything(today, &secret) };
        let (survey, proof) = journey::proof(&tree, stage, wanted, progress)?;
        let voice = Voice::err();
        let width = voice.width().min(WIDEST);
        let words = |drawing: &Drawing| {
            let complaint = complaint(&survey.diagnostics, &tree, drawing);
            match (complaint, &proof) {
                (Some((drawings, closing)), None) => {
                    Some((drawings, format!("{closing} {}.", Trouble::UnreadWorkshop)))
                }
                (complaint, _) => complaint,
            }
        };
        let (plain, drawn) = (words(&Drawing::plain(width)), words(&voice.drawing_within(width)));
        let grave = survey.diagnostics.iter().any(|found| found.rank() == Rank::Mistake);
        let fresh = proof.as_ref().map(Proof::fresh).unwrap_or_default();
        let sheets = Sheets::with_coming(&self.target, fresh);
        let survey = Arc::new(survey);
        let written = proof.as_ref().map(Proof::written);
        let sight = sight(&survey, written, &Arc::new(tree), &secret, &sheets);
        let written = written.map(Count::of);
        let (sight, time) = (Some(Arc::new(sight)), started.elapsed());
        let turn = Turn { sight, sheets, written, plain, drawn, grave, time };
        Ok(Made { turn, started, survey, proof, ground })
    }

    /// Puts papers in place that were made.
    fn place(&mut self, made: Made) -> Result<Turn, Trouble> {
        let Made { turn, started, survey, proof, ground } = made;
        let Some(proof) = proof else { return Ok(turn) };
        let written = proof.place_piecemeal()?;
        self.left = ground.and_then(|ground| ground.leave(&survey, &written)).map(Arc::new);
        let written = Some(Count::of(&written));
        Ok(Turn { written, sheets: self.sheets(), time: started.elapsed(), ..turn })
    }

    /// A turn in which nothing could be done.
    fn failed(&self, trouble: &Trouble) -> Turn {
        let words = Some((with_causes(trouble), "Nothing was written.".to_owned()));
        Turn {
            sight: None,
            sheets: self.sheets(),
            written: None,
            plain: words.clone(),
            drawn: words,
            grave: true,
            time: Duration::ZERO,
        }
    }
}

/// What the pages of the viewing need of a workshop.
fn sight(
    survey: &Arc<Survey>,
    written: Option<&Written>,
    tree: &Arc<Tree>,
    secret: &Secret,
    sheets: &Sheets,
) -> Sight {
    let workshop = survey.folder.workshop.as_ref();
    let left_out = written.map_or(&[][..], |written| &written.left_out);
    let shown = |piece: &Arc<Piece>| {
        let stands = left_out.iter().find(|left_out| left_out.folder == piece.folder);
        let before = stands.and_then(|left_out| left_out.stands.as_ref()).map(|stands| PapersBefore {
            slug: stands.slug.clone(),
            buyers: stands.buyers.clone(),
            words: stands.words(),
        });
        let has = |path: &str| sheets.has(path);
        PieceShown::of(piece, survey.piece(&piece.folder), before.as_ref(), secret, has)
    };
    let judge = {
        let (survey, tree) = (Arc::clone(survey), Arc::clone(tree));
        Judge::by(move |folder| {
            let all = survey.folder.all();
            let piece = all.iter().find(|piece| piece.folder == folder)?;
            Some(judged(&survey, piece, &tree))
        })
    };
    Sight {
        house: workshop.map(|workshop| HouseStyle::of(workshop, survey.languages.workshop(), survey.today)),
        pieces: survey.folder.all().iter().map(shown).collect(),
        max_pixels: journey::most_pixels(workshop),
        tree: Arc::clone(tree),
        trade: Some(Arc::clone(&survey.trade)),
        judge,
    }
}

impl Turn {
    /// How many papers wait to be printed.
    fn waiting(&self) -> usize {
        self.written.as_ref().map_or(0, |count| count.waiting)
    }

    /// What there is to see after this turn, and was before it.
    fn shown(self: &Turn, before: &Shown) -> Shown {
        let turn = before.turn + 1;
        let (words, closing) = self.plain.as_ref().map_or_else(Default::default, |(drawings, closing)| {
            (format!("{drawings}\n\n{closing}"), closing.clone())
        });
        Shown {
            turn,
            written: if self.written.is_some() { turn } else { before.written },
            grave: self.grave,
            words,
            closing,
            // What was seen before stays in sight where nothing could be read.
            sight: self.sight.clone().unwrap_or_else(|| Arc::clone(&before.sight)),
            sheets: self.sheets.clone(),
        }
    }

    /// Says what is wrong, unless that was said the last time.
    fn complain(&self, before: &Shown) -> Result<(), Trouble> {
        let voice = Voice::err();
        match (&self.plain, &self.drawn) {
            (Some((plain, closing)), _) if before.words == format!("{plain}\n\n{closing}") => {
                voice.say(format!("As before: {closing}"))
            }
            (_, Some((drawn, closing))) => voice.say(format!("{drawn}\n\n{closing}\n")),
            _ if !before.words.is_empty() => voice.say("Nothing is wrong any more."),
            _ => Ok(()),
        }
    }

    /// What was written because of something, on a line.
    fn line(&self, because: &str) -> String {
        let hour = chrono::Local::now().format("%H:%M:%S");
        let done = match &self.written {
            Some(written) => format!(
                "{}, {} written in {}",
                count(written.pieces, "piece", "pieces"),
                count(written.files, "file", "files"),
                took(self.time)
            ),
            None => "nothing was written".to_owned(),
        };
        format!("{hour}  {because}: {done}")
    }
}
