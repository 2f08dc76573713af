//! The painter's own shelf: jars, what is left, what goes off.

use materials::{Kind, MaterialId};
use notebook::{Day, Deed, Jar, Kept, Notebook, Stamp, Wanted};
use show::{JarChoice, ShelfJar, ShelfView, plain};

use super::{Studio, StudioError, above_zero, day, named, number, one_line, remark};
use crate::Workbench;

/// A jar as typed into a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedJar {
    /// Subject of the jar that is changed; empty for a new one.
    pub subject: String,
    /// Entry that the form was made from.
    pub from: u64,
    /// Material of the catalogue.
    pub material: String,
    /// What stands on it; the material's name if empty.
    pub name: String,
    /// Maker or shop.
    pub maker: String,
    /// Lot.
    pub lot: String,
    /// Price of a pack.
    pub price: String,
    /// Name of the money.
    pub money: String,
    /// Grams in a pack.
    pub pack: String,
    /// Grams left.
    pub stock: String,
    /// Best before.
    pub best_before: String,
    /// Opened on.
    pub opened: String,
    /// Remark.
    pub note: String,
}

impl Workbench {
    /// Puts a jar on the shelf, or changes one.
    ///
    /// # Errors
    /// Numbers or days that can't be; an unknown material; somebody else changed it first.
    pub fn put_jar(&self, studio: &Studio, typed: &TypedJar, stamp: &Stamp) -> Result<String, StudioError> {
        let material = self
            .jars
            .material(&MaterialId::new(&typed.material))
            .ok_or_else(|| StudioError::Typed("choose from the list what is in the jar".into()))?;
        let name =
            if one_line(&typed.name).is_empty() { material.name.clone() } else { named(&typed.name, "the name", "chalk, blue sack")? };
        let stock_g = number(&typed.stock, "what is left", "750")?;
        if stock_g.is_some_and(|grams| grams < 0.0) {
            return Err(StudioError::Typed("less than nothing can't be left; write 0 for an empty jar".into()));
        }
        let jar = Jar {
            name,
            material: typed.material.clone(),
            maker: one_line(&typed.maker),
            lot: one_line(&typed.lot),
            price: above_zero(&typed.price, "the price", "4.50")?,
            money: one_line(&typed.money),
            pack_g: above_zero(&typed.pack, "what a pack holds", "1000")?,
            stock_g,
            best_before: day(&typed.best_before, "best before")?,
            opened: day(&typed.opened, "opened on")?,
            note: remark(&typed.note)?,
        };
        let subject = if typed.subject.is_empty() { stamp.subject("jar", 0) } else { typed.subject.clone() };
        studio.write(stamp, |_| {
            let deed = Deed::Jar(jar.clone());
            Ok(vec![if typed.subject.is_empty() { Wanted::new(&subject, deed) } else { Wanted::edit(&subject, typed.from, deed) }])
        })?;
        Ok(subject)
    }

    /// The whole shelf; what goes off or runs out stands first.
    pub fn shelf(&self, state: &Notebook, today: Day) -> ShelfView {
        let mut jars: Vec<ShelfJar> = state.jars.values().map(|kept| self.shelf_jar(state, kept, today)).collect();
        jars.sort_by(|a, b| (a.rank, &a.name).cmp(&(b.rank, &b.name)));
        let next = jars.iter().find(|jar| jar.rank == 0).map(|jar| format!("Look at {}: {}.", jar.name, jar.due)).or_else(|| {
            let unweighed = jars.iter().find(|jar| jar.is_powder && jar.own.is_empty())?;
            Some(format!("Weigh a level cup of {}.", unweighed.name))
        });
        let next = next.unwrap_or_else(|| {
            if jars.is_empty() { "Put your first jar on the shelf.".into() } else { "Nothing is due on the shelf.".into() }
        });
        ShelfView { next, jars, choices: self.jar_choices() }
    }

    /// What is on the shelf in words, one jar a line, with what is left where that is written down: `500 g natural chalk`.
    pub fn shelf_told(&self, state: &Notebook) -> String {
        let line = |kept: &Kept<Jar>| {
            let material = self.jars.material(&MaterialId::new(&kept.record.material))?;
            match kept.record.stock_g {
                Some(grams) if grams > 0.0 => Some(format!("{} g {}", show::number(grams, 0), material.name)),
                Some(_) => None,
                None => Some(material.name.clone()),
            }
        };
        let mut lines: Vec<String> = state.jars.values().filter_map(|kept| line(kept)).collect();
        lines.sort();
        lines.join("\n")
    }

    /// One jar; `None` if it is not there.
    pub fn shelf_jar_of(&self, state: &Notebook, subject: &str, today: Day) -> Option<ShelfJar> {
        state.jars.get(subject).map(|kept| self.shelf_jar(state, kept, today))
    }

    fn shelf_jar(&self, state: &Notebook, kept: &Kept<Jar>, today: Day) -> ShelfJar {
        let jar = &kept.record;
        let material = self.jars.material(&MaterialId::new(&jar.material));
        let left = jar.best_before.map(|best| best.number() - today.number());
        let (rank, due) = match left {
            Some(days) if days < 0 => (0, "past its best-before day".to_owned()),
            Some(0) => (0, "best before today".to_owned()),
            Some(days) if days <= 14 => (0, format!("best before in {days} days")),
            _ if jar.stock_g == Some(0.0) => (1, "empty".to_owned()),
            _ => (2, String::new()),
        };
        let text = |value: Option<f64>| value.map_or_else(String::new, plain);
        ShelfJar {
            subject: kept.subject.clone(),
            from: kept.n,
            name: jar.name.clone(),
            material: jar.material.clone(),
            material_name: material.map_or_else(|| jar.material.clone(), |material| material.name.clone()),
            is_powder: material.is_some_and(|material| material.kind == Kind::Filler),
            maker: jar.maker.clone(),
            lot: jar.lot.clone(),
            price: text(jar.price),
            money: jar.money.clone(),
            pack: text(jar.pack_g),
            stock: text(jar.stock_g),
            best_before: jar.best_before.map_or_else(String::new, |day| day.to_string()),
            opened: jar.opened.map_or_else(String::new, |day| day.to_string()),
            note: jar.note.clone(),
            due,
            rank,
            own: self.own_of(state, &jar.material),
        }
    }

    /// Every material that a jar can hold.
    pub fn jar_choices(&self) -> Vec<JarChoice> {
        let holds = |kind: Kind| !matches!(kind, Kind::Support | Kind::Hazard);
        self.jars
            .materials()
            .iter()
            .filter(|material| holds(material.kind))
            .map(|material| JarChoice { id: material.id.as_str().to_owned(), name: material.name.clone() })
            .collect()
    }
}
