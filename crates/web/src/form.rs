//! Fields of a form, as the workbench wants them.

use std::collections::{BTreeMap, BTreeSet};

use axum::Form;
use axum::extract::FromRequestParts;
use axum::extract::rejection::FormRejection;
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;
use workbench::{EnlargeForm, EvenForm, FailedRequest, FridgeForm, GlueForm, MilkForm, SaveForm, VerdictRequest, WishForm};

use crate::layout;

/// What stands in an address behind the question mark; a page that says so where it can't be read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Query<T>(pub(crate) T);

/// The changing part of an address; a page that says so where it can't be read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Path<T>(pub(crate) T);

fn misread() -> Response {
    let why = "Something in this address can't be read. Go back and follow the link again, or type the address anew.";
    (StatusCode::BAD_REQUEST, layout::bare("This address is not whole", why)).into_response()
}

impl<T: DeserializeOwned, S: Send + Sync> FromRequestParts<S> for Query<T> {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Response> {
        let read = axum::extract::Query::from_request_parts(parts, state).await;
        read.map(|axum::extract::Query(value)| Self(value)).map_err(|_| misread())
    }
}

impl<T: DeserializeOwned + Send, S: Send + Sync> FromRequestParts<S> for Path<T> {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Response> {
        let read = axum::extract::Path::from_request_parts(parts, state).await;
        read.map(|axum::extract::Path(value)| Self(value)).map_err(|_| misread())
    }
}

/// The fields of a form in the order sent; a field may come several times.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fields(Vec<(String, String)>);

/// What the extractor hands to a page.
pub(crate) type Sent = Result<Form<Vec<(String, String)>>, FormRejection>;

impl Fields {
    /// The fields, or a page that says what is wrong with them.
    #[expect(clippy::result_large_err, reason = "the error is the answer itself, made once a request")]
    pub(crate) fn from_sent(sent: Sent, token: &str) -> Result<Self, Response> {
        let fields = Self::of_stranger(sent)?;
        if fields.get("token") != token {
            return Err((
                StatusCode::FORBIDDEN,
                layout::bare(
                    "An old page",
                    "This page is from an earlier start of the program, or from the other studio: your own and the example are kept apart. Nothing was written. Open the page again and send it from there.",
                ),
            )
                .into_response());
        }
        Ok(fields)
    }

    /// The fields of a form that carries no token, since whoever sends it was not let in yet.
    #[expect(clippy::result_large_err, reason = "the error is the answer itself, made once a request")]
    pub(crate) fn of_stranger(sent: Sent) -> Result<Self, Response> {
        let Form(fields) = sent.map_err(|rejection| {
            let too_long = rejection.status() == StatusCode::PAYLOAD_TOO_LARGE;
            let why = if too_long {
                "The text is longer than 64 kB. Paste the recipe alone, without the page around it."
            } else {
                "The form did not arrive whole. Go back and send it again."
            };
            let status = if too_long { StatusCode::PAYLOAD_TOO_LARGE } else { StatusCode::BAD_REQUEST };
            (status, layout::bare(if too_long { "That was too much" } else { "It did not arrive" }, why)).into_response()
        })?;
        Ok(Self(fields))
    }

    /// Fields as if they had been sent.
    pub(crate) fn of(fields: &[(&str, &str)]) -> Self {
        Self(fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect())
    }

    /// The same with one more field.
    pub(crate) fn and(mut self, name: &str, value: &str) -> Self {
        self.0.push((name.to_owned(), value.to_owned()));
        self
    }

    /// All fields in the order sent.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// A whole number that the page itself wrote into the form; 0 where there is none.
    pub(crate) fn entry(&self, name: &str) -> u64 {
        self.get(name).parse().unwrap_or(0)
    }

    pub(crate) fn get(&self, name: &str) -> &str {
        self.0.iter().find(|(field, _)| field == name).map_or("", |(_, value)| value.as_str())
    }

    /// A number, `None` where the field is empty. What does not read becomes NaN, which the workbench refuses by name.
    fn number(&self, name: &str) -> Option<f64> {
        let text = self.get(name).trim();
        (!text.is_empty()).then(|| decimal(text).unwrap_or(f64::NAN))
    }

    /// A count, `None` where the field is empty. What does not read becomes 0, which the workbench refuses by name.
    fn count(&self, name: &str) -> Option<u32> {
        let text = self.get(name).trim();
        (!text.is_empty()).then(|| text.parse().unwrap_or(0))
    }

    /// Fields `prefix` + name, as a map; empty ones are left out.
    pub(crate) fn under(&self, prefix: &str) -> BTreeMap<String, String> {
        self.0
            .iter()
            .filter(|(_, value)| !value.is_empty())
            .filter_map(|(field, value)| Some((field.strip_prefix(prefix)?.to_owned(), value.clone())))
            .collect()
    }

    /// A recipe typed into the field `told` (with `suffix`), with the answers given.
    pub(crate) fn verdict(&self, suffix: &str) -> VerdictRequest {
        VerdictRequest {
            told: self.told(suffix),
            strict: false,
            choices: self.under(&format!("choose{suffix}.")),
            wet_um: self.number("wet"),
            coats: self.count("coats"),
            area_m2: None,
            support: Some(self.get("support").to_owned()).filter(|support| !support.is_empty()),
            own: Vec::new(),
            seen: workbench::BoardsSeen::default(),
        }
    }

    /// Text areas send line ends as two characters; the told text keeps one.
    fn told(&self, suffix: &str) -> String {
        self.get(&format!("told{suffix}")).replace("\r\n", "\n")
    }

