//! I have none of that: what instead, and how much?

use binder::{
    AcidAmount, AcidAtHand, AcidSource, AcidUnit, Base, BinderBook, BinderError, MilkKind, acid_instead, base_instead, dry_instead,
    powder_for,
};
use materials::{Amount, Kind, Material, MaterialId, Wishes, read};
use measure::{Dimension, Draws, Figure, Grams, Input, Millilitres};
use show::{CautionView, SwapRow, SwapView, capital, kitchen, plain, range, write};

use crate::Workbench;
use crate::dissolve::{even, input};
use crate::fridge::{base_share, spoons};
use crate::milk::MilkFormError;

/// What is missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SwapForm {
    /// In the painter's words, with or without an amount: `10 g borax`, `I have no vinegar`.
    pub missing: String,
}

const DRAWS: Draws = Draws { count: 300, ..Draws::USUAL };
const CASEINS: [&str; 4] = ["casein-powder", "curd-drained", "curd-pressed", "quark"];
const GLUES: [&str; 3] = ["hide-glue", "rabbit-skin-glue", "gelatine"];
const ACIDS: [&str; 4] = ["vinegar", "lemon", "lemon-juice", "citric-acid"];
const BEFORE: [&str; 9] = ["i have no", "i've no", "i have", "there is no", "without", "instead of", "in place of", "no ", "i lack"];

struct Missing<'a> {
    material: &'a Material,
    /// Grams, or millilitres, or pieces.
    amount: Missed,
    /// Whether the painter said how much.
    told: bool,
    words: String,
}

#[derive(Clone, Copy)]
enum Missed {
    Grams(f64),
    Millilitres(f64),
    Pieces(f64),
}

