//! What a layout sees while it is set: its own text, its data and our fonts. No files, no clock, no network.

use crate::PrintError;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Dict, Duration, IntoValue};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, pdf};

/// Source Serif 4 and Source Sans 3 by Adobe, SIL Open Font License 1.1 (texts beside them).
const FONTS: [&[u8]; 5] = [
    include_bytes!("../fonts/SourceSerif4-Regular.otf"),
    include_bytes!("../fonts/SourceSerif4-It.otf"),
    include_bytes!("../fonts/SourceSerif4-Semibold.otf"),
    include_bytes!("../fonts/SourceSans3-Regular.otf"),
    include_bytes!("../fonts/SourceSans3-Semibold.otf"),
];

static SHELF: LazyLock<(LazyHash<FontBook>, Vec<Font>)> = LazyLock::new(|| {
    let fonts: Vec<Font> = FONTS
        .iter()
        .flat_map(|file| Font::iter(Bytes::new(*file)))
        .collect();
    (LazyHash::new(FontBook::from_fonts(&fonts)), fonts)
});

struct Desk {
    library: LazyHash<Library>,
    main: Source,
}

/// Sets `layout` in type, with `inputs` as its `sys.inputs`.
///
/// # Errors
/// If the layout does not fit the inputs.
pub fn set(
    what: &'static str,
    layout: &str,
    inputs: &[(&str, String)],
) -> Result<PagedDocument, PrintError> {
    let mut words = Dict::new();
    for (name, value) in inputs {
        words.insert((*name).into(), value.as_str().into_value());
    }
    let desk = Desk {
        library: LazyHash::new(Library::builder().with_inputs(words).build()),
        main: Source::new(main_file(), layout.to_owned()),
    };
    typst::compile(&desk)
        .output
        .map_err(|errors| PrintError::Layout {
            what,
            why: said(&errors),
        })
}

/// Sets a layout with its data at the first of these sizes at which it has no more than so many pages, else at the last.
/// The layout is told the `size`, and at the last that nothing smaller follows (`last` is "yes"), so that it may leave out
/// what is no word.
///
/// # Errors
/// If the layout does not fit the data.
pub fn fitted(
    what: &'static str,
    layout: &str,
    (name, data): (&str, String),
    sizes: &[&str],
    pages: usize,
) -> Result<PagedDocument, PrintError> {
    let with_size = |number: usize| {
        let last = if number + 1 == sizes.len() {
            "yes"
        } else {
            "no"
        };
        let inputs = [
            (name, data.clone()),
            ("size", sizes[number].to_owned()),
            ("last", last.to_owned()),
        ];
        set(what, layout, &inputs)
    };
    let mut document = with_size(0)?;
    for number in 1..sizes.len() {
        if document.pages().len() <= pages {
            break;
        }
        document = with_size(number)?;
    }
    Ok(document)
}

/// A document as PDF/UA-1.
///
/// # Errors
/// If it breaks a rule of the standard.
pub fn tagged(what: &'static str, document: &PagedDocument) -> Result<Vec<u8>, PrintError> {
    let why = |why: String| PrintError::Layout { what, why };
    let options = PdfOptions {
        standards: PdfStandards::new(&[PdfStandard::Ua_1])
            .map_err(|error| why(error.message().to_string()))?,
        ..PdfOptions::default()
    };
    pdf(document, &options).map_err(|errors| why(said(&errors)))
}

/// What Typst says, in a line.
pub fn said(errors: &[SourceDiagnostic]) -> String {
    let messages: Vec<&str> = errors.iter().map(|e| e.message.as_str()).collect();
    messages.join("; ")
}

fn main_file() -> FileId {
    let path = VirtualPath::new("main.typ").expect("a plain name is a path");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &SHELF.0
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() {
            Ok(self.main.clone())
        } else {
            Err(FileError::AccessDenied)
        }
    }

    fn file(&self, _: FileId) -> FileResult<Bytes> {
        Err(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        SHELF.1.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
