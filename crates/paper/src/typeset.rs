//! Data and a template to a tagged PDF.

use serde_json::{Map, Value};
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::PaperError;
use crate::world::ClosedWorld;

/// Sets one document. The same template, data and photos give the same bytes.
///
/// # Errors
/// The typesetter refuses: a fault in a template, or a page that would not be fit for a screen reader.
pub(crate) fn typeset(
    template: &str,
    data: Map<String, Value>,
    photos: Vec<(String, Vec<u8>)>,
    maker: &str,
) -> Result<Vec<u8>, PaperError> {
    let data = serde_json::to_vec(&Value::Object(data)).map_err(|error| PaperError::Typeset(error.to_string()))?;
    set(&ClosedWorld::new(template, data, photos)?, maker)
}

fn set(world: &ClosedWorld, maker: &str) -> Result<Vec<u8>, PaperError> {
    // PDF/UA-1 (ISO 14289-1): tags, title, language, words for every picture; the export refuses what lacks them.
    let standards = PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| PaperError::Typeset(error.message().to_string()))?;
    let options = PdfOptions { creator: Smart::Custom(Some(maker.to_owned())), standards, ..PdfOptions::default() };
    let document = typst::compile::<PagedDocument>(world).output.map_err(|errors| refused(&errors));
    let pdf = document.and_then(|document| typst_pdf::pdf(&document, &options).map_err(|errors| refused(&errors)));
    // What the typesetter remembers of this document helps no other one.
    typst::comemo::evict(0);
    pdf
}

fn refused(errors: &[SourceDiagnostic]) -> PaperError {
    let each: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
    PaperError::Typeset(each.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str =
        "#set document(title: [Tide], date: datetime(year: 2026, month: 3, day: 1))\n#set text(font: \"Libertinus Serif\", lang: \"en\")\n";
    const DRAWING: &str = "bytes(\"<svg xmlns='http://www.w3.org/2000/svg' width='4' height='4'><rect width='4' height='4'/></svg>\")";

    fn of(text: &str) -> Result<Vec<u8>, String> {
        set(&ClosedWorld::of_text(&[HEAD, text].concat()), "test").map_err(|error| error.to_string())
    }

    #[test]
    fn a_picture_without_words_is_refused_by_the_standard() {
        assert!(of(&format!("#image({DRAWING}, format: \"svg\", alt: \"a square\")")).is_ok());
        let error = of(&format!("#image({DRAWING}, format: \"svg\")")).unwrap_err();
        assert!(error.contains("alt text"), "{error}");
    }

    #[test]
    fn a_document_without_title_is_refused_by_the_standard() {
        let error = set(&ClosedWorld::of_text("Tide"), "test").unwrap_err().to_string();
        assert!(error.contains("title"), "{error}");
    }

    #[test]
    fn nothing_outside_can_be_read() {
        for text in ["#read(\"/etc/hostname\")", "#read(\"../Cargo.toml\")", "#import \"@preview/tide:0.1.0\": *", "#datetime.today()"] {
            assert!(of(text).is_err(), "{text}");
        }
    }
}
