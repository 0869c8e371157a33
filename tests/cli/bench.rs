//! A folder to work in, and one call of the program at a time.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

use crate::photograph::plain;

/// The program.
pub(crate) const PROGRAM: &str = env!("CARGO_BIN_EXE_witnessmark");

/// A folder of its own, in which the program is called.
///
/// `write` and `args` prepare a call, `stdout` and `stderr` say what it must print, and `status` makes it.
pub(crate) struct Bench {
    home: TempDir,
    args: Vec<String>,
    stdout: Vec<Expected>,
    stderr: Vec<Expected>,
}

enum Expected {
    Whole(String),
    Part(String),
}

impl Bench {
    /// An empty folder.
    pub(crate) fn new() -> Bench {
        let home = tempfile::tempdir().unwrap();
        Bench { home, args: Vec::new(), stdout: Vec::new(), stderr: Vec::new() }
    }

    /// A folder with a `workshop.toml`.
    pub(crate) fn workshop() -> Bench {
        Bench::new().write("workshop.toml", "name = \"Bench\"\n")
    }

    /// A workshop with one piece that has nothing wrong, in the folder `chair`, and two photographs.
    pub(crate) fn sound() -> Bench {
        Bench::workshop().sound_piece("chair", "CH-001")
    }

    /// One more piece that has nothing wrong, and two photographs.
    pub(crate) fn sound_piece(self, folder: &str, number: &str) -> Bench {
        let record = format!(
            "title = \"Ladder-back chair\"\nnumber = \"{number}\"\nkind = \"chair/ladder-back\"\n\
             [[photo]]\nfile = \"before-front.jpg\"\nalt = \"The chair from the front, two rungs loose.\"\n\
             [[photo]]\nfile = \"after-front.jpg\"\nalt = \"The chair from the front, all rungs in place.\"\n"
        );
        self.write(&format!("pieces/{folder}/record.toml"), record)
            .write(&format!("pieces/{folder}/photos/before-front.jpg"), plain(100))
            .write(&format!("pieces/{folder}/photos/after-front.jpg"), plain(140))
    }

    /// A file of the folder.
    pub(crate) fn path(&self, path: &str) -> PathBuf {
        self.home.path().join(path)
    }

    /// Writes a file, and the folders above it.
    pub(crate) fn write(self, path: &str, content: impl AsRef<[u8]>) -> Bench {
        let file = self.path(path);
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(file, content).unwrap();
        self
    }

    /// Writes the record of a piece that says no more than it must.
    pub(crate) fn piece(self, folder: &str, title: &str, number: &str) -> Bench {
        let text = format!("title = \"{title}\"\nnumber = \"{number}\"\nkind = \"chair/ladder-back\"\n");
        self.write(&format!("pieces/{folder}/record.toml"), text)
    }

    /// The arguments of the next call.
    pub(crate) fn args<const N: usize>(mut self, args: [&str; N]) -> Bench {
        self.args = args.map(str::to_owned).into();
        self
    }

    /// All that the standard output must hold.
    pub(crate) fn stdout(mut self, whole: &str) -> Bench {
        self.stdout.push(Expected::Whole(whole.to_owned()));
        self
    }

    /// Something that the standard output must hold.
    pub(crate) fn stdout_has(mut self, part: &str) -> Bench {
        self.stdout.push(Expected::Part(part.to_owned()));
        self
    }

    /// All that the standard error must hold.
    pub(crate) fn stderr(mut self, whole: &str) -> Bench {
        self.stderr.push(Expected::Whole(whole.to_owned()));
        self
    }

    /// Something that the standard error must hold.
    pub(crate) fn stderr_has(mut self, part: &str) -> Bench {
        self.stderr.push(Expected::Part(part.to_owned()));
        self
    }

    /// Calls the program, and holds it to its exit code and to what it must print.
    #[track_caller]
    pub(crate) fn status(self, code: i32) -> Bench {
        let (bench, _) = self.output(code);
        bench
    }

    /// As [`Bench::status`], and gives what was printed to the standard output.
    #[track_caller]
    pub(crate) fn output(mut self, code: i32) -> (Bench, String) {
        let output = self.command().output().unwrap();
        let (stdout, stderr) = (text(output.stdout), text(output.stderr));
        let told = format!("{:?}\n--- stdout\n{stdout}--- stderr\n{stderr}---", self.args);
        assert_eq!(output.status.code(), Some(code), "{told}");
        assert!(
            !stdout.contains('\u{1b}') && !stderr.contains('\u{1b}'),
            "colour where no terminal is: {told}"
        );
        for (expected, found) in [(self.stdout.drain(..), &stdout), (self.stderr.drain(..), &stderr)] {
            for expected in expected {
                match expected {
                    Expected::Whole(whole) => assert_eq!(*found, whole, "{told}"),
                    Expected::Part(part) => assert!(found.contains(&part), "not found: {part}\n{told}"),
                }
            }
        }
        (self, stdout)
    }

    /// The next call, in the folder and with nothing of the developer's own surroundings that would change it.
    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(PROGRAM);
        command.args(&self.args).current_dir(self.home.path());
        command.env_remove("NO_COLOR").env("SOURCE_DATE_EPOCH", "1795564800");
        command
    }

    /// A file's bytes.
    #[track_caller]
    pub(crate) fn read(&self, path: &str) -> Vec<u8> {
        fs::read(self.path(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    /// Every file below a folder with its bytes, sorted by path.
    pub(crate) fn files(&self, folder: &str) -> Vec<(String, Vec<u8>)> {
        let root = self.path(folder);
        let name = |path: &Path| path.strip_prefix(&root).unwrap().to_str().unwrap().to_owned();
        walkdir::WalkDir::new(&root)
            .sort_by_file_name()
            .into_iter()
            .map(|entry| entry.unwrap())
            .filter(|entry| !entry.file_type().is_dir())
            .map(|entry| (name(entry.path()), fs::read(entry.path()).unwrap()))
            .collect()
    }

    /// The names of the files below a folder, sorted by path.
    pub(crate) fn names(&self, folder: &str) -> Vec<String> {
        self.files(folder).into_iter().map(|(name, _)| name).collect()
    }
}

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).expect("what is printed is UTF-8")
}
