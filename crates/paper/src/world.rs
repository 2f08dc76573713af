//! The small world that the typesetter sees: templates, one file of data, photos, the program's own faces. No disk, no network, no
//! packages, no clock.

use std::collections::HashMap;
use std::sync::OnceLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt as _, World};

use crate::PaperError;

/// Templates that ship with the program, by the name that they call each other.
const TEMPLATES: [(&str, &str); 5] = [
    ("house.typ", include_str!("../templates/house.typ")),
    ("recipe_paper.typ", include_str!("../templates/recipe_paper.typ")),
    ("recipe_card.typ", include_str!("../templates/recipe_card.typ")),
    ("board_sheet.typ", include_str!("../templates/board_sheet.typ")),
    ("day_sheets.typ", include_str!("../templates/day_sheets.typ")),
];

/// The face for signs that Libertinus Serif does not have.
const FALLBACK: &str = "DejaVu Sans Mono";

/// A closed world for one document.
pub(crate) struct ClosedWorld {
    main: FileId,
    sources: HashMap<FileId, Source>,
    files: HashMap<FileId, Bytes>,
}

/// The id of a file in the one folder there is.
fn file(name: &str) -> Result<FileId, PaperError> {
    let path = VirtualPath::new(name).map_err(|_| PaperError::Typeset(format!("`{name}` is no name of a file")))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl ClosedWorld {
    /// A world around one template, its data as JSON, and photos by name.
    ///
    /// # Errors
    /// A name that no file can have.
    pub(crate) fn new(template: &str, data: Vec<u8>, photos: Vec<(String, Vec<u8>)>) -> Result<Self, PaperError> {
        let mut sources = HashMap::new();
        for (name, text) in TEMPLATES {
            let id = file(name)?;
            sources.insert(id, Source::new(id, text.to_owned()));
        }
        let mut files = HashMap::from([(file("data.json")?, Bytes::new(data))]);
        for (name, bytes) in photos {
            files.insert(file(&name)?, Bytes::new(bytes));
        }
        Ok(Self { main: file(template)?, sources, files })
    }

    /// A world around a text of the test's own.
    #[cfg(test)]
    pub(crate) fn of_text(text: &str) -> Self {
        let mut world = Self::new("test.typ", b"{}".to_vec(), Vec::new()).unwrap();
        world.sources.insert(world.main, Source::new(world.main, text.to_owned()));
        world
    }
}

impl World for ClosedWorld {
    fn library(&self) -> &LazyHash<Library> {
        static ONCE: OnceLock<LazyHash<Library>> = OnceLock::new();
        ONCE.get_or_init(|| LazyHash::new(Library::default()))
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &faces().book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(&id).cloned().ok_or_else(|| no_file(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.files.get(&id).cloned().ok_or_else(|| no_file(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        faces().fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        // Every date comes with the data.
        None
    }
}

fn no_file(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_without_slash().into())
}

/// The faces, read once.
struct Faces {
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

fn faces() -> &'static Faces {
    static ONCE: OnceLock<Faces> = OnceLock::new();
    ONCE.get_or_init(|| {
        let fonts: Vec<Font> = typst_assets::fonts()
            .filter_map(|file| Font::new(Bytes::new(file), 0))
            .filter(|font| [crate::FAMILY, FALLBACK].contains(&font.info().family.as_str()))
            .collect();
        Faces { book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
    })
}

/// Whether one of the faces has a shape for this sign.
pub(crate) fn draws(sign: char) -> bool {
    faces().fonts.iter().any(|font| font.info().coverage.contains(u32::from(sign)))
}
