//! The workspace as cargo and git see it.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

use crate::error::Error;
use crate::process;

/// Folders of the workspace and what cargo says of its packages (without dependencies).
pub(crate) struct Workspace {
    pub(crate) root: PathBuf,
    pub(crate) target: PathBuf,
    pub(crate) metadata: Value,
}

/// Which build of the program is meant.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Build {
    Dev,
    Release,
}

/// What the comparisons ask beside the program.
const EXAMPLES: [&str; 7] = ["arrays", "golden", "salts", "sample_days", "sample_drying", "sample_files", "sample_looks"];

impl Workspace {
    /// Asks `cargo metadata` from wherever the command was started.
    pub(crate) fn open() -> Result<Self, Error> {
        let mut command = cargo();
        command.args(["metadata", "--format-version", "1", "--no-deps"]);
        let metadata = json(&process::read(&mut command)?, "cargo metadata")?;
        Ok(Self { root: path_of(&metadata, "workspace_root")?, target: path_of(&metadata, "target_directory")?, metadata })
    }

    /// `cargo` with the workspace root as its folder.
    pub(crate) fn cargo(&self) -> Command {
        let mut command = cargo();
        command.current_dir(&self.root);
        command
    }

    /// Where the program lies once it is built.
    pub(crate) fn program(&self, build: Build) -> PathBuf {
        let folder = match build {
            Build::Dev => "debug",
            Build::Release => "release",
        };
        let name = format!("groundproof{}", std::env::consts::EXE_SUFFIX);
        self.target.join(folder).join(name)
    }

    /// Builds the program and says where it lies. For the tests it is built together with [`EXAMPLES`]: those are asked too, and beside them
    /// libraries get the features that tests want of them. Alone it would get fewer, and half of the libraries would be built twice.
    pub(crate) fn build_program(&self, build: Build) -> Result<PathBuf, Error> {
        let mut command = self.cargo();
        command.args(["build", "--locked"]);
        match build {
            Build::Dev => command.args(["--workspace", "--bin", "groundproof"]).args(EXAMPLES.iter().flat_map(|name| ["--example", name])),
            Build::Release => command.args(["--package", "groundproof", "--release"]),
        };
        process::check(&mut command)?;
        Ok(self.program(build))
    }

    /// Where the examples lie that are built with the program for the tests.
    pub(crate) fn examples(&self) -> PathBuf {
        self.target.join("debug").join("examples")
    }

    /// Files that are or will be in the repository, as paths from the root, sorted.
    ///
    /// # Errors
    /// [`Error::Start`] without git, [`Error::Failed`] outside a repository.
    pub(crate) fn files(&self) -> Result<Vec<String>, Error> {
        let mut command = Command::new("git");
        command.current_dir(&self.root).args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"]);
        let mut files: Vec<String> = process::read(&mut command)?
            .split('\0')
            .filter(|name| !name.is_empty() && self.root.join(name).is_file())
            .map(str::to_owned)
            .collect();
        files.sort();
        files.dedup();
        Ok(files)
    }

    /// The packages of the workspace.
    pub(crate) fn packages(&self) -> impl Iterator<Item = &Value> {
        list(&self.metadata, "packages")
    }
}

/// The entries of a JSON list, none when it is not there.
pub(crate) fn list<'a>(value: &'a Value, key: &str) -> impl Iterator<Item = &'a Value> {
    value.get(key).and_then(Value::as_array).into_iter().flatten()
}

/// A JSON string, empty when it is not there.
pub(crate) fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value.get(key).and_then(Value::as_str).unwrap_or_default()
}

/// Reads JSON and names what it came from when it is none.
pub(crate) fn json(text: &str, what: &str) -> Result<Value, Error> {
    serde_json::from_str(text).map_err(|error| Error::Shape { what: what.to_owned(), why: error.to_string() })
}

/// Reads a text file.
pub(crate) fn read_file(path: &Path) -> Result<String, Error> {
    std::fs::read_to_string(path).map_err(|source| Error::File { path: path.to_owned(), source })
}

fn cargo() -> Command {
    Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

fn path_of(metadata: &Value, key: &str) -> Result<PathBuf, Error> {
    match text(metadata, key) {
        "" => Err(Error::Shape { what: "cargo metadata".to_owned(), why: format!("no `{key}`") }),
        path => Ok(PathBuf::from(path)),
    }
}