impl Workbench {
    /// What takes the place of something that is not at hand, by what it does: acids by the milk they curdle, bases by their charges, what
    /// binds by its dry weight.
    ///
    /// # Errors
    /// Nothing that can be replaced here, or an amount that is none.
    ///
    /// ```
    /// use workbench::{SwapForm, Workbench};
    /// let view = Workbench::open()?.swap(&SwapForm { missing: "10 g borax".into() })?;
    /// assert!(view.rows.iter().any(|row| row.name == "baking soda" && row.amount.starts_with("4.4")));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn swap(&self, form: &SwapForm) -> Result<SwapView, MilkFormError> {
        let missing = self.missing(&form.missing)?;
        let id = &missing.material.id;
        let (rows, more) = if let Some(source) = AcidSource::from_material(id) {
            self.acid_swaps(&missing, source)?
        } else if let Some(base) = Base::from_material(id) {
            self.base_swaps(&missing, base)?
        } else if let Some(kind) = MilkKind::from_material(id) {
            self.milk_swaps(&missing, kind)?
        } else if CASEINS.contains(&id.as_str()) {
            self.dry_swaps(&missing, &CASEINS)?
        } else if GLUES.contains(&id.as_str()) {
            self.dry_swaps(&missing, &GLUES)?
        } else {
            return Err(unknown());
        };
        let mind = rows.iter().filter_map(|row| self.jar(&row.material)).flat_map(|jar| jar.cautions).fold(
            Vec::new(),
            |mut all: Vec<CautionView>, caution| {
                if !all.contains(&caution) {
                    all.push(caution);
                }
                all
            },
        );
        let best = rows.first().map_or_else(String::new, |row| match row.amount.split_once(" (") {
            Some((amount, doubt)) if row.material == "lemon" => format!("about {amount} lemons ({doubt}"),
            Some((amount, doubt)) => format!("about {amount} of {} ({doubt}", row.name),
            None => format!("{} of {}", row.amount, row.name),
        });
        let sentence = format!("In place of {}: {best}.", missing.words);
        Ok(SwapView { sentence, more, rows, mind })
    }

    fn missing(&self, text: &str) -> Result<Missing<'_>, MilkFormError> {
        let mut words = text.trim().trim_end_matches(['.', '!', '?', ':']).to_owned();
        for before in BEFORE {
            let front = words.get(..before.len()).is_some_and(|front| front.eq_ignore_ascii_case(before));
            if front {
                words = words.get(before.len()..).unwrap_or_default().trim().to_owned();
            }
        }
        let words = words.replace("fresh milk", "skim milk");
        if words.is_empty() {
            return Err(unknown());
        }
        self.amounts_read("missing", &words)?;
        let reading = read(self.jars, &self.units, &words, &Wishes::new());
        let line = reading.lines.first();
        let named = || [Kind::Alkali, Kind::Acid, Kind::Binder, Kind::Milk].into_iter().find_map(|kind| self.named(&words, kind));
        let material = line.and_then(|line| self.first(line)).or_else(named).ok_or_else(unknown)?;
        let amount = match line.map(|line| &line.amount) {
            Some(Amount::Pieces { number }) => Some(Missed::Pieces(number.middle())),
            Some(_) => line.and_then(|line| self.quantity(line, &mut Vec::new())).map(|(dimension, value)| match dimension {
                Dimension::Volume => Missed::Millilitres(value),
                _ => Missed::Grams(value),
            }),
            None => None,
        };
        let told = amount.is_some();
        let amount = amount.unwrap_or(usual(material));
        let value = match amount {
            Missed::Grams(value) | Missed::Millilitres(value) | Missed::Pieces(value) => value,
        };
        if !(value > 0.0 && value <= 200_000.0) {
            return Err(MilkFormError::Field { field: "missing", what: "its amount lies above 0 and up to 200 kg or 200 l".into() });
        }
        let words = if told { words } else { format!("{} {}", written(amount), material.name) };
        Ok(Missing { material, amount, told, words })
    }

    fn acid_swaps(&self, missing: &Missing<'_>, source: AcidSource) -> Result<(Vec<SwapRow>, Vec<String>), MilkFormError> {
        let amount = match (missing.amount, source.unit()) {
            (Missed::Pieces(pieces), _) => AcidAmount::Pieces(pieces),
            (Missed::Millilitres(ml), AcidUnit::Grams) => AcidAmount::Mass(Grams::new(ml * loose(missing.material))),
            (Missed::Millilitres(ml), _) => AcidAmount::Volume(Millilitres::new(ml)),
            (Missed::Grams(grams), _) => AcidAmount::Mass(Grams::new(grams)),
        };
        let from = AcidAtHand { source, amount: Some(amount), strength: None };
        let mut rows = Vec::new();
        for id in ACIDS {
            let Some(material) = self.jars.material(&MaterialId::new(id)) else { continue };
            let Some(to) = AcidSource::from_material(&material.id).filter(|to| *to != source) else { continue };
            let found = acid_instead(&from, to, DRAWS)?;
            rows.push(Self::row(material, &found, acid_words(to)));
        }
        Ok((
            rows,
            Self::told_for(
                missing,
                "By what it does to milk, not by weight: a weak acid gives only part of what it holds. Go by pH paper at the end.",
            ),
        ))
    }

    fn base_swaps(&self, missing: &Missing<'_>, base: Base) -> Result<(Vec<SwapRow>, Vec<String>), MilkFormError> {
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let grams = grams_of(missing);
        let share = base_share(self, base);
        let mut rows = Vec::new();
        for to in Base::ALL.into_iter().filter(|to| *to != base && !matches!(to, Base::CausticSoda | Base::Lime)) {
            let Some(material) = self.jars.material(&to.material()) else { continue };
            let found =
                base_instead(book, (base, Grams::new(grams), &share), (to, &base_share(self, to)), DRAWS).map_err(BinderError::from)?;
            let facts = book.base(to).map_err(BinderError::from)?;
            rows.push(Self::row(material, &found, &format!("{}; {}", facts.film, facts.water)));
        }
        // What borax lacks is another borax first; all others begin with the mildest.
        if matches!(base, Base::Borax | Base::BoraxPentahydrate) {
            rows.sort_by_key(|row| !row.name.contains("borax"));
        }
        let mut more = Self::told_for(missing, "By the charges each brings. Begin with half, warm and stir, and go by pH paper.");
        if matches!(base, Base::Borax | Base::BoraxPentahydrate) {
            more.push("Borax also slows mould; none of the others do. Use the pot on the day, or the next from the fridge.".into());
        }
        Ok((rows, more))
    }

    fn milk_swaps(&self, missing: &Missing<'_>, kind: MilkKind) -> Result<(Vec<SwapRow>, Vec<String>), MilkFormError> {
        let share = |id: &str| -> Option<(&Material, Input)> {
            let material = self.jars.material(&MaterialId::new(id))?;
            let protein = material.property("protein")?;
            Some((
                material,
                input(&format!("protein.{id}"), "protein in it", protein.value, even(protein.range), "g/100 g", &protein.source),
            ))
        };
        let grams = grams_of(missing);
        let mut rows = Vec::new();
        let from = share(kind.material().as_str()).ok_or_else(unknown)?.1;
        let others = [MilkKind::Skim, MilkKind::Powder, MilkKind::PartSkim, MilkKind::Whole];
        for other in others.into_iter().filter(|other| *other != kind) {
            let Some((material, to)) = share(other.material().as_str()) else { continue };
            let words = match other {
                MilkKind::Powder => "stirred into water an hour before; fill up with water to the milk it replaces",
                MilkKind::Skim => "the best start",
                MilkKind::PartSkim => "some cream stays in the curd: a weaker binder",
                MilkKind::Whole => "the cream stays in the curd: it binds weakly",
            };
            let found = if kind == MilkKind::Skim && other == MilkKind::Powder {
                let best = powder_for(Grams::new(grams)).map_err(BinderError::from)?.value();
                let drawn = dry_instead(Grams::new(grams), &from, &to, DRAWS);
                Figure { value: best, ..drawn }
            } else {
                dry_instead(Grams::new(grams), &from, &to, DRAWS)
            };
            rows.push(Self::row(material, &found, words));
        }
        Ok((rows, Self::told_for(missing, "By its protein, of which about four fifths are casein.")))
    }

    /// What binds, by its dry weight.
    fn dry_swaps(&self, missing: &Missing<'_>, kinds: &[&str]) -> Result<(Vec<SwapRow>, Vec<String>), MilkFormError> {
        let dry = |material: &Material| {
            let share = material.property("dry_share")?;
            Some(input(
                &format!("dry_share.{}", material.id.as_str()),
                "what binds in it",
                share.value,
                even(share.range),
                "1",
                &share.source,
            ))
        };
        let from = dry(missing.material).ok_or_else(unknown)?;
        let glue = GLUES.contains(&missing.material.id.as_str());
        let mut rows = Vec::new();
        for id in kinds.iter().filter(|id| **id != missing.material.id.as_str()) {
            let Some(material) = self.jars.material(&MaterialId::new(id)) else { continue };
            let Some(to) = dry(material) else { continue };
            let found = dry_instead(Grams::new(grams_of(missing)), &from, &to, DRAWS);
            let words = match *id {
                "casein-powder" => "soak it in cold water first; take it dry off the water you add",
                "curd-drained" => "dripped in a cloth; its water counts in the recipe",
                "curd-pressed" => "squeezed by hand; its water counts in the recipe",
                "quark" => "rinse it like curd; its water counts in the recipe, and some kinds are made with rennet, which opens badly",
                "gelatine" => {
                    "as strong as its bloom number says: kitchen gelatine is weaker than rabbit-skin glue and softer in the damp; try it on a board"
                }
                "rabbit-skin-glue" => "stronger and springier than most hide glue: try a little less",
                _ => "weight for weight; jellies differ in strength, so try it on a board",
            };
            rows.push(Self::row(material, &found, words));
        }
        let basis = if glue {
            "By dry weight; strength differs by kind, and no sum knows that."
        } else {
            "By the dry casein in it; weigh and dry a spoonful, and you know."
        };
        Ok((rows, Self::told_for(missing, basis)))
    }

    fn told_for(missing: &Missing<'_>, basis: &str) -> Vec<String> {
        let mut more = vec![basis.to_owned()];
        if !missing.told {
            more.push(format!("You did not say how much: this is for {}.", missing.words));
        }
        more
    }

    fn row(material: &Material, found: &Figure, words: &str) -> SwapRow {
        let unit = match found.unit {
            measure::Unit::One => String::new(),
            unit => format!("\u{a0}{}", unit.symbol()),
        };
        let spread = if found.width() > 0.0 { format!(" (likely {})", range(found.low, found.high)) } else { String::new() };
        let in_kitchen = match found.unit {
            measure::Unit::Grams => spoons(found.value, loose(material)),
            measure::Unit::Millilitres => kitchen(found.value),
            _ => String::new(),
        };
        SwapRow {
            name: material.name.clone(),
            material: material.id.as_str().to_owned(),
            amount: format!("{}{unit}{spread}", write(found).value),
            kitchen: in_kitchen,
            words: capital(words),
        }
    }
}