    pub(crate) fn failed(&self) -> FailedRequest {
        FailedRequest {
            told: self.told(""),
            choices: self.under("choose."),
            dry_um: self.number("dry"),
            coats: self.count("coats"),
            support: Some(self.get("support").to_owned()).filter(|support| !support.is_empty()),
            taps: self.under("tap."),
            facts: self.0.iter().filter(|(field, _)| field == "fact").map(|(_, value)| value.clone()).collect::<BTreeSet<_>>(),
            own: Vec::new(),
        }
    }

    pub(crate) fn fridge(&self) -> FridgeForm {
        let all = |name: &str| self.0.iter().filter(|(field, _)| field == name).map(|(_, value)| value.clone()).collect::<Vec<_>>();
        FridgeForm {
            milk: self.get("milk").to_owned(),
            acids: self.get("acids").to_owned(),
            warmth_c: self.number("warmth"),
            boiled: self.get("boiled") == "yes",
            drained: self.get("drained").to_owned(),
            // A count that does not read is far above what anybody rinses, and is refused by name.
            rinses: Some(self.get("rinses").trim()).filter(|text| !text.is_empty()).map(|text| text.parse().unwrap_or(u32::MAX)),
            rinse_ml: self.number("rinse-water"),
            hardness: self.number("hardness"),
            thinned_ml: self.number("thinned"),
            base: self.get("base").to_owned(),
            water_ml: self.number("water"),
            ph: self.number("ph"),
            papers: all("paper-acid").into_iter().zip(all("paper-ph")).collect(),
            dishes: self.get("dishes").to_owned(),
            curd_g: self.number("curd"),
        }
    }

    pub(crate) fn even(&self) -> EvenForm {
        let get = |name: &str| self.get(name).to_owned();
        EvenForm {
            minutes: get("minutes"),
            deep: get("deep"),
            wide: get("wide"),
            binder: get("binder"),
            pot: get("pot"),
            layers: get("layers"),
            tape: get("tape"),
        }
    }

    pub(crate) fn wish(&self) -> WishForm {
        let get = |name: &str| self.get(name).replace("\r\n", "\n");
        WishForm {
            like: self.told(""),
            usual: self.get("usual") == "yes",
            with: get("with"),
            half_binder: self.get("half") == "yes",
            without: get("without"),
            shelf: get("shelf"),
            make_g: self.number("make"),
            area_m2: self.number("area"),
            dry_um: self.number("dry"),
            spoons: get("spoons"),
            scale_g: self.number("scale"),
            own: Vec::new(),
        }
    }

    pub(crate) fn enlarge(&self) -> EnlargeForm {
        let get = |name: &str| self.get(name).replace("\r\n", "\n");
        EnlargeForm {
            told: self.told(""),
            panels: get("panels"),
            edges: get("edges"),
            backs: self.get("backs") == "yes",
            // A count that does not read is refused by name.
            coats: self.count("coats"),
            wet_g_m2: self.number("wet-mass"),
            dry_um: self.number("dry"),
            loss_percent: self.number("loss"),
            biggest_g: self.number("biggest"),
            one_each: self.get("one-each") == "yes",
            spoons: get("spoons"),
            scale_g: self.number("scale"),
            sheet: get("sheet"),
            kerf_mm: self.number("kerf"),
            own: Vec::new(),
        }
    }

    pub(crate) fn save(&self) -> SaveForm {
        let get = |name: &str| self.get(name).to_owned();
        SaveForm {
            told: self.told(""),
            sight: get("sight"),
            weighs: get("weighs"),
            laid: get("laid"),
            wide: get("wide"),
            warmth: get("warmth"),
        }
    }

    pub(crate) fn glue(&self) -> GlueForm {
        GlueForm {
            glue: self.get("glue").to_owned(),
            water: self.get("water").to_owned(),
            ratio: self.get("ratio").to_owned(),
            wanted_for: self.get("for").to_owned(),
            wanted_percent: self.number("wanted"),
            bloom: self.number("bloom"),
            log: self.get("log").replace("\r\n", "\n"),
            empty_pot_g: self.number("pot"),
            warmest_c: self.number("warmest"),
            hot_hours: self.number("hours"),
            melted: self.count("melted"),
        }
    }

    pub(crate) fn milk(&self) -> MilkForm {
        MilkForm {
            milk: self.get("milk").to_owned(),
            acid: self.get("acid").to_owned(),
            powder: self.get("powder").to_owned(),
            base: self.get("base").to_owned(),
            boards: self.count("boards").unwrap_or(0),
            size: self.get("size").to_owned(),
            coats: self.count("coats").unwrap_or(0),
            warmth_c: self.number("warmth"),
        }
    }
}

/// The part of an address behind the question mark.
pub(crate) fn query(fields: &[(&str, &str)]) -> String {
    serde_urlencoded::to_string(fields).unwrap_or_default()
}

/// A number with a decimal point or comma. "1,000" may be a thousand or one, so it is none.
fn decimal(text: &str) -> Option<f64> {
    let thousand = text.split_once(',').is_some_and(|(_, behind)| behind.len() == 3);
    if thousand { None } else { text.replace(',', ".").parse().ok() }
}

#[cfg(test)]
mod tests {
    use super::decimal;

    #[test]
    fn a_comma_is_a_decimal_comma_unless_it_may_part_thousands() {
        assert_eq!(decimal("0,5"), Some(0.5));
        assert_eq!(decimal("120.5"), Some(120.5));
        assert_eq!(decimal("1,000"), None);
        assert_eq!(decimal("warm"), None);
    }
}