fn unknown() -> MilkFormError {
    MilkFormError::Field {
        field: "missing",
        what: "say what you have none of: vinegar, lemon, citric acid, borax or another base, milk, curd, quark, casein powder, hide glue or gelatine; with an amount if you like, such as “10 g borax”".into(),
    }
}

fn acid_words(source: AcidSource) -> &'static str {
    match source {
        AcidSource::Vinegar => "5 % by its label",
        AcidSource::Lemon => "lemons differ: 30 to 60 ml of juice each",
        AcidSource::CitricAcid => "dissolved in water first; it holds lime, so rinse well",
        AcidSource::LemonJuice | AcidSource::LacticAcid | AcidSource::HydrochloricAcid | AcidSource::Rennet => "from the bottle or pressed",
    }
}

/// What is worked out when no amount was told.
fn usual(material: &Material) -> Missed {
    match (material.kind, material.id.as_str()) {
        (_, "lemon") => Missed::Pieces(1.0),
        (_, "citric-acid") => Missed::Grams(5.0),
        (Kind::Acid, _) => Missed::Millilitres(100.0),
        (Kind::Alkali, _) => Missed::Grams(10.0),
        (Kind::Milk, "skim-milk-powder") => Missed::Grams(100.0),
        (Kind::Milk, _) => Missed::Millilitres(1000.0),
        _ => Missed::Grams(100.0),
    }
}

fn written(amount: Missed) -> String {
    match amount {
        Missed::Grams(grams) => format!("{}\u{a0}g of", plain(grams)),
        Missed::Millilitres(ml) => format!("{}\u{a0}ml of", plain(ml)),
        Missed::Pieces(pieces) => plain(pieces),
    }
}

fn loose(material: &Material) -> f64 {
    material.property("bulk_density").or_else(|| material.property("density")).map_or(1.0, |loose| loose.value)
}

fn grams_of(missing: &Missing<'_>) -> f64 {
    match missing.amount {
        Missed::Grams(grams) | Missed::Pieces(grams) => grams,
        Missed::Millilitres(ml) => ml * loose(missing.material),
    }
}
